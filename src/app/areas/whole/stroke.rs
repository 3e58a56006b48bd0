//! Plays a stroke up or down through the gearbox: the cursor goes to the next gear of the drum.

use std::sync::Arc;

use leptos::prelude::*;

use crenel_words::page::whole as say;

use super::turning::Turning;
use crate::dom::{now_ms, prefers_reduced_motion};
use crate::state::{Boxed, here};

/// How long a stroke takes on the screen, ms.
const LASTS_MS: f64 = 1600.0;

/// A drum this near to a position is in it, degrees.
const NEAR_DEG: f64 = 0.25;

/// One stroke up and one down.
#[component]
pub(super) fn StrokeButtons(boxed: Signal<Arc<Boxed>>, turning: Turning) -> impl IntoView {
    let to = move |up: bool| boxed.with(|boxed| next_deg(boxed, turning.cursor.get(), up));
    let play = move |up: bool| {
        let Some(to) = untrack(|| to(up)) else { return };
        if prefers_reduced_motion() {
            return turning.put(to);
        }
        turning.running.set(true);
        let from = turning.cursor.get_untracked();
        step(turning, [from, to], now_ms());
    };
    let button = move |up: bool, sign: &'static str, says: crenel_words::Phrase| {
        let none = Memo::new(move |_| to(up).is_none());
        view! {
            <button disabled=move || none.get() || turning.running.get() on:click=move |_| play(up)>
                <span aria-hidden="true">{sign}" "</span>{here(says)}
            </button>
        }
    };
    view! {
        <div class="row drum-strokes">
            {button(true, "▲", say::stroke_up)}
            {button(false, "▼", say::stroke_down)}
        </div>
    }
}

/// The next gear up or down the drum; beyond the last gear a neutral, if there is one.
fn next_deg(boxed: &Boxed, from: f64, up: bool) -> Option<f64> {
    let positions = boxed.analysis.drum.positions.iter();
    let ahead = positions.filter(|at| {
        let by = if up { at.deg - from } else { from - at.deg };
        by > NEAR_DEG
    });
    let nearest =
        |of: Vec<f64>| of.into_iter().min_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()));
    let (gears, all): (Vec<_>, Vec<_>) = ahead.map(|at| (at.gear.map(|_| at.deg), at.deg)).unzip();
    nearest(gears.into_iter().flatten().collect()).or_else(|| nearest(all))
}

/// Turns the drum on with each frame, until it is there or something else moves it.
fn step(turning: Turning, [from, to]: [f64; 2], start: f64) {
    request_animation_frame(move || {
        if turning.running.try_get_untracked() != Some(true) {
            return;
        }
        let share = ((now_ms() - start) / LASTS_MS).clamp(0.0, 1.0);
        // Slowly off the one notch, and slowly into the other.
        let gone = share * share * (3.0 - 2.0 * share);
        turning.cursor.set(from + (to - from) * gone);
        if share < 1.0 {
            step(turning, [from, to], start);
        } else {
            turning.put(to);
        }
    });
}
