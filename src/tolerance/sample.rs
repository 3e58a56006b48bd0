//! Parts made at random within their limits, sizes put off one at a time, and how far each may be off.

use super::spread::{Size, Spread, put_all_off, put_off};
use crate::analysis::Analysis;
use crate::ring::{PerSide, Ring, Side};
use crate::shop::tolerance::Limits;
use crate::suggest::{Goal, reach_both_with, reach_with, wanted};
use crate::units::{Seeded, quantile, sort_by_number};

/// What 5, 50 and 95 % of the parts are at or below, and how many of all parts do not go in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shares {
    /// 5 % are at or below this.
    pub p05: f64,
    /// Half are at or below this.
    pub p50: f64,
    /// 95 % are at or below this.
    pub p95: f64,
    /// The mean.
    pub mean: f64,
    /// The share of the parts whose rings do not go in; they are not among the others.
    pub not_in: f64,
}

/// A size, and a number with that size at each of its limits, all else nominal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driver {
    /// The ring.
    pub side: Side,
    /// The place of the dog.
    pub place: usize,
    /// The size.
    pub size: Size,
    /// The number with the size at its lower limit.
    pub at_minus: f64,
    /// The number with the size at its upper limit.
    pub at_plus: f64,
}

impl Driver {
    /// The change of the number from the lower limit to the upper one.
    pub fn by(&self) -> f64 {
        self.at_plus - self.at_minus
    }
}

/// How far a size may be off before a goal is missed, all else nominal, in the unit of the size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// The ring.
    pub side: Side,
    /// The place of the dog.
    pub place: usize,
    /// The size.
    pub size: Size,
    /// Below the nominal size; `None` if the goal is not missed within [`FARTHEST`].
    pub minus: Option<f64>,
    /// Above it; `None` likewise.
    pub plus: Option<f64>,
}

/// How far sizes are put off in the search for a margin, degrees or mm.
pub const FARTHEST: f64 = 3.0;

/// Pairs of rings drawn one after another, with every size uniform within its limits.
#[derive(Debug)]
pub struct Sampling<'a> {
    analysis: &'a Analysis,
    spread: Spread,
    random: Seeded,
    drawn: usize,
    /// The numbers of each goal so far, for the rings that go in.
    numbers: [Vec<f64>; 2],
}

impl<'a> Sampling<'a> {
    /// Before the first draw. The same seed draws the same rings everywhere.
    pub fn new(analysis: &'a Analysis, spread: Spread, seed: u64) -> Self {
        let random = Seeded::new(seed);
        Self { analysis, spread, random, drawn: 0, numbers: [Vec::new(), Vec::new()] }
    }

    /// How many pairs of rings are drawn.
    pub const fn drawn(&self) -> usize {
        self.drawn
    }

    /// Draws so many pairs of rings more.
    pub fn draw(&mut self, draws: usize) {
        for _ in 0..draws {
            let random = &mut self.random;
            let anywhere = |limits: Limits| -limits.minus + random.share() * limits.width();
            let rings = put_all_off(&self.analysis.cut, &self.spread, anywhere);
            let reached = reach_both_with(self.analysis, &rings);
            for (numbers, number) in self.numbers.iter_mut().zip(reached) {
                numbers.extend(number);
            }
        }
        self.drawn += draws;
    }

    /// The shares of the number that a goal is about. `None` if none of the rings goes in.
    pub fn shares(&self, goal: Goal) -> Option<Shares> {
        let mut numbers = self.numbers[goal as usize].clone();
        sort_by_number(&mut numbers, |number| *number);
        let in_all = share_of(numbers.len(), 1);
        Some(Shares {
            p05: quantile(&numbers, 0.05)?,
            p50: quantile(&numbers, 0.5)?,
            p95: quantile(&numbers, 0.95)?,
            mean: numbers.iter().sum::<f64>() / in_all,
            not_in: 1.0 - share_of(numbers.len(), self.drawn),
        })
    }
}

