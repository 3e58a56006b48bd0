//! How far each size that work makes may be off, with all of them off at once, before a goal is missed.

use crenel_words::{Message, suggest as say};

use super::goal::{Goal, reach, wanted};
use super::new_sizes::{NewSize, new_sizes_on_both, worst_rings};
use crate::analysis::Analysis;
use crate::design::Size;
use crate::ring::{PerSide, Ring, Side};
use crate::shop::tolerance::Limits;

/// A step of the shop, in which limits are given, mm.
pub const LIMIT_STEP_MM: f64 = 0.01;

/// A size that work makes, and how far it may be off: `plus` for more metal, `minus` for less, both mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeLimits {
    new_size: NewSize,
    /// Its own tolerance: from the design, or from the design's grade.
    pub own: Limits,
    /// What is left of it, so that every goal that the plan reaches is still met.
    pub limits: Limits,
}

impl SizeLimits {
    /// The ring.
    pub const fn side(&self) -> Side {
        self.new_size.side
    }

    /// The place of the dog.
    pub const fn place(&self) -> usize {
        self.new_size.place
    }

    /// The size.
    pub const fn size(&self) -> Size {
        self.new_size.size
    }

    /// Whether less of its own tolerance is left.
    pub fn is_narrowed(&self) -> bool {
        self.limits != self.own
    }

    /// Puts the size off in rings as cut by so many mm, positive for more metal. No dog gets larger than it was
    /// found.
    pub fn put_off(&self, found: &PerSide<Ring>, rings: &mut PerSide<Ring>, by_mm: f64) {
        self.new_size.put_off_by(found, rings, by_mm);
    }
}

/// The limits of every size that the plans make, with all of them at their limits at once. Sizes that the rings
/// had before are taken as they are, and undercuts as planned.
///
/// More metal is bad; on the tallest dogs less is bad too, because the others are measured from them. First all
/// limits are narrowed alike, then each kind and each size gets back what it can, in steps of
/// [`LIMIT_STEP_MM`]: no limit could be a step wider.
pub fn size_limits(analysis: &Analysis) -> Vec<SizeLimits> {
    let sizes = new_sizes_on_both(&analysis.design, &analysis.found, &analysis.cut);
    let at_own =
        |new_size: NewSize| new_size.own.map(|own| SizeLimits { new_size, own, limits: own });
    let mut list: Vec<_> = sizes.into_iter().filter_map(at_own).collect();
    let job = Job::of(analysis);
    if analysis.pair.is_some() && !job.goals.is_empty() && !job.holds(&list) {
        narrow(analysis, &job, &mut list);
    }
    list
}

/// The goals that a plan reaches, with the numbers wanted.
struct Job<'a> {
    analysis: &'a Analysis,
    goals: Vec<(Goal, f64)>,
}

impl<'a> Job<'a> {
    fn of(analysis: &'a Analysis) -> Self {
        let goals = Goal::ALL.map(|goal| (goal, wanted(&analysis.design, goal)));
        let mut job = Self { analysis, goals: Vec::new() };
        let met = |(goal, wanted): &(Goal, f64)| {
            job.reach(&analysis.cut, *goal).is_some_and(|has| has >= *wanted)
        };
        let goals = goals.into_iter().filter(met).collect();
        job.goals = goals;
        job
    }

    fn reach(&self, rings: &PerSide<Ring>, goal: Goal) -> Option<f64> {
        reach(&self.analysis.design, &self.analysis.found, rings, goal)
    }

    /// Whether every goal is met with all sizes at their bad limits.
    fn holds(&self, list: &[SizeLimits]) -> bool {
        self.goals.iter().all(|(goal, wanted)| self.holds_for(list, *goal, *wanted))
    }

    fn holds_for(&self, list: &[SizeLimits], goal: Goal, wanted: f64) -> bool {
        let met = |rings: PerSide<Ring>| self.reach(&rings, goal).is_some_and(|has| has >= wanted);
        self.worst(list).into_iter().all(met)
    }

    /// The rings with all sizes at their bad limits.
    fn worst(&self, list: &[SizeLimits]) -> Vec<PerSide<Ring>> {
        let sizes: Vec<_> = list.iter().map(|one| (one.new_size, one.limits)).collect();
        worst_rings(&self.analysis.found, &self.analysis.cut, &sizes)
    }

    /// The number of a goal with all sizes at their bad limits, and with all at their good ones.
    fn ends(&self, list: &[SizeLimits], goal: Goal) -> Option<(f64, f64)> {
        let worst = self.worst(list);
        let least = worst.iter().filter_map(|rings| self.reach(rings, goal));
        let mut good = self.analysis.cut.clone();
        for one in list {
            let by = if one.new_size.of_tallest { one.limits.plus } else { -one.limits.minus };
            one.put_off(&self.analysis.found, &mut good, by);
        }
        Some((least.reduce(f64::min)?, self.reach(&good, goal)?))
    }
}

/// One limit of some sizes that are alike: that to more metal, or that to less.
struct Handle {
    sizes: Vec<usize>,
    more: bool,
}

