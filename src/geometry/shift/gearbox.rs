//! The gearbox around a pair of dogs: how fast they meet, and the inertias behind them.

use std::f64::consts::TAU;

use crate::ring::FlankSide;

/// One of the two shafts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Shaft {
    /// The shaft that the clutch drives.
    Input,
    /// The shaft that drives the wheel.
    #[default]
    Output,
}

/// Up to a longer gear or down to a shorter one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Way {
    /// From the gear below.
    Up,
    /// From the gear above.
    Down,
}

/// A gear as a ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gear {
    /// Turns of the input shaft for one turn of the output shaft.
    pub ratio: f64,
    /// The shaft on which the free gear, and so the dogs, sit.
    pub free_on: Shaft,
    /// Engine speed at which the rider shifts up out of it, rpm.
    pub up_at_rpm: f64,
    /// Engine speed at which the rider shifts down out of it, rpm.
    pub down_at_rpm: f64,
}

/// Ratios and inertias from the engine to the road.
#[derive(Clone, Debug, PartialEq)]
pub struct Gearbox {
    /// Turns of the engine for one turn of the input shaft.
    pub primary: f64,
    /// Turns of the output shaft for one turn of the wheel.
    pub last: f64,
    /// The gears, first gear first.
    pub gears: Vec<Gear>,
    /// Inertia of everything that turns with the input shaft, at its speed, kg·m². It includes the engine
    /// if the clutch is closed.
    pub input_kg_m2: f64,
    /// Inertia of everything that turns with the output shaft, kg·m².
    pub output_kg_m2: f64,
    /// Machine and rider as felt at the wheel: `m·r²`, kg·m².
    pub wheel_kg_m2: f64,
}

/// One shift of the gearbox.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The gear it comes from, first gear is 0.
    pub from: usize,
    /// The gear it goes into.
    pub to: usize,
    /// Up or down.
    pub way: Way,
    /// Engine speed when the old gear is released, rpm.
    pub engine_rpm: f64,
    /// Speed of the output side of the dogs, which the road holds through the shift, rpm.
    pub dogs_rpm: f64,
    /// Speed of the input side of the dogs less that of the output side, rpm. Plus is an input
    /// side that is too fast.
    pub slip_rpm: f64,
}

impl Step {
    /// The gears that it leaves and enters, counted from 1: `1→2`.
    pub fn gears(&self) -> String {
        format!("{}→{}", self.from + 1, self.to + 1)
    }
}

/// The inertias on the two sides of a pair of dogs, referred to the shaft they sit on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sides {
    /// Input side, kg·m².
    pub input_kg_m2: f64,
    /// Output side with the machine, kg·m².
    pub output_kg_m2: f64,
}

/// The flank that meets first at a speed difference: drive flank on drive flank for plus, as under power,
/// and coast on coast for minus.
pub fn flank_met(slip_rpm: f64) -> FlankSide {
    if slip_rpm < 0.0 { FlankSide::Coast } else { FlankSide::Drive }
}

/// The sign of the change of the phase of ring A at a speed difference: −1 if the phase decreases.
///
/// Both rings are described from their own dog side with the drive flank clockwise, so a faster
/// input side turns the phase back, whichever of the rings is on it.
pub fn phase_sense(slip_rpm: f64) -> f64 {
    flank_met(slip_rpm).sign()
}

impl Gearbox {
    /// Every shift from a gear to its neighbour, up first.
    pub fn steps(&self) -> Vec<Step> {
        let into = |way| (0..self.gears.len()).filter_map(move |to| self.step(to, way));
        into(Way::Up).chain(into(Way::Down)).collect()
    }

    /// The shift into a gear from its neighbour; `None` if there is none.
    ///
    /// The road holds the output shaft: dogs on it meet at `Δn = n_out·(i1/i2 − 1)`, dogs on the
    /// input shaft at `Δn = n_out·(i1 − i2)`.
    pub fn step(&self, to: usize, way: Way) -> Option<Step> {
        let from = match way {
            Way::Up => to.checked_sub(1)?,
            Way::Down => to.checked_add(1)?,
        };
        let (old, new) = (self.gears.get(from)?, self.gears.get(to)?);
        let engine_rpm = if way == Way::Up { old.up_at_rpm } else { old.down_at_rpm };
        let output_rpm = engine_rpm / self.primary / old.ratio;
        let (dogs_rpm, slip_rpm) = match new.free_on {
            Shaft::Output => (output_rpm, output_rpm * (old.ratio / new.ratio - 1.0)),
            Shaft::Input => (output_rpm * new.ratio, output_rpm * (old.ratio - new.ratio)),
        };
        Some(Step { from, to, way, engine_rpm, dogs_rpm, slip_rpm })
    }

