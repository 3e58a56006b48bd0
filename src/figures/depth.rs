//! Depth along the shaft: clearance in neutral, and how far the fork takes the dogs in.

use crenel_words::{Value, working as say};

use super::context::{PartsContext, formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::limits;
use crate::stack::{Depth, Facing};
use crate::units::Quantity;

const CHAIN: &str = "Tolerance stack-up; worst case Σt, RSS √Σt² (derived).";
const CLEARANCE: &str = "Σ ± sizes of the chain";
const LEAST: &str = "clearance − Σt − play/2";
const PUSHED_IN: &str = "fork travel − clearance − play/2";
const DRAWN_IN: &str = "fork travel − clearance + play/2";

pub(super) static ROWS: &[&Figure] = &[
    &Figure {
        key: "clearance_this_mm",
        group: Group::Depth,
        label: "Clearance in neutral, this pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: CLEARANCE,
        meaning: "The room between the tips in neutral, with all sizes as given. With too little the dogs tick or \
            grab in neutral.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| clearance(parts, Facing::This)),
    },
    &Figure {
        key: "least_clearance_this_mm",
        group: Group::Depth,
        label: "Minimum clearance in neutral (worst case), this pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: Some(limits::clearance),
        formula: LEAST,
        meaning: "The same room with every part at its worst and the gear as far over as the fork lets it go. It has \
            to be more than nothing.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| least(parts, Facing::This)),
    },
    &Figure {
        key: "pushed_in_this_mm",
        group: Group::Depth,
        label: "Overlap, pushed by the fork, this pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: Some(limits::engaged),
        formula: PUSHED_IN,
        meaning: "How deep the dogs go when the fork only pushes, with its play taken up against it. This is the \
            depth that a straight flank gets.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| pushed_in(parts, Facing::This)),
    },
    &Figure {
        key: "drawn_in_this_mm",
        group: Group::Depth,
        label: "Overlap, drawn in by the undercut, this pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: DRAWN_IN,
        meaning: "How deep the dogs go once the undercut has drawn the gear in as far as the fork lets it. A fork that \
            has to hold the gear back wears.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| drawn_in(parts, Facing::This)),
    },
    &Figure {
        key: "clearance_other_mm",
        group: Group::Depth,
        label: "Clearance in neutral, other pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: CLEARANCE,
        meaning: "The room to the dogs on the other side of the sliding gear, in neutral. What a shim gives one side \
            it takes from the other.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| clearance(parts, Facing::Other)),
    },
    &Figure {
        key: "least_clearance_other_mm",
        group: Group::Depth,
        label: "Minimum clearance in neutral (worst case), other pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: Some(limits::clearance),
        formula: LEAST,
        meaning: "The least clearance on the other side. At zero, those dogs touch in neutral.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| least(parts, Facing::Other)),
    },
    &Figure {
        key: "pushed_in_other_mm",
        group: Group::Depth,
        label: "Overlap, pushed by the fork, other pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: None,
        formula: PUSHED_IN,
        meaning: "How deep the dogs on the other side go when the fork only pushes.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| pushed_in(parts, Facing::Other)),
    },
    &Figure {
        key: "drawn_in_other_mm",
        group: Group::Depth,
        label: "Overlap, drawn in by the undercut, other pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: DRAWN_IN,
        meaning: "How deep the dogs on the other side go when the undercut draws them in.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| drawn_in(parts, Facing::Other)),
    },
    &Figure {
        key: "shim_mm",
        group: Group::Depth,
        label: "Shim to move the sliding gear away from this pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        formula: "half the difference of the clearances, rounded down to the shim step; minus is towards it",
        meaning: "How thick a shim puts the sliding gear in the middle between its two partners, away from this pair. \
            A minus means towards it.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| {
            let depth = parts.selector.depth.as_ref()?;
            let working = say::off_middle(mm(depth.off_centre_mm()?), mm(depth.shim_step_mm));
            Some(Answer::number(depth.shim_mm(), working))
        }),
    },
];

/// The chains; `None` where that to the pair on this side has no sizes.
fn chains<'a>(parts: &PartsContext<'a>, facing: Facing) -> Option<&'a Depth> {
    parts.selector.depth.as_ref()?.given(facing)
}

/// What the fork moves the gear, the clearance it first has to take up, and its play.
fn fork_travel(depth: &Depth, facing: Facing) -> [Value; 3] {
    [depth.throw_mm[facing], depth.clearance_mm(facing), depth.play_mm].map(mm)
}

fn clearance(parts: &PartsContext<'_>, facing: Facing) -> Option<Answer> {
    let depth = chains(parts, facing)?;
    let chain = depth.chain(facing);
    let [worst, rss] =
        [chain.worst_mm(), chain.rss_mm()].map(|mm| Value::Tolerance(Quantity::Length, mm));
    let working = say::stack_up(chain.links.len(), worst, rss);
    Some(Answer::number(depth.clearance_mm(facing), working))
}

fn least(parts: &PartsContext<'_>, facing: Facing) -> Option<Answer> {
    let depth = chains(parts, facing)?;
    let worst_mm = depth.chain(facing).worst_mm();
    let sizes = [depth.clearance_mm(facing), worst_mm, depth.play_mm].map(mm);
    Some(Answer::number(depth.least_clearance_mm(facing), formula("{} − {} − {}/2", sizes)))
}

fn pushed_in(parts: &PartsContext<'_>, facing: Facing) -> Option<Answer> {
    let depth = chains(parts, facing)?;
    let working = formula("{} − {} − {}/2", fork_travel(depth, facing));
    Some(Answer::number(depth.pushed_in_mm(facing), working))
}

fn drawn_in(parts: &PartsContext<'_>, facing: Facing) -> Option<Answer> {
    let depth = chains(parts, facing)?;
    let working = formula("{} − {} + {}/2", fork_travel(depth, facing));
    Some(Answer::number(depth.drawn_in_mm(facing), working))
}
