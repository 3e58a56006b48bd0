//! How far the times of a shift differ from one shift to the next: with the wait for the next firing, and with the
//! phase in which the new dogs meet.

use std::f64::consts::TAU;

use super::{Out, TimedShift, Timing};
use crate::shift::Attempt;
use crate::units::{quantile, rad_per_s};

/// The shares of shifts at which the times are told: not exceeded in 5, 50 and 95 %.
pub const SPREAD_SHARES: [f64; 3] = [0.05, 0.5, 0.95];

/// Waits for the next firing that are looked at, and phases of the new dogs.
const WAITS: u32 = 24;
const PHASES: u32 = 72;

/// Times that are not exceeded in [`SPREAD_SHARES`] of the shifts, s since the cut or the blip began.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Until the old dogs are out.
    pub out_s: [f64; 3],
    /// Until the tips of the new dogs are level.
    pub level_s: [f64; 3],
    /// Until the new dogs hold, of the shifts that go in at the first pass.
    pub in_s: [f64; 3],
}

impl Spread {
    pub(super) fn of(shift: &TimedShift, timing: &Timing) -> Self {
        let outs = shift.outs(timing.engine_rpm);
        let across_s = timing.parts.across_s;
        let level: Vec<_> = outs.iter().map(|out| out + across_s).collect();
        let slip = rad_per_s(timing.in_at_rpm);
        let rubs = shift.nears <= 0.0 && shift.manner.has_clutch();
        let meets = if rubs { shift.rub(slip).1 } else { shift.times_to_hold(slip) };
        let ready = level.iter().map(|level| level + timing.parts.wait_s);
        let is_in = ready.flat_map(|ready| meets.iter().map(move |meets| ready + meets)).collect();
        Self { out_s: shares_of(outs), level_s: shares_of(level), in_s: shares_of(is_in) }
    }
}

/// The values that are not exceeded in [`SPREAD_SHARES`] of all.
fn shares_of(mut all: Vec<f64>) -> [f64; 3] {
    all.sort_by(f64::total_cmp);
    SPREAD_SHARES.map(|share| quantile(&all, share).unwrap_or_default())
}

impl TimedShift {
    /// When the old dogs are out, s, over the waits for the next firing.
    fn outs(&self, engine_rpm: f64) -> Vec<f64> {
        let out = |at: u32| {
            let share = (f64::from(at) + 0.5) / f64::from(WAITS);
            let firing_s = self.firing_s(share, engine_rpm);
            let release = self.release(self.fork_s(firing_s));
            Out::of(&release).ok().map(|out| firing_s + out.time_s)
        };
        (0..WAITS).filter_map(out).collect()
    }

    /// How long the new dogs take from level tips until they hold, s, over the phases from which they go in at the
    /// first pass, the shortest first.
    pub(super) fn times_to_hold(&self, slip: f64) -> Vec<f64> {
        let is_in = |attempt: &Attempt| attempt.is_in() && attempt.strikes == 0;
        let mut times = self.tried(|phase| self.shifter.first_pass(phase, slip), is_in);
        if times.is_empty() {
            times.push(self.straight_s);
        }
        times.sort_by(f64::total_cmp);
        times
    }

    /// From where the new dogs hold to full depth, s: what an attempt has on top.
    fn to_full_s(&self) -> f64 {
        let [hold, full] = self.depths_mm;
        self.travel.seconds_to(full) - self.travel.seconds_to(hold)
    }

    /// The share of the phases from which the new dogs go in at last at a speed difference in rad/s, and how long each
    /// takes, s, the shortest first.
    pub(super) fn rub(&self, slip: f64) -> (f64, Vec<f64>) {
        let mut times = self.tried(|phase| self.shifter.attempt(phase, slip), Attempt::is_in);
        times.sort_by(f64::total_cmp);
        (times.len() as f64 / f64::from(PHASES), times)
    }

    fn tried(
        &self,
        attempt: impl Fn(f64) -> Attempt,
        is_in: impl Fn(&Attempt) -> bool,
    ) -> Vec<f64> {
        let phase = |at: u32| TAU * (f64::from(at) + 0.5) / f64::from(PHASES);
        let attempts = (0..PHASES).map(|at| attempt(phase(at)));
        let holds = |attempt: Attempt| (attempt.time_s - self.to_full_s()).max(self.straight_s);
        attempts.filter(is_in).map(holds).collect()
    }
}
