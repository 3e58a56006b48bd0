//! The axes of a chart: numbers, titles, the lines at their numbers, and the working point.

use super::Frame;
use crate::draw::scene::{Anchor, Bounds, Role, Scene, circle, words_width};
use crate::ring::Point;

/// Letters of direct labels are larger than those of numbers: 13 px to 12.
pub(crate) const LABEL: f64 = 13.0 / 12.0;

/// Room that numbers and the title of an axis take below a chart, in letter heights.
pub(crate) const BELOW: f64 = 3.7;

/// Room that the title of the upright axis takes above a chart, in letter heights.
pub(crate) const TITLE: f64 = 2.6;

/// Height of letters of a chart: 12 px of a screen. Where a chart is as wide as that takes, its hatching has one
/// size on any screen.
pub(crate) const LETTER_MM: f64 = 12.0 * 25.4 / 96.0;

/// Least height of a chart without its margins, in letter heights.
pub(crate) const LEAST_PLOT: f64 = 15.0;

/// A number along an axis: where it lies, mm, and how it is written.
pub(crate) type AxisNumber = (f64, String);

/// The inside of a chart, with axes along its left and its lower edge.
pub(crate) struct Axes {
    pub(crate) inside: Bounds,
    /// Height of letters, mm.
    pub(crate) text: f64,
    /// Left edge of the paper, mm.
    left: f64,
}

impl Axes {
    pub(crate) const fn new(frame: &Frame, inside: Bounds) -> Self {
        Self { inside, text: frame.text_mm, left: frame.bounds.min.x }
    }

    pub(crate) fn outline(&self, scene: &mut Scene) {
        let Bounds { min, max } = self.inside;
        let corners = [(min.x, min.y), (max.x, min.y), (max.x, max.y), (min.x, max.y)];
        scene.polygon(Role::Border, &corners.map(|(x, y)| Point::new(x, y)));
    }

    /// How many numbers of this width, in letters, have room along the lower edge.
    pub(crate) fn room_across(&self, letters: usize) -> u32 {
        let each = words_width(&"0".repeat(letters)) + 1.0;
        whole(self.inside.width() / (each * self.text)) + 1
    }

    /// How many numbers have room up the left edge.
    pub(crate) fn room_up(&self) -> u32 {
        whole(self.inside.height() / (2.0 * self.text)) + 1
    }

    /// Numbers below the chart. Where the number of the working point is, the others make way.
    pub(crate) fn below(&self, scene: &mut Scene, numbers: &[AxisNumber], own: Option<AxisNumber>) {
        let (text, foot) = (self.text, self.inside.min.y);
        let half = |words: &str| (words_width(words) / 2.0 + 0.3) * text;
        let mut write = |role, x: f64, words: &str| {
            scene.line(Role::Border, &[Point::new(x, foot), Point::new(x, foot - 0.4 * text)]);
            scene.text(role, Point::new(x, foot - 1.2 * text), text, Anchor::Middle, words);
        };
        for (x, words) in numbers {
            let clear = |(at, own): &AxisNumber| (x - at).abs() > half(words) + half(own) * 1.1;
            if own.as_ref().is_none_or(clear) {
                write(Role::Note, *x, words);
            }
        }
        if let Some((x, words)) = own {
            write(Role::Label, x, &words);
        }
    }

    /// Numbers left of the chart.
    pub(crate) fn beside(
        &self,
        scene: &mut Scene,
        numbers: &[AxisNumber],
        own: Option<AxisNumber>,
    ) {
        let (text, Bounds { min, .. }) = (self.text, self.inside);
        let mut write = |role, y: f64, words: &str| {
            scene.line(Role::Border, &[Point::new(min.x - 0.4 * text, y), Point::new(min.x, y)]);
            scene.text(role, Point::new(min.x - 0.7 * text, y), text, Anchor::End, words);
        };
        for (y, words) in numbers {
            if own.as_ref().is_none_or(|(at, _)| (y - at).abs() > 1.3 * text) {
                write(Role::Note, *y, words);
            }
        }
        if let Some((y, words)) = own {
            write(Role::Label, y, &words);
        }
    }

    /// A line across at each number, for charts that are not filled.
    pub(crate) fn grid(&self, scene: &mut Scene, numbers: &[AxisNumber]) {
        let Bounds { min, max } = self.inside;
        for (y, _) in numbers.iter().filter(|(y, _)| *y > min.y && *y < max.y) {
            scene.line(Role::Grid, &[Point::new(min.x, *y), Point::new(max.x, *y)]);
        }
    }

    /// The title of the lower edge, below its numbers at the right end.
    pub(crate) fn title_below(&self, scene: &mut Scene, words: String) {
        let at = Point::new(self.inside.max.x, self.inside.min.y - 2.7 * self.text);
        scene.text(Role::Note, at, self.text, Anchor::End, words);
    }

    /// The title of the left edge, level, over its numbers, so many letter heights above the chart.
    pub(crate) fn title_beside(&self, scene: &mut Scene, words: String, above: f64) {
        // 12 px from the edge of a phone.
        let at = Point::new(self.left + self.text, self.inside.max.y + above * self.text);
        scene.text(Role::Note, at, self.text, Anchor::Start, words);
    }

    /// The working point: a ring, and lines from it to both axes. Casings let them be seen on any fill.
    pub(crate) fn working_point(&self, scene: &mut Scene, at: Point) {
        let Bounds { min, .. } = self.inside;
        let to_axes = [[Point::new(at.x, min.y), at], [Point::new(min.x, at.y), at]];
        for role in [Role::Casing, Role::Dimension] {
            for line in &to_axes {
                scene.line(role, line);
            }
        }
        for role in [Role::Casing, Role::State] {
            circle(scene, role, at, RING * self.text);
        }
    }

    /// A line across, dashed, on any fill.
    pub(crate) fn across(&self, scene: &mut Scene, y: f64) {
        let Bounds { min, max } = self.inside;
        cased(scene, Role::Level, &[Point::new(min.x, y), Point::new(max.x, y)]);
    }
}

/// Radius of the ring of a working point, in letter heights: 5 px.
const RING: f64 = 5.0 / 12.0;

/// A line that can be seen on any fill.
pub(crate) fn cased(scene: &mut Scene, role: Role, points: &[Point]) {
    scene.line(Role::Casing, points);
    scene.line(role, points);
}

/// Rounded down. Clamped to what there can be; NaN becomes 0.
fn whole(number: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
    let whole = number.clamp(0.0, 100.0) as u32;
    whole
}
