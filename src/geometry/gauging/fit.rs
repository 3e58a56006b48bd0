//! The shape on which all gauges read what was read.

use std::f64::consts::TAU;
use std::fmt;

use super::gauges::Gauge;
use super::shape::{Shape, Size};
use super::solve::{Factor, Normal};
pub use super::unknowns::Origin;
use super::unknowns::Unknowns;

/// A residual beyond so many of its standard deviations is marked.
const BEYOND: f64 = 3.0;

/// Residuals that differ by less than so many standard deviations are equally suspect.
const ALIKE: f64 = 1.0;

/// Most steps of Gauss and Newton, and most halvings of one step. Where the angle of a flank changes its sign, another
/// point of it is touched, and steps become short.
const MOST_STEPS: usize = 100;
const MOST_HALVINGS: usize = 40;

/// The sum of squares is at its least where a step lessens it by this share.
const LEAST_GAIN: f64 = 1e-13;

/// A sum of squares that is only rounding.
const ROUNDING: f64 = 1e-14;

/// Half the step of a derivative, radians or mm.
const HALF_STEP: f64 = 1e-6;

/// A reading whose variance the fit takes up to this share says nothing about itself.
const LEAST_REDUNDANCY: f64 = 1e-6;

/// One reading of a gauge.
#[derive(Clone, Copy, Debug)]
pub struct Reading {
    /// What the gauge reads on a shape.
    pub gauge: Gauge,
    /// The dog, from 0.
    pub place: usize,
    /// The number by which the gauge is set.
    pub at: f64,
    /// What was read, mm or degrees.
    pub value: f64,
    /// Its standard uncertainty, in the same unit; above 0.
    pub sigma: f64,
    /// After how much the gauge begins anew, as a table does after 360°; 0 if it does not.
    pub period: f64,
}

impl Reading {
    /// A reading of a gauge that does not begin anew.
    pub fn new(gauge: Gauge, place: usize, at: f64, value: f64, sigma: f64) -> Self {
        Self { gauge, place, at, value, sigma, period: 0.0 }
    }

    /// How much more was read than the gauge reads on a shape.
    pub fn residual(&self, shape: &Shape) -> f64 {
        let off = self.value - (self.gauge)(shape, self.place, self.at);
        if self.period > 0.0 { off - self.period * (off / self.period).round() } else { off }
    }
}

/// Why there is no shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoFit {
    /// The ring has no dogs.
    NoDogs,
    /// A reading is not a finite number, or its uncertainty is not above 0: the place in the list.
    NotANumber(usize),
    /// A pin does not rest, because the gap is half a turn or more.
    OutOfReach,
}

impl fmt::Display for NoFit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoDogs => f.write_str("there are no dogs to measure"),
            Self::NotANumber(at) => write!(f, "reading {at} or its uncertainty is not a number"),
            Self::OutOfReach => f.write_str("no ring comes near these readings"),
        }
    }
}

impl std::error::Error for NoFit {}

/// How the closing error is spread.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Spread {
    /// Over dogs and gaps alike.
    #[default]
    Equally,
    /// Over the gaps.
    IntoGaps,
    /// More into what is less certain.
    ByUncertainty,
    /// Not at all: dogs are laid out from the datum, and what is left over is in the gap before it.
    NotAtAll,
}

/// A size with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Radians or mm.
    pub value: f64,
    /// One standard deviation; 0 for a size that was not measured.
    pub sigma: f64,
}

/// A reading beside the fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Checked {
    /// How much more was read than the fit says, and for a marked one than the fit to the others says.
    pub residual: f64,
    /// Standard deviation of the residual; `None` if no other reading checks this one.
    pub sigma: Option<f64>,
    /// Whether the residual is beyond three standard deviations.
    pub marked: bool,
}

/// A shape that fits readings.
pub struct Fit {
    shape: Shape,
    unknowns: Unknowns,
    free: Vec<f64>,
    factor: Factor,
    /// Each reading, in the order given.
    pub checked: Vec<Checked>,
}

/// Fits a shape to readings, from a start that says what is kept of sizes that were not measured.
///
/// Sizes are found by Gauss and Newton's method with weights `1/σ²`. Sizes that no reading determines
/// follow from others, as [`Fit::origin`] tells. Of the residuals beyond 3σ the gravest is marked and left out, and the
/// rest is judged anew, so that one gross error does not mark its neighbours; where two or more are equally
/// suspect, all are.
///
/// # Errors
/// See [`NoFit`].
pub fn fit(start: &Shape, readings: &[Reading]) -> Result<Fit, NoFit> {
    if start.dogs() == 0 {
        return Err(NoFit::NoDogs);
    }
    let is_bad = |r: &Reading| !(r.value.is_finite() && r.at.is_finite() && r.sigma > 0.0);
    if let Some(at) = readings.iter().position(is_bad) {
        return Err(NoFit::NotANumber(at));
    }
    let start = start.with_values(start.to_values());
    let mut fit = Fit::to(&start, readings)?;
    fit.checked = readings.iter().map(|reading| fit.check(reading)).collect();
    mark(&mut fit, &start, readings);
    Ok(fit)
}

