//! A row of the outcome map: how a shift ends from every phase at one slip.

use std::f64::consts::TAU;

use super::attempt::{FirstPass, Shifter};
use super::outcome::Outcome;
use crate::pair::wrapped;

/// How the shifts of a row end, run by run once round the circle.
pub(super) struct Ends {
    /// Where the first run begins, as an angle in the direction of slip.
    pub(super) origin: f64,
    pub(super) runs: Vec<PhaseRun>,
}

/// Neighbouring phases whose shifts end alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PhaseRun {
    /// How far from the origin the run ends, rad.
    pub(super) to: f64,
    /// How the shifts end; `None` if they have to be worked out one by one.
    pub(super) outcome: Option<Outcome>,
}

impl FirstPass {
    /// How the shift ends, if the first pass settles that.
    const fn settles(self) -> Option<Outcome> {
        match self {
            Self::StraightIn => Some(Outcome::StraightIn),
            Self::AfterRubbing => Some(Outcome::AfterRubbing),
            Self::HalfIn => Some(Outcome::HalfIn),
            Self::Locked => Some(Outcome::Locked),
            Self::Ratcheting => Some(Outcome::Ratcheting),
            Self::Struck => None,
        }
    }
}

impl Ends {
    /// The ends of a row, with no outcome for phases that the first pass does not settle.
    pub(super) fn of_first_passes(shifter: &Shifter, slip: f64) -> Self {
        let spans = shifter.first_passes(slip);
        let origin = spans.first().map_or(0.0, |span| span.begin);
        let runs = spans.iter().map(|span| {
            let to = span.begin + span.width - origin;
            PhaseRun { to, outcome: span.what.settles() }
        });
        Self { origin, runs: runs.collect() }
    }

    /// The cells of a row at equal steps all round, each for the phase in its middle, and the shares
    /// of all phases by outcome. A run that is not settled is tried by attempts: in each of its cells
    /// or, if it has no cell, in its middle for its share.
    pub(super) fn row(&self, phases: usize, shifter: &Shifter, slip: f64) -> Row {
        let mut cells = Cells::new(phases, shifter.direction, self.origin);
        let single = |place: f64| {
            let phase = shifter.direction * (self.origin + place);
            Outcome::from_attempt(&shifter.attempt(phase, slip))
        };
        let (mut shares, mut from) = ([0.0; 6], 0.0);
        for run in &self.runs {
            let within = cells.cell_at(from)..cells.cell_at(run.to);
            let width = (run.to - from) / TAU;
            if let Some(outcome) = run.outcome {
                cells.outcomes[within].fill(outcome);
                shares[outcome as usize] += width;
            } else if within.is_empty() {
                shares[single(f64::midpoint(from, run.to)) as usize] += width;
            } else {
                let each = width / float(within.len());
                for cell in within {
                    let outcome = single(cells.place(cell));
                    cells.outcomes[cell] = outcome;
                    shares[outcome as usize] += each;
                }
            }
            from = run.to;
        }
        Row { cells: cells.by_phase(shifter.direction), shares }
    }
}

/// A row that is worked out.
pub(super) struct Row {
    pub(super) cells: Vec<Outcome>,
    pub(super) shares: [f64; 6],
}

/// The cells of a row in the order in which a ring passes them, from the first past the origin on.
struct Cells {
    outcomes: Vec<Outcome>,
    /// How far the first cell lies from the origin, rad, and how far apart the cells are.
    first: f64,
    step: f64,
    /// Index of the cell with the smallest phase.
    smallest: usize,
}

impl Cells {
    fn new(phases: usize, direction: f64, origin: f64) -> Self {
        let step = TAU / float(phases);
        let past = wrapped(direction * step / 2.0 - origin);
        let smallest = whole(past / step).min(phases);
        let first = past - float(smallest) * step;
        Self { outcomes: vec![Outcome::Ratcheting; phases], first, step, smallest }
    }

    /// How far a cell lies from the origin, rad.
    fn place(&self, cell: usize) -> f64 {
        self.first + float(cell) * self.step
    }

    /// The first cell at a place or beyond it.
    fn cell_at(&self, place: f64) -> usize {
        whole(((place - self.first) / self.step).ceil()).min(self.outcomes.len())
    }

    /// The cells in order of the phase. If the phase decreases with the slip, they were passed backwards.
    fn by_phase(mut self, direction: f64) -> Vec<Outcome> {
        self.outcomes.rotate_left(self.smallest);
        if direction < 0.0 && !self.outcomes.is_empty() {
            self.outcomes[1..].reverse();
        }
        self.outcomes
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
