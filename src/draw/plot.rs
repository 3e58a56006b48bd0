//! A chart with its own two axes, and marks that several views share.

use std::f64::consts::TAU;

use super::frame::{Bounds, Frame};
use super::scene::{Anchor, Item, Role, Scene};
use crate::ring::Point;

/// Said in place of the drawing of a part that is given with a number outside its limits.
pub(super) const OUTSIDE: &str = "A number is outside its limits: see the findings.";

/// Room round a chart in letter heights: left, right, above, below.
const ROOM: [f64; 4] = [3.2, 1.0, 1.6, 2.4];

/// Where numbers lie on a chart: a range across and a range upwards inside the frame's room.
pub(super) struct Plot<'a> {
    frame: &'a Frame,
    across: [f64; 2],
    up: [f64; 2],
}

impl<'a> Plot<'a> {
    pub(super) const fn new(frame: &'a Frame) -> Self {
        let [across, up] = frame.axes;
        Self { frame, across, up }
    }

    /// The inside of the chart.
    fn inside(&self) -> Bounds {
        let Bounds { min, max } = self.frame.bounds;
        let [left, right, above, below] = ROOM.map(|letters| letters * self.frame.text_mm);
        Bounds {
            min: Point::new(min.x + left, min.y + below),
            max: Point::new(max.x - right, max.y - above),
        }
    }

    /// Lengths of the scene for one unit across and one upwards.
    pub(super) fn scale(&self) -> [f64; 2] {
        let inside = self.inside();
        [
            inside.width() / (self.across[1] - self.across[0]),
            inside.height() / (self.up[1] - self.up[0]),
        ]
    }

    /// Where two numbers lie.
    pub(super) fn at(&self, x: f64, y: f64) -> Point {
        let ([wide, high], Bounds { min, .. }) = (self.scale(), self.inside());
        Point::new(min.x + (x - self.across[0]) * wide, min.y + (y - self.up[0]) * high)
    }

    pub(super) fn outline(&self, scene: &mut Scene) {
        let ([left, right], [low, high]) = (self.across, self.up);
        let corners = [(left, low), (right, low), (right, high), (left, high)];
        scene.polygon(Role::Dimension, &corners.map(|(x, y)| self.at(x, y)));
    }

    /// How many letter heights two numbers stand apart across.
    pub(super) fn letters_across(&self, from: f64, to: f64) -> f64 {
        self.scale()[0] * (to - from).abs() / self.frame.text_mm
    }

    /// The same upwards.
    pub(super) fn letters_up(&self, from: f64, to: f64) -> f64 {
        self.scale()[1] * (to - from).abs() / self.frame.text_mm
    }

    /// A mark and its number under the chart. A number at its end stands inwards from there.
    pub(super) fn below(&self, scene: &mut Scene, x: f64, words: String) {
        let (text, foot) = (self.frame.text_mm, self.at(x, self.up[0]));
        scene.line(Role::Dimension, &[foot, Point::new(foot.x, foot.y - 0.4 * text)]);
        let at = Point::new(foot.x, foot.y - 1.2 * text);
        let anchor = if x <= self.across[0] {
            Anchor::Start
        } else if x >= self.across[1] {
            Anchor::End
        } else {
            Anchor::Middle
        };
        scene.text(Role::Note, at, text, anchor, words);
    }

    /// A mark and its number left of the chart.
    pub(super) fn beside(&self, scene: &mut Scene, y: f64, words: String) {
        let (text, foot) = (self.frame.text_mm, self.at(self.across[0], y));
        scene.line(Role::Dimension, &[Point::new(foot.x - 0.4 * text, foot.y), foot]);
        let at = Point::new(foot.x - 0.6 * text, foot.y);
        scene.text(Role::Note, at, text, Anchor::End, words);
    }

    /// A level from one number to another, with its words over its start if there is room for them.
    pub(super) fn level(
        &self,
        scene: &mut Scene,
        y: f64,
        [from, to]: [f64; 2],
        words: Option<&str>,
    ) {
        let (start, end) = (self.at(from, y), self.at(to, y));
        scene.line(Role::Level, &[start, end]);
        let room = self.letters_across(from, to);
        let Some(words) = words.filter(|words| room > 1.0 + wide(words)) else { return };
        let text = self.frame.text_mm;
        let (anchor, off) = if to > from { (Anchor::Start, 0.4) } else { (Anchor::End, -0.4) };
        let at = Point::new(start.x + off * text, start.y + 0.7 * text);
        scene.text(Role::Note, at, text, anchor, words);
    }

    /// An upright mark through the chart.
    pub(super) fn upright(&self, scene: &mut Scene, x: f64, words: Option<&str>) {
        let (foot, top) = (self.at(x, self.up[0]), self.at(x, self.up[1]));
        scene.line(Role::Level, &[foot, top]);
        let Some(words) = words else { return };
        let text = self.frame.text_mm;
        let at = Point::new(top.x, top.y + 0.8 * text);
        scene.text(Role::Note, at, text, Anchor::Middle, words);
    }
}

/// About how wide words are, in letter heights.
pub(super) fn wide(words: &str) -> f64 {
    0.55 * f64::from(u32::try_from(words.chars().count()).unwrap_or(u32::MAX))
}

/// An arrow head that points from one place to another.
pub(super) fn arrow_head(scene: &mut Scene, role: Role, from: Point, to: Point, size: f64) {
    let along = Point::new(from.x - to.x, from.y - to.y).angle();
    let barb = |off: f64| {
        let p = Point::polar(size, along + off);
        Point::new(to.x + p.x, to.y + p.y)
    };
    scene.line(role, &[barb(0.4), to, barb(-0.4)]);
}

/// A circle about any point, as a figure of many sides.
pub(super) fn circle(scene: &mut Scene, role: Role, middle: Point, radius: f64) -> &mut Item {
    let side = |at: u8| {
        let p = Point::polar(radius, f64::from(at) * TAU / 40.0);
        Point::new(middle.x + p.x, middle.y + p.y)
    };
    scene.polygon(role, &(0..40).map(side).collect::<Vec<_>>())
}

/// A centre mark.
pub(super) fn cross(scene: &mut Scene, middle: Point, size: f64) {
    let Point { x, y } = middle;
    scene.line(Role::Centre, &[Point::new(x - size, y), Point::new(x + size, y)]);
    scene.line(Role::Centre, &[Point::new(x, y - size), Point::new(x, y + size)]);
}

/// A bar with rounded ends from one joint to another.
pub(super) fn bar(scene: &mut Scene, role: Role, from: Point, to: Point, half_width: f64) {
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

/// A scene that only says why there is no drawing.
pub(super) fn nothing(frame: &Frame, words: &str) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Bounds { min, max } = frame.bounds;
    let middle = Point::new((min.x + max.x) / 2.0, (min.y + max.y) / 2.0);
    scene.text(Role::Note, middle, frame.text_mm, Anchor::Middle, words);
    scene
}
