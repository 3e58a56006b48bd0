//! From the pedal to the fork: linkage, claw, detent and drum track.

use crenel_words::{Message, Value, outcome, working as say};

use super::context::{PartsContext, deg, formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::fields::FieldId;
use crate::limits;
use crate::model::{ClawStrokes, PedalSwing};
use crate::selector::{Detent, Ends, PerStroke, Stroke, StrokeEnd, Track};
use crate::units::{Angle, Quantity};

const FOUR_BAR: &str = "Law of cosines across the diagonal; Uicker, Pennock, Shigley, Theory of Machines and \
    Mechanisms.";
const ROD_ANGLE: &str = "Law of cosines across the diagonal, and 40° to 45° as the least angle: Uicker, Pennock, \
    Shigley, Theory of Machines and Mechanisms.";
const CLAW: &str = "Plane geometry of claw and pins (derived).";
const CLAW_GAP: &str = "Plane geometry of claw and pins (derived). About 1 mm left at the stop, the same both ways: \
    common practice, no source.";
const DRUM: &str = "Plane geometry of claw, pins and detent wheel (derived).";
const TOE: &str = "Wedge with friction, and the ratios of claw and linkage (derived).";
const WEDGE: &str = "Wedge with friction, tan ρ = μ (derived).";
const TRACK: &str = "Straight lines between the points of the track; plain arithmetic.";

const SWING: &str = "Δψ of the lever as the pedal turns by s/L";
const GAP: &str = "swing for one step + free play − travel, as arcs at the claw";
const PUSHED: &str =
    "past ½ step the roller draws the drum on; past 1½ steps it overshoots; a flat peak holds it";

/// Every place at which the drum can end up.
fn places() -> Vec<Message> {
    Ends::ALL.map(outcome::drum).into()
}

pub(super) static ROWS: &[&Figure] = &[
    &Figure {
        key: "shaft_swing_lift_deg",
        group: Group::Selector,
        label: "Shaft swing, lifting",
        quantity: Quantity::Angle,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: SWING,
        meaning: "How far the selector shaft turns as the foot lifts the pedal all the way. It has to cover the swing \
            for one drum step, plus the free play of the claw.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| Some(swing(parts, pedal(parts)?, Stroke::Lift))),
    },
    &Figure {
        key: "shaft_swing_press_deg",
        group: Group::Selector,
        label: "Shaft swing, pressing",
        quantity: Quantity::Angle,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: SWING,
        meaning: "How far the selector shaft turns as the foot presses the pedal all the way. If it differs much from \
            lifting, rod and lever are far from square.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| Some(swing(parts, pedal(parts)?, Stroke::Press))),
    },
    &Figure {
        key: "transmission_worst_deg",
        group: Group::Selector,
        label: "Worst angle between rod and lever",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: Some(limits::rod_angle),
        needs: &[],
        formula: "cos μ = (b² + c² − a² − d² + 2ad·cos θ)/(2bc)",
        meaning: "Angle between rod and lever at the worst point of the swing. Near 90° the rod turns the lever; far \
            from it the rod mostly loads the bearing, and the pedal feels stiff.",
        source: ROD_ANGLE,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let swing = pedal(parts)?;
            let worst = swing.worst();
            let working = match (swing.rest.transmission, worst) {
                (Some(rest), Some(_)) => {
                    let sizes = [FieldId::PedalArm, FieldId::RodLength, FieldId::ShaftLever];
                    let sizes = formula("a {}, b {}, c {}", sizes.map(|id| parts.given(id)));
                    say::at_rest(deg(rest.degrees()), sizes)
                }
                _ => say::pedal_on_shaft(),
            };
            Some(Answer::number(worst.map(Angle::degrees), working))
        }),
    },
    &Figure {
        key: "shaft_per_foot_deg",
        group: Group::Selector,
        label: "Shaft rotation per mm of foot travel",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "(dψ/dθ)/L, dψ/dθ = a·sin(θ − β)/(c·sin(ψ − β))",
        meaning: "How quick the linkage is at rest: degrees of the shaft per mm of foot travel. A quicker linkage \
            makes the pedal stroke shorter and heavier.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let working = formula("L {}", [parts.given(FieldId::FootArm)]);
            Some(Answer::number(pedal(parts)?.shaft_deg_per_mm, working))
        }),
    },
    &Figure {
        key: "peg_per_turn_mm",
        group: Group::Selector,
        label: "Toe peg rise per turn of the rod end",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "peg height with rod b + p − peg height with rod b, the shaft held by its spring",
        meaning: "How far the toe peg rises as one turn of a rod end lengthens the rod; negative if it drops. Use it \
            to find the turns for a pedal that sits too high or too low.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let working = formula("p {}", [parts.given(FieldId::RodThread)]);
            Some(Answer::number(pedal(parts)?.peg_per_turn_mm, working))
        }),
    },
    &Figure {
        key: "peg_per_spline_mm",
        group: Group::Selector,
        label: "Toe peg movement per spline",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "L × turn of the pedal with the lever set one spline on",
        meaning: "How far the toe peg moves if the lever, or a pedal on the shaft, is set one spline on. Use splines \
            for coarse steps and the rod thread for the rest.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let [teeth, arm] = [FieldId::SplineTeeth, FieldId::FootArm].map(|id| parts.given(id));
            let working = formula("360°/{}, L {}", [teeth, arm]);
            Some(Answer::number(pedal(parts)?.peg_per_spline_mm, working))
        }),
    },
    &Figure {
        key: "claw_swing_deg",
        group: Group::Selector,
        label: "Shaft swing to move the drum one step",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "2·atan(r·sin(γ/2)/(d − r·cos(γ/2)))",
        meaning: "How far the selector shaft has to turn to move the drum by one position. Free play comes on top.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let claw = &claw(parts)?.claw;
            let [radius, apart] =
                [FieldId::PinRadius, FieldId::ShaftToDrum].map(|id| parts.given(id));
            let sizes = formula("r {}, d {}, γ {}", [radius, apart, deg(claw.step().degrees())]);
            let working = say::at_hook(sizes, mm(claw.swing_mm()));
            Some(Answer::number(claw.swing().degrees(), working))
        }),
    },
    &Figure {
        key: "gap_lift_mm",
        group: Group::Selector,
        label: "Gap left at the stop, lifting",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: Some(limits::stop_gap),
        needs: &[],
        formula: GAP,
        meaning: "Gap between claw and pin with the drum home, at the end of the lifting stroke. If it is too large, \
            the drum falls short and kicks back; if too small, the drum can overshoot the gear.",
        source: CLAW_GAP,
        words: Vec::new,
        compute: Compute::Parts(|parts| Some(gap(claw(parts)?, Stroke::Lift))),
    },
    &Figure {
        key: "drum_after_lift",
        group: Group::Selector,
        label: "Drum after lifting",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: PUSHED,
        meaning: "Where the drum ends up after lifting: at the next position, back at the last one, between the two, \
            or past the next.",
        source: DRUM,
        words: places,
        compute: Compute::Parts(|parts| Some(drum(claw(parts)?, Stroke::Lift))),
    },
    &Figure {
        key: "gap_press_mm",
        group: Group::Selector,
        label: "Gap left at the stop, pressing",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: Some(limits::stop_gap),
        needs: &[],
        formula: GAP,
        meaning: "Gap between claw and pin with the drum home, at the end of the pressing stroke. If it differs from \
            the gap after lifting, the gearbox shifts well one way and badly the other.",
        source: CLAW_GAP,
        words: Vec::new,
        compute: Compute::Parts(|parts| Some(gap(claw(parts)?, Stroke::Press))),
    },
    &Figure {
        key: "drum_after_press",
        group: Group::Selector,
        label: "Drum after pressing",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: PUSHED,
        meaning: "Where the drum ends up after pressing, once the detent roller has turned it as far as it can.",
        source: DRUM,
        words: places,
        compute: Compute::Parts(|parts| Some(drum(claw(parts)?, Stroke::Press))),
    },
    &Figure {
        key: "eccentric_equal_deg",
        group: Group::Selector,
        label: "Eccentric setting for equal gaps",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "sin α = sin α₀ + (gap lifting − gap pressing)/2 · Rs/(Rh·e)",
        meaning: "Setting of the eccentric that makes both gaps equal. If there is no value, it cannot move the stop \
            far enough: look for a bent or wrong part first.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let centred = &claw(parts)?.centred;
            let working = match centred {
                Ok(_) => say::eccentric_now(parts.given(FieldId::EccentricAt)),
                Err(fault) => {
                    let [least, most] = fault.can_mm.map(mm);
                    say::eccentric_short(mm(fault.move_mm), least, most)
                }
            };
            Some(Answer::number(centred.ok().map(Angle::degrees), working))
        }),
    },
    &Figure {
        key: "stop_thinner_mm",
        group: Group::Selector,
        label: "Stock off the stop for the target gap",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "2·(mean gap − target)·Rs/Rh; negative is thicker",
        meaning: "How much to take off the stop, half on each side, to reach the target gap once both gaps are equal. \
            If negative, the stop has to be built up or bushed.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let claw = &claw(parts)?.claw;
            let PerStroke { lift, press } = claw.gaps_mm();
            let working = say::mean_gap(mm((lift + press) / 2.0), parts.given(FieldId::GapWanted));
            Some(Answer::number(claw.stop_thinner_mm(), working))
        }),
    },
    &Figure {
        key: "detent_hold_nmm",
        group: Group::Selector,
        label: "Drum torque to lift the roller",
        quantity: Quantity::FineTorque,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "F·R·tan(α + ρ)",
        meaning: "Torque at the drum that lifts the roller out of its notch. It keeps the drum in gear, and the foot \
            has to overcome it in each shift.",
        source: WEDGE,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            Some(Answer::number(detent(parts)?.hold_nmm(), roller(parts)))
        }),
    },
    &Figure {
        key: "detent_return_nmm",
        group: Group::Selector,
        label: "Torque returning the drum to its detent",
        quantity: Quantity::FineTorque,
        better: Better::More,
        limit: Some(limits::detent_return),
        needs: &[],
        formula: "F·R·tan(α − ρ)",
        meaning: "Torque with which the roller brings the drum home once the claw lets go. Near zero, the drum sticks \
            halfway: the flanks are too flat, or the roller does not turn.",
        source: WEDGE,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            Some(Answer::number(detent(parts)?.return_nmm(), roller(parts)))
        }),
    },
    &Figure {
        key: "foot_over_detent_n",
        group: Group::Selector,
        label: "Toe force to lift the detent roller",
        quantity: Quantity::Force,
        better: Better::Less,
        limit: None,
        needs: &[],
        formula: "drum torque × drum turn per shaft turn × shaft turn per foot travel",
        meaning: "Toe force that lifts the roller out of its notch. A stronger spring holds the gear better and needs \
            more force.",
        source: TOE,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let (detent, pedal, claw) = (detent(parts)?, pedal(parts)?, claw(parts)?);
            let force_n = foot_force_n(detent.hold_nmm(), pedal, claw);
            Some(Answer::number(force_n, say::without_other_drag()))
        }),
    },
    &Figure {
        key: "fork_at_home_mm",
        group: Group::Selector,
        label: "Fork travel with the drum home",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "fork travel on the track after one step of the drum",
        meaning: "Fork travel once the drum is home. Subtract the clearance in neutral and half the free play of the \
            fork to get the pushed-in overlap.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let working = formula("γ {}", [home(parts)]);
            Some(Answer::number(track(parts)?.travel_mm(parts.selector.step_deg()), working))
        }),
    },
    &Figure {
        key: "rocking_costs_mm",
        group: Group::Selector,
        label: "Overlap lost to drum free play",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        needs: &[],
        formula: "fork travel at home − least fork travel within ± half the free play",
        meaning: "Overlap lost as the drum rocks in its notch. Free play costs little where the track is level, and \
            much on its slope.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            track(parts)?;
            let working = parts.selector.slack.map_or_else(say::no_detent, |slack| {
                formula("γ {} ± {}", [home(parts), deg(slack.degrees() / 2.0)])
            });
            Some(Answer::number(parts.selector.rocks_mm(), working))
        }),
    },
    &Figure {
        key: "overlap_per_degree_mm",
        group: Group::Selector,
        label: "Overlap per degree at the detent",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        needs: &[],
        formula: "steepest slope of the track within ± 1° of home",
        meaning: "How much the overlap changes per degree of the drum at its detent. If it is not zero, the position \
            of the detent notch affects how deep the dogs go in.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let slope = track(parts)?.steepest(parts.selector.step_deg(), 1.0);
            Some(Answer::number(slope, formula("γ {}", [home(parts)])))
        }),
    },
    &Figure {
        key: "overlap_short_mm",
        group: Group::Selector,
        label: "Overlap missing when the claw lets go",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        needs: &[],
        formula: "fork travel at home − fork travel where the claw stops pushing",
        meaning: "Overlap still missing where the claw stops pushing. The roller has to bring drum and fork the rest \
            of the way.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            track(parts)?;
            let strokes = Stroke::BOTH.into_iter().zip(claw(parts)?.strokes);
            let pushed = |end: &StrokeEnd| end.pushed.radians();
            let (stroke, end) = strokes.min_by(|(_, a), (_, b)| pushed(a).total_cmp(&pushed(b)))?;
            let working = say::drum_pushed_by(stroke, deg(end.pushed.degrees()), home(parts));
            Some(Answer::number(parts.selector.lost_mm(end.pushed.degrees()), working))
        }),
    },
];

