//! The steps to which suggested sizes are rounded.

use crate::units::{DisplayUnits, LengthUnit};

/// Units of a step in a millimetre. Steps are whole numbers of them, so that a size is exactly the number
/// shown.
const PER_MM: f64 = 10_000.0;

/// A size that is below a step by no more than this share of it counts as on it.
const ON_IT: f64 = 1e-6;

/// A step that a shop sets and measures to, in ten-thousandths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShopStep(u32);

impl ShopStep {
    /// Every step that can be chosen: 0.01, 0.02 and 0.05 mm; 0.0005, 0.001 and 0.002 in.
    pub const ALL: [Self; 6] = [Self(100), Self(200), Self(500), Self(127), Self(254), Self(508)];

    /// The usual step of a shop: 0.05 mm or two thousandths of an inch.
    pub const fn usual(units: DisplayUnits) -> Self {
        match units.length {
            LengthUnit::Millimetre => Self(500),
            LengthUnit::Inch => Self(508),
        }
    }

    /// The step of careful work in the same units: 0.01 mm or half a thousandth of an inch.
    pub const fn fine(self) -> Self {
        if self.0.is_multiple_of(127) { Self(127) } else { Self(100) }
    }

    /// Its length, mm.
    pub fn mm(self) -> f64 {
        self.times(1)
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

    /// The size rounded up to a step, mm.
    pub(super) fn up(self, mm: f64) -> f64 {
        let down = self.down(mm);
        if down < mm - 1e-9 { self.times(self.within(mm) + 1) } else { down }
    }
}
