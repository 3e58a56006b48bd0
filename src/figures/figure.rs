//! A figure: its row in the catalogue, and its value for one design.

use std::fmt;

use crenel_words::{Label, Message, Phrase, Reader, Value, figure as say};

use super::context::{Context, PairContext, PartsContext};
use crate::design::{Design, Need};
use crate::fields::{FieldId, Slot};
use crate::gauge::Gauge;
use crate::limits::Limit;
use crate::model::Worked;
use crate::units::{DisplayUnits, Quantity};

/// Which direction of change a builder wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More is better.
    More,
    /// Less is better.
    Less,
    /// Neither by itself.
    Neither,
}

/// The heading that a figure belongs under.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Group {
    /// How the dogs get in: windows and free angles.
    Entry,
    /// Lash, once the gear is in.
    Lash,
    /// Times of windows and travel.
    Time,
    /// How a shift ends.
    Shift,
    /// How hard the dogs meet.
    Blow,
    /// The load on the dogs, and whether they stay in.
    Strength,
    /// The metal of the dogs.
    Metal,
    /// From the pedal to the fork.
    Selector,
    /// Depth along the shaft.
    Depth,
}

impl Group {
    /// All headings in order.
    pub const ALL: [Self; 9] = [
        Self::Entry,
        Self::Lash,
        Self::Time,
        Self::Shift,
        Self::Blow,
        Self::Strength,
        Self::Metal,
        Self::Selector,
        Self::Depth,
    ];

    /// Whether its figures are estimates: strength and shock are.
    pub const fn is_estimate(self) -> bool {
        matches!(self, Self::Blow | Self::Strength)
    }

    /// The heading.
    pub fn title(self) -> Message {
        match self {
            Self::Entry => say::getting_in(),
            Self::Lash => say::once_in(),
            Self::Time => say::time(),
            Self::Shift => say::does_it_go_in(),
            Self::Blow => say::engagement_shock(),
            Self::Strength => say::will_it_hold(),
            Self::Metal => say::metal(),
            Self::Selector => say::pedal_to_fork(),
            Self::Depth => say::depth_along_shaft(),
        }
    }
}

/// A row of the catalogue: a figure and how it is worked out.
pub struct Figure {
    /// Stable key in files, with the unit in it.
    pub key: &'static str,
    /// The heading it belongs under.
    pub group: Group,
    /// Its name.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// The direction that is better.
    pub better: Better,
    /// Its limit, if it has one.
    pub limit: Option<Limit>,
    /// What it needs beside the sizes of the rings and the numbers that can be assumed.
    pub needs: &'static [Need],
    /// The formula, in symbols as far as they go.
    pub formula: &'static str,
    /// What it is and why it matters to a builder of gearboxes, in a sentence or two.
    pub meaning: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
    /// Every answer in words that it can give; empty if it is always a number.
    pub words: fn() -> Vec<Message>,
    /// How it is worked out.
    pub(super) compute: Compute,
}

/// What is said in place of a result that needs the number at a slot.
pub fn needs(slot: Slot) -> Phrase {
    match slot.field() {
        FieldId::SlipSpeed => say::needs_speed,
        FieldId::UpAt | FieldId::DownAt => say::needs_shift_speed,
        FieldId::ThrottleTorque | FieldId::EngineTorque => say::needs_torque,
        FieldId::TipFriction => say::needs_tip_friction,
        FieldId::FlankFriction | FieldId::SplineFriction => say::needs_friction,
        _ => say::needs_ratios,
    }
}

