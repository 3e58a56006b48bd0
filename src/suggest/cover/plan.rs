//! A cut as work in the plans of both rings.

use std::collections::BTreeMap;

use super::dog::{Cuts, Room};
use super::walk::Solution;
use crate::design::{Cut, Design, Operation, Work};
use crate::ring::{FlankSide, Side};

/// What is done to each dog.
#[derive(Clone, Debug)]
pub(in super::super) struct DogCuts {
    works: Vec<(Side, usize, Work)>,
}

impl DogCuts {
    pub(super) fn of(rooms: &[Room<'_>], solution: &Solution) -> Self {
        let dogs = rooms.iter().zip(&solution.cuts);
        Self { works: dogs.flat_map(|(room, cuts)| works(room, cuts)).collect() }
    }

    /// The design with the work in its plans, after the work that is planned already.
    pub(in super::super) fn on(&self, design: &Design) -> Design {
        let mut cut = design.clone();
        let mut new: BTreeMap<_, Vec<Operation>> = BTreeMap::new();
        for (side, place, work) in &self.works {
            if let Some(whole) = work.to_cut() {
                cut.ring_mut(*side).plan.set_cut(*place, Some(whole));
                continue;
            }
            let operations = new.entry(*side).or_default();
            match operations.iter_mut().find(|one| one.work == *work) {
                Some(operation) => drop(operation.places.insert(*place)),
                None => operations.push(Operation { work: *work, places: [*place].into() }),
            }
        }
        for (side, operations) in new {
            cut.ring_mut(side).plan.operations.extend(operations);
        }
        cut
    }
}

fn works(room: &Room<'_>, cuts: &Cuts) -> Vec<(Side, usize, Work)> {
    if cuts.lower_mm == f64::INFINITY {
        return vec![(room.side, room.place, Work::cut(Cut::Remove))];
    }
    // Rounded to a ten-thousandth, which every step is a multiple of: the size is the number shown.
    let size = |mm: f64| (mm * 1e4).round() / 1e4;
    let lower = (cuts.lower_mm > 0.0)
        .then(|| Work::cut(Cut::Shorten(size(room.height_mm - cuts.lower_mm))));
    let narrow = |flank: FlankSide| {
        let stock = cuts.stock_mm[flank];
        (stock > 0.0).then(|| Work::narrow(flank, size(stock)))
    };
    let edge = (cuts.edge_mm > room.edge_mm).then(|| Work::break_edges(size(cuts.edge_mm)));
    let [drive, coast] = FlankSide::BOTH.map(narrow);
    let works = [lower, drive, coast, edge].into_iter().flatten();
    works.map(|work| (room.side, room.place, work)).collect()
}
