//! Will it hold: what the dogs carry, and whether they stay in.

use crenel_words::{Message, Value, working as say};

use super::context::{PairContext, deg, formula, mm, torque};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::design::{Need, SettingField};
use crate::limits;
use crate::load::{Carried, Stress};
use crate::model::{Loaded, Strength};
use crate::ring::Side;
use crate::units::Quantity;

const CONTACT: &str =
    "Mean pressure, strength of materials; impact fatigue and spalling are not checked.";
const SHEARED: &str = "Mean shear of a section, strength of materials; impact fatigue and the notch effect of the \
    fillet are not checked.";
const BENT: &str = "Bending of a short cantilever, strength of materials; impact fatigue and the notch effect of the \
    fillet are not checked.";
const EQUIVALENT: &str = "Distortion energy (von Mises) from bending and peak shear; impact fatigue and the notch \
    effect of the fillet are not checked.";
const NO_FRICTION: &str = "Inclined plane without friction (derived): vibration reduces friction, so do not count on \
    it to hold the gear in (common practice, no source).";
const FRICTION: &str = "Inclined plane and splines with friction (derived). Vibration reduces friction (common \
    practice, no source).";
const SHARING: &str = "All of up to 3 dogs, half of more: the factor in Dudley's shear formula for splines, 1957. A \
    third: common practice, no source. By spacing: springs side by side (derived).";
const SHARED: &str = "Torque over mean radius, shared by the dogs carrying load; plain mechanics.";

const PRESSURE: &str = "p = F/(b·h_e)";
const COMBINED: &str = "√(σ² + 3·(1.5·τ)²)";
const HOLDING: &str = "F_t·tan α, F_t = T/rm; negative pushes out";
const PULLED_OUT: &str = "F_t·tan(α + ρ) + μ_s·T/r_s, tan ρ = μ; negative comes out by itself";

/// The most flank pressure under power.
pub static FLANK_PRESSURE: Figure = Figure {
    key: "flank_pressure_mpa",
    group: Group::Strength,
    label: "Flank pressure",
    quantity: Quantity::Stress,
    better: Better::Less,
    limit: Some(limits::pressure),
    needs: &[Need::Torque],
    formula: PRESSURE,
    meaning: "Force over the engaged area of the flank. Too much dents the flank and cracks its hard case; more \
        overlap lowers it.",
    source: CONTACT,
    words: Vec::new,
    compute: Compute::Pair(|context| Some(pressure(context, under_power(context)?))),
};

/// The most shear at a root under power.
pub static ROOT_SHEAR: Figure = Figure {
    key: "root_shear_mpa",
    group: Group::Strength,
    label: "Shear at the root",
    quantity: Quantity::Stress,
    better: Better::Less,
    limit: Some(limits::shear),
    needs: &[Need::Torque],
    formula: "τ = F/A; the peak is 1.5·τ",
    meaning: "Mean stress that tends to shear the dog off its web. A wider dog lowers it.",
    source: SHEARED,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let answer = stress(under_power(context)?, |stress| stress.shear_mpa);
        Some(beside(answer, context.given(SettingField::AllowedShear)))
    }),
};

/// The most bending and shear together at a root, under power.
pub static ROOT_COMBINED: Figure = Figure {
    key: "root_combined_mpa",
    group: Group::Strength,
    label: "Combined (equivalent) root stress",
    quantity: Quantity::Stress,
    better: Better::Less,
    limit: Some(limits::combined),
    needs: &[Need::Torque],
    formula: COMBINED,
    meaning: "Bending and shear as one number, to compare with the yield strength of the core. Stress concentration \
        at a sharp root is not included.",
    source: EQUIVALENT,
    words: Vec::new,
    compute: Compute::Pair(|context| Some(combined(context, under_power(context)?))),
};

/// The most flank pressure on the overrun.
pub static OVERRUN_PRESSURE: Figure = Figure {
    key: "overrun_pressure_mpa",
    group: Group::Strength,
    label: "[Overrun|Coast]: flank pressure",
    quantity: Quantity::Stress,
    better: Better::Less,
    limit: Some(limits::pressure),
    needs: &[Need::Torque],
    formula: PRESSURE,
    meaning: "Flank pressure on the coast flanks while the wheel drives the engine.",
    source: CONTACT,
    words: Vec::new,
    compute: Compute::Pair(|context| on_overrun(context, pressure)),
};

/// The most bending and shear together at a root, on the overrun.
pub static OVERRUN_COMBINED: Figure = Figure {
    key: "overrun_combined_mpa",
    group: Group::Strength,
    label: "[Overrun|Coast]: combined root stress",
    quantity: Quantity::Stress,
    better: Better::Less,
    limit: Some(limits::combined),
    needs: &[Need::Torque],
    formula: COMBINED,
    meaning: "Stress at the root of the dogs while the coast flanks carry: bending and shear as one number.",
    source: EQUIVALENT,
    words: Vec::new,
    compute: Compute::Pair(|context| on_overrun(context, combined)),
};

