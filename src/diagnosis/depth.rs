//! Checks of the depth along the shaft and of the fork.

use super::evidence::{BASE, CheckOutcome, Evidence, Judgement, KnownBy, blamed, known, past_zero};
use crate::fields::FieldId;
use crate::findings::ENGAGED_SHARE;
use crate::stack::{Depth, Facing, PerFacing};

impl Evidence<'_> {
    pub(super) fn wanted_depth_mm(&self) -> f64 {
        ENGAGED_SHARE * self.seen.lowest_tall_mm()
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
        let missing = "Measure both sides, or give the chains under Depth.";
        let mut outcome = self.both_ways(sides, missing, |tracer, clear, at| {
            let facing = Facing::BOTH[at].words();
            (past_zero(clear), format!("{} to {facing}", tracer.mm(clear)))
        })?;
        outcome.message = format!("At its least {} More than nothing is needed.", outcome.message);
        Ok(outcome)
    }

    pub(super) fn engaged_depth(&self) -> Judgement {
        let (engaged, known_by) = self.engaged_mm();
        let known_by = known_by.ok_or("Measure it, or give the chain under Depth.")?;
        let wanted = self.wanted_depth_mm();
        Ok(CheckOutcome {
            known_by,
            exceedance: (wanted - engaged) / wanted,
            message: format!(
                "{} engaged of {} that the dogs stand high; three quarters are {}.",
                self.mm(engaged),
                self.mm(self.seen.lowest_tall_mm()),
                self.mm(wanted)
            ),
            ..BASE
        })
    }

    pub(super) fn fork_play(&self) -> Judgement {
        let chain = || self.drawn.selector.depth.as_ref().map(|depth| depth.play_mm);
        let (play, known_by) = known(self.measured(FieldId::SeenForkPlay), chain)
            .ok_or("Measure it, or give fork and groove under Depth.")?;
        let (engaged, by) = self.engaged_mm();
        by.ok_or("Measure the overlap too, or give the chain under Depth.")?;
        let (without, wanted) = (engaged + play / 2.0, self.wanted_depth_mm());
        Ok(CheckOutcome {
            known_by,
            // The play is blamed for no more than it costs.
            exceedance: blamed(wanted - engaged, play / 2.0, wanted),
            message: format!(
                "{} of play takes {} of overlap: {} is engaged, without play it would be {}; {} is wanted.",
                self.mm(play),
                self.mm(play / 2.0),
                self.mm(engaged),
                self.mm(without),
                self.mm(wanted)
            ),
            ..BASE
        })
    }
}
