//! The outcome of a shift as a function of its slip at the end of a land, or of the place where it starts.
//!
//! A ring that leaves a land starts from rest at the edge of that land, whatever came before: only its
//! slip tells shifts apart. The outcome is therefore a function of the slip alone, the same in every row
//! of the map, and constant over ranges of slip. All falls and lands keep the order of slips, so each
//! function here returns the outcome together with the slip up to which it is unchanged.
//!
//! That alone does not tell which shifts take longer than the time allowed, so every outcome carries
//! bounds of its time. Within one range of slip all legs are of the same kinds. A fall to a level takes
//! the same time for all. A fall to a wall takes room/Δω. Rubbing along a land takes (Δω − Δω')/deceleration,
//! which is 2·length/(Δω + Δω'). The last two get shorter as the ring gets faster, or as it starts
//! further on. So every leg is longest at the start of the range and shortest at its end, and the sums
//! of the longest and of the shortest legs bound the whole time.
//!
//! Two last legs are exceptions: a slide to a stop takes at most as long as one that stops just at the
//! end of its land, and a fall that is caught takes at most as long as one to full depth. The lower
//! bound of both is 0.

use super::fall::{Fall, Landing};
use super::gap_tree::{GapPart, GapTree, LandSegment, PartKind, SegmentEnd};
use super::times::Times;
use crate::shift::attempt::{Level, Shifter};
use crate::shift::outcome::Outcome;
use crate::shift::outcome_bounds::OutcomeBounds;

/// An outcome, and the square of the slip up to which it is unchanged.
type UpTo = (OutcomeBounds, f64);

/// The slip Δω with which a ring begins to rub along a segment, by the square q of its slip at the end.
#[derive(Clone, Copy)]
enum SlipBefore {
    /// The same Δω, however the rubbing ends.
    Given(f64),
    /// Δω² + 2·`half`·Δω = `whole` + q.
    Solves { half: f64, whole: f64 },
}

impl SlipBefore {
    fn at(self, end_square: f64) -> f64 {
        match self {
            Self::Given(slip) => slip,
            Self::Solves { half, whole } => (half * half + whole + end_square).sqrt() - half,
        }
    }
}

/// The outcomes of a ring that leaves an edge, in order of its slip.
#[derive(Clone, Debug, Default, PartialEq)]
struct Table(Vec<UpTo>);

impl Table {
    fn end(&self) -> f64 {
        self.0.last().map_or(0.0, |last| last.1)
    }

    fn at(&self, square: f64) -> Option<UpTo> {
        self.0.get(self.0.partition_point(|piece| piece.1 <= square)).copied()
    }
}

/// The outcomes of all shifts of a pair of rings.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct OutcomeTable {
    pub(super) rings: GapTree,
    start: Times,
    /// Falls from rest at each level.
    rests: Vec<Times>,
    /// Twice the slip lost in a second: the square of the slip falls by so much in a radian.
    per_rad: f64,
    /// The share of the slip that is left after a strike.
    kept: f64,
    /// One for each gap, filled in only as far as it was asked for.
    tables: Vec<Table>,
}

impl OutcomeTable {
    /// `None` where nothing slows the slip or moves the ring, or where the flanks are not straight.
    pub(super) fn of(shifter: &Shifter) -> Option<Self> {
        let given = &shifter.conditions;
        let per_rad = 2.0 * given.slip_deceleration();
        if per_rad.is_nan() || per_rad <= 0.0 {
            return None;
        }
        let rings = GapTree::of(shifter)?;
        let start = Times::new(shifter, 0.0, given.travel.start_speed_m_per_s);
        let rest = |level: &Level| Times::new(shifter, level.depth_mm, 0.0);
        let rests: Vec<_> = shifter.levels.iter().map(rest).collect();
        if !rests.iter().chain([&start]).all(Times::are_finite) {
            return None;
        }
        Some(Self {
            start,
            rests,
            per_rad,
            kept: 1.0 - given.strike_loss,
            tables: vec![Table::default(); rings.gaps.len()],
            rings,
        })
    }

    /// How often a ring can be thrown back at most. Before it can be thrown back again it rubs along a
    /// whole segment, which takes at least so much off the square of its slip.
    pub(super) fn most_strikes(&self, slip: f64) -> f64 {
        slip * slip / (self.per_rad * self.rings.shortest_rad())
    }

    /// The outcome of a shift that starts at tip level, at a place in a part of the circle, and how much
    /// further on, in radians, it is unchanged.
    pub(super) fn at_start(
        &mut self,
        part: &GapPart,
        place: f64,
        slip: f64,
    ) -> (OutcomeBounds, f64) {
        match part.kind {
            PartKind::Land(segment) => self.start_on(segment, part.to - place, slip),
            PartKind::Gap(gap) => self.start_over(gap, place - part.from, slip),
        }
    }

