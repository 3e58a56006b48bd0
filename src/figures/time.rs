//! Against the clock: windows passing by, and the travel into one.

use super::context::PairContext;
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::design::SettingField;
use crate::limits;
use crate::model::Limits;
use crate::shift::{Drive, rounded_hold_mm, straight_in_limit_rpm};
use crate::units::Quantity;

const KINEMATICS: &str = "Uniform motion; plain arithmetic.";
const BY_FORCE: &str = "τ = (−v₀ + √(v₀² + 2ah))/a,  a = F/m";
const BY_DRUM: &str = "τ = h/v";
const BY_BOTH: &str = "as by force, speed capped at the drum's:  a = F/m, v ≤ v_drum";
const CLOSED: &str = "no window is open";

/// How long the widest window stays open.
pub static WINDOW_TIME: Figure = Figure {
    key: "window_time_ms",
    group: Group::Time,
    label: "Window time",
    quantity: Quantity::Time,
    better: Better::More,
    limit: Some(limits::window_time),
    formula: "t = b/Δω, b the free angle to the holding depth",
    meaning: "How long the widest window is open as it passes. It has to be longer than the travel to the holding \
        depth, or the dogs strike and are thrown back.",
    source: KINEMATICS,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let open_ms =
            widest(context).map(|width| context.pair.passing.seconds_open(width) * 1000.0);
        Some(Answer::number(open_ms, format!("{} at {}", widest_text(context), context.slip())))
    }),
};

/// How long the sliding gear takes down to the holding depth.
pub static TRAVEL_TIME: Figure = Figure {
    key: "travel_time_ms",
    group: Group::Time,
    label: "Travel time to the holding depth",
    quantity: Quantity::Time,
    better: Better::Less,
    limit: None,
    formula: BY_FORCE,
    meaning: "How long the sliding gear takes from tip on tip to the depth where a flank holds. A harder push, a \
        lighter gear or a quicker drum makes it shorter.",
    source: KINEMATICS,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let answer = Answer::number(context.pair.travel_s * 1000.0, travel(context));
        Some(answer.by(match context.worked.design.setting.drive {
            Drive::Force => BY_FORCE,
            Drive::Drum => BY_DRUM,
            Drive::Both => BY_BOTH,
        }))
    }),
};

/// The largest speed difference at which the widest window can be entered straight.
pub static STRAIGHT_IN_LIMIT: Figure = Figure {
    key: "straight_in_limit_rpm",
    group: Group::Time,
    label: "Straight-in limit",
    quantity: Quantity::Speed,
    better: Better::More,
    limit: Some(limits::straight_in),
    formula: "Δn_max = b/τ",
    meaning: "The largest speed difference at which the dogs can go in without touching first. Above it they have \
        to slow each other down before they hold.",
    source: KINEMATICS,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let limit = |width| straight_in_limit_rpm(width, context.pair.travel_s);
        let working = format!("{} in {}", widest_text(context), travel_text(context));
        Some(Answer::number(widest(context).map(limit), working))
    }),
};

