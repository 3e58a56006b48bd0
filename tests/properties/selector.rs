//! From the foot to the fork, and the chains along the shaft.

use crenel::analysis::Analysis;
use crenel::design::{Design, SYMPTOMS, Symptom};
use crenel::diagnosis::{CHECKS, Check, CheckStatus, diagnose};
use crenel::fields::{FieldId, Slot};
use crenel::figures::figures;
use crenel::finding::Severity;
use crenel::ring::Point;
use crenel::selector::{Claw, Ends, Joined, Pedal, PerStroke, Rod, RodFault, Star, Stroke};
use crenel::stack::{Chain, Depth, Facing, Link, PerFacing};
use crenel::units::Angle;
use proptest::prelude::*;

use crate::cases;
use crate::designs::{any_number, depth, design, selector, trace, within};

fn rod() -> impl Strategy<Value = Rod> {
    let place = (-200.0..200.0, -150.0..150.0);
    let lengths = (10.0..80.0, 20.0..300.0, 10.0..80.0);
    (place, lengths, -180.0..180.0, any::<bool>()).prop_map(
        |((ahead, up), (arm_mm, rod_mm, lever_mm), lever, above)| Rod {
            shaft: Point::new(ahead, up),
            arm_mm,
            rod_mm,
            lever_mm,
            lever_at: Angle::from_degrees(lever),
            above,
        },
    )
}

fn pedal() -> impl Strategy<Value = Pedal> {
    let feet = (60.0..200.0, 5.0..80.0, 5.0..80.0);
    (rod(), feet, -180.0..180.0).prop_map(|(rod, (foot_arm_mm, lift, press), bend)| Pedal {
        foot_arm_mm,
        bend: Angle::from_degrees(bend),
        foot_mm: PerStroke { lift, press },
        joined: Joined::ByRod(rod),
    })
}

/// The same seen from the other side of the machine.
fn mirrored(pedal: &Pedal) -> Pedal {
    let back = |angle: Angle| Angle::from_radians(-angle.radians());
    let joined = match pedal.joined {
        Joined::OnShaft => Joined::OnShaft,
        Joined::ByRod(rod) => Joined::ByRod(Rod {
            shaft: Point::new(-rod.shaft.x, rod.shaft.y),
            lever_at: back(rod.lever_at),
            ..rod
        }),
    };
    Pedal { bend: back(pedal.bend), joined, ..*pedal }
}

/// The same with all lengths so many times as long.
fn scaled(pedal: &Pedal, by: f64) -> Pedal {
    let joined = match pedal.joined {
        Joined::OnShaft => Joined::OnShaft,
        Joined::ByRod(rod) => Joined::ByRod(Rod {
            shaft: Point::new(by * rod.shaft.x, by * rod.shaft.y),
            arm_mm: by * rod.arm_mm,
            rod_mm: by * rod.rod_mm,
            lever_mm: by * rod.lever_mm,
            ..rod
        }),
    };
    let foot_mm = pedal.foot_mm.map(|mm| by * mm);
    Pedal { foot_arm_mm: by * pedal.foot_arm_mm, foot_mm, joined, ..*pedal }
}

fn from_square(angle: Angle) -> f64 {
    (angle.degrees() - 90.0).abs()
}

