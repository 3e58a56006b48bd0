//! What the rider feels and what was measured, as the user gives it.

use std::collections::{BTreeMap, BTreeSet};

use super::Design;
use crate::design::{Layout, Operation, Tips, Work};
use crate::diagnosis::{Check, Symptom};
use crate::fields::{FieldId, Slot};
use crate::ring::Side;

/// The trace from symptom to cause: what is felt, and what was measured. What was not measured is not
/// there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// What the rider feels.
    pub felt: BTreeSet<Symptom>,
    /// What was measured.
    pub measured: BTreeMap<FieldId, f64>,
}

impl Trace {
    /// Whether nothing is given.
    pub fn is_empty(&self) -> bool {
        self.felt.is_empty() && self.measured.is_empty()
    }

    /// A measured number.
    pub fn seen(&self, id: FieldId) -> Option<f64> {
        self.measured.get(&id).copied()
    }

    /// Every number that can be measured, from the outside in.
    pub fn fields() -> impl Iterator<Item = FieldId> {
        Check::ALL.into_iter().flat_map(|check| check.measured()).copied()
    }
}

impl Design {
    /// The design with what was measured on the dogs in place of what was drawn: overlap, tip friction,
    /// edges and flank angles. What was not measured stays as drawn.
    #[must_use]
    pub fn with_measured(&self) -> Self {
        let mut taken = self.clone();
        let seen = |id| self.trace.seen(id);
        for (from, to) in [
            (FieldId::SeenOverlap, FieldId::Overlap),
            (FieldId::SeenTipFriction, FieldId::TipFriction),
        ] {
            if let Some(value) = seen(from) {
                taken.set(Slot::Setting(to), value);
            }
        }
        for (side, edge) in Side::BOTH.into_iter().zip([FieldId::SeenEdgeA, FieldId::SeenEdgeB]) {
            for (from, to) in [
                (edge, FieldId::EdgeBreak),
                (FieldId::SeenFlankDrive, FieldId::BackCutDrive),
                (FieldId::SeenFlankCoast, FieldId::BackCutCoast),
            ] {
                seen(from).into_iter().for_each(|value| taken.set_on_all_dogs(side, to, value));
            }
        }
        taken
    }

    /// A number of every dog of a ring.
    fn set_on_all_dogs(&mut self, side: Side, id: FieldId, value: f64) {
        match self.ring(side).layout {
            Layout::Even(_) => {
                self.set(Slot::Ring(side, id), value);
            }
            Layout::Measured(_) => {
                for place in 0..self.ring(side).places() {
                    self.set(Slot::Dog(side, place, id), value);
                }
            }
        }
    }

    /// The design with the tips of both rings polished after all other work: lapped by the least that
    /// can be given, so that hardly anything but the friction changes.
    #[must_use]
    pub fn with_polished_tips(&self) -> Self {
        let mut polished = self.clone();
        for side in Side::BOTH {
            let operations = &mut polished.ring_mut(side).plan.operations;
            // Lapping what is lapped already would only take more off.
            if operations.last().is_none_or(|o| o.work.kind.tips != Tips::Lapped) {
                let work = Work::lap(FieldId::LapStock.spec().min);
                operations.push(Operation::on_all(work));
            }
        }
        polished
    }

    /// The design as found, with the tip friction that was measured, and with nothing done to it but
    /// polishing the tips of both rings.
    #[must_use]
    pub fn polished_alone(&self) -> Self {
        let mut found = self.to_found();
        if let Some(friction) = self.trace.seen(FieldId::SeenTipFriction) {
            found.set(Slot::Setting(FieldId::TipFriction), friction);
        }
        found.with_polished_tips()
    }
}
