//! What becomes of one shift, and of all of them.

use super::{Better, Figure, Group, Shown};
use crate::analysis::ShiftAnalysis;
use crate::shift::{Attempt, Leg, Outcome};
use crate::units::{DisplayUnits, Quantity, rpm};

impl Shown<'_> {
    pub(super) fn shift(&self) -> Vec<Figure> {
        let Some(shift) = &self.pair.shift else { return Vec::new() };
        let mut figures = self.one_shift(shift);
        figures.extend(self.shares(shift));
        figures
    }

    fn one_shift(&self, shift: &ShiftAnalysis) -> Vec<Figure> {
        let attempt = &shift.attempt;
        let figure = |key, label, quantity, value, better| Figure {
            key,
            group: Group::Shift,
            label,
            quantity,
            value: Some(value),
            words: None,
            absent: "none",
            better,
            formula: "event by event: falls with τ, rubs with dΔω/dt = −(μ·F·r + drag)/J",
            working: self.path(attempt),
            source: "Uniform acceleration between events; plain mechanics.",
        };
        let time = attempt.time_s * 1000.0;
        let slip = rpm(attempt.slip_left.abs());
        vec![
            Figure {
                value: None,
                words: Some(Outcome::of(attempt).words()),
                ..figure(
                    "shift_ending",
                    "From the phase as drawn",
                    Quantity::Count,
                    0.0,
                    Better::Neither,
                )
            },
            figure("shift_time_ms", "Time until then", Quantity::Time, time, Better::Less),
            figure(
                "shift_strikes",
                "Thrown back",
                Quantity::Count,
                f64::from(attempt.strikes),
                Better::Less,
            ),
            figure(
                "shift_slip_left_rpm",
                "Speed difference left",
                Quantity::Speed,
                slip,
                Better::Neither,
            ),
        ]
    }

    /// The path of an attempt in words, leg by leg.
    fn path(&self, attempt: &Attempt) -> String {
        const TOLD: usize = 8;
        let leg = |leg: &Leg| {
            let turned = self.deg((leg.phase[1] - leg.phase[0]).abs());
            let time = self.show(Quantity::Time, leg.lasts_s * 1000.0);
            if (leg.overlap_mm[1] - leg.overlap_mm[0]).abs() > 1e-9 {
                format!("falls to {} in {time} over {turned}", self.mm(leg.overlap_mm[1]))
            } else {
                format!("rubs at {} for {time} over {turned}", self.mm(leg.overlap_mm[0]))
            }
        };
        let legs: Vec<_> = attempt.legs.iter().take(TOLD).map(leg).collect();
        let more = attempt.legs.len().saturating_sub(TOLD);
        let tail = if more > 0 { format!("; and {more} more legs") } else { String::new() };
        legs.join("; ") + &tail
    }

    fn shares(&self, shift: &ShiftAnalysis) -> [Figure; 6] {
        let shares = &shift.shares;
        let slip = self.slip();
        let figure = |key, label, value, better| Figure {
            key,
            group: Group::Shift,
            label,
            quantity: Quantity::Share,
            value: Some(value),
            words: None,
            absent: "none",
            better,
            formula: "Σ widths of the spans of starting phases that come to it / 360°, ends solved event by event; first pass only",
            working: format!("the circle falls into spans of phases at {slip}: {}", shares.spans),
            source: "Every phase equally likely: common practice, no source.",
        };
        [
            figure(
                "first_pass_straight_share",
                "First pass: straight in",
                shares.straight_in,
                Better::More,
            ),
            figure(
                "first_pass_rubbed_share",
                "First pass: in after rubbing",
                shares.after_rubbing,
                Better::More,
            ),
            figure(
                "first_pass_struck_share",
                "First pass: thrown back",
                shares.struck,
                Better::Less,
            ),
            figure(
                "first_pass_locked_share",
                "First pass: hangs, tip on tip",
                shares.locked,
                Better::Less,
            ),
            figure("first_pass_half_in_share", "First pass: half in", shares.half_in, Better::Less),
            figure(
                "first_pass_ratcheting_share",
                "First pass: still ratcheting",
                shares.ratcheting,
                Better::Less,
            ),
        ]
    }
}

/// What happens at a moment of an attempt, s, in words; how it ends where no moment is given.
pub fn moment_words(attempt: &Attempt, time_s: Option<f64>, units: DisplayUnits) -> String {
    let show = |quantity: Quantity, value: f64| quantity.show_short(value, units);
    let time = |seconds: f64| show(Quantity::Time, seconds * 1000.0);
    let end = || {
        let outcome = Outcome::of(attempt);
        let words = match attempt.strikes {
            0 => capital(outcome.words()),
            strikes => {
                let times =
                    if strikes == 1 { "once".to_owned() } else { format!("{strikes} times") };
                let then = if outcome.is_in() { "in" } else { outcome.words() };
                format!("Thrown back {times}, then {then}")
            }
        };
        format!("{words} after {}", time(attempt.time_s))
    };
    let Some((now, moment)) = time_s.zip(time_s.and_then(|t| attempt.at(t))) else {
        return format!("{}.", end());
    };
    // A slider stops a rounding step short of its end.
    if now >= attempt.time_s * (1.0 - 1e-6) {
        return format!("{}: {}.", time(now), end());
    }
    let leg = &attempt.legs[moment.leg];
    let doing = if leg.overlap_mm[1] - leg.overlap_mm[0] > 1e-9 {
        if leg.slip == [0.0; 2] { "slides in along the flank" } else { "falls in" }
    } else if leg.overlap_mm[0] > 1e-9 {
        "rubs on top of a short dog"
    } else {
        "rubs tip on tip"
    };
    let before = moment.leg.checked_sub(1).map(|at| &attempt.legs[at]);
    let thrown = before.is_some_and(|before| before.overlap_mm[1] > leg.overlap_mm[0] + 1e-9);
    let doing = if thrown { format!("thrown back out, then {doing}") } else { doing.to_owned() };
    let slip = show(Quantity::Speed, rpm(moment.slip.abs()));
    let depth = show(Quantity::Length, moment.overlap_mm);
    format!(
        "{}: {doing}, overlap {depth}, speed difference {slip}. Event {} of {}.",
        time(now),
        moment.leg + 1,
        attempt.legs.len()
    )
}

fn capital(words: &str) -> String {
    words[..1].to_ascii_uppercase() + &words[1..]
}
