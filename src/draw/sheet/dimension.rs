//! Dimensions in the manner of ISO 129-1: level words beside the line, arrows turned out where
//! they have no room.

use std::f64::consts::{FRAC_PI_2, PI};

use super::LETTER_MM;
use super::room::{self, place};
use crate::draw::scene::{Anchor, Role, Scene, Shape, Text};
use crate::ring::{Point, Segment};

/// Length of an arrow head; it opens by 15°.
const ARROW_MM: f64 = 3.0;

/// Shorter dimensions have their arrows outside.
const SHORT_MM: f64 = 3.0 * ARROW_MM;

/// How far the dimension line then goes on past its ends.
const STUB_MM: f64 = 2.0 * ARROW_MM;

/// How far extension lines pass the dimension line.
const PAST_MM: f64 = 1.5;

/// Gap between an outline and its extension line.
const GAP_MM: f64 = 0.5;

/// Words centred on a point.
fn centred(at: Point, words: &str) -> Text {
    Text { at, height: LETTER_MM, anchor: Anchor::Middle, words: words.to_owned() }
}

/// The width between two corners, `above` mm above them, or below where that is negative.
pub(super) fn across(scene: &mut Scene, left: Point, right: Point, above: f64, words: &str) {
    let way = above.signum();
    let y = left.y + above;
    for corner in [left, right] {
        let ends = [corner.y + way * GAP_MM, y + way * PAST_MM];
        scene.line(Role::Dimension, &ends.map(|y| Point::new(corner.x, y)));
    }
    straight(scene, Point::new(left.x, y), Point::new(right.x, y));
    let middle = (left.x + right.x) / 2.0;
    let beside = right.x + STUB_MM + 1.0 + room::width(words, LETTER_MM) / 2.0;
    // On the line, above the ends of the extension lines, or past an arrow.
    let places = [(middle, 0.7), (middle, 1.1), (beside, 0.0)];
    let places = places.map(|(x, up)| centred(Point::new(x, y + up * LETTER_MM), words));
    place(scene, Role::Dimension, &places);
}

/// The height between two levels at `x`, seen from corners further left.
pub(super) fn height(scene: &mut Scene, low: Point, high: Point, x: f64, words: &str) {
    for corner in [low, high] {
        let ends = [corner.x + GAP_MM, x + PAST_MM].map(|x| Point::new(x, corner.y));
        scene.line(Role::Dimension, &ends);
    }
    straight(scene, Point::new(x, low.y), Point::new(x, high.y));
    let at = Point::new(x + 1.0 + PAST_MM, (low.y + high.y) / 2.0);
    let text = Text { anchor: Anchor::Start, ..centred(at, words) };
    scene.add(Role::Dimension, Shape::Text(text));
}

/// A dimension line with its arrows.
fn straight(scene: &mut Scene, from: Point, to: Point) {
    let length = from.distance(to);
    let along = Point::new(to.x - from.x, to.y - from.y).angle();
    let stub = if length < SHORT_MM { STUB_MM } else { 0.0 };
    let ends = [moved(from, -stub, along), moved(to, stub, along)];
    scene.line(Role::Dimension, &ends);
    let turn = if stub > 0.0 { PI } else { 0.0 };
    arrow(scene, from, along + turn);
    arrow(scene, to, along + PI + turn);
}

/// The angle between two directions about the axis.
pub(super) struct Between<'a> {
    /// First direction, radians.
    pub(super) from: f64,
    /// Second one, counter-clockwise from the first.
    pub(super) to: f64,
    /// Where the extension lines begin.
    pub(super) foot: f64,
    /// Radius of the dimension line.
    pub(super) radius: f64,
    /// What the extension lines are: flanks are extended, centres get centre lines.
    pub(super) lines: Role,
    /// Its words.
    pub(super) words: &'a str,
}

impl Between<'_> {
    pub(super) fn draw(&self, scene: &mut Scene) {
        for direction in [self.from, self.to] {
            let ends = [self.foot + GAP_MM, self.radius + PAST_MM];
            scene.line(self.lines, &ends.map(|r| Point::polar(r, direction)));
        }
        let stub = if self.is_short() { STUB_MM / self.radius } else { 0.0 };
        let (start, sweep) = (self.from - stub, self.to - self.from + 2.0 * stub);
        let segments = vec![Segment::Arc { radius: self.radius, start, sweep }];
        scene.add(Role::Dimension, Shape::Path { segments, closed: false });
        self.arrows(scene);
        place(scene, Role::Dimension, &self.places());
    }

    fn is_short(&self) -> bool {
        (self.to - self.from) * self.radius < SHORT_MM
    }

    /// Arrow heads lie along the chord that they cover.
    fn arrows(&self, scene: &mut Scene) {
        let lean = ARROW_MM / 2.0 / self.radius;
        let out = if self.is_short() { -1.0 } else { 1.0 };
        for (at, way) in [(self.from, out), (self.to, -out)] {
            arrow(scene, Point::polar(self.radius, at), at + way * (FRAC_PI_2 + lean));
        }
    }

    /// Where the words may be: outside the arc, first at its middle, then along it and past a
    /// short one's ends, then further out.
    fn places(&self) -> Vec<Text> {
        let middle = (self.from + self.to) / 2.0;
        let longest = (self.to - self.from) / 2.0 * self.radius + 2.0 * STUB_MM;
        let sideways = [3.0, 6.0, 9.0, 13.0, 17.0, 22.0, 28.0].into_iter();
        let along = std::iter::once(0.0).chain(sideways.flat_map(|mm: f64| [mm, -mm]));
        let along = along.filter(move |mm| mm.abs() <= longest);
        let each =
            [0.9, 2.6, 5.0, 8.0].into_iter().flat_map(|out| along.clone().map(move |a| (out, a)));
        each.map(|(out, along)| {
            outside(self.radius + out, middle + along / self.radius, self.words)
        })
        .collect()
    }
}

/// Words just outside a circle about the axis: the rectangle that they cover rests on it.
fn outside(radius: f64, direction: f64, words: &str) -> Text {
    let half = Point::new(room::width(words, LETTER_MM) / 2.0, LETTER_MM * 0.4);
    let toward = Point::polar(1.0, direction);
    let rest = half.x * toward.x.abs() + half.y * toward.y.abs();
    centred(Point::polar(radius + rest, direction), words)
}

/// A diameter shown on its circle by an arrow from `reach`, in a direction that is free of dogs.
pub(super) fn diameter(scene: &mut Scene, radius: f64, reach: f64, direction: f64, words: &str) {
    let ends = [radius, reach].map(|r| Point::polar(r, direction));
    scene.line(Role::Dimension, &ends);
    arrow(scene, ends[0], direction);
    let places = [1.0, 3.0, 6.0, 10.0, 15.0].map(|out| outside(reach + out, direction, words));
    place(scene, Role::Dimension, &places);
}

/// An arrow head with its tip at a point, its body lying towards `direction`.
fn arrow(scene: &mut Scene, tip: Point, direction: f64) {
    let half = 15_f64.to_radians() / 2.0;
    let wing = |turn: f64| moved(tip, ARROW_MM, direction + turn);
    scene.polygon(Role::Dimension, &[tip, wing(half), wing(-half)]);
}

fn moved(p: Point, by: f64, direction: f64) -> Point {
    let step = Point::polar(by, direction);
    Point::new(p.x + step.x, p.y + step.y)
}
