//! How a shift ends.

use super::attempt::{Attempt, Ending};

/// How a shift ends, as the outcome map shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(u8)]
pub enum Outcome {
    /// Caught in the first window.
    StraightIn,
    /// Caught after rubbing, without being thrown back.
    AfterRubbing,
    /// Caught after being thrown back at least once.
    AfterStrikes,
    /// Held by the tall dogs alone.
    HalfIn,
    /// Stopped tip on tip.
    Locked,
    /// Still ratcheting after the time allowed.
    Ratcheting,
}

impl Outcome {
    /// All of them, from the best to the worst.
    pub const ALL: [Self; 6] = [
        Self::StraightIn,
        Self::AfterRubbing,
        Self::AfterStrikes,
        Self::HalfIn,
        Self::Locked,
        Self::Ratcheting,
    ];

    /// Its stable name, in files and for the words of a language.
    pub const fn key(self) -> &'static str {
        match self {
            Self::StraightIn => "straight_in",
            Self::AfterRubbing => "after_rubbing",
            Self::AfterStrikes => "after_strikes",
            Self::HalfIn => "half_in",
            Self::Locked => "locked",
            Self::Ratcheting => "ratcheting",
        }
    }

    /// The outcome of an attempt that was followed to its end.
    pub const fn from_attempt(attempt: &Attempt) -> Self {
        match attempt.ending {
            Ending::StraightIn | Ending::AfterRubbing if attempt.strikes > 0 => Self::AfterStrikes,
            Ending::StraightIn => Self::StraightIn,
            Ending::AfterRubbing => Self::AfterRubbing,
            Ending::HalfIn => Self::HalfIn,
            Ending::Locked => Self::Locked,
            Ending::Ratcheting => Self::Ratcheting,
        }
    }

    /// Whether the gear is in to full depth.
    pub const fn is_in(self) -> bool {
        matches!(self, Self::StraightIn | Self::AfterRubbing | Self::AfterStrikes)
    }
}
