//! Figures cut off at both ends of a turn.

use crate::ring::Point;

/// A convex figure moved by `shift` and cut off at both ends of the turn.
pub(crate) fn clip(points: &[Point], shift: f64, turn: f64) -> Vec<Point> {
    let moved: Vec<_> = points.iter().map(|p| Point::new(p.x + shift, p.y)).collect();
    let inside_left = cut_at(&moved, 0.0, 1.0);
    cut_at(&inside_left, turn, -1.0)
}

/// Keeps what lies on one side of an upright line (Sutherland–Hodgman with one edge).
fn cut_at(points: &[Point], x: f64, keep: f64) -> Vec<Point> {
    let inside = |p: &Point| keep * (p.x - x) >= 0.0;
    let mut kept = Vec::with_capacity(points.len() + 2);
    for (at, p) in points.iter().enumerate() {
        let previous = &points[(at + points.len() - 1) % points.len()];
        if inside(p) != inside(previous) {
            let share = (x - previous.x) / (p.x - previous.x);
            kept.push(Point::new(x, previous.y + share * (p.y - previous.y)));
        }
        if inside(p) {
            kept.push(*p);
        }
    }
    kept
}
