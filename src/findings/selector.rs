//! Findings on the way from the foot to the dogs.

use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::model::{ClawStrokes, PedalSwing, SelectorAnalysis, Worked};
use crate::selector::{CRAMPED, ClawFault, Ends, Joined, PerStroke, RodFault, Stroke, TrackFault};
use crate::stack::{Depth, Facing};
use crate::units::{Quantity, with_capital};

/// The share of the height of the dogs that should be engaged: common practice, no source.
pub(crate) const ENGAGED_SHARE: f64 = 0.75;

/// How far the gap at the stop may be off the target gap, as a share of it: our own bounds around the 1 mm
/// of common practice.
pub(crate) const GAP_SHARE: f64 = 0.5;

/// How far the gaps of the two strokes may differ, mm: our own bound for "the same".
pub(crate) const GAPS_APART_MM: f64 = 0.3;

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
    findings.extend(detent(selector));
    findings.extend(crest(selector));
    findings.extend(track(worked));
    findings.extend(selector.depth.iter().flat_map(|given| depth(worked, given)));
    findings
}

fn unreachable_rod(fault: &RodFault) -> Finding {
    match *fault {
        RodFault::Short { rod_mm, least_mm, most_mm } => Finding::error("rod_does_not_reach")
            .at(Slot::Part(FieldId::RodLength))
            .says(
                "A rod of {} does not reach from the pedal's arm to the lever at rest: it must \
                 be from {} to {}.",
                &[rod_mm, least_mm, most_mm].map(|mm| (Quantity::Length, mm)),
            )
            .hint("Change the rod, or the arms and the lever's place if the rod is as measured."),
        RodFault::OnShaft { rod_mm } => Finding::error("arm_ends_on_shaft")
            .at(Slot::Part(FieldId::PedalArm))
            .says(
                "At rest the pedal's arm ends on the shaft itself: the rod of {} lies along the \
                 lever and cannot turn it.",
                &[(Quantity::Length, rod_mm)],
            )
            .hint("Measure the arms and the place of the shaft again."),
    }
}

fn pedal(swing: &PedalSwing) -> Vec<Finding> {
    let both = |of: fn(&PedalSwing, Stroke) -> Option<Finding>| {
        Stroke::BOTH.into_iter().filter_map(move |stroke| of(swing, stroke))
    };
    both(cramped).chain(both(turned_back)).chain(in_line(swing)).collect()
}

fn in_line(swing: &PedalSwing) -> Option<Finding> {
    let turns = swing.reach.as_array().map(|reach| (Quantity::Angle, reach.farthest.degrees()));
    swing.in_line().then(|| {
        Finding::warning("linkage_in_line")
            .at(Slot::Part(FieldId::PedalArm))
            .says(
                "At rest the pedal's arm and the rod lie in line: lifting turns the shaft {} and \
                 pressing {}, both the same way.",
                &turns,
            )
            .hint(
                "Move the arm or the pedal's height until arm and rod stand about square at rest.",
            )
    })
}

fn turned_back(swing: &PedalSwing, stroke: Stroke) -> Option<Finding> {
    let reach = &swing.reach[stroke];
    let at_mm = reach.turns_back_at_mm?;
    let numbers = [(Quantity::Length, at_mm), (Quantity::Angle, reach.farthest.degrees())];
    Some(
        Finding::warning("linkage_turns_back")
            .at(Slot::Part(FieldId::PedalArm))
            .says(
                format!(
                    "{}, the pedal's arm comes into line with the rod after {{}} of the foot: \
                     the shaft has turned {{}} there and turns back from then on.",
                    with_capital(stroke.word())
                ),
                &numbers,
            )
            .hint(
                "Move the arm or the pedal's height until arm and rod stand about square at rest.",
            ),
    )
}