/// The pedal; `None` where none is given, or its rod does not reach.
fn pedal<'a>(parts: &PartsContext<'a>) -> Option<&'a PedalSwing> {
    parts.selector.swing()
}

/// The claw; `None` where none is given, or it cannot turn the drum.
fn claw<'a>(parts: &PartsContext<'a>) -> Option<&'a ClawStrokes> {
    parts.selector.strokes()
}

/// The detent; `None` where none is given.
fn detent<'a>(parts: &PartsContext<'a>) -> Option<&'a Detent> {
    parts.selector.detent.as_ref()
}

/// The track; `None` where none is given, or its points are out of order.
fn track<'a>(parts: &PartsContext<'a>) -> Option<&'a Track> {
    parts.selector.sound_track()
}

/// How far the pedal turns the shaft in a stroke.
fn swing(parts: &PartsContext<'_>, pedal: &PedalSwing, stroke: Stroke) -> Answer {
    let reach = &pedal.reach[stroke];
    let travel = match stroke {
        Stroke::Lift => FieldId::FootLift,
        Stroke::Press => FieldId::FootPress,
    };
    let locks = if reach.locks { "locks" } else { "free" };
    let (travel, arm) = (parts.given(travel), parts.given(FieldId::FootArm));
    let working = match reach.turns_back_at_mm {
        None => say::foot_moves(mm(reach.foot_mm), travel, arm, locks),
        Some(at_mm) => {
            say::foot_turns_back(mm(at_mm), travel, arm, locks, deg(reach.shaft.degrees()))
        }
    };
    Answer::number(reach.farthest.degrees(), working)
}

