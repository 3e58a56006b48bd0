//! The sizes that work makes on dogs, and rings with those sizes off by their general tolerances.

use super::goal::{Goal, reach};
use crate::design::{Design, Size};
use crate::ring::{Dog, FlankSide, PerFlank, PerSide, Ring, Side};
use crate::shop::tolerance::Grade;
use crate::units::sort_by_number;

/// Sizes that differ by less are the same, mm.
const SAME_MM: f64 = 1e-9;

/// Dogs lower by less than this count as tallest, mm.
const AS_TALL_MM: f64 = 1e-6;

/// Height left of a dog whose tolerance is larger than its height, mm.
const STUMP_MM: f64 = 0.001;

/// One size that work makes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct NewSize {
    pub(crate) side: Side,
    pub(crate) place: usize,
    pub(crate) size: Size,
    /// The general tolerance, ± mm; `None` if the standard gives none.
    pub(crate) tolerance_mm: Option<f64>,
    /// Whether it is the height of one of the tallest dogs of its ring.
    pub(crate) of_tallest: bool,
    /// For a width, the flanks that work has narrowed.
    pub(crate) narrowed: PerFlank<bool>,
}

/// Which way a size is off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Off {
    /// More metal is left.
    Plus,
    /// Less metal is left.
    Minus,
}

/// The sizes that a ring did not have before the work.
pub(crate) fn new_sizes(side: Side, before: &Ring, cut: &Ring) -> Vec<NewSize> {
    let tall = cut.tallest_mm() - AS_TALL_MM;
    let dogs = cut.dogs.iter().filter_map(|dog| Some((dog, before.at_place(dog.place)?)));
    let sizes = dogs.flat_map(|(dog, was)| {
        new_sizes_on_dog(cut, dog, was).map(|(size, tolerance_mm)| {
            let of_tallest = size == Size::Height && dog.height_mm >= tall;
            NewSize {
                side,
                place: dog.place,
                size,
                tolerance_mm,
                of_tallest,
                narrowed: narrowed(dog, was),
            }
        })
    });
    let mut sizes: Vec<_> = sizes.collect();
    // Equal sizes become neighbours.
    let height = |one: &NewSize| cut.at_place(one.place).map_or(0.0, |dog| dog.height_mm);
    sort_by_number(&mut sizes, height);
    sort_by_number(&mut sizes, |one| f64::from(one.size as u8));
    sizes
}

/// The sizes that a dog did not have before the work, each with its general tolerance.
fn new_sizes_on_dog(
    ring: &Ring,
    dog: &Dog,
    was: &Dog,
) -> impl Iterator<Item = (Size, Option<f64>)> + use<> {
    let narrowed = narrowed(dog, was);
    let is_new = [
        dog.height_mm < was.height_mm - SAME_MM,
        narrowed.drive || narrowed.coast,
        dog.edge_break_mm > was.edge_break_mm + SAME_MM,
    ];
    let sizes = [
        (Size::Height, dog.height_mm),
        (Size::Width, ring.thickness_mm(dog, 0.0)),
        (Size::Edge, dog.edge_break_mm),
    ];
    let tolerances = sizes.map(|(size, mm)| (size, general_mm(size, mm)));
    is_new.into_iter().zip(tolerances).filter_map(|(is, size)| is.then_some(size))
}

fn narrowed(dog: &Dog, was: &Dog) -> PerFlank<bool> {
    PerFlank::from_fn(|flank| dog.narrowed_mm[flank] > was.narrowed_mm[flank] + SAME_MM)
}

/// The general tolerance of a size, ± mm; `None` if the standard gives none.
pub(super) fn general_mm(size: Size, mm: f64) -> Option<f64> {
    match size {
        Size::Height | Size::Width => Grade::Medium.linear_mm(mm),
        Size::Edge => Some(Grade::Medium.edge_by_hand_mm(mm)),
    }
}

impl NewSize {
    /// Puts the size off by its tolerance. No dog gets larger than it was found.
    pub(crate) fn put_off(&self, found: &PerSide<Ring>, rings: &mut PerSide<Ring>, off: Off) {
        let by = self.tolerance_mm.unwrap_or_default();
        self.put_off_by(found, rings, if off == Off::Plus { by } else { -by });
    }

    /// Puts the size off by so many mm, positive for more metal.
    pub(crate) fn put_off_by(&self, found: &PerSide<Ring>, rings: &mut PerSide<Ring>, by_mm: f64) {
        let was = found[self.side].at_place(self.place);
        let dog = rings[self.side].dogs.iter_mut().find(|dog| dog.place == self.place);
        let (Some(was), Some(dog)) = (was, dog) else { return };
        match self.size {
            Size::Height => {
                let by = by_mm.min(dog.cut_down_mm).max(STUMP_MM - dog.height_mm);
                dog.height_mm += by;
                dog.cut_down_mm -= by;
            }
            Size::Width => widen(dog, was, self.narrowed, by_mm),
            Size::Edge => dog.edge_break_mm = (dog.edge_break_mm - by_mm).max(was.edge_break_mm),
        }
    }
}

/// More metal, or less, on every flank that was narrowed: each is cut in a setting of its own, and it is not
/// known which of them is off.
fn widen(dog: &mut Dog, was: &Dog, narrowed: PerFlank<bool>, by_mm: f64) {
    for flank in FlankSide::BOTH.into_iter().filter(|flank| narrowed[*flank]) {
        let off = dog.narrowed_mm[flank] - by_mm;
        dog.narrowed_mm[flank] = off.max(was.narrowed_mm[flank]);
    }
}

/// The number that a design reaches with every size that it makes off by its tolerance to the bad side.
/// Sizes that the rings had before are taken as they are. `None` if the rings then do not go in, or if a
/// size has no general tolerance.
///
/// More metal is bad, except on the tallest dogs: if these are lower, the others come nearer to the mating
/// tips.
pub(crate) fn reach_at_worst(design: &Design, before: &PerSide<Ring>, goal: Goal) -> Option<f64> {
    let found = design.to_found_rings();
    let cut = design.to_cut_rings();
    let sizes = new_sizes_on_both(before, &cut);
    if sizes.iter().any(|one| one.tolerance_mm.is_none()) {
        return None;
    }
    let states = [Off::Plus, Off::Minus].map(|tallest| {
        let mut rings = cut.clone();
        for one in &sizes {
            one.put_off(&found, &mut rings, if one.of_tallest { tallest } else { Off::Plus });
        }
        rings
    });
    let [plus, minus] = states;
    let worst = reach(design, &found, &plus, goal)?;
    if plus == minus {
        return Some(worst);
    }
    reach(design, &found, &minus, goal).map(|has| has.min(worst))
}

/// [`new_sizes`] on either ring.
pub(crate) fn new_sizes_on_both(before: &PerSide<Ring>, cut: &PerSide<Ring>) -> Vec<NewSize> {
    let on = |side: Side| new_sizes(side, &before[side], &cut[side]);
    Side::BOTH.into_iter().flat_map(on).collect()
}
