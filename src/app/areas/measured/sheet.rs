//! The readings of a ring on the page, and the texts in it that could not be read.

use std::collections::BTreeMap;
use std::sync::Arc;

use leptos::prelude::*;

use crenel::design::{
    CellFault, Column, Design, GaugeKind, GaugedRing, Layout, MOST_COLUMNS, Pasted, Readings, Wrong,
};
use crenel::fields::{FieldId, Slot};
use crenel::finding::Finding;
use crenel::ring::Side;
use crenel::units::{DisplayUnits, Quantity};
use crenel_words::Message;
use crenel_words::page::measured as say;

use crate::state::{AppState, here};

/// A place where a number is typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Spot {
    /// How many dogs the ring has.
    Dogs,
    /// How deep pins and jaws reached.
    Reach,
    /// What a column is set by.
    SetAt(usize),
    /// The uncertainty of a column.
    Sigma(usize),
    /// The reading of a column on a dog.
    Cell(usize, usize),
}

impl Spot {
    /// Its name in ids and in what is remembered.
    pub(super) fn key(self) -> String {
        match self {
            Self::Dogs => "dogs".to_owned(),
            Self::Reach => "reach".to_owned(),
            Self::SetAt(column) => format!("{}-at", column + 1),
            Self::Sigma(column) => format!("{}-sigma", column + 1),
            Self::Cell(column, dog) => format!("{}-dog{}", column + 1, dog + 1),
        }
    }

    /// Its place among faults.
    fn wrong(self) -> Option<Wrong> {
        match self {
            Self::Dogs => None,
            Self::Reach => Some(Wrong::Reach),
            Self::SetAt(column) => Some(Wrong::SetAt(column)),
            Self::Sigma(column) => Some(Wrong::Sigma(column)),
            Self::Cell(column, dog) => Some(Wrong::Cell(column, dog)),
        }
    }

    const fn column(self) -> Option<usize> {
        match self {
            Self::Dogs | Self::Reach => None,
            Self::SetAt(column) | Self::Sigma(column) | Self::Cell(column, _) => Some(column),
        }
    }

    /// The same place of the next column before it.
    const fn of_column_before(self) -> Self {
        match self {
            Self::Dogs | Self::Reach => self,
            Self::SetAt(column) => Self::SetAt(column - 1),
            Self::Sigma(column) => Self::Sigma(column - 1),
            Self::Cell(column, dog) => Self::Cell(column - 1, dog),
        }
    }
}

/// What was read, and what follows from it.
#[derive(PartialEq)]
pub(super) struct Read {
    pub(super) readings: Readings,
    pub(super) gauged: Option<GaugedRing>,
    /// Whether the design has the dogs that follow.
    pub(super) is_used: bool,
    /// The dogs of the design that have other sizes, where it has as many.
    pub(super) differing: Vec<usize>,
}

impl Read {
    fn of(design: &Design, side: Side) -> Self {
        let ring = design.ring(side);
        let readings = ring.readings.clone().unwrap_or_else(|| ring.blank_readings());
        let is_list = matches!(ring.layout, Layout::Measured(_));
        let by_hand = if is_list { ring.typed_by_hand() } else { Vec::new() };
        let is_used = is_list && readings.has_readings() && !by_hand.contains(&true);
        let differing: Vec<usize> = (0..by_hand.len()).filter(|dog| by_hand[*dog]).collect();
        Self { readings, gauged: ring.gauged(), is_used, differing }
    }

    /// What is wrong at a place.
    fn faults(&self, at: Wrong) -> impl Iterator<Item = &CellFault> {
        let faults = self.gauged.iter().flat_map(|ring| &ring.faults);
        faults.filter(move |fault| fault.at == at)
    }
}

/// A text that could not be read, and the number that its place had.
type Unread = (String, Option<f64>);

/// The readings of one ring.
#[derive(Clone, Copy)]
pub(super) struct Sheet {
    pub(super) state: AppState,
    pub(super) side: Side,
    /// One memo, so that nothing on the page reads two of which one follows from the other.
    read: Memo<Arc<Read>>,
    unread: RwSignal<BTreeMap<Spot, Unread>>,
    /// The cell that had the focus last: column and dog.
    pub(super) last: RwSignal<(usize, usize)>,
}

