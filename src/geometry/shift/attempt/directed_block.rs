//! Blocks as the moving ring meets them.

use std::f64::consts::TAU;

use super::lands::SAME_RAD;
use crate::pair::{Block, Edges, wrapped};
use crate::ring::FlankSide;

/// Blocks repeat round the circle if they are turned by the same angle to within this, rad.
const TURNED_RAD: f64 = 1e-9;

/// A ring this close to a block (rad) can still lie on its edge, to within rounding.
const BESIDE_RAD: f64 = 1e-9;

/// A block as the moving ring meets it. Its near end is met first, whatever the direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::shift) struct DirectedBlock {
    middle: f64,
    pub(super) starts_mm: f64,
    /// The level on which a ring lies on its tip, once the blocks are sorted into levels.
    pub(super) level: usize,
    /// Its index among the blocks that begin where it does.
    pub(super) index: usize,
    pub(super) near: BlockReach,
    far: BlockReach,
    /// Where its near end reaches at most and its greatest width, over all overlaps, a little wider than it is.
    widest: (f64, f64),
    /// The greatest and the least reach of its near end.
    near_most: f64,
    least_near: f64,
}

/// How far a block reaches from its middle: straight over the overlap, less the edge breaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct BlockReach {
    at_edge: f64,
    at_edge_end: f64,
    pub(super) edge_end_mm: f64,
    per_mm: f64,
}

impl BlockReach {
    fn new(block: &Block, side: FlankSide) -> Self {
        let end = block.edge_ends_mm();
        Self {
            at_edge: block.reach(side, block.starts_mm, Edges::Broken),
            at_edge_end: block.reach(side, end, Edges::Broken),
            edge_end_mm: end - block.starts_mm,
            per_mm: -block.shrink(side),
        }
    }

    /// The reach at a depth below the tips of the two dogs.
    pub(super) fn at(&self, depth_mm: f64) -> f64 {
        let depth_mm = depth_mm.max(0.0);
        if depth_mm >= self.edge_end_mm {
            return self.at_edge_end + (depth_mm - self.edge_end_mm) * self.per_mm;
        }
        self.at_edge + depth_mm * self.edge_slope()
    }

    /// The greatest reach down to a depth.
    fn most_to(&self, depth_mm: f64) -> f64 {
        self.ends_to(depth_mm).into_iter().fold(f64::NEG_INFINITY, f64::max)
    }

    /// The least reach down to a depth.
    fn least_to(&self, depth_mm: f64) -> f64 {
        self.ends_to(depth_mm).into_iter().fold(f64::INFINITY, f64::min)
    }

    /// The reach at the ends of the straight pieces down to a depth.
    fn ends_to(&self, depth_mm: f64) -> [f64; 3] {
        [0.0, self.edge_end_mm.min(depth_mm), depth_mm].map(|depth| self.at(depth))
    }

    fn edge_slope(&self) -> f64 {
        (self.at_edge_end - self.at_edge) / self.edge_end_mm
    }
}

impl DirectedBlock {
    pub(super) fn new(block: &Block, direction: f64, full_mm: f64) -> Self {
        let sides = [FlankSide::Coast, FlankSide::Drive];
        let [near, far] = if direction > 0.0 { sides } else { [sides[1], sides[0]] };
        let middle = direction * block.phase.radians();
        let (near, far) = (BlockReach::new(block, near), BlockReach::new(block, far));
        let depth = full_mm - block.starts_mm;
        let (near_most, far_most) = (near.most_to(depth), far.most_to(depth));
        let least_near = near.least_to(depth);
        let widest = (middle - near_most - BESIDE_RAD, near_most + far_most + 2.0 * BESIDE_RAD);
        let starts_mm = block.starts_mm;
        Self { middle, starts_mm, level: 0, index: 0, near, far, widest, near_most, least_near }
    }

    /// The same block with another middle, rad.
    pub(super) fn with_middle(self, middle: f64) -> Self {
        let begin = middle - self.near_most - BESIDE_RAD;
        Self { middle, widest: (begin, self.widest.1), ..self }
    }

    /// Where it begins at the overlap at which it reaches furthest, in `[0, 2π)`, and how wide it is at most.
    pub(super) fn widest(&self) -> (f64, f64) {
        (wrapped(self.widest.0), self.widest.1.max(0.0))
    }

    /// How far a fall turns at most that meets the block, if it has turned so far when it comes level with it; infinite
    /// if it is past the block then. Both count from where the block is widest.
    pub(super) fn stops_by(&self, turned: f64) -> f64 {
        let met = self.met_by(turned, self.starts_mm);
        let end = self.middle + self.far.at(0.0) - self.widest.0;
        if met.is_infinite() && turned <= end { turned + BESIDE_RAD } else { met }
    }

    /// How far a fall turns at most that meets the near end, if it has turned so far at an overlap; infinite if it is
    /// past that end then. Both count from where the block is widest.
    pub(super) fn met_by(&self, turned: f64, overlap_mm: f64) -> f64 {
        let begin = self.middle - self.widest.0;
        let is_before = turned <= begin - self.near.at(overlap_mm - self.starts_mm);
        if is_before { begin - self.least_near + BESIDE_RAD } else { f64::INFINITY }
    }

