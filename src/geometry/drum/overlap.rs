//! The overlap of every gear over the turn of the drum.

use super::course::Course;
use super::layout::{Drum, half};

/// Where play and tolerance put the dogs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Play {
    /// Every size nominal, every play in its middle.
    Nominal,
    /// Every size and play so that the dogs are the deepest.
    Most,
    /// Every size and play so that the dogs are the shallowest.
    Least,
}

impl Drum {
    /// The overlap of a gear over the turn, `x = ±(p + offset) − c`, mm; plus where the tips have passed each
    /// other.
    pub fn overlap(&self, gear: usize, play: Play) -> Course {
        let (own, fork) = (&self.gears[gear], self.fork(gear));
        let by = match play {
            Play::Nominal => 0.0,
            Play::Most => self.reach_mm(gear),
            Play::Least => -self.reach_mm(gear),
        };
        let sign = own.face.sign();
        let shift_mm = sign * fork.offset_mm - own.clearance_mm + by;
        Course::of(&fork.track, |mm| sign * mm + shift_mm)
    }

    /// Where the pads of a fork are over the turn, mm from neutral towards the higher face, every play in its middle.
    pub fn fork_course(&self, fork: usize) -> Course {
        let own = &self.forks[fork];
        Course::of(&own.track, |mm| mm + own.offset_mm)
    }

    /// How far play can move the slider of a fork from there, either way, mm: half the play of groove and pin, and half
    /// the end float of the drum.
    pub fn fork_play_mm(&self, fork: usize) -> f64 {
        let own = &self.forks[fork];
        half(own.groove_play_mm) + half(own.pin_play_mm) + half(self.float_mm)
    }

    /// How far play and tolerance can move the dogs of a gear from their nominal place, either way, mm: half the
    /// play of groove and pin, half the end float of drum and shaft, and the tolerance of the clearance.
    pub fn reach_mm(&self, gear: usize) -> f64 {
        let fork = self.fork(gear);
        half(fork.groove_play_mm) + self.reach_of_fork_mm(gear)
    }

    /// The same without the play of the groove: how far the pads can be from their nominal place beside the
    /// dogs, mm.
    pub(super) fn reach_of_fork_mm(&self, gear: usize) -> f64 {
        let tolerance = self.gears[gear].tolerance_mm.max(0.0);
        half(self.fork(gear).pin_play_mm)
            + half(self.float_mm)
            + self.half_float_mm(gear)
            + tolerance
    }

    /// How far play that two gears share can move both of them the opposite way, mm: deeper for one is
    /// shallower for the other. That of the drum, of a common shaft, and of a common fork.
    pub(super) fn opposed_mm(&self, one: usize, other: usize) -> f64 {
        let along = |gear: usize| {
            let turned = if self.fork(gear).is_turned { -1.0 } else { 1.0 };
            self.gears[gear].face.sign() * turned
        };
        let (a, b) = (&self.gears[one], &self.gears[other]);
        if along(one) == along(other) {
            return 0.0;
        }
        let fork = self.fork(one);
        let of_fork = half(fork.groove_play_mm) + half(fork.pin_play_mm);
        half(self.float_mm)
            + if a.shaft == b.shaft { self.half_float_mm(one) } else { 0.0 }
            + if a.fork == b.fork { of_fork } else { 0.0 }
    }
}
