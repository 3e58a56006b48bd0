//! The macro that makes a part of the catalogue.

/// Makes a function for each sentence, which takes its values and returns the message, and the list of all.
///
/// The kind of a value is a [`Quantity`](crenel_geometry::units::Quantity), or `Number` for how many there are,
/// `Nth` for the number of something counted from 0, `Side`, `Flank`, `Stroke`, `Facing`, `Outcome` and
/// `Ends` for these, `Pick` for a word that chooses among cases, `Given` for what the user wrote, `Verbatim`
/// for what is no word of a language, `Message` for another message, `List` for several values, or `Value`
/// where the caller says how a number is rounded.
///
/// A sentence followed by `next` has a second text, the next thing to do, and its function returns both.
macro_rules! sentences {
    ($subject:literal: $($(#[$doc:meta])* $name:ident($($value:ident: $kind:ident),*) = $english:literal
        $(next $next:literal)?;)*) => {
        /// Every sentence of this subject.
        pub static ENTRIES: &[$crate::Entry] = &[$(
            $crate::Entry {
                text: &texts::$name,
                given: &[$(stringify!($value)),*],
                next: sentences!(@entry $name $($next)?),
            },
        )*];

        #[allow(non_upper_case_globals, unused, reason = "one name for a text and its function")]
        mod texts {
            $(pub(super) static $name: $crate::Text = $crate::Text {
                key: concat!($subject, ".", stringify!($name)),
                english: $english,
            };)*
        }

        #[allow(non_upper_case_globals, unused, reason = "one name for a text and its function")]
        mod nexts {
            $($(pub(super) static $name: $crate::Text = $crate::Text {
                key: concat!($subject, ".", stringify!($name), ".next"),
                english: $next,
            };)?)*
        }

        $($(#[$doc])*
        #[doc = concat!("`", $english, "`")]
        pub fn $name($($value: sentences!(@type $kind)),*) -> sentences!(@returns $($next)?) {
            let values = vec![$((stringify!($value), sentences!(@value $kind $value))),*];
            sentences!(@made $name values $($next)?)
        })*
    };
    (@entry $name:ident) => { None };
    (@entry $name:ident $next:literal) => { Some(&nexts::$name) };
    (@returns) => { $crate::Message };
    (@returns $next:literal) => { $crate::Advice };
    (@made $name:ident $values:ident) => { $crate::Message::new(&texts::$name, $values) };
    (@made $name:ident $values:ident $next:literal) => {
        $crate::Advice {
            next: $crate::Message::new(&nexts::$name, $values.clone()),
            says: $crate::Message::new(&texts::$name, $values),
        }
    };
    (@type Number) => { usize };
    (@type Nth) => { usize };
    (@type Side) => { crenel_geometry::ring::Side };
    (@type Flank) => { crenel_geometry::ring::FlankSide };
    (@type Stroke) => { crenel_geometry::selector::Stroke };
    (@type Facing) => { crenel_geometry::stack::Facing };
    (@type Outcome) => { crenel_geometry::shift::Outcome };
    (@type Ends) => { crenel_geometry::selector::Ends };
    (@type List) => { Vec<$crate::Value> };
    (@type Pick) => { &'static str };
    (@type Given) => { String };
    (@type Label) => { $crate::Label };
    (@type Verbatim) => { String };
    (@type Message) => { $crate::Message };
    (@type Value) => { $crate::Value };
    (@type $quantity:ident) => { f64 };
    (@value Number $value:ident) => { $crate::Value::how_many($value) };
    (@value Nth $value:ident) => { $crate::Value::how_many($value + 1) };
    (@value Side $value:ident) => { $crate::Value::from($value) };
    (@value Flank $value:ident) => { $crate::Value::from($value) };
    (@value Stroke $value:ident) => { $crate::Value::from($value) };
    (@value Facing $value:ident) => { $crate::Value::from($value) };
    (@value Outcome $value:ident) => { $crate::Value::from($value) };
    (@value Ends $value:ident) => { $crate::Value::from($value) };
    (@value List $value:ident) => { $crate::Value::List($value) };
    (@value Pick $value:ident) => { $crate::Value::Pick($value) };
    (@value Given $value:ident) => { $crate::Value::Given($value) };
    (@value Verbatim $value:ident) => { $crate::Value::Verbatim($value) };
    (@value Label $value:ident) => { $crate::Value::Label($value) };
    (@value Message $value:ident) => { $crate::Value::from($value) };
    (@value Value $value:ident) => { $value };
    (@value $quantity:ident $value:ident) => {
        $crate::Value::Number(crenel_geometry::units::Quantity::$quantity, $value)
    };
}
