//! Findings on the way from the foot to the dogs.

use crenel_words::{Value, finding as say};

use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::gauge::Gauge;
use crate::limits::{self, GAPS_APART_MM};
use crate::model::{ClawStrokes, PedalSwing, SelectorAnalysis, Worked};
use crate::selector::{CRAMPED, ClawFault, Ends, Joined, PerStroke, RodFault, Stroke, TrackFault};
use crate::stack::{Depth, Facing};
use crate::units::{Angle, Quantity};

/// Sizes that should be equal give a finding if they differ by more than this, mm.
const APART_MM: f64 = 0.05;

/// All findings about the parts between foot and dogs.
pub(super) fn findings(worked: &Worked) -> Vec<Finding> {
    let selector = &worked.selector;
    let mut findings = Vec::new();
    match &selector.pedal {
        Some(Ok(swing)) => findings.extend(pedal(swing)),
        Some(Err(fault)) => findings.push(unreachable_rod(fault)),
        None => {}
    }
    match &selector.claw {
        Some(Ok(claw)) => findings.extend(strokes(claw, selector)),
        Some(Err(fault)) => findings.push(no_claw(fault)),
        None => {}
    }
    findings.extend(detent(worked));
    findings.extend(crest(selector));
    findings.extend(track(worked));
    findings.extend(selector.depth.iter().flat_map(|given| depth(worked, given)));
    findings
}

fn unreachable_rod(fault: &RodFault) -> Finding {
    match *fault {
        RodFault::Short { rod_mm, least_mm, most_mm } => Finding::error(say::rod_does_not_reach(
            rod_mm,
            Value::AtLeast(Quantity::Length, least_mm),
            Value::AtMost(Quantity::Length, most_mm),
        ))
        .at(Slot::Part(FieldId::RodLength)),
        RodFault::OnShaft { rod_mm } => {
            Finding::error(say::arm_ends_on_shaft(rod_mm)).at(Slot::Part(FieldId::PedalArm))
        }
    }
}

fn pedal(swing: &PedalSwing) -> Vec<Finding> {
    let both = |of: fn(&PedalSwing, Stroke) -> Option<Finding>| {
        Stroke::BOTH.into_iter().filter_map(move |stroke| of(swing, stroke))
    };
    both(cramped).chain(both(turned_back)).chain(in_line(swing)).collect()
}

fn in_line(swing: &PedalSwing) -> Option<Finding> {
    let [lift, press] = swing.reach.as_array().map(|reach| reach.farthest.degrees());
    let finding = || Finding::warning(say::linkage_in_line(lift, press));
    swing.in_line().then(|| finding().at(Slot::Part(FieldId::PedalArm)))
}

fn turned_back(swing: &PedalSwing, stroke: Stroke) -> Option<Finding> {
    let reach = &swing.reach[stroke];
    let at_mm = reach.turns_back_at_mm?;
    let says = say::linkage_turns_back(stroke, at_mm, reach.farthest.degrees());
    Some(Finding::warning(says).at(Slot::Part(FieldId::PedalArm)))
}

fn cramped(swing: &PedalSwing, stroke: Stroke) -> Option<Finding> {
    let reach = &swing.reach[stroke];
    let at = Slot::Part(FieldId::RodLength);
    if reach.locks {
        return Some(Finding::warning(say::linkage_locks(stroke, reach.foot_mm)).at(at));
    }
    let worst = reach.worst?.degrees();
    let off = worst.min(180.0 - worst);
    let [cramps, near] = CRAMPED;
    if off < cramps {
        let from = reach.cramps_at_mm.unwrap_or(0.0);
        let says = say::linkage_cramps(stroke, worst, cramps, from);
        return Some(Finding::warning(says).past(Gauge::at_least(cramps, off)).at(at));
    }
    (off < near).then(|| Finding::note(say::linkage_near_cramping(stroke, worst, near)).at(at))
}

fn no_claw(fault: &ClawFault) -> Finding {
    Finding::error(say::pins_too_far_out(
        fault.pin_radius_mm,
        Value::AtMost(Quantity::Length, fault.most_mm),
    ))
    .at(Slot::Part(FieldId::PinRadius))
}

fn strokes(claw: &ClawStrokes, selector: &SelectorAnalysis) -> Vec<Finding> {
    let mut findings = Vec::new();
    for stroke in Stroke::BOTH {
        findings.extend(short_of_stop(claw, selector, stroke));
        findings.extend(ends(claw, stroke));
        findings.extend(gap(claw, stroke));
    }
    findings.extend(unequal(claw));
    findings.extend(eccentric(claw));
    findings
}

fn eccentric(claw: &ClawStrokes) -> Option<Finding> {
    let claw = &claw.claw;
    let says = || say::eccentric_beyond_shaft(claw.eccentric_mm, claw.stop_radius_mm);
    let is_beyond = claw.eccentric_mm >= claw.stop_radius_mm;
    is_beyond.then(|| Finding::warning(says()).at(Slot::Part(FieldId::Eccentric)))
}

