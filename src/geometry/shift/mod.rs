//! Shifting: how fast the dogs meet, how long a window stays open, how long the travel into it
//! takes, how a shift ends, and how hard the blow is.

mod attempt;
mod blow;
mod chains;
mod endings;
mod gearbox;
mod outcome;
mod outcome_bounds;
mod outcome_map;
mod release;
mod row;
mod runs;
mod travel;
mod waiting;

pub use attempt::{Attempt, Conditions, Ending, FirstPass, Leg, Moment, Shifter, Span};
pub use blow::Blow;
pub use endings::{EndSpan, Endings};
pub use gearbox::{
    Gear, Gearbox, Shaft, Sides, Step, Way, disc_kg_m2, flank_met, phase_sense, shaft_nm_per_rad,
};
pub use outcome::Outcome;
pub use outcome_map::OutcomeMap;
pub use release::{
    Catch, Pull, Release, ReleaseEvent, ReleaseMoment, ReleaseStep, TorqueCut, TwoMasses,
};
pub use travel::{Drive, Travel};
pub use waiting::{Passing, rounded_hold_mm, straight_in_limit_rpm, window_needed};
