//! Plays one stroke of the pedal through claw, drum and detent.

use crenel_words::page::{common, selector as say};
use crenel_words::{Message, Phrase, Words as _};
use leptos::prelude::*;

use crenel::selector::Stroke;
use crenel::units::Quantity;

use crate::dom::{now_ms, prefers_reduced_motion};
use crate::state::{AppState, here, use_app_state};
use crate::widgets::choose::Choose;

const STROKES: [(Stroke, Phrase); 2] =
    [(Stroke::Lift, say::stroke_lift), (Stroke::Press, say::stroke_press)];

/// How long a stroke takes on the screen, ms.
const LASTS_MS: f64 = 2500.0;

/// Steps of the slider.
const STEPS: f64 = 100.0;

#[component]
pub(crate) fn StrokeBar() -> impl IntoView {
    let state = use_app_state();
    let stroke = RwSignal::new(Stroke::Lift);
    let running = RwSignal::new(false);
    let none = Memo::new(move |_| state.analysis.with(|a| a.selector.strokes().is_none()));
    let share = move || state.stroke.get().map(|(_, share)| share);
    let show = move |share: f64| state.stroke.set(Some((stroke.get_untracked(), share)));
    let set_stroke = Callback::new(move |chosen| {
        stroke.set(chosen);
        running.set(false);
        state.stroke.set(None);
    });
    let play = move |_| {
        if running.get_untracked() {
            running.set(false);
            return;
        }
        // From the start again if it is at its end.
        let from = share().filter(|share| *share < 1.0).unwrap_or(0.0);
        running.set(true);
        run(state, running, stroke.get_untracked(), from);
    };
    let drag = move |event| {
        if let Ok(step) = event_target_value(&event).parse::<f64>() {
            running.set(false);
            show((step / STEPS).clamp(0.0, 1.0));
        }
    };
    // In other areas the drawings show the parts at rest.
    on_cleanup(move || {
        running.set(false);
        state.stroke.set(None);
    });
    let still = prefers_reduced_motion();
    view! {
        <section class="player" aria-label=here(say::play_a_stroke)>
            <div class="row">
                <Choose label=here(say::stroke) words=&STROKES value=stroke on_choose=set_stroke/>
                {(!still).then(|| view! {
                    <button class="main" disabled=none on:click=play>
                        {move || if running.get() { here(common::pause) } else { here(say::play) }}
                    </button>
                })}
                <button disabled=none on:click=move |_| { running.set(false); show(1.0); }>
                    {here(say::to_stop)}
                </button>
                <button disabled=move || state.stroke.with(Option::is_none)
                    on:click=move |_| { running.set(false); state.stroke.set(None); }>
                    {here(say::at_rest)}
                </button>
                <label class="moment">
                    <span>{here(say::progress)}</span>
                    <input type="range" min="0" max="100" step="1" disabled=none
                        prop:value=move || (share().unwrap_or_default() * STEPS).round().to_string()
                        aria-valuetext=move || Quantity::Share.show(share().unwrap_or_default(), state.units.get())
                        on:input=drag/>
                </label>
            </div>
            <p class="told" role="status">
                {move || told(state, stroke.get(), running.get()).words(state.reader())}
            </p>
        </section>
    }
}

/// Plays from a share of the stroke until it is complete or stopped.
fn run(state: AppState, running: RwSignal<bool>, stroke: Stroke, from: f64) {
    let start = now_ms();
    step(state, running, stroke, from, start);
}

fn step(state: AppState, running: RwSignal<bool>, stroke: Stroke, from: f64, start: f64) {
    request_animation_frame(move || {
        if running.try_get_untracked() != Some(true) {
            return;
        }
        let share = (from + (now_ms() - start) / LASTS_MS).min(1.0);
        state.stroke.set(Some((stroke, share)));
        if share < 1.0 {
            step(state, running, stroke, from, start);
        } else {
            running.set(false);
        }
    });
}

/// The stroke in words. While it runs these are only its outcome.
fn told(state: AppState, stroke: Stroke, running: bool) -> Vec<Message> {
    let moment = state.stroke.get().filter(|_| !running);
    state.analysis.with(|a| {
        let Some(strokes) = a.selector.strokes() else {
            return vec![say::claw_missing()];
        };
        let now = moment.map(|(stroke, share)| strokes.at(stroke, share, a.selector.star.as_ref()));
        let now = now.map(|(shaft, drum)| say::turned(shaft.degrees(), drum.degrees()));
        now.into_iter().chain(strokes.told(stroke)).collect()
    })
}
