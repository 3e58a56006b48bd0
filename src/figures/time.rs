//! Against the clock: windows passing by, and the travel into one.

use crenel_words::{Message, Value, working as say};

use super::context::{PairContext, deg, formula, inertia, mm, ms};
use super::figure::{Answer, Better, Compute, Figure, Group};
use super::lash::are_unlike;
use crate::design::{Need, SettingField};
use crate::limits;
use crate::model::Limits;
use crate::shift::{Drive, rounded_hold_mm, straight_in_limit_rpm};
use crate::units::Quantity;

const UNIFORM: &str = "Uniform motion; plain arithmetic.";
const ANY_PHASE: &str = "Uniform motion, every phase equally likely (common practice, no source).";
const PUSHED: &str = "Uniform acceleration up to the drum speed; plain mechanics.";
const SLOWED: &str = "Uniform deceleration by friction and drag; plain mechanics.";
const EDGES: &str =
    "Plane geometry of two edges in contact, with friction where they are rounded (derived).";
const BY_FORCE: &str = "τ = (−v₀ + √(v₀² + 2ah))/a, a = F/m";
const BY_DRUM: &str = "τ = h/v";
const BY_BOTH: &str = "τ = t(h), v̇ = F/m, v ≤ v_drum";

/// How long the widest window stays open.
pub static WINDOW_TIME: Figure = Figure {
    key: "window_time_ms",
    group: Group::Time,
    label: "Window time",
    quantity: Quantity::Time,
    better: Better::More,
    limit: Some(limits::window_time),
    needs: &[Need::Speed],
    formula: "t = b/Δω, b the window width to the holding depth",
    meaning: "How long the widest window, edge breaks counted, is open as it passes. It must be longer than the \
        travel time to the holding \
        depth, or the dogs are thrown back.",
    source: UNIFORM,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let open_ms =
            widest(context).map(|width| context.pair.passing.seconds_open(width) * 1000.0);
        let working = from_widest(context, |b| formula("b {}, Δω {}", [b, context.slip()]));
        Some(Answer::number(open_ms, working))
    }),
};

/// How long the narrowest window of rings that are not alike stays open.
static WINDOW_TIME_WORST_PLACE: Figure = Figure {
    key: "window_time_worst_place_ms",
    group: Group::Time,
    quantity: Quantity::Time,
    better: Better::More,
    needs: &[Need::Speed],
    source: UNIFORM,
    words: Vec::new,
    label: "Window time in the worst place",
    limit: None,
    formula: "t = b/Δω, b of the narrowest window to the holding depth",
    meaning: "How long the narrowest window is open, because these rings are not alike; the best place has the window \
        time above. Nobody can hold a gear to one place, so a shift may meet this one.",
    compute: Compute::Pair(|context| {
        let (narrowest, _) = context.pair.passing.extremes().filter(|_| are_unlike(context))?;
        let open_ms = context.pair.passing.seconds_open(narrowest) * 1000.0;
        let b = deg(narrowest.to_degrees());
        Some(Answer::number(Some(open_ms), formula("b {}, Δω {}", [b, context.slip()])))
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
    needs: &[],
    formula: BY_FORCE,
    meaning: "How long the sliding gear takes from tip level to the depth where a flank holds. A harder push, a \
        lighter gear or a faster drum shortens it.",
    source: PUSHED,
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
    needs: &[],
    formula: "Δn_max = b/τ",
    meaning: "Only below this speed difference can the dogs go in without touching first, and only from some phases. \
        Above it, rubbing has to bring the speeds closer before they hold.",
    source: UNIFORM,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let limit = |width| straight_in_limit_rpm(width, context.pair.travel_s);
        let working = from_widest(context, |b| formula("b {}, τ {}", [b, travel_time(context)]));
        Some(Answer::number(widest(context).map(limit), working))
    }),
};

