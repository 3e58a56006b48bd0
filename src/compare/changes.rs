//! What a plan of work changes: every figure as found and as cut.

use crenel_words::{Message, Reader, Value, compare as say};

use crate::analysis::Analysis;
use crate::figures::{Better, Figure, FigureValue, pair_figures};
use crate::units::sort_by_number;

/// Relative changes smaller than this are rounding, not changes.
const SAME: f64 = 1e-9;

/// Which way a number went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It went the way a builder wants.
    Better,
    /// It went the other way.
    Worse,
    /// It went up, which is neither better nor worse by itself.
    More,
    /// It went down, which is neither better nor worse by itself.
    Less,
}

impl Verdict {
    /// Its name in style sheets, which show only better and worse.
    pub const fn way(self) -> &'static str {
        match self {
            Self::Better => "better",
            Self::Worse => "worse",
            Self::More | Self::Less => "other",
        }
    }

    /// The word for it.
    pub fn word(self) -> Message {
        match self {
            Self::Better => say::better(),
            Self::Worse => say::worse(),
            Self::More => say::more(),
            Self::Less => say::less(),
        }
    }

    /// Which way a figure went from its earlier number. `None` if it has no number now, is unchanged, or
    /// looks unchanged in the digits shown.
    pub fn between(now: &FigureValue, before: f64) -> Option<Self> {
        let by = now.value? - before;
        if by.abs() <= SAME * before.abs().max(1.0) || now.looks_like(before) {
            return None;
        }
        Some(match (now.figure.better, by > 0.0) {
            (Better::More, true) | (Better::Less, false) => Self::Better,
            (Better::More, false) | (Better::Less, true) => Self::Worse,
            (Better::Neither, true) => Self::More,
            (Better::Neither, false) => Self::Less,
        })
    }
}

/// One figure as found and as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Which figure.
    pub figure: &'static Figure,
    /// The number as found, if there is one.
    pub was: Option<f64>,
    /// The number as cut, if there is one.
    pub is: Option<f64>,
    /// What is shown for the ring as found; `None` if the figure did not apply.
    pub before: Option<Value>,
    /// What is shown for the ring as cut; `None` if the figure no longer applies.
    pub after: Option<Value>,
    /// Which way it went; `None` if it is unchanged or there are not two numbers to compare.
    pub verdict: Option<Verdict>,
    /// The relative change, positive for more; `None` if the number as found is 0 or absent.
    pub by: Option<f64>,
}

impl Change {
    /// Whether the number or its text changed.
    pub fn is_one(&self) -> bool {
        // Numbers that differ by rounding are shown alike.
        let text = |value: &Option<Value>| value.as_ref().map(|v| v.show(Reader::default()));
        self.verdict.is_some() || text(&self.before) != text(&self.after)
    }

    /// The figure with what is shown before and after.
    fn words(&self) -> Value {
        let shown = |value: &Option<Value>| value.clone().unwrap_or_else(|| say::absent().into());
        say::change(self.figure.name(), shown(&self.before), shown(&self.after)).into()
    }
}

/// Every figure of the pair, as found and as cut, in the order of the headings.
pub fn changes(found: &Analysis, cut: &Analysis) -> Vec<Change> {
    let (before, after) = (pair_figures(found), pair_figures(cut));
    let gone = before.iter().filter(|f| after.iter().all(|now| now.figure != f.figure));
    let mut changes: Vec<_> = after.iter().map(|now| change(&before, now)).collect();
    changes.extend(gone.map(|gone| Change {
        figure: gone.figure,
        was: gone.value,
        is: None,
        before: Some(gone.to_value()),
        after: None,
        verdict: None,
        by: None,
    }));
    changes
}

fn change(before: &[FigureValue], now: &FigureValue) -> Change {
    let was = before.iter().find(|f| f.figure == now.figure);
    let number = was.and_then(|f| f.value);
    let by = number.zip(now.value).filter(|(was, _)| *was != 0.0);
    Change {
        was: number,
        before: was.map(FigureValue::to_value),
        after: Some(now.to_value()),
        verdict: number.and_then(|was| Verdict::between(now, was)),
        by: by.map(|(was, is)| (is - was) / was.abs()),
        figure: now.figure,
        is: now.value,
    }
}

/// How many changes a sentence names; the table has the rest.
const NAMED: usize = 6;

/// A sentence on what got better and one on what got worse, the largest relative change first; `None` if
/// there is nothing to name.
pub fn verdict_words(changes: &[Change]) -> [Option<Message>; 2] {
    [
        named(changes, Verdict::Better, say::gets_better, say::gets_better_with_more),
        named(changes, Verdict::Worse, say::gets_worse, say::gets_worse_with_more),
    ]
}

fn named(
    changes: &[Change],
    verdict: Verdict,
    all: fn(Vec<Value>) -> Message,
    some: fn(Vec<Value>, usize) -> Message,
) -> Option<Message> {
    let mut list: Vec<_> = changes.iter().filter(|c| c.verdict == Some(verdict)).collect();
    sort_by_number(&mut list, |change| -change.by.map_or(f64::INFINITY, f64::abs));
    let others = list.len().saturating_sub(NAMED);
    let named: Vec<_> = list.into_iter().take(NAMED).map(Change::words).collect();
    match (named.is_empty(), others) {
        (true, _) => None,
        (_, 0) => Some(all(named)),
        _ => Some(some(named, others)),
    }
}
