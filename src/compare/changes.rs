//! What a plan of work changes: every figure as found and as cut.

use crenel_words::Language;

use crate::analysis::Analysis;
use crate::figures::{Better, Figure, FigureValue, pair_figures};
use crate::units::{DisplayUnits, sort_by_number};

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
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Better => "better",
            Self::Worse => "worse",
            Self::More => "more",
            Self::Less => "less",
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
    /// The text shown for the ring as found; `None` if the figure did not apply.
    pub before: Option<String>,
    /// The text shown for the ring as cut; `None` if the figure no longer applies.
    pub after: Option<String>,
    /// Which way it went; `None` if it is unchanged or there are not two numbers to compare.
    pub verdict: Option<Verdict>,
    /// The relative change, positive for more; `None` if the number as found is 0 or absent.
    pub by: Option<f64>,
}

impl Change {
    /// Whether the number or its text changed.
    pub fn is_one(&self) -> bool {
        self.verdict.is_some() || self.before != self.after
    }
}

/// Every figure of the pair, as found and as cut, in the order of the headings.
pub fn changes(found: &Analysis, cut: &Analysis, units: DisplayUnits) -> Vec<Change> {
    let (before, after) = (pair_figures(found, units), pair_figures(cut, units));
    let gone = before.iter().filter(|f| after.iter().all(|now| now.figure != f.figure));
    let mut changes: Vec<_> = after.iter().map(|now| change(&before, now, units)).collect();
    changes.extend(gone.map(|gone| Change {
        figure: gone.figure,
        was: gone.value,
        is: None,
        before: Some(gone.shown(units)),
        after: None,
        verdict: None,
        by: None,
    }));
    changes
}

fn change(before: &[FigureValue], now: &FigureValue, units: DisplayUnits) -> Change {
    let was = before.iter().find(|f| f.figure == now.figure);
    let number = was.and_then(|f| f.value);
    let by = number.zip(now.value).filter(|(was, _)| *was != 0.0);
    Change {
        was: number,
        before: was.map(|f| f.shown(units)),
        after: Some(now.shown(units)),
        verdict: number.and_then(|was| Verdict::between(now, was)),
        by: by.map(|(was, is)| (is - was) / was.abs()),
        figure: now.figure,
        is: now.value,
    }
}

/// How many changes a sentence names; the table has the rest.
const NAMED: usize = 6;

/// Two sentences: what got better and what got worse, the largest relative change first. A sentence is
/// empty if it has nothing to name.
pub fn verdict_words(changes: &[Change]) -> [String; 2] {
    let told = |verdict: Verdict| {
        let mut list: Vec<&Change> =
            changes.iter().filter(|change| change.verdict == Some(verdict)).collect();
        let size = |change: &Change| change.by.map_or(f64::INFINITY, f64::abs);
        sort_by_number(&mut list, |change| -size(change));
        let more = list.len().saturating_sub(NAMED);
        let mut told: Vec<_> = list.into_iter().take(NAMED).map(words).collect();
        told.extend((more > 0).then(|| format!("and {more} more")));
        told
    };
    let sentence = |start: &str, list: Vec<String>| {
        if list.is_empty() { String::new() } else { format!("{start}: {}.", list.join("; ")) }
    };
    [sentence("Better", told(Verdict::Better)), sentence("Worse", told(Verdict::Worse))]
}

fn words(change: &Change) -> String {
    let text = |shown: &Option<String>| shown.clone().unwrap_or_else(|| "none".to_owned());
    format!(
        "{} {} → {}",
        change.figure.name().show(Language::British),
        text(&change.before),
        text(&change.after)
    )
}
