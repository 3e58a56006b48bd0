//! A chart with two axes of its own.

use super::Frame;
use crate::draw::scene::{Anchor, Bounds, Role, Scene, words_width};
use crate::ring::Point;

/// Room round a chart in letter heights: left, right, above, below.
const ROOM: [f64; 4] = [3.2, 1.0, 1.6, 2.4];

/// Where numbers lie on a chart: a range across and a range upwards inside the frame's room.
pub(crate) struct Plot<'a> {
    frame: &'a Frame,
    across: [f64; 2],
    up: [f64; 2],
}

impl<'a> Plot<'a> {
    pub(crate) const fn new(frame: &'a Frame) -> Self {
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
    pub(crate) fn scale(&self) -> [f64; 2] {
        let inside = self.inside();
        [
            inside.width() / (self.across[1] - self.across[0]),
            inside.height() / (self.up[1] - self.up[0]),
        ]
    }

    /// Where two numbers lie.
    pub(crate) fn at(&self, x: f64, y: f64) -> Point {
        let ([wide, high], Bounds { min, .. }) = (self.scale(), self.inside());
        Point::new(min.x + (x - self.across[0]) * wide, min.y + (y - self.up[0]) * high)
    }

    pub(crate) fn outline(&self, scene: &mut Scene) {
        let ([left, right], [low, high]) = (self.across, self.up);
        let corners = [(left, low), (right, low), (right, high), (left, high)];
        scene.polygon(Role::Dimension, &corners.map(|(x, y)| self.at(x, y)));
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

    /// A level from one number to another, with its words over its start if there is room for them.
    pub(crate) fn level(
        &self,
        scene: &mut Scene,
        y: f64,
        [from, to]: [f64; 2],
        words: Option<String>,
    ) {
        let (start, end) = (self.at(from, y), self.at(to, y));
        scene.line(Role::Level, &[start, end]);
        let room = self.letters_across(from, to);
        let Some(words) = words.filter(|words| room > 1.0 + words_width(words)) else { return };
        let text = self.frame.text_mm;
        let (anchor, off) = if to > from { (Anchor::Start, 0.4) } else { (Anchor::End, -0.4) };
        let at = Point::new(start.x + off * text, start.y + 0.7 * text);
        scene.text(Role::Note, at, text, anchor, words);
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
