//! Rows of the outcome map, worked out by runs of cells that come to the same.
//!
//! Only between straight flanks with sharp edges, and where something fades the slip. Everything else
//! is left to single attempts, and so are cells that might or might not run out of the time allowed.

mod divide;
mod fall;
mod fate;
mod fates;
mod pockets;
mod row;
mod times;

use fate::Fate;
use fates::Fates;
use pockets::Part;
use row::Row;

use super::attempt::{MOST_EVENTS, Shifter};
use super::outcome::Outcome;

/// Strikes beyond which the tables would become longer than they are worth.
const MOST_STRIKES: f64 = 5000.0;

/// Times that differ by less than this share are the same but for rounding.
const SAME_SHARE: f64 = 1e-9;

/// What is known of all shifts of a shifter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Runs {
    fates: Fates,
    direction: f64,
    allowed_s: f64,
}

impl Runs {
    /// `None` where rows have to be worked out shift by shift.
    pub(super) fn of(shifter: &Shifter) -> Option<Self> {
        let fates = Fates::of(shifter)?;
        let allowed_s = shifter.conditions.allowed_s;
        Some(Self { fates, direction: shifter.direction, allowed_s })
    }

    /// A row of cells at equal steps all round, each for the phase in its middle, at a slip in rad/s.
    /// `None` for a cell that has to be worked out by itself.
    pub(super) fn row(&mut self, phases: usize, slip: f64) -> Vec<Option<Outcome>> {
        let mut row = Row::new(phases, self.direction, self.fates.rings.origin);
        if slip > 0.0 && self.fates.most_strikes(slip) < MOST_STRIKES {
            for at in 0..self.fates.rings.circle.len() {
                let part = self.fates.rings.circle[at];
                self.paint(&mut row, &part, slip);
            }
        }
        row.by_phase(self.direction)
    }

    /// Paints the cells over a part of the circle, run by run.
    fn paint(&mut self, row: &mut Row, part: &Part, slip: f64) {
        let end = row.cell_at(part.to);
        let mut at = row.cell_at(part.from);
        while at < end {
            let place = row.place(at);
            let (fate, further) = self.fates.at_start(part, place, slip);
            let next = row.cell_at(place + further).max(at + 1).min(end);
            if let Some(outcome) = self.settled(&fate) {
                row.cells[at..next].fill(Some(outcome));
            }
            at = next;
        }
    }

    /// What it comes to within the time allowed, if the bounds of its time settle that.
    fn settled(&self, fate: &Fate) -> Option<Outcome> {
        let [least, most] = fate.seconds;
        if least > self.allowed_s * (1.0 + SAME_SHARE) {
            return Some(Outcome::Ratcheting);
        }
        let ends = most < self.allowed_s * (1.0 - SAME_SHARE) && fate.events < MOST_EVENTS;
        ends.then_some(fate.outcome)
    }
}
