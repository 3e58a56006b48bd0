//! Checks of the dogs themselves: faces, edges, flanks, layout.

use crenel_words::{Message, Value, diagnosis as say};

use super::evidence::{CheckOutcome, Evidence, Judgement, KnownBy, past};
use crate::analysis::Analysis;
use crate::design::{Need, SettingField, Symptom};
use crate::fields::FieldId;
use crate::gauge::Gauge;
use crate::limits::USUAL_UNDERCUT_DEG;
use crate::load::Stress;
use crate::model::{Limits, gear_steps};
use crate::ring::FlankSide;
use crate::shift::{Step, straight_in_limit_rpm};
use crate::units::Quantity;

/// Lash at the dogs above which opening the throttle is felt as a clunk, degrees: our own bound, about
/// what six dogs to a ring leave with a quarter of the pitch free.
const WIDE_LASH_DEG: f64 = 15.0;

/// The most by which measured lash may exceed the drawn one, degrees: our own bound.
const LASH_APART_DEG: f64 = 1.0;

/// The force on a flank for which the axial force is given, N.
const EACH_N: f64 = 1000.0;

impl Evidence<'_> {
    pub(super) fn tip_faces(&self) -> Judgement {
        let friction = self.measured(FieldId::SeenTipFriction).ok_or_else(say::rate_faces)?;
        self.needs(&[Need::Speed, Need::TipFriction, Need::Inertia])?;
        let stuck =
            |analysis: &Analysis| analysis.shift().map(|s| s.shares.locked + s.shares.half_in);
        let now = stuck(self.seen).ok_or_else(say::rings_do_not_engage)?;
        let lapped = stuck(&Analysis::of(&self.seen.design.with_polished_tips())).unwrap_or(now);
        let slip = self.seen.pair.as_ref().map_or(0.0, |m| m.shift_case.slip_rpm.abs());
        let mut says = vec![say::shifts_that_stick(friction, now, slip, lapped)];
        says.extend(self.below_lock());
        // The faces are blamed only for what lapping would cure.
        Ok(CheckOutcome::new(KnownBy::Measured, now - lapped, says))
    }

    /// The speed differences at which the faces could stop the shift, if that of the design is larger.
    fn below_lock(&self) -> Option<Message> {
        let pair = self.seen.pair.as_ref()?;
        let lock_rpm = Limits::of(pair)?.lock_rpm;
        (lock_rpm > 0.0 && pair.shift_case.slip_rpm.abs() > lock_rpm)
            .then(|| say::faces_slip(Value::Result(Quantity::Speed, lock_rpm)))
    }

    pub(super) fn tip_edges(&self) -> Judgement {
        let measured = [FieldId::SeenEdgeA, FieldId::SeenEdgeB].map(|id| self.measured(id));
        let [Some(a), Some(b)] = measured else { return Err(say::measure_edges()) };
        let hold = self.drawn.design.setting.get(SettingField::HoldDepth);
        let says = say::edges(a, b, a + b, hold);
        Ok(CheckOutcome::new(KnownBy::Measured, (a + b - hold) / hold, vec![says]))
    }

    pub(super) fn flanks(&self, flank: FlankSide) -> Judgement {
        let id = match flank {
            FlankSide::Drive => FieldId::SeenFlankDrive,
            FlankSide::Coast => FieldId::SeenFlankCoast,
        };
        let angle = self.measured(id).ok_or_else(say::measure_flank)?;
        let force = (EACH_N * libm::tan(angle.to_radians())).abs();
        let says = if angle > 0.0 {
            say::flank_draws_in(angle, force, EACH_N)
        } else if angle < 0.0 {
            say::flank_pushes_out(-angle, force, EACH_N)
        } else {
            say::straight_flanks()
        };
        Ok(CheckOutcome::new(KnownBy::Measured, -angle / USUAL_UNDERCUT_DEG, vec![says]))
    }

    pub(super) fn entry_time(&self) -> Judgement {
        let pair = self.seen.pair.as_ref().ok_or_else(say::pair_unknown)?;
        let widest = pair.passing.extremes().map_or(0.0, |(_, widest)| widest);
        let limit = straight_in_limit_rpm(widest, pair.travel_s);
        let (slip, says) = match self.hardest_low() {
            Some(step) => {
                let slip = step.slip_rpm.abs();
                let (from, to) = (step.from, step.to);
                (slip, say::speed_difference_low(from, to, slip.round(), limit.round()))
            }
            None => {
                self.needs(&[Need::Speed])?;
                let slip = pair.shift_case.slip_rpm.abs();
                (slip, say::speed_difference(slip.round(), limit.round()))
            }
        };
        Ok(CheckOutcome::new(KnownBy::WorkedOut, past(Gauge::at_least(slip, limit)), vec![says]))
    }

    /// The shift between first and second with the larger speed difference, if the rider complains of those.
    fn hardest_low(&self) -> Option<Step> {
        self.drawn.design.trace.felt.contains(&Symptom::CRUNCHES_LOW).then_some(())?;
        let low = gear_steps(&self.seen.design).into_iter();
        let low = low.filter(|step| step.from + step.to == 1);
        low.max_by(|a, b| a.slip_rpm.abs().total_cmp(&b.slip_rpm.abs()))
    }

    pub(super) fn lash(&self) -> Judgement {
        let held = self.drawn.pair.as_ref().and_then(|pair| pair.held);
        let drawn = held.ok_or_else(say::no_lash_drawn)?.width.degrees();
        let worn = |seen: f64| (seen - drawn - LASH_APART_DEG) / drawn.max(1.0);
        let wide = |lash: f64| (lash - WIDE_LASH_DEG) / WIDE_LASH_DEG;
        let is_wide = wide(drawn) > 0.0;
        let Some(seen) = self.measured(FieldId::SeenLash) else {
            let says = say::lash_drawn(drawn, WIDE_LASH_DEG);
            let outcome = || CheckOutcome::new(KnownBy::WorkedOut, wide(drawn), vec![says]);
            return is_wide.then(outcome).ok_or_else(say::measure_lash);
        };
        let by_layout = if is_wide { "wide" } else { "usual" };
        let says = say::lash_measured(seen, drawn, by_layout, LASH_APART_DEG, WIDE_LASH_DEG);
        let exceedance = worn(seen).max(0.0).max(wide(seen));
        let mut outcome = CheckOutcome::new(KnownBy::Measured, exceedance, vec![says]);
        if worn(seen) > 0.0 {
            outcome.next = Some(say::worn_or_other_rings);
        }
        Ok(outcome)
    }

    pub(super) fn clunk(&self) -> Judgement {
        let design = &self.seen.design;
        let pair = self.seen.pair.as_ref().ok_or_else(say::no_load_carried)?;
        self.needs(&[Need::Torque, Need::Inertia])?;
        let drawn = pair.held.map(|held| held.width.radians());
        let seen = self.measured(FieldId::SeenLash).map(f64::to_radians);
        let lash = seen.or(drawn).ok_or_else(say::no_load_carried)?;
        // Not the shock of the shift, which is over before the gear is in.
        let clunk = pair.shift_case.clunk(design, pair.shift_case.throttle_nm).peak_nm(0.0, lash);
        let torque = clunk.max(pair.torques.steady_nm);
        let strength =
            self.seen.strength_under(FlankSide::Drive, torque).ok_or_else(say::no_load_carried)?;
        let most = strength.most(Stress::combined_mpa);
        let allowable = design.setting.get(SettingField::AllowedStress);
        let says = say::clunk_stress(lash.to_degrees(), clunk, most, allowable);
        Ok(CheckOutcome::new(KnownBy::WorkedOut, (most - allowable) / allowable, vec![says]))
    }
}
