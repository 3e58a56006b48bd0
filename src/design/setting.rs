//! Where the rings stand to each other and how the shift is made.

use super::numbers::Numbers;
use crate::fields::FieldId;
use crate::shift::{Drive, Travel};

/// Where speed difference, inertia and ratio of the shift come from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ShiftFrom {
    /// From the numbers typed for them.
    #[default]
    Typed,
    /// From the gearbox: the up-shift into the gear of the dogs.
    Up,
    /// From the gearbox: the down-shift into it.
    Down,
}

/// The numbers that belong to neither ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// What moves ring A along the shaft.
    pub drive: Drive,
    /// Which shift is offered.
    pub from: ShiftFrom,
    pub(super) numbers: Numbers<19>,
}

impl Default for Setting {
    fn default() -> Self {
        let (drive, from) = (Drive::default(), ShiftFrom::default());
        Self { drive, from, numbers: Numbers::new(&Self::FIELDS) }
    }
}

impl Setting {
    /// The fields, in the order of files.
    pub const FIELDS: [FieldId; 19] = [
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
        FieldId::Gear,
        FieldId::ShiftTorque,
        FieldId::ThrottleTorque,
        FieldId::Stiffness,
    ];

    /// The number of one field; 0 for a field that is none of a setting.
    pub fn of(&self, id: FieldId) -> f64 {
        self.numbers.get(id).unwrap_or_default()
    }

    /// The number of one field, to change it.
    pub fn field_mut(&mut self, id: FieldId) -> Option<&mut f64> {
        self.numbers.get_mut(id)
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