proptest! {
    #![proptest_config(cases(3000))]

    /// Nowhere in a stroke is the linkage nearer to locking than it says, and it gets as far as it says.
    #[test]
    fn no_posture_of_a_stroke_is_worse_than_the_worst(pedal in pedal()) {
        for stroke in Stroke::BOTH {
            let Ok(reach) = pedal.reach(stroke) else { return Ok(()) };
            prop_assert!(reach.foot_mm <= pedal.foot_mm[stroke] * (1.0 + 1e-12));
            let whole = (reach.foot_mm / pedal.foot_mm[stroke] - 1.0).abs() < 1e-12;
            prop_assert!(reach.locks || whole, "{} without a lock", reach.foot_mm);
            let worst = from_square(reach.worst.expect("a rod has an angle"));
            let mut cramped = None;
            for step in 0..=40 {
                let foot = reach.foot_mm * f64::from(step) / 40.0;
                let posture = pedal.posture(stroke.sign() * foot).expect("it reaches at rest");
                let posture = posture.expect("within reach");
                let angle = from_square(posture.transmission.expect("a rod has an angle"));
                prop_assert!(angle <= worst + 1e-6, "{foot}: {angle} beyond {worst}");
                if angle > 50.0 + 1e-6 && cramped.is_none() {
                    cramped = Some(foot);
                }
            }
            if let Some(from) = cramped {
                let at = reach.cramps_at_mm;
                prop_assert!(at.is_some_and(|at| at <= from + 1e-6), "{at:?} after {from}");
            }
            if reach.locks {
                prop_assert!(worst > 89.0, "locked at {worst} from square");
                let beyond = stroke.sign() * (reach.foot_mm + 0.01);
                prop_assert_eq!(pedal.posture(beyond).expect("it reaches at rest"), None);
            }
        }
    }

    #[test]
    fn a_rod_reaches_within_the_limits_that_its_fault_names_and_not_beyond(pedal in pedal()) {
        let fault = pedal.with_rod(1.0).reach(Stroke::Lift);
        let Err(RodFault::Short { least_mm, most_mm, .. }) = fault else { return Ok(()) };
        let span = most_mm - least_mm;
        for (rod, reaches) in [
            (least_mm + 1e-6 * span, true),
            (most_mm - 1e-6 * span, true),
            (least_mm - 1e-6 * span, false),
            (most_mm + 1e-6 * span, false),
        ] {
            prop_assert_eq!(pedal.with_rod(rod).posture(0.0).is_ok(), reaches || rod <= 0.0, "{}", rod);
        }
    }

    #[test]
    fn lifting_raises_the_peg_unless_it_is_near_its_top(pedal in pedal()) {
        let Ok(Some(rest)) = pedal.posture(0.0) else { return Ok(()) };
        if rest.peg.x.abs() > 0.2 * pedal.foot_arm_mm
            && let Ok(Some(up)) = pedal.posture(0.5)
        {
            prop_assert!(up.peg.y > rest.peg.y, "{rest:?} {up:?}");
        }
    }

    /// Seen from the other side of the machine everything turns the other way, and no number is another.
    #[test]
    fn a_pedal_seen_from_behind_does_the_same_the_other_way_round(
        pedal in pedal(),
        share in -1.0..1.0,
        larger in 0.2..5.0,
    ) {
        let Ok(Some(rest)) = pedal.posture(0.0) else { return Ok(()) };
        // Straight up or down of the pivot "above" and "lifting" have no side.
        let Joined::ByRod(rod) = pedal.joined else { return Ok(()) };
        prop_assume!(rest.peg.x.abs() > 1e-6 && rod.lever_end().x.abs() > 1e-6);
        let foot = share * pedal.foot_mm[if share < 0.0 { Stroke::Press } else { Stroke::Lift }];
        let seen = pedal.posture(foot).expect("it reaches at rest");
        let other = mirrored(&pedal).posture(foot).expect("it reaches too");
        // On the very edge of its reach rounding may take it either way.
        let locked = seen.is_none_or(|seen| seen.transmission.map_or(0.0, from_square) > 89.9);
        prop_assert!(locked || other.is_some());
        if let (Some(seen), Some(other), false) = (seen, other, locked) {
            prop_assert!((seen.peg.x + other.peg.x).abs() < 1e-9 && (seen.peg.y - other.peg.y).abs() < 1e-9);
            let turned = Angle::from_radians(seen.shaft.radians() + other.shaft.radians()).signed();
            prop_assert!(turned.radians().abs() < 1e-6, "{seen:?} {other:?}");
        }
        let scaled = scaled(&pedal, larger);
        for stroke in Stroke::BOTH {
            let reach = |pedal: &Pedal| pedal.reach(stroke).expect("it reaches at rest");
            let (here, behind, large) = (reach(&pedal), reach(&mirrored(&pedal)), reach(&scaled));
            prop_assert_eq!((here.locks, here.locks), (behind.locks, large.locks));
            prop_assert!((here.foot_mm - behind.foot_mm).abs() < 1e-6);
            prop_assert!((here.foot_mm * larger - large.foot_mm).abs() < 1e-6 * larger);
            if !here.locks {
                prop_assert!((here.shaft.radians() - behind.shaft.radians()).abs() < 1e-5);
                prop_assert!((here.shaft.radians() - large.shaft.radians()).abs() < 1e-5);
            }
        }
    }

    /// A stroke that is not limited by the pedal ends at the stop, a limited one where the pedal does,
    /// and a farther swing never leaves the drum farther back.
    #[test]
    fn a_stroke_ends_where_stop_or_pedal_does(
        travel in 0.1..40.0, play in 0.0..3.0, crest in 0.0..4.0, can in 0.0..60.0, more in 0.0..20.0,
    ) {
        let star = Star { positions: 6.0, radius_mm: 18.0, crest_mm: crest, holds: false };
        let claw = Claw {
            positions: 6.0,
            pin_radius_mm: 10.0,
            apart_mm: 46.0,
            play_mm: PerStroke::both(play),
            travel_mm: PerStroke::both(travel),
            stop_radius_mm: 30.0,
            eccentric_mm: 0.8,
            eccentric_at: Angle::ZERO,
            wanted_mm: 1.0,
        };
        for stroke in Stroke::BOTH {
            let end = |deg: f64| claw.stroke(stroke, Some(Angle::from_degrees(deg)), Some(&star));
            let (stop, short) = (claw.stroke(stroke, None, Some(&star)), end(can));
            prop_assert_eq!(short.before_stop, short.shaft.radians() < stop.shaft.radians());
            prop_assert!(short.shaft.radians() <= stop.shaft.radians() && short.gap_mm >= stop.gap_mm);
            prop_assert!(short.before_stop == (can < stop.shaft.degrees()));
            prop_assert_eq!(short.ends == Ends::Next || short.ends == Ends::Beyond,
                short.pushed.degrees() > 30.0 + star.stand().degrees());
            let order = |ends| [Ends::Back, Ends::Between, Ends::Next, Ends::Beyond].iter().position(|e| *e == ends);
            prop_assert!(order(short.ends) <= order(end(can + more).ends));
        }
    }

    #[test]
    fn the_rod_for_a_height_puts_the_peg_there(pedal in pedal(), up in -40.0..40.0) {
        let Some(rod) = pedal.rod_for_height(up) else { return Ok(()) };
        let height = |pedal: &Pedal| pedal.posture(0.0).ok().flatten().map(|p| p.peg.y);
        let (was, is) = (height(&pedal), height(&pedal.with_rod(rod)));
        let (was, is) = was.zip(is).expect("both reach");
        prop_assert!((is - was - up).abs() < 1e-3, "{was} {is} {up}");
    }

    #[test]
    fn a_drum_is_never_pushed_back_and_a_centred_eccentric_makes_gaps_equal(
        (positions, share, apart) in (4_u8..=16, 0.05..0.8, 20.0..80.0),
        play in (0.0..3.0, 0.0..3.0),
        travel in (1.0..30.0, 1.0..30.0),
        stop in (10.0..60.0, 0.0..3.0, -80.0..80.0),
    ) {
        let mut claw = Claw {
            positions: f64::from(positions),
            pin_radius_mm: 1.0,
            apart_mm: apart,
            play_mm: PerStroke { lift: play.0, press: play.1 },
            travel_mm: PerStroke { lift: travel.0, press: travel.1 },
            stop_radius_mm: stop.0,
            eccentric_mm: stop.1,
            eccentric_at: Angle::from_degrees(stop.2),
            wanted_mm: 1.0,
        };
        // The hook pulls only from outside the tangent to the pin circle.
        claw.pin_radius_mm = apart * Angle::from_radians(claw.step().radians() / 2.0).cos() * share;
        prop_assert!(claw.check().is_ok());
        for stroke in Stroke::BOTH {
            let mut last = -1e-12;
            for step in 0..=60 {
                let pushed = claw.pushed(stroke, Angle::from_degrees(f64::from(step))).radians();
                prop_assert!(pushed >= last - 1e-9, "{step}: {pushed} after {last}");
                last = pushed;
            }
        }
        match claw.centred() {
            Ok(at) => {
                let PerStroke { lift, press } = claw.turned_to(at).gaps_mm();
                prop_assert!((lift - press).abs() < 1e-9, "{lift} {press}");
            }
            Err(fault) => {
                let [least, most] = fault.can_mm;
                prop_assert!(fault.move_mm < least || fault.move_mm > most || claw.eccentric_mm == 0.0);
            }
        }
    }

    /// A shim brings the gear nearer to the middle, not beyond it, and to within one step of it.
    #[test]
    fn a_shim_goes_as_near_to_the_middle_as_its_step_allows(
        gaps in (-2.0..5.0, -2.0..5.0),
        step in 0.01..0.5,
        play in 0.0..1.0,
    ) {
        let chain = |gap: f64| Chain {
            links: vec![
                Link { size_mm: 20.0 + gap, tolerance_mm: 0.05, opens: true },
                Link { size_mm: 20.0, tolerance_mm: 0.03, opens: false },
            ],
        };
        let depth = Depth {
            chains: PerFacing { this: chain(gaps.0), other: chain(gaps.1) },
            throw_mm: PerFacing::both(6.0),
            play_mm: play,
            shim_step_mm: step,
        };
        let (off, shim) = depth.off_centre_mm().zip(depth.shim_mm()).expect("both are given");
        let left = depth.shimmed(shim).off_centre_mm().expect("both are given");
        prop_assert!(shim.abs() <= off.abs() + 1e-8 && left.abs() < step + 1e-8, "{off} {shim} {left}");
        prop_assert!(shim == 0.0 || shim.signum() == off.signum());
        let steps = shim.abs() / step;
        prop_assert!((steps - steps.round()).abs() < 1e-6);
        // Measured again with the shim in, nothing is left to shim.
        prop_assert_eq!(depth.shimmed(shim).shim_mm(), Some(0.0));
        let both = |depth: &Depth| Facing::BOTH.map(|facing| depth.clearance_mm(facing));
        let twice = both(&depth.shimmed(shim).shimmed(0.3));
        let once = both(&depth.shimmed(shim + 0.3));
        prop_assert!(twice.iter().zip(once).all(|(a, b)| (a - b).abs() < 1e-9));
    }
}

