//! Depth along the shaft: clearance in neutral, and how far the fork takes the dogs in.

use crenel_words::{Value, working as say};

use super::context::{PartsContext, formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::limits;
use crate::stack::{Depth, Facing};
use crate::units::Quantity;

const CHAIN: &str = "Tolerance stack-up; worst case Σt, likely spread √Σt² (derived).";
const ALONG: &str = "Sizes along the shaft, added and subtracted; plain arithmetic.";
const CLEARANCE: &str = "Σ ± sizes of the stack-up";
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
        needs: &[],
        formula: CLEARANCE,
        meaning: "Room between the tips in neutral, at the sizes entered. With too little, the dogs tick or grab in \
            neutral.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| clearance(parts, Facing::This)),
    },
    &Figure {
        key: "least_clearance_this_mm",
        group: Group::Depth,
        label: "Worst-case clearance, this pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: Some(limits::clearance),
        needs: &[],
        formula: LEAST,
        meaning: "The same room with every size at its limit and the gear as far over as the fork lets it go. It must \
            be greater than zero.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| least(parts, Facing::This)),
    },
    &Figure {
        key: "pushed_in_this_mm",
        group: Group::Depth,
        label: "Pushed-in overlap, this pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: Some(limits::engaged),
        needs: &[],
        formula: PUSHED_IN,
        meaning: "Overlap if only the fork pushes, with its free play taken up. Flanks without undercut get no more \
            than this.",
        source: ALONG,
        words: Vec::new,
        compute: Compute::Parts(|parts| pushed_in(parts, Facing::This)),
    },
    &Figure {
        key: "drawn_in_this_mm",
        group: Group::Depth,
        label: "Drawn-in overlap, this pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: DRAWN_IN,
        meaning: "Overlap once the undercut has drawn the gear in as far as the fork lets it. A fork that holds the \
            gear back wears.",
        source: ALONG,
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
        needs: &[],
        formula: CLEARANCE,
        meaning: "Room to the dogs on the other side of the sliding gear, in neutral. A shim adds to one side and \
            takes the same from the other.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| clearance(parts, Facing::Other)),
    },
    &Figure {
        key: "least_clearance_other_mm",
        group: Group::Depth,
        label: "Worst-case clearance, other pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: Some(limits::clearance),
        needs: &[],
        formula: LEAST,
        meaning: "Worst-case clearance on the other side. At zero or less, those dogs can touch in neutral.",
        source: CHAIN,
        words: Vec::new,
        compute: Compute::Parts(|parts| least(parts, Facing::Other)),
    },
    &Figure {
        key: "pushed_in_other_mm",
        group: Group::Depth,
        label: "Pushed-in overlap, other pair",
        quantity: Quantity::Length,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: PUSHED_IN,
        meaning: "Overlap of the dogs on the other side if only the fork pushes.",
        source: ALONG,
        words: Vec::new,
        compute: Compute::Parts(|parts| pushed_in(parts, Facing::Other)),
    },
    &Figure {
        key: "drawn_in_other_mm",
        group: Group::Depth,
        label: "Drawn-in overlap, other pair",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: DRAWN_IN,
        meaning: "Overlap of the dogs on the other side once the undercut has drawn them in.",
        source: ALONG,
        words: Vec::new,
        compute: Compute::Parts(|parts| drawn_in(parts, Facing::Other)),
    },
    &Figure {
        key: "shim_mm",
        group: Group::Depth,
        label: "[Centring|Centering] shim (+ away from this pair)",
        quantity: Quantity::Length,
        better: Better::Neither,
        limit: None,
        needs: &[],
        formula: "(clearance to other pair − clearance to this pair)/2, rounded down to the shim increment",
        meaning: "Thickness of shim that [centres|centers] the sliding gear by moving it away from this pair. If \
            negative, the gear has to move towards this pair.",
        source: ALONG,
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