pub(super) static ROWS: &[&Figure] = &[
    &WINDOW_TIME,
    &TRAVEL_TIME,
    &STRAIGHT_IN_LIMIT,
    &Figure {
        key: "drop_in_limit_rpm",
        group: Group::Time,
        label: "Drop-in limit, starting from the dog face",
        quantity: Quantity::Speed,
        better: Better::More,
        limit: None,
        formula: "ω_cap = b/τ with v₀ = 0",
        meaning: "The largest speed difference at which a ring that has been rubbing on a face can still drop into \
            the next window. The gear starts from rest there, so it is never higher than the straight-in limit.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let limit = Limits::of(context.pair).map(|limits| limits.drop_in_rpm);
            Some(Answer::number(limit, widest_text(context)))
        }),
    },
    &Figure {
        key: "lock_limit_rpm",
        group: Group::Time,
        label: "Blocking limit (dogs can butt below this)",
        quantity: Quantity::Speed,
        better: Better::Less,
        limit: None,
        formula: "ω₁ = √(2·(μ·F·r + drag)·L/J), widest land",
        meaning: "Below this speed difference rubbing can bring both rings to one speed before a window comes, and \
            the gear hangs tip on tip. Wide tips, rough faces and a hard push raise this limit.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let limit = Limits::of(context.pair).map(|limits| limits.lock_rpm);
            Some(Answer::number(limit, rubbing(context)))
        }),
    },
    &Figure {
        key: "edge_hold_depth_mm",
        group: Group::Time,
        label: "Minimum overlap with worn edges",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        formula: "chamfers h ≥ c₁ + c₂; rounded edges h ≥ (R₁ + R₂)(1 − sin ρ), tan ρ = μ",
        meaning: "How deep the dogs must be before flank meets flank and not only the broken edges. Shallower than \
            this the edges can push the gear out again.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let edges_mm = context.worked.edges_mm();
            let rounded_mm = rounded_hold_mm(edges_mm, context.setting(SettingField::TipFriction));
            let working = format!(
                "largest edge breaks together {}; if they are rounded {} at μ {}",
                context.mm(edges_mm),
                context.mm(rounded_mm),
                context.given(SettingField::TipFriction)
            );
            Some(Answer::number(edges_mm, working))
        }),
    },
    &Figure {
        key: "straight_in_share",
        group: Group::Time,
        label: "Upper bound on clean engagement",
        quantity: Quantity::Share,
        better: Better::More,
        limit: None,
        formula: "Σ max(0, b − Δω·τ) / 360°, every phase equally likely",
        meaning: "The largest share of starting phases from which the dogs could drop in, edge breaks counted as \
            open. The first pass, solved exactly, is lower where edges are met or a short dog is in the way.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let passing = &context.pair.passing;
            let count = passing.windows.len();
            let working =
                format!("{count} windows at {}, τ {}", context.slip(), travel_text(context));
            let share = passing.straight_in_share(context.pair.travel_s);
            Some(Answer::number(share, if_open(context, working)))
        }),
    },
    &Figure {
        key: "passes_per_s",
        group: Group::Time,
        label: "Windows per second",
        quantity: Quantity::Rate,
        better: Better::Neither,
        limit: None,
        formula: "Δn·N/60",
        meaning: "How often a window comes by in a second at this speed difference. Many passes mean a short wait, \
            but each one is short too.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let passing = &context.pair.passing;
            let working = format!("{} × {} / 60", context.slip(), passing.windows.len());
            Some(Answer::number(passing.per_second(), if_open(context, working)))
        }),
    },
    &Figure {
        key: "mean_wait_ms",
        group: Group::Time,
        label: "Mean wait, faces rubbing",
        quantity: Quantity::Time,
        better: Better::Less,
        limit: None,
        formula: "Σ L²/(2·360°·Δω)",
        meaning: "How long the faces rub on average before a window comes. It is the time in which tips wear and get \
            hot.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let wait_ms = widest(context).map(|_| context.pair.passing.mean_wait() * 1000.0);
            Some(Answer::number(wait_ms, lands(context)))
        }),
    },
    &Figure {
        key: "worst_wait_ms",
        group: Group::Time,
        label: "Longest wait, faces rubbing",
        quantity: Quantity::Time,
        better: Better::Less,
        limit: None,
        formula: "L/Δω, widest land",
        meaning: "The wait when the tips come level just behind a window. The foot has to keep pushing for as long as \
            that.",
        source: KINEMATICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let wait_ms = widest(context).map(|_| context.pair.passing.worst_wait() * 1000.0);
            Some(Answer::number(wait_ms, lands(context)))
        }),
    },
];

/// The widest window that leads down to the holding depth, rad; `None` where none is open.
fn widest(context: &PairContext<'_>) -> Option<f64> {
    context.pair.passing.extremes().map(|(_, widest)| widest)
}

fn widest_text(context: &PairContext<'_>) -> String {
    widest(context).map_or_else(|| CLOSED.to_owned(), |width| context.deg(width))
}

fn travel_text(context: &PairContext<'_>) -> String {
    context.show(Quantity::Time, context.pair.travel_s * 1000.0)
}

/// A working that means something only where a window is open.
fn if_open(context: &PairContext<'_>, working: String) -> String {
    if widest(context).is_some() { working } else { CLOSED.to_owned() }
}

/// The first lands between the windows, and the speed difference.
fn lands(context: &PairContext<'_>) -> String {
    const LISTED: usize = 8;
    let lands = context.pair.passing.lands.iter().take(LISTED);
    let lands = lands.map(|land| context.deg(*land)).collect::<Vec<_>>().join(", ");
    if_open(context, format!("lands {lands} at {}", context.slip()))
}

fn rubbing(context: &PairContext<'_>) -> String {
    let Some(shift) = &context.pair.shift else {
        return "the rings do not go in".to_owned();
    };
    let conditions = &shift.conditions;
    format!(
        "μ {}, F {}, r {}, drag {}, L {}, J {}",
        context.show(Quantity::Ratio, conditions.friction),
        context.given(SettingField::ShiftForce),
        context.mm(conditions.friction_radius_mm),
        context.given(SettingField::Drag),
        context.deg(context.pair.passing.widest_land()),
        context.inertia(conditions.inertia_kg_m2)
    )
}

fn travel(context: &PairContext<'_>) -> String {
    let depth = context.given(SettingField::HoldDepth);
    let push = format!(
        "h {depth}, F {}, m {}, v₀ {}",
        context.given(SettingField::ShiftForce),
        context.given(SettingField::MovingMass),
        context.given(SettingField::StartSpeed)
    );
    let drum = context.given(SettingField::DrumSpeed);
    match context.worked.design.setting.drive {
        Drive::Force => push,
        Drive::Drum => format!("{depth} / {drum}"),
        Drive::Both => format!("{push}, drum {drum}"),
    }
}
