//! The blocks in the order of the circle, so that a fall looks only at those that it can meet.

use std::f64::consts::TAU;
use std::iter;

use super::level::Level;
use crate::pair::wrapped;
use crate::units::sort_by_number;

/// All blocks of a pair of rings, in order of where they begin.
#[derive(Clone, Debug)]
pub(super) struct Around {
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
        let mut places: Vec<_> = levels.iter().enumerate().flat_map(on_level).collect();
        sort_by_number(&mut places, |place| place.begin);
        let widest = places.iter().map(|place| place.width).fold(0.0, f64::max);
        Self { places, widest }
    }

    /// The blocks that a ring at `u` is on or meets further on, in order of where they begin. One that the ring is on
    /// comes again after a turn.
    pub(super) fn ahead(&self, u: f64) -> impl Iterator<Item = Near> {
        let u = wrapped(u);
        let behind = u - self.widest;
        // One that begins before the circle does can reach into it, and a fall past its end.
        let mut turn = if behind < 0.0 { -TAU } else { 0.0 };
        let mut at = self.places.partition_point(|place| place.begin + turn < behind);
        iter::from_fn(move || {
            loop {
                let Some(place) = self.places.get(at) else {
                    if turn > 0.0 {
                        return None;
                    }
                    (at, turn) = (0, turn + TAU);
                    continue;
                };
                at += 1;
                let Place { begin, width, level, block } = *place;
                let begins = begin + turn - u;
                if begins + width >= 0.0 {
                    return Some(Near { level, block, begins });
                }
            }
        })
    }
}
