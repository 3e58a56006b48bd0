//! A plan of work: in one line, its operations one by one, and what is left to do once the ring was measured.

mod remeasured;
mod steps;
mod summary;

pub(crate) use remeasured::left;
pub use steps::{PlanStep, plan_steps};
pub use summary::plan_summary;