    fn start_on(&mut self, segment: usize, left: f64, slip: f64) -> (OutcomeBounds, f64) {
        let (bounds, to) = self.rub(segment, left, slip, SlipBefore::Given(slip));
        (bounds, left - (slip * slip - to) / self.per_rad)
    }

    fn start_over(&mut self, gap: usize, place: f64, slip: f64) -> (OutcomeBounds, f64) {
        let fall = Fall { slip, times: &self.start };
        let (landing, more) = self.rings.fall(gap, place, &fall, |angle, _| angle);
        match landing {
            Landing::Ends(bounds) => (bounds, more),
            Landing::Thrown { segment, seconds } => {
                let (bounds, _) = self.thrown(segment, slip);
                (bounds.after([(seconds - more / slip).max(0.0), seconds]), more)
            }
            Landing::Top { segment, left, seconds } => {
                let (bounds, further) = self.start_on(segment, left, slip);
                (bounds.after([seconds; 2]), more.min(further))
            }
        }
    }

    /// The outcome of a ring that leaves an edge over a gap with this square of its slip.
    fn off_edge(&mut self, gap: usize, square: f64) -> UpTo {
        loop {
            if let Some(found) = self.tables[gap].at(square) {
                return found;
            }
            let end = self.tables[gap].end();
            let (bounds, to) = self.next_piece(gap, end);
            // Each piece is longer than rounding, so that the loop always gets on.
            self.tables[gap].0.push((bounds, to.max(end * (1.0 + 1e-12) + 1e-15)));
        }
    }

    /// The piece of a table that begins at this square of the slip.
    ///
    /// It only needs pieces at lower slips: a ring that returns to this edge has rubbed on its way.
    fn next_piece(&mut self, gap: usize, square: f64) -> UpTo {
        let slip = square.sqrt();
        let times = &self.rests[self.rings.gaps[gap].level];
        let fall = Fall { slip, times };
        let (landing, more) = self.rings.fall(gap, 0.0, &fall, |angle, seconds| angle / seconds);
        let most = (slip + more) * (slip + more);
        match landing {
            Landing::Ends(bounds) => (bounds.after_rubbing(), most),
            Landing::Thrown { segment, seconds } => {
                let (bounds, to) = self.thrown(segment, slip);
                let end = most.min(to);
                (bounds.after([seconds * slip / end.sqrt(), seconds]), end)
            }
            Landing::Top { segment, left, seconds } => {
                // A faster ring lands further on and has less to rub. The slip Δω with which it leaves
                // this edge solves Δω² − k·(left − (Δω − slip)·t) = q.
                let before = SlipBefore::Solves {
                    half: self.per_rad * seconds / 2.0,
                    whole: self.per_rad * (left + slip * seconds),
                };
                let (bounds, to) = self.rub(segment, left, slip, before);
                (bounds.after([seconds; 2]), most.min(before.at(to) * before.at(to)))
            }
        }
    }

    /// The outcome of a ring that a flank throws back onto the land on its top.
    fn thrown(&mut self, segment: usize, slip: f64) -> UpTo {
        let length = self.rings.segments[segment].length;
        let taken = self.per_rad * length;
        let before = SlipBefore::Solves { half: 0.0, whole: taken };
        let (bounds, to) = self.rub(segment, length, slip * self.kept, before);
        (bounds.struck(), (to + taken) / (self.kept * self.kept))
    }

    /// The outcome of a ring that rubs along the rest of a segment.
    ///
    /// The square of the slip up to which the outcome is unchanged is taken at the end of the segment.
    fn rub(&mut self, segment: usize, left: f64, slip: f64, before: SlipBefore) -> UpTo {
        let LandSegment { level, end, .. } = self.rings.segments[segment];
        let rest = slip * slip - self.per_rad * left;
        if rest <= 0.0 {
            let outcome = if level > 0 { Outcome::HalfIn } else { Outcome::Locked };
            // The longest slide is the one that stops just at the end.
            return (OutcomeBounds::last(outcome, 2.0 * (left / self.per_rad).sqrt()), 0.0);
        }
        let (bounds, to) = match end {
            SegmentEnd::Edge { gap } => self.off_edge(gap, rest),
            SegmentEnd::Holds => (OutcomeBounds::last(Outcome::HalfIn, 0.0), f64::INFINITY),
            SegmentEnd::Throws { segment } => self.thrown(segment, rest.sqrt()),
        };
        let seconds = |slip: f64, end_square: f64| (slip - end_square.sqrt()) * 2.0 / self.per_rad;
        let least = if to.is_finite() { seconds(before.at(to), to).max(0.0) } else { 0.0 };
        (bounds.after([least, seconds(slip, rest)]).after_rubbing(), to)
    }
}
