//! What a check goes by: what was measured for it and what is worked out, and what it finds.

use crate::analysis::Analysis;
use crate::design::Symptom;
use crate::fields::FieldId;
use crate::units::{DisplayUnits, Quantity};

/// Share of the wanted depth up to which a cost is small: our own bound.
const SMALL_SHARE: f64 = 0.1;

/// What a clearance is set against, whose limit is nothing, so that causes can be ranked: a clear millimetre
/// (common practice, no source).
const USUAL_CLEARANCE_MM: f64 = 1.0;

/// Where the number of a check comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// It was measured.
    Measured,
    /// It is worked out from what the other areas have.
    WorkedOut,
}

/// What one check found.
pub(super) struct CheckOutcome {
    pub(super) known_by: KnownBy,
    /// How many times its limit it is past it; 0 or less passes.
    pub(super) exceedance: f64,
    pub(super) message: String,
    /// What to do next, where it is not what the row of the check says.
    pub(super) next: Option<&'static str>,
    /// What it explains, where it is not all that the row of the check says.
    pub(super) explains: Option<&'static [Symptom]>,
}

/// What a check finds, or what is missing for it.
pub(super) type Judged = Result<CheckOutcome, &'static str>;

/// What most outcomes have in common; a check gives what differs.
pub(super) const BASE: CheckOutcome = CheckOutcome {
    known_by: KnownBy::Measured,
    exceedance: 0.0,
    message: String::new(),
    next: None,
    explains: None,
};

pub(super) struct Evidence<'a> {
    /// The design as drawn.
    pub(super) drawn: &'a Analysis,
    /// The design with what was measured on the dogs taken in.
    pub(super) seen: &'a Analysis,
    pub(super) units: DisplayUnits,
}

impl Evidence<'_> {
    pub(super) fn measured(&self, id: FieldId) -> Option<f64> {
        self.drawn.design.trace.seen(id)
    }

    pub(super) fn show(&self, quantity: Quantity, value: f64) -> String {
        quantity.show(value, self.units)
    }

    pub(super) fn mm(&self, mm: f64) -> String {
        // Hundredths are as much as feelers tell.
        self.show(Quantity::Length, (mm * 100.0).round() / 100.0)
    }

    pub(super) fn deg(&self, deg: f64) -> String {
        self.show(Quantity::Angle, (deg * 10.0).round() / 10.0)
    }
}

/// A number as measured or, where it was not, as worked out.
pub(super) fn known(
    measured: Option<f64>,
    worked_out: impl FnOnce() -> Option<f64>,
) -> Option<(f64, KnownBy)> {
    let by_hand = measured.map(|value| (value, KnownBy::Measured));
    by_hand.or_else(|| Some((worked_out()?, KnownBy::WorkedOut)))
}

/// How much of a depth that is missing is to be blamed on what takes `cost` of it: none where the depth
/// is there, or where it would be missing all the same and the cost is small beside it.
pub(super) fn blamed(missing: f64, cost: f64, wanted: f64) -> f64 {
    let decides = missing > 0.0 && (cost >= missing || cost > SMALL_SHARE * wanted);
    if decides { missing.min(cost) / wanted } else { 0.0 }
}

/// How far a clearance in mm is past nothing; exactly nothing is past it too.
pub(super) fn past_zero(clear: f64) -> f64 {
    if clear > 0.0 { 0.0 } else { (-clear / USUAL_CLEARANCE_MM).max(1e-6) }
}
