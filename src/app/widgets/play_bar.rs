//! Plays the shift of the design: slowly, step by step, or as a still picture.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::report::{Analysis, Pose, moment_words};
use crenel::shift::Attempt;
use crenel::units::{Angle, Quantity};

use crate::state::app_state::Office;

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

/// Where a shift that is played stands.
#[derive(Clone, Copy)]
pub(crate) struct Player {
    /// Time since tip level, s; `None` while the drawings show the design.
    time: RwSignal<Option<f64>>,
    running: RwSignal<bool>,
    slowed: RwSignal<f64>,
    drawn: Memo<Arc<Analysis>>,
    /// Where the rings stand in the shift.
    pub(crate) pose: Memo<Option<Pose>>,
}

impl Player {
    pub(crate) fn new(drawn: Memo<Arc<Analysis>>) -> Self {
        let time = RwSignal::new(None);
        let pose = Memo::new(move |_| {
            let moment = drawn.with(|a| attempt(a)?.at(time.get()?))?;
            let phase = Angle::from_radians(moment.phase);
            Some(Pose { phase, overlap_mm: moment.overlap_mm })
        });
        Self { time, running: RwSignal::new(false), slowed: RwSignal::new(100.0), drawn, pose }
    }

    fn with<T>(self, read: impl FnOnce(&Attempt) -> T) -> Option<T> {
        self.drawn.with(|a| attempt(a).map(read))
    }

    fn lasts(self) -> f64 {
        self.with(|a| a.time_s).unwrap_or_default()
    }

    /// The drawings show the design again.
    fn stop(self) {
        self.running.set(false);
        self.time.set(None);
    }

    fn show(self, time_s: f64) {
        self.time.set(Some(time_s.clamp(0.0, self.lasts())));
    }

    /// To the next event, or to the one before.
    fn step(self, on: bool) {
        const HERE: f64 = 1e-9;
        self.running.set(false);
        let now = self.time.get_untracked();
        let events = || self.with(event_times).unwrap_or_default().into_iter();
        let next = match now {
            None => Some(0.0),
            Some(now) if on => events().find(|t| *t > now + HERE),
            Some(now) => events().rev().find(|t| *t < now - HERE),
        };
        if let Some(next) = next {
            self.show(next);
        }
    }

    fn play(self) {
        if self.running.get_untracked() {
            return self.running.set(false);
        }
        let over = self.time.get_untracked().is_none_or(|t| t >= self.lasts());
        if over {
            self.show(0.0);
        }
        self.running.set(true);
        run(self, now_ms());
    }
}

/// The shift of a design, if it can be shifted.
fn attempt(analysis: &Analysis) -> Option<&Attempt> {
    analysis.shifting().map(|shifting| &shifting.attempt)
}

/// When something happens: the beginnings of the legs, and the end.
fn event_times(attempt: &Attempt) -> Vec<f64> {
    attempt.legs.iter().map(|leg| leg.start_s).chain([attempt.time_s]).collect()
}

/// One frame after another until the shift is over or stopped.
fn run(player: Player, before_ms: f64) {
    request_animation_frame(move || {
        let Some(time) = player.time.get_untracked().filter(|_| player.running.get_untracked())
        else {
            return;
        };
        let now = now_ms();
        let passed = (now - before_ms) / 1000.0 / player.slowed.get_untracked();
        player.show(time + passed);
        if time + passed >= player.lasts() {
            player.running.set(false);
        } else {
            run(player, now);
        }
    });
}

pub(crate) fn now_ms() -> f64 {
    window().performance().map_or(0.0, |clock| clock.now())
}

/// Whether the reader's system asks for less motion.
pub(crate) fn still() -> bool {
    let asked = window().match_media("(prefers-reduced-motion: reduce)").ok().flatten();
    asked.is_some_and(|list| list.matches())
}

/// The controls under the phase map.
#[component]
pub(crate) fn PlayBar() -> impl IntoView {
    let office = Office::here();
    let player = office.player;
    // Whatever changes the shift ends its playing.
    Effect::new(move |_| {
        player.drawn.track();
        player.stop();
    });
    // Elsewhere the drawings show the design.
    on_cleanup(move || player.stop());
    let none = move || player.with(|_| ()).is_none();
    let still = still();
    let slow = move |event| {
        if let Ok(slowed) = event_target_value(&event).parse() {
            player.slowed.set(slowed);
        }
    };
    let speeds = SLOWED.map(|(slowed, words)| {
        view! { <option value=slowed.to_string() selected=slowed == player.slowed.get_untracked()>{words}</option> }
    });
    view! {
        <section class="player" aria-label="Play the shift">
            <div class="row">
                {(!still).then(|| view! {
                    <button class="main" disabled=none on:click=move |_| player.play()>
                        {move || if player.running.get() { "Pause" } else { "Play the shift" }}
                    </button>
                })}
                <button disabled=none on:click=move |_| player.step(false)>"Event before"</button>
                <button disabled=none on:click=move |_| player.step(true)>"Next event"</button>
                <button disabled=move || player.time.get().is_none() on:click=move |_| player.stop()>"Back to the design"</button>
                {(!still).then(|| view! {
                    <label class="slowed"><span>"Slowed"</span> <select on:change=slow>{speeds.collect_view()}</select></label>
                })}
                <TimeSlider player/>
            </div>
            <p class="told" role="status">{move || told(office)}</p>
            {still.then(|| view! { <p class="quiet">"Your system asks for less motion: the whole way is drawn on the phase map, and the buttons go from event to event."</p> })}
        </section>
    }
}

/// Takes the shift to any moment.
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
            <span>"Moment"</span>
            <input type="range" min="0" step="any" max=move || (player.lasts() * 1000.0).to_string() prop:value=move || value().to_string()
                aria-valuetext=move || ms(player.time.get().unwrap_or_default()) disabled=move || player.with(|_| ()).is_none() on:input=drag/>
            <span class="time">{move || ms(player.time.get().unwrap_or_default())}</span>
        </label>
    }
}

/// What happens at the moment shown. While it runs, only how it ends, so that a screen reader is not
/// flooded.
fn told(office: Office) -> String {
    let player = office.player;
    let units = office.units.get();
    let time = player.time.get();
    let words = player.with(|attempt| {
        let shown = time.filter(|_| !player.running.get());
        moment_words(attempt, shown, units)
    });
    words.unwrap_or_else(|| "There is no shift: the rings jam or stand apart.".to_owned())
}
