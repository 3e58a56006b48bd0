//! How far the sizes of the dogs may be off: tolerances of what is planned, uncertainties of what is measured.

use std::collections::BTreeMap;

use super::{Design, Layout};
use crate::fields::{FieldId, Slot};
use crate::ring::Side;
use crate::shop::tolerance::{Grade, Limits};

/// The sizes of a dog that may be off.
pub const TOLERANCED: [FieldId; 6] = [
    FieldId::Centre,
    FieldId::TipWidth,
    FieldId::Height,
    FieldId::BackCutDrive,
    FieldId::BackCutCoast,
    FieldId::EdgeBreak,
];

/// The largest tolerance or uncertainty that is taken, mm or degrees.
pub const MOST_TOLERANCE: f64 = 5.0;

/// The tolerances of a design.
///
/// A size of its own has the place of a dog, or of a ring for all its dogs; what a dog has counts more. Sizes
/// without one have the general tolerance of the grade.
///
/// ```
/// use crenel::{design::Tolerances, fields::{FieldId, Slot}, ring::Side, shop::tolerance::Limits};
/// let mut shop = Tolerances::default();
/// let height = Slot::Ring(Side::A, FieldId::Height);
/// assert!(shop.set_planned(height, Some(Limits { minus: 0.12, plus: 0.0 })));
/// assert_eq!(shop.planned(Side::A, 3, FieldId::Height).map(|limits| limits.minus), Some(0.12));
/// assert!(!shop.set_measured(height, Some(-0.1)), "it is not below 0");
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tolerances {
    /// The grade of the general tolerances.
    pub grade: Grade,
    planned: BTreeMap<Slot, Limits>,
    measured: BTreeMap<Slot, f64>,
}

impl Tolerances {
    /// The general tolerances of a grade alone.
    pub fn of_grade(grade: Grade) -> Self {
        Self { grade, ..Self::default() }
    }

    /// The limits that a planned size of a dog has of its own or from its ring.
    pub fn planned(&self, side: Side, place: usize, id: FieldId) -> Option<Limits> {
        of_dog(&self.planned, side, place, id)
    }

    /// The uncertainty ± that a measured size of a dog has of its own or from its ring.
    pub fn measured(&self, side: Side, place: usize, id: FieldId) -> Option<f64> {
        of_dog(&self.measured, side, place, id)
    }

    /// Sets the limits of planned sizes, or removes them. Returns whether the place and the limits can be.
    pub fn set_planned(&mut self, slot: Slot, limits: Option<Limits>) -> bool {
        let can_be = |of: &Limits| is_tolerance(of.minus) && is_tolerance(of.plus);
        put(&mut self.planned, slot, limits, can_be)
    }

    /// Sets the uncertainty ± of measured sizes, or removes it. Returns whether the place and the number can be.
    pub fn set_measured(&mut self, slot: Slot, uncertainty: Option<f64>) -> bool {
        put(&mut self.measured, slot, uncertainty, |number| is_tolerance(*number))
    }

    /// Every limit of planned sizes that is given.
    pub fn all_planned(&self) -> impl Iterator<Item = (Slot, Limits)> {
        self.planned.iter().map(|(slot, limits)| (*slot, *limits))
    }

    /// Every uncertainty that is given.
    pub fn all_measured(&self) -> impl Iterator<Item = (Slot, f64)> {
        self.measured.iter().map(|(slot, number)| (*slot, *number))
    }
}

fn is_tolerance(number: f64) -> bool {
    (0.0..=MOST_TOLERANCE).contains(&number)
}

fn of_dog<T: Copy>(given: &BTreeMap<Slot, T>, side: Side, place: usize, id: FieldId) -> Option<T> {
    let own = given.get(&Slot::Dog(side, place, id));
    own.or_else(|| given.get(&Slot::Ring(side, id))).copied()
}

fn put<T>(
    given: &mut BTreeMap<Slot, T>,
    slot: Slot,
    value: Option<T>,
    can_be: impl Fn(&T) -> bool,
) -> bool {
    let (Slot::Ring(_, id) | Slot::Dog(_, _, id)) = slot else { return false };
    if !TOLERANCED.contains(&id) || value.as_ref().is_some_and(|value| !can_be(value)) {
        return false;
    }
    match value {
        Some(value) => drop(given.insert(slot, value)),
        None => drop(given.remove(&slot)),
    }
    true
}

impl Design {
    /// The places that can have a tolerance or an uncertainty: each size of each ring, then of each dog.
    pub fn tolerance_slots(&self) -> Vec<Slot> {
        let of = |side: Side| {
            let places = match &self.ring(side).layout {
                Layout::Even(even) => even.places(),
                Layout::Measured(dogs) => dogs.len(),
            };
            let dogs = (0..places).flat_map(move |at| TOLERANCED.map(|id| Slot::Dog(side, at, id)));
            TOLERANCED.map(|id| Slot::Ring(side, id)).into_iter().chain(dogs)
        };
        Side::BOTH.into_iter().flat_map(of).collect()
    }
}
