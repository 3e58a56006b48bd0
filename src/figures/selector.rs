//! From the pedal to the fork: linkage, claw, detent and drum track.

use crenel_words::{Message, outcome};

use super::context::PartsContext;
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::fields::FieldId;
use crate::limits;
use crate::model::{ClawStrokes, PedalSwing};
use crate::selector::{Detent, Ends, PerStroke, Stroke, StrokeEnd, Track};
use crate::units::{Angle, Quantity};

const FOUR_BAR: &str = "Law of cosines across the diagonal; Uicker, Pennock, Shigley, Theory of Machines and \
    Mechanisms. 40° to 45° at least: the same.";
const CLAW: &str = "Plane geometry of claw and pins (derived). About 1 mm left at the stop, the same both ways: \
    common practice, no source.";
const WEDGE: &str = "Wedge with friction, tan ρ = μ (derived).";
const TRACK: &str = "Straight between the points of the track; plain arithmetic.";

const SWING: &str = "Δψ of the lever for the pedal's turn s/L";
const GAP: &str = "swing for a step + play − travel, at the hook";
const PUSHED: &str =
    "over half a step the roller draws it on; half a step past the next crest it is lost";

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
        formula: SWING,
        meaning: "How far the selector shaft turns when the foot lifts the pedal all the way. The claw needs its \
            swing and its play out of that.",
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
        formula: SWING,
        meaning: "How far the selector shaft turns when the foot presses the pedal down. If it differs much from \
            lifting, the rod is not near square to its lever.",
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
        formula: "cos μ = (b² + c² − a² − d² + 2ad·cos θ)/(2bc)",
        meaning: "The angle between rod and lever at the worst place of the swing. Near 90° the rod turns the lever; \
            far from it the rod mostly pushes on the bearing, and the pedal feels stiff.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let swing = pedal(parts)?;
            let worst = swing.worst();
            let working = match (swing.rest.transmission, worst) {
                (Some(rest), Some(_)) => format!(
                    "at rest {}; a {}, b {}, c {}",
                    parts.deg(rest),
                    parts.given(FieldId::PedalArm),
                    parts.given(FieldId::RodLength),
                    parts.given(FieldId::ShaftLever)
                ),
                _ => "the pedal sits on the shaft".to_owned(),
            };
            Some(Answer::number(worst.map(Angle::degrees), working))
        }),
    },
    &Figure {
        key: "shaft_per_foot_deg",
        group: Group::Selector,
        label: "Shaft rotation per mm of toe travel, at rest",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        formula: "dψ/dθ = a·sin(θ − β)/(c·sin(ψ − β)), over L",
        meaning: "How quick the linkage is: degrees of the shaft for a millimetre of the foot. Quicker means a \
            shorter and a heavier pedal.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let working = format!("L {}", parts.given(FieldId::FootArm));
            Some(Answer::number(pedal(parts)?.shaft_deg_per_mm, working))
        }),
    },
    &Figure {
        key: "peg_per_turn_mm",
        group: Group::Selector,
        label: "Pedal height per turn of the rod end (lengthening)",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: "height of the peg with b + p, less that with b",
        meaning: "How far the pedal moves when the rod is made longer by one turn of its thread. It tells how many \
            turns set a pedal that sits too high or too low.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let thread = parts.given(FieldId::RodThread);
            let working = format!("p {thread}, the shaft held by its spring");
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
        formula: "turn of the pedal with the lever one spline on, times L",
        meaning: "How far the pedal moves when its lever goes one spline on. Use splines for the coarse step and the \
            thread for the rest.",
        source: FOUR_BAR,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let working = format!("{} splines", parts.given(FieldId::SplineTeeth));
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
        formula: "2·atan(r·sin(γ/2)/(d − r·cos(γ/2)))",
        meaning: "How far the selector shaft has to turn to move the drum one gear on, before any play. The stop has \
            to let it go a little further.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let claw = &claw(parts)?.claw;
            let working = format!(
                "r {}, d {}, γ {}; {} at the hook",
                parts.given(FieldId::PinRadius),
                parts.given(FieldId::ShaftToDrum),
                parts.deg(claw.step()),
                parts.mm(claw.swing_mm())
            );
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
        formula: GAP,
        meaning: "What is still missing to a whole step when the claw reaches its stop, lifting. Too much leaves the \
            drum short and it kicks back; too little lets it fly on past the gear.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| Some(gap(parts, claw(parts)?, Stroke::Lift))),
    },
    &Figure {
        key: "drum_after_lift",
        group: Group::Selector,
        label: "Drum after lifting",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        formula: PUSHED,
        meaning: "Where the drum rests after the claw has lifted it: at the next gear, back where it was, or past \
            it.",
        source: CLAW,
        words: places,
        compute: Compute::Parts(|parts| Some(drum(parts, claw(parts)?, Stroke::Lift))),
    },
    &Figure {
        key: "gap_press_mm",
        group: Group::Selector,
        label: "Gap left at the stop, pressing",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: Some(limits::stop_gap),
        formula: GAP,
        meaning: "What is still missing to a whole step at the stop, pressing. It ought to be the same as lifting, or \
            one way shifts well and the other badly.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| Some(gap(parts, claw(parts)?, Stroke::Press))),
    },
    &Figure {
        key: "drum_after_press",
        group: Group::Selector,
        label: "Drum after pressing",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        formula: PUSHED,
        meaning: "Where the drum rests after the claw has pressed it, with the detent roller doing the last part.",
        source: CLAW,
        words: places,
        compute: Compute::Parts(|parts| Some(drum(parts, claw(parts)?, Stroke::Press))),
    },
    &Figure {
        key: "eccentric_equal_deg",
        group: Group::Selector,
        label: "Eccentric setting for equal gaps",
        quantity: Quantity::Angle,
        better: Better::Neither,
        limit: None,
        formula: "sin α = sin α₀ + (gap₁ − gap₂)/2 · Rs/(Rh·e)",
        meaning: "How to set the eccentric of the stop so that both gaps come out the same. With no number it cannot \
            move far enough: look for a bent or a wrong part first.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let centred = &claw(parts)?.centred;
            let working = match centred {
                Ok(_) => format!("now at {}", parts.given(FieldId::EccentricAt)),
                Err(fault) => format!(
                    "the stop has to move {}, and can move {} to {}",
                    parts.mm(fault.move_mm),
                    parts.mm(fault.can_mm[0]),
                    parts.mm(fault.can_mm[1])
                ),
            };
            Some(Answer::number(centred.ok().map(Angle::degrees), working))
        }),
    },
    &Figure {
        key: "stop_thinner_mm",
        group: Group::Selector,
        label: "Take off the stop to reach the target gap",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: "2·(mean gap − wanted)·Rs/Rh; minus is thicker",
        meaning: "How much to take off the stop so that the gaps become as wanted, once they are equal. A minus means \
            that it has to be built up or bushed.",
        source: CLAW,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let claw = &claw(parts)?.claw;
            let PerStroke { lift, press } = claw.gaps_mm();
            let mean = parts.mm((lift + press) / 2.0);
            let working = format!("mean {mean}, wanted {}", parts.given(FieldId::GapWanted));
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
        formula: "F·R·tan(α + ρ)",
        meaning: "The torque that turns the drum out of its notch. It keeps the drum where it is, and the foot has to \
            overcome it at each shift.",
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
        formula: "F·R·tan(α − ρ)",
        meaning: "The torque with which the roller brings the drum home once the claw has let go. Near zero the drum \
            sticks halfway: flanks too flat, or a roller that does not turn.",
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
        formula: "torque · drum/shaft · shaft/foot",
        meaning: "What the foot has to push on the pedal to lift the roller of the detent. A heavier spring holds \
            better and costs the foot this much more.",
        source: WEDGE,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let (detent, pedal, claw) = (detent(parts)?, pedal(parts)?, claw(parts)?);
            let working = "without the centring spring and what the forks drag";
            Some(Answer::number(foot_force_n(detent.hold_nmm(), pedal, claw), working))
        }),
    },
    &Figure {
        key: "fork_at_home_mm",
        group: Group::Selector,
        label: "Fork travel with the drum home",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: "track at one step of the drum",
        meaning: "How far the fork has moved when the drum stands in its notch. Less the clearance in neutral, it is \
            how deep the dogs go in.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let working = format!("at {}", home(parts));
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
        formula: "track at home, less its least within ± half of the rocking",
        meaning: "How much depth is lost when the drum rocks in its notch. Play there costs little on a flat of the \
            track, and much on its flank.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            track(parts)?;
            let working = parts.selector.slack.map_or_else(
                || "not known: no detent is given".to_owned(),
                |slack| {
                    let half = Angle::from_radians(slack.radians() / 2.0);
                    format!("{} ± {}", home(parts), parts.deg(half))
                },
            );
            Some(Answer::number(parts.selector.rocks_mm(), working))
        }),
    },
    &Figure {
        key: "overlap_per_degree_mm",
        group: Group::Selector,
        label: "Overlap per degree of drum near the detent",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        formula: "steepest slope of the track within ± 1°",
        meaning: "How much depth one degree of the drum gives near its detent. Where it is not zero, the notch of \
            the detent wheel sets how deep the dogs go in.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let slope = track(parts)?.steepest(parts.selector.step_deg(), 1.0);
            Some(Answer::number(slope, format!("at {}", home(parts))))
        }),
    },
    &Figure {
        key: "overlap_short_mm",
        group: Group::Selector,
        label: "Overlap still to come when the claw lets go",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        formula: "track at home, less the track where the claw stops pushing",
        meaning: "How much depth is still missing where the claw stops pushing. The roller has to bring the drum and \
            the fork that far by itself.",
        source: TRACK,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            track(parts)?;
            let strokes = Stroke::BOTH.into_iter().zip(claw(parts)?.strokes);
            let pushed = |end: &StrokeEnd| end.pushed.radians();
            let (stroke, end) = strokes.min_by(|(_, a), (_, b)| pushed(a).total_cmp(&pushed(b)))?;
            let working =
                format!("{}, pushed {} of {}", stroke.word(), parts.deg(end.pushed), home(parts));
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
    let locks = if reach.locks { ", where rod and lever come into line" } else { "" };
    let back = reach.turns_back_at_mm.map_or_else(String::new, |_| {
        format!(", where it turns back; at the end of the stroke {}", parts.deg(reach.shaft))
    });
    let working = format!(
        "foot {} of {} on an arm of {}{locks}{back}",
        parts.mm(reach.turns_back_at_mm.unwrap_or(reach.foot_mm)),
        parts.given(travel),
        parts.given(FieldId::FootArm)
    );
    Answer::number(reach.farthest.degrees(), working)
}

