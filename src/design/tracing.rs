//! The symptoms that the rider feels and the measurements, as the user gives them.

use std::collections::{BTreeMap, BTreeSet};

use super::Design;
use super::symptom::Symptom;
use crate::design::{Layout, Operation, Tips, Work};
use crate::fields::{FieldId, Slot};
use crate::ring::Side;

/// The trace from symptom to cause: the symptoms and the measurements. Checks that were not measured are
/// absent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// What the rider feels.
    pub felt: BTreeSet<Symptom>,
    /// The measurements, by field.
    pub measured: BTreeMap<FieldId, f64>,
}

impl Trace {
    /// Whether the rider says what happens, and not only when.
    pub fn has_complaint(&self) -> bool {
        self.felt.iter().any(|symptom| !symptom.is_when)
    }

    /// Every number that can be measured, from the outside in.
    pub const FIELDS: &'static [FieldId] = &[
        FieldId::SeenClutchSpeed,
        FieldId::SeenRodAngle,
        FieldId::SeenSpareLift,
        FieldId::SeenSparePress,
        FieldId::SeenGapLift,
        FieldId::SeenGapPress,
        FieldId::SeenDrumDrag,
        FieldId::SeenDrumSlack,
        FieldId::SeenClearanceThis,
        FieldId::SeenClearanceOther,
        FieldId::SeenOverlap,
        FieldId::SeenForkPlay,
        FieldId::SeenTipFriction,
        FieldId::SeenEdgeA,
        FieldId::SeenEdgeB,
        FieldId::SeenFlankDrive,
        FieldId::SeenFlankCoast,
        FieldId::SeenLash,
    ];

    /// Whether neither symptoms nor measurements are given.
    pub fn is_empty(&self) -> bool {
        self.felt.is_empty() && self.measured.is_empty()
    }

    /// A measured number.
    pub fn seen(&self, id: FieldId) -> Option<f64> {
        self.measured.get(&id).copied()
    }
}

impl Design {
    /// The design with the measurements on the dogs in place of the drawn numbers: overlap, tip friction, edges
    /// and flank angles. Numbers that were not measured are as drawn.
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
                taken.unknown.remove(&Slot::Setting(to));
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

    /// The design with the tips of both rings polished after all other work. They are lapped by the least
    /// amount that can be given, so that hardly anything except the friction changes.
    #[must_use]
    pub fn with_polished_tips(&self) -> Self {
        let mut polished = self.clone();
        for side in Side::BOTH {
            let operations = &mut polished.ring_mut(side).plan.operations;
            // Lapping tips that are lapped already would only remove more metal.
            if operations.last().is_none_or(|o| o.work.kind.tips != Tips::Lapped) {
                let work = Work::lap(FieldId::LapStock.spec().min);
                operations.push(Operation::on_all(work));
            }
        }
        polished
    }

    /// The design as found, with the tip friction that was measured, and with the tips of both rings polished
    /// as its only work.
    #[must_use]
    pub fn polished_alone(&self) -> Self {
        let mut found = self.to_found();
        if let Some(friction) = self.trace.seen(FieldId::SeenTipFriction) {
            found.set_given(Slot::Setting(FieldId::TipFriction), friction);
        }
        found.with_polished_tips()
    }
}
