//! Layouts side by side: the design on the board, and the rings kept beside it, all shifted under the
//! same conditions.

use super::column::{Column, jam_mm};
use super::prose::{WORTH_TELLING, differences};
use crate::analysis::Analysis;
use crate::design::{Design, Layout, Normalize, RingSpec, SizeBy};
use crate::figures::{Better, Figure, FigureValue, pair_figures};
use crate::finding::any_error;
use crate::ring::{Dog, Ring, Side};
use crate::units::{DisplayUnits, Quantity};

/// One figure of every layout.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareRow {
    /// Which figure.
    pub figure: &'static Figure,
    /// Its formula, as the first layout that has the figure needs it.
    pub formula: &'static str,
    /// The figure in each layout.
    pub cells: Vec<Cell>,
}

/// One figure of one layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The text shown.
    pub text: String,
    /// The formula with its numbers.
    pub working: String,
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
    /// The layouts; the first is the design on the board.
    pub columns: Vec<Column>,
    /// Every figure that at least one of them has.
    pub rows: Vec<CompareRow>,
    /// A sentence on what is held.
    pub normalized: String,
    /// For each layout but the first, how it differs from the first and why.
    pub differences: Vec<String>,
}

impl Comparison {
    /// Compares the design on the board with the pairs kept beside it.
    pub fn of(design: &Design, units: DisplayUnits) -> Self {
        let board = Design { alternatives: Vec::new(), ..design.clone() };
        let first = Analysis::of(&board);
        let mut columns = vec![Column {
            number: 1,
            title: named(&board.title),
            figures: pair_figures(&first, units),
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
                normalize(&columns[0].analysis, given, design.normalize, units);
            let (title, figures) = (named(&pair.title), pair_figures(&analysis, units));
            columns.push(Column { number, title, analysis, figures, note, not_normalized });
        }
        Self {
            rows: rows(&columns, units),
            normalized: normalized_words(&columns, design.normalize, units),
            differences: columns
                .iter()
                .skip(1)
                .map(|c| differences(&columns[0], c, units))
                .collect(),
            columns,
        }
    }
}

fn named(title: &str) -> String {
    if title.trim().is_empty() { "Without a title".to_owned() } else { title.to_owned() }
}

// ---- normalizing ----

/// A layout after the quantity that is held was made equal.
struct Normalized {
    analysis: Analysis,
    note: Option<String>,
    not_normalized: bool,
}

/// Makes the quantity that is held equal to that of the first layout, if possible.
fn normalize(first: &Analysis, given: Design, basis: Normalize, units: DisplayUnits) -> Normalized {
    let as_given = Analysis::of(&given);
    let read = match basis {
        Normalize::AsDrawn => {
            return Normalized { analysis: as_given, note: None, not_normalized: false };
        }
        Normalize::DogWidth => width_deg,
        Normalize::FreeAngle => free_deg,
    };
    let cannot = |analysis: Analysis, why: String| {
        let note = format!("It cannot be held: {why}. It stands as it is drawn.");
        Normalized { analysis, note: Some(note), not_normalized: true }
    };
    let Some((want, have)) = read(first).zip(read(&as_given)) else {
        return cannot(as_given, "a layout without a window has none to hold".to_owned());
    };
    // A window narrows by as much as the dogs of both rings grow together.
    let by = if basis == Normalize::FreeAngle { (have - want) / 2.0 } else { want - have };
    let mut wider = given;
    for side in Side::BOTH {
        widen(wider.ring_mut(side), by);
    }
    let analysis = Analysis::of(&wider);
    let show = |deg: f64| Quantity::Angle.show(deg, units);
    let would = show(width_deg(&as_given).unwrap_or_default() + by);
    if any_error(&analysis.findings) {
        return cannot(as_given, format!("the dogs would have to be {would} wide"));
    }
    if let Some(jam) = jam_mm(&analysis).filter(|_| jam_mm(&as_given).is_none()) {
        let jam = Quantity::Length.show(jam, units);
        return cannot(as_given, format!("with dogs {would} wide it jams at an overlap of {jam}"));
    }
    if !read(&analysis).is_some_and(|have| (want - have).abs() < 1e-6) {
        return cannot(as_given, format!("dogs {would} wide do not bring it about"));
    }
    let note = (by.abs() > 1e-9).then(|| {
        let words = if by > 0.0 { "wider" } else { "narrower" };
        format!("Its dogs are taken {} {words} than they are drawn.", show(by.abs()))
    });
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
fn normalized_words(columns: &[Column], basis: Normalize, units: DisplayUnits) -> String {
    let show = |v: Option<f64>| v.map_or("none".to_owned(), |v| Quantity::Angle.show(v, units));
    let first = &columns[0].analysis;
    let (width, free) = (show(width_deg(first)), show(free_deg(first)));
    let not_normalized: Vec<String> =
        columns.iter().filter(|c| c.not_normalized).map(|c| c.number.to_string()).collect();
    let every = match not_normalized.as_slice() {
        [] => "in every layout".to_owned(),
        numbers => format!("in every layout but {}", numbers.join(" and ")),
    };
    let same = |read: fn(&Analysis) -> Option<f64>| {
        let want = read(first);
        columns
            .iter()
            .all(|c| read(&c.analysis).zip(want).is_some_and(|(a, b)| (a - b).abs() < 1e-6))
    };
    match basis {
        Normalize::DogWidth => format!("Dog width is held: {width} {every}. Free angle follows from it."),
        Normalize::FreeAngle => format!("Free angle is held: {free} {every}. Dog width follows from it."),
        Normalize::AsDrawn if columns.len() < 2 => "Each layout as it is drawn.".to_owned(),
        Normalize::AsDrawn => match (same(width_deg), same(free_deg)) {
            (true, true) => format!("Each layout as it is drawn. Dog width {width} and free angle {free} are the same \
                in all."),
            (true, false) => format!("Each layout as it is drawn. Dog width is the same in all, {width}; free angle \
                is not."),
            (false, true) => format!("Each layout as it is drawn. Free angle is the same in all, {free}; dog width is \
                not."),
            (false, false) => "Each layout as it is drawn. Neither dog width nor free angle is the same in all: part \
                of each difference comes from that.".to_owned(),
        },
    }
}

// ---- the table ----

fn rows(columns: &[Column], units: DisplayUnits) -> Vec<CompareRow> {
    let mut figures: Vec<&'static Figure> = Vec::new();
    for value in columns.iter().flat_map(|column| &column.figures) {
        if !figures.contains(&value.figure) {
            figures.push(value.figure);
        }
    }
    figures.into_iter().map(|figure| row(figure, columns, units)).collect()
}

fn row(figure: &'static Figure, columns: &[Column], units: DisplayUnits) -> CompareRow {
    let found: Vec<Option<&FigureValue>> =
        columns.iter().map(|column| column.figures.iter().find(|f| f.figure == figure)).collect();
    let marks = marks(figure, &found);
    let text = |f: &Option<&FigureValue>| f.map_or_else(|| "–".to_owned(), |f| f.shown(units));
    let working = |f: &Option<&FigureValue>| f.map(|f| f.working.clone()).unwrap_or_default();
    let cell = |(f, mark)| Cell { text: text(f), working: working(f), mark };
    let cells = found.iter().zip(marks).map(cell).collect();
    let formula = found.iter().flatten().next().map_or(figure.formula, |f| f.formula);
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
