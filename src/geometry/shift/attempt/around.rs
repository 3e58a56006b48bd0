//! The blocks in the order of the circle, so that a fall looks only at those that it can meet.

use std::f64::consts::TAU;

use super::level::Level;
use crate::pair::wrapped;
use crate::units::sort_by_number;

/// All blocks of a pair of rings, in order of where they begin.
#[derive(Clone, Debug)]
pub(super) struct Around {
    /// Each of them three times, a turn apart: one that begins before the circle does can reach into it, and a fall
    /// past its end.
    places: Vec<Place>,
    /// The width of the widest of them, rad.
    widest: f64,
}

/// Where a block lies, at the overlap at which it is widest.
#[derive(Clone, Copy, Debug)]
struct Place {
    begin: f64,
    width: f64,
    level: usize,
    block: usize,
}

/// Which block one is: the level at which it begins, and its index there.
pub(super) type BlockId = [usize; 2];

/// A block on the way of a fall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Near {
    /// The level at which it begins, and its index there.
    pub(super) level: usize,
    pub(super) block: usize,
    /// How far ahead it begins, rad; negative if the fall begins on it.
    pub(super) begins: f64,
}

impl Near {
    /// Which block it is.
    pub(super) const fn id(&self) -> BlockId {
        [self.level, self.block]
    }
}

impl Around {
    pub(super) fn of(levels: &[Level]) -> Self {
        let on_level = |(level, all): (usize, &Level)| -> Vec<Place> {
            let place = |(block, (begin, width))| Place { begin, width, level, block };
            all.blocks.iter().map(|block| block.widest()).enumerate().map(place).collect()
        };
        let mut once: Vec<_> = levels.iter().enumerate().flat_map(on_level).collect();
        sort_by_number(&mut once, |place| place.begin);
        let widest = once.iter().map(|place| place.width).fold(0.0, f64::max);
        let turned =
            |turn: f64| once.iter().map(move |place| Place { begin: place.begin + turn, ..*place });
        Self { places: [-TAU, 0.0, TAU].into_iter().flat_map(turned).collect(), widest }
    }

    /// The blocks that a ring at `u` is on or meets further on, in order of where they begin. One that the ring is on
    /// comes again after a turn.
    pub(super) fn ahead(&self, u: f64) -> impl Iterator<Item = Near> {
        let u = wrapped(u);
        let behind = u - self.widest;
        let from = self.places.partition_point(|place| place.begin < behind);
        self.places[from..].iter().filter_map(move |place| {
            let Place { begin, width, level, block } = *place;
            let begins = begin - u;
            (begins + width >= 0.0).then_some(Near { level, block, begins })
        })
    }
}