impl Handle {
    /// The steps from 0 to the own tolerance, whose last may be shorter.
    fn most(&self, list: &[SizeLimits]) -> u32 {
        let own = self.sizes.iter().map(|at| self.of(list[*at].own)).fold(0.0, f64::max);
        (0..u32::MAX).find(|steps| f64::from(*steps) * LIMIT_STEP_MM >= own - 1e-9).unwrap_or(0)
    }

    const fn of(&self, limits: Limits) -> f64 {
        if self.more { limits.plus } else { limits.minus }
    }

    /// Puts the limits at so many steps, at most at the own tolerance.
    fn put(&self, list: &mut [SizeLimits], steps: u32) {
        for at in &self.sizes {
            let to = (f64::from(steps) * LIMIT_STEP_MM).min(self.of(list[*at].own));
            let limits = &mut list[*at].limits;
            *(if self.more { &mut limits.plus } else { &mut limits.minus }) = to;
        }
    }

    /// The steps at which the limit is: those of its least size.
    fn steps(&self, list: &[SizeLimits]) -> u32 {
        let at = self.sizes.iter().map(|at| self.of(list[*at].limits)).fold(f64::MAX, f64::min);
        (0..=self.most(list))
            .rev()
            .find(|n| f64::from(*n) * LIMIT_STEP_MM <= at + 1e-9)
            .unwrap_or(0)
    }
}

/// The largest number from 0 to `most` that holds, of which 0 does.
fn largest(most: u32, mut holds: impl FnMut(u32) -> bool) -> u32 {
    let (mut held, mut missed) = (0, most + 1);
    while missed - held > 1 {
        let middle = u32::midpoint(held, missed);
        if holds(middle) { held = middle } else { missed = middle }
    }
    held
}

/// Parts of the own tolerances that are tried for all sizes alike.
const PARTS: u32 = 20;

fn narrow(analysis: &Analysis, job: &Job<'_>, list: &mut [SizeLimits]) {
    let groups = handles(list, &groups(analysis, list));
    let most: Vec<_> = groups.iter().map(|handle| handle.most(list)).collect();
    let alike = |list: &mut [SizeLimits], part: u32| {
        for (handle, most) in groups.iter().zip(&most) {
            handle.put(list, most * part / PARTS);
        }
    };
    let part = largest(PARTS - 1, |part| {
        alike(list, part);
        job.holds(list)
    });
    alike(list, part);
    let singles = handles(list, &(0..list.len()).map(|at| vec![at]).collect::<Vec<_>>());
    for handle in groups.iter().chain(&singles) {
        let from = handle.steps(list);
        let left = handle.most(list) - from;
        let more = largest(left, |more| {
            handle.put(list, from + more);
            job.holds(list)
        });
        handle.put(list, from + more);
    }
}

/// The limits of groups of sizes that a goal can hang on.
fn handles(list: &[SizeLimits], groups: &[Vec<usize>]) -> Vec<Handle> {
    let of = |group: &Vec<usize>| {
        let ways = if list[group[0]].new_size.of_tallest { &[true, false][..] } else { &[true] };
        let handle = |more: &bool| Handle { sizes: group.clone(), more: *more };
        ways.iter().map(handle).collect::<Vec<_>>()
    };
    groups.iter().flat_map(of).collect()
}

/// Groups of equal sizes on a ring.
fn groups(analysis: &Analysis, list: &[SizeLimits]) -> Vec<Vec<usize>> {
    let height = |one: &NewSize| {
        let dog = analysis.ring(one.side).at_place(one.place);
        dog.filter(|_| one.size == Size::Height).map(|dog| dog.height_mm)
    };
    let kind = |at: usize| {
        let one = &list[at].new_size;
        (one.side, one.size, one.of_tallest, height(one))
    };
    let all: Vec<_> = (0..list.len()).collect();
    all.chunk_by(|a, b| kind(*a) == kind(*b)).map(<[_]>::to_vec).collect()
}

/// A sentence on the goals for which limits on a ring are narrowed, with the figures at both ends; `None` if no
/// limit is.
pub(crate) fn limits_words(
    analysis: &Analysis,
    list: &[SizeLimits],
    side: Side,
) -> Option<Message> {
    if !list.iter().any(|one| one.side() == side && one.is_narrowed()) {
        return None;
    }
    let job = Job::of(analysis);
    let own: Vec<_> = list.iter().map(|one| SizeLimits { limits: one.own, ..*one }).collect();
    let hangs = |goal: Goal| {
        let (_, wanted) = *job.goals.iter().find(|(of, _)| *of == goal)?;
        let (least, greatest) = job.ends(list, goal)?;
        (!job.holds_for(&own, goal, wanted)).then_some((wanted, least, greatest))
    };
    match (hangs(Goal::Window), hangs(Goal::Lash)) {
        (None, None) => None,
        (Some((wanted, least, most)), None) => Some(say::window_hangs(wanted, least, most)),
        (None, Some((wanted, least, most))) => Some(say::lash_hangs(wanted, least, most)),
        (Some(window), Some(lash)) => {
            Some(say::both_hang(window.0, window.1, window.2, lash.0, lash.1, lash.2))
        }
    }
}
