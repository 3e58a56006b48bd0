//! A plan of work: its operations one by one, cautions about a cut, and what is left to do once the ring was measured.

mod cautions;
mod remeasured;
mod steps;

pub use cautions::cut_cautions;
pub(crate) use remeasured::left;
pub use steps::{PlanStep, plan_steps};
