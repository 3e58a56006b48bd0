//! Time: how long a window stays open, how long the travel into it takes, how long the wait is.

mod travel;
mod waiting;

pub use travel::{Drive, Travel};
pub use waiting::{Passing, straight_in_limit_rpm};
