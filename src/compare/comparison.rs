//! Layouts side by side: one's own first state, the variants, and the rings kept beside the design, all shifted
//! under the same conditions.

use std::sync::Arc;

use crenel_words::{Label, Message, Value, compare as say};

use super::column::Column;
use super::held::{Normalized, free_deg, normalize, of_basis, width_deg};
use super::prose::{WORTH_TELLING, differences};
use super::shown::{Shown, design_of, shown};
use crate::analysis::Analysis;
use crate::design::{Design, Normalize};
use crate::figures::{Better, Figure, FigureValue, pair_figures};
use crate::units::sort_by_number;

/// One figure of every layout.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareRow {
    /// Which figure.
    pub figure: &'static Figure,
    /// Its formula, as the first layout that has the figure needs it.
    pub formula: Label,
    /// The figure in each layout.
    pub cells: Vec<Cell>,
    /// How far apart the layouts are: from 0, where all show the same, to 1, where one has nothing of what another
    /// has.
    pub spread: f64,
}

/// One figure of one layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// What is shown; `None` if the layout does not have the figure.
    pub shown: Option<Value>,
    /// The formula with its numbers; `None` if the layout does not have the figure.
    pub working: Option<Message>,
    /// Whether every other layout that has the figure does worse.
    pub is_best: bool,
}

/// Several layouts compared figure by figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// The layouts; the first is one's own first state.
    pub columns: Vec<Column>,
    /// Every figure that at least one of them has.
    pub rows: Vec<CompareRow>,
    /// A sentence on what is held.
    pub normalized: Message,
    /// What the quantity that is held can be in every layout, degrees; `None` if nothing is held, or if no value
    /// can.
    pub range_deg: Option<(f64, f64)>,
    /// For each layout but the first, sentences on how it differs from the first and why.
    pub differences: Vec<Vec<Message>>,
}

impl Comparison {
    /// Compares one's own first state, the variants and the pairs kept beside the design.
    pub fn of(design: &Design) -> Self {
        let basis = design.normalize;
        let mut want = design.held_deg;
        let mut columns: Vec<Column> = Vec::new();
        for (what, number) in shown(design).into_iter().zip(1..) {
            let given = design_of(design, what);
            if columns.is_empty() && want.is_none() {
                want = of_basis(basis).and_then(|read| read(&Analysis::of(&given)));
            }
            let title = match what {
                Shown::Variant(at) => design.variants.name(at).to_owned(),
                _ => given.title.clone(),
            };
            let Normalized { analysis, note, not_normalized, range_deg } =
                normalize(&given, basis, want);
            let figures = pair_figures(&analysis);
            columns.push(Column {
                what,
                number,
                title,
                analysis: Arc::new(analysis),
                figures,
                note,
                not_normalized,
                range_deg,
            });
        }
        Self {
            rows: rows(&columns),
            normalized: normalized_words(&columns, basis, want),
            range_deg: common_range(&columns),
            differences: columns.iter().skip(1).map(|c| differences(&columns[0], c)).collect(),
            columns,
        }
    }

    /// The rows in three lots: those that differ most and in which one direction is better, at most so many; those
    /// that differ besides; and those that are the same in every layout. Each lot keeps the order of the table.
    pub fn by_difference(&self, most: usize) -> [Vec<&CompareRow>; 3] {
        let differs = |row: &&CompareRow| row.spread > 0.0;
        let counts = |row: &&CompareRow| differs(row) && row.figure.better != Better::Neither;
        let mut first: Vec<_> = self.rows.iter().filter(counts).collect();
        sort_by_number(&mut first, |row| -row.spread);
        first.truncate(most);
        let is_first = |row: &&CompareRow| first.iter().any(|other| other.figure == row.figure);
        let all = || self.rows.iter();
        [
            all().filter(is_first).collect(),
            all().filter(|row| differs(row) && !is_first(row)).collect(),
            all().filter(|row| !differs(row)).collect(),
        ]
    }
}

/// What the quantity that is held can be in every layout that has it, degrees.
fn common_range(columns: &[Column]) -> Option<(f64, f64)> {
    let ranges = columns.iter().filter_map(|column| column.range_deg);
    let both = |a: (f64, f64), b: (f64, f64)| (a.0.max(b.0), a.1.min(b.1));
    ranges.reduce(both).filter(|(least, most)| least <= most)
}

