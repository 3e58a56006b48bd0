//! Looking closer at a drawing: with two fingers, or with buttons.

use std::borrow::Cow;

use leptos::prelude::*;

use crenel::draw::Zoom;
use crenel_words::page::drawing as say;

use crate::state::here;

/// The factor by which the button magnifies.
const STEP: f64 = 1.6;

/// A finger on the paper. Places are shares of the drawing's width and height.
#[derive(Clone, Copy)]
struct Finger {
    id: i32,
    from: [f64; 2],
    at: [f64; 2],
}

/// One or two fingers that hold the paper, and the zoom when they touched it.
#[derive(Clone, Copy)]
pub(crate) struct Pinch {
    first: Finger,
    second: Option<Finger>,
    zoom: Zoom,
}

impl Pinch {
    /// One finger touches the paper.
    pub(crate) const fn with_first(id: i32, at: [f64; 2], zoom: Zoom) -> Self {
        Self { first: Finger { id, from: at, at }, second: None, zoom }
    }

    /// A second finger touches it. A third is ignored.
    pub(crate) const fn with_second(self, id: i32, at: [f64; 2], zoom: Zoom) -> Self {
        if self.second.is_some() {
            return self;
        }
        let first = Finger { from: self.first.at, ..self.first };
        Self { first, second: Some(Finger { id, from: at, at }), zoom }
    }

    /// A finger moved to `at`. Returns the new zoom, if the finger is one of these; `aspect` is height over
    /// width.
    pub(crate) fn follow(&mut self, id: i32, at: [f64; 2], aspect: f64) -> Option<Zoom> {
        let mut fingers = std::iter::once(&mut self.first).chain(&mut self.second);
        fingers.find(|finger| finger.id == id)?.at = at;
        let first = self.first;
        Some(match self.second {
            Some(second) => {
                self.zoom.pinched([first.from, second.from], [first.at, second.at], aspect)
            }
            None => self.zoom.moved([first.at[0] - first.from[0], first.at[1] - first.from[1]]),
        })
    }

    /// A finger is lifted. The other one continues from here.
    pub(crate) fn without(self, id: i32, zoom: Zoom) -> Option<Self> {
        let left = [Some(self.first), self.second].into_iter().flatten().filter(|f| f.id != id);
        let mut left = left.map(|f| (f.id, f.at));
        let (first, at) = left.next()?;
        let pinch = Self::with_first(first, at, zoom);
        Some(match left.next() {
            Some((second, at)) => pinch.with_second(second, at, zoom),
            None => pinch,
        })
    }
}

/// Buttons to magnify, and to show the whole drawing again.
#[component]
pub(crate) fn ZoomButtons(
    /// The drawing in words.
    #[prop(into)]
    what: Cow<'static, str>,
    zoom: RwSignal<Zoom>,
    /// The point to magnify about, as shares of the window.
    #[prop(optional)]
    about: Option<Callback<(), [f64; 2]>>,
) -> impl IntoView {
    let in_on = here(say::zoom_in_on(what.to_string()));
    let fit_of = here(say::fit_drawing(what.into_owned()));
    let closer = move |_| {
        let about = about.map_or([0.5; 2], |about| about.run(()));
        zoom.update(|zoom| *zoom = zoom.closer(STEP, about));
    };
    view! {
        <button class="small" aria-label=in_on on:click=closer>{here(say::zoom_in)}</button>
        <button class="small" aria-label=fit_of disabled=move || zoom.with(Zoom::is_whole)
            on:click=move |_| zoom.set(Zoom::default())>
            {here(say::fit)}
        </button>
    }
}
