//! Parts of a design that consist of numbers, one for each of a list of fields.

use crate::fields::FieldId;

/// A part of the design that consists of its numbers alone.
pub(super) trait Numbered: Default {
    /// Its numbers, in the order of the form and of files.
    const NUMBERS: &'static [FieldId];

    /// Sets a number. A number of a field that the part does not have is ignored.
    fn put(&mut self, id: FieldId, value: f64);
}

/// Where a field is in a list of them.
pub(super) fn place(fields: &[FieldId], id: FieldId) -> Option<usize> {
    fields.iter().position(|own| *own == id)
}

/// Gives a part of the design the numbers of a list of fields, in the order of the form and of files.
///
/// The part keeps them in its field `numbers`. The enum has only the fields of the part, so that asking for
/// another one does not compile.
macro_rules! numbered {
    ($field:ident of $part:ident: $($id:ident),+ $(,)?) => {
        #[doc = concat!("Names each number of a [`", stringify!($part), "`].")]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum $field {
            $(#[doc = concat!("See [`FieldId::", stringify!($id), "`].")] $id,)+
        }

        impl $field {
            /// How many there are.
            pub const COUNT: usize = [$(FieldId::$id),+].len();

            /// The row of the table of inputs.
            pub const fn id(self) -> FieldId {
                $part::FIELDS[self as usize]
            }

            fn defaults() -> [f64; Self::COUNT] {
                $part::FIELDS.map(|id| id.spec().default)
            }
        }

        impl $part {
            /// Its numbers, in the order of the form and of files.
            pub const FIELDS: [FieldId; $field::COUNT] = [$(FieldId::$id),+];

            /// One of its numbers.
            pub const fn get(&self, field: $field) -> f64 {
                self.numbers[field as usize]
            }

            /// Puts one of its numbers.
            pub const fn set(&mut self, field: $field, value: f64) {
                self.numbers[field as usize] = value;
            }

            /// Its inputs with their numbers.
            pub fn all(&self) -> impl Iterator<Item = (FieldId, f64)> {
                Self::FIELDS.into_iter().zip(self.numbers)
            }

            /// The number of an input; `None` for one that is not its own.
            pub fn field(&self, id: FieldId) -> Option<f64> {
                place(&Self::FIELDS, id).map(|at| self.numbers[at])
            }

            /// The number of an input, to change it; `None` for one that is not its own.
            pub fn field_mut(&mut self, id: FieldId) -> Option<&mut f64> {
                place(&Self::FIELDS, id).map(|at| &mut self.numbers[at])
            }
        }

        impl $crate::design::numbers::Numbered for $part {
            const NUMBERS: &'static [FieldId] = &Self::FIELDS;

            fn put(&mut self, id: FieldId, value: f64) {
                self.field_mut(id).into_iter().for_each(|place| *place = value);
            }
        }
    };
}

/// Gives a struct with a named number for each of a list of fields the accessors by field.
macro_rules! numbered_fields {
    ($part:ident: $($id:ident => $number:ident),+ $(,)?) => {
        impl $part {
            /// Its numbers, in the order of the form and of files.
            pub const FIELDS: [FieldId; [$(FieldId::$id),+].len()] = [$(FieldId::$id),+];

            /// Its inputs with their numbers.
            pub fn all(&self) -> impl Iterator<Item = (FieldId, f64)> {
                [$((FieldId::$id, self.$number)),+].into_iter()
            }

            /// The number of an input; `None` for one that is not its own.
            pub const fn field(&self, id: FieldId) -> Option<f64> {
                match id {
                    $(FieldId::$id => Some(self.$number),)+
                    _ => None,
                }
            }

            /// The number of an input, to change it; `None` for one that is not its own.
            pub const fn field_mut(&mut self, id: FieldId) -> Option<&mut f64> {
                match id {
                    $(FieldId::$id => Some(&mut self.$number),)+
                    _ => None,
                }
            }
        }
    };
}
pub(super) use {numbered, numbered_fields};