/// A sentence on what is held. If nothing is held, it names what happens to be equal.
fn normalized_words(columns: &[Column], basis: Normalize, want: Option<f64>) -> Message {
    if basis == Normalize::AsDrawn {
        return as_drawn_words(columns);
    }
    let Some(held) = want else { return say::first_has_nothing_to_hold() };
    let not_normalized = columns.iter().filter(|column| column.not_normalized);
    let except: Vec<_> = not_normalized.map(|column| Value::how_many(column.number)).collect();
    let is_width = basis == Normalize::DogWidth;
    match (is_width, except.is_empty()) {
        (true, true) => say::width_held(held),
        (true, false) => say::width_held_except(held, except),
        (false, true) => say::free_held(held),
        (false, false) => say::free_held_except(held, except),
    }
}

fn as_drawn_words(columns: &[Column]) -> Message {
    let same = |read: fn(&Analysis) -> Option<f64>| {
        let want = read(&columns[0].analysis)?;
        let is_same = |c: &Column| read(&c.analysis).is_some_and(|have| (have - want).abs() < 1e-6);
        columns.iter().all(is_same).then_some(want)
    };
    match (same(width_deg), same(free_deg)) {
        _ if columns.len() < 2 => say::as_drawn(),
        (Some(width), Some(free)) => say::as_drawn_both_same(width, free),
        (Some(width), None) => say::as_drawn_width_same(width),
        (None, Some(free)) => say::as_drawn_free_same(free),
        (None, None) => say::as_drawn_none_same(),
    }
}

// ---- the table ----

fn rows(columns: &[Column]) -> Vec<CompareRow> {
    let mut figures: Vec<&'static Figure> = Vec::new();
    for value in columns.iter().flat_map(|column| &column.figures) {
        if !figures.contains(&value.figure) {
            figures.push(value.figure);
        }
    }
    figures.into_iter().map(|figure| row(figure, columns)).collect()
}

fn row(figure: &'static Figure, columns: &[Column]) -> CompareRow {
    let found: Vec<Option<&FigureValue>> =
        columns.iter().map(|column| column.figures.iter().find(|f| f.figure == figure)).collect();
    let best = best(figure, &found);
    let cell = |(at, f): (usize, &Option<&FigureValue>)| Cell {
        shown: f.map(FigureValue::to_value),
        working: f.map(|f| f.working.clone()),
        is_best: best == Some(at),
    };
    let cells = found.iter().enumerate().map(cell).collect();
    let formula = found.iter().flatten().next().map_or(figure.how(), |f| f.formula);
    CompareRow { figure, formula, cells, spread: spread(&found) }
}

/// The one that is best; none where two share the best number, where all are nearly equal and where neither direction
/// is better.
fn best(figure: &Figure, found: &[Option<&FigureValue>]) -> Option<usize> {
    let sign = match figure.better {
        Better::More => 1.0,
        Better::Less => -1.0,
        Better::Neither => return None,
    };
    let scored = |(at, f): (usize, &Option<&FigureValue>)| Some((at, sign * (*f)?.value?));
    let mut scores: Vec<_> = found.iter().enumerate().filter_map(scored).collect();
    sort_by_number(&mut scores, |(_, score)| -score);
    match scores[..] {
        [(at, first), (_, second), ..] if !near(first, second) => Some(at),
        _ => None,
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= WORTH_TELLING * a.abs().max(b.abs())
}

/// The range of the numbers as a share of the range and the largest, whichever is more.
fn spread(found: &[Option<&FigureValue>]) -> f64 {
    let numbers = || found.iter().filter_map(|f| f.as_ref()?.value);
    let count = numbers().count();
    if count == 0 {
        let words = |f: &Option<&FigureValue>| f.map(FigureValue::to_value);
        return f64::from(u8::from(found.windows(2).any(|two| words(&two[0]) != words(&two[1]))));
    }
    if count < found.len() {
        return 1.0;
    }
    let (least, most) = numbers()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), number| {
            (least.min(number), most.max(number))
        });
    if near(most, least) {
        0.0
    } else {
        (most - least) / (most - least).max(most.abs()).max(least.abs())
    }
}
