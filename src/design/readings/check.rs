//! What is wrong with single readings, before anything is fitted to them.

use crenel_words::{Advice, Value, measured as say};

use super::{Column, Readings};
use crate::units::Quantity;

/// Least and greatest depth that pins and jaws can reach below the tips, mm.
const REACH_MM: (f64, f64) = (0.0, 50.0);

/// The place of a fault in the table of readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wrong {
    /// How deep pins and jaws reached.
    Reach,
    /// What the column is set by.
    SetAt(usize),
    /// The uncertainty of the column.
    Sigma(usize),
    /// The reading of a column on a dog.
    Cell(usize, usize),
    /// All readings together.
    Whole,
}

/// What is wrong at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct CellFault {
    /// The place.
    pub at: Wrong,
    /// The number, its limit, and what to do.
    pub says: Advice,
}

/// A number in its unit.
pub(super) const fn shown(quantity: Quantity, value: f64) -> Value {
    Value::Number(quantity, value)
}

impl Readings {
    /// What is wrong with single numbers. A reading with a fault, or in a column with one, is not used.
    pub fn check(&self) -> Vec<CellFault> {
        let columns = self.columns.iter().enumerate().flat_map(|(at, column)| column.check(at));
        self.check_reach().into_iter().chain(columns).collect()
    }

    fn check_reach(&self) -> Option<CellFault> {
        let (least, most) = REACH_MM;
        let show = |value| shown(Quantity::Length, value);
        let says = say::reach_out_of_range(show(self.reach_mm), show(least), show(most));
        let is_wrong = !is_within(self.reach_mm, REACH_MM);
        is_wrong.then_some(CellFault { at: Wrong::Reach, says })
    }

    /// How deep pins and jaws reached, as far as it can be, mm.
    pub(super) fn used_reach_mm(&self) -> f64 {
        let (least, most) = REACH_MM;
        self.reach_mm.max(least).min(most)
    }
}

impl Column {
    fn check(&self, column: usize) -> Vec<CellFault> {
        let kind = self.kind;
        let mut faults = Vec::new();
        if let Some(by) = kind.set_by {
            let show = |value| shown(by.quantity, value);
            if !is_within(self.set_at, by.limits) {
                let (least, most) = by.limits;
                let says = say::set_out_of_range(show(self.set_at), show(least), show(most));
                faults.push(CellFault { at: Wrong::SetAt(column), says });
            }
        }
        let show = |value| shown(kind.quantity, value);
        if self.sigma <= 0.0 || !self.sigma.is_finite() {
            let says = say::bad_uncertainty(show(self.sigma));
            faults.push(CellFault { at: Wrong::Sigma(column), says });
        }
        if faults.is_empty() {
            let (least, most) = (kind.limits)(self.set_at);
            let read =
                self.cells.iter().enumerate().filter_map(|(dog, read)| Some((dog, (*read)?)));
            let wrong = read.filter(|(_, read)| !is_within(*read, (least, most)));
            faults.extend(wrong.map(|(dog, read)| CellFault {
                at: Wrong::Cell(column, dog),
                says: say::reading_out_of_range(dog, show(read), show(least), show(most)),
            }));
        }
        faults
    }
}

fn is_within(value: f64, (least, most): (f64, f64)) -> bool {
    (least..=most).contains(&value)
}
