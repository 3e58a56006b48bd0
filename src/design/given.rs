//! Which numbers somebody gave, and which have the default of the table because nobody gave them.
//!
//! A number that differs from its default was given. One that equals it was given only if it is in
//! [`Design::given`], and is not known at all if it is in [`Design::unknown`].

use super::Design;
use crate::fields::{FieldId, Slot};

impl Design {
    /// Puts a number that somebody gave at a slot, and returns whether the design has such a number.
    ///
    /// ```
    /// use crenel::{design::Design, fields::{FieldId, Slot}};
    /// let mut design = Design::default();
    /// let force = Slot::Setting(FieldId::ShiftForce);
    /// assert!(design.assumed().contains(&force));
    /// design.set_given(force, FieldId::ShiftForce.spec().default);
    /// assert!(!design.assumed().contains(&force));
    /// ```
    pub fn set_given(&mut self, slot: Slot, value: f64) -> bool {
        let is_there = self.set(slot, value);
        self.unknown.remove(&slot);
        if is_there && can_be_assumed(slot) {
            self.given.insert(slot);
        }
        is_there
    }

    /// The numbers that have the default of the table and that nobody gave, in the order of the forms.
    /// Numbers of planned work, measurements and limits are there only because somebody gave them.
    pub fn assumed(&self) -> Vec<Slot> {
        let all = self.slots().into_iter();
        all.filter(|slot| self.is_assumed(*slot)).collect()
    }

    /// Whether the number at a slot has the default of the table and nobody gave it.
    pub fn is_assumed(&self, slot: Slot) -> bool {
        can_be_assumed(slot)
            && !self.given.contains(&slot)
            && !self.unknown.contains(&slot)
            && self.get(slot) == Some(slot.field().spec().default)
    }

    /// The numbers that were given although they equal their default: what the saved form cannot tell
    /// otherwise. A variant with rings of its own can be what has them.
    pub(super) fn given_defaults(&self) -> impl Iterator<Item = Slot> {
        let beginnings = self.beginnings();
        let is_default = move |slot: &&Slot| {
            let default = slot.field().spec().default;
            beginnings.iter().any(|design| design.get(**slot) == Some(default))
        };
        self.given.iter().filter(is_default).copied()
    }
}

const fn can_be_assumed(slot: Slot) -> bool {
    let of_plan = matches!(slot, Slot::Work(..) | Slot::Dog(.., FieldId::ShortenTo));
    !of_plan && !matches!(slot, Slot::Seen(_) | Slot::Limit(_) | Slot::Box(..))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{LinkageSpec, example};
    use crate::ring::Side;

    #[test]
    fn a_number_that_differs_from_its_default_was_given() {
        let mut design = example();
        let overlap = Slot::Setting(FieldId::Overlap);
        assert!(design.is_assumed(overlap));
        design.set(overlap, 4.2);
        assert!(!design.is_assumed(overlap));
        design.set(overlap, FieldId::Overlap.spec().default);
        assert!(design.is_assumed(overlap), "put back by nobody");
    }

    #[test]
    fn numbers_of_work_and_measurements_are_never_assumed() {
        let mut design = example();
        let shorten = FieldId::ShortenTo.spec().default;
        design.set(Slot::Dog(Side::A, 0, FieldId::ShortenTo), shorten);
        let seen = FieldId::SeenTipFriction;
        design.set(Slot::Seen(seen), seen.spec().default);
        design.selector.linkage = Some(LinkageSpec::default());
        let assumed = design.assumed();
        assert!(assumed.contains(&Slot::Part(FieldId::RodLength)));
        assert!(assumed.contains(&Slot::Ring(Side::A, FieldId::TipWidth)));
        let wrong = |slot: &Slot| matches!(slot, Slot::Work(..) | Slot::Seen(_));
        assert!(!assumed.iter().any(wrong), "{assumed:?}");
    }
}
