//! Open windows against the model's rule, and what must not change them.

use std::f64::consts::{PI, TAU};

use crenel::design::Cut;
use crenel::fields::FieldId;
use crenel::pair::{Arc, Edges, Mesh};
use crenel::ring::{Dog, PerFlank, Ring};
use crenel::units::Angle;
use proptest::prelude::*;
use proptest::sample::Index;

use crate::cases;
use crate::designs::{as_cut, sound_pair, wild_pair, within};
use crate::oracle::{Level, Oracle, clearance};

/// Angles closer than this are the same, radians: rounding of a few turns, and the windows narrower
/// than [`crenel::pair::ANGLE_TOLERANCE`] that count as closed.
const SAME: f64 = 1e-8;

fn mesh([a, b]: &[Ring; 2]) -> Mesh {
    Mesh::new(a, b).expect("the strategies make rings that share a band")
}

fn open_total(windows: &[Arc]) -> f64 {
    windows.iter().map(|w| w.width.radians()).sum()
}

/// Windows wide enough that rounding cannot open or close them.
fn wide(windows: &[Arc]) -> Vec<&Arc> {
    windows.iter().filter(|w| w.width.radians() > SAME).collect()
}

fn has_twin(window: &Arc, others: &[Arc]) -> bool {
    let apart = |a: Angle| a.signed().radians().abs();
    others.iter().any(|other| {
        apart(other.middle() - window.middle()) < SAME && apart(other.width - window.width) < SAME
    })
}

/// The same windows, each put where `moved` says.
pub(crate) fn assert_same(before: &[Arc], after: &[Arc], moved: impl Fn(Angle) -> Angle) {
    let start = |w: &Arc| moved(w.middle()) - w.width / 2.0;
    let put = |w: &Arc| Arc { start: start(w).wrapped(), width: w.width };
    let expected: Vec<Arc> = before.iter().map(put).collect();
    let whole = |windows: &[Arc]| windows.iter().any(|w| w.width == Angle::FULL);
    if whole(&expected) || whole(after) {
        // A whole turn has no ends to compare.
        assert_eq!(whole(&expected), whole(after), "{before:?} {after:?}");
        return;
    }
    for (these, those) in [(&expected[..], after), (after, &expected[..])] {
        for window in wide(these) {
            assert!(has_twin(window, those), "{window:?} of {these:?} is not in {those:?}");
        }
    }
}

/// The length of the circle that no arc covers, by asking about the middle of every piece between
/// two neighbouring ends of arcs.
fn open_by_pieces(arcs: &[[f64; 2]]) -> f64 {
    let mut ends: Vec<f64> = arcs.iter().flatten().map(|end| end.rem_euclid(TAU)).collect();
    ends.push(0.0);
    ends.push(TAU);
    ends.sort_by(f64::total_cmp);
    let pieces = ends.windows(2).map(|ends| (ends[1] - ends[0], (ends[0] + ends[1]) / 2.0));
    pieces.filter(|&(_, middle)| clearance(arcs, middle) > 0.0).map(|(length, _)| length).sum()
}

fn turned(ring: &Ring, by: Angle) -> Ring {
    let dogs = ring.dogs.iter().map(|d| Dog { centre: d.centre + by, ..*d }).collect();
    Ring { dogs, ..ring.clone() }
}

