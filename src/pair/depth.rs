//! How deep the rings go in, and where they jam.

use std::f64::consts::TAU;

use super::block::{Block, Edges, Mesh, OVERLAP_TOLERANCE_MM};
use super::circle::{ANGLE_TOLERANCE, Arc};
use crate::ring::{FlankSide, Side};
use crate::units::Angle;

/// What sets the full depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DepthLimit {
    /// The overlap asked for.
    Asked,
    /// The tips of the other ring meet the web of this one.
    Web(Side),
}

/// The rings cannot reach full depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jam {
    /// Overlap at which the last way in closes, mm; 0 if none opens at all.
    pub overlap_mm: f64,
}

/// The rings at full depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Engagement {
    /// The overlap reached if nothing jams, mm.
    pub full_depth_mm: f64,
    /// What sets it.
    pub limit: DepthLimit,
    /// The windows there that can be reached from the entry, in order; empty when it jams.
    pub windows: Vec<Arc>,
    /// Where it jams, if it does.
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
    /// How deep the rings go when an overlap is asked for: the least of that and the depths at
    /// which a tip meets a web, and no deeper than a way in stays open.
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

    /// The windows at a depth that a shift can get to from the entry, or where it jams on the way.
    fn reachable(&self, depth_mm: f64) -> (Vec<Arc>, Option<Jam>) {
        let windows = self.windows_at(depth_mm, Edges::Sharp);
        if depth_mm <= 0.0 {
            return (windows, None);
        }
        let blocks: Vec<&Block> = self.blocks.iter().filter(|b| b.starts_mm < depth_mm).collect();
        // A window that would be open at the entry even with all dogs in the way from the start is
        // open all the way, because its width is a concave function of the depth.
        let plain = |w: &&Arc| Gap::about(&blocks, w.middle()).width(0.0) > ANGLE_TOLERANCE;
        if !windows.is_empty() && windows.iter().all(|w| plain(&w)) {
            return (windows, None);
        }
        self.descend(depth_mm)
    }

    /// Follows every way in from one overlap at which new dogs come into play to the next.
    fn descend(&self, depth_mm: f64) -> (Vec<Arc>, Option<Jam>) {
        let mut steps: Vec<f64> =
            self.blocks.iter().map(|b| b.starts_mm).filter(|&x| x > 0.0 && x < depth_mm).collect();
        steps.sort_by(f64::total_cmp);
        steps.dedup_by(|a, b| *a - *b < OVERLAP_TOLERANCE_MM);
        steps.push(depth_mm);
        let mut top = 0.0;
        let mut ways = self.entry_windows(Edges::Sharp);
        for bottom in steps {
            if ways.is_empty() {
                return (ways, Some(Jam { overlap_mm: top }));
            }
            let limit = top + OVERLAP_TOLERANCE_MM;
            let blocks: Vec<_> = self.blocks.iter().filter(|b| b.starts_mm <= limit).collect();
            let gaps: Vec<_> = ways.iter().map(|way| Gap::about(&blocks, way.middle())).collect();
            let deepest = gaps.iter().map(|gap| gap.closes(top, bottom)).fold(top, f64::max);
            if deepest < bottom {
                return (Vec::new(), Some(Jam { overlap_mm: deepest }));
            }
            let open: Vec<_> = gaps.iter().filter_map(|gap| gap.window(bottom)).collect();
            ways = self.still_open(&open, bottom, bottom < depth_mm);
            top = bottom;
        }
        let jam = ways.is_empty().then_some(Jam { overlap_mm: top });
        (ways, jam)
    }

    /// The parts of `open` that stay open when the dogs that come level at `overlap_mm` join in.
    fn still_open(&self, open: &[Arc], overlap_mm: f64, joining: bool) -> Vec<Arc> {
        let windows = if joining {
            self.windows_past(overlap_mm, Edges::Sharp)
        } else {
            self.windows_at(overlap_mm, Edges::Sharp)
        };
        let inside = |w: &Arc| open.iter().any(|o| o.contains(w.middle()));
        windows.into_iter().filter(inside).collect()
    }
}

/// The room about one phase between the arcs on either side of it, as a function of overlap.
struct Gap<'a> {
    origin: f64,
    /// Each block with its middle, measured from the origin in `(0, 2π)`.
    around: Vec<(&'a Block, f64)>,
}

/// The two arcs that bound a gap at one overlap.
struct Bounds<'a> {
    left: f64,
    right: f64,
    blocks: Option<[&'a Block; 2]>,
}

impl<'a> Gap<'a> {
    fn about(blocks: &[&'a Block], phase: Angle) -> Self {
        let middle = |b: &Block| (b.phase - phase).wrapped().radians();
        Self { origin: phase.radians(), around: blocks.iter().map(|b| (*b, middle(b))).collect() }
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

    fn width(&self, overlap_mm: f64) -> f64 {
        let bounds = self.bounds(overlap_mm);
        bounds.right - bounds.left
    }

    fn window(&self, overlap_mm: f64) -> Option<Arc> {
        let Bounds { left, right, .. } = self.bounds(overlap_mm);
        let open = right - left > ANGLE_TOLERANCE;
        open.then(|| Arc::between(self.origin + left, self.origin + right))
    }

    /// The overlap between `top`, where the gap is open, and `bottom` at which it closes;
    /// `bottom` if it stays open.
    ///
    /// The width is concave and piecewise straight, so Newton steps from the closed end come up to
    /// the root from below and hit it exactly after at most one step for each piece.
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
