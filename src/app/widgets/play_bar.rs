//! Plays the shift of the design, or of the layouts that are compared: slowly, step by step, or as a still picture.

use leptos::prelude::*;

use crenel::design::Need;
use crenel::figures::{moment_words, needs};
use crenel::units::Quantity;
use crenel_words::Phrase;
use crenel_words::page::{common, drawing as say};

use crate::dom::prefers_reduced_motion;
use crate::state::{AppState, Player, here, use_app_state};
use crate::widgets::icon::{self, Icon};

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

/// The shift of the design under its drawings.
#[component]
pub(crate) fn PlayBar(
    /// What stands above the sentence.
    #[prop(optional)]
    children: Option<Children>,
) -> impl IntoView {
    let state = use_app_state();
    let player = state.player;
    player.filmed.set(true);
    // In other areas the drawings show the design.
    on_cleanup(move || player.filmed.set(false));
    let above = children.map(|children| children());
    view! { <Playing player told=Signal::derive(move || told(state)) above/> }
}

/// The controls of a player under a sentence on what it shows.
#[component]
pub(crate) fn Playing(
    player: Player,
    told: Signal<String>,
    /// What stands above the sentence.
    #[prop(optional_no_strip)]
    above: Option<AnyView>,
) -> impl IntoView {
    // A change of the shift stops playing it.
    Effect::new(move |_| {
        player.reel.track();
        player.stop();
    });
    on_cleanup(move || player.stop());
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
            {above}
            <p class="told" role="status">{told}</p>
            <div class="row">
                {(!still).then(|| view! { <PlayerButton player button=PLAY/> })}
                <PlayerButton player button=BACK/>
                <PlayerButton player button=ON/>
                <TimeSlider player/>
                {(!still).then(|| view! {
                    <select class="slowed" aria-label=here(say::slow_motion) title=here(say::slow_motion)
                        on:change=slow>
                        {speeds.collect_view()}
                    </select>
                })}
                <End player/>
            </div>
            {still.then(|| view! {
                <p class="quiet">{here(say::less_motion)}</p>
            })}
        </section>
    }
}

/// A button of the player. Its name and picture follow what it does next.
#[derive(Clone, Copy)]
struct Button {
    class: &'static str,
    name: fn(Player) -> Phrase,
    path: fn(Player) -> &'static str,
    is_off: fn(Player) -> bool,
    act: fn(Player),
}

const PLAY: Button = Button {
    class: "icon main",
    name: |player| if player.running.get() { common::pause } else { say::play },
    path: |player| if player.running.get() { icon::PAUSE } else { icon::PLAY },
    is_off: Player::is_empty,
    act: |player| player.play(),
};

const BACK: Button = Button {
    class: "icon",
    name: |_| say::previous_event,
    path: |_| icon::TO_EVENT_BEFORE,
    act: |player| player.step(false),
    ..PLAY
};

const ON: Button = Button {
    class: "icon",
    name: |_| say::next_event,
    path: |_| icon::TO_NEXT_EVENT,
    act: |player| player.step(true),
    ..PLAY
};

#[component]
fn PlayerButton(player: Player, button: Button) -> impl IntoView {
    let name = move || here((button.name)(player));
    view! {
        <button class=button.class aria-label=name title=name disabled=move || (button.is_off)(player)
            on:click=move |_| (button.act)(player)>
            <Icon path=Signal::derive(move || (button.path)(player))/>
        </button>
    }
}

/// Back to the start of the film: there while it shows something else.
#[component]
fn End(player: Player) -> impl IntoView {
    let open = Memo::new(move |_| player.time.with(Option::is_some));
    move || {
        open.get().then(|| view! {
        <button class="end" on:click=move |_| player.stop()>{here(say::back_to_start)}</button>
    })
    }
}

/// A slider to any moment of the shift, with a tick at each event.
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
    let ticks = move || {
        let (events, lasts) = (player.events(), player.lasts());
        let tick = |time: f64| {
            let x = format!("{:.2}", 100.0 * time / lasts);
            view! { <line x1=x.clone() x2=x y1="0" y2="6"></line> }
        };
        (lasts > 0.0).then(|| events.into_iter().map(tick).collect_view())
    };
    view! {
        <label class="moment">
            <span class="sr">{here(say::time)}</span>
            <svg class="events" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">{ticks}</svg>
            <input type="range" min="0" step="any" max=move || (player.lasts() * 1000.0).to_string()
                prop:value=move || value().to_string()
                aria-valuetext=move || ms(player.called_s())
                disabled=move || player.is_empty() on:input=drag/>
            <span class="time">{move || ms(player.called_s())}</span>
        </label>
    }
}

/// A sentence on the moment shown. While the shift runs it is only the outcome, so that screen readers are not
/// flooded.
fn told(state: AppState) -> String {
    let player = state.player;
    let time = player.time.get();
    let words = state.drawn.with(|a| {
        let shown = time.filter(|_| !player.running.get());
        Some(moment_words(&a.shift()?.attempt, shown).show(state.reader()))
    });
    let missing = || state.with(|d| d.missing_of(&[Need::Speed, Need::TipFriction, Need::Inertia]));
    let why = || missing().map_or_else(say::no_shift, |slot| common::lacking(needs(slot)()));
    words.unwrap_or_else(|| here(why()).into_owned())
}