fn short_of_stop(
    claw: &ClawStrokes,
    selector: &SelectorAnalysis,
    stroke: Stroke,
) -> Option<Finding> {
    let swing = selector.swing()?;
    let end = claw.strokes[stroke];
    let stop = claw.claw.swing_to_stop(stroke);
    let spare = swing.spare_mm(stroke, stop);
    let reaches = if spare.is_some() { "short" } else { "never" };
    let joined = match swing.pedal.joined {
        Joined::ByRod(_) => "rod",
        Joined::OnShaft => "shaft",
    };
    end.before_stop.then(|| {
        let [turns, stop] = [end.shaft, stop].map(Angle::degrees);
        let missing = -spare.unwrap_or_default();
        let says = say::foot_short_of_stop(stroke, turns, stop, reaches, missing, joined);
        let at = PerStroke::from([FieldId::FootLift, FieldId::FootPress])[stroke];
        Finding::warning(says).at(Slot::Part(at))
    })
}

fn ends(claw: &ClawStrokes, stroke: Stroke) -> Option<Finding> {
    let end = &claw.strokes[stroke];
    let says = match end.ends {
        Ends::Next => return None,
        Ends::Back => say::drum_falls_back,
        Ends::Held => say::drum_not_brought_home,
        Ends::Between => say::drum_stays_between,
        Ends::Beyond => say::drum_pushed_past,
    };
    let [pushed, step] = [end.pushed, claw.claw.step()].map(Angle::degrees);
    Some(Finding::warning(says(stroke, pushed, step)).at(Slot::Part(travel(stroke))))
}

const fn travel(stroke: Stroke) -> FieldId {
    match stroke {
        Stroke::Lift => FieldId::ClawLift,
        Stroke::Press => FieldId::ClawPress,
    }
}

fn gap(claw: &ClawStrokes, stroke: Stroke) -> Option<Finding> {
    let end = &claw.strokes[stroke];
    let wanted = claw.claw.wanted_mm;
    let gap_mm = claw.claw.gaps_mm()[stroke];
    let gauge = limits::gap(&claw.claw, gap_mm);
    if !gauge.is_past() || end.ends != Ends::Next {
        return None;
    }
    let says = if gap_mm > wanted { say::gap_too_large } else { say::gap_too_small };
    Some(Finding::warning(says(stroke, gap_mm, wanted)).past(gauge).at(Slot::Part(travel(stroke))))
}

fn unequal(claw: &ClawStrokes) -> Option<Finding> {
    let PerStroke { lift, press } = claw.claw.gaps_mm();
    if (lift - press).abs() <= GAPS_APART_MM {
        return None;
    }
    let says = match &claw.centred {
        Ok(at) => say::gaps_unequal(lift, press, at.degrees()),
        Err(fault) => say::gaps_beyond_eccentric(lift, press, fault.move_mm),
    };
    Some(Finding::note(says).at(Slot::Part(FieldId::EccentricAt)))
}

fn detent(worked: &Worked) -> Option<Finding> {
    let torque = worked.selector.detent.as_ref()?.return_nmm();
    let gauge = limits::detent_return(worked, torque)?;
    let finding = || Finding::warning(say::roller_stays(torque)).past(gauge);
    gauge.is_past().then(|| finding().at(Slot::Part(FieldId::RollerFriction)))
}

fn crest(selector: &SelectorAnalysis) -> Option<Finding> {
    let star = selector.star.as_ref()?;
    let step_mm = star.step().radians() * star.radius_mm;
    let finding = || Finding::warning(say::crest_wider_than_step(star.crest_mm, step_mm));
    (star.crest_mm >= step_mm).then(|| finding().at(Slot::Part(FieldId::StarCrest)))
}

fn track(worked: &Worked) -> Vec<Finding> {
    let selector = &worked.selector;
    let fault = match &selector.track {
        None => return Vec::new(),
        Some(Err(fault)) => *fault,
        Some(Ok(track)) => return throws_differ(selector, track).into_iter().collect(),
    };
    let (at, says) = match fault {
        TrackFault::TooFew => (0, say::track_too_short()),
        TrackFault::OutOfOrder(at) => (at, say::track_out_of_order(at)),
    };
    let point = Slot::TrackPoint(at, FieldId::TrackAngle);
    // A flank without points has only its two ends.
    let by_points = worked.design.get(point).is_some();
    let slot = if by_points { point } else { Slot::Part(FieldId::TrackEnd) };
    vec![Finding::error(says).at(slot)]
}

fn throws_differ(selector: &SelectorAnalysis, track: &crate::selector::Track) -> Option<Finding> {
    let depth = selector.depth.as_ref()?;
    let [drawn, measured] = [track.travel_mm(selector.step_deg()), depth.throw_mm.this];
    let finding = || Finding::note(say::fork_travel_differs(drawn, measured));
    ((drawn - measured).abs() > APART_MM).then(|| finding().at(Slot::Part(FieldId::ThrowThis)))
}

