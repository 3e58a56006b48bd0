//! How deep the rings go in, and where they jam.

use std::collections::HashSet;
use std::f64::consts::TAU;

use super::block::{Block, Edges, Mesh, OVERLAP_TOLERANCE_MM};
use super::circle::{ANGLE_TOLERANCE, Arc};
use crate::ring::{FlankSide, Side};
use crate::units::Angle;

/// What sets the full depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DepthLimit {
    /// The overlap that was asked for.
    Asked,
    /// The tips of the other ring meet the web of this one.
    Web(Side),
}

/// The rings cannot reach full depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jam {
    /// Overlap at which the last way in closes, mm; 0 if there is no entry window.
    pub overlap_mm: f64,
}

/// The rings at full depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Engagement {
    /// The overlap reached if nothing jams, mm.
    pub full_depth_mm: f64,
    /// What sets it.
    pub limit: DepthLimit,
    /// The windows at that depth that can be reached from the entry, in order; empty if the rings jam.
    pub windows: Vec<Arc>,
    /// Where the rings jam, if they do.
    pub jam: Option<Jam>,
}

impl Engagement {
    /// The window that holds the phase or, where the phase is blocked, the nearest one.
    pub fn window_near(&self, phase: Angle) -> Option<&Arc> {
        let distance = |arc: &Arc| arc.distance(phase).radians();
        self.windows.iter().min_by(|a, b| distance(a).total_cmp(&distance(b)))
    }
}

impl Mesh {
    /// How deep the rings go if an overlap is asked for: the least of that overlap and the depths at which
    /// a tip meets a web, as long as a way in stays open.
    pub fn engage(&self, asked_mm: f64) -> Engagement {
        let [tallest_a, tallest_b] = self.tallest_mm;
        let limits = [
            (asked_mm, DepthLimit::Asked),
            (tallest_a, DepthLimit::Web(Side::A)),
            (tallest_b, DepthLimit::Web(Side::B)),
        ];
        let (full_depth_mm, limit) = limits
            .into_iter()
            .fold(limits[0], |least, next| if next.0 < least.0 { next } else { least });
        let (windows, jam) = self.reachable(full_depth_mm);
        Engagement { full_depth_mm, limit, windows, jam }
    }

    /// The windows at a depth that a shift can reach from the entry, or where it jams on the way.
    fn reachable(&self, depth_mm: f64) -> (Vec<Arc>, Option<Jam>) {
        if depth_mm <= 0.0 {
            return (self.windows_at(depth_mm, Edges::Sharp), None);
        }
        let ways = self.entry_windows(Edges::Sharp);
        if ways.is_empty() {
            return (ways, Some(Jam { overlap_mm: 0.0 }));
        }
        if let (open, true) = self.open_at(0.0, depth_mm, &ways) {
            return (open, None);
        }
        let between = self.blocks.iter().filter(|b| b.is_past(depth_mm)).map(|b| b.starts_mm);
        let mut steps: Vec<f64> = between.filter(|&x| x > OVERLAP_TOLERANCE_MM).collect();
        steps.sort_by(f64::total_cmp);
        steps.dedup_by(|a, b| *a - *b < OVERLAP_TOLERANCE_MM);
        self.descend(0.0, depth_mm, &ways, &steps)
    }

