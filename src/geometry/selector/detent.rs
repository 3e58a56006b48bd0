//! The detent: a sprung roller in the star of the drum.

use libm::{atan, tan};

use crate::units::Angle;

/// The shape of the star, as the roller feels it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Star {
    /// Positions all round.
    pub positions: f64,
    /// From the drum's axis to where the roller rests on a flank, mm.
    pub radius_mm: f64,
    /// Width at the crest between two valleys on which the roller can rest, mm.
    pub crest_mm: f64,
    /// Whether friction holds the roller wherever it is left, so that it brings no drum home.
    pub holds: bool,
}

impl Star {
    /// Angle from valley to valley.
    pub fn step(&self) -> Angle {
        Angle::from_degrees(360.0 / self.positions)
    }

    /// How far to either side of the crest the roller can rest.
    pub fn stand(&self) -> Angle {
        Angle::from_radians(self.crest_mm / 2.0 / self.radius_mm)
    }
}

/// A roller that a spring pushes into the star.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Detent {
    /// Force of the spring at the roller, towards the drum's axis, N.
    pub force_n: f64,
    /// From the drum's axis to where the roller rests on a flank, mm.
    pub radius_mm: f64,
    /// Angle of the star's flanks from the circle about the axis.
    pub flank: Angle,
    /// Friction coefficient of the roller on the star and in its arm together.
    pub friction: f64,
}

impl Detent {
    fn torque(&self, angle: f64) -> f64 {
        self.force_n * self.radius_mm * tan(angle)
    }

    /// Torque that lifts the roller out of its valley, N·mm: `F·R·tan(α + ρ)` with `tan ρ = μ`, as of a
    /// wedge. `None` if friction holds it whatever the torque.
    pub fn hold_nmm(&self) -> Option<f64> {
        let angle = self.flank.radians() + atan(self.friction);
        (angle < std::f64::consts::FRAC_PI_2).then(|| self.torque(angle))
    }

    /// Whether friction holds the roller wherever it is left.
    pub fn holds(&self) -> bool {
        self.return_nmm() <= 0.0
    }

    /// Torque with which the roller turns the drum into its valley, N·mm: `F·R·tan(α − ρ)`; at 0 and
    /// below the roller stays where it is left.
    pub fn return_nmm(&self) -> f64 {
        self.torque(self.flank.radians() - atan(self.friction))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn friction_makes_it_harder_out_and_weaker_in() {
        let detent = |friction| Detent {
            force_n: 30.0,
            radius_mm: 18.0,
            flank: Angle::from_degrees(35.0),
            friction,
        };
        let smooth = detent(0.0);
        assert_eq!(smooth.hold_nmm(), Some(smooth.return_nmm()));
        let rough = detent(0.2);
        assert!(rough.hold_nmm() > smooth.hold_nmm() && rough.return_nmm() < smooth.return_nmm());
        assert!(detent(0.8).return_nmm() < 0.0);
        assert_eq!(Detent { flank: Angle::from_degrees(70.0), ..detent(0.8) }.hold_nmm(), None);
    }
}
