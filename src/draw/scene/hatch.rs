//! Hatching: thin lines across a figure, for metal that comes off.

use super::bounds::Bounds;
use crate::ring::Point;
use crate::units::sort_by_number;

/// More lines than this are no hatching any more.
const MOST_LINES: f64 = 2000.0;

/// Straight lines rising to the right across a closed figure, so far apart, square to themselves.
/// Where a line would run through one of the `gaps`, such as words, it is interrupted.
pub(crate) fn hatch(figure: &[Point], apart: f64, gaps: &[Bounds]) -> Vec<[Point; 2]> {
    let across = |p: &Point| p.y - p.x;
    let least = figure.iter().map(across).fold(f64::INFINITY, f64::min);
    let most = figure.iter().map(across).fold(f64::NEG_INFINITY, f64::max);
    // Lines at 45° lie √2 times as far apart along y as square to themselves.
    let step = apart * std::f64::consts::SQRT_2;
    let count = (most - least) / step;
    if !(0.0..=MOST_LINES).contains(&count) {
        return Vec::new();
    }
    // All figures of a drawing share the same lines.
    let first = (least / step).ceil();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded above")]
    let levels = (0..count as u32 + 1).map(|at| (first + f64::from(at)) * step);
    let lines = levels.filter(|level| *level < most).flat_map(|level| inside(figure, level));
    lines.flat_map(|line| without(line, gaps)).collect()
}

/// The parts of the line `y = x + level` that lie inside a figure.
fn inside(figure: &[Point], level: f64) -> Vec<[Point; 2]> {
    let next = figure.iter().cycle().skip(1);
    let off = |p: &Point| p.y - p.x - level;
    let crossing = |(a, b): (&Point, &Point)| {
        let (from, to) = (off(a), off(b));
        ((from < 0.0) != (to < 0.0)).then(|| a.x + (b.x - a.x) * from / (from - to))
    };
    let mut at: Vec<f64> = figure.iter().zip(next).filter_map(crossing).collect();
    sort_by_number(&mut at, |x| *x);
    at.chunks_exact(2)
        .map(|pair| [0, 1].map(|end| Point::new(pair[end], pair[end] + level)))
        .collect()
}

/// What is left of a line outside some boxes.
fn without(line: [Point; 2], gaps: &[Bounds]) -> Vec<[Point; 2]> {
    gaps.iter().fold(vec![line], |lines, gap| lines.into_iter().flat_map(|l| cut(l, gap)).collect())
}

/// What is left of a line at 45° outside a box.
fn cut([from, to]: [Point; 2], gap: &Bounds) -> Vec<[Point; 2]> {
    let level = from.y - from.x;
    let enters = gap.min.x.max(gap.min.y - level);
    let leaves = gap.max.x.min(gap.max.y - level);
    if enters >= leaves || leaves <= from.x || enters >= to.x {
        return vec![[from, to]];
    }
    let at = |x: f64| Point::new(x, x + level);
    let parts = [[from, at(enters)], [at(leaves), to]];
    parts.into_iter().filter(|[from, to]| to.x > from.x).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(lines: &[[Point; 2]]) -> f64 {
        lines.iter().map(|[from, to]| from.distance(*to)).sum()
    }

    /// Lines so far apart cover a figure by their length times that distance.
    #[test]
    fn hatching_covers_a_figure_and_spares_the_words() {
        let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
        let square = square.map(|(x, y)| Point::new(x, y));
        let all = hatch(&square, 0.05, &[]);
        assert!((length(&all) * 0.05 - 100.0).abs() < 0.5, "{}", length(&all) * 0.05);
        let gap = Bounds { min: Point::new(2.0, 3.0), max: Point::new(6.0, 8.0) };
        let spared = hatch(&square, 0.05, &[gap]);
        assert!((length(&spared) * 0.05 - 80.0).abs() < 0.5, "{}", length(&spared) * 0.05);
    }

    #[test]
    fn a_hollow_figure_and_none_at_all() {
        let notched = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (4.5, 1.0), (0.0, 9.0)];
        let notched = notched.map(|(x, y)| Point::new(x, y));
        let covered = length(&hatch(&notched, 0.02, &[])) * 0.02;
        assert!((covered - 45.0).abs() < 0.3, "81 less 36: {covered}");
        assert!(hatch(&[], 1.0, &[]).is_empty());
        assert!(hatch(&notched, 0.0, &[]).is_empty());
        // So far away that the next line is the same number.
        assert!(hatch(&[Point::new(1e18, 0.0), Point::new(0.0, 1e18)], 1.0, &[]).is_empty());
        assert!(hatch(&[Point::new(1e18, 0.0); 3], 1.0, &[]).is_empty());
    }

    /// A line that only touches a corner has no length.
    #[test]
    fn no_line_of_a_hatch_is_a_point() {
        let step = 5.0 * std::f64::consts::SQRT_2;
        let corners = [(0.0, 0.0), (2.0 * step, 0.0), (0.0, 4.0 * step)];
        let lines = hatch(&corners.map(|(x, y)| Point::new(x, y)), 5.0, &[]);
        assert_eq!(lines.len(), 5, "{lines:?}");
        assert!(lines.iter().all(|[from, to]| from.distance(*to) > 1.0), "{lines:?}");
    }
}