fn cramped(swing: &PedalSwing, stroke: Stroke) -> Option<Finding> {
    let reach = &swing.reach[stroke];
    let at = Slot::Part(FieldId::RodLength);
    let word = stroke.word();
    let hint = "Turn the lever on its splines, or change rod and arms, until rod and lever stand \
                square in the middle of the swing.";
    if reach.locks {
        return Some(Finding::warning("linkage_locks").at(at).hint(hint).says(
            format!(
                "{}, rod and lever come into line after {{}} of the foot: there it locks.",
                with_capital(word)
            ),
            &[(Quantity::Length, reach.foot_mm)],
        ));
    }
    let worst = reach.worst?.degrees();
    let off = worst.min(180.0 - worst);
    let angles = |limit: f64| [(Quantity::Angle, worst), (Quantity::Angle, limit)];
    if off < CRAMPED[0] {
        let from = reach.cramps_at_mm.unwrap_or(0.0);
        let mut numbers = angles(CRAMPED[0]).to_vec();
        numbers.push((Quantity::Length, from));
        return Some(Finding::warning("linkage_cramps").at(at).hint(hint).says(
            format!(
                "{}, the angle between rod and lever comes to {{}}; nearer to line than {{}} \
                 it cramps, from {{}} of the foot on.",
                with_capital(word)
            ),
            &numbers,
        ));
    }
    (off < CRAMPED[1]).then(|| {
        Finding::note("linkage_near_cramping").at(at).hint(hint).says(
            format!(
                "{}, the angle between rod and lever comes to {{}}, within {{}} of line.",
                with_capital(word)
            ),
            &angles(CRAMPED[1]),
        )
    })
}

fn no_claw(fault: &ClawFault) -> Finding {
    let numbers = [fault.pin_radius_mm, fault.most_mm].map(|mm| (Quantity::Length, mm));
    Finding::error("pins_too_far_out")
        .at(Slot::Part(FieldId::PinRadius))
        .says(
            "The claw cannot pull pins at a radius of {}: with these positions and axes they \
             must stand within {}.",
            &numbers,
        )
        .hint("Measure the pins from the drum's axis, and the distance of the axes, again.")
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
    let numbers = [claw.eccentric_mm, claw.stop_radius_mm].map(|mm| (Quantity::Length, mm));
    (claw.eccentric_mm >= claw.stop_radius_mm).then(|| {
        Finding::warning("eccentric_beyond_shaft")
            .at(Slot::Part(FieldId::Eccentric))
            .says(
                "The stop is {} off its own axis and stands {} from the shaft: turned, it would \
                 come over the shaft.",
                &numbers,
            )
            .hint("Measure again: the eccentric is half of what the stop moves from side to side.")
    })
}

fn short_of_stop(
    claw: &ClawStrokes,
    selector: &SelectorAnalysis,
    stroke: Stroke,
) -> Option<Finding> {
    let swing = selector.swing()?;
    let end = claw.strokes[stroke];
    let stop = claw.claw.swing_to_stop(stroke);
    let mut numbers = [end.shaft, stop].map(|at| (Quantity::Angle, at.degrees())).to_vec();
    let missing = match swing.spare_mm(stroke, stop) {
        Some(spare) => {
            numbers.push((Quantity::Length, -spare));
            "{} of foot travel are missing"
        }
        None => "no foot travel takes it there, because the linkage locks or turns back before",
    };
    end.before_stop.then(|| {
        Finding::warning("foot_short_of_stop")
            .at(Slot::Part(PerStroke::from([FieldId::FootLift, FieldId::FootPress])[stroke]))
            .says(
                format!(
                    "{}, the foot turns the shaft {{}} and the stop stands at {{}}: {missing}.",
                    with_capital(stroke.word())
                ),
                &numbers,
            )
            .hint(match swing.pedal.joined {
                Joined::ByRod(_) => {
                    "Give the pedal room, a longer rod arm or a shorter shaft lever."
                }
                Joined::OnShaft => {
                    "Give the pedal room; on the shaft only a shorter foot arm \
                     turns it farther for the same foot."
                }
            })
    })
}

fn ends(claw: &ClawStrokes, stroke: Stroke) -> Option<Finding> {
    let end = &claw.strokes[stroke];
    let (code, message, hint) = match end.ends {
        Ends::Next => return None,
        Ends::Back => (
            "drum_falls_back",
            "the claw pushes the drum {} of {}, not over the crest: the roller draws it back when the foot lets go.",
            "Let the shaft swing farther: a thinner stop, less play, more travel of the foot.",
        ),
        Ends::Held => (
            "drum_not_brought_home",
            "the claw pushes the drum {} of {}, and there it stays: friction holds the roller.",
            "Free the roller on its pin and polish the star; steeper flanks help.",
        ),
        Ends::Between => (
            "drum_stays_between",
            "the claw leaves the drum at {} of {}, on the crest: it can stay in a false neutral.",
            "Let the shaft swing farther, and dress the crests of the star.",
        ),
        Ends::Beyond => (
            "drum_pushed_past",
            "the claw pushes the drum {}, past its step of {}, on to the next crest.",
            "Stop the shaft earlier: a thicker stop.",
        ),
    };
    let numbers = [end.pushed, claw.claw.step()].map(|a| (Quantity::Angle, a.degrees()));
    let message = format!("{}, {message}", with_capital(stroke.word()));
    let at = Slot::Part(travel(stroke));
    Some(Finding::warning(code).at(at).says(message, &numbers).hint(hint))
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
    let off = gap_mm - wanted;
    if off.abs() <= GAP_SHARE * wanted || end.ends != Ends::Next {
        return None;
    }
    let numbers = [gap_mm, wanted].map(|mm| (Quantity::Length, mm));
    let (word, what) = if off > 0.0 {
        ("much", "the push ends early, and the drum may kick back")
    } else {
        ("little", "the claw may knock the drum on to a false neutral")
    };
    let code = if off > 0.0 { "gap_too_large" } else { "gap_too_small" };
    let stroke_word = with_capital(stroke.word());
    let message =
        format!("{stroke_word}, {{}} is left at the stop, too {word} for the {{}} wanted: {what}.");
    Some(Finding::warning(code).at(Slot::Part(travel(stroke))).says(message, &numbers).hint(
        "Turn the eccentric until both gaps are the same, then make the stop thinner or thicker \
         until they are right.",
    ))
}

