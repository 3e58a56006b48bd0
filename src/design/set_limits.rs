//! Limits that the user sets; what has none is judged by none.

use std::collections::BTreeMap;

use crate::fields::FieldId;

/// The limits that are set, by field.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SetLimits {
    /// The numbers.
    pub numbers: BTreeMap<FieldId, f64>,
}

impl SetLimits {
    /// Every limit that can be set, in the order of the form and of files.
    pub const FIELDS: [FieldId; 2] = [FieldId::MostLash, FieldId::MostClunk];

    /// The number of a limit, if it is set.
    pub fn get(&self, id: FieldId) -> Option<f64> {
        self.numbers.get(&id).copied()
    }
}