/// The function that works out a figure. It returns `None` if the design has no such figure.
pub(super) enum Compute {
    /// From the pair of rings.
    Pair(fn(&PairContext<'_>) -> Option<Answer>),
    /// From the parts between foot and dogs.
    Parts(fn(&PartsContext<'_>) -> Option<Answer>),
}

/// The result of that function for one design.
pub(super) struct Answer {
    value: Option<f64>,
    words: Option<Message>,
    absent: Phrase,
    formula: Option<&'static str>,
    working: Message,
}

impl Answer {
    /// A number with its working. If the number is absent, the working says why. A number that is not finite
    /// counts as absent.
    pub(super) fn number(value: impl Into<Option<f64>>, working: Message) -> Self {
        let value = value.into().filter(|value| value.is_finite());
        Self { value, words: None, absent: say::none, formula: None, working }
    }

    /// An answer in words, if a number would say too little.
    pub(super) fn words(words: Message, working: Message) -> Self {
        Self { words: Some(words), ..Self::number(None, working) }
    }

    /// Adds the number behind the words.
    pub(super) fn with_number(self, value: f64) -> Self {
        Self { value: Some(value).filter(|value| value.is_finite()), ..self }
    }

    /// The answer while nobody knows the number at a slot.
    fn needing(slot: Slot) -> Self {
        let needs = needs(slot);
        Self::number(None, needs()).absent(needs)
    }

    /// Sets the text shown if there is neither a number nor words.
    pub(super) fn absent(self, absent: Phrase) -> Self {
        Self { absent, ..self }
    }

    /// Puts the working into a sentence.
    pub(super) fn working_in(self, sentence: impl FnOnce(Message) -> Message) -> Self {
        Self { working: sentence(self.working), ..self }
    }

    /// Replaces the formula of the row by the one that this design needs, in symbols alone.
    pub(super) fn by(self, formula: &'static str) -> Self {
        Self { formula: Some(formula), ..self }
    }
}

impl Figure {
    /// Its value for one design; `None` if the design has no such figure.
    pub(super) fn value(&'static self, context: &Context<'_>) -> Option<FigureValue> {
        let answer = match self.compute {
            Compute::Pair(compute) => {
                let pair = context.pair.as_ref()?;
                let missing = self.missing(&pair.worked.design);
                missing.map_or_else(|| compute(pair), |slot| Some(Answer::needing(slot)))
            }
            Compute::Parts(compute) => compute(&context.parts),
        }?;
        Some(FigureValue {
            figure: self,
            value: answer.value,
            words: answer.words,
            absent: (answer.absent)(),
            formula: answer.formula.map_or(self.how(), |own| self.row("formula_here", own)),
            working: answer.working,
        })
    }

    /// The first number that it needs and that nobody knows.
    pub fn missing(&self, design: &Design) -> Option<Slot> {
        design.missing_of(self.needs)
    }

    /// Whether its answer is a number, and not words.
    pub fn is_number(&self) -> bool {
        (self.words)().is_empty()
    }

    /// Whether it is a figure of the pair of rings.
    pub const fn is_of_pair(&self) -> bool {
        matches!(self.compute, Compute::Pair(_))
    }

    /// A value of it beside the limit of a design, if it has one.
    pub fn gauge(&self, value: f64, worked: &Worked) -> Option<Gauge> {
        (self.limit?)(worked, value)
    }
}

impl PartialEq for Figure {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

impl Figure {
    const fn row(&self, part: &'static str, english: &'static str) -> Label {
        Label { key: ["figure", self.key, part], english }
    }

    /// Its name, as a text of the catalogue.
    pub const fn name(&self) -> Label {
        self.row("label", self.label)
    }

    /// What it is and why it matters, as a text of the catalogue.
    pub const fn what_it_is(&self) -> Label {
        self.row("meaning", self.meaning)
    }

    /// Its formula, as a text of the catalogue.
    pub const fn how(&self) -> Label {
        self.row("formula", self.formula)
    }

    /// Where its formula is from, as a text of the catalogue.
    pub const fn from_where(&self) -> Label {
        self.row("source", self.source)
    }
}

impl fmt::Debug for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key)
    }
}

/// A figure of one design.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureValue {
    /// Which figure.
    pub figure: &'static Figure,
    /// The number; if it is absent, `working` says why.
    pub value: Option<f64>,
    /// An answer in words, where a number says too little.
    pub words: Option<Message>,
    /// The text shown if there is neither.
    pub absent: Message,
    /// The formula, as this design needs it.
    pub formula: Label,
    /// The formula with the numbers of the design.
    pub working: Message,
}

impl FigureValue {
    /// Whether another number would be shown with the same text.
    pub(crate) fn looks_like(&self, value: f64) -> bool {
        let show = |value| self.figure.quantity.show_result(value, DisplayUnits::default());
        self.value.is_some_and(|own| show(own) == show(value))
    }

    /// The text shown: the words, the number with its unit, or the text for an absent one.
    pub fn shown(&self, reader: Reader) -> String {
        self.to_value().show(reader)
    }

    /// The text shown, with every significant digit.
    pub fn shown_fully(&self, reader: Reader) -> String {
        self.value_by(Value::Number).show(reader)
    }

    /// What is shown, as a value of a sentence.
    pub fn to_value(&self) -> Value {
        self.value_by(Value::Result)
    }

    fn value_by(&self, number: fn(Quantity, f64) -> Value) -> Value {
        match (&self.words, self.value) {
            (Some(words), _) => words.clone().into(),
            (None, Some(value)) => number(self.figure.quantity, value),
            (None, None) => self.absent.clone().into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::figures::LASH;

    #[test]
    fn a_test_that_fails_prints_a_figure_by_its_key() {
        assert_eq!(format!("{LASH:?}"), "lash_deg");
    }
}
