//! The metal of the dogs.

use crenel_words::{Value, figure as say, working};

use super::context::{PairContext, formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::design::SettingField;
use crate::limits;
use crate::model::{allowed_unbalance_g_mm, case_left_mm, most_off_flank};
use crate::ring::Side;
use crate::units::Quantity;

const SECTION: &str =
    "Exact section of lines and arcs (derived); steel at 7.85 g/cm³, the usual value.";
const BALANCE: &str =
    "U derived; U_per from ISO 21940-11. The gear is assumed to be balanced before the cut.";
const CASE: &str = "Plain arithmetic, from the case depth entered.";

/// What figures of metal have in common. Those below have in common what is said of either ring; the rows
/// give the rest.
const METAL: Figure = Figure {
    key: "",
    group: Group::Metal,
    label: "",
    quantity: Quantity::Grams,
    better: Better::Neither,
    limit: None,
    needs: &[],
    formula: "",
    meaning: "",
    source: SECTION,
    words: Vec::new,
    compute: Compute::Pair(|_| None),
};

const MASS: Figure = Figure {
    formula: "m = ρ·∫A ds, without fillets and edge breaks",
    meaning: "Mass of this ring's dogs as cut, without the rest of the gear. It cannot be weighed alone: to check a \
        cut, weigh the gear before and after.",
    ..METAL
};

const CUT_OFF: Figure = Figure {
    formula: "mass as found − mass as cut",
    meaning: "Mass that the plan removes from this ring. Weigh the gear before and after: if the difference does not \
        match, the cut is not as planned.",
    ..METAL
};

const INERTIA: Figure = Figure {
    quantity: Quantity::Inertia,
    formula: "J = ρ·∫∫r² dA ds about the shaft",
    meaning: "Moment of inertia of the dogs alone. It is small beside that of the gear, so lighter dogs alone do not \
        make it shift faster.",
    ..METAL
};

const UNBALANCE: Figure = Figure {
    quantity: Quantity::Unbalance,
    better: Better::Less,
    formula: "U = |Σ Δm·r·e^iθ|; allowable U_per = 9549·G·m/n",
    meaning: "Unbalance that the cut leaves in the gear. Cuts spaced evenly round the ring cancel out; a cut on a \
        single dog does not.",
    source: BALANCE,
    ..METAL
};

const CASE_LEFT: Figure = Figure {
    quantity: Quantity::Length,
    better: Better::More,
    limit: Some(limits::case_left),
    formula: "case depth − stock off the flank, square to it",
    meaning: "Depth of hard case left on the flank that lost most. At zero, the soft core carries the load; it wears \
        and dents quickly.",
    source: CASE,
    ..METAL
};

pub(super) static ROWS: &[&Figure] = &[
    &Figure {
        key: "a_dogs_mass_g",
        label: "Ring A: mass of the dogs",
        compute: Compute::Pair(|context| Some(mass(context, Side::A))),
        ..MASS
    },
    &Figure {
        key: "a_cut_off_mass_g",
        label: "Ring A: metal removed",
        compute: Compute::Pair(|context| Some(cut_off(context, Side::A))),
        ..CUT_OFF
    },
    &Figure {
        key: "a_dogs_inertia_kg_mm2",
        label: "Ring A: inertia of the dogs",
        compute: Compute::Pair(|context| Some(inertia(context, Side::A))),
        ..INERTIA
    },
    &Figure {
        key: "a_unbalance_g_mm",
        label: "Ring A: unbalance from the cut",
        limit: Some(limits::unbalance_a),
        needs: &[],
        compute: Compute::Pair(|context| unbalance(context, Side::A)),
        ..UNBALANCE
    },
    &Figure {
        key: "a_case_left_mm",
        label: "Ring A: least case left on a flank",
        compute: Compute::Pair(|context| case_left(context, Side::A)),
        ..CASE_LEFT
    },
    &Figure {
        key: "b_dogs_mass_g",
        label: "Ring B: mass of the dogs",
        compute: Compute::Pair(|context| Some(mass(context, Side::B))),
        ..MASS
    },
    &Figure {
        key: "b_cut_off_mass_g",
        label: "Ring B: metal removed",
        compute: Compute::Pair(|context| Some(cut_off(context, Side::B))),
        ..CUT_OFF
    },
    &Figure {
        key: "b_dogs_inertia_kg_mm2",
        label: "Ring B: inertia of the dogs",
        compute: Compute::Pair(|context| Some(inertia(context, Side::B))),
        ..INERTIA
    },
    &Figure {
        key: "b_unbalance_g_mm",
        label: "Ring B: unbalance from the cut",
        limit: Some(limits::unbalance_b),
        needs: &[],
        compute: Compute::Pair(|context| unbalance(context, Side::B)),
        ..UNBALANCE
    },
    &Figure {
        key: "b_case_left_mm",
        label: "Ring B: least case left on a flank",
        compute: Compute::Pair(|context| case_left(context, Side::B)),
        ..CASE_LEFT
    },
];

fn mass(context: &PairContext<'_>, side: Side) -> Answer {
    let cut = context.cut_metal[side];
    Answer::number(cut.mass_g(), formula("7.85 g/cm³ × {}", [volume(cut.volume_mm3)]))
}

fn cut_off(context: &PairContext<'_>, side: Side) -> Answer {
    let (found, cut) = (context.found_metal[side], context.cut_metal[side]);
    let off = volume(found.volume_mm3 - cut.volume_mm3);
    Answer::number(found.mass_g() - cut.mass_g(), formula("7.85 g/cm³ × {}", [off]))
}

fn inertia(context: &PairContext<'_>, side: Side) -> Answer {
    let cut = context.cut_metal[side];
    Answer::number(cut.inertia_kg_mm2(), formula("∫∫dA ds {}", [volume(cut.volume_mm3)]))
}

const fn volume(mm3: f64) -> Value {
    Value::Working(Quantity::Volume, mm3)
}

/// Whether the plan takes anything off a ring.
fn is_cut(context: &PairContext<'_>, side: Side) -> bool {
    context.worked.found[side] != *context.worked.ring(side)
}

/// What the cut does to the balance; `None` where nothing is cut.
fn unbalance(context: &PairContext<'_>, side: Side) -> Option<Answer> {
    if !is_cut(context, side) {
        return None;
    }
    let off = context.found_metal[side].without(context.cut_metal[side]);
    let grade = context.given(SettingField::BalanceGrade);
    let mass = Value::Working(Quantity::Mass, context.worked.design.ring(side).gear_mass_kg);
    let speed = context.given(SettingField::BalanceSpeed);
    let working = match allowed_unbalance_g_mm(context.worked, side) {
        None => formula("G {}, m {}, n {}", [grade, mass, speed]),
        Some(allowed) => {
            let allowed = Value::Working(Quantity::Unbalance, allowed);
            formula("G {}, m {}, n {}: U_per {}", [grade, mass, speed, allowed])
        }
    };
    Some(Answer::number(off.unbalance_g_mm(), working))
}

/// What the cut leaves of the case; `None` where nothing is cut.
fn case_left(context: &PairContext<'_>, side: Side) -> Option<Answer> {
    if !is_cut(context, side) {
        return None;
    }
    let hardened_through = context.setting(SettingField::CaseDepth) <= 0.0;
    let absent = if hardened_through { say::hardened_through } else { say::no_flank_cut };
    let off = most_off_flank(context.worked, side).filter(|_| !hardened_through);
    let working = off.map_or_else(absent, |(off_mm, dog, flank)| {
        working::off_flank(context.given(SettingField::CaseDepth), mm(off_mm), flank, dog.place)
    });
    Some(Answer::number(case_left_mm(context.worked, side), working).absent(absent))
}
