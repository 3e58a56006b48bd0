//! Where the rings stand to each other and how the shift is made.

use super::numbers::Numbers;
use crate::fields::FieldId;
use crate::load::Carried;
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

/// Which torque the strength of the dogs is worked out for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum LoadCase {
    /// The steady torque with the throttle open.
    #[default]
    Throttle,
    /// The largest of throttle, blow of the shift and clunk.
    Largest,
}

/// The numbers that belong to neither ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// What moves ring A along the shaft.
    pub drive: Drive,
    /// Which shift is offered.
    pub from: ShiftFrom,
    /// How the dogs that meet share the load.
    pub carried: Carried,
    /// Which torque they carry.
    pub case: LoadCase,
    pub(super) numbers: Numbers<42>,
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            drive: Drive::default(),
            from: ShiftFrom::default(),
            carried: Carried::default(),
            case: LoadCase::default(),
            numbers: Numbers::new(&Self::FIELDS),
        }
    }
}

impl Setting {
    /// The fields, in the order of files.
    pub const FIELDS: [FieldId; 42] = [
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
        FieldId::LoadFactor,
        FieldId::DogStiffness,
        FieldId::AllowedPressure,
        FieldId::AllowedShear,
        FieldId::AllowedStress,
        FieldId::FlankFriction,
        FieldId::SplineFriction,
        FieldId::SplineDiameter,
        FieldId::LappedFriction,
        FieldId::OverrunShare,
        FieldId::CaseDepth,
        FieldId::BalanceGrade,
        FieldId::BalanceSpeed,
        FieldId::CutWheelDiameter,
        FieldId::CutWheelSpeed,
        FieldId::CutWidth,
        FieldId::DividingRatio,
        FieldId::TableRatio,
        FieldId::WebInside,
        FieldId::WebOutside,
        FieldId::WebThickness,
        FieldId::WishedWindow,
        FieldId::WishedLash,
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
