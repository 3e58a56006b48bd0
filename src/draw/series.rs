//! Layouts in a chart: the marker and the name of each, alike in every chart of a comparison.

use super::frame::{Frame, LABEL, plot_of};
use super::scene::{Bounds, Role, Scene, shortened, words_width};
use crate::ring::Point;

/// Most of the width of the chart that a name takes.
const NAME: f64 = 0.45;

/// The marker of a layout, by its place.
pub(super) fn marker(scene: &mut Scene, frame: &Frame, middle: Point, series: usize) {
    let corner =
        |[x, y]: [f64; 2]| Point::new(middle.x + x * frame.text_mm, middle.y + y * frame.text_mm);
    let corners: Vec<_> = corners(series).into_iter().map(corner).collect();
    scene.polygon(Role::Datum, &corners);
}

/// Disc, triangle, square and lozenge: corners about the middle, in letter heights.
fn corners(series: usize) -> Vec<[f64; 2]> {
    let size = 0.33;
    match series {
        0 => (0..12)
            .map(|at| {
                let p = Point::polar(size, f64::from(at) * std::f64::consts::TAU / 12.0);
                [p.x, p.y]
            })
            .collect(),
        1 => vec![[-size, -size], [size, -size], [0.0, size]],
        2 => vec![[-0.28, -0.28], [0.28, -0.28], [0.28, 0.28], [-0.28, 0.28]],
        3 => vec![[0.0, -0.4], [0.4, 0.0], [0.0, 0.4], [-0.4, 0.0]],
        4 => vec![[-size, size], [size, size], [0.0, -size]],
        _ => vec![[-0.4, -0.15], [0.4, -0.15], [0.4, 0.15], [-0.4, 0.15]],
    }
}

/// The numbers of a layout, or of several, with their name, as long as there is room for.
pub(super) fn name_of_series(frame: &Frame, numbers: &str, name: &str) -> String {
    let room = NAME * plot_of(frame).width() / (LABEL * frame.text_mm);
    shortened(format!("{numbers} {name}").trim_end(), room)
}

/// Bold words and their surroundings, from their left end.
pub(super) fn box_at(frame: &Frame, words: &str, x: f64, y: f64) -> Bounds {
    let wide = words_width(words) * 1.1 * LABEL * frame.text_mm;
    let half = 0.6 * LABEL * frame.text_mm;
    Bounds { min: Point::new(x, y - half), max: Point::new(x + wide, y + half) }
}

pub(super) fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y
}

pub(super) fn number(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}
