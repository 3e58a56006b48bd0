//! What is left of a plan once the ring was measured.

use crate::design::{Operation, Plan, Remeasured, Work};
use crate::ring::Ring;

/// What becomes of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Left {
    /// The operations that stay, for the dogs by their new places.
    pub(crate) plan: Plan,
    /// Names of the operations that are done and off the plan.
    pub(crate) done: Vec<&'static str>,
}

impl Left {
    /// The same in words.
    pub(crate) fn words(&self) -> String {
        let stay: Vec<_> = self.plan.operations.iter().map(|o| o.work.kind.name).collect();
        let told = |start: &str, names: &[&str]| match names {
            [] => String::new(),
            names => format!("{start}: {}.", names.join(", ")),
        };
        let done = told("Done and off the plan", &self.done);
        let stay = told("Still in the plan, and taking only what is still too large", &stay);
        format!("{done} {stay}").trim().to_owned()
    }
}

/// A plan on a ring that was measured: the dogs of the ring as it ought to be, one for one.
///
/// Work to a size stays: it takes only what is still too large, and what came out within its tolerance
/// counts as the size. Work by stock or to an angle would come off twice: it stays only for the dogs that
/// are measured nearer to the size without it.
pub(crate) fn left(plan: &Plan, nominal: &Ring, measured: &Ring) -> Left {
    let mut ring = Remeasured::new(nominal, measured);
    let mut left = Left::default();
    // From the last to the first: what is missing was not done last.
    for operation in plan.operations.iter().rev() {
        match remainder(&mut ring, operation) {
            Some(operation) => left.plan.operations.push(operation),
            None => left.done.push(operation.work.kind.name),
        }
    }
    left.plan.operations.reverse();
    left.done.reverse();
    left
}

/// The operation as far as it stays, for the dogs by their new places.
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
