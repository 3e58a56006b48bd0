//! The cells of a row in the order in which a ring passes them.

use std::f64::consts::TAU;

use crate::shift::attempt::wrapped;
use crate::shift::outcome::Outcome;

/// A row from the first cell past the begin of the first land on, all round.
pub(super) struct Row {
    pub(super) cells: Vec<Option<Outcome>>,
    /// How far the first of them lies from that begin, rad, and how far apart they are.
    first: f64,
    step: f64,
    /// Place among them of the cell with the smallest phase.
    smallest: usize,
}

impl Row {
    /// `origin` is where the first land begins, as an angle in the direction of slip.
    pub(super) fn new(phases: usize, direction: f64, origin: f64) -> Self {
        let step = TAU / float(phases);
        let past = wrapped(direction * step / 2.0 - origin);
        let smallest = whole(past / step).min(phases);
        let first = past - float(smallest) * step;
        Self { cells: vec![None; phases], first, step, smallest }
    }

    /// How far a cell lies from the begin of the first land, rad.
    pub(super) fn place(&self, cell: usize) -> f64 {
        self.first + float(cell) * self.step
    }

    /// The first cell at a place or past it.
    pub(super) fn cell_at(&self, place: f64) -> usize {
        whole(((place - self.first) / self.step).ceil()).min(self.cells.len())
    }

    /// The cells in order of the phase. Where that falls with the slip they were passed backwards.
    pub(super) fn by_phase(mut self, direction: f64) -> Vec<Option<Outcome>> {
        self.cells.rotate_left(self.smallest);
        if direction < 0.0 && !self.cells.is_empty() {
            self.cells[1..].reverse();
        }
        self.cells
    }
}

#[expect(clippy::cast_precision_loss, reason = "grids are far smaller than a float can count")]
const fn float(cells: usize) -> f64 {
    cells as f64
}

/// A number without its fraction; 0 if it is negative.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cast clamps")]
const fn whole(number: f64) -> usize {
    number as usize
}
