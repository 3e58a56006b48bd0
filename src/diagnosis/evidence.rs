//! The evidence of a check, measured or worked out, and its outcome.

use crenel_words::{Message, Phrase, diagnosis as say};

use crate::analysis::Analysis;
use crate::design::{Need, Symptom};
use crate::fields::FieldId;
use crate::gauge::Gauge;
use crate::limits::USUAL_CLEARANCE_MM;

/// A cost up to this share of the depth wanted is small: our own bound.
const SMALL_SHARE: f64 = 0.1;

/// Where the number of a check comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// It was measured.
    Measured,
    /// It is worked out from the other parts of the design.
    WorkedOut,
}

/// The outcome of one check.
pub(super) struct CheckOutcome {
    pub(super) known_by: KnownBy,
    /// The excess over the limit, as a multiple of the limit; 0 or less passes.
    pub(super) exceedance: f64,
    /// The numbers, the limit and the consequence, a sentence or more.
    pub(super) says: Vec<Message>,
    /// Which of these sentences has the number that decides.
    pub(super) decides: usize,
    /// The next step, where it is not that of the row of the check.
    pub(super) next: Option<Phrase>,
    /// What it explains, where it is not all that the row of the check says.
    pub(super) explains: Option<&'static [Symptom]>,
}

/// What a check finds, or what is missing for it.
pub(super) type Judgement = Result<CheckOutcome, Message>;

impl CheckOutcome {
    /// An outcome with the next step and the symptoms of the row of the check.
    pub(super) const fn new(known_by: KnownBy, exceedance: f64, says: Vec<Message>) -> Self {
        Self { known_by, exceedance, says, decides: 0, next: None, explains: None }
    }
}

pub(super) struct Evidence<'a> {
    /// The design as drawn.
    pub(super) drawn: &'a Analysis,
    /// The design with the measurements on the dogs instead of the drawn numbers.
    pub(super) seen: &'a Analysis,
}

impl Evidence<'_> {
    pub(super) fn measured(&self, id: FieldId) -> Option<f64> {
        self.drawn.design.trace.seen(id)
    }

    /// Refuses where nobody knows what a check needs of the design.
    pub(super) fn needs(&self, needs: &[Need]) -> Result<(), Message> {
        self.seen.design.missing_of(needs).map_or(Ok(()), |slot| Err(say::needs(slot.words())))
    }
}

/// A number as measured, else as worked out.
pub(super) fn known(
    measured: Option<f64>,
    worked_out: impl FnOnce() -> Option<f64>,
) -> Option<(f64, KnownBy)> {
    let by_hand = measured.map(|value| (value, KnownBy::Measured));
    by_hand.or_else(|| Some((worked_out()?, KnownBy::WorkedOut)))
}

/// The share by which a number is past its limit; 0 or less within it.
pub(super) fn past(gauge: Gauge) -> f64 {
    gauge.used() - 1.0
}

/// How far past its limit a depth would be if only that were missing which is blamed on something that costs
/// `cost` of it. It is 0 if no depth is missing, or if depth would be missing without it too and its cost is small.
pub(super) fn blamed(missing: f64, cost: f64, wanted: f64) -> f64 {
    let decides = missing > 0.0 && (cost >= missing || cost > SMALL_SHARE * wanted);
    if decides { past(Gauge::at_least(wanted, wanted - missing.min(cost))) } else { 0.0 }
}

/// The excess of a clearance in mm over its limit, as a share of the usual one. A clearance of 0 fails too.
pub(super) fn past_zero(clear: f64) -> f64 {
    if clear > 0.0 { 0.0 } else { (-clear / USUAL_CLEARANCE_MM).max(1e-6) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cost_is_blamed_if_it_decides_or_is_over_a_tenth_of_the_depth_wanted() {
        for wanted in [0.5, 2.0, 4.0] {
            let share = |missing: f64, cost: f64| blamed(missing * wanted, cost * wanted, wanted);
            let is = |given: f64, want: f64| assert!((given - want).abs() < 1e-12, "{given}");
            is(share(0.5, 0.11), 1.0 / 0.89 - 1.0);
            is(share(0.5, 0.09), 0.0);
            // Small, but without it nothing would be missing.
            is(share(0.05, 0.09), 1.0 / 0.95 - 1.0);
            is(share(-0.05, 0.5), 0.0);
        }
    }
}
