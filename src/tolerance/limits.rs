//! How far each size that work makes, and each place of a measured dog, may be off with all of them off at once,
//! before a goal is missed.

use crenel_words::{Message, suggest as say};

use super::bounds::{Level, Range, Windows};
use super::spread::{DogSpread, Size as Spreads, Spread};
use crate::analysis::Analysis;
use crate::design::{Layout, SettingField, Size};
use crate::pair::Arc;
use crate::ring::{Dog, PerSide, Ring, Side};
use crate::shop::tolerance::Limits;
use crate::suggest::{Goal, NewSize, new_sizes_on_both, opened, reach, wanted, worst_rings};
use crate::units::Angle;

/// A step of the shop, in which limits of sizes are given, mm.
const STEP_MM: f64 = 0.01;

/// A step in which limits of places are given, degrees: what a rotary table reads.
const STEP_DEG: f64 = 0.001;

/// A size that work makes, or the place of a dog as measured, and how far it may be off. Sizes are in mm, `plus` for
/// more metal and `minus` for less; places are in degrees, `plus` counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeLimits {
    what: What,
    /// Its own tolerance: from the design, or from the design's grade. For a place its uncertainty.
    pub own: Limits,
    /// What is left of it, so that every goal that the plan reaches is still met.
    pub limits: Limits,
}

/// What may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
enum What {
    Made(NewSize),
    Place(Side, usize),
}

impl SizeLimits {
    /// The ring.
    pub const fn side(&self) -> Side {
        match self.what {
            What::Made(size) => size.side,
            What::Place(side, _) => side,
        }
    }

    /// The place of the dog.
    pub const fn place(&self) -> usize {
        match self.what {
            What::Made(size) => size.place,
            What::Place(_, place) => place,
        }
    }

    /// The size that work makes; `None` for the place of a dog as measured.
    pub const fn size(&self) -> Option<Size> {
        match self.what {
            What::Made(size) => Some(size.size),
            What::Place(..) => None,
        }
    }

    /// The step in which its limits are given, in their unit.
    pub const fn step(&self) -> f64 {
        match self.what {
            What::Made(_) => STEP_MM,
            What::Place(..) => STEP_DEG,
        }
    }

    /// Whether less of its own tolerance is left.
    pub fn is_narrowed(&self) -> bool {
        self.limits != self.own
    }

    /// Puts it off in rings as cut by so much in its unit. No dog gets larger than it was found.
    pub fn put_off(&self, found: &PerSide<Ring>, rings: &mut PerSide<Ring>, by: f64) {
        match self.what {
            What::Made(size) => size.put_off_by(found, rings, by),
            What::Place(side, place) => {
                let dog = rings[side].dogs.iter_mut().find(|dog| dog.place == place);
                dog.into_iter().for_each(|dog| dog.centre = dog.centre + Angle::from_degrees(by));
            }
        }
    }

    const fn is_place(&self) -> bool {
        matches!(self.what, What::Place(..))
    }

    /// Whether less metal can be as bad as more: the tallest dogs are what the others are measured from.
    const fn is_bad_both_ways(&self) -> bool {
        match self.what {
            What::Made(size) => size.of_tallest,
            What::Place(..) => true,
        }
    }
}

/// The limits of every size that the plans make and of the place of every dog as measured, with all of them at their
/// limits at once; empty without a plan. Other sizes that the rings had before are taken as they are, and undercuts as
/// planned.
///
/// More metal is bad; on the tallest dogs less is bad too, because the others are measured from them. Where places
/// alone are too uncertain, only they are narrowed. Otherwise all limits are first narrowed alike, then each kind and
/// each size gets back what it can, in its steps: no limit could be a step wider. For the window time that is so for
/// the window that stays widest.
pub fn size_limits(analysis: &Analysis) -> Vec<SizeLimits> {
    let sizes = new_sizes_on_both(&analysis.design, &analysis.found, &analysis.cut);
    let at_own =
        |size: NewSize| size.own.map(|own| SizeLimits { what: What::Made(size), own, limits: own });
    let mut list: Vec<_> = sizes.into_iter().filter_map(at_own).collect();
    if !list.is_empty() {
        list.extend(places(analysis));
    }
    let job = Job::of(analysis);
    if analysis.pair.is_none() || job.goals.is_empty() || job.holds(&list) {
        return list;
    }
    let made = list.iter().filter(|one| !one.is_place()).count();
    let from = if job.holds(&list[..made]) { made } else { 0 };
    narrow(analysis, &job, &mut list, from);
    list
}

