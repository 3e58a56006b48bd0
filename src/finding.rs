//! Findings: what is wrong or worth knowing, as data with its numbers.

mod class;
mod geometry;

use crenel_words::{Advice, Message, Reader};

#[cfg(test)]
pub(crate) use class::CLASSES;
pub use class::Class;
use class::class_of;

use crate::fields::Slot;
use crate::gauge::Gauge;
use crate::units::Quantity;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know.
    Note,
    /// Works, but somebody should look at it.
    Warning,
    /// Cannot be computed or made as it stands.
    Error,
}

impl Severity {
    /// All of them, the gravest last.
    pub const ALL: [Self; 3] = [Self::Note, Self::Warning, Self::Error];

    /// The word for it, in files and on the screen.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// One finding: a fact with its numbers, and what to do next.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// A stable name for programs.
    pub code: &'static str,
    /// The input it is about, where there is one.
    pub place: Option<Slot>,
    /// The number that is past its limit. It is boxed because a finding is also an error, and those are small.
    pub(crate) gauge: Option<Box<Gauge>>,
    /// The fact.
    pub says: Message,
    /// The next thing to do.
    pub next: Message,
}

impl Finding {
    fn new(severity: Severity, advice: Advice) -> Self {
        let Advice { says, next } = advice;
        let code = says.key().rsplit('.').next().unwrap_or_default();
        Self { severity, code, place: None, gauge: None, says, next }
    }

    /// A finding that stops the computation.
    pub fn error(advice: Advice) -> Self {
        Self::new(Severity::Error, advice)
    }

    /// A finding to look at.
    pub fn warning(advice: Advice) -> Self {
        Self::new(Severity::Warning, advice)
    }

    /// A finding that is good to know.
    pub fn note(advice: Advice) -> Self {
        Self::new(Severity::Note, advice)
    }

    /// Names the input it is about.
    #[must_use]
    pub fn at(mut self, place: Slot) -> Self {
        self.place = Some(place);
        self
    }

    /// Adds the number that is past its limit.
    #[must_use]
    pub(crate) fn past(mut self, gauge: impl Into<Option<Gauge>>) -> Self {
        self.gauge = gauge.into().map(Box::new);
        self
    }

    /// The number that is past its limit, where there is one.
    pub fn gauge(&self) -> Option<Gauge> {
        self.gauge.as_deref().copied()
    }

    /// How grave it is; [`Class::Within`] for a note, which is past no limit.
    pub fn class(&self) -> Class {
        match self.severity {
            Severity::Error => Class::Unknown,
            Severity::Warning => class_of(self.code).unwrap_or(Class::Gain),
            Severity::Note => Class::Within,
        }
    }

    /// By which share it is past its limit; 1 where it has no number for that, and 0 for a note.
    pub fn excess(&self) -> f64 {
        match self.severity {
            Severity::Note => 0.0,
            _ => self.gauge().map_or(1.0, |gauge| gauge.excess()),
        }
    }

    /// The fact in the words of a reader.
    pub fn text(&self, reader: Reader) -> String {
        self.says.show(reader)
    }

    /// The next thing to do in the words of a reader.
    pub fn hint(&self, reader: Reader) -> String {
        self.next.show(reader)
    }

    /// The fact and the next thing to do.
    pub fn whole(&self, reader: Reader) -> String {
        format!("{} {}", self.says.show(reader), self.next.show(reader))
    }

    /// Its numbers, in the order in which the catalogue names them.
    pub fn numbers(&self) -> Vec<(Quantity, f64)> {
        self.says.numbers().collect()
    }
}

/// Whether any of the findings stops the computation.
pub fn any_error(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.severity == Severity::Error)
}
