//! The chart of the drum, with a cursor to drag and, if wanted, the points of the tracks.

use std::sync::Arc;

use leptos::html::Div;
use leptos::prelude::*;

use crenel::draw::{DrumChart, Frame, Scene};
use crenel::drum::Drum;
use crenel::fields::{BoxPart, FieldId, Slot};
use crenel::ring::Point;
use crenel::selector::Track;
use crenel_words::Reader;
use crenel_words::page::whole as say;

use super::turning::{STEP_DEG, Turning};
use crate::dom::text_scale;
use crate::state::{AppState, Boxed, here, use_app_state};
use crate::widgets::pointer::{scene_point, share_of, watch_width};
use crate::widgets::scene_marks::SceneMarks;

/// Letters of a drawing, CSS pixels, and the width that it is laid out for before it is on the screen.
pub(super) const LETTER_PX: f64 = 12.0;
pub(super) const DRAWING_PX: f64 = 720.0;

/// How far a finger may be off a point of a track, CSS pixels.
const REACH_PX: f64 = 22.0;

/// The track point that is dragged: its fork on the drum, the fork in the gearbox, and its number.
#[derive(Clone, Copy)]
struct Held {
    on_drum: usize,
    fork: usize,
    point: usize,
}

#[component]
pub(super) fn Chart(boxed: Signal<Arc<Boxed>>, turning: Turning) -> impl IntoView {
    let state = use_app_state();
    let (width, paper) = (RwSignal::new(None), NodeRef::<Div>::new());
    watch_width(paper, width);
    let letter = move || LETTER_PX * text_scale() / width.get().unwrap_or(DRAWING_PX);
    let frame = Memo::new(move |_| with_chart(boxed, |chart| chart.frame(letter())));
    let editing = RwSignal::new(false);
    let shown = Memo::new(move |_| drum_as_drawn(state, boxed));
    let scene = Memo::new(move |_| {
        let (reader, cursor_deg) = (state.reader(), turning.cursor.get());
        let shows_points = editing.get();
        with_chart(boxed, |chart| {
            shown.with(|drum| {
                let chart = DrumChart { drum, cursor_deg, shows_points, ..*chart };
                frame.with(|frame| chart.draw(frame, reader))
            })
        })
    });
    let dragging = RwSignal::new(false);
    let held = StoredValue::new(None::<Held>);
    let place = move |event: &web_sys::PointerEvent| {
        let paper = paper.get_untracked()?;
        let share = share_of(&paper, event);
        Some(scene_point(&frame.get_untracked().bounds, share))
    };
    let moved_to = move |at: Point| match held.get_value() {
        Some(held) => drag_point(state, boxed, &frame.get_untracked(), held, at),
        None => {
            let frame = frame.get_untracked();
            let deg = untrack(|| with_chart(boxed, |chart| chart.angle_deg(&frame, at)));
            turning.put((deg / STEP_DEG).round() * STEP_DEG);
        }
    };
    let down = move |event: web_sys::PointerEvent| {
        let Some(at) = place(&event) else { return };
        if let Some(paper) = paper.get_untracked() {
            // Without capture the drag ends at the edge.
            let _ = paper.set_pointer_capture(event.pointer_id());
        }
        let frame = frame.get_untracked();
        let reach = REACH_PX * frame.bounds.width() / width.get_untracked().unwrap_or(DRAWING_PX);
        let under =
            editing.get_untracked().then(|| untrack(|| point_under(boxed, &frame, at, reach)));
        held.set_value(under.flatten());
        dragging.set(true);
        moved_to(at);
    };
    let moved = move |event: web_sys::PointerEvent| {
        if dragging.get_untracked() {
            place(&event).into_iter().for_each(moved_to);
        }
    };
    let end = move |kept: bool| {
        dragging.set(false);
        if held.get_value().is_some() {
            held.set_value(None);
            if kept { state.commit() } else { state.cancel() }
        }
    };
    let view_box = move || {
        let bounds = frame.get().bounds;
        format!("0 0 {:.4} {:.4}", bounds.width(), bounds.height())
    };
    view! {
        <div class="row head">
            <h2>{here(say::drum_drawing)}</h2>
            <button class="small" aria-pressed=move || editing.get().to_string()
                on:click=move |_| editing.update(|on| *on = !*on)>
                {here(say::move_points)}
            </button>
        </div>
        <div class="view drum" class:editing=editing node_ref=paper on:pointerdown=down on:pointermove=moved
            on:pointerup=move |_| end(true) on:pointercancel=move |_| end(false)>
            <svg viewBox=view_box role="img" aria-label=here(say::drum_drawing)><SceneMarks scene/></svg>
        </div>
    }
}

/// Gives the chart of the drum to a function, without cursor.
pub(super) fn with_chart<T>(boxed: Signal<Arc<Boxed>>, read: impl FnOnce(&DrumChart) -> T) -> T {
    boxed.with(|boxed| {
        let of = &boxed.analysis;
        let (drum, gears, forks) = (&of.drum, &of.on_drum[..], &of.forks_on_drum[..]);
        let (at_once, cursor_deg, shows_points) = (&boxed.at_once[..], 0.0, false);
        read(&DrumChart { drum, gears, forks, at_once, cursor_deg, shows_points })
    })
}

/// The chart for a file.
pub(super) fn chart_scene(boxed: Signal<Arc<Boxed>>, cursor_deg: f64, reader: Reader) -> Scene {
    with_chart(boxed, |chart| {
        let chart = DrumChart { cursor_deg, ..*chart };
        chart.draw(&chart.frame(LETTER_PX / DRAWING_PX), reader)
    })
}

/// The drum with the tracks as they are typed or dragged at the moment.
fn drum_as_drawn(state: AppState, boxed: Signal<Arc<Boxed>>) -> Drum {
    boxed.with(|boxed| {
        let of = &boxed.analysis;
        let mut drum = of.drum.clone();
        state.with(|design| {
            let Some(now) = design.around.as_ref().map(|around| around.parts()) else { return };
            for (own, fork) in drum.forks.iter_mut().zip(&of.forks_on_drum) {
                let track = now.forks.get(*fork).map(|fork| fork.track.clone());
                if let Some(Ok(track)) = track.map(Track::through) {
                    own.track = track;
                }
            }
        });
        drum
    })
}

fn point_under(boxed: Signal<Arc<Boxed>>, frame: &Frame, at: Point, reach: f64) -> Option<Held> {
    let (on_drum, point) = with_chart(boxed, |chart| chart.track_point_at(frame, at, reach))?;
    let fork = boxed.with(|boxed| boxed.analysis.forks_on_drum.get(on_drum).copied())?;
    Some(Held { on_drum, fork, point })
}

/// Puts a point of a track where it is dragged to, in steps of its numbers.
fn drag_point(state: AppState, boxed: Signal<Arc<Boxed>>, frame: &Frame, held: Held, at: Point) {
    let value = untrack(|| with_chart(boxed, |chart| chart.track_value(frame, at, held.on_drum)));
    let fields = [FieldId::TrackAngle, FieldId::TrackTravel];
    let stepped = fields.into_iter().zip(value).map(|(id, value)| {
        let spec = id.spec();
        let value = ((value / spec.fine).round() * spec.fine).clamp(spec.min, spec.max);
        (Slot::Box(BoxPart::track_point(held.fork, held.point), id), value)
    });
    state.preview(&stepped.collect::<Vec<_>>());
}
