//! The claw with its shaft turned: where its hooks and prongs lie.

use crate::ring::Point;
use crate::selector::{Claw, Stroke};

/// The claw with its shaft turned so far, radians counter-clockwise.
#[derive(Clone, Copy)]
pub(super) struct Plate<'a> {
    pub(super) claw: &'a Claw,
    pub(super) shaft: f64,
}

impl Plate<'_> {
    pub(super) fn pin_size(&self) -> f64 {
        (0.14 * self.claw.pin_radius_mm).max(0.4)
    }

    pub(super) fn hub_mm(&self) -> f64 {
        0.16 * self.claw.stop_radius_mm
    }

    pub(super) fn stop_size(&self) -> f64 {
        (0.06 * self.claw.stop_radius_mm).max(0.5)
    }

    /// A point of the claw, by its angle from the line to the drum and its distance from the shaft.
    pub(super) fn on(&self, angle: f64, radius: f64) -> Point {
        let p = Point::polar(radius, std::f64::consts::PI - angle + self.shaft);
        Point::new(self.claw.apart_mm + p.x, p.y)
    }

    /// Angle of the face of a hook from the line to the drum, radians.
    pub(super) fn face(&self, stroke: Stroke) -> f64 {
        let play = self.claw.play_mm[stroke];
        let half = self.claw.swing().radians() / 2.0;
        half + (play + self.pin_size()) / self.claw.hook_radius_mm()
    }

    /// An arm that reaches round its pin and pulls it by a straight face.
    pub(super) fn hook(&self, stroke: Stroke) -> Vec<Point> {
        let (reach, pin, hub) = (self.claw.hook_radius_mm(), self.pin_size(), self.hub_mm());
        let face = self.face(stroke);
        let arm = face + 2.5 * pin / reach;
        let (root, half) = (hub.min(0.5 * reach), 0.8 * pin);
        let corners = [
            (arm + half / root, root),
            (arm + half / reach, reach + 1.6 * pin),
            (face, reach + 1.6 * pin),
            (face, reach - pin),
            (arm - half / reach, reach - 2.0 * pin),
            (arm - half / root, root),
        ];
        corners.map(|(angle, radius)| self.on(stroke.sign() * angle, radius)).to_vec()
    }

    /// How far the eccentric has turned the stop about the shaft, radians: by `e·sin α` at its radius,
    /// as the travels of the hook count it.
    pub(super) fn stop_at(&self) -> f64 {
        self.claw.eccentric_mm * self.claw.eccentric_at.sin() / self.claw.stop_radius_mm
    }

    /// The middle of what strikes the stop, from the hub outwards. It stays on the claw where it is while
    /// the eccentric moves the stop.
    pub(super) fn prong(&self, stroke: Stroke) -> [Point; 2] {
        let radius = self.claw.stop_radius_mm;
        let off = self.claw.swing_to_stop(stroke).radians()
            + (self.stop_size() + 0.8 * self.pin_size()) / radius;
        let angle = std::f64::consts::PI + stroke.sign() * off - self.stop_at();
        [self.hub_mm(), 1.1 * radius].map(|radius| self.on(angle, radius))
    }
}
