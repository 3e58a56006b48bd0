//! The cuts as a table for an ignition unit.

use crate::analysis::Analysis;
use crate::model::{CUT_SPEEDS, cut_shifts};
use crate::units::decimal;

/// The length of the cut in ms for each upshift at engine speeds up to that of the shift; empty where no cut does it.
pub fn cuts_csv(analysis: &Analysis) -> String {
    let mut lines = vec!["from_gear,to_gear,engine_rpm,cut_ms,not_longer_than_ms".to_owned()];
    for shift in cut_shifts(analysis) {
        for share in CUT_SPEEDS {
            let engine_rpm = share * shift.step.engine_rpm;
            let cut = shift.at(engine_rpm).ok();
            let ms = |s: Option<f64>| {
                s.filter(|s| s.is_finite()).map_or(String::new(), |s| decimal(s * 1000.0, 3))
            };
            lines.push(format!(
                "{},{},{},{},{}",
                shift.step.from + 1,
                shift.step.to + 1,
                decimal(engine_rpm, 3),
                ms(cut.map(|cut| cut.parts.sum())),
                ms(cut.map(|cut| cut.longest_s)),
            ));
        }
    }
    lines.into_iter().map(|line| line + "\r\n").collect()
}
