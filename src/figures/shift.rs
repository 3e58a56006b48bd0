//! What becomes of one shift, and of all of them.

use crenel_words::{Message, outcome, working as say};

use super::context::{PairContext, deg, mm, ms};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::design::Need;
use crate::model::{Shares, ShiftAnalysis};
use crate::shift::{Attempt, Leg, Outcome};
use crate::units::{Quantity, rpm};

const EVENTS: &str = "event by event: travel as for τ, rubbing with dΔω/dt = −(μ·F·r + M_d)/J";
const PLAIN_MECHANICS: &str = "Uniform acceleration between events; plain mechanics.";
const SPANS: &str = "Σ spans of starting phases with this result / 360°, first pass only; ends solved event by event";
const EQUALLY_LIKELY: &str = "Every phase equally likely: common practice, no source.";

/// What rubbing depends on.
const NEEDS: &[Need] = &[Need::Speed, Need::TipFriction, Need::Inertia];

/// The share of phases from which the first pass goes straight in.
pub static STRAIGHT_IN: Figure = Figure {
    key: "first_pass_straight_share",
    group: Group::Shift,
    label: "First pass: straight in",
    quantity: Quantity::Share,
    better: Better::More,
    limit: None,
    needs: &[Need::Speed],
    formula: SPANS,
    meaning: "Share of starting phases from which the gear goes in at the first window without touching. To the \
        rider it is a clean shift.",
    source: EQUALLY_LIKELY,
    words: Vec::new,
    compute: Compute::Pair(|context| share(context, |shares| shares.straight_in)),
};

/// The share of phases from which the first pass goes in after rubbing.
pub static IN_AFTER_RUBBING: Figure = Figure {
    key: "first_pass_rubbed_share",
    group: Group::Shift,
    label: "First pass: in after rubbing",
    quantity: Quantity::Share,
    better: Better::More,
    limit: None,
    needs: NEEDS,
    formula: SPANS,
    meaning: "Share of starting phases from which the tips rub first and the dogs then drop into a window. This is \
        normal, but takes longer and wears the tips.",
    source: EQUALLY_LIKELY,
    words: Vec::new,
    compute: Compute::Pair(|context| share(context, |shares| shares.after_rubbing)),
};

/// The share of phases from which the first pass is thrown back.
pub static THROWN_BACK: Figure = Figure {
    key: "first_pass_struck_share",
    group: Group::Shift,
    label: "First pass: thrown back",
    quantity: Quantity::Share,
    better: Better::Less,
    limit: None,
    needs: NEEDS,
    formula: SPANS,
    meaning: "Share of starting phases from which the flanks meet at too little depth and throw the gear back. The \
        rider hears a crunch, and the edges round off.",
    source: EQUALLY_LIKELY,
    words: Vec::new,
    compute: Compute::Pair(|context| share(context, |shares| shares.struck)),
};

/// The share of phases from which the first pass hangs tip on tip.
pub static HANGS: Figure = Figure {
    key: "first_pass_locked_share",
    group: Group::Shift,
    label: "First pass: hangs tip on tip",
    quantity: Quantity::Share,
    better: Better::Less,
    limit: None,
    needs: NEEDS,
    formula: SPANS,
    meaning: "Share of starting phases from which the tips rub to a standstill before the first window comes, and the \
        gear hangs, neither in nor out. If it is thrown back first, it counts as thrown back here; the chances under \
        Shift count how it ends.",
    source: EQUALLY_LIKELY,
    words: Vec::new,
    compute: Compute::Pair(|context| share(context, |shares| shares.locked)),
};

/// The share of phases from which the first pass stops on top of a short dog.
pub static HALF_IN: Figure = Figure {
    key: "first_pass_half_in_share",
    group: Group::Shift,
    label: "First pass: half in",
    quantity: Quantity::Share,
    better: Better::Less,
    limit: None,
    needs: NEEDS,
    formula: SPANS,
    meaning: "Share of starting phases from which the gear stops on top of a short dog. Only the tall dogs carry \
        then, and the gear can jump out.",
    source: EQUALLY_LIKELY,
    words: Vec::new,
    compute: Compute::Pair(|context| share(context, |shares| shares.half_in)),
};

