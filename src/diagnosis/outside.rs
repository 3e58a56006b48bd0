//! Checks of the clutch and of the parts between foot and fork: linkage, claw, stop, detent, track.

use crenel_words::{Message, Phrase, Value, diagnosis as say};

use super::evidence::{CheckOutcome, Evidence, Judgement, KnownBy, blamed, known, past};
use crate::design::{Need, SettingField, Symptom};
use crate::fields::FieldId;
use crate::gauge::Gauge;
use crate::limits::{GAP_SHARE, GAPS_APART_MM, gap_about, gap_bounds_mm};
use crate::model::gear_lashes;
use crate::selector::{CRAMPED, Joined, PerStroke, Stroke};
use crate::shift::straight_in_limit_rpm;
use crate::units::{Angle, Quantity};

/// Missing foot travel has the limit 0, so it is divided by this usual travel of a stroke to rank it among
/// other causes (common practice, no source).
const USUAL_FOOT_MM: f64 = 30.0;

/// By which share a roller is past its limit that friction holds where it is: that of one with a tenth of the torque
/// needed (our own bound).
const STUCK: f64 = 9.0;

impl Evidence<'_> {
    /// Into first gear at a standstill the clutch leaves the whole speed difference.
    pub(super) fn clutch_release(&self) -> Judgement {
        let pair = self.seen.pair.as_ref().ok_or_else(say::pair_unknown)?;
        let widest = pair.passing.extremes().map_or(0.0, |(_, widest)| widest);
        let limit = straight_in_limit_rpm(widest, pair.travel_s);
        let speed = self.measured(FieldId::SeenClutchSpeed);
        let speed = speed.ok_or_else(|| say::measure_clutch(limit.round()))?;
        let says = say::clutch_leaves(speed, limit.round());
        // Like the time to engage: what the dogs reach beside what they need.
        let exceedance = past(Gauge::at_least(speed, limit));
        let mut says = vec![says];
        says.extend(self.at_the_wheel(limit));
        Ok(CheckOutcome::new(KnownBy::Measured, exceedance, says))
    }

    /// A speed of the dogs in first gear as the wheel turns then, where the ratio is known.
    fn at_the_wheel(&self, rpm: f64) -> Option<Message> {
        let design = &self.seen.design;
        let first = gear_lashes(self.seen).into_iter().find(|lash| lash.gear == 0);
        let typed = || {
            let is_known = design.gearbox.is_none() && design.missing(Need::Ratio).is_none();
            is_known.then(|| design.setting.get(SettingField::RatioToWheel))
        };
        let ratio = first.map(|first| first.ratio_to_wheel).or_else(typed)?;
        let wheel = Value::Result(Quantity::Speed, rpm / ratio);
        (ratio > 0.0).then(|| say::at_the_wheel(wheel, ratio))
    }

    pub(super) fn rod_angle(&self) -> Judgement {
        let worked_out = || Some(self.drawn.selector.swing()?.worst()?.degrees());
        let (angle, known_by) = known(self.measured(FieldId::SeenRodAngle), worked_out)
            .ok_or_else(say::measure_rod_angle)?;
        let off = angle.min(180.0 - angle);
        let [least, near] = CRAMPED;
        let says = say::rod_and_lever(angle, off, least, near);
        Ok(CheckOutcome::new(known_by, past(Gauge::at_least(least, off)), vec![says]))
    }

    pub(super) fn pedal_reach(&self) -> Judgement {
        let measured = PerStroke::from([FieldId::SeenSpareLift, FieldId::SeenSparePress])
            .map(|id| self.measured(id));
        let spares = Stroke::BOTH.map(|stroke| known(measured[stroke], || self.spare_mm(stroke)));
        let swing = self.drawn.selector.swing();
        let on_shaft = swing.is_some_and(|swing| swing.pedal.joined == Joined::OnShaft);
        let mut outcome = self.both_ways(spares, say::measure_travel, |spare, at| {
            let stroke = Stroke::BOTH[at];
            if spare >= 0.0 {
                (0.0, say::travel_to_spare(stroke, spare))
            } else if spare.is_finite() {
                (-spare / USUAL_FOOT_MM, say::travel_short(stroke, -spare))
            } else {
                (1.0, say::stop_out_of_reach(stroke))
            }
        })?;
        if on_shaft {
            outcome.next = Some(say::shorter_foot_arm);
        }
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
        missing: Phrase,
        judge: impl Fn(f64, usize) -> (f64, Message),
    ) -> Judgement {
        let given = numbers.into_iter().enumerate();
        let judged: Vec<_> = given
            .filter_map(|(at, number)| {
                let (value, by) = number?;
                Some((judge(value, at), by))
            })
            .collect();
        let by = |((exceedance, _), _): &((f64, Message), KnownBy)| *exceedance;
        let exceedance = judged.iter().map(by).fold(0.0, f64::max);
        let decides = judged.iter().position(|one| by(one) >= exceedance).unwrap_or_default();
        if judged.is_empty() || (judged.len() < 2 && exceedance <= 0.0) {
            return Err(missing());
        }
        let by_hand = judged.iter().any(|(_, by)| *by == KnownBy::Measured);
        let known_by = if by_hand { KnownBy::Measured } else { KnownBy::WorkedOut };
        let says = judged.into_iter().map(|((_, says), _)| says).collect();
        Ok(CheckOutcome { decides, ..CheckOutcome::new(known_by, exceedance, says) })
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
        let mut outcome = self.both_ways(gaps, say::measure_gaps, |gap, at| {
            (past(gap_about(wanted, gap)), say::gap(Stroke::BOTH[at], gap))
        })?;
        let [least, most] = gap_bounds_mm(wanted);
        outcome.says.push(say::gap_target(wanted, least, most));
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
                Symptom::WILL_NOT,
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
        let ((lift, by), (press, and)) = lift.zip(press).ok_or_else(say::both_gaps_missing)?;
        let apart = (lift - press).abs();
        let by_hand = by == KnownBy::Measured || and == KnownBy::Measured;
        let mut says = vec![say::gaps_differ(apart, GAPS_APART_MM)];
        let centred = self.drawn.selector.strokes().and_then(|claw| claw.centred.ok());
        let centred = centred.filter(|_| !by_hand);
        says.extend(centred.map(|at| say::eccentric_evens(at.degrees())));
        let known_by = if by_hand { KnownBy::Measured } else { KnownBy::WorkedOut };
        let exceedance = (apart - GAPS_APART_MM) / self.wanted_gap_mm();
        Ok(CheckOutcome {
            explains: gaps_explain([lift, press], self.wanted_gap_mm()),
            ..CheckOutcome::new(known_by, exceedance, says)
        })
    }

    pub(super) fn detent_return(&self) -> Judgement {
        let detent = self.drawn.selector.detent.as_ref().ok_or_else(say::enter_detent)?;
        let torque = detent.return_nmm();
        if torque <= 0.0 {
            let says = vec![say::roller_stays(torque)];
            return Ok(CheckOutcome::new(KnownBy::WorkedOut, STUCK, says));
        }
        let drag = self.measured(FieldId::SeenDrumDrag).ok_or_else(say::measure_drag)?;
        // A roller ever weaker ends where one that sticks does.
        let exceedance = past(Gauge::at_least(drag, torque)).min(STUCK);
        let says = vec![say::roller_returns(torque, drag)];
        Ok(CheckOutcome::new(KnownBy::Measured, exceedance, says))
    }

    pub(super) fn drum_rocking(&self) -> Judgement {
        let selector = &self.drawn.selector;
        let given = || selector.slack.map(Angle::degrees);
        let (slack, known_by) = known(self.measured(FieldId::SeenDrumSlack), given)
            .ok_or_else(say::measure_drum_play)?;
        let cost = selector.rocking_mm(slack).ok_or_else(say::enter_track)?;
        let (engaged, _) = self.engaged_mm();
        let (left, target) = (engaged - cost, self.wanted_depth_mm());
        let says = say::drum_play_costs(slack, cost, left, target);
        // The play is blamed for no more than it costs.
        Ok(CheckOutcome::new(known_by, blamed(target - left, cost, target), vec![says]))
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
