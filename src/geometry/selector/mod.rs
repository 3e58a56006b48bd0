//! From the foot to the fork: pedal linkage, claw and drum, detent, and the track in the drum.
//!
//! Lengths are in mm. The linkage is seen with *x* to the front of the machine and *y* up; claw and
//! drum with the drum's axis at the origin and the selector shaft on the *x* axis. A stroke is either
//! the one with the pedal lifted or the one with the pedal pressed.

mod claw;
mod detent;
mod four_bar;
mod pedal;
mod track;

pub use claw::{Claw, ClawFault, EccentricFault, Ends, StrokeEnd};
pub use detent::{Detent, Star};
pub use four_bar::{Assembly, FourBar};
pub use pedal::{CRAMPED, Joined, Pedal, Posture, Reach, Rod, RodFault};
pub use track::{Track, TrackFault};

use crate::per::per;

per! {
    /// Something for each way the pedal moves.
    PerStroke of Stroke: lift is Lift, press is Press
}

/// One of the two ways the pedal moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Stroke {
    /// The foot lifts the pedal.
    Lift,
    /// The foot presses it down.
    Press,
}

impl Stroke {
    /// Both, in the order of their numbers.
    pub const BOTH: [Self; 2] = [Self::Lift, Self::Press];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lift => "lifting",
            Self::Press => "pressing",
        }
    }

    /// Plus for lifting, minus for pressing.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Lift => 1.0,
            Self::Press => -1.0,
        }
    }
}
