//! The cuts and blips as a table for an ignition unit.

use crate::model::{TIMED_SPEEDS, TimedShift};
use crate::units::decimal;

/// For each shift and engine speeds up to that of the shift: the length of the cut or the blip in ms, the length past
/// which the engine has gone too far, and the engine speed at which the new dogs meet; empty where none does it, as
/// where the length is past that.
pub fn cuts_csv(shifts: &[TimedShift]) -> String {
    let head = "from_gear,to_gear,engine_rpm,length_ms,not_longer_than_ms,in_at_engine_rpm";
    let mut lines = vec![head.to_owned()];
    for shift in shifts {
        lines.extend(TIMED_SPEEDS.map(|share| line(shift, share * shift.step.engine_rpm)));
    }
    lines.into_iter().map(|line| line + "\r\n").collect()
}

fn line(shift: &TimedShift, engine_rpm: f64) -> String {
    let timing = shift.at(engine_rpm).ok();
    let written = |number: Option<f64>| {
        number.filter(|n| n.is_finite()).map_or_else(String::new, |n| decimal(n, 3))
    };
    let ms = |seconds: Option<f64>| written(seconds.map(|s| s * 1000.0));
    [
        (shift.step.from + 1).to_string(),
        (shift.step.to + 1).to_string(),
        decimal(engine_rpm, 3),
        ms(timing.filter(|timing| !timing.is_too_long()).map(|timing| timing.parts.sum())),
        ms(timing.map(|timing| timing.longest_s)),
        written(timing.map(|timing| timing.engine_in_rpm)),
    ]
    .join(",")
}
