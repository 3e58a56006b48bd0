//! The steps to which suggested sizes are rounded.

use crate::ring::{PlanForm, Ring};
use crate::units::{Angle, DisplayUnits, LengthUnit};

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

/// What a flank is moved in by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FlankStep {
    /// The step of lengths, measured at the mean diameter.
    #[default]
    Length,
    /// So many minutes of arc, as on a rotary table.
    Minutes(u16),
    /// One hole of a circle, on a dividing head.
    Hole {
        /// Holes of the circle.
        circle: u16,
        /// Turns of the crank for one turn of the work.
        ratio: u16,
    },
}

impl FlankStep {
    /// Steps on a rotary table that can be chosen.
    pub const ON_TABLE: [Self; 4] =
        [Self::Minutes(1), Self::Minutes(2), Self::Minutes(5), Self::Minutes(10)];

    /// Its angle; `None` for a length.
    ///
    /// ```
    /// use crenel::suggest::FlankStep;
    /// let hole = FlankStep::Hole { circle: 20, ratio: 40 };
    /// assert_eq!(hole.angle().map(|angle| angle.degrees() * 60.0), Some(27.0));
    /// ```
    pub fn angle(self) -> Option<Angle> {
        match self {
            Self::Length => None,
            Self::Minutes(minutes) => Some(Angle::from_degrees(f64::from(minutes) / 60.0)),
            Self::Hole { circle, ratio } => {
                Some(Angle::FULL * (1.0 / (f64::from(circle) * f64::from(ratio))))
            }
        }
    }
}

/// The steps that a search works in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Steps {
    /// Of heights, edge breaks, and of flanks that are set by length.
    pub(super) length: ShopStep,
    /// Of radial flanks.
    pub(super) flank: FlankStep,
}

impl Steps {
    /// The same with finer lengths.
    pub(super) const fn fine(self) -> Self {
        Self { length: self.length.fine(), ..self }
    }

    /// One step of a flank of a ring at its mean radius, mm. The flanks of parallel dogs lie beside the shaft
    /// axis: turning the work does not move them straight in.
    fn flank_mm(self, ring: &Ring) -> f64 {
        match self.flank.angle().filter(|_| ring.form == PlanForm::Radial) {
            Some(angle) => angle.radians() * ring.mean_radius_mm(),
            None => self.length.mm(),
        }
    }

    /// What comes off a flank by so many steps, mm, to the digits that are shown.
    pub(super) fn stock_mm(self, ring: &Ring, count: u32) -> f64 {
        (f64::from(count) * self.flank_mm(ring) * PER_MM - ON_IT).ceil() / PER_MM
    }

    /// How many steps of a flank fit into a length, mm.
    pub(super) fn stock_within(self, ring: &Ring, mm: f64) -> u32 {
        let steps = (mm / self.flank_mm(ring) + ON_IT).floor().clamp(0.0, 1e6);
        // Clamped to what fits; NaN becomes 0.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let mut steps = steps as u32;
        while steps > 0 && self.stock_mm(ring, steps) > mm + ON_IT {
            steps -= 1;
        }
        steps
    }

    /// What comes off a flank by as many steps as fit into a length, mm.
    pub(super) fn stock_down(self, ring: &Ring, mm: f64) -> f64 {
        self.stock_mm(ring, self.stock_within(ring, mm))
    }

    /// What comes off a flank by as many steps as a length needs, mm.
    pub(super) fn stock_up(self, ring: &Ring, mm: f64) -> f64 {
        let within = self.stock_within(ring, mm);
        let down = self.stock_mm(ring, within);
        if down < mm - 1e-9 { self.stock_mm(ring, within + 1) } else { down }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Design;

    #[test]
    fn flanks_move_by_whole_minutes_and_holes() {
        let ring = Design::default().a.to_found();
        let of = |flank| Steps { length: ShopStep::ALL[2], flank };
        let minute = ring.mean_radius_mm() * (1.0 / 60_f64).to_radians();
        for (flank, step) in [
            (FlankStep::Minutes(5), 5.0 * minute),
            (FlankStep::Hole { circle: 20, ratio: 40 }, 27.0 * minute),
            (FlankStep::Length, 0.05),
        ] {
            let steps = of(flank);
            for mm in [0.0, 0.001, 0.1, 0.3, 1.234, 3.3] {
                let (down, up) = (steps.stock_down(&ring, mm), steps.stock_up(&ring, mm));
                assert!(down <= mm + 1e-9 && up >= mm - 1e-9, "{down} {mm} {up}");
                assert!(up - down <= step + 1e-4, "{flank:?}: {down} {up}");
                for stock in [down, up] {
                    let count = stock / step;
                    assert!((count - count.round()).abs() * step < 1.1e-4, "{stock}");
                    assert!((stock * 1e4 - (stock * 1e4).round()).abs() < 1e-6, "{stock}");
                }
            }
        }
        let parallel = Ring { form: PlanForm::Parallel, ..ring };
        assert_eq!(of(FlankStep::Minutes(5)).stock_up(&parallel, 0.31), 0.35);
    }
}
