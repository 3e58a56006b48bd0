//! Both rings as solids, turned with the mouse, the keys and the phase.

use std::sync::Arc;

use gloo_timers::callback::Timeout;
use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::History;
use crenel::draw::{Turn3, ViewOptions, left_out, picture};
use crenel::export::svg_file;

use crenel_words::Phrase;
use crenel_words::page::{drawing as frame, rework as say};

use crate::state::{AppState, here, use_app_state};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::menu::Menu;
use crate::widgets::scene_marks::SceneMarks;

/// Degrees for each CSS pixel of a drag, and for each press of an arrow key.
const PER_PIXEL: f64 = 0.5;
const PER_KEY: f64 = 5.0;

/// The time between two pictures during a gesture, ms.
const FOLLOW_MS: u32 = 90;

/// Directions to look from: words, yaw and pitch in degrees.
const POSES: [(Phrase, f64, f64); 4] = [
    (say::pose_three_quarter, -50.0, 20.0),
    (say::pose_side, -90.0, 0.0),
    (say::pose_dogs_a, 0.0, 0.0),
    (say::pose_dogs_b, 180.0, 0.0),
];

/// A drag of the picture: which pointer, and where it and the picture were.
#[derive(Clone, Copy)]
struct Hold {
    pointer: i32,
    at: (f64, f64),
    turn: Turn3,
}

#[component]
pub(crate) fn SolidView() -> impl IntoView {
    let state = use_app_state();
    let turn = RwSignal::new(Turn3::default());
    let hold = RwSignal::new(None::<Hold>);
    let shown = following(state);
    let scene = Memo::new(move |_| {
        let chosen = state.selected();
        let options = ViewOptions { chosen, state: state.rings_shown(), ..ViewOptions::default() };
        shown.with(|a| picture(a, &a.body(), &turn.get(), &options))
    });
    let view_box =
        move || scene.with(|s| format!("0 0 {:.3} {:.3}", s.bounds.width(), s.bounds.height()));
    let file = Callback::new(move |()| {
        let title = state.with(|d| d.title.clone());
        let rings = untrack(|| state.rings_shown());
        let options = ViewOptions { state: rings, ..ViewOptions::default() };
        shown.with_untracked(|a| {
            svg_file(&picture(a, &a.body(), &turn.get_untracked(), &options), &title)
        })
    });
    let missing = Memo::new(move |_| {
        let reader = state.reader();
        let left = shown.with(|a| left_out(a, &a.body(), state.rings_shown()));
        let told = left.iter().map(|(side, why)| (here(say::not_drawn(*side)), why.whole(reader)));
        told.collect::<Vec<_>>()
    });
    let begin = move |event: web_sys::PointerEvent| {
        use wasm_bindgen::JsCast as _;
        if event.button() != 0 {
            return;
        }
        let target = event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        if let Some(target) = target {
            // If capturing fails, the drag still works inside the picture.
            let _ = target.set_pointer_capture(event.pointer_id());
        }
        let at = (f64::from(event.client_x()), f64::from(event.client_y()));
        hold.set(Some(Hold { pointer: event.pointer_id(), at, turn: turn.get_untracked() }));
    };
    let follow = move |event: web_sys::PointerEvent| {
        let Some(held) = hold.get_untracked().filter(|h| h.pointer == event.pointer_id()) else {
            return;
        };
        let across = f64::from(event.client_x()) - held.at.0;
        let down = f64::from(event.client_y()) - held.at.1;
        turn.set(turned(held.turn, across * PER_PIXEL, down * PER_PIXEL));
    };
    let key = move |event: web_sys::KeyboardEvent| {
        let fast = if event.shift_key() { 3.0 } else { 1.0 };
        let (across, down) = match event.key().as_str() {
            "ArrowLeft" => (-PER_KEY, 0.0),
            "ArrowRight" => (PER_KEY, 0.0),
            "ArrowUp" => (0.0, -PER_KEY),
            "ArrowDown" => (0.0, PER_KEY),
            "Home" => {
                event.prevent_default();
                return turn.set(Turn3::default());
            }
            _ => return,
        };
        event.prevent_default();
        turn.update(|t| *t = turned(*t, across * fast, down * fast));
    };
    let apart = move |typed: &str| {
        if let Ok(mm) = typed.parse() {
            turn.update(|t| t.apart_mm = mm);
        }
    };
    let told = move || turn.with(|t| here(say::turned(t.yaw_deg.round(), t.pitch_deg.round())));
    let poses = POSES.map(|(words, yaw_deg, pitch_deg)| {
        view! {
            <button on:click=move |_| turn.update(|t| (t.yaw_deg, t.pitch_deg) = (yaw_deg, pitch_deg))>
                {here(words)}
            </button>
        }
    });
    view! {
        <figure class="view solids">
            <figcaption>
                <h2>{here(say::solids)}</h2>
            </figcaption>
            <div class="fit"><div class="paper">
                <svg viewBox=view_box
                    role="application" tabindex="0" aria-label=here(say::solids_label)
                    aria-describedby="solids-told"
                    class:dragging=move || hold.with(Option::is_some)
                    on:pointerdown=begin on:pointermove=follow
                    on:pointerup=move |_| hold.set(None) on:pointercancel=move |_| hold.set(None)
                    on:keydown=key><SceneMarks scene/></svg>
            </div></div>
            <div class="reading">
                <div role="status">
                    {move || missing.get().into_iter().map(|(what, why)| view! { <p>{what}" "{why}</p> }).collect_view()}
                </div>
                <p class="sr" id="solids-told" role="status">{told}</p>
                <div class="row">
                    {poses.into_iter().collect_view()}
                    <label class="apart"><span>{here(say::separation)}</span>
                        <input type="range" min="0" max="60" step="1"
                            prop:value=move || turn.with(|t| t.apart_mm.to_string())
                            aria-valuetext=move || turn.with(|t| say::apart_by(t.apart_mm).show(state.reader()))
                            on:input=move |event| apart(&event_target_value(&event))/>
                    </label>
                </div>
            </div>
            <div class="beside">
                <Menu title=|| "⋯".into() name=here(frame::tools_of(here(say::solids).into_owned())) stays=true>
                    <p class="quiet">{here(say::solids_hint)}</p>
                    <CopyButtons what=here(say::solids) name="solids" file/>
                </Menu>
            </div>
        </figure>
    }
}

/// The analysis to draw: at once when the design is settled, but only a few times a second during a gesture.
/// The picture costs more than all other drawings together, and a drag must not wait for it.
fn following(state: AppState) -> RwSignal<Arc<Analysis>> {
    let shown = RwSignal::new(state.drawn.get_untracked());
    let due = StoredValue::new_local(None::<Timeout>);
    Effect::new(move |_| {
        let now = state.drawn.get();
        if !state.history.with_untracked(History::in_gesture) {
            due.set_value(None);
            return shown.set(now);
        }
        if due.with_value(Option::is_none) {
            let later = Timeout::new(FOLLOW_MS, move || {
                due.set_value(None);
                shown.set(state.drawn.get_untracked());
            });
            due.set_value(Some(later));
        }
    });
    on_cleanup(move || due.set_value(None));
    shown
}

/// Turned further, but never over the poles.
fn turned(turn: Turn3, across: f64, down: f64) -> Turn3 {
    Turn3 {
        yaw_deg: (turn.yaw_deg + across + 180.0).rem_euclid(360.0) - 180.0,
        pitch_deg: (turn.pitch_deg + down).clamp(-90.0, 90.0),
        ..turn
    }
}
