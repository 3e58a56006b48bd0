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

/// A part of the design that is nothing but its numbers.
pub(super) trait Numbered: Default {
    /// Its numbers, in the order of the form and of files.
    const NUMBERS: &'static [FieldId];

    /// Puts a number in its place; one that it does not have is dropped.
    fn put(&mut self, id: FieldId, value: f64);
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

        impl super::numbers::Numbered for $part {
            const NUMBERS: &'static [FieldId] = &Self::FIELDS;

            fn put(&mut self, id: FieldId, value: f64) {
                self.field_mut(id).into_iter().for_each(|place| *place = value);
            }
        }
    };
}
pub(super) use numbered;