fn inwards(numbers: crate::designs::Numbers) -> impl Strategy<Value = Design> {
    (selector(numbers), depth(numbers), trace(numbers)).prop_map(|(selector, depth, trace)| {
        Design { selector, depth: Some(depth), trace, ..Design::default() }
    })
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn whatever_is_given_every_figure_is_finite_and_nothing_panics(
        design in prop_oneof![inwards(within), inwards(any_number), design(any_number)],
    ) {
        let analysis = Analysis::of(&design);
        for figure in figures(&analysis) {
            prop_assert!(figure.value.is_none_or(f64::is_finite), "{figure:?}");
        }
        let diagnosis = diagnose(&analysis);
        for checked in &diagnosis.checks {
            prop_assert!(!checked.says.is_empty() && checked.exceedance >= 0.0, "{checked:?}");
            prop_assert_eq!(checked.known_by.is_none(), checked.status == CheckStatus::Open);
        }
        let past: Vec<f64> = diagnosis.causes.iter().map(|&at| diagnosis.checks[at].exceedance).collect();
        prop_assert!(past.is_sorted_by(|a, b| a >= b), "{past:?}");
    }

    /// A button must come to what its figure says, and leave the part in the design.
    #[test]
    fn turning_the_eccentric_and_fitting_shims_come_to_what_is_promised(design in inwards(within)) {
        let before = Analysis::of(&design).worked.selector;
        let mut done = design.clone();
        let at = before.strokes().and_then(|strokes| strokes.centred.ok());
        if let (Some(claw), Some(at)) = (&mut done.selector.claw, at) {
            claw.turn_eccentric(at);
        }
        let shim = before.depth.as_ref().and_then(Depth::shim_mm);
        if let (Some(depth), Some(shim)) = (&mut done.depth, shim) {
            depth.fit_shim(shim);
        }
        let after = Analysis::of(&done).worked.selector;
        // A place or a shim beyond the limits of what can be typed is another matter.
        let limits = |slot: &Slot| done.get(*slot).is_some_and(|value| slot.check(value).is_none());
        let places = [FieldId::EccentricAt, FieldId::ClawLift, FieldId::ClawPress].map(Slot::Part);
        if at.is_some() && places.iter().all(limits) {
            let PerStroke { lift, press } = after.strokes().expect("it is still there").claw.gaps_mm();
            prop_assert!((lift - press).abs() < 3e-4, "{lift} {press}");
        }
        let can = |shim: &f64| shim.abs() <= FieldId::LinkSize.spec().max;
        if let (Some(before), Some(shim)) = (&before.depth, shim.filter(can)) {
            let fitted = after.depth.expect("it is still there");
            prop_assert_eq!(fitted.shim_mm(), Some(0.0));
            for facing in Facing::BOTH {
                let said = before.shimmed(shim).clearance_mm(facing);
                prop_assert!((fitted.clearance_mm(facing) - said).abs() < 1e-9);
            }
        }
    }

    /// What is wrong between foot and fork must not take the numbers of the pair away.
    #[test]
    fn parts_out_of_their_limits_do_not_stop_the_pair(design in inwards(any_number)) {
        prop_assume!(design.trace.measured.is_empty());
        let analysis = Analysis::of(&design);
        let texts = analysis.findings.iter().any(|f| f.code == "text_too_long");
        prop_assert!(analysis.pair.is_some() || texts);
        for finding in analysis.findings.iter().filter(|f| f.severity == Severity::Error) {
            prop_assert!(!finding.hint(crenel_words::Reader::default()).is_empty(), "{finding:?}");
        }
    }

    #[test]
    fn only_the_checks_of_what_is_felt_are_asked(felt in proptest::collection::btree_set(
        proptest::sample::select(SYMPTOMS.to_vec()), 1..4,
    )) {
        let mut design = Design::default();
        design.trace.felt.clone_from(&felt);
        let checks = diagnose(&Analysis::of(&design)).checks;
        let asked: Vec<_> = checks.iter().map(|checked| checked.check).collect();
        let any = |symptoms: &[Symptom]| symptoms.iter().any(|s| felt.contains(s));
        let says_what = felt.iter().any(|symptom| !symptom.is_when);
        let belongs = |check: &&Check| (!says_what || any(check.symptoms)) && !any(check.cleared_by);
        prop_assert_eq!(asked, CHECKS.iter().filter(belongs).collect::<Vec<_>>());
    }
}
