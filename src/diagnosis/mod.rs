//! From what the rider feels to what the numbers say is the cause, from the outside in.
//!
//! [`Symptom`] and [`Check`] are the questions: which checks belong to which symptom, in which order, and
//! what each measures. [`diagnose`] works out the verdicts. Which check belongs to which symptom is common
//! practice, no source.

mod check;
mod depth;
mod dogs;
mod evidence;
mod outside;
mod symptom;
mod verdict;

pub use check::{Check, Station};
pub use evidence::KnownBy;
pub use symptom::Symptom;
pub use verdict::{CheckResult, CheckStatus, Diagnosis, diagnose};