fn depth(worked: &Worked, depth: &Depth) -> Vec<Finding> {
    let mut findings: Vec<_> =
        Facing::BOTH.into_iter().filter_map(|facing| touches(worked, depth, facing)).collect();
    findings.extend(shallow(worked, depth));
    findings.extend(off_centre(depth));
    findings.extend(drawn_differently(worked, depth));
    if depth.play_mm < 0.0 {
        let finding = Finding::warning(say::fork_wider_than_groove(-depth.play_mm));
        findings.push(finding.at(Slot::Part(FieldId::ForkThickness)));
    }
    findings
}

fn touches(worked: &Worked, depth: &Depth, facing: Facing) -> Option<Finding> {
    let least = depth.given(facing)?.least_clearance_mm(facing);
    let clear = depth.clearance_mm(facing);
    let gauge = limits::clearance(worked, least)?;
    let throw = match facing {
        Facing::This => FieldId::ThrowThis,
        Facing::Other => FieldId::ThrowOther,
    };
    let finding = || Finding::warning(say::dogs_touch_in_neutral(facing, clear, least));
    gauge.is_past().then(|| finding().past(gauge).at(Slot::Part(throw)))
}

fn shallow(worked: &Worked, depth: &Depth) -> Option<Finding> {
    let height = worked.lowest_tall_mm();
    let pushed = depth.given(Facing::This)?.pushed_in_mm(Facing::This);
    let gauge = limits::engaged(worked, pushed)?;
    let finding = || Finding::warning(say::engaged_too_little(pushed, height, gauge.limit));
    gauge.is_past().then(|| finding().past(gauge).at(Slot::Part(FieldId::ThrowThis)))
}

fn off_centre(depth: &Depth) -> Option<Finding> {
    let (off, shim) = depth.off_centre_mm().zip(depth.shim_mm())?;
    let way = if shim > 0.0 { "away" } else { "towards" };
    let says = || say::sliding_gear_off_centre(off.abs(), shim.abs(), way);
    (shim != 0.0).then(|| Finding::note(says()))
}

fn drawn_differently(worked: &Worked, depth: &Depth) -> Option<Finding> {
    let drawn = worked.design.setting.get(SettingField::Overlap);
    let pushed = depth.given(Facing::This)?.pushed_in_mm(Facing::This);
    let finding = || Finding::note(say::overlap_differs_from_depth(drawn, pushed));
    ((drawn - pushed).abs() > APART_MM).then(|| finding().at(Slot::Setting(FieldId::Overlap)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::{ClawSpec, DetentSpec, LinkageSpec, example};

    /// Codes of the findings with some numbers of the parts changed.
    fn codes(set: &[(FieldId, f64)]) -> Vec<&'static str> {
        let mut design = example();
        design.selector.linkage = Some(LinkageSpec::default());
        design.selector.claw = Some(ClawSpec::default());
        design.selector.detent = Some(DetentSpec::default());
        for (id, value) in set {
            assert!(design.set(Slot::Part(*id), *value));
        }
        findings(&Analysis::of(&design)).iter().map(|finding| finding.code).collect()
    }

    #[test]
    fn a_gap_that_is_off_is_told_to_be_too_large_or_too_little() {
        let mut design = example();
        design.selector.claw = Some(ClawSpec::default());
        let selector = Analysis::of(&design).worked.selector;
        let mut claw = *selector.strokes().expect("the claw turns the drum");
        let gap_mm = claw.claw.gaps_mm().lift;
        claw.strokes.lift.ends = Ends::Next;
        for (wanted_mm, code, word) in [
            (gap_mm / 3.0, "gap_too_large", "too large for"),
            (gap_mm * 3.0, "gap_too_small", "too small for"),
        ] {
            claw.claw.wanted_mm = wanted_mm;
            let finding = gap(&claw, Stroke::Lift).expect("it is far off");
            let words = finding.text(crenel_words::Reader::default());
            assert!(finding.code == code && words.contains(word), "{words}");
        }
        claw.claw.wanted_mm = gap_mm;
        assert_eq!(gap(&claw, Stroke::Lift), None);
    }

    #[test]
    fn sizes_that_leave_no_valley_or_no_stop_are_told() {
        let cases = [
            // Six positions on a radius of 5 mm: 5.236 mm from valley to valley.
            ([(FieldId::StarRadius, 5.0), (FieldId::StarCrest, 5.24)], "crest_wider_than_step"),
            ([(FieldId::StopRadius, 5.0), (FieldId::Eccentric, 5.0)], "eccentric_beyond_shaft"),
            // The lever straight up and the rod along the arm.
            ([(FieldId::ShaftAbove, -32.0), (FieldId::RodLength, 90.0)], "linkage_in_line"),
        ];
        for (set, code) in cases {
            assert!(codes(&set).contains(&code), "{code}: {:?}", codes(&set));
            assert!(!codes(&[]).contains(&code));
        }
        let just_within = [(FieldId::StarRadius, 5.0), (FieldId::StarCrest, 5.23)];
        assert!(!codes(&just_within).contains(&"crest_wider_than_step"));
    }
}