/// What is left at the stop at the end of a stroke.
fn gap(parts: &PartsContext<'_>, claw: &ClawStrokes, stroke: Stroke) -> Answer {
    let end = &claw.strokes[stroke];
    let hook_mm = claw.claw.hook_radius_mm();
    let short = if end.before_stop { ", where the pedal ends the stroke" } else { "" };
    let home = match end.ends {
        Ends::Next => "",
        _ => "; were the drum home, which it is not",
    };
    let working = format!(
        "the hook swings {}, {} at its radius of {}{short}{home}",
        parts.deg(end.shaft),
        parts.mm(end.shaft.radians() * hook_mm),
        parts.mm(hook_mm)
    );
    Answer::number(end.gap_mm, working)
}

/// Where the drum ends up after a stroke.
fn drum(parts: &PartsContext<'_>, claw: &ClawStrokes, stroke: Stroke) -> Answer {
    let end = &claw.strokes[stroke];
    let working = format!("pushed {} of {}", parts.deg(end.pushed), parts.deg(claw.claw.step()));
    Answer::words(outcome::drum(end.ends), working).with_number(end.pushed.degrees())
}

/// What the torques of the detent are worked out from.
fn roller(parts: &PartsContext<'_>) -> String {
    format!(
        "F {}, R {}, α {}, μ {}",
        parts.given(FieldId::RollerForce),
        parts.given(FieldId::StarRadius),
        parts.given(FieldId::StarFlank),
        parts.given(FieldId::RollerFriction)
    )
}

/// The force of the foot that turns the drum against a torque, N, by what each turns for the other.
fn foot_force_n(torque_nmm: Option<f64>, pedal: &PedalSwing, claw: &ClawStrokes) -> Option<f64> {
    let per_mm = pedal.shaft_deg_per_mm?.to_radians();
    Some(torque_nmm? * claw.claw.drum_per_shaft() * per_mm)
}

/// One step of the drum, as text.
fn home(parts: &PartsContext<'_>) -> String {
    parts.deg(Angle::from_degrees(parts.selector.step_deg()))
}
