//! What is left of a plan once the ring was measured.

use crate::design::{Cut, Operation, Plan, Work};
use crate::ring::{Dog, FlankSide, PerFlank, Ring};
use crate::shop::tolerance;
use crate::units::Angle;

/// Edges are broken by hand: below the sizes of the standard this counts as as large, mm.
const BY_HAND_MM: f64 = 0.1;

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
        let stay: Vec<_> = self.plan.operations.iter().map(|o| o.work.name()).collect();
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
    let mut ring = Measured::of(nominal, measured);
    let mut left = Left::default();
    // From the last to the first: what is missing was not done last.
    for operation in plan.operations.iter().rev() {
        match ring.left_of(operation) {
            Some(operation) => left.plan.operations.push(operation),
            None => left.done.push(operation.work.name()),
        }
    }
    left.plan.operations.reverse();
    left.done.reverse();
    left
}

/// How a ring came out.
struct Measured<'a> {
    /// Each dog as it ought to be, and as it is.
    dogs: Vec<(&'a Dog, &'a Dog)>,
    /// How much farther out than it ought to be each drive and coast flank stands, mm.
    over: Vec<PerFlank<f64>>,
    /// How much higher than they ought to be the tallest dogs are, mm.
    higher_mm: f64,
}

impl<'a> Measured<'a> {
    fn of(nominal: &'a Ring, measured: &'a Ring) -> Self {
        let dogs: Vec<_> = nominal.dogs.iter().zip(&measured.dogs).collect();
        let over = |flank: FlankSide, (ought, is): &(&Dog, &Dog)| {
            let apart = measured.tip_edge(is, flank) - nominal.tip_edge(ought, flank);
            flank.sign() * apart.signed().radians() * nominal.mean_radius_mm()
        };
        Self {
            over: dogs.iter().map(|dog| PerFlank::from_fn(|flank| over(flank, dog))).collect(),
            higher_mm: measured.tallest_mm() - nominal.tallest_mm(),
            dogs,
        }
    }

    /// The operation as far as it stays, for the dogs by their new places.
    fn left_of(&mut self, operation: &Operation) -> Option<Operation> {
        let here = (0..self.dogs.len()).filter(|at| operation.is_on(self.dogs[*at].0.place));
        let here: Vec<_> = here.collect();
        let on = |work: Work, places: Vec<usize>| {
            let places = places.into_iter().collect();
            Some(Operation { work, places })
        };
        let measured = |at: &usize| self.dogs[*at].1;
        match operation.work {
            _ if here.is_empty() && !operation.work.is_on_all() => None,
            Work::Cut(Cut::Remove) => None,
            Work::Cut(Cut::Shorten(to)) => {
                let to = came_out(
                    to,
                    tolerance::linear_mm(to),
                    here.iter().map(|at| measured(at).height_mm),
                );
                on(Work::Cut(Cut::Shorten(to)), here)
            }
            Work::Break(to) => {
                // A smaller break is the larger size.
                let allowed = tolerance::edge_mm(to).or(Some(BY_HAND_MM));
                let to = came_out(-to, allowed, here.iter().map(|at| -measured(at).edge_break_mm));
                on(Work::Break(-to), here)
            }
            Work::Recut(flank, deg) => {
                let off = |at: &usize| {
                    let dog = measured(at);
                    let allowed = tolerance::angular(dog.height_mm).map_or(0.0, Angle::degrees);
                    (dog.back_cut[flank].degrees() - deg).abs() > allowed
                };
                let places: Vec<_> = here.into_iter().filter(off).collect();
                if places.is_empty() { None } else { on(operation.work, places) }
            }
            Work::Narrow(flank, stock) => {
                let over = &mut self.over;
                let still = |at: &usize| over[*at][flank] > stock / 2.0;
                let places: Vec<_> = here.into_iter().filter(still).collect();
                for at in &places {
                    over[*at][flank] -= stock;
                }
                if places.is_empty() { None } else { on(operation.work, places) }
            }
            Work::Lap(stock) => {
                let still = self.higher_mm > stock / 2.0;
                self.higher_mm -= if still { stock } else { 0.0 };
                still.then(|| operation.clone())
            }
        }
    }
}

/// The size that came out where all are within the tolerance of the one wanted, else that one.
fn came_out(wanted: f64, tolerance_mm: Option<f64>, sizes: impl Iterator<Item = f64>) -> f64 {
    let largest = sizes.fold(wanted, f64::max);
    let within = largest - wanted <= tolerance_mm.unwrap_or_default() + 1e-9;
    if within { largest } else { wanted }
}
