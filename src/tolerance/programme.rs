//! A small linear programme: the largest value of a linear function under linear limits.

/// Numbers below this are rounding.
const TINY: f64 = 1e-11;

/// Pivots for each row and column before the programme gives up, which no limits of dogs come near.
const PATIENCE: usize = 200;

/// The largest `c·x` with `A·x ≤ b` and `x ≥ 0`, where no `b` is negative; `None` if there is none.
///
/// The simplex method on a whole tableau. The entering column is the first that gains (Bland, “New finite
/// pivoting rules for the simplex method”, 1977), so that it ends.
///
/// ```
/// use crenel::tolerance::largest;
/// // 3x + 2y with x + y ≤ 4 and x + 3y ≤ 6 is largest at (4, 0).
/// let rows = [(vec![1.0, 1.0], 4.0), (vec![1.0, 3.0], 6.0)];
/// assert_eq!(largest(&[3.0, 2.0], &rows), Some(12.0));
/// ```
pub fn largest(gains: &[f64], rows: &[(Vec<f64>, f64)]) -> Option<f64> {
    Programme::new(gains, rows).largest()
}

/// A programme that is being solved, one pivot after the other, so that newer work can come in between.
#[derive(Clone, Debug)]
pub(super) struct Programme {
    table: Vec<Vec<f64>>,
    goal: Vec<f64>,
    basis: Vec<usize>,
    /// Pivots that it may still take.
    left: usize,
}

/// What a pivot has come to.
pub(super) enum Pivoted {
    /// There is more to gain.
    On,
    /// The largest value, if there is one.
    Over(Option<f64>),
}

impl Programme {
    pub(super) fn new(gains: &[f64], rows: &[(Vec<f64>, f64)]) -> Self {
        let count = gains.len();
        let last = count + rows.len();
        let line = |(at, row): (usize, &(Vec<f64>, f64))| {
            let mut line = row.0.clone();
            line.resize(last + 1, 0.0);
            line[count + at] = 1.0;
            line[last] = row.1;
            line
        };
        let mut goal: Vec<f64> = gains.iter().map(|gain| -gain).collect();
        goal.resize(last + 1, 0.0);
        Self {
            table: rows.iter().enumerate().map(line).collect(),
            goal,
            basis: (count..last).collect(),
            left: PATIENCE * (last + 1),
        }
    }

    /// Goes on to the end.
    pub(super) fn largest(mut self) -> Option<f64> {
        loop {
            if let Pivoted::Over(largest) = self.pivot() {
                return largest;
            }
        }
    }

    pub(super) fn pivot(&mut self) -> Pivoted {
        let last = self.goal.len() - 1;
        let Some(enters) = self.goal[..last].iter().position(|gain| *gain < -TINY) else {
            return Pivoted::Over(Some(self.goal[last]));
        };
        self.left = self.left.saturating_sub(1);
        let Some(leaves) = self.leaves(enters).filter(|_| self.left > 0) else {
            return Pivoted::Over(None);
        };
        let pivot = self.table[leaves][enters];
        self.table[leaves].iter_mut().for_each(|number| *number /= pivot);
        let row = self.table[leaves].clone();
        let others = self.table.iter_mut().enumerate().filter(|(at, _)| *at != leaves);
        for line in others.map(|(_, line)| line).chain([&mut self.goal]) {
            let by = line[enters];
            if by != 0.0 {
                line.iter_mut().zip(&row).for_each(|(number, of_row)| *number -= by * of_row);
            }
        }
        self.basis[leaves] = enters;
        Pivoted::On
    }

    /// The row that limits a column first.
    fn leaves(&self, enters: usize) -> Option<usize> {
        let last = self.goal.len() - 1;
        let mut first: Option<(f64, usize)> = None;
        for (at, line) in self.table.iter().enumerate().filter(|(_, line)| line[enters] > TINY) {
            let ratio = line[last] / line[enters];
            let better = first.is_none_or(|(least, row)| {
                ratio < least - TINY || (ratio <= least + TINY && self.basis[at] < self.basis[row])
            });
            if better {
                first = Some((ratio, at));
            }
        }
        first.map(|(_, at)| at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Seeded;

    #[test]
    fn corners_that_are_met_by_many_limits_do_not_keep_it_going_round() {
        // Beale's example, on which the plain rule goes round for ever: the largest value is 0.05.
        let rows = [
            (vec![0.25, -60.0, -1.0 / 25.0, 9.0], 0.0),
            (vec![0.5, -90.0, -1.0 / 50.0, 3.0], 0.0),
            (vec![0.0, 0.0, 1.0, 0.0], 1.0),
        ];
        let got = largest(&[0.75, -150.0, 0.02, -6.0], &rows).expect("it has one");
        assert!((got - 0.05).abs() < 1e-12, "{got}");
        assert_eq!(largest(&[1.0], &[(vec![-1.0], 2.0)]), None, "nothing limits it");
    }

    /// In two dimensions the largest value is at a crossing of two limits.
    #[test]
    fn the_largest_value_is_that_of_the_best_corner() {
        let mut random = Seeded::new(11);
        for _ in 0..200 {
            let mut number = || 2.0 * random.share() - 0.5;
            let gains = [number(), number()];
            let mut rows: Vec<_> =
                (0..5).map(|_| (vec![number(), number()], number().abs())).collect();
            rows.push((vec![1.0, 0.0], 3.0));
            rows.push((vec![0.0, 1.0], 3.0));
            let mut lines = rows.clone();
            lines.push((vec![-1.0, 0.0], 0.0));
            lines.push((vec![0.0, -1.0], 0.0));
            let mut best = f64::NEG_INFINITY;
            for (p, (a, b)) in lines.iter().enumerate() {
                for (c, d) in &lines[..p] {
                    let det = a[0] * c[1] - a[1] * c[0];
                    let [x, y] = [(b * c[1] - a[1] * d) / det, (a[0] * d - b * c[0]) / det];
                    let fits =
                        |(row, most): &(Vec<f64>, f64)| row[0] * x + row[1] * y <= most + 1e-9;
                    if det.abs() > 1e-9 && lines.iter().all(fits) {
                        best = best.max(gains[0] * x + gains[1] * y);
                    }
                }
            }
            let got = largest(&gains, &rows).expect("it is bounded");
            assert!((got - best).abs() < 1e-6, "{got} {best}");
        }
    }
}