    /// The inertias on both sides of the dogs of a gear, referred to the shaft of the dogs by the square
    /// of the ratio in between.
    pub fn sides(&self, gear: usize) -> Option<Sides> {
        let gear = self.gears.get(gear)?;
        let square = gear.ratio * gear.ratio;
        let output = self.output_kg_m2 + self.wheel_kg_m2 / (self.last * self.last);
        Some(match gear.free_on {
            Shaft::Output => Sides { input_kg_m2: self.input_kg_m2 * square, output_kg_m2: output },
            Shaft::Input => Sides { input_kg_m2: self.input_kg_m2, output_kg_m2: output / square },
        })
    }

    /// Turns of the shaft that carries the dogs of a gear for one turn of the wheel.
    pub fn ratio_to_wheel(&self, gear: usize) -> Option<f64> {
        let gear = self.gears.get(gear)?;
        Some(match gear.free_on {
            Shaft::Output => self.last,
            Shaft::Input => self.last * gear.ratio,
        })
    }

    /// The torque of the engine at the dogs of a gear, N·m.
    pub fn at_dogs_nm(&self, gear: usize, engine_nm: f64) -> Option<f64> {
        let gear = self.gears.get(gear)?;
        Some(match gear.free_on {
            Shaft::Output => engine_nm * self.primary * gear.ratio,
            Shaft::Input => engine_nm * self.primary,
        })
    }
}

impl Sides {
    /// The reduced inertia, on which the slip acts: `J1·J2/(J1 + J2)`, kg·m².
    pub fn reduced_kg_m2(&self) -> f64 {
        1.0 / (1.0 / self.input_kg_m2 + 1.0 / self.output_kg_m2)
    }
}

/// Inertia of a plain disc about its axis, `m·D²/8`, kg·m²; an estimate for parts whose inertia
/// cannot be measured.
pub fn disc_kg_m2(mass_kg: f64, diameter_mm: f64) -> f64 {
    let metres = diameter_mm / 1000.0;
    mass_kg * metres * metres / 8.0
}

/// Torsional stiffness of a plain round steel shaft, `G·π·d⁴/(32·l)` with G 80 GPa, N·m/rad.
pub fn shaft_nm_per_rad(diameter_mm: f64, length_mm: f64) -> f64 {
    const SHEAR_MODULUS_PA: f64 = 80e9;
    let (d, l) = (diameter_mm / 1000.0, length_mm / 1000.0);
    SHEAR_MODULUS_PA * (TAU / 2.0) * d * d * d * d / (32.0 * l)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rings_at_one_speed_meet_as_under_power() {
        assert_eq!(
            [-1.0, 0.0, 1.0].map(flank_met),
            [FlankSide::Coast, FlankSide::Drive, FlankSide::Drive]
        );
    }

    fn two_gears(free_on: Shaft) -> Gearbox {
        let gear = |ratio| Gear { ratio, free_on, up_at_rpm: 12_000.0, down_at_rpm: 6_000.0 };
        Gearbox {
            primary: 2.0,
            last: 3.0,
            gears: vec![gear(2.6), gear(1.9)],
            input_kg_m2: 1e-3,
            output_kg_m2: 2e-3,
            wheel_kg_m2: 18.0,
        }
    }

    #[test]
    fn an_up_shift_meets_on_the_drive_flank_and_a_down_shift_on_the_coast_flank() {
        for shaft in [Shaft::Input, Shaft::Output] {
            let slips = two_gears(shaft).steps();
            let flanks: Vec<_> = slips.iter().map(|s| flank_met(s.slip_rpm)).collect();
            assert_eq!(flanks, [FlankSide::Drive, FlankSide::Coast], "{shaft:?}");
        }
        assert_eq!((phase_sense(1.0), phase_sense(-1.0)), (-1.0, 1.0));
    }

    #[test]
    fn both_shafts_feel_the_same_energy() {
        // ½JΔω² is the same whichever shaft it is referred to.
        let energy = |shaft| {
            let gearbox = two_gears(shaft);
            let slip = gearbox.step(1, Way::Up).expect("there is a step").slip_rpm;
            gearbox.sides(1).expect("there is a gear").reduced_kg_m2() * slip * slip
        };
        let (input, output) = (energy(Shaft::Input), energy(Shaft::Output));
        assert!((input / output - 1.0).abs() < 1e-12, "{input} {output}");
    }

    #[test]
    fn there_is_no_shift_past_the_ends() {
        let gearbox = two_gears(Shaft::Output);
        assert_eq!(gearbox.step(0, Way::Up), None);
        assert_eq!(gearbox.step(1, Way::Down), None);
        assert_eq!(gearbox.steps().len(), 2);
    }
}