/// The places of the dogs of measured rings, with their uncertainties.
fn places(analysis: &Analysis) -> Vec<SizeLimits> {
    let spread = Spread::of(analysis);
    let of = |side: Side| {
        let is_measured = matches!(analysis.design.ring(side).layout, Layout::Measured(_));
        let dogs = analysis.ring(side).dogs.iter().zip(&spread.dogs[side]);
        let place = move |(dog, spread): (&Dog, &DogSpread)| {
            let own = spread.of(Spreads::Position);
            SizeLimits { what: What::Place(side, dog.place), own, limits: own }
        };
        dogs.filter(move |_| is_measured).map(place).collect::<Vec<_>>()
    };
    Side::BOTH.into_iter().flat_map(of).collect()
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
        let places = self.places(list);
        let met = |rings: PerSide<Ring>| match &places {
            Some(places) => self.range(&rings, places, goal, false).map(|range| range.least),
            None => self.reach(&rings, goal),
        };
        self.worst(list).into_iter().all(|rings| met(rings).is_some_and(|has| has >= wanted))
    }

    /// The rings with all sizes at their bad limits, and all dogs in their places.
    fn worst(&self, list: &[SizeLimits]) -> Vec<PerSide<Ring>> {
        let made = list.iter().filter_map(|one| match one.what {
            What::Made(size) => Some((size, one.limits)),
            What::Place(..) => None,
        });
        let made: Vec<_> = made.collect();
        worst_rings(&self.analysis.found, &self.analysis.cut, &made)
    }

    /// How far dogs may be off their places; `None` if none may.
    fn places(&self, list: &[SizeLimits]) -> Option<Spread> {
        let mut spread = Spread::alike(&self.analysis.cut, DogSpread::default());
        for one in list.iter().filter(|one| one.is_place()) {
            let dogs = &self.analysis.ring(one.side()).dogs;
            let at = dogs.iter().position(|dog| dog.place == one.place())?;
            spread.dogs[one.side()][at].position_deg = one.limits;
        }
        let is_any = spread.sizes().next().is_some();
        is_any.then_some(spread)
    }

    /// The range of the number of a goal with dogs off their places; its greatest only where it is asked for, for it
    /// takes longer.
    fn range(
        &self,
        rings: &PerSide<Ring>,
        places: &Spread,
        goal: Goal,
        with_greatest: bool,
    ) -> Option<Range> {
        let (design, found) = (&self.analysis.design, &self.analysis.found);
        let opened = opened(design, found, rings, goal)?;
        let level = match goal {
            Goal::Lash => Level::Depth(opened.depth_mm),
            Goal::Window => Level::Hold(design.setting.get(SettingField::HoldDepth)),
        };
        let windows = Windows::new(rings, &opened.mesh, places, level);
        let most = |of: &dyn Fn(&Arc) -> f64| {
            opened.windows.iter().map(of).reduce(f64::max).map(|width| width * opened.by_radian)
        };
        let least = most(&|window| windows.least(window))?;
        let greatest = if with_greatest { most(&|one| windows.greatest(one))? } else { least };
        Some(Range { least, greatest })
    }

    /// The number of a goal with all sizes at their bad limits, and with all at their good ones.
    fn ends(&self, list: &[SizeLimits], goal: Goal) -> Option<(f64, f64)> {
        let mut good = self.analysis.cut.clone();
        for one in list.iter().filter(|one| !one.is_place()) {
            let by = if one.is_bad_both_ways() { one.limits.plus } else { -one.limits.minus };
            one.put_off(&self.analysis.found, &mut good, by);
        }
        let places = self.places(list).unwrap_or_default();
        let worst = self.worst(list);
        let least = worst.iter().filter_map(|rings| self.range(rings, &places, goal, false));
        let least = least.map(|range| range.least).reduce(f64::min)?;
        Some((least, self.range(&good, &places, goal, true)?.greatest))
    }
}

