//! Which sizes are free, and what the others follow from.

use std::f64::consts::TAU;

use super::gauges::opposite;
use super::shape::{Shape, Size};

/// Where a size comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// From readings.
    Measured,
    /// Assumed like another size: the other flank of the dog, or the opposite gap.
    Alike(Size, usize),
    /// Assumed: the mean of the widths that are measured.
    Mean,
    /// An equal share of what is left of the circle.
    Rest,
    /// As it was before the readings.
    Kept,
}

/// The values of a shape, some of which are free.
pub(super) struct Unknowns {
    start: Vec<f64>,
    dogs: usize,
    pub(super) origins: Vec<Origin>,
    pub(super) free: Vec<usize>,
}

impl Unknowns {
    /// Every value free, to see which of them the readings touch.
    pub(super) fn all(start: &Shape) -> Self {
        let values = start.to_values();
        let origins = vec![Origin::Measured; values.len()];
        Self { free: (0..values.len()).collect(), dogs: start.dogs(), origins, start: values }
    }

    /// Frees what the readings touch. A row has the derivative of a reading by each value.
    pub(super) fn of(start: &Shape, rows: &[Vec<f64>]) -> Self {
        let dogs = start.dogs();
        let values = start.to_values();
        let origin = |at: usize| {
            if rows.iter().any(|row| is_about(row, at, dogs)) {
                return Origin::Measured;
            }
            match at / dogs {
                0 => Origin::Rest,
                1 => Origin::Mean,
                _ => Origin::Kept,
            }
        };
        let origins = (0..values.len()).map(origin).collect();
        let mut unknowns = Self { start: values, dogs, origins, free: Vec::new() };
        unknowns.settle();
        unknowns
    }

    /// Gives up unknowns that no reading determines, by their places among the free ones.
    pub(super) fn give_up(&mut self, loose: &[usize], rows: &[Vec<f64>]) {
        let loose: Vec<usize> = loose.iter().map(|at| self.free[*at]).collect();
        for &at in &loose {
            self.origins[at] = Origin::Kept;
        }
        for at in loose {
            self.origins[at] = self.stand_in(at, rows);
        }
        self.settle();
    }

    fn stand_in(&self, at: usize, rows: &[Vec<f64>]) -> Origin {
        let (size, place) = (at / self.dogs, at % self.dogs);
        let is_free = |at: usize| self.origins[at] == Origin::Measured;
        if size == Size::Gap as usize {
            let other = opposite(self.dogs, place);
            // Two pins tell only the sum of two gaps.
            let of_both = |row: &Vec<f64>| {
                (0..row.len()).all(|i| is_about(row, i, self.dogs) == (i == at || i == other))
            };
            let is_pair = self.dogs.is_multiple_of(2) && rows.iter().any(of_both);
            return if is_pair && is_free(other) {
                Origin::Alike(Size::Gap, other)
            } else {
                Origin::Rest
            };
        }
        if size == Size::Width as usize {
            return Origin::Mean;
        }
        let drive = Size::BackCutDrive as usize * self.dogs + place;
        if size == Size::BackCutCoast as usize && is_free(drive) {
            return Origin::Alike(Size::BackCutDrive, place);
        }
        Origin::Kept
    }

    /// Widths that are not measured are what is left of the circle if all gaps are known.
    fn settle(&mut self) {
        let spacing = 0..2 * self.dogs;
        if !self.origins[spacing].contains(&Origin::Rest) {
            for origin in self.origins.iter_mut().filter(|origin| **origin == Origin::Mean) {
                *origin = Origin::Rest;
            }
        }
        let is_free = |at: &usize| self.origins[*at] == Origin::Measured;
        self.free = (0..self.start.len()).filter(is_free).collect();
    }

    /// Whether what is left of the circle stands in for a size.
    pub(super) fn uses_closure(&self) -> bool {
        self.origins.contains(&Origin::Rest)
    }

    pub(super) fn start(&self) -> Vec<f64> {
        self.free.iter().map(|at| self.start[*at]).collect()
    }

    /// All values, from the free ones.
    pub(super) fn values(&self, free: &[f64]) -> Vec<f64> {
        let mut values = self.start.clone();
        for (&at, &value) in self.free.iter().zip(free) {
            values[at] = value;
        }
        for (at, origin) in self.origins.iter().enumerate() {
            if let Origin::Alike(size, place) = origin {
                values[at] = values[*size as usize * self.dogs + place];
            }
        }
        self.fill_means(&mut values);
        self.fill_rest(&mut values);
        values
    }

    fn fill_means(&self, values: &mut [f64]) {
        let widths = || self.dogs..2 * self.dogs;
        let known: Vec<f64> = widths()
            .filter(|at| self.origins[*at] == Origin::Measured)
            .map(|at| values[at])
            .collect();
        if known.is_empty() {
            return;
        }
        let mean = known.iter().sum::<f64>() / known.len() as f64;
        for at in widths().filter(|at| self.origins[*at] == Origin::Mean) {
            values[at] = mean;
        }
    }

    fn fill_rest(&self, values: &mut [f64]) {
        let spacing = 0..2 * self.dogs;
        let is_rest = |at: &usize| self.origins[*at] == Origin::Rest;
        let (rest, known): (Vec<usize>, Vec<usize>) = spacing.partition(is_rest);
        let left = TAU - known.iter().map(|at| values[*at]).sum::<f64>();
        for at in &rest {
            values[*at] = left / rest.len() as f64;
        }
    }
}

/// The share of its largest derivative, both by mm or radians, from which a reading is about a size. A calliper that
/// rests below the edge break of an undercut flank moves a little with the undercut, by the edge break for each radian,
/// and says nothing of it: a third of a millimetre there is one hundredth of the radius.
const LEAST_SHARE: f64 = 0.05;

/// Whether a reading is about a size, by its derivatives in uncertainties for each radian or mm. Any that moves with
/// a gap, a width or what a gauge itself is set to is about it.
fn is_about(row: &[f64], at: usize, dogs: usize) -> bool {
    let of_flanks = Size::BackCutDrive as usize * dogs..(Size::EdgeBreak as usize + 1) * dogs;
    let most = row.iter().fold(0.0, |most: f64, by| most.max(by.abs()));
    let share = if of_flanks.contains(&at) { LEAST_SHARE } else { 0.0 };
    row[at].abs() > (share * most).max(1e-4)
}
