//! One layout of a comparison, with its figures.

use std::sync::Arc;

use crenel_words::{Message, Value, compare as say};

use super::shown::Shown;
use crate::analysis::Analysis;
use crate::figures::FigureValue;

/// One layout of a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// What it shows.
    pub what: Shown,
    /// The number it goes by, from 1.
    pub number: usize,
    /// Its title; empty if it has none.
    pub title: String,
    /// Its analysis, after the quantity that is held was made equal to that of the first layout.
    pub analysis: Arc<Analysis>,
    /// Its figures.
    pub figures: Vec<FigureValue>,
    /// What was changed to hold that quantity, or why it could not be held.
    pub note: Option<Message>,
    /// Whether the quantity could not be held.
    pub not_normalized: bool,
    /// The least and the greatest that the quantity can be in this layout, degrees; `None` if nothing is held.
    pub range_deg: Option<(f64, f64)>,
}

impl Column {
    /// Its title, as a value of a sentence.
    pub fn name(&self) -> Value {
        match (self.what, self.title.trim()) {
            (Shown::FirstState, _) => say::first_state().into(),
            (Shown::Variant(at), "") => say::untitled_variant(at).into(),
            (_, "") => say::untitled().into(),
            (_, title) => Value::Given(title.to_owned()),
        }
    }
}

/// The overlap at which a layout jams, mm; `None` if it does not jam.
pub(super) fn jam_mm(analysis: &Analysis) -> Option<f64> {
    analysis.pair.as_ref()?.engagement.jam.map(|jam| jam.overlap_mm)
}
