//! A field of numbers on a grid: where it is above a level, and the lines along which it has that level.

use std::collections::BTreeMap;

use crate::ring::Point;

/// Numbers on a grid, row by row from the lowest. Places may be there twice: there the field has a step.
pub(super) struct Field {
    /// Where the columns lie.
    pub(super) xs: Vec<f64>,
    /// Where the rows lie.
    pub(super) ys: Vec<f64>,
    /// The numbers; `None` where there is none.
    pub(super) values: Vec<Option<f64>>,
}

/// Where a field is at a level or above it, and its edge there.
#[derive(Default)]
pub(super) struct Above {
    /// Closed figures side by side.
    pub(super) patches: Vec<Vec<Point>>,
    /// The lines between above and below, end to end.
    pub(super) lines: Vec<Vec<Point>>,
}

/// The place between two neighbours of the grid, the one with the lower number first.
type Between = (usize, usize);

impl Field {
    /// Where the field is at a level or above it.
    pub(super) fn above(&self, level: f64) -> Above {
        let mut above = Above::default();
        let mut pieces = Vec::new();
        for row in 0..self.ys.len().saturating_sub(1) {
            self.in_runs(row, |corners| corners.iter().all(|v| *v >= level), &mut above.patches);
            for column in 0..self.xs.len().saturating_sub(1) {
                let (patch, cut) = self.cell(column, row, level);
                above.patches.extend(Some(patch).filter(|patch| patch.len() > 2));
                pieces.extend(cut);
            }
        }
        let point = |at: &Between| self.crossing(*at, level);
        above.lines = joined(&pieces).iter().map(|line| line.iter().map(point).collect()).collect();
        above
    }

    /// The cells that have no number at one of their corners.
    pub(super) fn gaps(&self) -> Vec<Vec<Point>> {
        let mut gaps = Vec::new();
        for row in 0..self.ys.len().saturating_sub(1) {
            let mut from = None;
            for column in 0..self.xs.len() {
                let is_gap = column + 1 < self.xs.len() && self.corners(column, row).is_none();
                from = self.run(row, from, column, is_gap, &mut gaps);
            }
        }
        gaps
    }

    /// Neighbouring cells of a row that are all alike, each run of them as one rectangle.
    fn in_runs(&self, row: usize, is_so: impl Fn([f64; 4]) -> bool, out: &mut Vec<Vec<Point>>) {
        let mut from = None;
        for column in 0..self.xs.len() {
            let inside = column + 1 < self.xs.len();
            let holds = inside && self.corners(column, row).is_some_and(&is_so);
            from = self.run(row, from, column, holds, out);
        }
    }

    /// Goes one column on in a run: begins it, or ends it with its rectangle.
    fn run(
        &self,
        row: usize,
        from: Option<usize>,
        column: usize,
        holds: bool,
        out: &mut Vec<Vec<Point>>,
    ) -> Option<usize> {
        if holds {
            return from.or(Some(column));
        }
        let [left, right] = [self.xs[from?], self.xs[column]];
        let [low, high] = [self.ys[row], self.ys[row + 1]];
        if right > left && high > low {
            let corners = [(left, low), (right, low), (right, high), (left, high)];
            out.push(corners.map(|(x, y)| Point::new(x, y)).to_vec());
        }
        None
    }

    /// The four nodes of a cell, the lower left one first and then round.
    const fn nodes(&self, column: usize, row: usize) -> [usize; 4] {
        let at = row * self.xs.len() + column;
        [at, at + 1, at + 1 + self.xs.len(), at + self.xs.len()]
    }

    /// The numbers at the corners of a cell, if all are there.
    fn corners(&self, column: usize, row: usize) -> Option<[f64; 4]> {
        let at = |node: usize| self.values.get(node).copied().flatten();
        let [a, b, c, d] = self.nodes(column, row).map(at);
        Some([a?, b?, c?, d?])
    }

    /// The part of a cell above a level where it is not all of it, and the pieces of the line through it. Where the
    /// line could run either way, what is above holds together.
    fn cell(&self, column: usize, row: usize, level: f64) -> (Vec<Point>, Vec<[Between; 2]>) {
        let Some(values) = self.corners(column, row) else { return Default::default() };
        let is_above = values.map(|value| value >= level);
        if is_above == [true; 4] || is_above == [false; 4] {
            return Default::default();
        }
        let nodes = self.nodes(column, row);
        let (mut patch, mut pieces, mut left) = (Vec::new(), Vec::new(), None);
        // Round twice, so that a piece that ends where the round began is found; the patch is of the first round.
        for step in 0..8 {
            let (at, next) = (step % 4, (step + 1) % 4);
            let first = step < 4;
            if is_above[at] && first {
                patch.push(self.place(nodes[at]));
            }
            if is_above[at] == is_above[next] {
                continue;
            }
            let between = (nodes[at].min(nodes[next]), nodes[at].max(nodes[next]));
            if first {
                patch.push(self.crossing(between, level));
            }
            if is_above[at] {
                left = first.then_some(between);
            } else if let Some(from) = left.take() {
                pieces.push([from, between]);
            }
        }
        let has_area = self.xs[column + 1] > self.xs[column] && self.ys[row + 1] > self.ys[row];
        (if has_area { patch } else { Vec::new() }, pieces)
    }

