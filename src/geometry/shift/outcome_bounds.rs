//! The outcome of a shift with bounds of its time.

use super::outcome::Outcome;

/// How a shift ends from some point on, and how long that takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OutcomeBounds {
    pub(super) outcome: Outcome,
    /// Least and most time it takes, s, over the range of slips that these bounds are for.
    pub(super) seconds: [f64; 2],
    /// The number of events until the end.
    pub(super) events: usize,
}

impl OutcomeBounds {
    /// A single last event that takes up to `at_most_s`.
    pub(super) const fn last(outcome: Outcome, at_most_s: f64) -> Self {
        Self { outcome, seconds: [0.0, at_most_s], events: 1 }
    }

    /// A shift that goes on for ever. How long is allowed decides, and single shifts tell.
    pub(super) const fn never() -> Self {
        Self { outcome: Outcome::Ratcheting, seconds: [0.0, f64::INFINITY], events: 1 }
    }

    /// The same with one more event before it. `least` and `most` bound the time of that event, s.
    pub(super) fn after(self, [least, most]: [f64; 2]) -> Self {
        let seconds = [self.seconds[0] + least, self.seconds[1] + most];
        Self { seconds, events: self.events + 1, ..self }
    }

    pub(super) fn after_rubbing(self) -> Self {
        let straight = self.outcome == Outcome::StraightIn;
        Self { outcome: if straight { Outcome::AfterRubbing } else { self.outcome }, ..self }
    }

    /// The same for a ring that was thrown back before.
    pub(super) fn struck(self) -> Self {
        let outcome = if self.outcome.is_in() { Outcome::AfterStrikes } else { self.outcome };
        Self { outcome, ..self }
    }
}
