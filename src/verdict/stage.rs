//! The stages of the work, from a complaint to a part on the bench.

use crenel_words::{Message, verdict as say};

use crate::fields::{FieldId, Slot};
use crate::figures::Group;
use crate::finding::Class;

/// A stage of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Find the cause: from the pedal to the dogs.
    Cause,
    /// See the pair: dogs, shift and load.
    Pair,
    /// Change it: plan and comparison.
    Change,
    /// Make it: sheets and files.
    Make,
}

impl Stage {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 4] = [Self::Cause, Self::Pair, Self::Change, Self::Make];

    /// Its name in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cause => "cause",
            Self::Pair => "pair",
            Self::Change => "change",
            Self::Make => "make",
        }
    }

    /// Its title.
    pub fn title(self) -> Message {
        match self {
            Self::Cause => say::find_cause(),
            Self::Pair => say::see_pair(),
            Self::Change => say::change_it(),
            Self::Make => say::make_it(),
        }
    }

    /// Its title in one word.
    pub fn short_title(self) -> Message {
        match self {
            Self::Cause => say::cause(),
            Self::Pair => say::pair(),
            Self::Change => say::change(),
            Self::Make => say::make(),
        }
    }

    /// The stage that shows the figures under a heading.
    pub(super) const fn of_group(group: Group) -> Self {
        match group {
            Group::Selector | Group::Depth => Self::Cause,
            Group::Metal => Self::Change,
            _ => Self::Pair,
        }
    }

    /// The stage that shows a matter of a class at a place.
    pub(super) fn of(class: Class, at: &[Slot]) -> Self {
        match (class, at.first()) {
            (Class::Cut | Class::Gain, _) | (_, Some(Slot::Work(..))) => Self::Change,
            (_, Some(Slot::Setting(FieldId::BalanceGrade))) => Self::Change,
            (Class::Fit, _)
            | (
                _,
                Some(
                    Slot::Part(_)
                    | Slot::TrackPoint(..)
                    | Slot::Link(..)
                    | Slot::Seen(_)
                    | Slot::Box(..),
                ),
            ) => Self::Cause,
            _ => Self::Pair,
        }
    }
}
