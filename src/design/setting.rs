//! Where the rings stand to each other and how the shift is made.

use crate::fields::FieldId;
use crate::shift::{Drive, Travel};

/// The numbers that belong to neither ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What moves ring A along the shaft.
    pub drive: Drive,
    /// One number for each of [`Setting::FIELDS`], in that order.
    values: [f64; Setting::FIELDS.len()],
}

impl Default for Setting {
    fn default() -> Self {
        Self { drive: Drive::default(), values: Self::FIELDS.map(|id| id.spec().default) }
    }
}

impl Setting {
    /// The fields, in the order of the form.
    pub const FIELDS: [FieldId; 15] = [
        FieldId::Phase,
        FieldId::Overlap,
        FieldId::SlipSpeed,
        FieldId::HoldDepth,
        FieldId::ShiftForce,
        FieldId::MovingMass,
        FieldId::DrumSpeed,
        FieldId::StartSpeed,
        FieldId::TipFriction,
        FieldId::Inertia,
        FieldId::Drag,
        FieldId::StrikeLoss,
        FieldId::TimeAllowed,
        FieldId::RatioToWheel,
        FieldId::WheelDiameter,
    ];

    /// The number of one field; 0 for a field that is none of a setting.
    pub fn of(&self, id: FieldId) -> f64 {
        let at = Self::FIELDS.iter().position(|&field| field == id);
        at.map_or(0.0, |at| self.values[at])
    }

    /// The number of one field, to change it.
    pub fn field_mut(&mut self, id: FieldId) -> Option<&mut f64> {
        let at = Self::FIELDS.iter().position(|&field| field == id)?;
        Some(&mut self.values[at])
    }

    /// The travel along the shaft.
    pub fn travel(&self) -> Travel {
        Travel {
            drive: self.drive,
            force_n: self.of(FieldId::ShiftForce),
            mass_kg: self.of(FieldId::MovingMass),
            drum_speed_m_per_s: self.of(FieldId::DrumSpeed),
            start_speed_m_per_s: self.of(FieldId::StartSpeed),
        }
    }
}