    /// Follows the ways that are open at `top` down to `bottom`. Further dogs begin to block at the
    /// `steps` between.
    ///
    /// The width of a gap between two dogs is a concave function of the depth, so that a gap which is open
    /// at both ends is open all the way. Most descents are settled at once by letting all dogs block from
    /// `top` on. If that does not settle a descent, it is halved. Gaps are examined one by one only where
    /// the rings jam.
    fn descend(
        &self,
        top: f64,
        bottom: f64,
        ways: &[Arc],
        steps: &[f64],
    ) -> (Vec<Arc>, Option<Jam>) {
        let (open, is_settled) = self.open_at(top, bottom, ways);
        if steps.is_empty() {
            let jam = open.is_empty().then(|| self.closing(top, bottom, ways));
            return (open, jam);
        }
        if is_settled {
            return (open, None);
        }
        let (upper, rest) = steps.split_at(steps.len() / 2);
        let (step, lower) = (rest[0], &rest[1..]);
        let (ways, jam) = self.descend(top, step, ways, upper);
        if jam.is_some() {
            return (Vec::new(), jam);
        }
        // The dogs that come level at the step block from here on.
        let inside = |w: &Arc| ways.iter().any(|way| way.contains(w.middle()));
        let ways: Vec<_> =
            self.windows_past(step, Edges::Sharp).into_iter().filter(inside).collect();
        if ways.is_empty() {
            return (ways, Some(Jam { overlap_mm: step }));
        }
        self.descend(step, bottom, &ways, lower)
    }

    /// The windows at `bottom` that the ways at `top` lead to if all dogs block from `top` on, and whether those are
    /// all that are open there.
    fn open_at(&self, top: f64, bottom: f64, ways: &[Arc]) -> (Vec<Arc>, bool) {
        let below = self.windows_at(bottom, Edges::Sharp);
        let open = self.led_to(top, bottom, ways, &below);
        let are_all = !open.is_empty() && open.len() == below.len();
        (open, are_all)
    }

    /// The windows at `bottom` whose gap is one of the ways at `top`, if all dogs that come level above
    /// `bottom` block from `top` on.
    fn led_to(&self, top: f64, bottom: f64, ways: &[Arc], below: &[Arc]) -> Vec<Arc> {
        let blocks: Vec<&Block> = self.blocks.iter().filter(|b| b.is_past(bottom)).collect();
        let is_way = |at: Angle| ways.iter().any(|way| way.contains(at));
        if blocks.iter().all(|b| b.holds_middle(top) && b.holds_middle(bottom)) {
            let above = self.windows_of(|block| block.is_past(bottom), top, Edges::Sharp);
            let gaps = Gaps::between(blocks.into_iter());
            let led_to = |w: &Arc| is_way(gaps.twin(w, &above));
            return gaps.shared(&above, below).into_iter().filter(led_to).collect();
        }
        // Narrow dogs lean over so far that a flank passes their own middle.
        let middle = |w: &Arc| Gap::about(&blocks, w.middle(), bottom).middle(top);
        let led_to = |w: &&Arc| middle(w).is_some_and(is_way);
        below.iter().filter(led_to).copied().collect()
    }

    /// Where the last of the ways closes. No further dogs begin to block between `top` and `bottom`.
    fn closing(&self, top: f64, bottom: f64, ways: &[Arc]) -> Jam {
        let blocks: Vec<_> = self.blocks.iter().filter(|b| b.is_past(bottom)).collect();
        let closes = |way: &Arc| Gap::about(&blocks, way.middle(), top).closes(top, bottom);
        Jam { overlap_mm: ways.iter().map(closes).fold(top, f64::max) }
    }
}

/// The gaps between neighbouring middles of blocks. As long as every arc contains its middle, each window
/// lies in exactly one gap, at any overlap.
struct Gaps {
    middles: Vec<f64>,
}

impl Gaps {
    fn between<'a>(blocks: impl Iterator<Item = &'a Block>) -> Self {
        let mut middles: Vec<f64> = blocks.map(|b| b.phase.radians()).collect();
        middles.sort_by(f64::total_cmp);
        Self { middles }
    }

    fn index_of(&self, window: &Arc) -> usize {
        let middle = window.middle().radians();
        let rank = self.middles.partition_point(|&m| m < middle);
        // The gap after the last middle goes on before the first.
        if rank == self.middles.len() { 0 } else { rank }
    }

    /// The windows in `below` whose gap is open in `above` too.
    fn shared(&self, above: &[Arc], below: &[Arc]) -> Vec<Arc> {
        let open: HashSet<usize> = above.iter().map(|w| self.index_of(w)).collect();
        below.iter().copied().filter(|w| open.contains(&self.index_of(w))).collect()
    }

    /// The middle of the window in `above` that is in the same gap as the window `below`.
    fn twin(&self, below: &Arc, above: &[Arc]) -> Angle {
        let gap = self.index_of(below);
        above.iter().find(|w| self.index_of(w) == gap).map_or(below.middle(), Arc::middle)
    }
}

