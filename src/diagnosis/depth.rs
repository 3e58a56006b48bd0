//! Checks of the depth along the shaft and of the fork.

use crenel_words::diagnosis as say;

use super::evidence::{CheckOutcome, Evidence, Judgement, KnownBy, blamed, known, past, past_zero};
use crate::fields::FieldId;
use crate::gauge::Gauge;
use crate::limits::wanted_depth_mm;
use crate::stack::{Depth, Facing, PerFacing};

impl Evidence<'_> {
    pub(super) fn wanted_depth_mm(&self) -> f64 {
        wanted_depth_mm(self.seen)
    }

    /// The chains, with the measured play of the fork instead of the given one.
    fn depth(&self) -> Option<Depth> {
        let depth = self.drawn.selector.depth.clone()?;
        let play_mm = self.measured(FieldId::SeenForkPlay).unwrap_or(depth.play_mm);
        Some(Depth { play_mm, ..depth })
    }

    /// The best known overlap: measured, else from the chain, else as drawn.
    pub(super) fn engaged_mm(&self) -> (f64, Option<KnownBy>) {
        let chain = || self.depth()?.given(Facing::This)?.pushed_in_mm(Facing::This).into();
        match known(self.measured(FieldId::SeenOverlap), chain) {
            Some((mm, by)) => (mm, Some(by)),
            None => (self.drawn.overlap_mm(), None),
        }
    }

    pub(super) fn neutral_clearance(&self) -> Judgement {
        let ids = PerFacing::from([FieldId::SeenClearanceThis, FieldId::SeenClearanceOther]);
        let sides = Facing::BOTH.map(|facing| {
            known(self.measured(ids[facing]), || {
                self.depth()?.given(facing)?.least_clearance_mm(facing).into()
            })
        });
        let mut outcome = self.both_ways(sides, say::measure_clearance, |clear, at| {
            (past_zero(clear), say::clearance(Facing::BOTH[at], clear))
        })?;
        outcome.says.push(say::clearance_limit());
        Ok(outcome)
    }

    pub(super) fn engaged_depth(&self) -> Judgement {
        let (engaged, known_by) = self.engaged_mm();
        let known_by = known_by.ok_or_else(say::measure_overlap)?;
        let (height, target) = (self.seen.lowest_tall_mm(), self.wanted_depth_mm());
        let says = say::engaged(engaged, height, target);
        Ok(CheckOutcome::new(known_by, past(Gauge::at_least(target, engaged)), vec![says]))
    }

    pub(super) fn fork_play(&self) -> Judgement {
        let chain = || self.drawn.selector.depth.as_ref().map(|depth| depth.play_mm);
        let (play, known_by) = known(self.measured(FieldId::SeenForkPlay), chain)
            .ok_or_else(say::measure_fork_play)?;
        let (engaged, by) = self.engaged_mm();
        by.ok_or_else(say::overlap_missing)?;
        let (cost, target) = (play / 2.0, self.wanted_depth_mm());
        let says = say::fork_play_costs(play, cost, engaged, engaged + cost, target);
        // The play is blamed for no more than it costs.
        Ok(CheckOutcome::new(known_by, blamed(target - engaged, cost, target), vec![says]))
    }
}
