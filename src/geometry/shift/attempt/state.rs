//! The state of an attempt, and how it goes on while nothing is met.

use super::directed_block::DirectedBlock;
use crate::shift::travel::Motion;

/// The state of an attempt between two events.
#[derive(Clone, Copy, Debug)]
pub(in crate::shift) struct State {
    /// Phase in the direction of slip.
    pub(in crate::shift) u: f64,
    pub(in crate::shift) x: f64,
    /// The level on which the ring last lay.
    pub(in crate::shift) level: usize,
    /// Speed along the shaft, m/s.
    pub(in crate::shift) v: f64,
    pub(in crate::shift) slip: f64,
    pub(in crate::shift) time: f64,
}

impl State {
    /// After a time in s in which the push is constant, with the speed at its begin, m/s, and the acceleration, m/s².
    pub(super) fn after(&self, (speed, acceleration): (f64, f64), seconds: f64) -> Self {
        let fallen = speed * seconds + acceleration * seconds * seconds / 2.0;
        Self {
            u: self.u + self.slip * seconds,
            x: self.x + fallen * 1000.0,
            v: speed + acceleration * seconds,
            time: self.time + seconds,
            ..*self
        }
    }

    /// Whether a fall that is level with a block has not come to it yet at a time, s, wherever its flank reaches.
    pub(super) fn is_before(&self, block: &DirectedBlock, time: f64) -> bool {
        block.room_left(self.u, self.x, self.slip * (time - self.time)) > 0.0
    }

    /// After a descent to an overlap.
    pub(super) fn descended(&self, x: f64, descent: Descent) -> Self {
        let Descent { seconds, speed } = descent;
        let (u, time) = (self.u + self.slip * seconds, self.time + seconds);
        Self { u, x, v: speed, time, ..*self }
    }
}

/// A way along the shaft: how long it takes, s, and the speed at its end, m/s.
#[derive(Clone, Copy, Debug)]
pub(super) struct Descent {
    pub(super) seconds: f64,
    pub(super) speed: f64,
}

impl Descent {
    /// Over a distance in mm.
    pub(super) fn by(motion: &Motion, distance_mm: f64) -> Self {
        Self { seconds: motion.seconds_over(distance_mm), speed: motion.speed_after(distance_mm) }
    }
}

/// Two numbers, the smaller first.
pub(super) const fn in_order([a, b]: [f64; 2]) -> [f64; 2] {
    [a.min(b), a.max(b)]
}
