//! The position of the rings to each other, and how the shift is made.

use super::numbers::{numbered, place};
use crate::fields::FieldId;
use crate::load::Carried;
use crate::shift::{Drive, Travel};

/// The source of speed difference, inertia and ratio of the shift.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ShiftFrom {
    /// From the numbers typed for them.
    #[default]
    Typed,
    /// From the gearbox: the upshift into the gear of the dogs.
    Up,
    /// From the gearbox: the down-shift into that gear.
    Down,
}

/// The torque for which the strength of the dogs is worked out.
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
    /// The source of the shift.
    pub from: ShiftFrom,
    /// How the dogs that meet share the load.
    pub carried: Carried,
    /// The torque that the dogs carry.
    pub case: LoadCase,
    pub(super) numbers: [f64; SettingField::COUNT],
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            drive: Drive::default(),
            from: ShiftFrom::default(),
            carried: Carried::default(),
            case: LoadCase::default(),
            numbers: SettingField::defaults(),
        }
    }
}

numbered!(
    SettingField of Setting:
    Phase,
    Overlap,
    SlipSpeed,
    HoldDepth,
    ShiftForce,
    MovingMass,
    DrumSpeed,
    StartSpeed,
    TipFriction,
    Inertia,
    Drag,
    StrikeLoss,
    TimeAllowed,
    RatioToWheel,
    WheelDiameter,
    Gear,
    ShiftTorque,
    ThrottleTorque,
    Stiffness,
    LoadFactor,
    DogStiffness,
    AllowedPressure,
    AllowedShear,
    AllowedStress,
    FlankFriction,
    SplineFriction,
    SplineDiameter,
    LappedFriction,
    OverrunShare,
    CutShare,
    Cylinders,
    CutDelay,
    NeutralTravel,
    DrivelineDamping,
    TorqueFall,
    BlipShare,
    EdgeWear,
    CarrierInertia,
    FreeGearInertia,
    WheelInertia,
    MeshLash,
    ShaftStiffness,
    ChainStiffness,
    ChainSlack,
    ChainSag,
    ChainRun,
    CushStiffness,
    CushTravel,
    CushDamping,
    TyreFriction,
    RearLoad,
    ClutchSlip,
    ClutchTime,
    ClutchDrag,
    ThrottleTime,
    LongestFiring,
    FootSpeed,
    SensorTravel,
    IdleSpeed,
    RollTravel,
    CaseDepth,
    BalanceGrade,
    BalanceSpeed,
    CutWheelDiameter,
    CutWheelSpeed,
    CutWidth,
    DividingRatio,
    TableRatio,
    WebInside,
    WebOutside,
    WebThickness,
    WishedWindow,
    WishedLash,
);

impl Setting {
    /// The travel along the shaft.
    pub fn travel(&self) -> Travel {
        Travel {
            drive: self.drive,
            force_n: self.get(SettingField::ShiftForce),
            mass_kg: self.get(SettingField::MovingMass),
            drum_speed_m_per_s: self.get(SettingField::DrumSpeed),
            start_speed_m_per_s: self.get(SettingField::StartSpeed),
        }
    }
}
