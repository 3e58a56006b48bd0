//! What was read on a ring, kept as it was read, and the dogs that follow from it.

mod check;
mod follow;
mod gauges;
mod photo;
mod to_dogs;
mod typed;

pub use check::{CellFault, Wrong};
pub use gauges::{GAUGES, GaugeKind, SetBy};
pub use photo::PhotoFlank;
pub use to_dogs::{GaugedDog, GaugedRing, SPREADS, contact_words};
pub use typed::{Pasted, UnreadCell, sheet_cells};

use std::collections::BTreeSet;

use crate::gauging::Spread;
use crate::ring::FlankSide;

/// Most columns of readings for one ring.
pub const MOST_COLUMNS: usize = 24;

/// Most dogs that readings can have.
pub const MOST_READ_DOGS: usize = 200;

/// By how much an uncertainty that is shown and used for ranges is more than the standard one: `k = 2`, which holds
/// for about 95 % of the readings (JCGM 100:2008, 6.2.1 and G.6.6).
pub const COVERAGE: f64 = 2.0;

/// The readings of one gauge, one for each dog.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The gauge.
    pub kind: &'static GaugeKind,
    /// The number by which it is set, mm or a ratio; 0 for a gauge without one.
    pub set_at: f64,
    /// Standard uncertainty of each reading, in its unit.
    pub sigma: f64,
    /// What was read on each dog; `None` where nothing was.
    pub cells: Vec<Option<f64>>,
}

impl Column {
    /// An empty column with the usual uncertainty of the gauge.
    pub fn of(kind: &'static GaugeKind, dogs: usize) -> Self {
        let set_at = kind.set_by.map_or(0.0, |by| by.default);
        Self { kind, set_at, sigma: kind.sigma, cells: vec![None; dogs] }
    }
}

/// Everything that was read on a ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Readings {
    /// How many dogs, counter-clockwise looking at the dogs.
    pub dogs: usize,
    /// The flank that angles are counted from.
    pub datum: (usize, FlankSide),
    /// How the closing error is spread.
    pub spread: Spread,
    /// How deep pins and jaws reached below the tips, mm. It matters for tapered flanks only.
    pub reach_mm: f64,
    /// The readings, by gauge.
    pub columns: Vec<Column>,
    /// The dogs that show blue or polish on the drive flank.
    pub contact: BTreeSet<usize>,
}

impl Readings {
    /// No readings of so many dogs.
    pub const fn new(dogs: usize) -> Self {
        Self {
            dogs,
            datum: (0, FlankSide::Drive),
            spread: Spread::Equally,
            reach_mm: 0.0,
            columns: Vec::new(),
            contact: BTreeSet::new(),
        }
    }

    /// Changes the number of dogs. Readings of dogs that are left stay.
    pub fn resize(&mut self, dogs: usize) {
        self.dogs = dogs;
        for column in &mut self.columns {
            column.cells.resize(dogs, None);
        }
        self.contact.retain(|place| *place < dogs);
        if self.datum.0 >= dogs {
            self.datum = (0, FlankSide::Drive);
        }
    }

    /// Whether nothing was read and no contact is marked.
    pub fn is_empty(&self) -> bool {
        self.contact.is_empty() && !self.has_readings()
    }

    /// Whether anything was read.
    pub fn has_readings(&self) -> bool {
        self.columns.iter().any(|column| column.cells.iter().any(Option::is_some))
    }
}
