//! Time: how long a window stays open, how long the travel into it takes, how long the wait is.

mod attempt;
mod travel;
mod waiting;

pub use attempt::{Attempt, Conditions, Ending, Leg, Shifter};
pub use travel::{Drive, Travel};
pub use waiting::{Passing, straight_in_limit_rpm};