/// How the shift from the phase as drawn ends.
pub static SHIFT_ENDING: Figure = Figure {
    key: "shift_ending",
    group: Group::Shift,
    label: "Result from the phase as drawn",
    quantity: Quantity::Count,
    better: Better::Neither,
    limit: None,
    needs: NEEDS,
    formula: EVENTS,
    meaning: "How this one shift ends, starting from the phase as drawn. Change the phase to see how much depends \
        on luck.",
    source: PLAIN_MECHANICS,
    words: outcomes,
    compute: Compute::Pair(|context| {
        let attempt = attempt(context)?;
        let ending = outcome::shift(Outcome::from_attempt(attempt));
        Some(Answer::words(ending, path(attempt)))
    }),
};

/// How long the shift from the phase as drawn takes.
pub static SHIFT_TIME: Figure = Figure {
    key: "shift_time_ms",
    group: Group::Shift,
    label: "Time to result",
    quantity: Quantity::Time,
    better: Better::Less,
    limit: None,
    needs: NEEDS,
    formula: EVENTS,
    meaning: "How long this shift takes, from tip level to its end.",
    source: PLAIN_MECHANICS,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let attempt = attempt(context)?;
        Some(Answer::number(attempt.time_s * 1000.0, path(attempt)))
    }),
};

pub(super) static ROWS: &[&Figure] = &[
    &SHIFT_ENDING,
    &SHIFT_TIME,
    &Figure {
        key: "shift_strikes",
        group: Group::Shift,
        label: "Times thrown back",
        quantity: Quantity::Count,
        better: Better::Less,
        limit: None,
        needs: NEEDS,
        formula: EVENTS,
        meaning: "How often the flanks meet at too little depth to hold and throw the gear back. Each time rounds the \
            edges a little more.",
        source: PLAIN_MECHANICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let attempt = attempt(context)?;
            Some(Answer::number(f64::from(attempt.strikes), path(attempt)))
        }),
    },
    &Figure {
        key: "shift_slip_left_rpm",
        group: Group::Shift,
        label: "Speed difference left",
        quantity: Quantity::Speed,
        better: Better::Neither,
        limit: None,
        needs: NEEDS,
        formula: EVENTS,
        meaning: "Speed difference left when the dogs hold. It ends in one shock, which the shafts have to absorb.",
        source: PLAIN_MECHANICS,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let attempt = attempt(context)?;
            Some(Answer::number(rpm(attempt.slip_left.abs()), path(attempt)))
        }),
    },
    &STRAIGHT_IN,
    &IN_AFTER_RUBBING,
    &THROWN_BACK,
    &HANGS,
    &HALF_IN,
    &Figure {
        key: "first_pass_ratcheting_share",
        group: Group::Shift,
        label: "First pass: still rubbing",
        quantity: Quantity::Share,
        better: Better::Less,
        limit: None,
        needs: NEEDS,
        formula: SPANS,
        meaning: "Share of starting phases from which the tips still rub when the time allowed is up. It occurs if \
            the rings turn past each other so slowly that no window comes in time.",
        source: EQUALLY_LIKELY,
        words: Vec::new,
        compute: Compute::Pair(|context| share(context, |shares| shares.ratcheting)),
    },
];

/// Every way in which a shift can end.
fn outcomes() -> Vec<Message> {
    Outcome::ALL.map(outcome::shift).into()
}

/// The shift from the phase as drawn; `None` where the rings jam or stand apart.
fn attempt<'a>(context: &PairContext<'a>) -> Option<&'a Attempt> {
    context.pair.shift.as_ref().map(|shift| &shift.attempt)
}

/// The path of an attempt, leg by leg.
fn path(attempt: &Attempt) -> Message {
    const TOLD: usize = 8;
    let leg = |leg: &Leg| {
        let turned = deg((leg.phase[1] - leg.phase[0]).abs().to_degrees());
        let time = ms(leg.lasts_s * 1000.0);
        let [from, to] = leg.overlap_mm;
        let falls = (to - from).abs() > 1e-9;
        if falls { say::falls(mm(to), time, turned) } else { say::rubs(mm(from), time, turned) }
    };
    let legs = attempt.legs.iter().take(TOLD).map(|one| leg(one).into()).collect();
    say::legs(legs, attempt.legs.len().saturating_sub(TOLD))
}

/// A share of the starting phases of the first pass.
fn share(context: &PairContext<'_>, read: impl Fn(&Shares) -> f64) -> Option<Answer> {
    let ShiftAnalysis { shares, .. } = context.pair.shift.as_ref()?;
    Some(Answer::number(read(shares), say::spans(shares.spans, context.slip())))
}