pub(crate) fn mirrored(ring: &Ring) -> Ring {
    let flip = |d: &Dog| Dog {
        centre: -d.centre,
        back_cut: PerFlank { drive: d.back_cut.coast, coast: d.back_cut.drive },
        narrowed_mm: PerFlank { drive: d.narrowed_mm.coast, coast: d.narrowed_mm.drive },
        lean_kept_mm: PerFlank { drive: d.lean_kept_mm.coast, coast: d.lean_kept_mm.drive },
        ..*d
    };
    Ring { dogs: ring.dogs.iter().map(flip).collect(), ..ring.clone() }
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn windows_and_blocked_arcs_make_up_the_circle(
        pair in wild_pair(),
        overlap in within(FieldId::Overlap),
    ) {
        let rings = as_cut(&pair);
        let mesh = mesh(&rings);
        let arcs = Oracle::new(&rings, &mesh.contact).arcs(overlap, Level::Touches);
        let windows = mesh.windows_at(overlap, Edges::Sharp);
        let (open, wanted) = (open_total(&windows), open_by_pieces(&arcs));
        prop_assert!((open - wanted).abs() < SAME, "{open} instead of {wanted}");
        for window in &windows {
            let (middle, half) = (window.middle().radians(), window.width.radians() / 2.0);
            // The nearest arc begins exactly where the window ends, on either side.
            let room = clearance(&arcs, middle);
            prop_assert!((room - half).abs() < SAME, "{window:?} has {room}");
            if half < PI {
                for outside in [middle - half - SAME, middle + half + SAME] {
                    let open = windows.iter().any(|w| w.contains(Angle::from_radians(outside)));
                    prop_assert!(open || clearance(&arcs, outside) < 0.0, "{window:?}");
                }
            }
        }
    }

    #[test]
    fn a_broken_edge_only_opens(pair in wild_pair(), overlap in within(FieldId::Overlap)) {
        let mesh = mesh(&as_cut(&pair));
        let [sharp, broken] = [Edges::Sharp, Edges::Broken].map(|e| mesh.windows_at(overlap, e));
        for window in wide(&sharp) {
            let opened = broken.iter().any(|w| w.contains(window.middle()));
            prop_assert!(opened, "{window:?} is not in {broken:?}");
        }
        prop_assert!(open_total(&broken) > open_total(&sharp) - SAME);
    }

    #[test]
    fn a_broken_edge_is_gone_where_the_flank_begins(
        pair in wild_pair(),
        deeper in 0.0..5.0,
    ) {
        let mesh = mesh(&as_cut(&pair));
        let ends = mesh.blocks.iter().map(|block| block.edge_ends_mm());
        let overlap = ends.fold(0.0, f64::max) + deeper;
        let [sharp, broken] = [Edges::Sharp, Edges::Broken].map(|e| mesh.windows_at(overlap, e));
        assert_same(&sharp, &broken, |at| at);
    }

    #[test]
    fn turning_both_rings_together_changes_nothing(
        pair in wild_pair(),
        overlap in within(FieldId::Overlap),
        by in -720.0..720.0,
    ) {
        let [a, b] = as_cut(&pair);
        let by = Angle::from_degrees(by);
        // Together means opposite ways, because each ring is measured looking at its own dogs.
        let together = [turned(&a, by), turned(&b, -by)];
        let before = mesh(&[a, b]).windows_at(overlap, Edges::Sharp);
        assert_same(&before, &mesh(&together).windows_at(overlap, Edges::Sharp), |at| at);
    }

    #[test]
    fn turning_one_ring_only_moves_the_windows(
        pair in wild_pair(),
        overlap in within(FieldId::Overlap),
        by in -720.0..720.0,
    ) {
        let [a, b] = as_cut(&pair);
        let by = Angle::from_degrees(by);
        let before = mesh(&[a.clone(), b.clone()]).windows_at(overlap, Edges::Sharp);
        for one in [[turned(&a, by), b.clone()], [a, turned(&b, by)]] {
            assert_same(&before, &mesh(&one).windows_at(overlap, Edges::Sharp), |at| at - by);
        }
    }

    #[test]
    fn swapping_the_rings_changes_nothing(
        pair in wild_pair(),
        overlap in within(FieldId::Overlap),
    ) {
        let [a, b] = as_cut(&pair);
        let before = mesh(&[a.clone(), b.clone()]);
        let after = mesh(&[b, a]);
        for edges in [Edges::Sharp, Edges::Broken] {
            let [one, other] = [&before, &after].map(|m| m.windows_at(overlap, edges));
            assert_same(&one, &other, |at| at);
        }
        prop_assert_eq!(before.engage(overlap).full_depth_mm, after.engage(overlap).full_depth_mm);
    }

    #[test]
    fn mirroring_both_rings_mirrors_the_windows(
        pair in wild_pair(),
        overlap in within(FieldId::Overlap),
    ) {
        let rings = as_cut(&pair);
        let before = mesh(&rings).windows_at(overlap, Edges::Sharp);
        let after = mesh(&rings.each_ref().map(mirrored)).windows_at(overlap, Edges::Sharp);
        assert_same(&before, &after, |at| -at);
    }

    #[test]
    fn removing_a_dog_closes_nothing(
        pair in wild_pair(),
        overlap in within(FieldId::Overlap),
        which in any::<Index>(),
    ) {
        let [a, b] = as_cut(&pair);
        prop_assume!(a.dogs.len() > 1);
        let mut fewer = a.clone();
        fewer.dogs.remove(which.index(a.dogs.len()));
        // Overlap counts from the tallest tips: without them it is another depth.
        prop_assume!(fewer.tallest_mm() == a.tallest_mm());
        check_only_opens(&[a, b.clone()], &[fewer, b], overlap)?;
    }

    #[test]
    fn shortening_a_dog_closes_nothing(
        mut pair in sound_pair(),
        overlap in 0.0..8.0,
        which in any::<Index>(),
        share in 0.05..1.0,
    ) {
        // A re-cut removes the flank that is left by then: of a lower dog that can be less.
        pair[0].plan.operations.retain(|o| !o.work.kind.key.starts_with("recut"));
        let before = as_cut(&pair);
        let dog = which.get(&before[0].dogs);
        pair[0].plan.set_cut(dog.place, Some(Cut::Shorten(dog.height_mm * share)));
        let after = as_cut(&pair);
        // Overlap counts from the tallest tips: without them it is another depth.
        prop_assume!(after[0].tallest_mm() == before[0].tallest_mm());
        check_only_opens(&before, &after, overlap)?;
    }
}

fn check_only_opens(
    before: &[Ring; 2],
    after: &[Ring; 2],
    overlap_mm: f64,
) -> Result<(), TestCaseError> {
    let [before, after] = [before, after].map(|r| mesh(r).windows_at(overlap_mm, Edges::Sharp));
    prop_assert!(open_total(&after) > open_total(&before) - SAME, "{before:?} {after:?}");
    for window in wide(&before) {
        let inset = window.width * 0.5 - Angle::from_radians(SAME / 2.0);
        for phase in [window.middle() - inset, window.middle(), window.middle() + inset] {
            let open = after.iter().any(|w| w.contains(phase));
            prop_assert!(open, "{phase:?} of {window:?} is not in {after:?}");
        }
    }
    Ok(())
}
