//! A row of the outcome map: how a shift ends from every phase at one slip.

use std::f64::consts::TAU;

use super::attempt::{CLEAR_RAD, MOST_EVENTS, Shifter};
use super::outcome::Outcome;
use super::outcome_bounds::OutcomeBounds;
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
    pub(super) outcome: Outcome,
}

/// How often a stretch is halved to find where the time allowed runs out.
const HALVINGS: usize = 50;

/// Times that differ by less than this share differ only by rounding.
const SAME_SHARE: f64 = 1e-9;

impl Ends {
    /// Without any run yet.
    pub(super) const fn from(origin: f64) -> Self {
        Self { origin, runs: Vec::new() }
    }

    /// Adds the next phases, whose shifts go the same way; how long they take decides what of that way there
    /// is time for.
    pub(super) fn add(
        &mut self,
        shifter: &Shifter,
        slip: f64,
        [begin, end]: [f64; 2],
        bounds: &OutcomeBounds,
    ) {
        if end <= begin {
            return;
        }
        let [least, most] = bounds.seconds;
        let allowed = shifter.conditions.allowed_s;
        if least > allowed * (1.0 + SAME_SHARE) {
            self.push(end, Outcome::Ratcheting);
        } else if most < allowed * (1.0 - SAME_SHARE) && bounds.events < MOST_EVENTS {
            self.push(end, bounds.outcome);
        } else {
            self.try_out(shifter, slip, [begin, end]);
        }
    }

    /// Adds phases whose shifts take the longer, the sooner they begin: where the time allowed runs out is
    /// found by halving.
    fn try_out(&mut self, shifter: &Shifter, slip: f64, [begin, end]: [f64; 2]) {
        let single =
            |place: f64| Outcome::from_attempt(&shifter.attempt(shifter.direction * place, slip));
        let clear = CLEAR_RAD.min((end - begin) / 4.0);
        let (mut low, mut high) = (begin + clear, end - clear);
        let [first, last] = [single(low), single(high)];
        if first != last {
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                *if single(middle) == first { &mut low } else { &mut high } = middle;
            }
            self.push(high, first);
        }
        self.push(end, last);
    }

    fn push(&mut self, end: f64, outcome: Outcome) {
        let to = end - self.origin;
        match self.runs.last_mut() {
            Some(last) if last.outcome == outcome => last.to = to,
            _ => self.runs.push(PhaseRun { to, outcome }),
        }
    }

    /// Repeats all runs round the circle.
    pub(super) fn repeated(&mut self, times: usize, period: f64) {
        let first = self.runs.clone();
        for turn in 1..times {
            for run in &first {
                self.push(self.origin + run.to + float(turn) * period, run.outcome);
            }
        }
    }

    /// The shares of all phases by outcome.
    pub(super) fn shares(&self) -> [f64; 6] {
        let (mut shares, mut from) = ([0.0; 6], 0.0);
        for run in &self.runs {
            shares[run.outcome as usize] += (run.to - from) / TAU;
            from = run.to;
        }
        shares
    }

    /// The cells of a row at equal steps all round, each for the phase in its middle, and the shares
    /// of all phases by outcome.
    pub(super) fn row(&self, phases: usize, shifter: &Shifter) -> Row {
        let mut cells = Cells::new(phases, shifter.direction, self.origin);
        let mut from = 0.0;
        for run in &self.runs {
            let within = cells.cell_at(from)..cells.cell_at(run.to);
            cells.outcomes[within].fill(run.outcome);
            from = run.to;
        }
        Row { cells: cells.by_phase(shifter.direction), shares: self.shares() }
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
