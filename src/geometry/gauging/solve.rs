//! Normal equations of a small least-squares problem.
//!
//! A ring has a few dozen unknowns, and rank matters more than speed. Sixty lines that name the unknowns which no
//! reading determines take the place of a library for linear algebra, which would add its size to the download.

/// A pivot below this share of its diagonal belongs to an unknown that the others determine.
const RANK: f64 = 1e-6;

/// Rows of derivatives, each divided by the uncertainty of its reading.
pub(super) struct Normal {
    count: usize,
    matrix: Vec<f64>,
    scale: Vec<f64>,
}

impl Normal {
    /// `JᵀJ`, scaled to a diagonal of 1. A column without entries keeps a diagonal of 0.
    pub(super) fn of(rows: &[Vec<f64>], count: usize) -> Self {
        let mut matrix = vec![0.0; count * count];
        for row in rows {
            for i in (0..count).filter(|i| row[*i] != 0.0) {
                for j in 0..=i {
                    matrix[i * count + j] += row[i] * row[j];
                }
            }
        }
        let diagonal = |i: usize| matrix[i * count + i];
        let scale: Vec<f64> = (0..count)
            .map(|i| if diagonal(i) > 0.0 { 1.0 / diagonal(i).sqrt() } else { 0.0 })
            .collect();
        for i in 0..count {
            for j in 0..=i {
                matrix[i * count + j] *= scale[i] * scale[j];
            }
        }
        Self { count, matrix, scale }
    }

    /// Cholesky's factor, with the unknowns that the ones before them leave undetermined. These are left out.
    pub(super) fn to_factor(&self) -> Factor {
        let n = self.count;
        let mut lower = self.matrix.clone();
        let mut loose = Vec::new();
        for j in 0..n {
            for k in 0..j {
                let at = lower[j * n + k];
                for i in j..n {
                    lower[i * n + j] -= lower[i * n + k] * at;
                }
            }
            let pivot = lower[j * n + j];
            let is_loose = pivot <= RANK;
            if is_loose {
                loose.push(j);
            }
            let by = if is_loose { 0.0 } else { 1.0 / pivot.sqrt() };
            for i in j..n {
                lower[i * n + j] *= by;
            }
        }
        Factor { count: n, lower, scale: self.scale.clone(), loose }
    }
}

/// A factor `L` with `LLᵀ` the scaled normal matrix.
pub(super) struct Factor {
    count: usize,
    lower: Vec<f64>,
    scale: Vec<f64>,
    /// The unknowns that no reading determines once those before them are known.
    pub(super) loose: Vec<usize>,
}

impl Factor {
    /// Solves for a right-hand side `Jᵀv`. Undetermined unknowns become 0.
    pub(super) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut solved: Vec<f64> = right.iter().zip(&self.scale).map(|(r, s)| r * s).collect();
        self.forward(&mut solved);
        let n = self.count;
        for i in (0..n).rev() {
            let below: f64 = (i + 1..n).map(|k| self.lower[k * n + i] * solved[k]).sum();
            solved[i] = self.divided(i, solved[i] - below);
        }
        solved.iter().zip(&self.scale).map(|(x, s)| x * s).collect()
    }

    /// Covariance of two linear combinations of the unknowns: `gᵀ(JᵀJ)⁻¹h`.
    pub(super) fn covariance(&self, one: &[f64], other: &[f64]) -> f64 {
        let half = |gradient: &[f64]| {
            let mut half: Vec<f64> = gradient.iter().zip(&self.scale).map(|(g, s)| g * s).collect();
            self.forward(&mut half);
            half
        };
        half(one).iter().zip(half(other)).map(|(x, y)| x * y).sum()
    }

    /// Variance of a linear combination of the unknowns.
    pub(super) fn variance(&self, gradient: &[f64]) -> f64 {
        self.covariance(gradient, gradient)
    }

    fn forward(&self, vector: &mut [f64]) {
        for i in 0..self.count {
            let before: f64 = (0..i).map(|k| self.lower[i * self.count + k] * vector[k]).sum();
            vector[i] = self.divided(i, vector[i] - before);
        }
    }

    fn divided(&self, i: usize, value: f64) -> f64 {
        let pivot = self.lower[i * self.count + i];
        if pivot > 0.0 { value / pivot } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line through (0, 1), (1, 3), (2, 4): slope 3/2, intercept 7/6; variances 1/2 and 5/6.
    #[test]
    fn a_line_through_three_points() {
        let rows: Vec<Vec<f64>> = [0.0, 1.0, 2.0].map(|x| vec![x, 1.0]).to_vec();
        let factor = Normal::of(&rows, 2).to_factor();
        let right = [0.0 + 3.0 + 8.0, 1.0 + 3.0 + 4.0];
        let solved = factor.solve(&right);
        assert!((solved[0] - 1.5).abs() < 1e-12 && (solved[1] - 7.0 / 6.0).abs() < 1e-12);
        assert!((factor.variance(&[1.0, 0.0]) - 0.5).abs() < 1e-12);
        assert!((factor.variance(&[0.0, 1.0]) - 5.0 / 6.0).abs() < 1e-12);
        assert!(factor.loose.is_empty());
    }

    #[test]
    fn what_only_a_sum_is_known_of_is_loose_at_its_second_part() {
        let rows = vec![vec![1.0, 1.0, 0.0], vec![2.0, 2.0, 0.0]];
        let factor = Normal::of(&rows, 3).to_factor();
        assert_eq!(factor.loose, [1, 2]);
        assert_eq!(factor.solve(&[10.0, 10.0, 0.0])[1..], [0.0, 0.0]);
    }
}
