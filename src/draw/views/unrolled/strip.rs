//! Where the two rings lie in the unrolled view.

use std::f64::consts::TAU;

use crate::analysis::Analysis;

use crate::draw::frame::{Frame, RingTurn};
use crate::model::Pose;
use crate::ring::{Dog, FlankSide, Ring, Side};

/// Where the two rings lie in the strip.
pub(super) struct Strip<'a> {
    pub(super) analysis: &'a Analysis,
    pub(super) frame: &'a Frame,
    pub(super) turn: RingTurn,
    pub(super) overlap_mm: f64,
    /// Height of the web of A over that of B, mm.
    web_mm: f64,
}

impl<'a> Strip<'a> {
    pub(super) fn at(analysis: &'a Analysis, frame: &'a Frame, pose: Pose) -> Self {
        let [a, b] = Side::BOTH.map(|side| analysis.ring(side).tallest_mm());
        let Pose { phase, overlap_mm } = pose;
        let web_mm = b - overlap_mm + a;
        Self { analysis, frame, turn: RingTurn::at(phase), overlap_mm, web_mm }
    }
}

impl Strip<'_> {
    pub(super) fn ring(&self, side: Side) -> &Ring {
        self.analysis.ring(side)
    }

    /// Height in the view of a point `from_web` mm above the web of a ring.
    pub(super) fn level(&self, side: Side, from_web: f64) -> f64 {
        let mm = match side {
            Side::B => from_web,
            Side::A => self.web_mm - from_web,
        };
        mm * self.frame.stretch
    }

    /// Middle of a dog across the view, in one turn.
    pub(super) fn middle(&self, side: Side, dog: &Dog) -> f64 {
        let direction = self.turn.direction(side, dog.centre);
        self.frame.across(direction.rem_euclid(TAU))
    }

    /// How far a flank is from the dog's middle across the view, `depth` mm below the tip; the sign is the
    /// side of the middle on which it lies.
    pub(super) fn flank(&self, side: Side, dog: &Dog, flank: FlankSide, depth: f64) -> f64 {
        let mirrored = if side == Side::A { 1.0 } else { -1.0 };
        let ring = self.ring(side);
        let half = ring.half_width_at(dog, flank, ring.mean_radius_mm());
        let half = half.radians() * self.frame.radius_mm;
        mirrored * flank.sign() * (half - dog.leaned_mm(flank, depth))
    }
}
