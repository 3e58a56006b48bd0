//! From the symptoms that the rider feels to their causes, from the outside in.
//!
//! [`SYMPTOMS`](crate::design::SYMPTOMS) lists what can be felt, and [`CHECKS`] what can be checked: which
//! checks belong to which symptom, in which order, what is measured for each, and how it is judged.
//! [`diagnose`] works out the verdicts. A new check is one row; nothing else names a check.

mod check;
mod depth;
mod dogs;
#[cfg(test)]
mod dummy;
mod evidence;
mod outside;
mod sketch;
mod verdict;

pub use check::{CHECKS, Check, Station, check_key};
pub use evidence::KnownBy;
pub use sketch::Sketch;
pub use verdict::{CheckResult, CheckStatus, Diagnosis, diagnose};
