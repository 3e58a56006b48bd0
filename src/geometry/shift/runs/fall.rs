//! A fall through the gaps between straight flanks.

use super::gap_tree::{GapNode, GapTree, PartKind};
use super::times::Times;
use crate::shift::outcome::Outcome;
use crate::shift::outcome_bounds::OutcomeBounds;

/// How a ring falls: its slip, rad/s, and when it reaches which overlap.
#[derive(Clone, Copy)]
pub(super) struct Fall<'a> {
    pub(super) slip: f64,
    pub(super) times: &'a Times,
}

/// How a fall ends.
pub(super) enum Landing {
    /// In, or held half in.
    Ends(OutcomeBounds),
    /// Thrown back onto a segment of land after a time, s.
    Thrown { segment: usize, seconds: f64 },
    /// Onto a segment of land after a time, s, with an angle, rad, left to its end.
    Top { segment: usize, left: f64, seconds: f64 },
}

impl GapTree {
    /// How a fall from a place in a gap ends, and by how much the place or the slip can grow before
    /// it ends differently. `more` turns the angle (rad) that is left after a time (s) into that growth.
    pub(super) fn fall(
        &self,
        gap: usize,
        place: f64,
        fall: &Fall<'_>,
        more: impl Fn(f64, f64) -> f64,
    ) -> (Landing, f64) {
        let Fall { slip, times } = *fall;
        let (mut gap, mut place) = (&self.gaps[gap], place);
        let mut least = f64::INFINITY;
        loop {
            let room = gap.width - place;
            let next = times.levels.get(gap.level + 1).copied().unwrap_or(times.full);
            if room < slip * next {
                return gap.wall(room, fall, least, more);
            }
            let there = place + slip * next;
            let Some(part) = gap.parts.iter().find(|part| there < part.to).or(gap.parts.last())
            else {
                let bounds = OutcomeBounds::last(Outcome::StraightIn, next);
                return (Landing::Ends(bounds), least.min(more(room - slip * next, next)));
            };
            let left = part.to - there;
            least = least.min(more(left, next));
            match part.kind {
                PartKind::Land(segment) => {
                    return (Landing::Top { segment, left, seconds: next }, least);
                }
                PartKind::Gap(below) => {
                    (gap, place) = (&self.gaps[below], place - part.from);
                }
            }
        }
    }
}

impl GapNode {
    /// How a fall ends that meets the flank at the end of the gap before the next level.
    fn wall(
        &self,
        room: f64,
        Fall { slip, times }: &Fall<'_>,
        least: f64,
        more: impl Fn(f64, f64) -> f64,
    ) -> (Landing, f64) {
        let holds = times.holds[self.wall_level];
        let left = room - slip * holds;
        if left < 0.0 {
            return (Landing::Thrown { segment: self.segment, seconds: room / slip }, least);
        }
        let outcome = if self.leads_in { Outcome::StraightIn } else { Outcome::HalfIn };
        (Landing::Ends(OutcomeBounds::last(outcome, times.full)), least.min(more(left, holds)))
    }
}
