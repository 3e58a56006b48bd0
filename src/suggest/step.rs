//! The steps of the sizes that are suggested.

use crate::units::{DisplayUnits, LengthUnit};

/// Steps in a millimetre of the numbers below: whole ones make sizes that are the number that is shown,
/// to the last digit.
const PER_MM: f64 = 10_000.0;

/// How near a size may come below a step and count as on it, as a share of the step.
const ON_IT: f64 = 1e-6;

/// A step that a shop sets and measures to, in ten-thousandths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step(u32);

impl Step {
    /// What a shop works to: 0.05 mm or two thousandths of an inch.
    pub(super) const fn usual(units: DisplayUnits) -> Self {
        match units.length {
            LengthUnit::Millimetre => Self(500),
            LengthUnit::Inch => Self(508),
        }
    }

    /// What takes care: 0.01 mm or half a thousandth of an inch.
    pub(super) const fn fine(units: DisplayUnits) -> Self {
        match units.length {
            LengthUnit::Millimetre => Self(100),
            LengthUnit::Inch => Self(127),
        }
    }

    /// So many steps, mm.
    pub(super) fn times(self, count: u32) -> f64 {
        f64::from(count) * f64::from(self.0) / PER_MM
    }

    /// How many whole steps fit into a size; none into one that is not above 0.
    pub(super) fn within(self, mm: f64) -> u32 {
        let steps = (mm * PER_MM / f64::from(self.0) + ON_IT).floor().clamp(0.0, 1e6);
        // Clamped to what fits; NaN becomes 0.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let steps = steps as u32;
        steps
    }

    /// The next size on a step that is not above this one, mm.
    pub(super) fn down(self, mm: f64) -> f64 {
        self.times(self.within(mm))
    }
}
