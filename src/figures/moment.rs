//! What happens at one time of a shift.

use crenel_words::{Message, Value, outcome as say};

use crate::shift::{Attempt, Leg, Outcome};
use crate::units::{Quantity, rpm};

/// What happens in an attempt at a time, s; without a time, how it ends.
pub fn moment_words(attempt: &Attempt, time_s: Option<f64>) -> Message {
    let Some((now, moment)) = time_s.zip(time_s.and_then(|t| attempt.at(t))) else {
        return ended(attempt);
    };
    // A slider stops a rounding step short of its end.
    if now >= attempt.time_s * (1.0 - 1e-6) {
        return say::at_the_end(time(now), ended(attempt));
    }
    let leg = &attempt.legs[moment.leg];
    let before = moment.leg.checked_sub(1).map(|at| &attempt.legs[at]);
    let thrown = before.is_some_and(|before| before.overlap_mm[1] > leg.overlap_mm[0] + 1e-9);
    let says = if thrown { say::at_after_strike } else { say::at };
    says(
        time(now),
        doing(leg),
        Value::Result(Quantity::Length, moment.overlap_mm),
        Value::Result(Quantity::Speed, rpm(moment.slip.abs())),
        moment.leg,
        attempt.legs.len(),
    )
}

fn time(seconds: f64) -> Value {
    Value::Result(Quantity::Time, seconds * 1000.0)
}

fn ended(attempt: &Attempt) -> Message {
    let outcome = Outcome::from_attempt(attempt);
    let after = time(attempt.time_s);
    match (attempt.strikes, outcome.is_in()) {
        (0, _) if outcome == Outcome::Ratcheting => say::not_in_after(after),
        (strikes, _) if outcome == Outcome::Ratcheting => {
            say::thrown_back_and_not_in_after(strikes as usize, after)
        }
        (0, _) => say::ended(say::shift(outcome), after),
        (strikes, true) => say::ended_in_after_strikes(strikes as usize, after),
        (strikes, false) => say::ended_after_strikes(strikes as usize, say::shift(outcome), after),
    }
}

/// What the rings do on a leg, as the sentences pick it.
fn doing(leg: &Leg) -> &'static str {
    if leg.overlap_mm[1] - leg.overlap_mm[0] > 1e-9 {
        if leg.slip == [0.0; 2] { "slides" } else { "falls" }
    } else if leg.overlap_mm[0] > 1e-9 {
        "lowered"
    } else {
        "tips"
    }
}
