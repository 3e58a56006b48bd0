//! How close a view is looked at: a window on its frame.

use crate::draw::scene::Bounds;
use crate::ring::Point;

/// How many times closer than whole a view can be looked at.
const CLOSEST: f64 = 16.0;

/// A window on a frame, kept as shares of it so that it stays where it is when the frame changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zoom {
    /// How many times closer than whole, from 1.
    factor: f64,
    /// The left and upper edge of the window as shares of the frame, from the left and from the top.
    corner: [f64; 2],
}

impl Default for Zoom {
    /// The whole frame.
    fn default() -> Self {
        Self { factor: 1.0, corner: [0.0; 2] }
    }
}

impl Zoom {
    /// Whether the whole frame is seen.
    pub const fn is_whole(&self) -> bool {
        self.factor <= 1.0
    }

    /// What is seen of a frame.
    pub fn window(&self, frame: &Bounds) -> Bounds {
        let (wide, high) = (frame.width() / self.factor, frame.height() / self.factor);
        let left = frame.min.x + self.corner[0] * frame.width();
        let top = frame.max.y - self.corner[1] * frame.height();
        Bounds { min: Point::new(left, top - high), max: Point::new(left + wide, top) }
    }

    /// `factor` times closer about a place that stays where it is, given as shares of the window from
    /// its left and its top.
    #[must_use]
    pub fn closer(&self, factor: f64, about: [f64; 2]) -> Self {
        let closer = (self.factor * factor).clamp(1.0, CLOSEST);
        let edge =
            |axis: usize| self.corner[axis] + about[axis] * (1.0 / self.factor - 1.0 / closer);
        Self { factor: closer, corner: [edge(0), edge(1)] }.inside()
    }

    /// The paper moved under the window by shares of the window, to the right and down.
    #[must_use]
    pub fn moved(&self, by: [f64; 2]) -> Self {
        let edge = |axis: usize| self.corner[axis] - by[axis] / self.factor;
        Self { corner: [edge(0), edge(1)], ..*self }.inside()
    }

    /// With two fingers: what lay under the middle of `from` lies under the middle of `to`, and closer
    /// by as much as they went apart. Places are shares of the window, `aspect` its height over its width.
    #[must_use]
    pub fn pinched(&self, from: [[f64; 2]; 2], to: [[f64; 2]; 2], aspect: f64) -> Self {
        let middle = |[a, b]: [[f64; 2]; 2]| [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
        let apart = |[a, b]: [[f64; 2]; 2]| libm::hypot(a[0] - b[0], (a[1] - b[1]) * aspect);
        // Two fingers on one spot would be closer without end.
        let factor = apart(to).max(1e-3) / apart(from).max(1e-3);
        let (before, after) = (middle(from), middle(to));
        self.closer(factor, before).moved([after[0] - before[0], after[1] - before[1]])
    }

    /// Moved just so far that a place of the frame is seen, well inside the window.
    #[must_use]
    pub fn showing(&self, place: Point, frame: &Bounds) -> Self {
        let across = (place.x - frame.min.x) / frame.width();
        let down = (frame.max.y - place.y) / frame.height();
        let edge = |axis: usize, at: f64| {
            let size = 1.0 / self.factor;
            let margin = 0.15 * size;
            let seen =
                (self.corner[axis] + margin..=self.corner[axis] + size - margin).contains(&at);
            if seen { self.corner[axis] } else { at - 0.5 * size }
        };
        Self { corner: [edge(0, across), edge(1, down)], ..*self }.inside()
    }

    /// Never past the edges of the frame.
    fn inside(self) -> Self {
        let most = 1.0 - 1.0 / self.factor;
        Self { corner: self.corner.map(|edge| edge.clamp(0.0, most)), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Bounds = Bounds { min: Point::new(-20.0, -10.0), max: Point::new(60.0, 30.0) };

    fn at(window: &Bounds, share: [f64; 2]) -> Point {
        Point::new(
            window.min.x + share[0] * window.width(),
            window.max.y - share[1] * window.height(),
        )
    }

    #[test]
    fn the_place_that_is_zoomed_about_stays_under_the_hand() {
        let about = [0.3, 0.8];
        let mut zoom = Zoom::default();
        for factor in [2.0, 1.5, 3.0, 0.5] {
            let before = at(&zoom.window(&FRAME), about);
            zoom = zoom.closer(factor, about);
            let after = at(&zoom.window(&FRAME), about);
            assert!(before.distance(after) < 1e-9, "{before:?} {after:?}");
        }
    }

    #[test]
    fn two_fingers_keep_what_they_hold() {
        let from = [[0.4, 0.4], [0.6, 0.5]];
        let to = [[0.2, 0.3], [0.7, 0.55]];
        let whole = Zoom::default();
        let (before, after) = (whole.window(&FRAME), whole.pinched(from, to, 0.5).window(&FRAME));
        let middle = |fingers: [[f64; 2]; 2]| {
            [0.5 * (fingers[0][0] + fingers[1][0]), 0.5 * (fingers[0][1] + fingers[1][1])]
        };
        let moved = at(&before, middle(from)).distance(at(&after, middle(to)));
        assert!(moved < 1e-9, "{moved}");
        assert!(before.width() / after.width() > 2.0);
    }

    #[test]
    fn the_window_never_leaves_the_frame() {
        let zoom = Zoom::default().closer(4.0, [0.5; 2]);
        for by in [[9.0, 9.0], [-9.0, 9.0], [0.1, -9.0], [-9.0, -9.0]] {
            let window = zoom.moved(by).window(&FRAME);
            assert!(window.min.x >= FRAME.min.x - 1e-9 && window.max.x <= FRAME.max.x + 1e-9);
            assert!(window.min.y >= FRAME.min.y - 1e-9 && window.max.y <= FRAME.max.y + 1e-9);
        }
        assert!(zoom.closer(0.01, [0.2; 2]).is_whole());
        assert_eq!(zoom.closer(1e-9, [0.9, 0.1]).window(&FRAME), FRAME);
    }

    #[test]
    fn a_place_out_of_sight_is_brought_into_it() {
        let zoom = Zoom::default().closer(8.0, [0.0, 0.0]);
        let place = Point::new(50.0, -5.0);
        let window = zoom.showing(place, &FRAME).window(&FRAME);
        assert!(window.min.x < place.x && place.x < window.max.x);
        assert!(window.min.y < place.y && place.y < window.max.y);
        assert_eq!(zoom.showing(Point::new(-15.0, 27.0), &FRAME), zoom);
    }
}
