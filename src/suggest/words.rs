//! A cut in words.

use crenel_words::{Message, Value, suggest as say};

use crate::analysis::Analysis;
use crate::design::{Cut, Design, RingSpec, Work};
use crate::ring::Side;
use crate::units::Quantity;

/// What a design does to the dogs beyond the plan of an analysis, a sentence for each kind of work and size.
pub(super) fn cut_words(now: &Analysis, cut: &Design) -> Vec<Message> {
    let mut alike: Vec<Alike> = Vec::new();
    for side in Side::BOTH {
        let (before, after) = (now.design.ring(side), cut.ring(side));
        for place in 0..after.places() {
            for work in added(before, after, place) {
                // Stock is measured at a diameter of its ring; other work is the same on both.
                let same = |one: &&mut Alike| {
                    one.work == work && (work.kind.flank().is_none() || one.dogs[0].0 == side)
                };
                match alike.iter_mut().find(same) {
                    Some(one) => one.dogs.push((side, place)),
                    None => alike.push(Alike { work, dogs: vec![(side, place)] }),
                }
            }
        }
    }
    // What is done to whole dogs comes first, because it is done first.
    alike.sort_by_key(|one| one.work.to_cut().is_none());
    alike.iter().map(|one| one.sentence(now)).collect()
}

/// The work on a dog that another plan does not have.
fn added(before: &RingSpec, after: &RingSpec, place: usize) -> Vec<Work> {
    let works = |ring: &RingSpec| {
        let here = ring.plan.operations.iter().filter(|one| one.is_on(place));
        here.map(|one| one.work).collect::<Vec<_>>()
    };
    let mut added = works(after);
    for work in works(before) {
        if let Some(at) = added.iter().position(|one| *one == work) {
            added.remove(at);
        }
    }
    added
}

/// The same work on several dogs.
struct Alike {
    work: Work,
    dogs: Vec<(Side, usize)>,
}

impl Alike {
    fn sentence(&self, now: &Analysis) -> Message {
        let Self { work, dogs } = self;
        let size = Value::Size(Quantity::Length, work.number);
        match (work.to_cut(), work.kind.flank()) {
            (Some(Cut::Remove), _) => say::remove_dogs(self.names(now)),
            (Some(Cut::Shorten(_)), _) => say::shorten_dogs(self.names(now), size),
            (None, Some(flank)) => {
                let diameter = 2.0 * now.ring(dogs[0].0).mean_radius_mm();
                say::narrow_dogs(flank, self.names(now), size, diameter)
            }
            (None, None) => say::break_dogs(self.names(now), size),
        }
    }

    /// The dogs by name, or all dogs of a ring at once.
    fn names(&self, now: &Analysis) -> Vec<Value> {
        let name = |(side, place): &(Side, usize)| {
            Value::Verbatim(format!("{}{}", side.letter(), place + 1))
        };
        let names = |side: Side| {
            let of_ring: Vec<_> = self.dogs.iter().filter(|dog| dog.0 == side).collect();
            if !of_ring.is_empty() && of_ring.len() == now.ring(side).dogs.len() {
                return vec![say::all_dogs(side).into()];
            }
            of_ring.into_iter().map(name).collect()
        };
        Side::BOTH.into_iter().flat_map(names).collect()
    }
}
