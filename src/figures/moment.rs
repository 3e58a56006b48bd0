//! What happens at a moment of a shift, in words.

use crate::shift::{Attempt, Outcome};
use crate::units::{DisplayUnits, Quantity, rpm, with_capital};

/// What happens at a moment of an attempt, s, in words; how it ends where no moment is given.
pub fn moment_words(attempt: &Attempt, time_s: Option<f64>, units: DisplayUnits) -> String {
    let show = |quantity: Quantity, value: f64| quantity.show_result(value, units);
    let time = |seconds: f64| show(Quantity::Time, seconds * 1000.0);
    let end = || {
        let outcome = Outcome::from_attempt(attempt);
        let words = match attempt.strikes {
            0 => with_capital(outcome.words()),
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
