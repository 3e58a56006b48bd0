//! The range of every figure that follows from a window or from the lash alone.

use super::narrowing::Narrowing;
use super::sample::{Driver, Driving, Sampling};
use super::spread::Spread;
use super::{Range, outer_case};
use crate::analysis::Analysis;
use crate::design::SettingField;
use crate::figures::{self, Figure};
use crate::suggest::{Goal, reach_with};

/// Draws of a sampling, and its seed: the same design has the same range everywhere.
pub const DRAWS: usize = 2000;
const SEED: u64 = 1;

/// How many drivers a range names.
const MOST_DRIVERS: usize = 3;

/// The range of a figure over the tolerances of a design, in the unit of the figure.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureRange {
    /// Which figure.
    pub figure: &'static Figure,
    /// Its value with every size nominal.
    pub nominal: f64,
    /// Its worst case.
    pub worst: Range,
    /// What 5, 50 and 95 % of the parts are at or below.
    pub shares: [f64; 3],
    /// The share of the parts whose rings do not go in; they are not among the others.
    pub not_in: f64,
    /// The sizes that move it most, the one that moves it most first.
    pub drivers: Vec<Driver>,
}

/// A figure that follows from the number of a goal, ms or degrees, all else nominal; it never falls as that
/// number grows.
struct Follows {
    figure: &'static Figure,
    goal: Goal,
    value: fn(&Analysis, f64) -> Option<f64>,
}

/// Every figure that has a range. One more is a row.
static FOLLOWING: [Follows; 7] = [
    Follows { figure: &figures::WINDOW_TIME, goal: Goal::Window, value: |_, ms| Some(ms) },
    Follows {
        figure: &figures::STRAIGHT_IN_LIMIT,
        goal: Goal::Window,
        value: |analysis, ms| {
            let pair = analysis.pair.as_ref()?;
            Some(pair.shift_case.slip_rpm.abs() * ms / (pair.travel_s * 1000.0))
        },
    },
    Follows { figure: &figures::LASH, goal: Goal::Lash, value: |_, deg| Some(deg) },
    Follows {
        figure: &figures::LASH_AT_MEAN_RADIUS,
        goal: Goal::Lash,
        value: |analysis, deg| {
            Some(deg.to_radians() * analysis.pair.as_ref()?.mesh.contact.mean_mm())
        },
    },
    Follows { figure: &figures::LASH_AT_WHEEL, goal: Goal::Lash, value: at_wheel },
    Follows {
        figure: &figures::LASH_AT_TYRE,
        goal: Goal::Lash,
        value: |analysis, deg| {
            let tyre = analysis.design.setting.get(SettingField::WheelDiameter) / 2.0;
            Some(at_wheel(analysis, deg)?.to_radians() * tyre)
        },
    },
    Follows {
        figure: &figures::CLUNK,
        goal: Goal::Lash,
        value: |analysis, deg| {
            let case = &analysis.pair.as_ref()?.shift_case;
            let clunk = case.clunk(&analysis.design, case.throttle_nm);
            Some(clunk.peak_nm(0.0, deg.to_radians()))
        },
    },
];

/// Every figure that can have a range.
pub fn figures_with_range() -> impl Iterator<Item = &'static Figure> {
    FOLLOWING.iter().map(|follows| follows.figure)
}

/// The ranges of a design, worked out in slices, so that newer work can come in between.
///
/// ```
/// use crenel::{analysis::Analysis, design::example, tolerance::Ranging};
/// let analysis = Analysis::of(&example());
/// let mut ranging = Ranging::of(&analysis);
/// while ranging.step() {
///     // Look here whether it is still wanted.
/// }
/// assert!(ranging.to_ranges().iter().any(|range| range.figure.key == "lash_deg"));
/// ```
pub struct Ranging<'a> {
    analysis: &'a Analysis,
    spread: Spread,
    sampling: Sampling<'a>,
    driving: Driving,
    /// Draws before the first ranges, and in a step.
    first: usize,
    at_once: usize,
    /// The worst cases: outer bounds of them until they are narrowed.
    worst: [Option<Range>; 2],
    /// How many goals are, and the worst case that is being worked out.
    narrowed: usize,
    narrowing: Option<Narrowing<'a>>,
}

/// Draws before the first ranges, and in a step, of rings that have few dogs.
const FIRST: usize = 100;
const AT_ONCE: usize = 10;

