//! The steps to which suggested sizes are rounded.

use crate::units::{DisplayUnits, LengthUnit};

/// Units of a step in a millimetre. Steps are whole numbers of them, so that a size is exactly the number
/// shown.
const PER_MM: f64 = 10_000.0;

/// A size that is below a step by no more than this share of it counts as on it.
const ON_IT: f64 = 1e-6;

/// A step that a shop sets and measures to, in ten-thousandths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step(u32);

impl Step {
    /// The usual step of a shop: 0.05 mm or two thousandths of an inch.
    pub(super) const fn usual(units: DisplayUnits) -> Self {
        match units.length {
            LengthUnit::Millimetre => Self(500),
            LengthUnit::Inch => Self(508),
        }
    }

    /// The step of careful work: 0.01 mm or half a thousandth of an inch.
    pub(super) const fn fine(units: DisplayUnits) -> Self {
        match units.length {
            LengthUnit::Millimetre => Self(100),
            LengthUnit::Inch => Self(127),
        }
    }

    /// The length of `count` steps, mm.
    pub(super) fn times(self, count: u32) -> f64 {
        f64::from(count) * f64::from(self.0) / PER_MM
    }

    /// How many whole steps fit into a size, mm; 0 if it is not positive.
    pub(super) fn within(self, mm: f64) -> u32 {
        let steps = (mm * PER_MM / f64::from(self.0) + ON_IT).floor().clamp(0.0, 1e6);
        // Clamped to what fits; NaN becomes 0.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let steps = steps as u32;
        steps
    }

    /// The size rounded down to a step, mm.
    pub(super) fn down(self, mm: f64) -> f64 {
        self.times(self.within(mm))
    }
}
