//! Findings: what is wrong or worth knowing, as data with its numbers.

mod geometry;

use crate::fields::Slot;
use crate::units::{DisplayUnits, Quantity};

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
    /// The next thing to do.
    pub hint: String,
    /// The numbers, in the order in which the sentence uses them.
    pub numbers: Vec<(Quantity, f64)>,
    /// The sentence, with `{}` for each number.
    template: String,
}

impl Finding {
    fn new(severity: Severity, code: &'static str) -> Self {
        let (hint, template) = (String::new(), String::new());
        Self { severity, code, place: None, hint, numbers: Vec::new(), template }
    }

    /// A finding that stops the computation.
    pub fn error(code: &'static str) -> Self {
        Self::new(Severity::Error, code)
    }

    /// A finding to look at.
    pub fn warning(code: &'static str) -> Self {
        Self::new(Severity::Warning, code)
    }

    /// A finding that is good to know.
    pub fn note(code: &'static str) -> Self {
        Self::new(Severity::Note, code)
    }

    /// Names the input it is about.
    #[must_use]
    pub fn at(mut self, place: Slot) -> Self {
        self.place = Some(place);
        self
    }

    /// Gives the sentence; each `{}` stands for the next of the numbers.
    #[must_use]
    pub fn says(mut self, template: impl Into<String>, numbers: &[(Quantity, f64)]) -> Self {
        self.template = template.into();
        self.numbers = numbers.to_vec();
        self
    }

    /// Gives the next thing to do.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }

    /// The sentence with its numbers in the reader's units.
    pub fn text(&self, units: DisplayUnits) -> String {
        let mut pieces = self.template.split("{}");
        let mut text = pieces.next().unwrap_or_default().to_owned();
        for (piece, &(quantity, value)) in pieces.zip(&self.numbers) {
            text += &quantity.show(value, units);
            text += piece;
        }
        text
    }
}

/// Whether any of the findings stops the computation.
pub fn any_error(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.severity == Severity::Error)
}
