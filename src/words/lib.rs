//! The catalogue of sentences.
//!
//! A sentence is a [`Text`] with a key. Code never writes one: it names the text, gives it its values and
//! passes the [`Message`] on. Only where somebody reads it – on the screen, on paper, on the command line –
//! does it become words, in the [`Language`] and the units of the reader.
//!
//! ```
//! use crenel_geometry::units::DisplayUnits;
//! use crenel_words::{Language, Reader, finding};
//! let message = finding::rings_apart(-0.5).says;
//! let reader = Reader { units: DisplayUnits::default(), language: Language::British };
//! assert_eq!(message.key(), "finding.rings_apart");
//! assert!(message.show(reader).starts_with("At an overlap of −0.5 mm"));
//! ```
//!
//! # How a text is written
//!
//! | in the text | means |
//! |---|---|
//! | `{gap}` | a value, written as its kind asks |
//! | `{label, lower}` | a value that begins in the middle of a sentence, with a small letter |
//! | `{dogs, plural, one {# dog} other {# dogs}}` | by number; `=0 {…}` for exactly 0 |
//! | `{dogs, list, each {, } last { and }}` | the values of a list, with what is between two and before the last |
//! | `{flank, select, drive {drive flank} other {coast flank}}` | by a word that the code gives |
//! | `[tyre\|tire]` | British English, American English |
//!
//! Plurals and choices are those of ICU MessageFormat, an open notation.

mod dictionary;
mod language;
mod message;
#[macro_use]
mod sentences;
mod text;
mod write;

pub mod caution;
pub mod compare;
pub mod diagnosis;
pub mod drawing;
pub mod export;
pub mod figure;
pub mod file;
pub mod finding;
pub mod gearset;
pub mod inspection;
pub mod link;
pub mod measured;
pub mod outcome;
pub mod page;
pub mod place;
pub mod reference;
pub mod sheet;
pub mod step;
pub mod story;
pub mod suggest;
pub mod variant;
pub mod verdict;
pub mod working;

pub use dictionary::{Dictionary, DictionaryError};
pub use language::{Language, Reader};
pub use message::{Advice, Label, Message, Phrase, Value};
pub use text::{Entry, Text};
pub use write::{Words, map_words};

/// Every sentence, by subject.
pub static CATALOGUE: &[&[Entry]] = &[
    caution::ENTRIES,
    compare::ENTRIES,
    diagnosis::ENTRIES,
    drawing::ENTRIES,
    export::ENTRIES,
    figure::ENTRIES,
    file::ENTRIES,
    finding::ENTRIES,
    gearset::ENTRIES,
    inspection::ENTRIES,
    link::ENTRIES,
    measured::ENTRIES,
    outcome::ENTRIES,
    page::common::ENTRIES,
    page::compare::ENTRIES,
    page::cut::ENTRIES,
    page::depth::ENTRIES,
    page::designs::ENTRIES,
    page::drawing::ENTRIES,
    page::figure::ENTRIES,
    page::files::ENTRIES,
    page::find::ENTRIES,
    page::frame::ENTRIES,
    page::help::ENTRIES,
    page::learn::ENTRIES,
    page::load::ENTRIES,
    page::measured::ENTRIES,
    page::papers::ENTRIES,
    page::photo::ENTRIES,
    page::rest::ENTRIES,
    page::results::ENTRIES,
    page::rework::ENTRIES,
    page::rings::ENTRIES,
    page::selector::ENTRIES,
    page::shift::ENTRIES,
    page::start::ENTRIES,
    page::trace::ENTRIES,
    page::variants::ENTRIES,
    page::whole::ENTRIES,
    place::ENTRIES,
    reference::ENTRIES,
    sheet::ENTRIES,
    step::ENTRIES,
    story::ENTRIES,
    suggest::ENTRIES,
    variant::ENTRIES,
    verdict::ENTRIES,
    working::ENTRIES,
];
