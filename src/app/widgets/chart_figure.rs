//! A chart under its title, laid out for the width that it has, with buttons that copy and save it.

use leptos::prelude::*;

use crenel::draw::{Bounds, Scene};
use crenel::export::svg_file;
use crenel::ring::Point;
use crenel_words::Phrase;
use crenel_words::page::figure as say;

use crate::dom::text_scale;
use crate::state::{here, use_app_state};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::files::download;
use crate::widgets::pointer::watch_width;
use crate::widgets::scene_marks::SceneMarks;

/// Letters of a chart, and the width that it is laid out for where none is known, CSS pixels.
const LETTER_PX: f64 = 12.0;
const CHART_PX: f64 = 620.0;

/// The room of a chart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ChartRoom {
    /// Whether it is narrow, as on a phone.
    pub(crate) is_narrow: bool,
    /// Height of its letters as a share of its width.
    pub(crate) letter: f64,
}

/// A chart; nothing is shown where there is none.
#[component]
pub(crate) fn ChartFigure(
    #[prop(into)] title: Signal<String>,
    /// What it shows, for readers of the screen.
    told: Phrase,
    /// The name of its file.
    name: &'static str,
    /// A class of its own, besides those of a chart.
    #[prop(default = "")]
    class: &'static str,
    /// Makes the chart.
    chart: Callback<ChartRoom, Option<Scene>>,
    /// Makes a table of what it shows, as CSV.
    #[prop(optional, into)]
    data: Option<Callback<(), String>>,
) -> impl IntoView {
    let state = use_app_state();
    let data = data.map(|data| {
        let save = move |_| {
            let text = untrack(|| data.run(()));
            download(state, &format!("{name}.csv"), "text/csv", text.as_bytes());
        };
        view! { <button class="small" on:click=save>{here(say::save_data)}</button> }
    });
    let width = RwSignal::new(None);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let scene = move || {
        let across = width.get().unwrap_or(CHART_PX);
        let letter = LETTER_PX * text_scale() / across;
        chart.run(ChartRoom { is_narrow: across < CHART_PX / 1.4, letter }).unwrap_or_else(nothing)
    };
    let drawn = Memo::new(move |_| scene());
    let view_box = move || {
        drawn.with(|scene| format!("0 0 {:.4} {:.4}", scene.bounds.width(), scene.bounds.height()))
    };
    let file = Callback::new(move |()| untrack(|| svg_file(&drawn.get(), &title.get())));
    let figure = Callback::new(move |letter| {
        untrack(|| chart.run(ChartRoom { is_narrow: false, letter }).unwrap_or_else(nothing))
    });
    view! {
        <figure class=format!("view curves {class}")>
            <figcaption><h3>{title}</h3></figcaption>
            <div class="paper" node_ref=paper>
                <svg viewBox=view_box role="img" aria-label=here(told)><SceneMarks scene=drawn/></svg>
            </div>
            <div class="row beside">
                {move || view! { <CopyButtons what=title.get() name file scene=figure/> }}
                {data}
            </div>
        </figure>
    }
}

fn nothing() -> Scene {
    Scene::new(Bounds { min: Point::new(0.0, 0.0), max: Point::new(1.0, 1.0) })
}