impl Sheet {
    pub(super) fn new(state: AppState, side: Side) -> Self {
        let read = Memo::new(move |_| state.with(|d| Arc::new(Read::of(d, side))));
        let last = RwSignal::new((0, 0));
        let sheet = Self { state, side, read, unread: RwSignal::default(), last };
        sheet.recall();
        sheet
    }

    /// What was read as it is now.
    pub(super) fn with<T>(self, read: impl FnOnce(&Read) -> T) -> T {
        self.read.with(|now| read(now))
    }

    /// Changes the readings in one step.
    pub(super) fn change(self, change: impl FnOnce(&mut Readings)) {
        self.state.change(|d| d.change_readings(self.side, change));
    }

    // ---- numbers and their texts ----

    /// The gauge of a column.
    pub(super) fn kind(self, column: usize) -> Option<&'static GaugeKind> {
        self.with(|read| read.readings.columns.get(column).map(|column| column.kind))
    }

    /// What is measured at a place.
    pub(super) fn quantity(self, at: Spot) -> Quantity {
        let kind = at.column().and_then(|column| self.kind(column));
        match at {
            Spot::Dogs => Quantity::Count,
            Spot::Reach => Quantity::Length,
            Spot::SetAt(_) => {
                kind.and_then(|kind| kind.set_by).map_or(Quantity::Length, |by| by.quantity)
            }
            Spot::Sigma(_) | Spot::Cell(..) => kind.map_or(Quantity::Length, |kind| kind.quantity),
        }
    }

    /// Its name, for those who do not see the table.
    pub(super) fn name(self, at: Spot) -> Message {
        let gauge = at.column().and_then(|column| self.kind(column)).map(|kind| (kind.name)());
        let gauge = gauge.unwrap_or_else(say::title);
        let set_by = || {
            let kind = at.column().and_then(|column| self.kind(column));
            kind.and_then(|kind| kind.set_by).map(|by| (by.name)()).unwrap_or_else(say::title)
        };
        match at {
            Spot::Dogs => say::dogs(),
            Spot::Reach => say::reach(),
            Spot::SetAt(_) => say::set_at_of(gauge, set_by()),
            Spot::Sigma(_) => say::uncertainty_of(gauge),
            Spot::Cell(_, dog) => say::reading_of(dog, gauge),
        }
    }

    fn value(self, at: Spot) -> Option<f64> {
        self.with(|read| value_in(&read.readings, at))
    }

    /// The text in a place.
    pub(super) fn text(self, at: Spot) -> String {
        let units = self.state.units.get();
        let shown = || {
            let value = self.value(at)?;
            Some(self.quantity(at).format_kept(value, units))
        };
        self.unread_text(at).or_else(shown).unwrap_or_default()
    }

    /// A text that could not be read, while its place has the number that it had.
    fn unread_text(self, at: Spot) -> Option<String> {
        let value = self.value(at);
        self.unread.with(|all| {
            all.get(&at).filter(|(_, stood)| *stood == value).map(|(text, _)| text.clone())
        })
    }

    /// What is wrong at a place, as sentences.
    pub(super) fn why(self, at: Spot) -> Option<String> {
        let reader = self.state.reader();
        if let Some(text) = self.unread_text(at)
            && let Err(why) = self.parse(at, &text, reader.units)
        {
            return Some(why.whole(reader));
        }
        let wrong = at.wrong()?;
        let says = self.with(|read| {
            let says =
                read.faults(wrong).map(|fault| Finding::warning(fault.says.clone()).whole(reader));
            says.collect::<Vec<_>>()
        });
        (!says.is_empty()).then(|| says.join(" "))
    }

    fn parse(self, at: Spot, text: &str, units: DisplayUnits) -> Result<Option<f64>, Finding> {
        if text.trim().is_empty() {
            return Ok(self.usual(at));
        }
        match at {
            Spot::Dogs => Slot::Ring(self.side, FieldId::Count).read(text, units).map(Some),
            Spot::Cell(column, _) => match self.kind(column) {
                Some(kind) => kind.read(text, units),
                None => Ok(None),
            },
            _ => Ok(Some(self.quantity(at).parse(text, units)?)),
        }
    }

    /// What an empty text stands for.
    fn usual(self, at: Spot) -> Option<f64> {
        let kind = at.column().and_then(|column| self.kind(column));
        match at {
            Spot::Dogs => self.value(at),
            Spot::Reach => Some(0.0),
            Spot::SetAt(_) => kind.and_then(|kind| kind.set_by).map(|by| by.default),
            Spot::Sigma(_) => kind.map(|kind| kind.sigma),
            Spot::Cell(..) => None,
        }
    }

    /// Takes what was typed. A text that cannot be read stays in its place, and the design as it is.
    pub(super) fn typed(self, at: Spot, text: &str) {
        let (units, before) = untrack(|| (self.state.units.get(), self.value(at)));
        match untrack(|| self.parse(at, text, units)) {
            Ok(value) => {
                self.forget(at);
                if value != before {
                    self.change(|readings| put_in(readings, at, value));
                }
            }
            Err(_) => self.keep(at, text.to_owned(), before),
        }
    }

    /// How far a reading is off the fit, and whether that is beyond three of its standard deviations. Nothing is said
    /// of a reading that no other one checks.
    pub(super) fn off(self, at: Spot) -> Option<(String, bool)> {
        let Spot::Cell(column, dog) = at else { return None };
        let units = self.state.units.get();
        let quantity = self.quantity(at);
        self.with(|read| {
            let ring = read.gauged.as_ref()?;
            let (_, checked) = ring.checked.iter().find(|(at, _)| *at == (column, dog))?;
            checked.sigma?;
            let sign = if checked.residual < 0.0 { '−' } else { '+' };
            let off = quantity.format(checked.residual.abs(), units);
            Some((here(say::off(format!("{sign}{off}"))).into_owned(), checked.marked))
        })
    }

    /// The column and the dog of a cell by its key.
    pub(super) fn cell_of(self, key: &str) -> Option<(usize, usize)> {
        let cells = self.with(|read| spots_of(&read.readings));
        cells.into_iter().find_map(|at| match at {
            Spot::Cell(column, dog) if at.key() == key => Some((column, dog)),
            _ => None,
        })
    }

    // ---- texts that could not be read ----

    fn key(self, at: Spot) -> String {
        format!("{}.readings.{}", self.side.letter(), at.key())
    }

    /// Brings back the texts that could not be read when the table was last on the page.
    fn recall(self) {
        let spots = untrack(|| self.with(|read| spots_of(&read.readings)));
        let recalled = spots.into_iter().filter_map(|at| {
            let (text, stood) = self.state.refused(&self.key(at))?;
            Some((at, (text, stood.parse().ok())))
        });
        self.unread.set(recalled.collect());
    }

    pub(super) fn keep(self, at: Spot, text: String, stood: Option<f64>) {
        let number = stood.map(|number| number.to_string()).unwrap_or_default();
        self.state.refuse(&self.key(at), Some((text.clone(), number)));
        self.unread.update(|all| drop(all.insert(at, (text, stood))));
    }

    pub(super) fn forget(self, at: Spot) {
        self.state.refuse(&self.key(at), None);
        if self.unread.with_untracked(|all| all.contains_key(&at)) {
            self.unread.update(|all| drop(all.remove(&at)));
        }
    }

    /// Moves the texts of the columns after one that is removed.
    fn forget_column(self, column: usize) {
        for (at, (text, stood)) in self.unread.get_untracked() {
            match at.column() {
                Some(of) if of >= column => {
                    self.forget(at);
                    if of > column {
                        self.keep(at.of_column_before(), text, stood);
                    }
                }
                _ => {}
            }
        }
    }

    // ---- columns, blocks ----

    /// Whether the table has room for so many columns; where it has none, that is said.
    pub(super) fn has_room(self, columns: usize) -> bool {
        let at = untrack(|| self.with(|read| read.readings.columns.len()));
        let has_room = at + columns <= MOST_COLUMNS;
        if !has_room {
            let full = say::table_full(MOST_COLUMNS);
            self.state.tell(here(vec![full.says, full.next]), true);
        }
        has_room
    }

    pub(super) fn add_columns(self, kinds: impl IntoIterator<Item = &'static GaugeKind>) {
        self.change(|readings| {
            let dogs = readings.dogs;
            readings.columns.extend(kinds.into_iter().map(|kind| Column::of(kind, dogs)));
        });
    }

    pub(super) fn remove_column(self, column: usize) {
        let Some(kind) = untrack(|| self.kind(column)) else { return };
        self.forget_column(column);
        self.change(|readings| {
            if column < readings.columns.len() {
                readings.columns.remove(column);
            }
        });
        self.state.flash(here(say::removed((kind.name)())));
    }

    /// Fills the empty cells below one with its reading, and tells how many there were.
    pub(super) fn fill_down(self, column: usize, dog: usize) {
        if untrack(|| self.value(Spot::Cell(column, dog))).is_none() {
            return self.state.flash(here(say::nothing_to_fill(dog)));
        }
        let mut filled = 0;
        self.change(|readings| filled = readings.fill_down(column, dog));
        self.state.flash(here(say::filled(filled, dog)));
    }

    /// Pastes a block with its first cell at a column and a dog. What cannot be read stays as text in its cell.
    pub(super) fn paste(self, at: (usize, usize), text: &str) {
        let units = self.state.units.get_untracked();
        let mut pasted = Pasted::default();
        self.change(|readings| pasted = readings.paste(at, text, units));
        for cell in &pasted.unread {
            let at = Spot::Cell(cell.at.0, cell.at.1);
            self.keep(at, cell.text.clone(), untrack(|| self.value(at)));
        }
        self.state.flash(here(told(&pasted)));
    }
}

