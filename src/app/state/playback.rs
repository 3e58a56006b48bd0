//! Plays the shift of a design, or of several beside each other, in time: slowly, step by step, or held at one moment.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;

use crenel::model::Pose;
use crenel::shift::Attempt;
use crenel::units::{Angle, sort_by_number};

use crate::dom::now_ms;

/// Shifts being played from the same moment.
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
    /// How long what is played lasts: the shift of the design, those of the layouts that are compared, or a whole shift
    /// from one gear to another.
    pub(crate) reel: Signal<Reel>,
}

/// How long something lasts that can be played, and when something happens in it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Reel {
    /// How long, s; 0 where there is nothing to play.
    pub(crate) lasts_s: f64,
    /// What its first moment is called, s: 0, or less where it begins before that.
    pub(crate) from_s: f64,
    /// The times of its events in order, s.
    pub(crate) events: Vec<f64>,
}

impl Reel {
    /// Shifts that begin together: the start of each leg, and the end.
    pub(crate) fn of_shifts(shifted: &[Arc<Analysis>]) -> Self {
        let attempts = || shifted.iter().filter_map(|a| attempt(a));
        let mut events: Vec<f64> = attempts().flat_map(event_times).collect();
        sort_by_number(&mut events, |time| *time);
        events.dedup();
        Self { lasts_s: attempts().map(|a| a.time_s).fold(0.0, f64::max), from_s: 0.0, events }
    }
}

impl Player {
    pub(crate) fn new(reel: Signal<Reel>) -> Self {
        Self {
            time: RwSignal::new(None),
            filmed: RwSignal::new(false),
            running: RwSignal::new(false),
            slowed: RwSignal::new(100.0),
            reel,
        }
    }

    /// The position of the rings of a design at the moment shown. One that is in sooner than others stays so.
    pub(crate) fn pose(self, analysis: &Analysis) -> Option<Pose> {
        let shown = self.time.get().or_else(|| self.filmed.get().then_some(0.0))?;
        let attempt = attempt(analysis)?;
        let moment = attempt.at(shown.min(attempt.time_s))?;
        Some(Pose { phase: Angle::from_radians(moment.phase), overlap_mm: moment.overlap_mm })
    }

    /// Whether there is a shift to play.
    pub(crate) fn is_empty(self) -> bool {
        self.lasts() <= 0.0
    }

    /// How long it lasts, s.
    pub(crate) fn lasts(self) -> f64 {
        self.reel.with(|reel| reel.lasts_s)
    }

    /// What the moment that is shown is called, s.
    pub(crate) fn called_s(self) -> f64 {
        self.time.get().map_or(0.0, |time| time + self.reel.with(|reel| reel.from_s))
    }

    /// The times of the events in order.
    pub(crate) fn events(self) -> Vec<f64> {
        self.reel.with(|reel| reel.events.clone())
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

fn event_times(attempt: &Attempt) -> impl Iterator<Item = f64> {
    attempt.legs.iter().map(|leg| leg.start_s).chain([attempt.time_s])
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
