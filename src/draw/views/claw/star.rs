//! The star of the detent with its roller.

use std::f64::consts::{PI, TAU};

use crate::draw::scene::{Role, Scene, arrow_head, circle};
use crate::ring::Point;
use crate::selector::{Detent, Star};

/// Greatest height of the star's teeth, as a share of its radius.
pub(super) const TALLEST_TOOTH: f64 = 0.35;

/// Radius of the star at an angle from a valley, mm.
fn outline(star: &Star, detent: &Detent, angle: f64) -> f64 {
    let step = star.step().radians();
    let from_valley = (angle.rem_euclid(step) - step / 2.0).abs();
    let from_valley = step / 2.0 - from_valley;
    let flank = (step / 2.0 - star.stand().radians()).max(0.0);
    let slope = star.radius_mm * detent.flank.tan();
    let tooth = (flank * slope).min(TALLEST_TOOTH * star.radius_mm);
    let up = (from_valley * slope).min(tooth);
    star.radius_mm - tooth / 2.0 + up
}

/// The star with its roller, which is on the side away from the claw.
pub(super) fn draw_star(scene: &mut Scene, star: &Star, detent: &Detent, drum: f64) {
    let steps = star.positions * 24.0;
    let mut points = Vec::new();
    let mut at = 0.0;
    while at < steps {
        let angle = at / steps * TAU;
        let out = outline(star, detent, angle);
        points.push(Point::polar(out, angle + drum + PI));
        at += 1.0;
    }
    scene.polygon(Role::Tip, &points);
    let roller = 0.17 * star.radius_mm;
    let seat = -(outline(star, detent, -drum) + roller);
    circle(scene, Role::Tip, Point::new(seat, 0.0), roller);
    // The spring pushes it towards the axis.
    let [tail, tip] = [2.6, 1.1].map(|off| Point::new(seat - off * roller, 0.0));
    scene.line(Role::Dimension, &[tail, tip]);
    arrow_head(scene, Role::Dimension, tail, tip, 0.6 * roller);
}