    fn place(&self, node: usize) -> Point {
        let across = self.xs.len();
        Point::new(self.xs[node % across], self.ys[node / across])
    }

    /// Where the field has a level between two neighbours. From either cell it is the same point.
    fn crossing(&self, (one, other): Between, level: f64) -> Point {
        let value = |node: usize| self.values[node].unwrap_or(level);
        let (a, b) = (value(one), value(other));
        let share = if a == b { 0.5 } else { ((level - a) / (b - a)).clamp(0.0, 1.0) };
        let (from, to) = (self.place(one), self.place(other));
        Point::new(from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share)
    }
}

/// Pieces put end to end: first those with an open end, then those that close.
fn joined(pieces: &[[Between; 2]]) -> Vec<Vec<Between>> {
    let mut at: BTreeMap<Between, Vec<usize>> = BTreeMap::new();
    for (nth, ends) in pieces.iter().enumerate() {
        for end in ends {
            at.entry(*end).or_default().push(nth);
        }
    }
    let is_open = |end: &Between| at[end].len() == 1;
    let open = (0..pieces.len()).filter(|nth| pieces[*nth].iter().any(is_open));
    let mut used = vec![false; pieces.len()];
    let mut lines = Vec::new();
    for start in open.chain(0..pieces.len()) {
        if std::mem::replace(&mut used[start], true) {
            continue;
        }
        let [a, b] = pieces[start];
        let mut line = if is_open(&a) { vec![a, b] } else { vec![b, a] };
        while let Some(end) = line.last().copied() {
            let Some(next) = at[&end].iter().copied().find(|nth| !used[*nth]) else { break };
            used[next] = true;
            let [a, b] = pieces[next];
            line.push(if a == end { b } else { a });
        }
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(across: u32, value: impl Fn(f64, f64) -> Option<f64>) -> Field {
        let places: Vec<f64> = (0..=across).map(|at| f64::from(at) / f64::from(across)).collect();
        let values = places.iter().flat_map(|y| places.iter().map(|x| value(*x, *y))).collect();
        Field { xs: places.clone(), ys: places, values }
    }

    fn area(patches: &[Vec<Point>]) -> f64 {
        let one = |patch: &Vec<Point>| {
            let next = patch.iter().cycle().skip(1);
            patch.iter().zip(next).map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>() / 2.0
        };
        patches.iter().map(one).sum()
    }

    /// A disc of radius 0.4 has the area π·0.16, and its edge is one closed line all at that radius.
    #[test]
    fn a_hill_is_cut_along_a_circle() {
        let height = |x: f64, y: f64| Some(-Point::new(x - 0.5, y - 0.5).radius());
        let above = field(64, height).above(-0.4);
        assert!((area(&above.patches) - std::f64::consts::PI * 0.16).abs() < 1e-3);
        assert_eq!(above.lines.len(), 1);
        let line = &above.lines[0];
        assert_eq!(line.first(), line.last());
        assert!(
            line.iter().all(|p| (Point::new(p.x - 0.5, p.y - 0.5).radius() - 0.4).abs() < 1e-3)
        );
    }

    /// A slope has straight lines, and what is above them is exact.
    #[test]
    fn a_slope_is_cut_exactly() {
        let above = field(7, |x, y| Some(x + y)).above(0.5);
        assert!((area(&above.patches) - 0.875).abs() < 1e-12);
        assert_eq!(above.lines.len(), 1);
        assert!(above.lines[0].iter().all(|p| (p.x + p.y - 0.5).abs() < 1e-12));
    }

    #[test]
    fn cells_without_a_number_are_gaps_and_all_others_are_above_nothing() {
        let field = field(10, |x, y| (x < 0.45).then_some(y));
        assert!((area(&field.gaps()) - 0.6).abs() < 1e-12);
        assert!((area(&field.above(f64::NEG_INFINITY).patches) - 0.4).abs() < 1e-12);
        assert!(field.above(f64::NEG_INFINITY).lines.is_empty());
    }

    /// Places that are there twice make a step: the line runs along it.
    #[test]
    fn a_step_has_an_upright_line() {
        let xs = vec![0.0, 1.0, 1.0, 2.0];
        let values = [1.0, 1.0, 3.0, 3.0].into_iter().cycle().take(8).map(Some).collect();
        let above = Field { xs, ys: vec![0.0, 1.0], values }.above(2.0);
        assert!((area(&above.patches) - 1.0).abs() < 1e-12);
        assert_eq!(above.lines.len(), 1);
        assert!(above.lines[0].iter().all(|p| p.x == 1.0));
    }

    #[test]
    fn a_saddle_holds_together_above() {
        let values = [Some(1.0), Some(0.0), Some(0.0), Some(1.0)].to_vec();
        let field = Field { xs: vec![0.0, 1.0], ys: vec![0.0, 1.0], values };
        let above = field.above(0.5);
        assert_eq!((above.patches.len(), above.lines.len()), (1, 2));
        assert!((area(&above.patches) - 0.75).abs() < 1e-12);
    }
}
