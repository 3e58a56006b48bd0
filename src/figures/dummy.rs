//! A figure that only tests have: one row, and every surface shows it.

use super::context::{formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::units::Quantity;

pub(crate) static DUMMY: Figure = Figure {
    key: "dummy_mm",
    group: Group::Metal,
    label: "Dummy",
    quantity: Quantity::Length,
    better: Better::More,
    limit: None,
    needs: &[],
    formula: "d = ½·z",
    meaning: "A number that no design needs, so that a test can look for it wherever figures are shown.",
    source: "Made up for a test.",
    words: Vec::new,
    compute: Compute::Pair(|_| Some(Answer::number(12.5, formula("½·{}", [mm(25.0)])))),
};

pub(super) static ROWS: &[&Figure] = &[&DUMMY];
