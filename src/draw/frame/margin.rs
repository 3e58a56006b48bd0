//! The margin at the right of a chart, for direct labels.

use super::axes::{LABEL, LETTER_MM};
use super::{AxisNumber, Frame};
use crate::draw::scene::{Anchor, Bounds, Role, Scene, spread, wrapped};
use crate::measure::Measure;
use crate::ring::Point;

/// Margin of a chart at its left, for numbers, in letter heights.
pub(crate) const LEFT: f64 = 4.6;

/// A row of direct labels, in letter heights: 16 px.
pub(crate) const LABEL_ROW: f64 = 16.0 / 12.0;

/// Room between two labels, in letter heights: 5 px.
const BETWEEN: f64 = 5.0 / 12.0;

/// Height of letters and width of a chart without its margins, mm, with letters of this share of the width of all
/// and so many letter heights at its right.
pub(crate) fn chart_width(letter: f64, right: f64) -> (f64, f64) {
    (LETTER_MM, LETTER_MM * (1.0 / letter.min(0.08) - LEFT - right))
}

/// Whether a chart with letters of this share of its width has room for labels at the right.
pub(crate) fn has_label_margin(letter: f64) -> bool {
    letter < 0.026
}

/// Margin of a chart at its right, with labels or without, in letter heights.
pub(crate) const fn right_margin(labels: bool) -> f64 {
    if labels { 9.4 } else { 1.4 }
}

/// Words in the margin at the right of a chart, each with a leader from its height. From the lowest on, and
/// moved apart as far as they need.
pub(crate) fn margin_labels(
    scene: &mut Scene,
    frame: &Frame,
    inside: &Bounds,
    labels: &[AxisNumber],
) {
    let of_none: Vec<_> = labels.iter().map(|(y, words)| (*y, words.as_str(), None)).collect();
    measure_labels(scene, frame, inside, &of_none);
}

/// The same, where labels may tell the size of a measure.
pub(crate) fn measure_labels(
    scene: &mut Scene,
    frame: &Frame,
    inside: &Bounds,
    labels: &[(f64, &str, Option<Measure>)],
) {
    let (text, edge) = (frame.text_mm, inside.max.x);
    let room = (frame.bounds.max.x - edge) / text - 1.0;
    let lines: Vec<_> = labels.iter().map(|(_, words, _)| wrapped(words, room / LABEL)).collect();
    let rooms: Vec<_> =
        lines.iter().map(|lines| (count(lines.len()) * LABEL_ROW + BETWEEN) * text).collect();
    let wanted: Vec<_> = labels.iter().map(|(y, ..)| *y).collect();
    let places = spread(&wanted, &rooms, [frame.bounds.min.y, frame.bounds.max.y]);
    for ((&(y, _, measure), lines), place) in labels.iter().zip(lines).zip(places) {
        let leader = [(edge, y), (edge + 0.2 * text, y), (edge + 0.7 * text, place)];
        scene.line(Role::Border, &leader.map(|(x, y)| Point::new(x, y))).measures(measure);
        let first = place + (count(lines.len()) - 1.0) / 2.0 * LABEL_ROW * text;
        for (row, words) in lines.into_iter().enumerate() {
            let at = Point::new(edge + 0.9 * text, first - count(row) * LABEL_ROW * text);
            scene.text(Role::Note, at, LABEL * text, Anchor::Start, words).measures(measure);
        }
    }
}

fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}
