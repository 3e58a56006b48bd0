//! One layout of a comparison, worked out.

use crate::analysis::Analysis;
use crate::figures::FigureValue;

/// One layout of a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The number it goes by, from 1.
    pub number: usize,
    /// What it is called.
    pub title: String,
    /// It worked out, with what is held made equal.
    pub analysis: Analysis,
    /// Its figures.
    pub figures: Vec<FigureValue>,
    /// What was changed to hold what is held, or why it could not be.
    pub note: Option<String>,
    /// Whether what is held could not be.
    pub unheld: bool,
}

/// Where a layout jams, if it does, mm.
pub(super) fn jam_mm(analysis: &Analysis) -> Option<f64> {
    analysis.pair.as_ref()?.engagement.jam.map(|jam| jam.overlap_mm)
}
