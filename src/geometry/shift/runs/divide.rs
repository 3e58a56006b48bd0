//! Divides the circle into gaps and segments of land, from the tips down.

use std::f64::consts::TAU;

use super::gap_tree::{GapNode, GapPart, GapTree, LandSegment, PartKind, SegmentEnd};
use crate::pair::wrapped;
use crate::shift::attempt::{Lands, Level, SAME_MM, SAME_RAD, Shifter};
use crate::units::sort_by_number;

/// Sums of angles that lead to the same place in different ways differ by less than this, rad.
const SAME_BEGIN_RAD: f64 = 1e-9;

/// With more levels than this no two dogs are alike, and dividing costs more than it saves.
const MOST_LEVELS: usize = 64;

/// A flank at the end of a gap: the level at which its block begins, and its place.
#[derive(Clone, Copy)]
struct Wall {
    level: usize,
    at: f64,
}

/// A gap that is about to be divided.
#[derive(Clone, Copy)]
struct Gap {
    begin: f64,
    width: f64,
    wall: Wall,
}

impl GapTree {
    /// Divides the circle; `None` if flanks lean, edges are broken, no window is open, or there are too many
    /// heights.
    pub(super) fn of(shifter: &Shifter) -> Option<Self> {
        let levels = &shifter.levels;
        let top = levels.first()?;
        let open = top.lands.spans.iter().all(|span| span[1].is_finite());
        if !open || levels.len() > MOST_LEVELS || !levels.iter().all(Level::is_straight) {
            return None;
        }
        let origin = top.lands.origin;
        let mut builder = Builder { shifter, gaps: Vec::new(), segments: Vec::new() };
        let wall = Wall { level: 0, at: origin };
        let circle = builder.divide(0, Gap { begin: origin, width: TAU, wall });
        let (gaps, segments) = builder.joined()?;
        Some(Self { gaps, segments, circle, origin })
    }
}

/// Gaps and segments in the order in which they are found, each with the wall at its end. The segment
/// on top of a wall is known only when all are found.
struct Builder<'a> {
    shifter: &'a Shifter,
    gaps: Vec<(GapNode, Wall)>,
    segments: Vec<(LandSegment, Wall)>,
}

impl Builder<'_> {
    /// Divides a gap into its segments and narrower gaps at a level.
    fn divide(&mut self, level: usize, gap: Gap) -> Vec<GapPart> {
        let Some(here) = self.shifter.levels.get(level) else { return Vec::new() };
        let mut parts = Vec::new();
        let mut done = 0.0;
        for [from, to] in spans_within(&here.lands, &gap) {
            if from > done + SAME_RAD {
                let wall = Wall { level, at: gap.begin + from };
                let before = Gap { begin: gap.begin + done, width: from - done, wall };
                let node = self.gap_node(level, before);
                self.add_gap(&mut parts, GapPart::gap(done, from, node));
            }
            let segment = self.segment(level, gap.begin + from, to - from, gap.wall);
            parts.push(GapPart { from, to, kind: PartKind::Land(segment) });
            done = to;
        }
        if done < gap.width - SAME_RAD {
            let rest = Gap { begin: gap.begin + done, width: gap.width - done, wall: gap.wall };
            let node = self.gap_node(level, rest);
            self.add_gap(&mut parts, GapPart::gap(done, gap.width, node));
        }
        parts
    }

    /// Adds a narrower gap to the parts of a gap. A segment before it ends at an edge, not at a wall.
    fn add_gap(&mut self, parts: &mut Vec<GapPart>, (part, gap): (GapPart, usize)) {
        if let Some(GapPart { kind: PartKind::Land(before), .. }) = parts.last() {
            self.segments[*before].0.end = SegmentEnd::Edge { gap };
        }
        parts.push(part);
    }

    fn gap_node(&mut self, level: usize, gap: Gap) -> usize {
        let parts = self.divide(level + 1, gap);
        let mut below = self.shifter.levels[level + 1..].iter();
        let leads_in = !below.any(|level| level.lands.are_beside(gap.begin + gap.width));
        let (width, wall_level) = (gap.width, gap.wall.level);
        let node = GapNode { level, width, segment: 0, wall_level, leads_in, parts };
        self.gaps.push((node, gap.wall));
        self.gaps.len() - 1
    }

    /// Adds a segment that ends at the wall of its gap.
    fn segment(&mut self, level: usize, begin: f64, length: f64, wall: Wall) -> usize {
        let depth = |level: usize| self.shifter.levels[level].depth_mm;
        let holds = depth(level) - depth(wall.level) >= self.shifter.conditions.hold_mm - SAME_MM;
        let end = if holds { SegmentEnd::Holds } else { SegmentEnd::Throws { segment: 0 } };
        self.segments.push((LandSegment { level, begin, length, end }, wall));
        self.segments.len() - 1
    }

    /// The segment that begins on top of a wall.
    fn on_top(&self, wall: &Wall) -> Option<usize> {
        let begins = |(segment, _): &(LandSegment, Wall)| {
            let off = wrapped(segment.begin - wall.at + SAME_BEGIN_RAD);
            segment.level == wall.level && off <= 2.0 * SAME_BEGIN_RAD
        };
        self.segments.iter().position(begins)
    }

    /// Replaces each wall by the segment on top of it.
    fn joined(self) -> Option<(Vec<GapNode>, Vec<LandSegment>)> {
        let gap = |(node, wall): &(GapNode, Wall)| {
            Some(GapNode { segment: self.on_top(wall)?, ..node.clone() })
        };
        let segment = |(segment, wall): &(LandSegment, Wall)| {
            let end = match segment.end {
                SegmentEnd::Throws { .. } => SegmentEnd::Throws { segment: self.on_top(wall)? },
                end => end,
            };
            Some(LandSegment { end, ..segment.clone() })
        };
        let gaps = self.gaps.iter().map(gap).collect::<Option<_>>()?;
        Some((gaps, self.segments.iter().map(segment).collect::<Option<_>>()?))
    }
}

impl GapPart {
    fn gap(from: f64, to: f64, node: usize) -> (Self, usize) {
        (Self { from, to, kind: PartKind::Gap(node) }, node)
    }
}

/// The lands in a gap, in order, as angles from its start, cut off at its wall.
fn spans_within(lands: &Lands, gap: &Gap) -> Vec<[f64; 2]> {
    let mut within = Vec::new();
    for span in &lands.spans {
        let from = wrapped(lands.origin + span[0] - gap.begin + SAME_RAD) - SAME_RAD;
        let to = from + span[1] - span[0];
        // A land that begins before the gap can reach into it.
        for [from, to] in [[from, to], [from - TAU, to - TAU]] {
            if from < gap.width - SAME_RAD && to > SAME_RAD {
                within.push([from.max(0.0), to.min(gap.width)]);
            }
        }
    }
    sort_by_number(&mut within, |part| part[0]);
    within
}