pub(super) static ROWS: &[&Figure] = &[
    &WINDOW_TIME,
    &WINDOW_TIME_WORST_PLACE,
    &TRAVEL_TIME,
    &STRAIGHT_IN_LIMIT,
    &Figure {
        key: "drop_in_limit_rpm",
        group: Group::Time,
        label: "Drop-in limit, starting tip on tip",
        quantity: Quantity::Speed,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: "Δn_max = b/τ, τ with v₀ = 0",
        meaning: "The largest speed difference at which dogs that rub tip on tip can still drop into the widest \
            window. The gear starts from rest, so this is never above the straight-in limit.",
        source: PUSHED,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let limit = Limits::of(context.pair).map(|limits| limits.drop_in_rpm);
            Some(Answer::number(limit, from_widest(context, |b| formula("b {}", [b]))))
        }),
    },
    &Figure {
        key: "lock_limit_rpm",
        group: Group::Time,
        label: "Limit for hanging tip on tip",
        quantity: Quantity::Speed,
        better: Better::Less,
        limit: None,
        needs: &[Need::TipFriction, Need::Inertia],
        formula: "Δω = √(2·(μ·F·r + M_d)·L/J), L the widest blocked angle, M_d the drag",
        meaning: "Below this speed difference, rubbing can bring both rings to one speed before a window comes, and \
            the gear hangs tip on tip. Wide or rough tips and a hard push raise the limit.",
        source: SLOWED,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let limit = Limits::of(context.pair).map(|limits| limits.lock_rpm);
            Some(Answer::number(limit, rubbing(context)))
        }),
    },
    &Figure {
        key: "edge_hold_depth_mm",
        group: Group::Time,
        label: "Minimum overlap past the edge breaks",
        quantity: Quantity::Length,
        better: Better::Less,
        limit: None,
        needs: &[Need::TipFriction],
        formula: "chamfers h ≥ c₁ + c₂; rounded edges h ≥ (R₁ + R₂)(1 − sin ρ), tan ρ = μ",
        meaning: "Overlap at which the flanks themselves meet, not just their edge breaks. With less, the edges can \
            push the gear out again.",
        source: EDGES,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let edges_mm = context.worked.edges_mm();
            let rounded_mm = rounded_hold_mm(edges_mm, context.setting(SettingField::TipFriction));
            let friction = context.given(SettingField::TipFriction);
            let working = say::edges(mm(edges_mm), mm(rounded_mm), friction);
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
        needs: &[Need::Speed],
        formula: "Σ max(0, b − Δω·τ) / 360°",
        meaning: "The largest share of starting phases from which the dogs could go straight in, with edge breaks \
            counted as open. The exact share of the first pass is lower where edges meet or a short dog is in the way.",
        source: ANY_PHASE,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let passing = &context.pair.passing;
            let sizes = formula("Δω {}, τ {}", [context.slip(), travel_time(context)]);
            let working = say::windows_passing(passing.windows.len(), sizes);
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
        needs: &[Need::Speed],
        formula: "Δn·N/60, N the number of windows",
        meaning: "How often a window passes at this speed difference. More windows mean a shorter wait, but each is \
            open for less time.",
        source: UNIFORM,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let passing = &context.pair.passing;
            let count = Value::how_many(passing.windows.len());
            let working = formula("{} × {} / 60", [context.slip(), count]);
            Some(Answer::number(passing.per_second(), if_open(context, working)))
        }),
    },
    &Figure {
        key: "mean_wait_ms",
        group: Group::Time,
        label: "Mean wait, tips rubbing",
        quantity: Quantity::Time,
        better: Better::Less,
        limit: None,
        needs: &[Need::Speed],
        formula: "Σ L²/(2·360°·Δω), L the blocked angles between the windows",
        meaning: "How long the tips rub before a window comes, on average over all starting phases. They wear and \
            heat up during this time.",
        source: ANY_PHASE,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let wait_ms = widest(context).map(|_| context.pair.passing.mean_wait() * 1000.0);
            Some(Answer::number(wait_ms, lands(context)))
        }),
    },
    &Figure {
        key: "worst_wait_ms",
        group: Group::Time,
        label: "Longest wait, tips rubbing",
        quantity: Quantity::Time,
        better: Better::Less,
        limit: None,
        needs: &[Need::Speed],
        formula: "L/Δω, L the widest blocked angle",
        meaning: "The wait if the tips come level just after a window has passed. The foot has to keep pushing for \
            all that time.",
        source: UNIFORM,
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

/// A working that begins with the widest window.
fn from_widest(context: &PairContext<'_>, working: impl FnOnce(Value) -> Message) -> Message {
    widest(context).map_or_else(say::no_window_open, |width| working(deg(width.to_degrees())))
}

fn travel_time(context: &PairContext<'_>) -> Value {
    ms(context.pair.travel_s * 1000.0)
}

/// A working that means something only where a window is open.
fn if_open(context: &PairContext<'_>, working: Message) -> Message {
    if widest(context).is_some() { working } else { say::no_window_open() }
}

/// The first blocked angles between the windows, and the speed difference.
fn lands(context: &PairContext<'_>) -> Message {
    const LISTED: usize = 8;
    let lands = context.pair.passing.lands.iter().take(LISTED);
    let lands = lands.map(|land| deg(land.to_degrees())).collect();
    if_open(context, formula("L {}; Δω {}", [Value::List(lands), context.slip()]))
}

fn rubbing(context: &PairContext<'_>) -> Message {
    let Some(shift) = &context.pair.shift else { return say::not_going_in() };
    let conditions = &shift.conditions;
    let sizes = [
        Value::Working(Quantity::Ratio, conditions.friction),
        context.given(SettingField::ShiftForce),
        mm(conditions.friction_radius_mm),
        context.given(SettingField::Drag),
        deg(context.pair.passing.widest_land().to_degrees()),
        inertia(conditions.inertia_kg_m2),
    ];
    formula("μ {}, F {}, r {}, M_d {}, L {}, J {}", sizes)
}

fn travel(context: &PairContext<'_>) -> Message {
    let depth = context.given(SettingField::HoldDepth);
    let force = context.given(SettingField::ShiftForce);
    let mass = context.given(SettingField::MovingMass);
    let start = context.given(SettingField::StartSpeed);
    let drum = context.given(SettingField::DrumSpeed);
    match context.worked.design.setting.drive {
        Drive::Force => formula("h {}, F {}, m {}, v₀ {}", [depth, force, mass, start]),
        Drive::Drum => formula("{} / {}", [depth, drum]),
        Drive::Both => {
            formula("h {}, F {}, m {}, v₀ {}, v_drum {}", [depth, force, mass, start, drum])
        }
    }
}