fn unequal(claw: &ClawStrokes) -> Option<Finding> {
    let PerStroke { lift, press } = claw.claw.gaps_mm();
    if (lift - press).abs() <= GAPS_APART_MM {
        return None;
    }
    let mut numbers = vec![(Quantity::Length, lift), (Quantity::Length, press)];
    let (message, hint) = match &claw.centred {
        Ok(at) => {
            numbers.push((Quantity::Angle, at.degrees()));
            (
                "The gaps at the stop are {} lifting and {} pressing. With the eccentric at {} they are the same.",
                "Turn the eccentric, then measure both gaps again.",
            )
        }
        Err(fault) => {
            numbers.push((Quantity::Length, fault.move_mm));
            (
                "The gaps at the stop are {} lifting and {} pressing. The stop would have to move \
                 by {}, farther than it can.",
                "File or build up one side of the stop, or bend what it strikes.",
            )
        }
    };
    let at = Slot::Part(FieldId::EccentricAt);
    Some(Finding::note("gaps_unequal").at(at).says(message, &numbers).hint(hint))
}

fn detent(selector: &SelectorAnalysis) -> Option<Finding> {
    let torque = selector.detent.as_ref()?.return_nmm();
    (torque <= 0.0).then(|| {
        Finding::warning("roller_stays")
            .at(Slot::Part(FieldId::RollerFriction))
            .says(
                "Friction holds the roller on its flank ({} to bring it home): the drum stays \
                 where it is left.",
                &[(Quantity::FineTorque, torque)],
            )
            .hint("Free the roller on its pin and polish the star; steeper flanks help.")
    })
}

fn crest(selector: &SelectorAnalysis) -> Option<Finding> {
    let star = selector.star.as_ref()?;
    let step_mm = star.step().radians() * star.radius_mm;
    let numbers = [star.crest_mm, step_mm].map(|mm| (Quantity::Length, mm));
    (star.crest_mm >= step_mm).then(|| {
        Finding::warning("crest_wider_than_step")
            .at(Slot::Part(FieldId::StarCrest))
            .says(
                "The flat of the crests is {} wide, and from valley to valley there are {}: no \
                 valley is left for the roller.",
                &numbers,
            )
            .hint("Measure the flat, the radius of the roller and the positions again.")
    })
}

fn track(worked: &Worked) -> Vec<Finding> {
    let selector = &worked.selector;
    let fault = match &selector.track {
        None => return Vec::new(),
        Some(Err(fault)) => *fault,
        Some(Ok(track)) => return throws_differ(selector, track).into_iter().collect(),
    };
    let message = match fault {
        TrackFault::TooFew => "A track needs two points at least.".to_owned(),
        TrackFault::OutOfOrder(at) => {
            format!(
                "The drum angle of point {} of the track is not behind the one before it.",
                at + 1
            )
        }
    };
    let (at, hint) = match fault {
        TrackFault::OutOfOrder(at) => {
            (at, "Give the points in the order in which the drum comes to them.")
        }
        TrackFault::TooFew => (0, "Add a point, or take one straight flank instead."),
    };
    let point = Slot::TrackPoint(at, FieldId::TrackAngle);
    // A flank without points has only its two ends.
    let by_points = worked.design.get(point).is_some();
    let slot = if by_points { point } else { Slot::Part(FieldId::TrackEnd) };
    vec![Finding::error("track_out_of_order").at(slot).says(message, &[]).hint(hint)]
}