/// What is left at the stop at the end of a stroke.
fn gap(claw: &ClawStrokes, stroke: Stroke) -> Answer {
    let end = &claw.strokes[stroke];
    let hook_mm = claw.claw.hook_radius_mm();
    let working = say::hook_swings(
        deg(end.shaft.degrees()),
        mm(end.shaft.radians() * hook_mm),
        mm(hook_mm),
        if end.before_stop { "pedal" } else { "stop" },
        if end.ends == Ends::Next { "home" } else { "elsewhere" },
    );
    Answer::number(end.gap_mm, working)
}

/// Where the drum ends up after a stroke.
fn drum(claw: &ClawStrokes, stroke: Stroke) -> Answer {
    let end = &claw.strokes[stroke];
    let working = say::drum_pushed(deg(end.pushed.degrees()), deg(claw.claw.step().degrees()));
    Answer::words(outcome::drum(end.ends), working).with_number(end.pushed.degrees())
}

/// What the torques of the detent are worked out from.
fn roller(parts: &PartsContext<'_>) -> Message {
    let sizes =
        [FieldId::RollerForce, FieldId::StarRadius, FieldId::StarFlank, FieldId::RollerFriction];
    formula("F {}, R {}, α {}, μ {}", sizes.map(|id| parts.given(id)))
}

/// The force of the foot that turns the drum against a torque, N, by what each turns for the other.
fn foot_force_n(torque_nmm: Option<f64>, pedal: &PedalSwing, claw: &ClawStrokes) -> Option<f64> {
    let per_mm = pedal.shaft_deg_per_mm?.to_radians();
    Some(torque_nmm? * claw.claw.drum_per_shaft() * per_mm)
}

/// One step of the drum.
fn home(parts: &PartsContext<'_>) -> Value {
    deg(parts.selector.step_deg())
}
