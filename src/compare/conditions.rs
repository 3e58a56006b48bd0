//! The conditions that all layouts of a comparison have in common.

use crenel_words::{Message, Value, compare as say};

use super::comparison::Comparison;
use crate::analysis::Analysis;
use crate::design::{Need, SettingField};

/// The numbers that are told, beside the speed difference.
const CONDITIONS: [SettingField; 7] = [
    SettingField::Overlap,
    SettingField::HoldDepth,
    SettingField::ShiftForce,
    SettingField::MovingMass,
    SettingField::DrumSpeed,
    SettingField::TipFriction,
    SettingField::Inertia,
];

impl Comparison {
    /// The conditions under which the layouts are shifted, and what is held: a sentence each. The speed difference is
    /// left out where nobody knows it.
    pub fn conditions(&self) -> Vec<Message> {
        let Some(first) = self.columns.first() else { return Vec::new() };
        let own = conditions(&first.analysis).into_iter();
        own.chain([self.normalized.clone()]).collect()
    }
}

/// The conditions under which a design is shifted: a sentence each. The speed difference is left out where nobody knows
/// it.
pub fn conditions(analysis: &Analysis) -> Vec<Message> {
    let design = &analysis.design;
    let known = design.missing(Need::Speed).is_none();
    let pair = analysis.pair.as_ref().filter(|_| known);
    let speed = pair.map(|pair| say::at_speed_difference(pair.shift_case.slip_rpm.abs()));
    let given = CONDITIONS.map(|field| {
        let spec = field.id().spec();
        say::condition(spec.name(), Value::Number(spec.quantity, design.setting.get(field)))
    });
    speed.into_iter().chain(given).collect()
}
