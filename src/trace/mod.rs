//! From what the rider feels to what has to be looked at, from the outside in.
//!
//! Only the questions stand here: which checks belong to which symptom, in which order, what each
//! measures and how. The verdicts are worked out in [`crate::report`]. Which check belongs to which
//! symptom is common practice, no source.

mod check;
mod symptom;

pub use check::{Check, Station};
pub use symptom::Symptom;
