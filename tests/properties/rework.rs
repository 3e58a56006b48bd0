//! Work on a ring takes metal off and never puts any on, in an order that matters only where it must.

use crenel::design::{Cut, Operation, Size, Work};
use crenel::design::{Design, Draft, History};
use crenel::pair::{Edges, Mesh};
use crenel::ring::{Dog, FlankSide, Ring};
use proptest::prelude::*;

use super::designs::{as_cut, light_operation, ring_as_found, sound_pair};

/// Directions of both flanks of a section at the inner and the outer radius.
fn corners(ring: &Ring, dog: &Dog, level: f64) -> Option<[[f64; 2]; 2]> {
    let section = ring.section(dog, level - dog.cut_down_mm)?;
    let at = |piece: usize| {
        let turned = section.segments[piece].from().angle() - dog.centre.radians();
        (turned + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU) - std::f64::consts::PI
    };
    Some([[at(0), at(1)], [at(3), at(2)]])
}

/// Whether all metal of the second ring is metal of the first, looked at level by level.
fn holds(before: &Ring, after: &Ring) -> Result<(), TestCaseError> {
    for now in &after.dogs {
        let old = before.dogs.iter().find(|dog| dog.place == now.place);
        let Some(old) = old else { return Err(TestCaseError::fail("a dog has grown")) };
        let [old_top, new_top] = [old, now].map(|dog| dog.cut_down_mm);
        prop_assert!(new_top >= old_top - 1e-12, "the tip grew from {old_top} to {new_top}");
        prop_assert!(
            (old.height_mm + old.cut_down_mm - now.height_mm - now.cut_down_mm).abs() < 1e-9
        );
        for step in 0..=8_u32 {
            let level = new_top + now.height_mm * f64::from(step) / 8.0;
            let (Some(was), Some(is)) = (corners(before, old, level), corners(after, now, level))
            else {
                continue;
            };
            for end in 0..2 {
                prop_assert!(is[0][end] >= was[0][end] - 1e-9, "drive {was:?} {is:?} {level}");
                prop_assert!(is[1][end] <= was[1][end] + 1e-9, "coast {was:?} {is:?} {level}");
            }
        }
    }
    Ok(())
}

/// Work on all dogs of a ring.
fn on_all(ring: &Ring, work: Work) -> Operation {
    Operation { work, places: ring.dogs.iter().map(|dog| dog.place).collect() }
}

/// Whether two operations cannot feel each other, so that their order is free.
fn are_independent(a: &Operation, b: &Operation) -> bool {
    let flank = |work: Work| work.kind.flank();
    let on_some = |o: &Operation| !o.work.kind.is_on_all;
    let apart = a.places.is_disjoint(&b.places) && on_some(a) && on_some(b);
    let breaks = |w: Work| w.kind.size == Some(Size::Edge);
    let other_flank = flank(a.work).zip(flank(b.work)).is_some_and(|(a, b)| a != b);
    let narrows = |w: Work| w.kind.size == Some(Size::Width);
    let shortens = |w: Work| matches!(w.to_cut(), Some(Cut::Shorten(_)));
    let narrow_and_shorten = |a, b| narrows(a) && shortens(b);
    apart
        || breaks(a.work)
        || breaks(b.work)
        || other_flank
        || narrow_and_shorten(a.work, b.work)
        || narrow_and_shorten(b.work, a.work)
}

