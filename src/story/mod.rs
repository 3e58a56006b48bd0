//! Six short stories: each gives a design for the one thing that is dragged, asks a question, and answers it by the model.
//!
//! [`STORIES`] is the catalogue. A story holds no formula: its design is worked out like any other, and its answer is
//! read off the figures of a few such designs.

mod doors;
mod even;
mod faces;
mod lean;
mod row;
mod search;
mod throttle;
mod two;

use crenel_words::{Message, Phrase, Value, story as say};

use crate::analysis::Analysis;
use crate::design::{Design, example};
use crate::draw::View;
use crate::fields::FieldId;
use crate::figures::{Figure, FigureValue, some_figures};
use crate::units::Quantity;

/// The stories, in the order in which they are told.
pub static STORIES: [&Story; 6] =
    [&doors::STORY, &row::STORY, &two::STORY, &throttle::STORY, &lean::STORY, &faces::STORY];

/// Their names, for whom the names are enough.
pub const KEYS: [&str; 6] = ["doors", "row", "two", "throttle", "lean", "faces"];

/// One story.
pub struct Story {
    /// Its name in links.
    pub key: &'static str,
    /// Its title.
    pub title: Phrase,
    /// What it tells, at most 90 words.
    pub told: Phrase,
    /// What is dragged. The first is the one thing; others go with it.
    pub drags: &'static [Drag],
    /// The guess that is asked for.
    pub guess: Guess,
    /// Whether its shift is played as a film.
    pub is_film: bool,
    /// What shows its design.
    pub views: &'static [&'static View],
    /// The figures that stand beside the drawing.
    pub shown: &'static [&'static Figure],
    asked: fn(&Design) -> Message,
    design: fn(&Design, &[f64]) -> Design,
    answer: fn(&Design) -> Option<Answer>,
    /// The figure that says why there is no answer.
    decides: &'static Figure,
}

/// A number that is dragged.
pub struct Drag {
    /// Its name.
    pub name: Phrase,
    /// What kind of number it is.
    pub quantity: Quantity,
    /// Whether it is on or off: 1 or 0.
    pub is_switch: bool,
    /// The number of the design that a press on a chart takes hold of for it.
    pub handle: Option<FieldId>,
    span: fn(&Design) -> Span,
}

/// The guess at an answer.
pub struct Guess {
    /// What is guessed.
    pub name: Phrase,
    /// What kind of number it is.
    pub quantity: Quantity,
    span: fn(&Design) -> Span,
}

/// How far a number can be dragged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The least.
    pub min: f64,
    /// The greatest.
    pub max: f64,
    /// One step.
    pub step: f64,
    /// Where it begins.
    pub start: f64,
}

/// What the model answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The number asked for; `None` where no number in reach answers it.
    pub value: Option<f64>,
    /// The answer in sentences.
    pub says: Vec<Message>,
    /// The heads of the table of what was tried.
    pub heads: Vec<Phrase>,
    /// Its rows.
    pub rows: Vec<Vec<Value>>,
    /// The figures that decide, with formula, working and source.
    pub figures: Vec<FigureValue>,
}

impl Story {
    /// The story with a name.
    pub fn named(key: &str) -> Option<&'static Self> {
        STORIES.into_iter().find(|story| story.key == key)
    }

    /// Where its numbers begin on these gears.
    pub fn starts(&self, base: &Design) -> Vec<f64> {
        self.drags.iter().map(|drag| drag.span(base).start).collect()
    }

    /// The question about these gears.
    pub fn asked(&self, base: &Design) -> Message {
        (self.asked)(base)
    }

    /// The design for what was dragged. A number that is missing is where it begins, and one out of its span at the
    /// end of it.
    pub fn design(&self, base: &Design, values: &[f64]) -> Design {
        let value = |(at, drag): (usize, &Drag)| {
            let span = drag.span(base);
            let value = values.get(at).copied().filter(|value| value.is_finite());
            value.unwrap_or(span.start).max(span.min).min(span.max)
        };
        let values: Vec<f64> = self.drags.iter().enumerate().map(value).collect();
        (self.design)(base, &values)
    }

    /// The figures beside the drawing, for those that the design has.
    pub fn figures(&self, analysis: &Analysis) -> Vec<FigureValue> {
        some_figures(self.shown.iter().copied(), analysis)
    }

    /// The model's answer for these gears. Where there is none it says why.
    pub fn answer(&self, base: &Design) -> Answer {
        (self.answer)(base).unwrap_or_else(|| {
            let analysis = Analysis::of(&self.design(base, &[]));
            let figures = some_figures([self.decides], &analysis);
            let error = || analysis.findings.first().map(|finding| finding.says.clone());
            let why = figures.first().map(|figure| figure.working.clone()).or_else(error);
            Answer {
                value: None,
                says: why.map(say::no_answer).into_iter().collect(),
                heads: Vec::new(),
                rows: Vec::new(),
                figures,
            }
        })
    }

    /// What is said to a guess, where there is a number to hold it against.
    pub fn verdict(&self, base: &Design, guess: f64, answer: &Answer) -> Option<Message> {
        let value = answer.value?;
        let [guessed, told] = [guess, value].map(|v| Value::Result(self.guess.quantity, v));
        let close = (guess - value).abs() <= self.guess.span(base).step / 2.0;
        Some(if close { say::guess_right(guessed) } else { say::guess_off(guessed, told) })
    }
}

impl Drag {
    /// How far it can be dragged on these gears.
    pub fn span(&self, base: &Design) -> Span {
        (self.span)(base)
    }
}

impl Guess {
    /// How far it can be dragged on these gears.
    pub fn span(&self, base: &Design) -> Span {
        (self.span)(base)
    }
}

impl std::fmt::Debug for Story {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.key)
    }
}

impl PartialEq for Story {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

/// The gears that a story is told of: those of the example.
pub fn told_of() -> Design {
    example()
}

#[cfg(test)]
mod tests;
