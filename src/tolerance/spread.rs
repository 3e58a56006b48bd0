//! How far the sizes of dogs may be off.

use crate::ring::{Dog, PerSide, Ring, Side};
use crate::shop::tolerance;
use crate::units::Angle;

/// How far a size may be off to either side, both in its unit and not negative.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Below the nominal size.
    pub minus: f64,
    /// Above it.
    pub plus: f64,
}

impl Limits {
    /// The same to both sides.
    pub const fn both(plus_or_minus: f64) -> Self {
        Self { minus: plus_or_minus, plus: plus_or_minus }
    }

    /// From both sides to a number between: −1 is the lower limit, +1 the upper one.
    pub fn at(self, share: f64) -> f64 {
        if share < 0.0 { share * self.minus } else { share * self.plus }
    }

    /// All of it.
    pub fn width(self) -> f64 {
        self.minus + self.plus
    }
}

/// A size of a dog that may be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Where the dog is on its ring, degrees.
    Position,
    /// The tip width at the mean radius, half of it at each flank, degrees.
    Width,
    /// The height, mm.
    Height,
}

impl Size {
    /// Every size.
    pub const ALL: [Self; 3] = [Self::Position, Self::Width, Self::Height];

    /// Its name in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Position => "position",
            Self::Width => "width",
            Self::Height => "height",
        }
    }
}

/// How far the sizes of one dog may be off.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DogSpread {
    /// Of [`Size::Position`], degrees.
    pub position_deg: Limits,
    /// Of [`Size::Width`], degrees.
    pub width_deg: Limits,
    /// Of [`Size::Height`], mm.
    pub height_mm: Limits,
}

impl DogSpread {
    /// The limits of one size.
    pub const fn of(&self, size: Size) -> Limits {
        match size {
            Size::Position => self.position_deg,
            Size::Width => self.width_deg,
            Size::Height => self.height_mm,
        }
    }

    /// The same limits for a size as given.
    #[must_use]
    pub const fn with(mut self, size: Size, limits: Limits) -> Self {
        match size {
            Size::Position => self.position_deg = limits,
            Size::Width => self.width_deg = limits,
            Size::Height => self.height_mm = limits,
        }
        self
    }
}

/// How far the sizes of all dogs of two rings may be off, in the order of the rings' dogs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spread {
    /// For each dog of each ring.
    pub dogs: PerSide<Vec<DogSpread>>,
}

impl Spread {
    /// The same for all dogs of both rings.
    pub fn alike(rings: &PerSide<Ring>, dog: DogSpread) -> Self {
        Self { dogs: rings.each_ref().map(|ring| vec![dog; ring.dogs.len()]) }
    }

    /// General tolerances of ISO 2768-1, class m, on widths and heights. Positions have `position_deg`: the
    /// angular tolerance of the standard (±30′ on a flank of 22 mm) is far too coarse for the spacing of dogs.
    /// Sizes that the standard gives no tolerance for are exact.
    pub fn general(rings: &PerSide<Ring>, position_deg: f64) -> Self {
        let of = |ring: &Ring, dog: &Dog| {
            let thick = ring.thickness_mm(dog, 0.0);
            let mm = |size: f64| tolerance::linear_mm(size).unwrap_or_default();
            let width = Angle::from_radians(mm(thick) / ring.mean_radius_mm()).degrees();
            DogSpread {
                position_deg: Limits::both(position_deg),
                width_deg: Limits::both(width),
                height_mm: Limits::both(mm(dog.height_mm)),
            }
        };
        Self {
            dogs: rings.each_ref().map(|ring| ring.dogs.iter().map(|dog| of(ring, dog)).collect()),
        }
    }

    /// Every size that may be off.
    pub fn sizes(&self) -> impl Iterator<Item = (Side, usize, Size, Limits)> {
        Side::BOTH.into_iter().flat_map(move |side| {
            self.dogs[side].iter().enumerate().flat_map(move |(dog, spread)| {
                let sizes = Size::ALL.map(|size| (side, dog, size, spread.of(size)));
                sizes.into_iter().filter(|(.., limits)| limits.width() > 0.0)
            })
        })
    }
}

/// Rings with every size off by what `by` makes of its limits, in the order of [`Spread::sizes`].
pub fn put_all_off(
    rings: &PerSide<Ring>,
    spread: &Spread,
    mut by: impl FnMut(Limits) -> f64,
) -> PerSide<Ring> {
    let mut rings = rings.clone();
    for (side, dog, size, limits) in spread.sizes() {
        if let Some(dog) = rings[side].dogs.get_mut(dog) {
            put_off(dog, size, by(limits));
        }
    }
    rings
}

/// Puts a size of a dog off by so much, in its unit. No dog becomes lower than `LEAST_MM`.
pub(super) fn put_off(dog: &mut Dog, size: Size, by: f64) {
    match size {
        Size::Position => dog.centre = dog.centre + Angle::from_degrees(by),
        Size::Width => dog.tip_width = dog.tip_width + Angle::from_degrees(by),
        Size::Height => dog.height_mm = (dog.height_mm + by).max(LEAST_MM),
    }
}

/// Height left of a dog whose tolerance is larger than its height, mm.
const LEAST_MM: f64 = 0.001;
