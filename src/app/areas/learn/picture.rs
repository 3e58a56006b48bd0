//! One drawing of a story. On a chart a press moves what is dragged.

use std::sync::Arc;

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crenel::analysis::Analysis;
use crenel::draw::{Frame, View, ViewOptions};
use crenel::export::svg_file;
use crenel::fields::Slot;
use crenel::ring::Side;
use crenel::shift::OutcomeMap;
use crenel::story::Story;
use crenel_words::page::learn as say;

use super::range::Dragged;
use crate::dom::text_scale;
use crate::state::{Player, here, use_app_state};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::drawing::LETTER_PX;
use crate::widgets::lecture::LECTURE;
use crate::widgets::pointer::{scene_point, share_of, watch_width};
use crate::widgets::scene_marks::SceneMarks;

/// The width that a drawing is laid out for until its own is known, CSS pixels.
const USUAL_PX: f64 = 600.0;

/// A drawing narrower than this is on a small screen, CSS pixels.
const NARROW_PX: f64 = 440.0;

#[component]
pub(super) fn Picture(
    story: &'static Story,
    view: &'static View,
    /// The gears as they are dragged.
    analysis: Memo<Arc<Analysis>>,
    /// The same before anything is dragged: the frame is theirs and stays still.
    steady: Arc<Analysis>,
    player: Player,
    map: RwSignal<Option<Arc<OutcomeMap>>>,
    dragged: Dragged,
    lecture: RwSignal<bool>,
) -> impl IntoView {
    let state = use_app_state();
    let width = RwSignal::new(None);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let for_paper = Arc::clone(&steady);
    let frame = Memo::new(move |_| {
        let px = width.get().unwrap_or(USUAL_PX);
        let scale = if lecture.get() { LECTURE } else { 1.0 };
        let shape = view.screen_shape[usize::from(px < NARROW_PX)];
        let laid_out = if story.is_film { View::frame_of_shift } else { View::frame };
        laid_out(view, &steady, px, shape, LETTER_PX * text_scale() * scale)
    });
    let drawn_on = move |frame: &Frame| {
        let map = if view.is_chart() { map.get() } else { None };
        analysis.with(|analysis| {
            let pose = if view.is_chart() { None } else { player.pose(analysis) };
            let options = ViewOptions {
                reader: state.reader(),
                pose,
                outcomes: map.as_deref(),
                ..ViewOptions::default()
            };
            view.draw(analysis, frame, &options)
        })
    };
    let scene = Memo::new(move |_| drawn_on(&frame.get()));
    let view_box = move || {
        let bounds = frame.with(|frame| (frame.bounds.width(), frame.bounds.height()));
        format!("0 0 {:.4} {:.4}", bounds.0, bounds.1)
    };
    let held = RwSignal::new(None::<i32>);
    let follow = move |event: &web_sys::PointerEvent| {
        let Some(target) =
            event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok())
        else {
            return;
        };
        let at = share_of(&target, event);
        put(story, view, &analysis.get_untracked(), &frame.get_untracked(), at, dragged);
    };
    let press = move |event: web_sys::PointerEvent| {
        if !view.is_chart() || event.button() != 0 {
            return;
        }
        if let Some(target) =
            event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok())
        {
            // Without capture the drag still works inside the drawing.
            let _ = target.set_pointer_capture(event.pointer_id());
        }
        held.set(Some(event.pointer_id()));
        follow(&event);
    };
    let drag = move |event: web_sys::PointerEvent| {
        if held.get_untracked() == Some(event.pointer_id()) {
            follow(&event);
        }
    };
    let figure = {
        let steady = Arc::clone(&for_paper);
        Callback::new(move |letter| {
            untrack(|| {
                let laid_out = if story.is_film { View::frame_of_shift } else { View::frame };
                drawn_on(&laid_out(view, &steady, 1.0, view.shape, letter))
            })
        })
    };
    let file = Callback::new(move |()| untrack(|| svg_file(&scene.get(), &here(story.title))));
    let name = here(say::drawing_of(view.name(), (story.title)())).into_owned();
    view! {
        <figure class=format!("view {}", view.key)>
            <figcaption>{here(view.name())}</figcaption>
            <div node_ref=paper>
                <svg viewBox=view_box role="img" aria-label=name.clone() on:pointerdown=press on:pointermove=drag
                    on:pointerup=move |_| held.set(None) on:pointercancel=move |_| held.set(None)>
                    <SceneMarks scene/>
                </svg>
            </div>
            <div class="row beside"><CopyButtons what=name name=view.file_name file scene=figure/></div>
        </figure>
    }
}

/// Puts what is dragged to a place of a chart, through the handles of its view.
fn put(
    story: &Story,
    view: &View,
    analysis: &Analysis,
    frame: &Frame,
    at: [f64; 2],
    dragged: Dragged,
) {
    let point = scene_point(&frame.bounds, at);
    for handle in view.handles_where(analysis, frame, (Side::A, 0), |_| true) {
        let Slot::Setting(field) = handle.slot else { continue };
        if let Some(nth) = story.drags.iter().position(|drag| drag.handle == Some(field)) {
            let value = handle.value_at(point).abs();
            dragged
                .update(|values| values.iter_mut().skip(nth).take(1).for_each(|own| *own = value));
        }
    }
}
