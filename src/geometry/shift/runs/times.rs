//! The times of a fall.

use crate::shift::attempt::{SAME_MM, Shifter};

/// The times at which a fall reaches the overlaps that matter, s from its start.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Times {
    /// The time to each level; 0 for levels above the start.
    pub(super) levels: Vec<f64>,
    /// The time to the overlap at which the flanks of the blocks of each level hold.
    pub(super) holds: Vec<f64>,
    pub(super) full: f64,
}

impl Times {
    /// The times of a fall that starts at an overlap with a speed in m/s.
    pub(super) fn new(shifter: &Shifter, from_mm: f64, speed: f64) -> Self {
        let given = &shifter.conditions;
        let seconds = |x: f64| given.travel.seconds_from(speed, x - from_mm);
        let depths = || shifter.levels.iter().map(|level| level.depth_mm);
        Self {
            levels: depths().map(seconds).collect(),
            holds: depths().map(|depth| seconds(depth + given.hold_mm - SAME_MM)).collect(),
            full: seconds(given.full_mm),
        }
    }

    /// Whether the ring moves at all, so that every time is finite.
    pub(super) fn are_finite(&self) -> bool {
        self.levels.iter().chain(&self.holds).chain([&self.full]).all(|time| time.is_finite())
    }
}
