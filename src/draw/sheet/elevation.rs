//! The dogs of a ring unrolled at the mean diameter, at true height.

use std::f64::consts::TAU;

use crenel_words::drawing as say;

use super::super::scene::{Anchor, Role, Scene, Text};
use super::notes::LINE_MM;
use super::{LETTER_MM, Sheet, room};
use crate::ring::{Dog, FlankSide, Point, Ring};

/// From the drawing above to the tallest tip.
const GAP_MM: f64 = 12.0;

impl Sheet<'_> {
    /// The elevation below the rest: seen from outside, dogs up, so that positions count to the right from
    /// the datum. A dog that is worked on has its outline as found too.
    pub(super) fn elevation(&self, scene: &mut Scene) {
        let base = room::extent(scene).min.y - GAP_MM - self.found.tallest_mm();
        let mean = self.ring.mean_radius_mm();
        let datum = Point::new(-mean * TAU / 2.0, base);
        let web = [datum.x, datum.x + mean * TAU].map(|x| Point::new(x, base));
        scene.line(Role::Elevation, &web).on_ring(self.side);
        for old in &self.found.dogs {
            let now = self.ring.at_place(old.place);
            if let Some(dog) = now {
                let outline = profile(&self.ring, dog, datum);
                scene.polygon(Role::Elevation, &outline).dog(self.side, dog.place);
            }
            if now != Some(old) {
                let outline = profile(&self.found, old, datum);
                scene.polygon(Role::Removed, &outline).dog(self.side, old.place);
            }
            self.elevation_name(scene, old, datum);
        }
        let words = say::elevation(self.mm(2.0 * mean)).show(self.reader);
        let at = Point::new(0.0, base - 2.0 * LINE_MM);
        scene.text(Role::Note, at, LETTER_MM, Anchor::Middle, words);
    }

    /// The number of a dog below it, where there is room.
    fn elevation_name(&self, scene: &mut Scene, dog: &Dog, datum: Point) {
        let x = datum.x + self.ring.mean_radius_mm() * dog.centre.wrapped().radians();
        let at = Point::new(x, datum.y - LETTER_MM);
        let words = (dog.place + 1).to_string();
        let text = Text { at, height: LETTER_MM, anchor: Anchor::Middle, words };
        if room::is_free(scene, &text) {
            scene
                .text(Role::Label, text.at, text.height, text.anchor, text.words)
                .dog(self.side, dog.place);
        }
    }
}

/// The outline of a dog along the mean circle, from the root of its drive flank round to that of the coast
/// flank; edge breaks are at 45°.
fn profile(ring: &Ring, dog: &Dog, datum: Point) -> Vec<Point> {
    let mean = ring.mean_radius_mm();
    let middle = datum.x + mean * dog.centre.wrapped().radians();
    let at = |flank: FlankSide, depth: f64, inside: f64| {
        let half = mean * ring.half_width_at(dog, flank, mean).radians();
        let out = half - dog.leaned_mm(flank, depth) - inside;
        Point::new(middle + flank.sign() * out, datum.y + dog.height_mm - depth)
    };
    // An edge break beyond its limits leaves nothing of the dog, and is told of elsewhere.
    let edge = dog.edge_break_mm.clamp(0.0, dog.height_mm.max(0.0));
    let mut points = Vec::new();
    for (flank, from_root) in [(FlankSide::Drive, true), (FlankSide::Coast, false)] {
        let mut corners = vec![at(flank, dog.height_mm, 0.0), at(flank, edge, 0.0)];
        if edge > 0.0 {
            corners.push(at(flank, 0.0, edge));
        }
        if !from_root {
            corners.reverse();
        }
        points.extend(corners);
    }
    points
}
