//! The room between straight flanks, level by level: the gaps that a fall passes through, and the
//! segments of land between them.

use std::f64::consts::TAU;

/// Land without a wall on it: a tip that lands here rubs along to its end.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LandSegment {
    pub(super) level: usize,
    /// Where it begins, rad.
    pub(super) begin: f64,
    pub(super) length: f64,
    pub(super) end: SegmentEnd,
}

/// What is at the end of a segment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum SegmentEnd {
    /// The land ends, and the ring falls into a gap.
    Edge { gap: usize },
    /// A flank that is met deep enough below its tip to hold.
    Holds,
    /// A flank that throws the ring back onto the segment that begins on its top.
    Throws { segment: usize },
}

/// A gap at a level, between the blocks that begin there or above.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GapNode {
    pub(super) level: usize,
    pub(super) width: f64,
    /// The segment on top of the flank at the end of the gap, and the level of that segment.
    pub(super) segment: usize,
    pub(super) wall_level: usize,
    /// Whether the flank, once it holds, leads on to full depth.
    pub(super) leads_in: bool,
    /// The parts of the gap at the next level; empty at the last level.
    pub(super) parts: Vec<GapPart>,
}

/// A part of a gap at the level below, or of the whole circle at the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct GapPart {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) kind: PartKind,
}

/// The kind of a part, with the index of its segment or gap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum PartKind {
    Land(usize),
    Gap(usize),
}

/// All gaps and segments of a pair of rings.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GapTree {
    pub(super) gaps: Vec<GapNode>,
    pub(super) segments: Vec<LandSegment>,
    /// The whole circle at tip level, from `origin`.
    pub(super) circle: Vec<GapPart>,
    pub(super) origin: f64,
}

impl GapTree {
    /// The shortest segment on top of a flank, rad: the least angle that is rubbed after a strike.
    pub(super) fn shortest_rad(&self) -> f64 {
        let struck = self.gaps.iter().map(|gap| self.segments[gap.segment].length);
        struck.fold(TAU, f64::min)
    }
}