    /// The middle of the block, in `[0, 2π)`.
    pub(super) fn turn(&self) -> f64 {
        wrapped(self.middle)
    }

    /// The start and the width of its tip.
    pub(super) fn top(&self) -> (f64, f64) {
        let (near, far) = (self.near.at(0.0), self.far.at(0.0));
        (self.middle - near, near + far)
    }

    /// Whether the block has the same width at every depth.
    pub(super) fn is_straight(&self) -> bool {
        [&self.near, &self.far].into_iter().all(|r| r.per_mm == 0.0 && r.edge_end_mm == 0.0)
    }

    /// Whether another block differs by less than can be measured.
    pub(super) fn is_twin(&self, other: &Self) -> bool {
        let [a, b] = [self, other].map(|block| {
            let reach = |r: &BlockReach| [r.at_edge, r.at_edge_end, r.edge_end_mm, r.per_mm];
            ([block.starts_mm, block.turn()], reach(&block.near), reach(&block.far))
        });
        let close = |a: f64, b: f64| (a - b).abs() < 1e-12;
        let all = |a: &[f64; 4], b: &[f64; 4]| a.iter().zip(b).all(|(a, b)| close(*a, *b));
        close(a.0[0], b.0[0]) && close(a.0[1], b.0[1]) && all(&a.1, &b.1) && all(&a.2, &b.2)
    }

    /// Whether another block is the same, turned by an angle.
    pub(super) fn is_turned(&self, other: &Self, by: f64) -> bool {
        let off = wrapped(other.middle - self.middle - by + TURNED_RAD);
        off < 2.0 * TURNED_RAD && self.is_twin(&Self { middle: self.middle, ..*other })
    }

    /// How far ahead of `u` the near end lies at an overlap, in `[0, 2π)`. A flank that is touched is at
    /// 0: rounding must not move it a whole turn away.
    pub(super) fn to_near(self, u: f64, overlap_mm: f64) -> f64 {
        ahead(self.near_end(overlap_mm), u)
    }

    /// Where its near end lies at an overlap, rad.
    pub(super) fn near_end(&self, overlap_mm: f64) -> f64 {
        self.middle - self.near.at(overlap_mm - self.starts_mm)
    }

    /// The least angle that can be left ahead of a ring at an overlap before the near end, when the ring has swept so
    /// much more, rad.
    pub(super) fn room_left(&self, u: f64, overlap_mm: f64, swept: f64) -> f64 {
        let flank = self.near_end(overlap_mm);
        ahead(flank, u) - (flank - self.widest.0) - swept
    }

    /// Whether its far end, where it reaches furthest, lies beyond its near end at an overlap.
    pub(super) fn is_there(&self, overlap_mm: f64) -> bool {
        self.widest.0 + self.widest.1 > self.near_end(overlap_mm)
    }

    /// How far ahead of `u` the far end lies, if `u` is on the block at an overlap.
    pub(super) fn to_far(self, u: f64, overlap_mm: f64) -> Option<f64> {
        let depth = overlap_mm - self.starts_mm;
        let (near, far) = (self.near.at(depth), self.far.at(depth));
        let from_near = wrapped(u - self.middle + near);
        let width = near + far;
        // Rounding must not let a ring at the very edge of a land miss it.
        if from_near <= width {
            Some(width - from_near)
        } else {
            (TAU - from_near < SAME_RAD).then_some(width)
        }
    }
}

/// How far ahead of `u` a flank lies, in `[0, 2π)`; at 0 if it is touched.
pub(super) fn ahead(flank: f64, u: f64) -> f64 {
    let ahead = wrapped(flank - u);
    if TAU - ahead < SAME_RAD { 0.0 } else { ahead }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A block from −0.2 to 0.3 rad round a middle of 1 rad, with square flanks.
    fn block() -> DirectedBlock {
        let reach =
            |rad| BlockReach { at_edge: rad, at_edge_end: rad, edge_end_mm: 0.0, per_mm: 0.0 };
        let (near, far) = (reach(0.2), reach(0.3));
        DirectedBlock {
            middle: 1.0,
            starts_mm: 0.0,
            level: 0,
            index: 0,
            near,
            far,
            widest: (0.8, 0.5),
            near_most: 0.2,
            least_near: 0.2,
        }
    }

    #[test]
    fn a_flank_that_is_touched_is_not_a_whole_turn_ahead() {
        let is = |u: f64, want: f64| {
            let ahead = block().to_near(u, 1.0);
            assert!((ahead - want).abs() < 1e-6, "from {u}: {ahead}");
        };
        is(0.5, 0.3);
        is(0.8, 0.0);
        // Past it by what rounding leaves, and by more.
        is(0.8 + 0.1 * SAME_RAD, 0.0);
        is(0.9, TAU - 0.1);
    }
}
