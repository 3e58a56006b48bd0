//! From what the rider feels to what the numbers say is the cause, from the outside in.
//!
//! [`SYMPTOMS`](crate::design::SYMPTOMS) lists what can be felt, and [`CHECKS`] what can be checked: which
//! checks belong to which symptom, in which order, what is measured for each, and how it is judged.
//! [`diagnose`] works out the verdicts. A row is all that a new check needs; nothing else asks for one by
//! itself.

mod check;
mod depth;
mod dogs;
#[cfg(test)]
mod dummy;
mod evidence;
mod outside;
mod verdict;

pub use check::{CHECKS, Check, Station};
pub use evidence::KnownBy;
pub use verdict::{CheckResult, CheckStatus, Diagnosis, diagnose};
