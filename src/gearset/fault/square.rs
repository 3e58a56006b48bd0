//! The factor of a small covariance matrix.

/// Cholesky's factor of a symmetric matrix, by rows.
pub(super) struct Factor {
    size: usize,
    lower: Vec<f64>,
}

impl Factor {
    /// The factor of a matrix given by its rows, of which only the part below the diagonal is read; `None` unless it is
    /// positive definite.
    pub(super) fn of(size: usize, matrix: impl Fn(usize, usize) -> f64) -> Option<Self> {
        let mut lower = vec![0.0; size * size];
        for i in 0..size {
            for j in 0..=i {
                let (row, column) =
                    (&lower[i * size..i * size + j], &lower[j * size..j * size + j]);
                let rest = matrix(i, j) - row.iter().zip(column).map(|(a, b)| a * b).sum::<f64>();
                lower[i * size + j] = if i > j {
                    rest / lower[j * size + j]
                } else if rest > 0.0 {
                    rest.sqrt()
                } else {
                    return None;
                };
            }
        }
        Some(Self { size, lower })
    }

    /// The solution of `L·x = right`.
    pub(super) fn forward(&self, right: &[f64]) -> Vec<f64> {
        let mut solved: Vec<f64> = Vec::with_capacity(self.size);
        for (i, value) in right.iter().enumerate() {
            let row = &self.lower[i * self.size..i * self.size + i];
            let known: f64 = row.iter().zip(&solved).map(|(a, b)| a * b).sum();
            solved.push((value - known) / self.lower[i * self.size + i]);
        }
        solved
    }
}

/// The sum of the products.
pub(super) fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_factor_times_itself_is_the_matrix() {
        let rows = [[4.0, 2.0, 0.4], [2.0, 5.0, 1.0], [0.4, 1.0, 3.0]];
        let factor = Factor::of(3, |i, j| rows[i][j]).expect("it is positive");
        // |L⁻¹·v|² = vᵀ·M⁻¹·v; with v = M·e it is eᵀ·M·e.
        for (at, row) in rows.iter().enumerate() {
            let half = factor.forward(row);
            assert!((dot(&half, &half) - row[at]).abs() < 1e-12, "{at}");
        }
        assert!(Factor::of(2, |i, j| [[1.0, 2.0], [2.0, 1.0]][i][j]).is_none());
    }
}