/// The room around one phase, between the arcs on both sides of it, as a function of the overlap.
struct Gap<'a> {
    origin: Angle,
    /// Each block with its middle, measured from the origin so that its arc lies in `(0, 2π)`.
    around: Vec<(&'a Block, f64)>,
}

/// The two arcs that bound a gap at one overlap.
struct Bounds<'a> {
    left: f64,
    right: f64,
    blocks: Option<[&'a Block; 2]>,
}

impl<'a> Gap<'a> {
    /// The gap that is open at a phase and an overlap.
    fn about(blocks: &[&'a Block], phase: Angle, overlap_mm: f64) -> Self {
        let middle = |b: &Block| {
            let reach = |side| b.reach(side, overlap_mm, Edges::Sharp);
            let lean = (reach(FlankSide::Drive) - reach(FlankSide::Coast)) / 2.0;
            (b.phase + Angle::from_radians(lean) - phase).wrapped().radians() - lean
        };
        Self { origin: phase, around: blocks.iter().map(|b| (*b, middle(b))).collect() }
    }

    /// The middle of the gap at an overlap, if it is open there.
    fn middle(&self, overlap_mm: f64) -> Option<Angle> {
        let Bounds { left, right, .. } = self.bounds(overlap_mm);
        let open = right - left > ANGLE_TOLERANCE;
        open.then(|| self.origin + Angle::from_radians((left + right) / 2.0))
    }

    /// The innermost arc ends on either side, from the origin.
    fn bounds(&self, overlap_mm: f64) -> Bounds<'a> {
        let mut bounds = Bounds { left: -TAU / 2.0, right: TAU / 2.0, blocks: None };
        let Some(&(first, _)) = self.around.first() else { return bounds };
        let mut nearest = [first; 2];
        (bounds.left, bounds.right) = (f64::NEG_INFINITY, f64::INFINITY);
        for &(block, middle) in &self.around {
            let right = middle - block.reach(FlankSide::Coast, overlap_mm, Edges::Sharp);
            let left = middle + block.reach(FlankSide::Drive, overlap_mm, Edges::Sharp) - TAU;
            if right < bounds.right {
                (bounds.right, nearest[1]) = (right, block);
            }
            if left > bounds.left {
                (bounds.left, nearest[0]) = (left, block);
            }
        }
        bounds.blocks = Some(nearest);
        bounds
    }

