//! The room between straight flanks: pockets that a fall passes through, and the stretches of land
//! between them, level by level.

use std::f64::consts::TAU;

/// A stretch of land without a wall in between: tips on it rub along to its end.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LandSegment {
    pub(super) level: usize,
    /// The start of the stretch, rad.
    pub(super) begin: f64,
    pub(super) length: f64,
    pub(super) end: SegmentEnd,
}

/// What is at the end of a stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum SegmentEnd {
    /// The land ends, and the ring falls into a pocket.
    Edge { pocket: usize },
    /// A flank that is met deep enough below its tip to hold.
    Holds,
    /// A flank that throws the ring back, onto the stretch that begins there.
    Throws { stretch: usize },
}

/// A gap at a level, between the blocks that begin there or above.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GapNode {
    pub(super) level: usize,
    pub(super) width: f64,
    /// The stretch on top of the flank at the end of the gap, and the level of that stretch.
    pub(super) stretch: usize,
    pub(super) wall_level: usize,
    /// Whether the flank, once it holds, leads on to full depth.
    pub(super) leads_in: bool,
    /// The parts of the gap at the next level; empty at the last level.
    pub(super) parts: Vec<Part>,
}

/// A part of a pocket at the level below, or of the whole circle at the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Part {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) kind: PartKind,
}

/// The kind of a part, with the index of its stretch or pocket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum PartKind {
    Land(usize),
    Gap(usize),
}

/// All pockets and stretches of a pair.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GapTree {
    pub(super) pockets: Vec<GapNode>,
    pub(super) stretches: Vec<LandSegment>,
    /// The whole circle at tip level, from `origin`.
    pub(super) circle: Vec<Part>,
    pub(super) origin: f64,
}

impl GapTree {
    /// The shortest stretch on top of a flank, rad: the least angle that is rubbed after a strike.
    pub(super) fn shortest_rad(&self) -> f64 {
        let struck = self.pockets.iter().map(|pocket| self.stretches[pocket.stretch].length);
        struck.fold(TAU, f64::min)
    }
}
