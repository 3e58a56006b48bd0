//! A row of numbers, one for each of a fixed list of fields.

use crate::fields::FieldId;

/// One number for each of its fields, in the order of the form.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Numbers<const N: usize> {
    fields: &'static [FieldId; N],
    values: [f64; N],
}

impl<const N: usize> Numbers<N> {
    /// The defaults of the fields.
    pub(super) fn new(fields: &'static [FieldId; N]) -> Self {
        Self { fields, values: fields.map(|id| id.spec().default) }
    }

    /// The number of one field; `None` for a field that is not in the list.
    pub(super) fn get(&self, id: FieldId) -> Option<f64> {
        self.place(id).map(|at| self.values[at])
    }

    /// The number of one field, to change it.
    pub(super) fn get_mut(&mut self, id: FieldId) -> Option<&mut f64> {
        self.place(id).map(|at| &mut self.values[at])
    }

    fn place(&self, id: FieldId) -> Option<usize> {
        self.fields.iter().position(|&field| field == id)
    }
}

/// Gives a part of the design the numbers of a fixed list of fields.
macro_rules! numbered {
    ($part:ident, $n:literal, [$($id:ident),* $(,)?]) => {
        impl $part {
            /// Its numbers, in the order of the form and of files.
            pub const FIELDS: [FieldId; $n] = [$(FieldId::$id),*];

            /// The number of one field; `None` for a field that is none of its own.
            pub fn field(&self, id: FieldId) -> Option<f64> {
                self.numbers.get(id)
            }

            /// The number of one field, to change it.
            pub fn field_mut(&mut self, id: FieldId) -> Option<&mut f64> {
                self.numbers.get_mut(id)
            }

            fn number(&self, id: FieldId) -> f64 {
                self.numbers.get(id).unwrap_or_default()
            }
        }
    };
}
pub(super) use numbered;
