//! Layouts side by side: one's own first state, the variants, and the rings kept beside the design, all shifted
//! under the same conditions.

use crenel_words::{Label, Message, Value, compare as say};

use super::column::Column;
use super::held::{Normalized, free_deg, normalize, of_basis, width_deg};
use super::prose::{WORTH_TELLING, differences};
use super::shown::{Shown, design_of, shown};
use crate::analysis::Analysis;
use crate::design::{Design, Normalize};
use crate::figures::{Better, Figure, FigureValue, pair_figures};

/// One figure of every layout.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareRow {
    /// Which figure.
    pub figure: &'static Figure,
    /// Its formula, as the first layout that has the figure needs it.
    pub formula: Label,
    /// The figure in each layout.
    pub cells: Vec<Cell>,
}

/// One figure of one layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// What is shown; `None` if the layout does not have the figure.
    pub shown: Option<Value>,
    /// The formula with its numbers; `None` if the layout does not have the figure.
    pub working: Option<Message>,
    /// Set if it is the best or the worst of its row.
    pub mark: Option<Mark>,
}

/// The rank of a figure in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Every other layout does worse.
    Best,
    /// Every other layout does better.
    Worst,
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
                analysis,
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
    let marks = marks(figure, &found);
    let shown = |f: &Option<&FigureValue>| f.map(FigureValue::to_value);
    let working = |f: &Option<&FigureValue>| f.map(|f| f.working.clone());
    let cell = |(f, mark)| Cell { shown: shown(f), working: working(f), mark };
    let cells = found.iter().zip(marks).map(cell).collect();
    let formula = found.iter().flatten().next().map_or(figure.how(), |f| f.formula);
    CompareRow { figure, formula, cells }
}

/// The best and the worst of a row. A number that two layouts share has no mark, and neither has a row whose
/// numbers are nearly equal or in which neither direction is better.
fn marks(figure: &Figure, found: &[Option<&FigureValue>]) -> Vec<Option<Mark>> {
    let sign = match figure.better {
        Better::More => 1.0,
        Better::Less => -1.0,
        Better::Neither => return vec![None; found.len()],
    };
    let score = |f: &Option<&FigureValue>| f.and_then(|f| f.value).map(|v| sign * v);
    let scores: Vec<Option<f64>> = found.iter().map(score).collect();
    let known = || scores.iter().flatten().copied();
    let (most, least) =
        (known().fold(f64::NEG_INFINITY, f64::max), known().fold(f64::INFINITY, f64::min));
    let near = |a: f64, b: f64| (a - b).abs() <= WORTH_TELLING * a.abs().max(b.abs());
    if known().count() < 2 || near(most, least) {
        return vec![None; found.len()];
    }
    let alone = |best: f64| known().filter(|score| near(*score, best)).count() == 1;
    let (one_best, one_worst) = (alone(most), alone(least));
    let mark = |score: &Option<f64>| match *score {
        Some(s) if near(s, most) => one_best.then_some(Mark::Best),
        Some(s) if near(s, least) => one_worst.then_some(Mark::Worst),
        _ => None,
    };
    scores.iter().map(mark).collect()
}
