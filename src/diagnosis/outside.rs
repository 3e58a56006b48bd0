//! Checks of the parts between foot and fork: linkage, claw, stop, detent, track.

use super::evidence::{BASE, CheckOutcome, Evidence, Judgement, KnownBy, blamed, known};
use crate::design::Symptom;
use crate::fields::FieldId;
use crate::findings::{GAP_SHARE, GAPS_APART_MM};
use crate::selector::{CRAMPED, Joined, PerStroke, Stroke};
use crate::units::{Angle, Quantity};

/// Missing foot travel has the limit 0, so it is divided by this usual travel of a stroke to rank it among
/// other causes (common practice, no source).
const USUAL_FOOT_MM: f64 = 30.0;

impl Evidence<'_> {
    pub(super) fn rod_angle(&self) -> Judgement {
        let worked_out = || Some(self.drawn.selector.swing()?.worst()?.degrees());
        let (angle, known_by) = known(self.measured(FieldId::SeenRodAngle), worked_out)
            .ok_or("Measure it, or give the linkage under Selector. A pedal on the shaft has no rod to check.")?;
        let off = angle.min(180.0 - angle);
        let [least, near] = CRAMPED;
        Ok(CheckOutcome {
            known_by,
            exceedance: (least - off) / least,
            message: format!(
                "{} at its worst, which is {} from standing in line; it should be over {} to {}.",
                self.deg(angle),
                self.deg(off),
                self.deg(least),
                self.deg(near)
            ),
            ..BASE
        })
    }

    pub(super) fn pedal_reach(&self) -> Judgement {
        let measured = PerStroke::from([FieldId::SeenSpareLift, FieldId::SeenSparePress])
            .map(|id| self.measured(id));
        let spares = Stroke::BOTH.map(|stroke| known(measured[stroke], || self.spare_mm(stroke)));
        let missing = "Measure both ways, or give linkage and claw under Selector.";
        let swing = self.drawn.selector.swing();
        let on_shaft = swing.is_some_and(|swing| swing.pedal.joined == Joined::OnShaft);
        let mut outcome = self.both_ways(spares, missing, |tracer, spare, at| {
            let word = Stroke::BOTH[at].word();
            if spare >= 0.0 {
                (0.0, format!("{} to spare {word}", tracer.mm(spare)))
            } else if spare.is_finite() {
                (-spare / USUAL_FOOT_MM, format!("{} short of the stop {word}", tracer.mm(-spare)))
            } else {
                (1.0, format!("no foot travel reaches the stop {word}"))
            }
        })?;
        outcome.next = on_shaft.then_some(
            "Give the pedal room; on the shaft only a shorter foot arm turns it farther for the same foot.",
        );
        Ok(outcome)
    }

    /// Foot travel left at the stop, mm; −∞ if no travel reaches the stop.
    fn spare_mm(&self, stroke: Stroke) -> Option<f64> {
        let (swing, claw) = (self.drawn.selector.swing()?, self.drawn.selector.strokes()?);
        let spare = swing.spare_mm(stroke, claw.claw.swing_to_stop(stroke));
        Some(spare.unwrap_or(f64::NEG_INFINITY))
    }

    /// A check with a number for each stroke or each side. If one fails, the check fails; otherwise, if one is
    /// missing, it stays open.
    pub(super) fn both_ways(
        &self,
        numbers: [Option<(f64, KnownBy)>; 2],
        missing: &'static str,
        judge: impl Fn(&Self, f64, usize) -> (f64, String),
    ) -> Judgement {
        let given = numbers.into_iter().enumerate();
        let status: Vec<_> = given
            .filter_map(|(at, number)| {
                let (value, by) = number?;
                Some((judge(self, value, at), by))
            })
            .collect();
        let exceedance = status.iter().map(|((exceedance, _), _)| *exceedance).fold(0.0, f64::max);
        if status.is_empty() || (status.len() < 2 && exceedance <= 0.0) {
            return Err(missing);
        }
        let message: Vec<_> = status.iter().map(|((_, message), _)| message.as_str()).collect();
        let by_hand = status.iter().any(|(_, by)| *by == KnownBy::Measured);
        Ok(CheckOutcome {
            known_by: if by_hand { KnownBy::Measured } else { KnownBy::WorkedOut },
            exceedance,
            message: format!("{}.", message.join(", ")),
            ..BASE
        })
    }

    fn gap_mm(&self, stroke: Stroke) -> Option<(f64, KnownBy)> {
        let id = PerStroke::from([FieldId::SeenGapLift, FieldId::SeenGapPress])[stroke];
        known(self.measured(id), || Some(self.drawn.selector.strokes()?.claw.gaps_mm()[stroke]))
    }

    fn wanted_gap_mm(&self) -> f64 {
        let claw = self.drawn.selector.strokes();
        claw.map_or(FieldId::GapWanted.spec().default, |claw| claw.claw.wanted_mm)
    }

    pub(super) fn stop_gap(&self) -> Judgement {
        let wanted = self.wanted_gap_mm();
        let gaps = Stroke::BOTH.map(|stroke| self.gap_mm(stroke));
        let missing = "Measure both ways, or give the claw under Selector.";
        let mut outcome = self.both_ways(gaps, missing, |tracer, gap, at| {
            let exceedance = ((gap - wanted).abs() - GAP_SHARE * wanted) / wanted;
            (exceedance, format!("{} {}", tracer.mm(gap), Stroke::BOTH[at].word()))
        })?;
        outcome.message = format!(
            "{} Wanted is about {}, from {} to {}.",
            outcome.message,
            self.mm(wanted),
            self.mm(wanted * (1.0 - GAP_SHARE)),
            self.mm(wanted * (1.0 + GAP_SHARE))
        );
        let off = gaps.into_iter().flatten().map(|(gap, _)| gap - wanted);
        let (least, most) = off.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), off| {
            (least.min(off), most.max(off))
        });
        let bound = GAP_SHARE * wanted;
        outcome.explains = match (least < -bound, most > bound) {
            // The gap is too small: the claw pushes on past the position.
            (true, false) => Some(&[Symptom::FALSE_NEUTRAL]),
            // The gap is too large: the push ends early.
            (false, true) => Some(&[
                Symptom::HANGS,
                Symptom::JUMPS_POWER,
                Symptom::JUMPS_OVERRUN,
                Symptom::KICKS_BACK,
                Symptom::CRUNCHES_LOW,
            ]),
            _ => None,
        };
        Ok(outcome)
    }

    pub(super) fn equal_gaps(&self) -> Judgement {
        let [lift, press] = Stroke::BOTH.map(|stroke| self.gap_mm(stroke));
        let ((lift, by), (press, and)) =
            lift.zip(press).ok_or("It follows from the gaps of both strokes.")?;
        let apart = (lift - press).abs();
        let by_hand = by == KnownBy::Measured || and == KnownBy::Measured;
        let turn = self.drawn.selector.strokes().and_then(|claw| claw.centred.ok());
        let turn = turn.filter(|_| !by_hand).map_or_else(String::new, |at| {
            format!(" With the eccentric at {} they are the same.", self.deg(at.degrees()))
        });
        Ok(CheckOutcome {
            known_by: if by_hand { KnownBy::Measured } else { KnownBy::WorkedOut },
            exceedance: (apart - GAPS_APART_MM) / self.wanted_gap_mm(),
            message: format!(
                "{} apart; up to {} count as the same (our own bound).{turn}",
                self.mm(apart),
                self.mm(GAPS_APART_MM)
            ),
            explains: gaps_explain([lift, press], self.wanted_gap_mm()),
            ..BASE
        })
    }

    pub(super) fn detent_return(&self) -> Judgement {
        let detent =
            self.drawn.selector.detent.as_ref().ok_or("Give the detent under Selector.")?;
        let torque = detent.return_nmm();
        let shown = |nmm: f64| self.show(Quantity::FineTorque, nmm);
        let drag = self.measured(FieldId::SeenDrumDrag);
        if torque <= 0.0 {
            let message = format!("{}: friction holds the roller where it is.", shown(torque));
            return Ok(CheckOutcome {
                known_by: KnownBy::WorkedOut,
                exceedance: 1.0,
                message,
                ..BASE
            });
        }
        let drag =
            drag.ok_or("Measure the torque that turns the drum with the roller held off.")?;
        Ok(CheckOutcome {
            known_by: KnownBy::Measured,
            // Relative to the torque needed: a roller without any torque gets 1, like one that sticks.
            exceedance: (drag - torque) / drag.max(torque),
            message: format!(
                "The roller brings the drum home with {}, and {} are needed to turn it.",
                shown(torque),
                shown(drag)
            ),
            ..BASE
        })
    }

    pub(super) fn drum_rocking(&self) -> Judgement {
        let selector = &self.drawn.selector;
        let given = || selector.slack.map(Angle::degrees);
        let (slack, known_by) = known(self.measured(FieldId::SeenDrumSlack), given)
            .ok_or("Measure it, or give the detent under Selector.")?;
        let cost = selector
            .rocking_mm(slack)
            .ok_or("Give the drum track under Selector: it says what the rocking costs.")?;
        let (engaged, _) = self.engaged_mm();
        let (left, wanted) = (engaged - cost, self.wanted_depth_mm());
        Ok(CheckOutcome {
            known_by,
            // Rocking is blamed for no more than it costs.
            exceedance: blamed(wanted - left, cost, wanted),
            message: format!(
                "Rocking by {} costs up to {} of overlap and leaves {}; {} is wanted.",
                self.deg(slack),
                self.mm(cost),
                self.mm(left),
                self.mm(wanted)
            ),
            ..BASE
        })
    }
}

/// The symptoms that unequal gaps explain: a gap below the one wanted lets the claw push past the position,
/// one above it ends the push early. Both together explain all that the check can.
fn gaps_explain([lift, press]: [f64; 2], wanted: f64) -> Option<&'static [Symptom]> {
    match (lift.min(press) < wanted, lift.max(press) > wanted) {
        (true, false) => Some(&[Symptom::FALSE_NEUTRAL]),
        (false, true) => Some(&[Symptom::KICKS_BACK, Symptom::CRUNCHES_LOW]),
        _ => None,
    }
}
