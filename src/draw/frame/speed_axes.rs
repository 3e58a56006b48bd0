//! Charts with an axis of speed differences: their frame, their numbers and the limits that lie on them.

use std::f64::consts::TAU;

use crenel_words::{Message, Reader, drawing as say};

use super::axes::{BELOW, LABEL, LEAST_PLOT, TITLE, cased};
use super::margin::{LABEL_ROW, LEFT, chart_width, right_margin};
use super::{AxisNumber, Canvas, Frame, ticks};
use crate::analysis::Analysis;
use crate::draw::scene::{Anchor, Bounds, Role, Scene, words_width};
use crate::model::Limits;
use crate::ring::Point;
use crate::units::sort_by_number;

/// Most letters of a number along an axis of speed differences.
const SPEED_LETTERS: usize = 5;

/// What a chart has round it, in letter heights.
#[derive(Clone, Copy, Default)]
pub(crate) struct Around {
    pub(crate) above: f64,
    pub(crate) below: f64,
    /// Whether there are labels at the right.
    pub(crate) labels: bool,
}

/// The frame of a chart of speed differences, at least so high that there is something to see.
pub(crate) fn speed_chart(top_rpm: f64, canvas: &Canvas, around: Around) -> Frame {
    let right = right_margin(around.labels);
    let (text_mm, plot) = chart_width(canvas.letter, right);
    let (above, below) = (around.above + TITLE, around.below + BELOW);
    let min = Point::new(-LEFT * text_mm, -below * text_mm);
    let max_x = plot + right * text_mm;
    let least = (below + above + LEAST_PLOT) * text_mm;
    let height = ((max_x - min.x) * canvas.shape).max(least);
    let bounds = Bounds { min, max: Point::new(max_x, min.y + height) };
    let (stretch, radius_mm) = (plot / top_rpm, plot / TAU);
    let share_mm = bounds.max.y - above * text_mm;
    Frame { stretch, radius_mm, top_rpm, share_mm, ..Frame::new(bounds, text_mm) }
}

/// The inside of such a chart.
pub(crate) const fn plot_of(frame: &Frame) -> Bounds {
    Bounds { min: Point::new(0.0, 0.0), max: Point::new(frame.across(TAU), frame.share_mm) }
}

/// The frame of a chart of chances up to a speed difference. `shape` is its height over its width,
/// `letter` the height of its letters as a share of its width.
pub fn chance_frame(top_rpm: f64, shape: f64, letter: f64) -> Frame {
    let canvas = Canvas { shape, letter, whole_shift: false };
    speed_chart(top_rpm, &canvas, Around::default())
}

/// Numbers along an axis of speed differences.
pub(crate) fn speeds(frame: &Frame, room: u32) -> Vec<AxisNumber> {
    ticks(frame.top_rpm, room).into_iter().map(|rpm| (frame.up(rpm), format!("{rpm:.0}"))).collect()
}

/// The same with as many numbers as there is room for across.
pub(crate) fn speeds_across(frame: &Frame) -> Vec<AxisNumber> {
    speeds(frame, super::Axes::new(frame, plot_of(frame)).room_across(SPEED_LETTERS))
}

/// Numbers up an axis of shares.
pub(crate) fn shares(frame: &Frame) -> Vec<AxisNumber> {
    let percent = |at: f64| (at / 100.0 * frame.share_mm, format!("{at:.0}"));
    ticks(100.0, 6).into_iter().map(percent).collect()
}

/// The limits that lie on the chart, with their words, from the lowest.
pub(crate) fn limit_marks(analysis: &Analysis, frame: &Frame) -> Vec<(f64, Message)> {
    limits_below(analysis, frame.top_rpm)
}

/// How many limits lie on a chart up to a speed difference.
pub(crate) fn limit_count(analysis: &Analysis, top_rpm: f64) -> f64 {
    f64::from(u32::try_from(limits_below(analysis, top_rpm).len()).unwrap_or(0))
}

fn limits_below(analysis: &Analysis, top_rpm: f64) -> Vec<(f64, Message)> {
    let Some(limits) = analysis.pair.as_ref().and_then(Limits::of) else { return Vec::new() };
    let marks = [
        (limits.lock_rpm, say::hang_limit as fn(f64) -> Message),
        (limits.drop_in_rpm, say::drop_in_limit),
        (limits.straight_in_rpm, say::straight_in_limit),
    ];
    let mut on: Vec<_> =
        marks.into_iter().filter(|(rpm, _)| *rpm > 0.0 && *rpm < top_rpm).collect();
    sort_by_number(&mut on, |mark| mark.0);
    on.into_iter().map(|(rpm, says)| (rpm, says(rpm.round()))).collect()
}

/// An upright line at each place, from the lowest, with its words in a row of its own over the chart.
pub(crate) fn labels_above(scene: &mut Scene, frame: &Frame, labels: &[AxisNumber], from: f64) {
    let (top, text) = (plot_of(frame).max.y, frame.text_mm);
    let rows = labels.len();
    for (at, (x, words)) in labels.iter().enumerate() {
        // The first has the highest row, so that no line runs through the words of another.
        let row = from + count(rows - 1 - at) * LABEL_ROW + LABEL_ROW / 2.0;
        let level = top + row * text;
        cased(scene, Role::Level, &[Point::new(*x, 0.0), Point::new(*x, top)]);
        scene.line(Role::Border, &[Point::new(*x, top), Point::new(*x, level)]);
        let width = words_width(words) * LABEL * text;
        let last = frame.bounds.max.x - width - 0.3 * text;
        let begins = (x + 0.4 * text).min(last).max(frame.bounds.min.x);
        let at = Point::new(begins, level);
        scene.text(Role::Note, at, LABEL * text, Anchor::Start, words.clone());
    }
}

fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}

/// Words of limits for a reader, each with its place along the axis.
pub(crate) fn limit_labels(analysis: &Analysis, frame: &Frame, reader: Reader) -> Vec<AxisNumber> {
    let marks = limit_marks(analysis, frame).into_iter();
    marks.map(|(rpm, says)| (frame.up(rpm), says.show(reader))).collect()
}
