//! A sentence with its values, before it is words.

use crenel_geometry::ring::{FlankSide, Side};
use crenel_geometry::selector::{Ends, Stroke};
use crenel_geometry::shift::Outcome;
use crenel_geometry::stack::Facing;
use crenel_geometry::units::{ABSENT, Quantity};

use crate::text::Text;

/// A text that is in the row of a table: the name of a figure, what an input means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Label {
    /// Kind of the row, key of the row, part: together the key of the text, as in `figure.lash_deg.label`.
    pub key: [&'static str; 3],
    /// Its English, with both spellings where they differ.
    pub english: &'static str,
}

/// A sentence without values, as the tables of the page hold it: the function of the catalogue itself.
pub type Phrase = fn() -> Message;

/// The values of a message by their names.
type Values = Vec<(&'static str, Value)>;

/// A value of a message.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with its unit: as it was typed, or rounded as a result.
    Number(Quantity, f64),
    /// A result with its unit, rounded as every result is.
    Result(Quantity, f64),
    /// A number of a working with its unit: as it was typed, or one digit finer than a result.
    Working(Quantity, f64),
    /// A tolerance that follows from others, never finer than a tenth of itself.
    Tolerance(Quantity, f64),
    /// A limit that must not be exceeded, rounded down.
    AtMost(Quantity, f64),
    /// A limit that must be reached, rounded up.
    AtLeast(Quantity, f64),
    /// A size to which a shop works, with all the digits it has.
    Size(Quantity, f64),
    /// A number as somebody gave it, with every digit.
    Exact(Quantity, f64),
    /// Which case of a choice applies.
    Pick(&'static str),
    /// A name or text that the user gave. It is cut short and kept on one line.
    Given(String),
    /// Words that are the same in every language: a symbol, a key of a file.
    Verbatim(String),
    /// A word of a table's row.
    Label(Label),
    /// A text of the catalogue inside another one.
    Message(Box<Message>),
    /// Several values one after the other.
    List(Vec<Self>),
}

impl Value {
    /// A number of things.
    pub const fn count_of(number: f64) -> Self {
        Self::Number(Quantity::Count, number)
    }

    /// How many things there are.
    #[expect(clippy::cast_precision_loss, reason = "nobody counts that far")]
    pub const fn how_many(number: usize) -> Self {
        Self::count_of(number as f64)
    }

    /// What is shown where there is no value.
    pub fn absent() -> Self {
        Self::Verbatim(ABSENT.to_owned())
    }

    /// The quantity and the number, if it is one.
    pub const fn quantity(&self) -> Option<(Quantity, f64)> {
        match self {
            Self::Number(quantity, value)
            | Self::Result(quantity, value)
            | Self::Working(quantity, value)
            | Self::Tolerance(quantity, value)
            | Self::Size(quantity, value)
            | Self::AtMost(quantity, value)
            | Self::AtLeast(quantity, value)
            | Self::Exact(quantity, value) => Some((*quantity, *value)),
            _ => None,
        }
    }

    /// The quantity and the number, if it is one that is rounded for the reader.
    pub(crate) const fn rounded(&self) -> Option<(Quantity, f64)> {
        match self {
            Self::Number(quantity, value) | Self::Result(quantity, value) => {
                Some((*quantity, *value))
            }
            _ => None,
        }
    }

    /// The number, if it is one, in the unit of its quantity.
    pub fn as_number(&self) -> Option<f64> {
        self.quantity().map(|(_, value)| value)
    }
}

impl From<Side> for Value {
    fn from(side: Side) -> Self {
        Self::Verbatim(side.letter().to_owned())
    }
}

impl From<FlankSide> for Value {
    fn from(flank: FlankSide) -> Self {
        Self::Pick(match flank {
            FlankSide::Drive => "drive",
            FlankSide::Coast => "coast",
        })
    }
}

impl From<Stroke> for Value {
    fn from(stroke: Stroke) -> Self {
        Self::Pick(match stroke {
            Stroke::Lift => "lift",
            Stroke::Press => "press",
        })
    }
}

impl From<Facing> for Value {
    fn from(facing: Facing) -> Self {
        Self::Pick(match facing {
            Facing::This => "this",
            Facing::Other => "other_pair",
        })
    }
}

impl From<Outcome> for Value {
    fn from(outcome: Outcome) -> Self {
        Self::Pick(outcome.key())
    }
}

impl From<Ends> for Value {
    fn from(ends: Ends) -> Self {
        Self::Pick(ends.key())
    }
}

impl From<Message> for Value {
    fn from(message: Message) -> Self {
        Self::Message(Box::new(message))
    }
}

/// A text of the catalogue with its values.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    text: &'static Text,
    values: Values,
}

impl Message {
    /// A message with its values. The functions of the catalogue make it, so that none is left out.
    pub const fn new(text: &'static Text, values: Values) -> Self {
        Self { text, values }
    }

    /// Its text.
    pub(crate) const fn text(&self) -> &'static Text {
        self.text
    }

    /// The key of its text.
    pub const fn key(&self) -> &'static str {
        self.text.key
    }

    /// The values by their names, in the order of the catalogue.
    pub fn values(&self) -> &[(&'static str, Value)] {
        &self.values
    }

    /// The numbers among its values, in the order of the catalogue.
    pub fn numbers(&self) -> impl Iterator<Item = (Quantity, f64)> {
        self.values.iter().filter_map(|(_, value)| value.quantity())
    }
}

/// What is so, and the next thing to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// The fact with its numbers.
    pub says: Message,
    /// The next thing to do.
    pub next: Message,
}
