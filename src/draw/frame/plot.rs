//! A chart with two axes of its own.

use super::Frame;
use crate::draw::scene::{Anchor, Bounds, Role, Scene};
use crate::ring::Point;

/// Room round a chart in letter heights: left, right, above, below.
const ROOM: [f64; 4] = [4.6, 1.4, 3.2, 3.7];

/// Where numbers lie on a chart: a range across and a range upwards inside the frame's room.
pub(crate) struct Plot<'a> {
    frame: &'a Frame,
    pub(crate) inside: Bounds,
    across: [f64; 2],
    up: [f64; 2],
}

impl<'a> Plot<'a> {
    pub(crate) fn new(frame: &'a Frame) -> Self {
        let [across, up] = frame.axes;
        let Bounds { min, max } = frame.bounds;
        let [left, right, above, below] = ROOM.map(|letters| letters * frame.text_mm);
        let inside = Bounds {
            min: Point::new(min.x + left, min.y + below),
            max: Point::new(max.x - right, max.y - above),
        };
        Self::within(frame, inside, across, up)
    }

    /// A chart in a part of the frame, with ranges of its own.
    pub(crate) const fn within(
        frame: &'a Frame,
        inside: Bounds,
        across: [f64; 2],
        up: [f64; 2],
    ) -> Self {
        Self { frame, inside, across, up }
    }

    /// Lengths of the scene for one unit across and one upwards.
    pub(crate) fn scale(&self) -> [f64; 2] {
        let inside = self.inside;
        [
            inside.width() / (self.across[1] - self.across[0]),
            inside.height() / (self.up[1] - self.up[0]),
        ]
    }

    /// Where two numbers lie.
    pub(crate) fn at(&self, x: f64, y: f64) -> Point {
        let ([wide, high], Bounds { min, .. }) = (self.scale(), self.inside);
        Point::new(min.x + (x - self.across[0]) * wide, min.y + (y - self.up[0]) * high)
    }

    /// How many letter heights lie between two numbers across.
    pub(crate) fn letters_across(&self, from: f64, to: f64) -> f64 {
        self.scale()[0] * (to - from).abs() / self.frame.text_mm
    }

    /// How many letter heights lie between two numbers upwards.
    pub(crate) fn letters_up(&self, from: f64, to: f64) -> f64 {
        self.scale()[1] * (to - from).abs() / self.frame.text_mm
    }

    /// A mark and its number under the chart. A number at an end of the axis is set inwards from there.
    pub(crate) fn below(&self, scene: &mut Scene, x: f64, words: String) {
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
    pub(crate) fn beside(&self, scene: &mut Scene, y: f64, words: String) {
        let (text, foot) = (self.frame.text_mm, self.at(self.across[0], y));
        scene.line(Role::Dimension, &[Point::new(foot.x - 0.4 * text, foot.y), foot]);
        let at = Point::new(foot.x - 0.6 * text, foot.y);
        scene.text(Role::Note, at, text, Anchor::End, words);
    }

    /// An upright mark through the chart.
    pub(crate) fn upright(&self, scene: &mut Scene, x: f64, words: Option<String>) {
        let (foot, top) = (self.at(x, self.up[0]), self.at(x, self.up[1]));
        scene.line(Role::Level, &[foot, top]);
        let Some(words) = words else { return };
        let text = self.frame.text_mm;
        let at = Point::new(top.x, top.y + 0.8 * text);
        scene.text(Role::Note, at, text, Anchor::Middle, words);
    }
}
