//! The part of a plan that is left to do once the ring was measured.

use crenel_words::{Message, Value, step as say};

use crate::design::{Operation, Plan, Remeasured, Work, WorkKind};
use crate::ring::Ring;

/// A plan after the ring was measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Left {
    /// The operations that are left, with the new places of the dogs.
    pub(crate) plan: Plan,
    /// The work that is done and no longer in the plan.
    pub(crate) done: Vec<&'static WorkKind>,
}

impl Left {
    /// Sentences on what is done and on what is left.
    pub(crate) fn words(&self) -> Vec<Message> {
        let named = |kind: &WorkKind| Value::Label(kind.label());
        let done: Vec<_> = self.done.iter().map(|kind| named(kind)).collect();
        let stay: Vec<_> = self.plan.operations.iter().map(|o| named(o.work.kind)).collect();
        let told = [(done, say::done as fn(Vec<Value>) -> Message), (stay, say::to_do)];
        told.into_iter()
            .filter(|(works, _)| !works.is_empty())
            .map(|(works, says)| says(works))
            .collect()
    }
}

/// Compares a measured ring with the nominal one, dog by dog, and keeps the work that is still to do.
///
/// Work to a size stays in the plan: it takes only what is still too large. A size within its tolerance
/// counts as reached. Work by stock or to an angle would be done twice, so it stays only for dogs whose
/// measured size is nearer to the size before that work.
pub(crate) fn left(plan: &Plan, nominal: &Ring, measured: &Ring) -> Left {
    let mut ring = Remeasured::new(nominal, measured);
    let mut left = Left::default();
    // From the last to the first: work that is still missing would have come last.
    for operation in plan.operations.iter().rev() {
        match remainder(&mut ring, operation) {
            Some(operation) => left.plan.operations.push(operation),
            None => left.done.push(operation.work.kind),
        }
    }
    left.plan.operations.reverse();
    left.done.reverse();
    left
}

/// The part of an operation that is left, with the new places of its dogs.
fn remainder(ring: &mut Remeasured, operation: &Operation) -> Option<Operation> {
    let Work { kind, number } = operation.work;
    let places = (0..ring.dogs.len()).filter(|at| operation.is_on(ring.dogs[*at].0.place));
    let places: Vec<_> = places.collect();
    if places.is_empty() && !kind.is_on_all {
        return None;
    }
    let (number, places) = (kind.remainder)(number, ring, places)?;
    let work = Work { kind, number };
    let places = if kind.is_on_all { Default::default() } else { places.into_iter().collect() };
    Some(Operation { work, places })
}
