//! Plays the shift of the design in time: slowly, step by step, or held at one moment.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;

use crenel::model::Pose;
use crenel::shift::Attempt;
use crenel::units::Angle;

use crate::dom::now_ms;

/// A shift being played.
#[derive(Clone, Copy)]
pub(crate) struct Player {
    /// Time since tip level, s; `None` while nothing is played.
    pub(crate) time: RwSignal<Option<f64>>,
    /// Whether the film is on the screen. Its drawings then begin at the start of the shift, with the tips level,
    /// and not as deep as the design is drawn.
    pub(crate) filmed: RwSignal<bool>,
    pub(crate) running: RwSignal<bool>,
    /// How many times slower than life it is played.
    pub(crate) slowed: RwSignal<f64>,
    pub(crate) drawn: Memo<Arc<Analysis>>,
    /// The position of the rings at the moment shown.
    pub(crate) pose: Memo<Option<Pose>>,
}

impl Player {
    pub(crate) fn new(drawn: Memo<Arc<Analysis>>) -> Self {
        let (time, filmed) = (RwSignal::new(None), RwSignal::new(false));
        let pose = Memo::new(move |_| {
            let shown = time.get().or_else(|| filmed.get().then_some(0.0))?;
            let moment = drawn.with(|a| attempt(a)?.at(shown))?;
            let phase = Angle::from_radians(moment.phase);
            Some(Pose { phase, overlap_mm: moment.overlap_mm })
        });
        let running = RwSignal::new(false);
        Self { time, filmed, running, slowed: RwSignal::new(100.0), drawn, pose }
    }

    pub(crate) fn with<T>(self, read: impl FnOnce(&Attempt) -> T) -> Option<T> {
        self.drawn.with(|a| attempt(a).map(read))
    }

    pub(crate) fn lasts(self) -> f64 {
        self.with(|a| a.time_s).unwrap_or_default()
    }

    /// The times of the events: the start of each leg, and the end.
    pub(crate) fn events(self) -> Vec<f64> {
        self.with(event_times).unwrap_or_default()
    }

    /// Nothing is played any more: a film is at its start again.
    pub(crate) fn stop(self) {
        self.running.set(false);
        self.time.set(None);
    }

    pub(crate) fn show(self, time_s: f64) {
        self.time.set(Some(time_s.clamp(0.0, self.lasts())));
    }

    /// To the next event, or to the one before.
    pub(crate) fn step(self, on: bool) {
        const HERE: f64 = 1e-9;
        self.running.set(false);
        let now = self.time.get_untracked();
        let events = || self.events().into_iter();
        let next = match now {
            None => Some(0.0),
            Some(now) if on => events().find(|t| *t > now + HERE),
            Some(now) => events().rev().find(|t| *t < now - HERE),
        };
        if let Some(next) = next {
            self.show(next);
        }
    }

    pub(crate) fn play(self) {
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
    analysis.shift().map(|shifting| &shifting.attempt)
}

fn event_times(attempt: &Attempt) -> Vec<f64> {
    attempt.legs.iter().map(|leg| leg.start_s).chain([attempt.time_s]).collect()
}

/// Shows frame after frame until the shift is over or stopped.
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