/// Marks gross errors, the gravest first.
fn mark(fit: &mut Fit, start: &Shape, readings: &[Reading]) {
    let mut left: Vec<usize> = (0..readings.len()).collect();
    let mut checked = fit.checked.clone();
    for _ in 0..readings.len() / 2 {
        let share = |one: &Checked| one.sigma.map_or(0.0, |sigma| (one.residual / sigma).abs());
        let gravest = checked.iter().map(share).fold(0.0, f64::max);
        if gravest <= BEYOND {
            return;
        }
        let is_grave = |one: &Checked| share(one) > BEYOND.max(gravest - ALIKE);
        let grave: Vec<usize> = (0..left.len()).filter(|at| is_grave(&checked[*at])).collect();
        for &at in &grave {
            fit.checked[left[at]].marked = true;
        }
        let &[only] = grave.as_slice() else { return };
        let out = left.remove(only);
        let rest: Vec<Reading> = left.iter().map(|at| readings[*at]).collect();
        let Ok(again) = Fit::to(start, &rest) else { return };
        fit.checked[out].residual = readings[out].residual(&again.shape);
        checked = rest.iter().map(|reading| again.check(reading)).collect();
    }
}

impl Fit {
    fn to(start: &Shape, readings: &[Reading]) -> Result<Self, NoFit> {
        let unknowns = determined(start, readings)?;
        let free = unknowns.start();
        let shape = start.with_values(unknowns.values(&free));
        let factor = Normal::of(&[], 0).to_factor();
        let mut fit = Self { shape, unknowns, free, factor, checked: Vec::new() };
        for _ in 0..MOST_STEPS {
            if fit.step(readings) <= LEAST_GAIN {
                break;
            }
        }
        Ok(fit)
    }

    /// Goes one step of Gauss and Newton, shortened until the fit becomes no worse, and returns by which share
    /// of itself the sum of squares became less.
    fn step(&mut self, readings: &[Reading]) -> f64 {
        let (factor, step) = newton_step(&self.unknowns, &self.free, &self.shape, readings);
        self.factor = factor;
        let before = square_sum(&self.shape, readings);
        let mut by = 1.0;
        for _ in 0..MOST_HALVINGS {
            let free = moved(&self.free, &step, by);
            let shape = self.shape.with_values(self.unknowns.values(&free));
            let after = square_sum(&shape, readings);
            if after <= before {
                (self.free, self.shape) = (free, shape);
                return (before - after) / (before + ROUNDING);
            }
            by /= 2.0;
        }
        0.0
    }

    fn check(&self, reading: &Reading) -> Checked {
        let gradient = self.gradient(|shape| -reading.residual(shape));
        let own = reading.sigma * reading.sigma;
        let left = own - self.factor.variance(&gradient);
        let sigma = (left > LEAST_REDUNDANCY * own).then(|| left.sqrt());
        Checked { residual: reading.residual(&self.shape), sigma, marked: false }
    }

    /// Derivatives of a number of the shape by the free sizes.
    fn gradient(&self, of: impl Fn(&Shape) -> f64) -> Vec<f64> {
        let ends = |at: usize, by: f64| {
            let mut free = self.free.clone();
            free[at] += by;
            of(&self.shape.with_values(self.unknowns.values(&free)))
        };
        (0..self.free.len())
            .map(|at| (ends(at, HALF_STEP) - ends(at, -HALF_STEP)) / (2.0 * HALF_STEP))
            .collect()
    }

    /// How many dogs.
    pub const fn dogs(&self) -> usize {
        self.shape.dogs()
    }

    /// Where a size comes from.
    pub fn origin(&self, size: Size, place: usize) -> Origin {
        self.unknowns.origins[self.shape.index(size, place)]
    }

    /// How many radians the sizes together fall short of the circle; `None` if the circle was needed to
    /// find them.
    pub fn closing(&self) -> Option<Fitted> {
        if self.unknowns.uses_closure() {
            return None;
        }
        let variance = self.factor.variance(&self.gradient(round));
        Some(Fitted { value: TAU - round(&self.shape), sigma: variance.sqrt() })
    }

    /// Whether the closing error is beyond three standard deviations.
    pub fn is_closing_marked(&self) -> bool {
        self.closing().is_some_and(|off| off.value.abs() > BEYOND * off.sigma.max(1e-9))
    }

