//! One ring: the dogs on one face of a gear, or the webs between its slots.
//!
//! Angles run counter-clockwise from the datum mark, **looking at the dogs of that ring**. Seen so,
//! each dog's drive flank is the one on its clockwise side and its coast flank the one on its
//! counter-clockwise side, on both rings of a pair alike, because the rings face each other.

mod cutaway;
mod dog;
mod even;
mod metal;
mod outline;
mod rework;

pub use dog::{Dog, FlankSide, PerFlank, PlanForm, Ring};
pub use even::{EvenRing, height_share};
pub use metal::{DENSITY_G_PER_MM3, Metal};
pub use outline::{Moments, Outline, Point, Segment};

use crate::per::per;

per! {
    /// Something for each ring of a pair.
    PerSide of Side: a is A, b is B
}

/// Which ring of the pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The ring that is turned and pushed: on the sliding gear.
    A,
    /// The ring it goes into: on the free gear.
    B,
}

impl Side {
    /// Both rings, A first.
    pub const BOTH: [Self; 2] = [Self::A, Self::B];

    /// What it is called inside a sentence.
    pub const fn lower_name(self) -> &'static str {
        match self {
            Self::A => "ring A",
            Self::B => "ring B",
        }
    }

    /// Its letter.
    pub const fn letter(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
        }
    }

    /// Its name in files and addresses.
    pub const fn key(self) -> &'static str {
        match self {
            Self::A => "a",
            Self::B => "b",
        }
    }

    /// The other ring.
    pub const fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }
}
