//! A plan of work: its operations one by one, and what is left to do once the ring was measured.

mod remeasured;
mod steps;

pub(crate) use remeasured::left;
pub use steps::{PlanStep, plan_steps};
