//! The plan of work on a ring: its operations one by one, and what is left of it on the ring as measured.

mod remeasured;
mod steps;

pub(crate) use remeasured::left;
pub use steps::{PlanStep, plan_steps};