/// One limit of some sizes that are alike: that to more metal, or that to less.
struct Handle {
    sizes: Vec<usize>,
    more: bool,
}

impl Handle {
    /// The step of its limits, in their unit.
    fn step(&self, list: &[SizeLimits]) -> f64 {
        list[self.sizes[0]].step()
    }

    /// The steps from 0 to the own tolerance, whose last may be shorter.
    fn most(&self, list: &[SizeLimits]) -> u32 {
        let own = self.sizes.iter().map(|at| self.of(list[*at].own)).fold(0.0, f64::max);
        let step = self.step(list);
        (0..u32::MAX).find(|steps| f64::from(*steps) * step >= own - 1e-9).unwrap_or(0)
    }

    const fn of(&self, limits: Limits) -> f64 {
        if self.more { limits.plus } else { limits.minus }
    }

    /// Puts the limits at so many steps, at most at the own tolerance.
    fn put(&self, list: &mut [SizeLimits], steps: u32) {
        let step = self.step(list);
        for at in &self.sizes {
            let to = (f64::from(steps) * step).min(self.of(list[*at].own));
            let limits = &mut list[*at].limits;
            *(if self.more { &mut limits.plus } else { &mut limits.minus }) = to;
        }
    }

    /// The steps at which the limit is: those of its least size.
    fn steps(&self, list: &[SizeLimits]) -> u32 {
        let at = self.sizes.iter().map(|at| self.of(list[*at].limits)).fold(f64::MAX, f64::min);
        let step = self.step(list);
        (0..=self.most(list)).rev().find(|n| f64::from(*n) * step <= at + 1e-9).unwrap_or(0)
    }
}

/// The largest number from 0 to `most` that holds, of which 0 does. More often than not that is `most`.
fn largest(most: u32, mut holds: impl FnMut(u32) -> bool) -> u32 {
    if holds(most) {
        return most;
    }
    let (mut held, mut missed) = (0, most);
    while missed - held > 1 {
        let middle = u32::midpoint(held, missed);
        if holds(middle) { held = middle } else { missed = middle }
    }
    held
}

/// Parts of the own tolerances that are tried for all sizes alike.
const PARTS: u32 = 20;

/// Narrows the limits from one place of the list on.
fn narrow(analysis: &Analysis, job: &Job<'_>, list: &mut [SizeLimits], from: usize) {
    let groups = handles(list, &groups(analysis, list, from));
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
    let singles = handles(list, &(from..list.len()).map(|at| vec![at]).collect::<Vec<_>>());
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
        let ways = if list[group[0]].is_bad_both_ways() { &[true, false][..] } else { &[true] };
        let handle = |more: &bool| Handle { sizes: group.clone(), more: *more };
        ways.iter().map(handle).collect::<Vec<_>>()
    };
    groups.iter().flat_map(of).collect()
}

/// Groups of equal sizes on a ring, and of the places on a ring, from one place of the list on.
fn groups(analysis: &Analysis, list: &[SizeLimits], from: usize) -> Vec<Vec<usize>> {
    let height = |one: &SizeLimits| {
        let dog = analysis.ring(one.side()).at_place(one.place());
        dog.filter(|_| one.size() == Some(Size::Height)).map(|dog| dog.height_mm)
    };
    let kind = |at: usize| {
        let one = &list[at];
        (one.side(), one.size(), one.is_bad_both_ways(), height(one))
    };
    let all: Vec<_> = (from..list.len()).collect();
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
