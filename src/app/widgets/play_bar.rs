//! Plays the shift of the design: slowly, step by step, or as a still picture.

use leptos::prelude::*;

use crenel::figures::moment_words;
use crenel::units::Quantity;
use crenel_words::page::{common, drawing as say};

use crate::dom::prefers_reduced_motion;
use crate::state::{AppState, Player, here, use_app_state};

/// How many times slower than life a shift is played.
const SLOWED: [(f64, &str); 7] = [
    (1.0, "1:1"),
    (5.0, "1:5"),
    (20.0, "1:20"),
    (50.0, "1:50"),
    (100.0, "1:100"),
    (300.0, "1:300"),
    (1000.0, "1:1000"),
];

/// The controls under the phase map.
#[component]
pub(crate) fn PlayBar() -> impl IntoView {
    let state = use_app_state();
    let player = state.player;
    // A change of the shift stops playing it.
    Effect::new(move |_| {
        player.drawn.track();
        player.stop();
    });
    // In other areas the drawings show the design.
    on_cleanup(move || player.stop());
    let none = move || player.with(|_| ()).is_none();
    let still = prefers_reduced_motion();
    let slow = move |event| {
        if let Ok(slowed) = event_target_value(&event).parse() {
            player.slowed.set(slowed);
        }
    };
    let speeds = SLOWED.map(|(slowed, words)| {
        view! { <option value=slowed.to_string() selected=slowed == player.slowed.get_untracked()>{words}</option> }
    });
    view! {
        <section class="player" aria-label=here(say::play)>
            <div class="row">
                {(!still).then(|| view! {
                    <button class="main" disabled=none on:click=move |_| player.play()>
                        {move || here(if player.running.get() { common::pause } else { say::play })}
                    </button>
                })}
                <button disabled=none on:click=move |_| player.step(false)>{here(say::previous_event)}</button>
                <button disabled=none on:click=move |_| player.step(true)>{here(say::next_event)}</button>
                <button disabled=move || player.time.get().is_none() on:click=move |_| player.stop()>
                    {here(say::back_to_design)}
                </button>
                {(!still).then(|| view! {
                    <label class="slowed">
                        <span>{here(say::slow_motion)}</span> <select on:change=slow>{speeds.collect_view()}</select>
                    </label>
                })}
                <TimeSlider player/>
            </div>
            <p class="told" role="status">{move || told(state)}</p>
            {still.then(|| view! {
                <p class="quiet">{here(say::less_motion)}</p>
            })}
        </section>
    }
}

/// A slider to any moment of the shift.
#[component]
fn TimeSlider(player: Player) -> impl IntoView {
    let ms = move |t: f64| Quantity::Time.show(t * 1000.0, Default::default());
    let value = move || player.time.get().unwrap_or_default() * 1000.0;
    let drag = move |event| {
        if let Ok(ms) = event_target_value(&event).parse::<f64>() {
            player.running.set(false);
            player.show(ms / 1000.0);
        }
    };
    view! {
        <label class="moment">
            <span>{here(say::time)}</span>
            <input type="range" min="0" step="any" max=move || (player.lasts() * 1000.0).to_string()
                prop:value=move || value().to_string()
                aria-valuetext=move || ms(player.time.get().unwrap_or_default())
                disabled=move || player.with(|_| ()).is_none() on:input=drag/>
            <span class="time">{move || ms(player.time.get().unwrap_or_default())}</span>
        </label>
    }
}

/// A sentence on the moment shown. While the shift runs it is only the outcome, so that screen readers are not
/// flooded.
fn told(state: AppState) -> String {
    let player = state.player;
    let time = player.time.get();
    let words = player.with(|attempt| {
        let shown = time.filter(|_| !player.running.get());
        moment_words(attempt, shown).show(state.reader())
    });
    words.unwrap_or_else(|| here(say::no_shift).into_owned())
}
