//! Checks of the dogs themselves: faces, edges, flanks, layout.

use super::evidence::{BASE, CheckOutcome, Evidence, Judgement, KnownBy};
use crate::analysis::Analysis;
use crate::design::{SettingField, Symptom};
use crate::fields::FieldId;
use crate::load::Stress;
use crate::model::{Limits, gear_shifts};
use crate::ring::FlankSide;
use crate::shift::straight_in_limit_rpm;
use crate::units::Quantity;

/// An undercut has the limit 0, so its excess is divided by this usual angle to rank it among other causes:
/// the middle of the usual range (common practice, no source).
const USUAL_UNDERCUT_DEG: f64 = 5.0;

/// Lash at the dogs above which opening the throttle is felt as a clunk, degrees: our own bound, about
/// what six dogs to a ring leave with a quarter of the pitch free.
const WIDE_LASH_DEG: f64 = 15.0;

/// The most by which measured lash may exceed the drawn one, degrees: our own bound.
const LASH_APART_DEG: f64 = 1.0;

impl Evidence<'_> {
    pub(super) fn tip_faces(&self) -> Judgement {
        let friction = self
            .measured(FieldId::SeenTipFriction)
            .ok_or("Say how the faces look, by word or number.")?;
        let stuck =
            |analysis: &Analysis| analysis.shift().map(|s| s.shares.locked + s.shares.half_in);
        let now = stuck(self.seen).ok_or("The pair jams or stands apart: see the findings.")?;
        let polished = stuck(&Analysis::of(&self.seen.design.with_polished_tips())).unwrap_or(now);
        let percent = |share: f64| self.show(Quantity::Share, share);
        Ok(CheckOutcome {
            known_by: KnownBy::Measured,
            // The faces are blamed only for what lapping would cure.
            exceedance: now - polished,
            message: format!(
                "With a friction of {}, {} of all shifts rub to a standstill or stay half in at {}; with both rings \
                    lapped it would be {}.{}",
                self.show(Quantity::Ratio, friction),
                percent(now),
                self.slip_words(),
                percent(polished),
                self.below_lock().unwrap_or_default()
            ),
            ..BASE
        })
    }

    /// The speed differences at which the faces could stop the shift, if that of the design is larger.
    fn below_lock(&self) -> Option<String> {
        let pair = self.seen.pair.as_ref()?;
        let lock_rpm = Limits::of(pair)?.lock_rpm;
        (lock_rpm > 0.0 && pair.shift_case.slip_rpm.abs() > lock_rpm).then(|| {
            let lock = Quantity::Speed.show_result(lock_rpm, self.units);
            format!(" At this speed difference they cannot; below {lock} they can.")
        })
    }

    fn slip_words(&self) -> String {
        let slip = self.seen.pair.as_ref().map_or(0.0, |m| m.shift_case.slip_rpm.abs());
        self.show(Quantity::Speed, slip)
    }

    pub(super) fn tip_edges(&self) -> Judgement {
        let measured = [FieldId::SeenEdgeA, FieldId::SeenEdgeB].map(|id| self.measured(id));
        let [Some(a), Some(b)] = measured else { return Err("Measure both rings.") };
        let hold = self.drawn.design.setting.get(SettingField::HoldDepth);
        Ok(CheckOutcome {
            known_by: KnownBy::Measured,
            exceedance: (a + b - hold) / hold,
            message: format!(
                "{} and {}: a flank holds only from {} of overlap on, and the shift counts on {}.",
                self.mm(a),
                self.mm(b),
                self.mm(a + b),
                self.mm(hold)
            ),
            ..BASE
        })
    }

    pub(super) fn flanks(&self, flank: FlankSide) -> Judgement {
        let id = match flank {
            FlankSide::Drive => FieldId::SeenFlankDrive,
            FlankSide::Coast => FieldId::SeenFlankCoast,
        };
        let angle = self.measured(id).ok_or("Measure it; the drawing may be of a new ring.")?;
        let push = 1000.0 * libm::tan(angle.to_radians());
        let force = self.show(Quantity::Force, push.abs());
        let message = if angle > 0.0 {
            format!(
                "{} undercut draw in, with {force} for each 1000 N on the flank.",
                self.deg(angle)
            )
        } else if angle < 0.0 {
            format!(
                "{} the wrong way push out, with {force} for each 1000 N on the flank. Friction is not counted on to \
                    hold.",
                self.deg(-angle)
            )
        } else {
            "Straight flanks neither draw in nor push out: nothing but friction and the detent holds them \
                in.".to_owned()
        };
        Ok(CheckOutcome {
            known_by: KnownBy::Measured,
            exceedance: -angle / USUAL_UNDERCUT_DEG,
            message,
            ..BASE
        })
    }

    pub(super) fn entry_time(&self) -> Judgement {
        let pair = self.seen.pair.as_ref();
        let pair = pair.ok_or("The pair cannot be worked out: see the findings.")?;
        let widest = pair.passing.extremes().map_or(0.0, |(_, widest)| widest);
        let limit = straight_in_limit_rpm(widest, pair.travel_s);
        let (slip, which) = self.hardest_low().unwrap_or_else(|| {
            (pair.shift_case.slip_rpm.abs(), "the shift of the design".to_owned())
        });
        let speed = |rpm: f64| self.show(Quantity::Speed, rpm.round());
        Ok(CheckOutcome {
            known_by: KnownBy::WorkedOut,
            // Relative, so that a high speed does not drown every other cause.
            exceedance: (slip - limit) / slip.max(1.0),
            message: format!(
                "For {which} the speeds differ by {}; straight in is possible up to {}.",
                speed(slip),
                speed(limit)
            ),
            ..BASE
        })
    }

    /// The larger speed difference of the shifts between first and second, if the rider complains of those.
    fn hardest_low(&self) -> Option<(f64, String)> {
        self.drawn.design.trace.felt.contains(&Symptom::CRUNCHES_LOW).then_some(())?;
        let low = gear_shifts(self.seen).into_iter().filter(|s| s.step.from + s.step.to == 1);
        let worst = low.max_by(|a, b| a.step.slip_rpm.abs().total_cmp(&b.step.slip_rpm.abs()))?;
        let words = format!("the shift from {} to {}", worst.step.from + 1, worst.step.to + 1);
        Some((worst.step.slip_rpm.abs(), words))
    }

    pub(super) fn lash(&self) -> Judgement {
        let held = self.drawn.pair.as_ref().and_then(|pair| pair.held);
        let drawn = held.ok_or("The drawing has no window at full depth to compare with.")?;
        let drawn = drawn.width.degrees();
        let worn = |seen: f64| (seen - drawn - LASH_APART_DEG) / drawn.max(1.0);
        let wide = |lash: f64| (lash - WIDE_LASH_DEG) / WIDE_LASH_DEG;
        let seen = self.measured(FieldId::SeenLash);
        if seen.is_none() && wide(drawn) <= 0.0 {
            return Err("Measure it at the dogs.");
        }
        let is_worn = seen.is_some_and(|seen| worn(seen) > 0.0);
        let measured =
            seen.map_or_else(String::new, |seen| format!("{} measured, ", self.deg(seen)));
        let same = seen.map_or_else(String::new, |_| {
            format!("up to {} more count as the same, and ", self.deg(LASH_APART_DEG))
        });
        let by_layout = if wide(drawn) > 0.0 { ": wide by its layout" } else { "" };
        Ok(CheckOutcome {
            known_by: seen.map_or(KnownBy::WorkedOut, |_| KnownBy::Measured),
            exceedance: seen.map_or(0.0, worn).max(wide(seen.unwrap_or(drawn))),
            message: format!(
                "{measured}{} by the drawing{by_layout}; {same}up to {} are not felt as a clunk (our own bounds).",
                self.deg(drawn),
                self.deg(WIDE_LASH_DEG)
            ),
            next: is_worn.then_some(
                "Flanks or splines are worn, or the drawing is not that of these rings: list the dogs as measured.",
            ),
            ..BASE
        })
    }

    pub(super) fn clunk(&self) -> Judgement {
        const NOTHING: &str = "Nothing is carried: the rings jam or stand apart.";
        let (design, pair) = (&self.seen.design, self.seen.pair.as_ref().ok_or(NOTHING)?);
        let drawn = pair.held.map(|held| held.width.radians());
        let seen = self.measured(FieldId::SeenLash).map(f64::to_radians);
        let lash = seen.or(drawn).ok_or(NOTHING)?;
        // Not the blow of the shift, which is struck before the gear is in.
        let clunk = pair.shift_case.clunk(design, pair.shift_case.throttle_nm).peak_nm(0.0, lash);
        let torque = clunk.max(pair.torques.steady_nm);
        let strength = self.seen.strength_under(torque).ok_or(NOTHING)?;
        let most = strength.most(Stress::combined_mpa);
        let allowed = design.setting.get(SettingField::AllowedStress);
        let mpa = |value: f64| self.show(Quantity::Stress, value);
        Ok(CheckOutcome {
            known_by: KnownBy::WorkedOut,
            exceedance: (most - allowed) / allowed,
            message: format!(
                "Opening the throttle across the lash of {} strikes with {}, and stresses the root with {}; {} are \
                    allowed under Load.",
                self.deg(lash.to_degrees()),
                self.show(Quantity::Torque, clunk),
                mpa(most),
                mpa(allowed)
            ),
            ..BASE
        })
    }
}