/// What holds the gear in on the overrun.
pub static OVERRUN_HOLDING: Figure = Figure {
    key: "overrun_holding_n",
    group: Group::Strength,
    label: "[Overrun|Coast]: retaining force",
    quantity: Quantity::Force,
    better: Better::More,
    limit: Some(limits::overrun_holding),
    needs: &[Need::Torque],
    formula: HOLDING,
    meaning: "Force with which the coast flanks pull the dogs together [on the overrun|when coasting]. A \
            negative value is a common reason for jumping out when the throttle closes.",
    source: NO_FRICTION,
    words: Vec::new,
    compute: Compute::Pair(|context| on_overrun(context, holding)),
};

/// What holds the gear in under power.
pub static HOLDING_FORCE: Figure = Figure {
    key: "holding_n",
    group: Group::Strength,
    label: "Retaining force without friction",
    quantity: Quantity::Force,
    better: Better::More,
    limit: Some(limits::holding),
    needs: &[Need::Torque],
    formula: HOLDING,
    meaning: "Force with which the undercut pulls the dogs together under power, without help from friction. If \
        negative, the flanks push the gear out, and only friction, detent and fork hold it.",
    source: NO_FRICTION,
    words: Vec::new,
    compute: Compute::Pair(|context| Some(holding(context, under_power(context)?))),
};

/// What is left to draw the gear in, past friction.
pub static PULL_IN: Figure = Figure {
    key: "pull_in_n",
    group: Group::Strength,
    label: "Net pull-in force after friction",
    quantity: Quantity::Force,
    better: Better::More,
    limit: None,
    needs: &[Need::Torque, Need::SlidingFriction],
    formula: "F_t·tan(α − ρ) − μ_s·T/r_s, tan ρ = μ; negative does not draw in",
    meaning: "Force left to draw the gear in to full depth, after friction of flanks and splines. If negative, \
        the gear stays where the fork leaves it.",
    source: FRICTION,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let strength = under_power(context)?;
        let force_n = strength.hold.pull_in_n(strength.torque_nm);
        Some(Answer::number(force_n, past_friction(context, strength)))
    }),
};

/// What the fork needs to pull the gear out under power.
pub static PULL_OUT: Figure = Figure {
    key: "pull_out_n",
    group: Group::Strength,
    label: "Disengaging force under load",
    quantity: Quantity::Force,
    better: Better::Neither,
    limit: None,
    needs: &[Need::Torque, Need::SlidingFriction],
    formula: PULLED_OUT,
    meaning: "Force the fork needs to pull the gear out under power. A large undercut raises it: close the \
        throttle for the shift, or the fork can bend.",
    source: FRICTION,
    words: Vec::new,
    compute: Compute::Pair(|context| Some(pull_out(context, under_power(context)?))),
};

pub(super) static ROWS: &[&Figure] = &[
    &Figure {
        key: "dogs_carrying",
        group: Group::Strength,
        label: "Dogs carrying load",
        quantity: Quantity::Dogs,
        better: Better::More,
        limit: None,
        needs: &[Need::Torque],
        formula: "n_L, by rule or from the spacing as measured",
        meaning: "Number of dogs that share the load. Spacing is never exact, so it is often fewer than could touch.",
        source: SHARING,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let strength = under_power(context)?;
            let rule = match context.worked.design.setting.carried {
                Carried::HalfAboveThree => "half",
                Carried::All => "all",
                Carried::Third => "third",
                Carried::Spacing => "spacing",
            };
            Some(Answer::number(strength.carrying, say::carrying(strength.meeting, rule)))
        }),
    },
    &Figure {
        key: "dog_force_n",
        group: Group::Strength,
        label: "Peak force on one dog",
        quantity: Quantity::Force,
        better: Better::Less,
        limit: None,
        needs: &[Need::Torque],
        formula: "F = T·K/(n_L·rm), K the service factor",
        meaning: "Force on the dog that carries most. Pressure, shear and bending all follow from it.",
        source: SHARED,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let strength = under_power(context)?;
            let most_n = strength.pairs.iter().map(|loaded| loaded.force_n).fold(0.0, f64::max);
            let working = formula(
                "T·K {}, rm {}, n_L {}",
                [
                    torque(strength.torque_nm),
                    mm(strength.hold.mean_radius_mm),
                    Value::Working(Quantity::Ratio, strength.carrying),
                ],
            );
            Some(Answer::number(most_n, working))
        }),
    },
    &FLANK_PRESSURE,
    &ROOT_SHEAR,
    &Figure {
        key: "root_bending_mpa",
        group: Group::Strength,
        label: "Bending at the root",
        quantity: Quantity::Stress,
        better: Better::Less,
        limit: None,
        needs: &[Need::Torque],
        formula: "σ = 6·F·a/(b·t²)",
        meaning: "Bending stress at the root of the dog, on the tension side. It is highest for a tall dog on a thin \
            root, as after a deep undercut.",
        source: BENT,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            Some(stress(under_power(context)?, |stress| stress.bending_mpa))
        }),
    },
    &ROOT_COMBINED,
    &HOLDING_FORCE,
    &PULL_IN,
    &PULL_OUT,
    &OVERRUN_PRESSURE,
    &OVERRUN_COMBINED,
    &OVERRUN_HOLDING,
    &Figure {
        key: "overrun_pull_out_n",
        group: Group::Strength,
        label: "[Overrun|Coast]: disengaging force under load",
        quantity: Quantity::Force,
        better: Better::Neither,
        limit: None,
        needs: &[Need::Torque, Need::SlidingFriction],
        formula: PULLED_OUT,
        meaning: "Force the fork needs to pull the gear out [on the overrun|when coasting], as in a downshift without \
            the clutch.",
        source: FRICTION,
        words: Vec::new,
        compute: Compute::Pair(|context| on_overrun(context, pull_out)),
    },
];

