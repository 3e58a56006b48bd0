//! The sizes that work makes on dogs, and rings with those sizes off by their tolerances.

use super::goal::{Goal, reach};
use crate::design::{Design, Size, dogs_can_be};
use crate::ring::{Dog, FlankSide, PerFlank, PerSide, Ring, Side};
use crate::shop::tolerance::Limits;
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
    /// How far it may be off: [`own_limits`].
    pub(crate) own: Option<Limits>,
    /// Whether it is the height of one of the tallest dogs of its ring.
    pub(crate) of_tallest: bool,
    /// For a width, the flanks that work has narrowed.
    pub(crate) narrowed: PerFlank<bool>,
}

/// The sizes that a ring did not have before the work.
fn new_sizes(design: &Design, side: Side, before: &Ring, cut: &Ring) -> Vec<NewSize> {
    let tall = cut.tallest_mm() - AS_TALL_MM;
    let dogs = cut.dogs.iter().filter_map(|dog| Some((dog, before.at_place(dog.place)?)));
    let sizes = dogs.flat_map(|(dog, was)| {
        new_sizes_on_dog(cut, dog, was).map(move |(size, mm)| {
            let of_tallest = size == Size::Height && dog.height_mm >= tall;
            NewSize {
                side,
                place: dog.place,
                size,
                own: own_limits(design, (side, cut), dog.place, size, mm),
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

/// The sizes that a dog did not have before the work, mm.
fn new_sizes_on_dog(
    ring: &Ring,
    dog: &Dog,
    was: &Dog,
) -> impl Iterator<Item = (Size, f64)> + use<> {
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
    is_new.into_iter().zip(sizes).filter_map(|(is, size)| is.then_some(size))
}

fn narrowed(dog: &Dog, was: &Dog) -> PerFlank<bool> {
    PerFlank::from_fn(|flank| dog.narrowed_mm[flank] > was.narrowed_mm[flank] + SAME_MM)
}

/// How far a size that is planned may be off, `plus` for more metal and `minus` for less, both mm: what the
/// design gives it, or the general tolerance of the design's grade. `None` if the standard gives none.
///
/// Widths are given by angle, and taken at the mean radius of their ring.
pub(super) fn own_limits(
    design: &Design,
    (side, ring): (Side, &Ring),
    place: usize,
    size: Size,
    mm: f64,
) -> Option<Limits> {
    let Some(given) = design.tolerances.planned(side, place, size.field()) else {
        let grade = design.tolerances.grade;
        let general = match size {
            Size::Height | Size::Width => grade.linear_mm(mm),
            Size::Edge => Some(grade.edge_by_hand_mm(mm)),
        };
        return general.map(Limits::both);
    };
    let Limits { minus, plus } = given;
    Some(match size {
        Size::Height => given,
        Size::Width => {
            let mm = |deg: f64| deg.to_radians() * ring.mean_radius_mm();
            Limits { minus: mm(minus), plus: mm(plus) }
        }
        // A larger edge break is less metal.
        Size::Edge => Limits { minus: plus, plus: minus },
    })
}

impl NewSize {
    /// How far the dog is below the tallest of its ring, mm.
    fn below_tips(&self, ring: &Ring) -> f64 {
        ring.at_place(self.place).map_or(0.0, |dog| ring.tallest_mm() - dog.height_mm)
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
/// Sizes that the rings had before are taken as they are. `None` if the rings then do not go in, if a size has no
/// tolerance, or if a dog could come out with nothing left of it.
pub(crate) fn reach_at_worst(design: &Design, before: &PerSide<Ring>, goal: Goal) -> Option<f64> {
    let found = design.to_found_rings();
    let cut = design.to_cut_rings();
    let sizes = new_sizes_on_both(design, before, &cut);
    let sizes: Option<Vec<_>> = sizes.into_iter().map(|one| Some((one, one.own?))).collect();
    let sizes = sizes?;
    if !stands_at_least(&found, &cut, &sizes) {
        return None;
    }
    let worst = worst_rings(&found, &cut, &sizes);
    let reaches = worst.iter().map(|rings| reach(design, &found, rings, goal));
    reaches.reduce(|a, b| Some(a?.min(b?)))?
}

/// Whether every dog can still be with the least metal that the sizes allow.
fn stands_at_least(
    found: &PerSide<Ring>,
    cut: &PerSide<Ring>,
    sizes: &[(NewSize, Limits)],
) -> bool {
    let mut rings = cut.clone();
    for (one, limits) in sizes {
        one.put_off_by(found, &mut rings, -limits.minus);
    }
    Side::BOTH.into_iter().all(|side| dogs_can_be(&rings[side], side))
}

/// The rings with all new sizes at their bad limits. More metal is bad; on the tallest dogs of a ring less is
/// bad too, because the others are measured from them and come nearer to the mating tips. Any of them can come out as
/// the tallest, and so can a lower one whose limit reaches above them, with the others as high as they may be beside
/// it.
pub(crate) fn worst_rings(
    found: &PerSide<Ring>,
    cut: &PerSide<Ring>,
    sizes: &[(NewSize, Limits)],
) -> Vec<PerSide<Ring>> {
    let rings = |tops: PerSide<f64>| {
        let mut rings = cut.clone();
        for (one, limits) in sizes {
            let room = match one.size {
                Size::Height if one.of_tallest => tops[one.side],
                Size::Height => (tops[one.side] + one.below_tips(&cut[one.side])).max(0.0),
                Size::Width | Size::Edge => f64::INFINITY,
            };
            one.put_off_by(found, &mut rings, limits.plus.min(room));
        }
        rings
    };
    let [tops_a, tops_b] = Side::BOTH.map(|side| tops(side, &cut[side], sizes));
    let both = |a: &f64| tops_b.iter().map(|b| PerSide { a: *a, b: *b }).collect::<Vec<_>>();
    tops_a.iter().flat_map(both).map(rings).collect()
}

/// By how much the tips of a ring can come out above the planned height of the tallest, mm: at the least, and with
/// each dog that can be the tallest at its upper limit.
fn tops(side: Side, cut: &Ring, sizes: &[(NewSize, Limits)]) -> Vec<f64> {
    let heights = sizes.iter().filter(|(one, _)| one.side == side && one.size == Size::Height);
    let (tallest, lower): (Vec<_>, Vec<_>) = heights.partition(|(one, _)| one.of_tallest);
    let as_tall = cut.tallest_mm() - AS_TALL_MM;
    let all = cut.dogs.iter().filter(|dog| dog.height_mm >= as_tall).count();
    // One that is as found stays where it is.
    let found = if all > tallest.len() { 0.0 } else { f64::NEG_INFINITY };
    let least = tallest.iter().map(|(_, limits)| -limits.minus).fold(found, f64::max);
    let mut tops = vec![least];
    tops.extend(tallest.iter().map(|(_, limits)| limits.plus));
    let reach = lower.iter().map(|(one, limits)| limits.plus - one.below_tips(cut));
    tops.extend(reach.filter(|top| *top > least));
    tops.sort_by(f64::total_cmp);
    tops.dedup();
    tops
}

/// The sizes on either ring that work makes, those of ring A first.
pub(crate) fn new_sizes_on_both(
    design: &Design,
    before: &PerSide<Ring>,
    cut: &PerSide<Ring>,
) -> Vec<NewSize> {
    let on = |side: Side| new_sizes(design, side, &before[side], &cut[side]);
    Side::BOTH.into_iter().flat_map(on).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;

    #[test]
    fn a_dog_that_can_come_out_as_the_tallest_is_tried_beside_the_tallest_too() {
        let saved = r#"{"crenel": 1, "a": {
            "dogs": [{"centre_deg": 0, "height_mm": 5}, {"centre_deg": 180, "height_mm": 2.06}],
            "plan": [{"do": "shorten", "shorten_to_mm": 2, "dogs": [1]}]
        }}"#;
        let opened = open(saved).expect("our own text");
        assert!(opened.findings.is_empty(), "{:?}", opened.findings);
        let design = opened.design;
        let (found, cut) = (design.to_found_rings(), design.to_cut_rings());
        let sizes = new_sizes_on_both(&design, &found, &cut).into_iter();
        let sizes: Vec<_> = sizes.map(|one| (one, Limits { minus: 0.0, plus: 0.2 })).collect();
        assert_eq!(sizes.len(), 1);
        let heights = worst_rings(&found, &cut, &sizes).into_iter();
        let heights: Vec<_> = heights.map(|rings| rings.a.at_place(0).unwrap().height_mm).collect();
        assert_eq!(heights.len(), 2, "{heights:?}");
        assert!((heights[0] - 2.06).abs() < 1e-9 && (heights[1] - 2.2).abs() < 1e-9, "{heights:?}");
        // One that stays below them is at its limit and no other way.
        let sizes: Vec<_> = sizes.iter().map(|(one, _)| (*one, Limits::both(0.05))).collect();
        let heights = worst_rings(&found, &cut, &sizes).into_iter();
        let heights: Vec<_> = heights.map(|rings| rings.a.at_place(0).unwrap().height_mm).collect();
        assert_eq!(heights.len(), 1);
        assert!((heights[0] - 2.05).abs() < 1e-9, "{heights:?}");
    }
}
