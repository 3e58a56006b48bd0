//! A plane angle.

use std::f64::consts::TAU;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A plane angle, held in radians; degrees at the boundaries.
///
/// ```
/// use crenel_geometry::units::Angle;
/// let a = Angle::from_degrees(370.0);
/// assert!((a.wrapped().degrees() - 10.0).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

/// From this angle on, less than a turn is not what is left of one.
const TWO_TURNS: f64 = 2.0 * TAU;

impl Angle {
    /// No turn at all.
    pub const ZERO: Self = Self(0.0);
    /// One full turn.
    pub const FULL: Self = Self(TAU);

    /// An angle from radians.
    pub const fn from_radians(radians: f64) -> Self {
        Self(radians)
    }

    /// An angle from degrees.
    pub const fn from_degrees(degrees: f64) -> Self {
        Self(degrees.to_radians())
    }

    /// The angle in radians, for formulas.
    pub const fn radians(self) -> f64 {
        self.0
    }

    /// The angle in degrees, for people.
    pub const fn degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// The same direction in `[0, 2π)`.
    pub fn wrapped(self) -> Self {
        // Most angles are within a turn or just past it, where the slow remainder would give the same bits.
        match self.0 {
            0.0..TAU => return self,
            TAU..TWO_TURNS => return Self(self.0 - TAU),
            _ => {}
        }
        let turned = self.0.rem_euclid(TAU);
        // `rem_euclid` rounds a tiny negative number up to the modulus itself.
        Self(if turned >= TAU { 0.0 } else { turned })
    }

    /// The same direction in `[−π, π)`: the short way round.
    pub fn signed(self) -> Self {
        let turned = self.wrapped().0;
        Self(if turned >= TAU / 2.0 { turned - TAU } else { turned })
    }

    /// Sine.
    pub fn sin(self) -> f64 {
        libm::sin(self.0)
    }

    /// Cosine.
    pub fn cos(self) -> f64 {
        libm::cos(self.0)
    }

    /// Tangent.
    pub fn tan(self) -> f64 {
        libm::tan(self.0)
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Angle {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapping_keeps_the_direction() {
        for degrees in [-720.0, -359.9, -180.0, -1e-18, 0.0, 179.0, 180.0, 360.0, 1e4] {
            let a = Angle::from_degrees(degrees);
            let (w, s) = (a.wrapped(), a.signed());
            assert!((0.0..TAU).contains(&w.radians()), "{degrees}");
            assert!((-TAU / 2.0..TAU / 2.0).contains(&s.radians()), "{degrees}");
            for same in [w, s] {
                assert!((same.sin() - a.sin()).abs() < 1e-11, "{degrees}");
                assert!((same.cos() - a.cos()).abs() < 1e-11, "{degrees}");
            }
        }
    }
}