    /// The overlap between `top`, where the gap is open, and `bottom` at which it closes;
    /// `bottom` if it stays open.
    ///
    /// The width is concave and piecewise linear. Newton steps from the closed end therefore approach the
    /// root from one side and hit it exactly after at most one step for each piece.
    fn closes(&self, top: f64, bottom: f64) -> f64 {
        let mut overlap = bottom;
        loop {
            let bounds = self.bounds(overlap);
            let width = bounds.right - bounds.left;
            if width > ANGLE_TOLERANCE {
                return overlap;
            }
            let Some([left, right]) = bounds.blocks else { return bottom };
            let slope = right.shrink(FlankSide::Coast) + left.shrink(FlankSide::Drive);
            let next = overlap - width / slope;
            if slope >= 0.0 || next >= overlap || next <= top {
                return if slope >= 0.0 || next <= top { top } else { overlap };
            }
            overlap = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::{Dog, EvenRing, PerFlank, PlanForm, Ring};
    use crate::units::Angle;

    fn mesh(even: &EvenRing) -> Mesh {
        Mesh::new(&even.to_ring(), &even.to_ring()).expect("a ring meets itself")
    }

    /// Dogs by centre, width and height, with one undercut for all drive and one for all coast flanks.
    fn measured(dogs: &[(f64, f64, f64)], back_cut_deg: PerFlank<f64>) -> Ring {
        let dog = |(place, &(centre_deg, width_deg, height_mm))| Dog {
            back_cut: back_cut_deg.map(Angle::from_degrees),
            ..Dog::straight(
                place,
                Angle::from_degrees(centre_deg),
                Angle::from_degrees(width_deg),
                height_mm,
            )
        };
        let dogs = dogs.iter().enumerate().map(dog).collect();
        Ring { inner_radius_mm: 22.0, outer_radius_mm: 30.0, form: PlanForm::Radial, dogs }
    }

    #[test]
    fn tapered_flanks_jam_where_the_gap_closes() {
        // The gap of 60° − 2·29.2° at the tips shrinks by 2·x·tan 6°/26 mm.
        let back_cut_deg = PerFlank::both(-6.0);
        let even = EvenRing { tip_width_deg: 29.2, back_cut_deg, ..EvenRing::default() };
        let got = mesh(&even).engage(4.9);
        let want = 1.6_f64.to_radians() * 26.0 / (2.0 * libm::tan(6_f64.to_radians()));
        let jam = got.jam.expect("it closes above full depth");
        assert!((jam.overlap_mm - want).abs() < 1e-6, "{jam:?} {want}");
        assert!(got.windows.is_empty());
    }

    #[test]
    fn short_dogs_stop_it_though_undercut_opens_it_again_below() {
        // Every second dog low: wide windows for the tall ones, closed at 2.5 mm by the low ones,
        // whose own pockets would open again a little deeper.
        let even = EvenRing {
            tip_width_deg: 30.3,
            heights: &[1.0, 0.5],
            back_cut_deg: PerFlank::both(4.0),
            ..EvenRing::default()
        };
        let mesh = mesh(&even);
        assert!(!mesh.windows_at(4.5, Edges::Sharp).is_empty());
        let got = mesh.engage(4.5);
        assert_eq!(got.jam, Some(Jam { overlap_mm: 2.5 }));
    }

    #[test]
    fn a_pocket_that_opens_again_below_is_not_a_way_in() {
        // The pocket between the first two dogs is closed where the second comes level, at 1 mm, and
        // open again at 2.5 mm, where the third splits the other gap: that gives two windows of three.
        let undercut = PerFlank::both(4.0);
        let lone = measured(&[(0.0, 30.0, 5.0)], undercut);
        let three = measured(&[(0.0, 30.0, 5.0), (59.8, 30.0, 4.0), (180.0, 30.0, 2.5)], undercut);
        let mesh = Mesh::new(&three, &lone).expect("they share a band");
        let shape = mesh.windows_at(4.5, Edges::Sharp);
        let got = mesh.engage(4.5);
        assert_eq!((shape.len(), got.jam), (3, None));
        let wide: Vec<_> = shape.into_iter().filter(|w| w.width.degrees() > 10.0).collect();
        assert_eq!((wide.len(), got.windows), (2, wide));
    }

    #[test]
    fn windows_wander_with_dogs_that_lean() {
        // Undercut on one flank and tapered on the other: the windows move past the places where
        // the tips stood tip on tip, and stay open all the way.
        let ring = |centres: [f64; 2]| {
            let leaning = PerFlank { drive: 20.0, coast: -15.0 };
            measured(&centres.map(|centre_deg| (centre_deg, 3.0, 8.4)), leaning)
        };
        let mesh = Mesh::new(&ring([0.0, 12.0]), &ring([0.0, 352.0])).expect("they share a band");
        for depth in [0.5, 2.0, 4.0, 6.0, 8.0] {
            let got = mesh.engage(depth);
            assert_eq!(got.windows.len(), 3, "{depth}: {got:?}");
            assert_eq!(got.windows, mesh.windows_at(depth, Edges::Sharp));
        }
    }

    #[test]
    fn webs_limit_the_depth() {
        let got = mesh(&EvenRing::default()).engage(7.0);
        assert_eq!((got.full_depth_mm, got.limit), (5.0, DepthLimit::Web(Side::A)));
        assert_eq!(got.windows.len(), 6);
    }
}
