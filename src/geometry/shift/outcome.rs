//! How a shift ends.

use super::attempt::{Attempt, Ending};

/// What becomes of a shift, as the outcome map tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(u8)]
pub enum Outcome {
    /// Into the first window and caught.
    StraightIn,
    /// Caught after rubbing, without having been thrown back.
    AfterRubbing,
    /// Thrown back at least once, and in in the end.
    AfterStrikes,
    /// Held by the tall dogs alone.
    HalfIn,
    /// Hangs tip on tip.
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

    /// Words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::StraightIn => "straight in",
            Self::AfterRubbing => "in after rubbing",
            Self::AfterStrikes => "thrown back, then in",
            Self::HalfIn => "half in",
            Self::Locked => "hangs, tip on tip",
            Self::Ratcheting => "still ratcheting",
        }
    }

    /// Of an attempt carried to its end.
    pub const fn of(attempt: &Attempt) -> Self {
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
