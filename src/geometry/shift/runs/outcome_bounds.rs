//! What becomes of a ring.

use crate::shift::outcome::Outcome;

/// What becomes of a ring from some point on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OutcomeBounds {
    pub(super) outcome: Outcome,
    /// How long it takes at least and at most, s, anywhere up to where the fate is the same.
    pub(super) seconds: [f64; 2],
    /// Events it comes to.
    pub(super) events: usize,
}

impl OutcomeBounds {
    /// One last event that lasts up to so long, s.
    pub(super) const fn last(outcome: Outcome, at_most_s: f64) -> Self {
        Self { outcome, seconds: [0.0, at_most_s], events: 1 }
    }

    /// After an event more, which lasts at least and at most so long, s.
    pub(super) fn after(self, [least, most]: [f64; 2]) -> Self {
        let seconds = [self.seconds[0] + least, self.seconds[1] + most];
        Self { seconds, events: self.events + 1, ..self }
    }

    pub(super) fn after_rubbing(self) -> Self {
        let straight = self.outcome == Outcome::StraightIn;
        Self { outcome: if straight { Outcome::AfterRubbing } else { self.outcome }, ..self }
    }

    /// The same after having been thrown back.
    pub(super) fn struck(self) -> Self {
        let outcome = if self.outcome.is_in() { Outcome::AfterStrikes } else { self.outcome };
        Self { outcome, ..self }
    }
}
