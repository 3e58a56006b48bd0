//! The plan of work on a ring: operations, one after the other.

use std::collections::{BTreeMap, BTreeSet};

use super::work::{Cut, Work};
use crate::ring::Ring;
use crate::units::{map_of, set_of};

/// The most operations on one ring that a file keeps.
pub const MOST_OPERATIONS: usize = 200;

/// Work on some dogs of a ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What is done to the dogs.
    pub work: Work,
    /// The places of the dogs it is done to. Ignored by work that is done to all dogs at once.
    pub places: BTreeSet<usize>,
}

impl Operation {
    /// Work that is done to all dogs at once.
    pub const fn on_all(work: Work) -> Self {
        Self { work, places: BTreeSet::new() }
    }

    fn on_one(place: usize, work: Work) -> Self {
        Self { work, places: set_of([place]) }
    }

    /// Whether it is done to the dog at a place.
    pub fn is_on(&self, place: usize) -> bool {
        self.work.kind.is_on_all || self.places.contains(&place)
    }

    /// The ring once this is done to it.
    #[must_use]
    pub fn done_to(&self, mut ring: Ring) -> Ring {
        (self.work.kind.apply)(self.work.number, &mut ring, &|place| self.is_on(place));
        ring
    }
}

/// The operations on one ring in their order.
///
/// ```
/// use crenel::design::{Cut, Plan, RingSpec};
/// let mut ring = RingSpec::default();
/// ring.plan = Plan::of_cuts([(1, Cut::Remove), (3, Cut::Remove), (5, Cut::Shorten(2.5))]);
/// assert_eq!(ring.plan.operations.len(), 2);
/// assert_eq!(ring.to_cut().dogs.len(), 4);
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// First to last.
    pub operations: Vec<Operation>,
}

impl Plan {
    /// A plan that removes dogs or cuts them down. Equal cuts are one operation.
    pub fn of_cuts(cuts: impl IntoIterator<Item = (usize, Cut)>) -> Self {
        let mut plan = Self::default();
        map_of(cuts).into_iter().for_each(|(place, cut)| plan.add(place, Work::cut(cut)));
        plan
    }

    /// The cut of each dog, by place; `None` if the plan has other work, or an order of its own.
    pub fn as_cuts(&self) -> Option<BTreeMap<usize, Cut>> {
        let places = self.operations.iter().flat_map(|operation| &operation.places);
        let cuts = map_of(places.filter_map(|&place| Some((place, self.cut_of(place)?))));
        (Self::of_cuts(BTreeMap::clone(&cuts)) == *self).then_some(cuts)
    }

    /// How the dog at a place is cut as a whole: removed, or cut down to the lowest height in the plan.
    /// `None` if it is neither. Lapping does not count.
    pub fn cut_of(&self, place: usize) -> Option<Cut> {
        let here = self.operations.iter().filter(|operation| operation.is_on(place));
        let cuts = here.filter_map(|operation| operation.work.to_cut());
        cuts.reduce(|sofar, cut| match (sofar, cut) {
            (Cut::Shorten(old), Cut::Shorten(new)) => Cut::Shorten(old.min(new)),
            _ => Cut::Remove,
        })
    }

    /// Removes the dog at a place, cuts it down, or keeps it whole, instead of what the plan says now.
    ///
    /// A cut that replaces another is done when the other would have been. Other work on the dog stays.
    pub fn set_cut(&mut self, place: usize, cut: Option<Cut>) {
        if self.cut_of(place) == cut {
            return;
        }
        let turn = self.operations.iter().position(|o| o.work.to_cut().is_some() && o.is_on(place));
        for operation in self.operations.iter_mut().filter(|o| o.work.to_cut().is_some()) {
            operation.places.remove(&place);
        }
        match (cut.map(Work::cut), turn) {
            (Some(work), Some(turn)) => self.add_at(turn, place, work),
            (Some(work), None) => self.add(place, work),
            (None, _) => {}
        }
        self.drop_idle();
    }

    /// Adds the dog at a place to the operation at a turn, or to the one before or after it, if that
    /// does the same work. Otherwise the work becomes an operation of its own, right after that turn.
    fn add_at(&mut self, turn: usize, place: usize, work: Work) {
        let near = turn.saturating_sub(1)..(turn + 2).min(self.operations.len());
        match self.operations[near].iter_mut().find(|operation| operation.work == work) {
            Some(operation) => drop(operation.places.insert(place)),
            None => self.operations.insert(turn + 1, Operation::on_one(place, work)),
        }
    }

    /// Adds the dog at a place to the first operation that does just that, or to a new last one.
    pub fn add(&mut self, place: usize, work: Work) {
        match self.operations.iter_mut().find(|operation| operation.work == work) {
            Some(operation) => drop(operation.places.insert(place)),
            None => self.operations.push(Operation::on_one(place, work)),
        }
    }

    /// Gives every place its new number. Places for which `number` returns `None` leave the plan.
    pub fn renumber(&mut self, number: impl Fn(usize) -> Option<usize>) {
        for operation in &mut self.operations {
            operation.places = set_of(operation.places.iter().filter_map(|&place| number(place)));
        }
        self.drop_idle();
    }

    fn drop_idle(&mut self) {
        self.operations.retain(|o| o.work.kind.is_on_all || !o.places.is_empty());
    }

    /// Whether there is any work.
    pub const fn is_empty(&self) -> bool {
        self.operations.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_cut_takes_the_place_of_the_one_before_and_keeps_its_turn() {
        let mut plan = Plan::of_cuts([(1, Cut::Shorten(2.5)), (3, Cut::Shorten(2.5))]);
        plan.operations.push(Operation::on_all(Work::lap(0.1)));
        plan.set_cut(3, Some(Cut::Shorten(2.0)));
        let works: Vec<_> = plan.operations.iter().map(|o| o.work).collect();
        let short = |to| Work::cut(Cut::Shorten(to));
        assert_eq!(works, [short(2.5), short(2.0), Work::lap(0.1)]);
        // Alone in its operation it changes the operation; a twin beside it takes it in.
        plan.set_cut(3, Some(Cut::Shorten(2.5)));
        assert_eq!(plan.operations.len(), 2);
        assert_eq!(plan.operations[0].places, BTreeSet::from([1, 3]));
        plan.set_cut(1, None);
        plan.set_cut(3, None);
        assert_eq!(plan.operations, [Operation::on_all(Work::lap(0.1))]);
        assert_eq!(plan.cut_of(3), None);
    }
}
