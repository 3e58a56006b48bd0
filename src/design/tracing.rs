//! What the rider feels and what was measured, as the user gives it.

use std::collections::{BTreeMap, BTreeSet};

use crate::fields::FieldId;
use crate::trace::{Check, Symptom};

/// The trace from symptom to cause: what is felt, and what was measured. What was not measured is not
/// there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// What the rider feels.
    pub felt: BTreeSet<Symptom>,
    /// What was measured.
    pub measured: BTreeMap<FieldId, f64>,
}

impl Trace {
    /// Whether nothing is given.
    pub fn is_empty(&self) -> bool {
        self.felt.is_empty() && self.measured.is_empty()
    }

    /// A measured number.
    pub fn seen(&self, id: FieldId) -> Option<f64> {
        self.measured.get(&id).copied()
    }

    /// Every number that can be measured, from the outside in.
    pub fn fields() -> impl Iterator<Item = FieldId> {
        Check::ALL.into_iter().flat_map(|check| check.measured()).copied()
    }
}