fn throws_differ(selector: &SelectorAnalysis, track: &crate::selector::Track) -> Option<Finding> {
    let depth = selector.depth.as_ref()?;
    let numbers = [track.travel_mm(selector.step_deg()), depth.throw_mm.this];
    let apart = (numbers[0] - numbers[1]).abs();
    (apart > APART_MM).then(|| {
        Finding::note("fork_travel_differs")
            .at(Slot::Part(FieldId::ThrowThis))
            .says(
                "The track moves the fork {}, and under Depth it moves {}.",
                &numbers.map(|mm| (Quantity::Length, mm)),
            )
            .hint("A bent fork or a worn pin shows so; measure at the fork.")
    })
}

fn depth(worked: &Worked, depth: &Depth) -> Vec<Finding> {
    let mut findings: Vec<_> =
        Facing::BOTH.into_iter().filter_map(|facing| touches(depth, facing)).collect();
    findings.extend(shallow(worked, depth));
    findings.extend(off_centre(depth));
    findings.extend(drawn_differently(worked, depth));
    if depth.play_mm < 0.0 {
        let play = [(Quantity::Length, -depth.play_mm)];
        findings.push(
            Finding::warning("fork_wider_than_groove")
                .at(Slot::Part(FieldId::ForkThickness))
                .says("The fork is {} thicker than its groove is wide.", &play)
                .hint("Measure both again."),
        );
    }
    findings
}

fn touches(depth: &Depth, facing: Facing) -> Option<Finding> {
    let least = depth.given(facing)?.least_clearance_mm(facing);
    (least <= 0.0).then(|| {
        let numbers = [depth.clearance_mm(facing), least].map(|mm| (Quantity::Length, mm));
        Finding::warning("dogs_touch_in_neutral")
            .says(
                format!(
                    "Towards {} {{}} are clear in neutral, and {{}} with all sizes at their \
                     limits: the dogs can touch.",
                    facing.words()
                ),
                &numbers,
            )
            .hint("Shim the sliding gear towards the other side, or take metal off the tips.")
    })
}

fn shallow(worked: &Worked, depth: &Depth) -> Option<Finding> {
    let height = worked.lowest_tall_mm();
    let pushed = depth.given(Facing::This)?.pushed_in_mm(Facing::This);
    let wanted = ENGAGED_SHARE * height;
    (pushed < wanted).then(|| {
        let numbers = [pushed, height, wanted].map(|mm| (Quantity::Length, mm));
        Finding::warning("engaged_too_little")
            .at(Slot::Part(FieldId::ThrowThis))
            .says("The fork pushes the dogs {} in, of {} that they stand high; three quarters would be {}.", &numbers)
            .hint("Less clearance, a fork that is not bent, less play in its groove. Three \
                   quarters is common practice, no source.")
    })
}

fn off_centre(depth: &Depth) -> Option<Finding> {
    let (off, shim) = depth.off_centre_mm().zip(depth.shim_mm())?;
    (shim != 0.0).then(|| {
        let side = if shim > 0.0 { "away from" } else { "towards" };
        let numbers = [off.abs(), shim.abs()].map(|mm| (Quantity::Length, mm));
        Finding::note("sliding_gear_off_centre")
            .says(
                format!(
                    "In neutral the sliding gear stands {{}} off the middle; shims of {{}} \
                     that move it {side} this pair centre it."
                ),
                &numbers,
            )
            .hint("See Depth for what that does to every number of the pair.")
    })
}

fn drawn_differently(worked: &Worked, depth: &Depth) -> Option<Finding> {
    let drawn = worked.design.setting.get(SettingField::Overlap);
    let pushed = depth.given(Facing::This)?.pushed_in_mm(Facing::This);
    ((drawn - pushed).abs() > APART_MM).then(|| {
        Finding::note("overlap_differs_from_depth")
            .at(Slot::Setting(FieldId::Overlap))
            .says(
                "The pair is drawn with an overlap of {}; by the chain the fork pushes it {} in.",
                &[drawn, pushed].map(|mm| (Quantity::Length, mm)),
            )
            .hint("Under Depth one button takes the chain's overlap for the pair.")
    })
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
            (gap_mm / 3.0, "gap_too_large", "too much for"),
            (gap_mm * 3.0, "gap_too_small", "too little for"),
        ] {
            claw.claw.wanted_mm = wanted_mm;
            let finding = gap(&claw, Stroke::Lift).expect("it is far off");
            let words = finding.text(crate::units::DisplayUnits::default());
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
