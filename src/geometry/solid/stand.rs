//! The corners of a dog, as directions at the ends of its sections.

use std::f64::consts::TAU;

use crate::ring::{Dog, Ring, Segment};
use crate::units::Angle;

/// Directions of the four corners of a section, radians, drive flank first. Coast is never less than
/// drive: the dog lies between, however wide it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Level {
    /// At the inner ends.
    pub inner: [f64; 2],
    /// At the outer ends.
    pub outer: [f64; 2],
}

impl Level {
    /// The corners of a dog `depth_mm` below its tip; `None` if the dog has no metal there.
    pub(super) fn at_depth(ring: &Ring, dog: &Dog, depth_mm: f64) -> Option<Self> {
        let section = ring.section(dog, depth_mm)?;
        let mut arcs = section.segments.iter().filter_map(|segment| match *segment {
            Segment::Arc { start, sweep, .. } => Some([start, start + sweep]),
            Segment::Line { .. } => None,
        });
        // The outer end runs from drive to coast, the inner one back.
        let (outer, [coast, drive]) = (arcs.next()?, arcs.next()?);
        let level = Self { inner: [drive, coast], outer };
        level.ends().iter().flatten().all(|angle| angle.is_finite()).then_some(level)
    }

    /// Both ends, the inner one first.
    pub(super) const fn ends(&self) -> [[f64; 2]; 2] {
        [self.inner, self.outer]
    }

    fn turned(self, by: f64) -> Self {
        let turn = |end: [f64; 2]| end.map(|angle| angle + by);
        Self { inner: turn(self.inner), outer: turn(self.outer) }
    }
}

/// One dog with its corners at root and tip.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stand {
    pub dog: Dog,
    /// Whole turns by which its section is brought round, radians: the middle of its inner end at
    /// the root lies in `[0, 2π)`.
    turn: f64,
    pub root: Level,
    pub tip: Level,
}

impl Stand {
    /// `None` if the dog has no root or no tip.
    pub(super) fn new(ring: &Ring, dog: &Dog) -> Option<Self> {
        let [root, tip] = [dog.height_mm, 0.0].map(|depth| Level::at_depth(ring, dog, depth));
        let (root, tip) = (root?, tip?);
        let middle = middle(root.inner);
        let whole = (Angle::from_radians(middle).wrapped().radians() - middle) / TAU;
        let turn = whole.round() * TAU;
        Some(Self { dog: *dog, turn, root: root.turned(turn), tip: tip.turned(turn) })
    }

    /// Its corners at a height above the web.
    pub(super) fn at(&self, ring: &Ring, z: f64) -> Option<Level> {
        Level::at_depth(ring, &self.dog, self.dog.height_mm - z)
            .map(|level| level.turned(self.turn))
    }

    /// Direction of its middle at the inner end of the root, radians.
    pub(super) fn middle(&self) -> f64 {
        middle(self.root.inner)
    }
}

/// Halfway between drive and coast.
pub(super) fn middle([drive, coast]: [f64; 2]) -> f64 {
    drive + (coast - drive) / 2.0
}
