//! Marks that several views share.

use std::f64::consts::TAU;

use super::Scene;
use super::item::Item;
use super::role::Role;
use crate::ring::Point;

/// About how wide words are, in letter heights.
pub(crate) fn words_width(words: &str) -> f64 {
    0.55 * f64::from(u32::try_from(words.chars().count()).unwrap_or(u32::MAX))
}

/// An arrow head that points from one place to another.
pub(crate) fn arrow_head(
    scene: &mut Scene,
    role: Role,
    from: Point,
    to: Point,
    size: f64,
) -> &mut Item {
    let along = Point::new(from.x - to.x, from.y - to.y).angle();
    let barb = |off: f64| {
        let p = Point::polar(size, along + off);
        Point::new(to.x + p.x, to.y + p.y)
    };
    scene.line(role, &[barb(0.4), to, barb(-0.4)])
}

/// A circle about any point, as a figure of many sides.
pub(crate) fn circle(scene: &mut Scene, role: Role, middle: Point, radius: f64) -> &mut Item {
    let side = |at: u8| {
        let p = Point::polar(radius, f64::from(at) * TAU / 40.0);
        Point::new(middle.x + p.x, middle.y + p.y)
    };
    scene.polygon(role, &(0..40).map(side).collect::<Vec<_>>())
}

/// A centre mark.
pub(crate) fn cross(scene: &mut Scene, middle: Point, size: f64) {
    let Point { x, y } = middle;
    scene.line(Role::Centre, &[Point::new(x - size, y), Point::new(x + size, y)]);
    scene.line(Role::Centre, &[Point::new(x, y - size), Point::new(x, y + size)]);
}

/// A bar with rounded ends from one joint to another.
pub(crate) fn bar(scene: &mut Scene, role: Role, from: Point, to: Point, half_width: f64) {
    const HALF_TURN: f64 = TAU / 2.0;
    let along = Point::new(to.x - from.x, to.y - from.y).angle();
    let end = |middle: Point, start: f64| {
        (0..=8_u8).map(move |at| {
            let p = Point::polar(half_width, start + f64::from(at) * HALF_TURN / 8.0);
            Point::new(middle.x + p.x, middle.y + p.y)
        })
    };
    let around = end(to, along - HALF_TURN / 2.0).chain(end(from, along + HALF_TURN / 2.0));
    scene.polygon(role, &around.collect::<Vec<_>>());
}
