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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scene::{Bounds, Shape};
    use crate::units::Angle;

    const STAR: Star = Star { positions: 6.0, radius_mm: 20.0, crest_mm: 1.0, holds: false };

    /// The corners of a figure.
    fn corners(shape: &Shape) -> Vec<Point> {
        let Shape::Path { segments, .. } = shape else { panic!("no outline: {shape:?}") };
        segments.iter().map(|segment| segment.from()).collect()
    }

    fn middle(points: &[Point]) -> Point {
        let count = points.iter().fold(0.0, |count, _| count + 1.0);
        let sum = |read: fn(&Point) -> f64| points.iter().map(read).sum::<f64>() / count;
        Point::new(sum(|p| p.x), sum(|p| p.y))
    }

    #[test]
    fn the_star_turns_with_the_drum_and_the_roller_rides_on_it() {
        let flank = Angle::from_degrees(40.0);
        let detent = Detent { force_n: 50.0, radius_mm: 20.0, flank, friction: 0.1 };
        for drum in [0.0, 0.2, -0.35, STAR.step().radians() / 2.0] {
            let bounds = Bounds { min: Point::new(-30.0, -30.0), max: Point::new(30.0, 30.0) };
            let mut scene = Scene::new(bounds);
            draw_star(&mut scene, &STAR, &detent, drum);
            let star = corners(&scene.items[0].shape);
            // The valley in which the roller rests at home turns with the drum.
            let valley = Point::polar(outline(&STAR, &detent, 0.0), PI + drum);
            assert!(star[0].distance(valley) < 1e-9, "{drum}: {:?}", star[0]);
            let roller = corners(&scene.items[1].shape);
            let radius_mm = roller[0].distance(middle(&roller));
            let rides_mm = -middle(&roller).x - radius_mm;
            assert!((rides_mm - outline(&STAR, &detent, drum)).abs() < 1e-9, "{drum}: {rides_mm}");
        }
    }
}