/// The dogs under power; `None` where nothing is carried.
fn under_power<'a>(context: &PairContext<'a>) -> Option<&'a Strength> {
    context.pair.strength.as_ref()
}

/// The same figure on the overrun, where the coast flanks carry.
fn on_overrun(
    context: &PairContext<'_>,
    answer: fn(&PairContext<'_>, &Strength) -> Answer,
) -> Option<Answer> {
    under_power(context)?;
    let strength = context.pair.overrun.as_ref()?;
    let torque = torque(strength.torque_nm);
    Some(answer(context, strength).working_in(|working| say::on_overrun(torque, working)))
}

fn pressure(context: &PairContext<'_>, strength: &Strength) -> Answer {
    let answer = match strength.worst_pressure() {
        None => Answer::number(None, say::edges_bear()),
        Some(worst) => at_root(worst, |stress| stress.pressure_mpa),
    };
    beside(answer, context.given(SettingField::AllowedPressure))
}

fn combined(context: &PairContext<'_>, strength: &Strength) -> Answer {
    let answer = stress(strength, Stress::combined_mpa);
    beside(answer, context.given(SettingField::AllowedStress))
}

/// A stress with its allowable value beside it.
fn beside(answer: Answer, allowable: Value) -> Answer {
    answer.working_in(|working| say::beside_allowable(working, allowable))
}

/// A stress in the dog in which it is the largest.
fn stress(strength: &Strength, read: fn(&Stress) -> f64) -> Answer {
    let worst = strength.worst(read);
    worst.map_or_else(|| Answer::number(None, say::no_dog_meets()), |worst| at_root(worst, read))
}

fn at_root((loaded, side): (&Loaded, Side), read: fn(&Stress) -> f64) -> Answer {
    let root = &loaded.roots[side];
    let sizes = [
        side.into(),
        Value::how_many(loaded.places[side] + 1),
        Value::Working(Quantity::Force, loaded.force_n),
        mm(root.length_mm),
        mm(root.engaged_mm),
        mm(root.thickness_mm),
        Value::Working(Quantity::Area, root.area_mm2),
        mm(root.arm_mm),
    ];
    let working = formula("{}{}: F {}, b {}, h_e {}, t {}, A {}, a {}", sizes);
    Answer::number(read(&loaded.stresses[side]), working)
}

/// The torque, the mean radius and the angle at which the flanks lean.
fn at_flank(strength: &Strength) -> [Value; 3] {
    let lean = libm::atan(strength.hold.undercut).to_degrees();
    [torque(strength.torque_nm), mm(strength.hold.mean_radius_mm), deg(lean)]
}

fn holding(_: &PairContext<'_>, strength: &Strength) -> Answer {
    let working = formula("T {}, rm {}, α {}", at_flank(strength));
    Answer::number(strength.hold.holding_n(strength.torque_nm), working)
}

fn pull_out(context: &PairContext<'_>, strength: &Strength) -> Answer {
    let force_n = strength.hold.pull_out_n(strength.torque_nm);
    Answer::number(force_n, past_friction(context, strength))
}

/// The working of a force along the shaft that friction of flanks and splines takes part in.
fn past_friction(context: &PairContext<'_>, strength: &Strength) -> Message {
    let [torque, radius, lean] = at_flank(strength);
    let friction = context.given(SettingField::FlankFriction);
    let splines = context.given(SettingField::SplineFriction);
    let diameter = context.given(SettingField::SplineDiameter);
    formula(
        "T {}, rm {}, α {}, μ {}, μ_s {}, r_s {}/2",
        [torque, radius, lean, friction, splines, diameter],
    )
}
