//! Sizes that a goal depends on: with one of them off by its tolerance the goal is missed.

use crenel_words::{Message, suggest as say};

use super::goal::{Goal, reach, wanted};
use super::new_sizes::{NewSize, Off, new_sizes_on_both};
use crate::analysis::Analysis;
use crate::design::Size;
use crate::ring::{PerSide, Ring, Side};

/// One size, the side on which it must not be off, and the goal that would be missed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hanging {
    pub(crate) new_size: NewSize,
    pub(crate) off: Off,
    pub(crate) goal: Goal,
}

/// The sizes of a plan that must not be off to one side. If they are not, and all others are anywhere
/// within their general tolerances, every goal that the plan reaches is still met. Empty if the goals are
/// met with any size off by its tolerance.
pub(crate) fn hanging(analysis: &Analysis) -> Vec<Hanging> {
    let sizes = new_sizes_on_both(&analysis.found, &analysis.cut);
    if sizes.is_empty() || analysis.pair.is_none() {
        return Vec::new();
    }
    let groups = groups(analysis, &sizes);
    Goal::ALL.into_iter().flat_map(|goal| hanging_on(analysis, &groups, goal)).collect()
}

/// Groups of equal sizes on a ring.
fn groups<'a>(analysis: &Analysis, sizes: &'a [NewSize]) -> Vec<&'a [NewSize]> {
    let height = |one: &NewSize| {
        let dog = analysis.ring(one.side).at_place(one.place);
        dog.filter(|_| one.size == Size::Height).map(|dog| dog.height_mm)
    };
    let kind = |one: &NewSize| (one.side, one.size, one.of_tallest, height(one));
    sizes.chunk_by(|a, b| kind(a) == kind(b)).collect()
}

fn hanging_on(analysis: &Analysis, groups: &[&[NewSize]], goal: Goal) -> Vec<Hanging> {
    let (design, found) = (&analysis.design, &analysis.found);
    let wanted = wanted(design, goal);
    let meets =
        |rings: &PerSide<Ring>| reach(design, found, rings, goal).is_some_and(|has| has >= wanted);
    if !meets(&analysis.cut) {
        return Vec::new();
    }
    let mut list = Vec::new();
    // The tallest dogs are tried both ways, because the others are measured from them.
    for tallest in [Off::Plus, Off::Minus] {
        let mut rings = analysis.cut.clone();
        for group in groups {
            let off = if group[0].of_tallest { tallest } else { Off::Plus };
            let mut tried = rings.clone();
            group.iter().for_each(|one| one.put_off(found, &mut tried, off));
            if meets(&tried) {
                rings = tried;
            } else {
                list.extend(group.iter().map(|new_size| Hanging {
                    new_size: *new_size,
                    off,
                    goal,
                }));
            }
        }
    }
    list
}

/// Whether a goal depends on a size of a dog, to this side.
pub(crate) fn hangs(list: &[Hanging], side: Side, place: usize, size: Size, off: Off) -> bool {
    let of = |one: &Hanging| (one.new_size.side, one.new_size.place, one.new_size.size, one.off);
    list.iter().any(|one| of(one) == (side, place, size, off))
}

/// A sentence on the goals that depend on sizes of a ring; `None` if none does.
pub(crate) fn words(analysis: &Analysis, list: &[Hanging], side: Side) -> Option<Message> {
    let here = |goal: Goal| {
        let hangs = list.iter().any(|one| one.new_size.side == side && one.goal == goal);
        hangs.then(|| wanted(&analysis.design, goal))
    };
    match (here(Goal::Window), here(Goal::Lash)) {
        (None, None) => None,
        (Some(window), None) => Some(say::window_hangs(window)),
        (None, Some(lash)) => Some(say::lash_hangs(lash)),
        (Some(window), Some(lash)) => Some(say::both_hang(window, lash)),
    }
}