/// A draw takes the longer the more pairs of dogs there are; with so many it takes long enough to do fewer.
const FEW_PAIRS: usize = 64;

impl<'a> Ranging<'a> {
    /// The ranges over the tolerances of the design.
    pub fn of(analysis: &'a Analysis) -> Self {
        let spread = Spread::of(analysis);
        let sampling = Sampling::new(analysis, spread.clone(), SEED);
        let worst = Goal::ALL.map(|goal| outer_case(analysis, &spread, goal));
        let pairs = analysis.pair.as_ref().map_or(0, |pair| pair.mesh.blocks.len());
        let fewer = |draws: usize| (draws * FEW_PAIRS / pairs.max(FEW_PAIRS)).max(1);
        let (first, at_once) = (fewer(FIRST).max(4), fewer(AT_ONCE));
        Self {
            analysis,
            spread,
            sampling,
            driving: Driving::default(),
            first,
            at_once,
            worst,
            narrowed: 0,
            narrowing: None,
        }
    }

    /// Draws a few pairs of rings more or, once all [`DRAWS`] are done, looks whether one more size drives a
    /// figure. Returns whether anything was left to do.
    pub fn step(&mut self) -> bool {
        if self.analysis.pair.is_none() {
            return false;
        }
        let left = DRAWS - self.sampling.drawn();
        self.sampling.draw(self.at_once.min(left));
        left > 0 || self.driving.step(self.analysis, &self.spread) || self.narrow()
    }

    /// Goes on with the worst cases themselves, and returns whether anything was left to do.
    fn narrow(&mut self) -> bool {
        let Some(goal) = Goal::ALL.get(self.narrowed) else { return false };
        if self.narrowing.is_none() {
            self.narrowing = Narrowing::of(self.analysis, &self.spread, *goal);
        }
        if !self.narrowing.as_mut().is_some_and(Narrowing::step) {
            self.worst[*goal as usize] =
                self.narrowing.take().and_then(|narrowing| narrowing.to_range());
            self.narrowed += 1;
        }
        true
    }

    /// Whether a step has just drawn enough for the first ranges.
    pub const fn is_first(&self) -> bool {
        let drawn = self.sampling.drawn();
        drawn >= self.first && drawn < self.first + self.at_once
    }

    /// The ranges by what is drawn so far, with outer bounds of the worst case, and the drivers found so far, in the order of the report. Empty where the
    /// rings do not go in, or before the first draw.
    pub fn to_ranges(&self) -> Vec<FigureRange> {
        let goals = [Goal::Window, Goal::Lash];
        goals.into_iter().flat_map(|goal| self.of_goal(goal).unwrap_or_default()).collect()
    }

    fn of_goal(&self, goal: Goal) -> Option<Vec<FigureRange>> {
        let analysis = self.analysis;
        let nominal = reach_with(analysis, &analysis.cut, goal)?;
        let worst = self.worst[goal as usize]?;
        let shares = self.sampling.shares(goal)?;
        let mut drivers = self.driving.sorted(goal);
        drivers.truncate(MOST_DRIVERS);
        let own =
            FOLLOWING.iter().filter(|follows| follows.figure.missing(&analysis.design).is_none());
        let range = |follows: &Follows| {
            let of = |number: f64| (follows.value)(analysis, number);
            let driver = |one: &Driver| {
                Some(Driver { at_minus: of(one.at_minus)?, at_plus: of(one.at_plus)?, ..*one })
            };
            Some(FigureRange {
                figure: follows.figure,
                nominal: of(nominal)?,
                worst: Range { least: of(worst.least)?, greatest: of(worst.greatest)? },
                shares: [of(shares.p05)?, of(shares.p50)?, of(shares.p95)?],
                not_in: shares.not_in,
                drivers: drivers.iter().filter_map(driver).collect(),
            })
        };
        Some(own.filter(|follows| follows.goal == goal).filter_map(range).collect())
    }
}

/// The lash at the rear wheel, degrees.
fn at_wheel(analysis: &Analysis, deg: f64) -> Option<f64> {
    Some(deg / analysis.pair.as_ref()?.shift_case.ratio_to_wheel)
}

/// The range of every figure that follows from a window or from the lash alone, all draws done.
pub fn ranges(analysis: &Analysis) -> Vec<FigureRange> {
    let mut ranging = Ranging::of(analysis);
    while ranging.step() {}
    ranging.to_ranges()
}
