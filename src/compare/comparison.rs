//! Layouts side by side: the current design, and the rings kept beside it, all shifted under the same
//! conditions.

use crenel_words::{Label, Message, Value, compare as say};

use super::column::{Column, jam_mm};
use super::prose::{WORTH_TELLING, differences};
use crate::analysis::Analysis;
use crate::design::{Design, Layout, Normalize, RingSpec, SizeBy};
use crate::figures::{Better, Figure, FigureValue, pair_figures};
use crate::finding::any_error;
use crate::ring::{Dog, Ring, Side};

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
    /// No layout does better.
    Best,
    /// No layout does worse.
    Worst,
}

/// Several layouts compared figure by figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// The layouts; the first is the current design.
    pub columns: Vec<Column>,
    /// Every figure that at least one of them has.
    pub rows: Vec<CompareRow>,
    /// A sentence on what is held.
    pub normalized: Message,
    /// For each layout but the first, sentences on how it differs from the first and why.
    pub differences: Vec<Vec<Message>>,
}

impl Comparison {
    /// Compares the current design with the pairs kept beside it.
    pub fn of(design: &Design) -> Self {
        let board = Design { alternatives: Vec::new(), ..design.clone() };
        let first = Analysis::of(&board);
        let mut columns = vec![Column {
            number: 1,
            title: board.title.clone(),
            figures: pair_figures(&first),
            analysis: first,
            note: None,
            not_normalized: false,
        }];
        for (pair, number) in design.alternatives.iter().zip(2..) {
            let given = Design {
                title: pair.title.clone(),
                a: pair.a.clone(),
                b: pair.b.clone(),
                ..board.clone()
            };
            let Normalized { analysis, note, not_normalized } =
                normalize(&columns[0].analysis, given, design.normalize);
            let (title, figures) = (pair.title.clone(), pair_figures(&analysis));
            columns.push(Column { number, title, analysis, figures, note, not_normalized });
        }
        Self {
            rows: rows(&columns),
            normalized: normalized_words(&columns, design.normalize),
            differences: columns.iter().skip(1).map(|c| differences(&columns[0], c)).collect(),
            columns,
        }
    }
}

// ---- normalizing ----

/// A layout after the quantity that is held was made equal.
struct Normalized {
    analysis: Analysis,
    note: Option<Message>,
    not_normalized: bool,
}

/// Makes the quantity that is held equal to that of the first layout, if possible.
fn normalize(first: &Analysis, given: Design, basis: Normalize) -> Normalized {
    let as_given = Analysis::of(&given);
    let read = match basis {
        Normalize::AsDrawn => {
            return Normalized { analysis: as_given, note: None, not_normalized: false };
        }
        Normalize::DogWidth => width_deg,
        Normalize::FreeAngle => free_deg,
    };
    let cannot = |analysis: Analysis, why: Message| Normalized {
        analysis,
        note: Some(why),
        not_normalized: true,
    };
    let Some((want, have)) = read(first).zip(read(&as_given)) else {
        return cannot(as_given, say::nothing_to_hold());
    };
    // A window narrows by as much as the dogs of both rings grow together.
    let by = if basis == Normalize::FreeAngle { (have - want) / 2.0 } else { want - have };
    let mut wider = given;
    for side in Side::BOTH {
        widen(wider.ring_mut(side), by);
    }
    let analysis = Analysis::of(&wider);
    let would = width_deg(&as_given).unwrap_or_default() + by;
    if any_error(&analysis.findings) {
        return cannot(as_given, say::held_too_wide(would));
    }
    if let Some(jam) = jam_mm(&analysis).filter(|_| jam_mm(&as_given).is_none()) {
        return cannot(as_given, say::held_jams(would, jam));
    }
    if !read(&analysis).is_some_and(|have| (want - have).abs() < 1e-6) {
        return cannot(as_given, say::held_out_of_reach(would));
    }
    let changed = if by > 0.0 { say::widened } else { say::narrowed };
    let note = (by.abs() > 1e-9).then(|| changed(by.abs()));
    Normalized { analysis, note, not_normalized: false }
}

/// Makes all dogs of a ring wider by an angle, degrees; narrower if it is negative.
fn widen(ring: &mut RingSpec, by_deg: f64) {
    match &mut ring.layout {
        Layout::Even(even) => {
            even.tip_width_deg = even.dog_width_deg() + by_deg;
            even.size_by = SizeBy::Dog;
        }
        Layout::Measured(dogs) => dogs.iter_mut().for_each(|dog| dog.tip_width_deg += by_deg),
    }
}

/// Mean dog width of the two rings, over all dogs that are left, degrees.
fn width_deg(analysis: &Analysis) -> Option<f64> {
    let dogs = || {
        analysis.cut.iter().map(|ring| {
            let width =
                |ring: &Ring, dog: &Dog| ring.tip_width_at(dog, ring.mean_radius_mm()).degrees();
            let total: f64 = ring.dogs.iter().map(|dog| width(ring, dog)).sum();
            let count = u32::try_from(ring.dogs.len()).unwrap_or(u32::MAX);
            (count > 0).then(|| total / f64::from(count))
        })
    };
    let means: Vec<f64> = dogs().collect::<Option<_>>()?;
    Some(means.iter().sum::<f64>() / 2.0)
}

/// Free angle of the widest entry window, degrees.
fn free_deg(analysis: &Analysis) -> Option<f64> {
    let widths = analysis.pair.as_ref()?.entry.iter().map(|w| w.width.degrees());
    widths.reduce(f64::max)
}

/// A sentence on what is held. If nothing is held, it names what happens to be equal.
fn normalized_words(columns: &[Column], basis: Normalize) -> Message {
    let first = &columns[0].analysis;
    let read = match basis {
        Normalize::AsDrawn => return as_drawn_words(columns),
        Normalize::DogWidth => width_deg,
        Normalize::FreeAngle => free_deg,
    };
    let Some(held) = read(first) else { return say::first_has_nothing_to_hold() };
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

/// The best and the worst of a row. A row has no marks if its numbers are nearly equal or if neither
/// direction is better. It has no worst if most layouts share the worst number.
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
    // A number that most layouts share is the usual one, not the worst.
    let usual = 2 * known().filter(|s| near(*s, least)).count() > known().count();
    let mark = |score: &Option<f64>| match *score {
        Some(s) if near(s, most) => Some(Mark::Best),
        Some(s) if near(s, least) && !usual => Some(Mark::Worst),
        _ => None,
    };
    scores.iter().map(mark).collect()
}