    /// The shape, with its closing error spread.
    pub fn to_shape(&self, spread: Spread) -> Shape {
        let Some(off) = self.closing() else { return self.shape.clone() };
        let dogs = self.shape.dogs();
        let mut values = self.shape.values.clone();
        let gaps = &mut values[..2 * dogs];
        match spread {
            Spread::NotAtAll => {}
            Spread::Equally => {
                let by = off.value / (2 * dogs) as f64;
                gaps.iter_mut().for_each(|own| *own += by);
            }
            Spread::IntoGaps => {
                gaps[..dogs].iter_mut().for_each(|own| *own += off.value / dogs as f64);
            }
            Spread::ByUncertainty if off.sigma > 0.0 => {
                let by = off.value / (off.sigma * off.sigma);
                let step = self.factor.solve(&self.gradient(round));
                values = self.unknowns.values(&moved(&self.free, &step, by));
            }
            Spread::ByUncertainty => {}
        }
        self.shape.with_values(values)
    }

    /// A size, with the closing error spread.
    pub fn size(&self, size: Size, place: usize, spread: Spread) -> Fitted {
        self.fitted(spread, |shape| shape.size(size, place))
    }

    /// Middle of a dog from the datum flank, radians, with the closing error spread.
    pub fn centre(&self, place: usize, spread: Spread) -> Fitted {
        self.fitted(spread, |shape| shape.centre(place))
    }

    fn fitted(&self, spread: Spread, of: impl Fn(&Shape) -> f64) -> Fitted {
        let gradient = self.gradient(&of);
        let mut variance = self.factor.variance(&gradient);
        if let (Spread::ByUncertainty, Some(off)) = (spread, self.closing())
            && off.sigma > 0.0
        {
            let shared = self.factor.covariance(&gradient, &self.gradient(round));
            variance -= (shared / off.sigma) * (shared / off.sigma);
        }
        Fitted { value: of(&self.to_shape(spread)), sigma: variance.max(0.0).sqrt() }
    }
}

/// Dogs and gaps together, radians.
fn round(shape: &Shape) -> f64 {
    shape.values[..2 * shape.dogs()].iter().sum()
}

/// The unknowns that the readings determine.
fn determined(start: &Shape, readings: &[Reading]) -> Result<Unknowns, NoFit> {
    let all = Unknowns::all(start);
    let rows = derivatives(&all, &all.start(), start, readings);
    let mut unknowns = Unknowns::of(start, &rows);
    loop {
        let free = unknowns.start();
        let shape = start.with_values(unknowns.values(&free));
        if square_sum(&shape, readings).is_nan() {
            return Err(NoFit::OutOfReach);
        }
        let own = derivatives(&unknowns, &free, &shape, readings);
        let loose = Normal::of(&own, free.len()).to_factor().loose;
        if loose.is_empty() {
            return Ok(unknowns);
        }
        unknowns.give_up(&loose, &rows);
    }
}

/// For each reading, its derivatives by the free sizes, divided by its uncertainty.
fn derivatives(
    unknowns: &Unknowns,
    free: &[f64],
    shape: &Shape,
    readings: &[Reading],
) -> Vec<Vec<f64>> {
    let mut rows = vec![vec![0.0; free.len()]; readings.len()];
    for at in 0..free.len() {
        let [less, more] = [-HALF_STEP, HALF_STEP].map(|by| {
            let mut free = free.to_vec();
            free[at] += by;
            shape.with_values(unknowns.values(&free))
        });
        for (row, reading) in rows.iter_mut().zip(readings) {
            let by = reading.residual(&less) - reading.residual(&more);
            row[at] = by / (2.0 * HALF_STEP * reading.sigma);
        }
    }
    rows
}

fn square_sum(shape: &Shape, readings: &[Reading]) -> f64 {
    let weighted = |reading: &Reading| reading.residual(shape) / reading.sigma;
    readings.iter().map(weighted).map(|off| off * off).sum()
}

fn newton_step(
    unknowns: &Unknowns,
    free: &[f64],
    shape: &Shape,
    readings: &[Reading],
) -> (Factor, Vec<f64>) {
    let rows = derivatives(unknowns, free, shape, readings);
    let mut right = vec![0.0; free.len()];
    for (row, reading) in rows.iter().zip(readings) {
        let off = reading.residual(shape) / reading.sigma;
        right.iter_mut().zip(row).for_each(|(sum, by)| *sum += by * off);
    }
    let factor = Normal::of(&rows, free.len()).to_factor();
    let step = factor.solve(&right);
    (factor, step)
}

fn moved(free: &[f64], step: &[f64], by: f64) -> Vec<f64> {
    free.iter().zip(step).map(|(value, step)| value + step * by).collect()
}
