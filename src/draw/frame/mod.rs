//! What a view covers, and how it lies on its paper or screen.

mod axes;
mod empty;
mod margin;
mod mean_radius;
mod plot;
mod ring_turn;
mod speed_axes;
mod ticks;
mod zoom;

pub(crate) use axes::{Axes, AxisNumber, BELOW, LABEL, TITLE, cased};
pub(crate) use empty::empty_scene;
pub(crate) use margin::{
    LABEL_ROW, LEFT, chart_width, has_label_margin, margin_labels, measure_labels, right_margin,
};
pub(crate) use mean_radius::mean_radius;
pub(crate) use plot::Plot;
pub(crate) use ring_turn::RingTurn;
pub use speed_axes::chance_frame;
pub(crate) use speed_axes::{
    Around, labels_above, limit_count, limit_labels, plot_of, shares, speed_chart, speeds,
    speeds_across,
};
pub(crate) use ticks::{
    angle_ticks_between_deg, angle_ticks_deg, axis_number, ticks, ticks_between,
};
pub use zoom::Zoom;

use crate::draw::scene::Bounds;
use crate::ring::Point;

/// Width of a sheet that a view lays itself out on, mm.
const SHEET_MM: f64 = 160.0;

/// What a view is laid out for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Canvas {
    /// Height over width. The face view is always square.
    pub(crate) shape: f64,
    /// Height of letters as a share of the width.
    pub(crate) letter: f64,
    /// Whether there has to be room for a whole shift, from tip level on.
    pub(crate) whole_shift: bool,
}

/// How a view lies: what it covers, how far lengths along the shaft are stretched, and how large
/// its letters are. It is kept still during a drag, so that the drawing does not run away from the
/// hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// What is covered, in scene coordinates.
    pub bounds: Bounds,
    /// Factor on lengths along the shaft in the phase map, 1 in the developed view; mm of the chart for
    /// each rpm in the outcome map and the chart of chances.
    pub stretch: f64,
    /// Radius at which angles become lengths across the drawing, mm.
    pub radius_mm: f64,
    /// Height of letters, mm.
    pub text_mm: f64,
    /// Speed difference at the end of a chart, rpm; 0 in other views.
    pub top_rpm: f64,
    /// Height of a chart of speed differences without its margins, mm; 0 in other views.
    pub share_mm: f64,
    /// What the axes of shaft swing and drum track cover, across and upwards, and the phases that the phase map covers,
    /// radians; 0 in other views.
    pub axes: [[f64; 2]; 2],
}

impl Frame {
    /// A frame at true size, without axes.
    pub(crate) const fn new(bounds: Bounds, text_mm: f64) -> Self {
        let axes = [[0.0; 2]; 2];
        Self { bounds, stretch: 1.0, radius_mm: 1.0, text_mm, top_rpm: 0.0, share_mm: 0.0, axes }
    }

    /// An empty sheet, on which a view lays itself out.
    pub(crate) const fn plain(canvas: &Canvas) -> Self {
        let max = Point::new(SHEET_MM, SHEET_MM * canvas.shape);
        Self::new(Bounds { min: Point::new(0.0, 0.0), max }, SHEET_MM * canvas.letter)
    }

    /// A frame about some points with room for letters round them, at one scale across and upwards.
    pub(crate) fn around(points: &[Point], canvas: &Canvas) -> Self {
        /// Room on each side, in letter heights.
        const ROOM: f64 = 2.4;
        if points.is_empty() {
            return Self::plain(canvas);
        }
        let extreme = |read: fn(&Point) -> f64| {
            let all = || points.iter().map(read);
            (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (low, high)) = (extreme(|p| p.x), extreme(|p| p.y));
        let room = 2.0 * ROOM * canvas.letter;
        let across = drawable(right - left, 10.0) / (1.0 - room).max(0.3);
        let upwards = drawable(high - low, 10.0) / (canvas.shape - room).max(0.15);
        let width = across.max(upwards);
        let middle = Point::new((left + right) / 2.0, (low + high) / 2.0);
        let (half_x, half_y) = (width / 2.0, width * canvas.shape / 2.0);
        let bounds = Bounds {
            min: Point::new(middle.x - half_x, middle.y - half_y),
            max: Point::new(middle.x + half_x, middle.y + half_y),
        };
        Self::new(bounds, width * canvas.letter)
    }

    /// Whether every number of it is finite.
    pub(crate) fn is_finite(&self) -> bool {
        let Self { bounds: Bounds { min, max }, stretch, radius_mm, text_mm, .. } = self;
        let lengths = [min.x, min.y, max.x, max.y, *stretch, *radius_mm, *text_mm];
        let others = [self.top_rpm, self.share_mm];
        let numbers = lengths.iter().chain(&others).chain(self.axes.as_flattened());
        numbers.into_iter().all(|number| number.is_finite())
    }

    /// Height of letters as a share of the width.
    pub(crate) const fn letter(&self) -> f64 {
        self.text_mm / self.bounds.width()
    }

    /// Whether the letters are so large for the drawing that its words need other places.
    pub(crate) fn is_narrow(&self) -> bool {
        is_narrow(self.letter())
    }

    /// The widest of several frames: in it all their drawings have one scale.
    pub fn common(frames: impl IntoIterator<Item = Self>) -> Option<Self> {
        frames.into_iter().max_by(|a, b| a.bounds.width().total_cmp(&b.bounds.width()))
    }

    /// Where an angle in radians lies across the unrolled view, the phase map or the outcome map, mm.
    pub const fn across(&self, radians: f64) -> f64 {
        radians * self.radius_mm
    }

    /// How far a speed difference in rpm lies along its axis in the charts, mm.
    pub const fn up(&self, rpm: f64) -> f64 {
        rpm * self.stretch
    }

    /// Where an overlap lies in the phase map, mm; deeper is lower.
    pub const fn down(&self, overlap_mm: f64) -> f64 {
        -overlap_mm * self.stretch
    }
}

/// Whether letters of this share of the width are large for a drawing.
pub(crate) fn is_narrow(letter: f64) -> bool {
    letter > 0.031
}

/// A length that a drawing can be laid out for, whatever a design holds: NaN becomes the least.
pub(crate) fn drawable(mm: f64, least: f64) -> f64 {
    const MOST_MM: f64 = 1e4;
    mm.max(least).min(MOST_MM)
}