/// What came of a pasted block.
fn told(pasted: &Pasted) -> Vec<Message> {
    let count = |cells: usize, words: fn(usize) -> Message| (cells > 0).then(|| words(cells));
    [
        Some(say::pasted(pasted.read)),
        pasted.has_headings.then(say::pasted_headings),
        count(pasted.unread.len(), say::pasted_unread),
        count(pasted.outside, say::pasted_outside),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Every place of the readings.
fn spots_of(readings: &Readings) -> Vec<Spot> {
    let of_column = |column: usize| {
        let cells = (0..readings.dogs).map(move |dog| Spot::Cell(column, dog));
        [Spot::SetAt(column), Spot::Sigma(column)].into_iter().chain(cells)
    };
    let columns = (0..readings.columns.len()).flat_map(of_column);
    [Spot::Dogs, Spot::Reach].into_iter().chain(columns).collect()
}

#[expect(clippy::cast_precision_loss, reason = "at most some hundred dogs")]
fn value_in(readings: &Readings, at: Spot) -> Option<f64> {
    let column = |column: usize| readings.columns.get(column);
    match at {
        Spot::Dogs => Some(readings.dogs as f64),
        Spot::Reach => Some(readings.reach_mm),
        Spot::SetAt(at) => column(at).map(|column| column.set_at),
        Spot::Sigma(at) => column(at).map(|column| column.sigma),
        Spot::Cell(at, dog) => column(at)?.cells.get(dog).copied().flatten(),
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count within its limits"
)]
fn put_in(readings: &mut Readings, at: Spot, value: Option<f64>) {
    let columns = &mut readings.columns;
    match (at, value) {
        (Spot::Cell(column, dog), _) => {
            let cell = columns.get_mut(column).and_then(|column| column.cells.get_mut(dog));
            cell.into_iter().for_each(|cell| *cell = value);
        }
        (Spot::Dogs, Some(value)) => readings.resize(value as usize),
        (Spot::Reach, Some(value)) => readings.reach_mm = value,
        (Spot::SetAt(at), Some(value)) => {
            columns.get_mut(at).into_iter().for_each(|column| column.set_at = value);
        }
        (Spot::Sigma(at), Some(value)) => {
            columns.get_mut(at).into_iter().for_each(|column| column.sigma = value);
        }
        (_, None) => {}
    }
}