proptest! {
    #[test]
    fn an_operation_never_adds_metal(
        spec in ring_as_found(),
        work in proptest::collection::vec(light_operation(), 1..5),
    ) {
        let mut ring = spec.to_found();
        for operation in work {
            let after = operation.done_to(ring.clone());
            holds(&ring, &after)?;
            let [was, is] = [&ring, &after].map(|ring| ring.metal().volume_mm3);
            // Dogs without a root or a tip count nothing where they have none.
            let is_whole = |ring: &Ring, dog: &Dog| ring.root_outline(dog).and(ring.tip_outline(dog)).is_some();
            let sound = |ring: &Ring| ring.dogs.iter().all(|dog| is_whole(ring, dog));
            prop_assert!(!sound(&ring) || is <= was * (1.0 + 1e-12) + 1e-9, "{was} mm³ became {is} mm³");
            ring = after;
        }
    }

    #[test]
    fn a_re_cut_flank_has_its_angle_and_nothing_of_the_old_flank(
        spec in ring_as_found(),
        lapped in 0.0..2.0,
        angle in -3.0..10.0,
    ) {
        let lap = Operation { work: Work::lap(lapped), places: Default::default() };
        let ring = lap.done_to(spec.to_found());
        let after = on_all(&ring, Work::recut(FlankSide::Drive, angle)).done_to(ring.clone());
        for (old, now) in ring.dogs.iter().zip(&after.dogs) {
            prop_assert!((now.back_cut.drive.degrees() - angle).abs() < 1e-9);
            prop_assert_eq!(now.back_cut.coast, old.back_cut.coast);
            // The new flank passes through the old one at one corner at least: no more comes off than must.
            let gap = |depth: f64| {
                let level = old.cut_down_mm + depth;
                let [was, is] = [corners(&ring, old, level)?, corners(&after, now, level)?];
                Some((is[0][0] - was[0][0]).min(is[0][1] - was[0][1]))
            };
            let (Some(tip), Some(root)) = (gap(0.0), gap(old.height_mm)) else { continue };
            prop_assert!(tip.min(root).abs() < 1e-9, "{tip} at the tip, {root} at the root");
        }
    }

    #[test]
    fn a_flank_that_is_re_cut_to_the_angle_it_has_stays_bit_for_bit(
        spec in ring_as_found(),
        lapped in 0.0..2.0,
        first in -3.0..10.0,
    ) {
        let lap = Operation { work: Work::lap(lapped), places: Default::default() };
        let ring = lap.done_to(spec.to_found());
        let again = on_all(&ring, Work::recut(FlankSide::Coast, first));
        let once = again.done_to(ring);
        prop_assert_eq!(again.done_to(once.clone()), once);
    }

    #[test]
    fn work_on_a_flank_leaves_no_pair_of_dogs_less_room(
        pair in sound_pair(),
        work in light_operation(),
    ) {
        prop_assume!(work.work.kind.flank().is_some());
        let [a, b] = as_cut(&pair);
        let after = work.done_to(a.clone());
        let deepest = a.tallest_mm().min(b.tallest_mm());
        let [was, is] = [&a, &after].map(|a| Mesh::new(a, &b).expect("rings that meet"));
        for (was, is) in was.blocks.iter().zip(&is.blocks) {
            for (flank, share) in FlankSide::BOTH.into_iter().flat_map(|f| [(f, 0.0), (f, 1.0)]) {
                let overlap = was.starts_mm + share * (deepest - was.starts_mm).max(0.0);
                let [was, is] = [was, is].map(|block| block.reach(flank, overlap, Edges::Sharp));
                prop_assert!(is <= was + 1e-12, "{flank:?} reached {was} and reaches {is} at {overlap} mm");
            }
        }
    }

    #[test]
    fn the_order_of_independent_operations_does_not_matter(
        spec in ring_as_found(),
        a in light_operation(),
        b in light_operation(),
    ) {
        prop_assume!(are_independent(&a, &b));
        let ring = spec.to_found();
        let one = b.done_to(a.done_to(ring.clone()));
        let other = a.done_to(b.done_to(ring));
        prop_assert_eq!(one, other);
    }

    #[test]
    fn undoing_all_work_brings_the_ring_back_bit_for_bit(
        spec in ring_as_found(),
        work in proptest::collection::vec(light_operation(), 1..6),
    ) {
        let start = Design { a: spec, ..Design::default() };
        let found = start.a.to_cut();
        let mut history = History::new(Draft::new(start.clone()));
        let steps = work.len();
        for operation in work {
            let mut draft = history.now().clone();
            draft.design.a.plan.operations.push(operation);
            history.apply(draft);
        }
        let done = history.now().clone();
        for _ in 0..steps {
            prop_assert!(history.undo());
        }
        prop_assert_eq!(&history.now().design, &start);
        prop_assert_eq!(history.now().design.a.to_cut(), found);
        while history.redo() {}
        prop_assert_eq!(history.now(), &done);
    }
}
