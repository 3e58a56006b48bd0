//! The shift of a design: typed by hand, or one of the gearbox.

use crate::design::{Design, GearboxSpec, SettingField, ShiftFrom};
use crate::fields::FieldId;
use crate::shift::{Blow, Gearbox as Ratios, Sides, Step};
use crate::units::rad_per_s;

/// Speeds, inertias and torques about the dogs in one shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShiftCase {
    /// Speed of the input side less that of the output side, rpm.
    pub slip_rpm: f64,
    /// The two sides. A typed inertia is that of the input side; the output side is then taken to be so
    /// heavy that it keeps its speed.
    pub sides: Sides,
    /// Turns of the shaft that carries the dogs for one turn of the wheel.
    pub ratio_to_wheel: f64,
    /// Torque at the dogs when the throttle is opened, N·m.
    pub throttle_nm: f64,
    /// The step of the gearbox, if the shift is one.
    pub step: Option<Step>,
}

impl ShiftCase {
    /// The shift of a design. If the gearbox does not have the step that is chosen, the typed numbers are
    /// used; a finding says so.
    pub fn of(design: &Design) -> Self {
        let from_gearbox = || {
            let (gearbox, way) = (design.gearbox.as_ref()?, design.way()?);
            let ratios = ratios(design)?;
            Self::of_step(gearbox, &ratios, ratios.step(design.gear()?, way)?)
        };
        from_gearbox().unwrap_or_else(|| {
            let of = |field| design.setting.get(field);
            Self {
                slip_rpm: of(SettingField::SlipSpeed),
                sides: Sides {
                    input_kg_m2: of(SettingField::Inertia),
                    output_kg_m2: f64::INFINITY,
                },
                ratio_to_wheel: of(SettingField::RatioToWheel),
                throttle_nm: of(SettingField::ThrottleTorque),
                step: None,
            }
        })
    }

    /// One shift of a gearbox.
    pub fn of_step(gearbox: &GearboxSpec, ratios: &Ratios, step: Step) -> Option<Self> {
        let engine_nm = gearbox.field(FieldId::EngineTorque).unwrap_or_default();
        Some(Self {
            slip_rpm: step.slip_rpm,
            sides: ratios.sides(step.to)?,
            ratio_to_wheel: ratios.ratio_to_wheel(step.to)?,
            throttle_nm: ratios.at_dogs_nm(step.to, engine_nm)?,
            step: Some(step),
        })
    }

    /// The design with the same shift typed by hand, so that each number of it can be another. What has to change
    /// speed is then the reduced inertia, against a side that keeps its speed.
    #[must_use]
    pub fn typed(design: &Design) -> Design {
        let case = Self::of(design);
        let mut design = design.clone();
        let setting = &mut design.setting;
        setting.from = ShiftFrom::Typed;
        setting.set(SettingField::SlipSpeed, case.slip_rpm);
        setting.set(SettingField::Inertia, case.sides.reduced_kg_m2());
        setting.set(SettingField::RatioToWheel, case.ratio_to_wheel);
        setting.set(SettingField::ThrottleTorque, case.throttle_nm);
        design
    }

    /// Speed difference in rad/s, with its sign.
    pub fn slip(&self) -> f64 {
        rad_per_s(self.slip_rpm)
    }

    /// The blow of the shift.
    pub fn blow(&self, design: &Design) -> Blow {
        Blow {
            input_kg_m2: self.sides.input_kg_m2,
            output_kg_m2: self.sides.output_kg_m2,
            stiffness_nm_per_rad: design.setting.get(SettingField::Stiffness),
            // A torque that pushes with the slip adds to the blow; one against it takes away.
            input_nm: design.setting.get(SettingField::ShiftTorque) * self.slip_rpm.signum(),
            output_nm: 0.0,
        }
    }

    /// The blow when the throttle is opened or shut and then pushes with a steady torque, N·m.
    pub fn clunk(&self, design: &Design, steady_nm: f64) -> Blow {
        Blow { input_nm: steady_nm, ..self.blow(design) }
    }
}

/// The working ratios of a design's gearbox.
pub(super) fn ratios(design: &Design) -> Option<Ratios> {
    let wheel = design.setting.get(SettingField::WheelDiameter);
    design.gearbox.as_ref().map(|gearbox| gearbox.working(wheel))
}
