//! The development of the drum, with a cursor to drag or to move by keys.

use std::sync::Arc;

use leptos::html::Div;
use leptos::prelude::*;

use crenel::draw::DrumChart;
use crenel::drum::Span;
use crenel::export::svg_file;
use crenel::units::Quantity;
use crenel_words::Value;
use crenel_words::page::whole as say;

use crate::dom::text_scale;
use crate::state::{Boxed, here, use_app_state};
use crate::widgets::files::download;
use crate::widgets::pointer::{scene_point, share_of, watch_width};
use crate::widgets::scene_marks::SceneMarks;

/// Letters of the chart, CSS pixels, and the width that it is laid out for before it is on the screen.
const LETTER_PX: f64 = 12.0;
const CHART_PX: f64 = 720.0;

/// One step of the cursor by a key, degrees.
const STEP_DEG: f64 = 0.5;

#[component]
pub(super) fn Development(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let at_once = Memo::new(move |_| boxed.with(|boxed| boxed.analysis.at_once()));
    let cursor = RwSignal::new(boxed.with_untracked(|boxed| {
        // Where the worst gear is in, if the drum has it.
        let (analysis, worst) = (&boxed.analysis, boxed.worst.gear);
        let at = analysis.on_drum.iter().position(|gear| Some(*gear) == worst);
        at.and_then(|at| analysis.drum.position_deg(at)).unwrap_or_default()
    }));
    let (width, paper) = (RwSignal::new(None), NodeRef::<Div>::new());
    watch_width(paper, width);
    let letter = move || LETTER_PX * text_scale() / width.get().unwrap_or(CHART_PX);
    let frame = Memo::new(move |_| {
        with_chart(boxed, at_once, cursor.get_untracked(), |chart| chart.frame(letter()))
    });
    let range = Memo::new(move |_| with_chart(boxed, at_once, 0.0, |chart| chart.range_deg()));
    let scene = Memo::new(move |_| {
        let reader = state.reader();
        with_chart(boxed, at_once, cursor.get(), |chart| {
            frame.with(|frame| chart.draw(frame, reader))
        })
    });
    let dragging = RwSignal::new(false);
    let point_at = move |event: &web_sys::PointerEvent| {
        let Some(paper) = paper.get_untracked() else { return };
        let frame = frame.get_untracked();
        let at = scene_point(&frame.bounds, share_of(&paper, event));
        let deg = with_chart(boxed, at_once, 0.0, |chart| chart.angle_deg(&frame, at));
        cursor.set((deg / STEP_DEG).round() * STEP_DEG);
    };
    let down = move |event: web_sys::PointerEvent| {
        if let Some(paper) = paper.get_untracked() {
            // Without capture the drag ends at the edge.
            let _ = paper.set_pointer_capture(event.pointer_id());
        }
        dragging.set(true);
        point_at(&event);
    };
    let moved = move |event: web_sys::PointerEvent| {
        if dragging.get_untracked() {
            point_at(&event);
        }
    };
    let typed = move |event| {
        if let Ok(deg) = event_target_value(&event).parse() {
            cursor.set(deg);
        }
    };
    let view_box = move || {
        let bounds = frame.get().bounds;
        format!("0 0 {:.4} {:.4}", bounds.width(), bounds.height())
    };
    let reading = move || reading(&boxed.get(), cursor.get(), state.reader());
    let save = move |_| {
        let drawing = scene.get_untracked();
        let title = state.with(|d| d.name().to_owned());
        download(state, "drum.svg", "image/svg+xml", svg_file(&drawing, &title).as_bytes());
    };
    view! {
        <section class="whole-box drum-development" aria-label=here(say::drum_drawing)>
            <h2>{here(say::drum_drawing)}</h2>
            <div class="view drum" node_ref=paper on:pointerdown=down on:pointermove=moved
                on:pointerup=move |_| dragging.set(false) on:pointercancel=move |_| dragging.set(false)>
                <svg viewBox=view_box role="img" aria-label=here(say::drum_drawing)><SceneMarks scene/></svg>
            </div>
            <label class="row drum-cursor">
                <span>{here(say::drum_angle)}</span>
                <input type="range" class="seek" min=move || range.get()[0] max=move || range.get()[1] step=STEP_DEG
                    prop:value=move || cursor.get() aria-valuetext=reading on:input=typed/>
            </label>
            <p class="drum-reading" role="status">{reading}</p>
            <p class="quiet">{here(say::drum_caption)}</p>
            <div class="row"><button on:click=save>{here(say::save_drum)}</button></div>
        </section>
    }
}

/// Gives the chart of the drum to a function.
fn with_chart<T>(
    boxed: Signal<Arc<Boxed>>,
    at_once: Memo<Vec<Span>>,
    cursor_deg: f64,
    read: impl FnOnce(&DrumChart) -> T,
) -> T {
    boxed.with(|boxed| {
        let of = &boxed.analysis;
        at_once.with(|at_once| {
            let (gears, forks) = (&of.on_drum, &of.forks_on_drum);
            read(&DrumChart { drum: &of.drum, gears, forks, at_once, cursor_deg })
        })
    })
}

/// Which gears touch at a drum angle, how deep, and whether they hold.
fn reading(boxed: &Boxed, deg: f64, reader: crenel_words::Reader) -> String {
    let analysis = &boxed.analysis;
    let touching = analysis.depths_at(deg).into_iter().zip(&analysis.drum.gears);
    let told: Vec<Value> = touching
        .filter(|((_, mm), _)| *mm > 0.0)
        .map(|((gear, mm), own)| {
            let says = if mm >= own.hold_mm { say::holds } else { say::meets };
            says(gear, Value::Result(Quantity::Length, mm)).into()
        })
        .collect();
    if told.is_empty() {
        say::none_in(deg).show(reader)
    } else {
        say::at_angle(deg, told).show(reader)
    }
}
