//! How far the sizes of dogs may be off.

use crate::design::Layout;
use crate::fields::FieldId;
use crate::model::Worked;
use crate::ring::{Dog, FlankSide, PerSide, Ring, Side};
use crate::shop::tolerance::Limits;
use crate::units::Angle;

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

    /// The input that it is of one dog.
    pub const fn field(self) -> FieldId {
        match self {
            Self::Position => FieldId::Centre,
            Self::Width => FieldId::TipWidth,
            Self::Height => FieldId::Height,
        }
    }

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

    /// The limits of a design: tolerances of the sizes that are planned, and uncertainties of those that are
    /// measured.
    ///
    /// Planned are all sizes of an even ring, and those that the work makes. Without limits of its own a height
    /// or a width has the general tolerance of the design's grade, none where the standard gives none, and a
    /// position has ±[`INDEXED_DEG`]: the standard's ±1° is far too coarse for the spacing of dogs. A measured
    /// size without an uncertainty of its own has that of a calliper, [`CALLIPER_MM`], and a position that of a
    /// rotary table, [`TABLE_DEG`].
    pub fn of(worked: &Worked) -> Self {
        let of = |side: Side| {
            let dogs = worked.cut[side].dogs.iter();
            dogs.map(move |dog| Size::ALL.map(|size| limits(worked, side, dog, size))).map(
                |limits| {
                    let [position_deg, width_deg, height_mm] = limits;
                    DogSpread { position_deg, width_deg, height_mm }
                },
            )
        };
        Self { dogs: PerSide::from_fn(|side| of(side).collect()) }
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

/// How far dogs are off their places that are cut on a dividing head or a rotary table, ± degrees: common
/// practice, no source.
pub const INDEXED_DEG: f64 = 0.1;

/// How far off a length is that is measured with a calliper, ± mm: common practice, no source.
pub const CALLIPER_MM: f64 = 0.02;

/// How far off an angle is that is measured on a rotary table, ± degrees (1′): common practice, no source.
pub const TABLE_DEG: f64 = 1.0 / 60.0;

/// Sizes that differ by less are the same, mm.
const SAME_MM: f64 = 1e-9;

/// The limits of a size of a dog as cut.
fn limits(worked: &Worked, side: Side, dog: &Dog, size: Size) -> Limits {
    let tolerances = &worked.design.tolerances;
    let (place, field) = (dog.place, size.field());
    let ring = &worked.cut[side];
    let turned = |mm: f64| Angle::from_radians(mm / ring.mean_radius_mm()).degrees();
    let grade = |mm: f64| tolerances.grade.linear_mm(mm).unwrap_or_default();
    if is_planned(worked, side, dog, size) {
        tolerances.planned(side, place, field).unwrap_or_else(|| {
            Limits::both(match size {
                Size::Position => INDEXED_DEG,
                Size::Width => turned(grade(ring.thickness_mm(dog, 0.0))),
                Size::Height => grade(dog.height_mm),
            })
        })
    } else {
        Limits::both(tolerances.measured(side, place, field).unwrap_or_else(|| match size {
            Size::Position => TABLE_DEG,
            Size::Width => turned(CALLIPER_MM),
            Size::Height => CALLIPER_MM,
        }))
    }
}

/// Whether a size is yet to be made, rather than measured.
fn is_planned(worked: &Worked, side: Side, dog: &Dog, size: Size) -> bool {
    if matches!(worked.design.ring(side).layout, Layout::Even(_)) {
        return true;
    }
    let Some(found) = worked.found[side].at_place(dog.place) else { return true };
    match size {
        Size::Position => false,
        Size::Width => FlankSide::BOTH
            .into_iter()
            .any(|flank| dog.narrowed_mm[flank] > found.narrowed_mm[flank] + SAME_MM),
        Size::Height => dog.height_mm < found.height_mm - SAME_MM,
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
