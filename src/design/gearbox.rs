//! The gearbox as the user gives it: tooth counts, shift speeds and the inertias on both shafts.

use super::numbers::{numbered, place};
use crate::fields::FieldId;
use crate::shift::{self, Shaft};

/// Most gears a gearbox can have.
pub const MOST_GEARS: usize = 8;

/// Whether the clutch joins the engine to the input shaft while the gear is shifted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Clutch {
    /// Open (lever pulled): the engine turns by itself.
    #[default]
    Pulled,
    /// Closed: the engine has to change its speed too.
    Gripping,
}

/// A gearbox with its gears, first gear first.
#[derive(Clone, Debug, PartialEq)]
pub struct GearboxSpec {
    /// The state of the clutch during a shift.
    pub clutch: Clutch,
    /// The gears, first gear first.
    pub gears: Vec<GearSpec>,
    numbers: [f64; GearboxField::COUNT],
}

/// One pair of gears, of which one turns freely on its shaft until its dogs are in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearSpec {
    /// The shaft on which the free gear sits.
    pub free_on: Shaft,
    numbers: [f64; GearField::COUNT],
}

impl Default for GearboxSpec {
    /// Five gears with invented tooth counts and a wide first step.
    fn default() -> Self {
        let teeth = [(12.0, 35.0), (16.0, 28.0), (20.0, 27.0), (25.0, 28.0), (27.0, 26.0)];
        let gears = teeth.map(|(driving, driven)| GearSpec::with_teeth(driving, driven)).to_vec();
        Self { clutch: Clutch::default(), gears, numbers: GearboxField::defaults() }
    }
}

numbered!(
    GearboxField of GearboxSpec:
    PrimaryDriving, PrimaryDriven, FinalDriving, FinalDriven, EngineTorque, EngineInertia,
    InputInertia, OutputInertia, VehicleMass
);

impl GearboxSpec {
    /// A gearbox with these gears and defaults for the rest.
    pub fn with_gears(gears: Vec<GearSpec>) -> Self {
        Self { gears, ..Self::default() }
    }

    /// Adds a gear at the top, like the one below it.
    pub fn add_gear(&mut self) {
        if self.gears.len() < MOST_GEARS {
            self.gears.push(self.gears.last().copied().unwrap_or_default());
        }
    }

    /// The ratios and inertias. The diameter of the wheel is in mm.
    pub fn working(&self, wheel_diameter_mm: f64) -> shift::Gearbox {
        let of = |id| self.get(id);
        let grip = if self.clutch == Clutch::Gripping { 1.0 } else { 0.0 };
        let primary = of(GearboxField::PrimaryDriven) / of(GearboxField::PrimaryDriving);
        let wheel_radius_m = wheel_diameter_mm / 2000.0;
        shift::Gearbox {
            primary,
            last: of(GearboxField::FinalDriven) / of(GearboxField::FinalDriving),
            gears: self.gears.iter().map(GearSpec::working).collect(),
            input_kg_m2: of(GearboxField::InputInertia)
                + grip * of(GearboxField::EngineInertia) * primary * primary,
            output_kg_m2: of(GearboxField::OutputInertia),
            wheel_kg_m2: of(GearboxField::VehicleMass) * wheel_radius_m * wheel_radius_m,
        }
    }
}

impl Default for GearSpec {
    fn default() -> Self {
        Self::on(Shaft::default())
    }
}

numbered!(GearField of GearSpec: GearDriving, GearDriven, UpAt, DownAt);

impl GearSpec {
    /// A gear whose free gear sits on this shaft, with defaults for the rest.
    pub fn on(free_on: Shaft) -> Self {
        Self { free_on, numbers: GearField::defaults() }
    }

    fn with_teeth(driving: f64, driven: f64) -> Self {
        let mut gear = Self::default();
        gear.set(GearField::GearDriving, driving);
        gear.set(GearField::GearDriven, driven);
        gear
    }

    fn working(&self) -> shift::Gear {
        let of = |id| self.get(id);
        shift::Gear {
            ratio: of(GearField::GearDriven) / of(GearField::GearDriving),
            free_on: self.free_on,
            up_at_rpm: of(GearField::UpAt),
            down_at_rpm: of(GearField::DownAt),
        }
    }
}