/// The number that a goal is about, of `draws` pairs of rings with every size uniform within its limits. `None`
/// if none of them goes in.
pub fn shares(
    analysis: &Analysis,
    spread: &Spread,
    goal: Goal,
    draws: usize,
    seed: u64,
) -> Option<Shares> {
    let mut sampling = Sampling::new(analysis, spread.clone(), seed);
    sampling.draw(draws);
    sampling.shares(goal)
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn share_of(count: usize, all: usize) -> f64 {
    count as f64 / all as f64
}

/// Rings with one size off.
fn with(rings: &PerSide<Ring>, side: Side, dog: usize, size: Size, by: f64) -> PerSide<Ring> {
    let mut rings = rings.clone();
    put_off(&mut rings[side].dogs[dog], size, by);
    rings
}

/// The sizes that move the number of a goal, the one that moves it most first.
pub fn drivers(analysis: &Analysis, spread: &Spread, goal: Goal) -> Vec<Driver> {
    let mut driving = Driving::default();
    while driving.step(analysis, spread) {}
    driving.sorted(goal)
}

/// The sizes that move the numbers of both goals, found size by size.
#[derive(Debug, Default)]
pub(super) struct Driving {
    /// How many sizes are tried.
    tried: usize,
    found: [Vec<Driver>; 2],
}

impl Driving {
    /// Tries the next size, and returns whether there was one.
    pub(super) fn step(&mut self, analysis: &Analysis, spread: &Spread) -> bool {
        let Some((side, dog, size, limits)) = spread.sizes().nth(self.tried) else { return false };
        self.tried += 1;
        let place = analysis.cut[side].dogs[dog].place;
        let at = |by: f64| reach_both_with(analysis, &with(&analysis.cut, side, dog, size, by));
        let ends = at(-limits.minus).into_iter().zip(at(limits.plus));
        for (found, ends) in self.found.iter_mut().zip(ends) {
            if let (Some(at_minus), Some(at_plus)) = ends {
                let driver = Driver { side, place, size, at_minus, at_plus };
                found.extend((driver.by().abs() > LEAST_MOVE).then_some(driver));
            }
        }
        true
    }

    /// Those found so far, the one that moves the number of a goal most first.
    pub(super) fn sorted(&self, goal: Goal) -> Vec<Driver> {
        let mut list = self.found[goal as usize].clone();
        sort_by_number(&mut list, |driver| -driver.by().abs());
        list
    }
}

/// A size that moves a number by less moves it by rounding only.
const LEAST_MOVE: f64 = 1e-9;

/// How far each size of both rings may be off, each way, before a goal that is met is missed. Empty if it is
/// not met, or if the rings do not go in.
pub fn margins(analysis: &Analysis, goal: Goal) -> Vec<Margin> {
    let wanted = wanted(&analysis.design, goal);
    let meets =
        |rings: &PerSide<Ring>| reach_with(analysis, rings, goal).is_some_and(|has| has >= wanted);
    if analysis.pair.is_none() || !meets(&analysis.cut) {
        return Vec::new();
    }
    let dogs = Side::BOTH.into_iter().flat_map(|side| {
        let dogs = analysis.cut[side].dogs.iter().enumerate();
        dogs.flat_map(move |(dog, of)| Size::ALL.map(|size| (side, dog, of.place, size)))
    });
    let margin = |(side, dog, place, size)| {
        let missed = |by: f64| !meets(&with(&analysis.cut, side, dog, size, by));
        Margin { side, place, size, minus: first_miss(|by| missed(-by)), plus: first_miss(missed) }
    };
    dogs.map(margin).collect()
}

/// Steps in which a first miss is looked for, and halvings that find its place.
const STEPS: u32 = 24;
const HALVINGS: u32 = 30;

/// The largest size before the first miss; `None` if there is none up to [`FARTHEST`].
fn first_miss(missed: impl Fn(f64) -> bool) -> Option<f64> {
    let step = |nth: u32| FARTHEST * f64::from(nth) / f64::from(STEPS);
    let nth = (1..=STEPS).find(|nth| missed(step(*nth)))?;
    let (mut met, mut miss) = (step(nth - 1), step(nth));
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(met, miss);
        if missed(middle) { miss = middle } else { met = middle }
    }
    Some(met)
}
