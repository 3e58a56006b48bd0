//! Linear algebra of a handful of unknowns: what the fits need, and no library for it.

/// A 3 × 3 matrix by rows.
pub(crate) type Matrix3 = [[f64; 3]; 3];

pub(crate) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(crate) fn times(m: &Matrix3, v: [f64; 3]) -> [f64; 3] {
    m.map(|row| dot(row, v))
}

pub(crate) fn transposed(m: &Matrix3) -> Matrix3 {
    [0, 1, 2].map(|i| [m[0][i], m[1][i], m[2][i]])
}

pub(crate) fn product(a: &Matrix3, b: &Matrix3) -> Matrix3 {
    let columns = transposed(b);
    a.map(|row| columns.map(|column| dot(row, column)))
}

pub(crate) fn determinant(m: &Matrix3) -> f64 {
    dot(m[0], cross(m[1], m[2]))
}

/// The inverse; `None` for a singular matrix.
pub(crate) fn inverse(m: &Matrix3) -> Option<Matrix3> {
    let by = determinant(m);
    let columns = [cross(m[1], m[2]), cross(m[2], m[0]), cross(m[0], m[1])];
    (by.abs() > f64::MIN_POSITIVE && by.is_finite())
        .then(|| transposed(&columns.map(|column| column.map(|x| x / by))))
}

/// The real parts of the three eigenvalues, by the cubic formula (Numerical Recipes, 5.6).
pub(crate) fn eigenvalues(m: &Matrix3) -> [f64; 3] {
    let trace = m[0][0] + m[1][1] + m[2][2];
    let minor = |i: usize, j: usize| m[i][i] * m[j][j] - m[i][j] * m[j][i];
    let (a, b, c) = (-trace, minor(0, 1) + minor(0, 2) + minor(1, 2), -determinant(m));
    let q = (a * a - 3.0 * b) / 9.0;
    let r = (2.0 * a * a * a - 9.0 * a * b + 27.0 * c) / 54.0;
    if r * r < q * q * q {
        let theta = libm::acos(r / (q * q * q).sqrt());
        let root = |turn: f64| -2.0 * q.sqrt() * libm::cos((theta + turn) / 3.0) - a / 3.0;
        return [0.0, std::f64::consts::TAU, -std::f64::consts::TAU].map(root);
    }
    let big = -r.signum() * libm::cbrt(r.abs() + (r * r - q * q * q).max(0.0).sqrt());
    let other = if big == 0.0 { 0.0 } else { q / big };
    let pair = -0.5 * (big + other) - a / 3.0;
    [big + other - a / 3.0, pair, pair]
}

/// The eigenvector of a simple eigenvalue, of length 1: the largest cross product of two rows of `M − λI`.
pub(crate) fn eigenvector(m: &Matrix3, value: f64) -> Option<[f64; 3]> {
    let mut rows = *m;
    (0..3).for_each(|i| rows[i][i] -= value);
    let all = [(0, 1), (0, 2), (1, 2)].map(|(i, j)| cross(rows[i], rows[j]));
    let longest = all.into_iter().max_by(|a, b| dot(*a, *a).total_cmp(&dot(*b, *b)))?;
    let length = dot(longest, longest).sqrt();
    (length > 0.0 && length.is_finite()).then(|| longest.map(|x| x / length))
}

/// The inverse of a symmetric positive matrix by Cholesky's factor; `None` if it is not positive.
pub(crate) fn inverse_symmetric(m: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let n = m.len();
    let mut lower = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let sum: f64 = m[i][j] - (0..j).map(|k| lower[i][k] * lower[j][k]).sum::<f64>();
            if i != j {
                lower[i][j] = sum / lower[j][j];
            } else if sum > 0.0 && sum.is_finite() {
                lower[i][i] = sum.sqrt();
            } else {
                return None;
            }
        }
    }
    let column = |at: usize| {
        let mut x = vec![0.0; n];
        for i in 0..n {
            let unit = f64::from(u8::from(i == at));
            x[i] = (unit - (0..i).map(|k| lower[i][k] * x[k]).sum::<f64>()) / lower[i][i];
        }
        for i in (0..n).rev() {
            x[i] = (x[i] - (i + 1..n).map(|k| lower[k][i] * x[k]).sum::<f64>()) / lower[i][i];
        }
        x
    };
    Some((0..n).map(column).collect())
}

/// The middle of a list of numbers, or the lower one of two; `None` for an empty one.
pub(crate) fn median(of: impl IntoIterator<Item = f64>) -> Option<f64> {
    let mut all: Vec<f64> = of.into_iter().collect();
    let at = all.len().checked_sub(1)? / 2;
    Some(*all.select_nth_unstable_by(at, f64::total_cmp).1)
}

/// A standard deviation that outliers leave alone: 1.4826 times the median of the absolute values.
pub(crate) fn deviation(of: impl IntoIterator<Item = f64>) -> Option<f64> {
    median(of.into_iter().map(f64::abs)).map(|middle| 1.4826 * middle)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn eigenvalues_of_three_by_three() {
        let m = [[2.0, 1.0, 0.0], [1.0, 2.0, 0.0], [0.0, 5.0, 7.0]];
        let mut values = eigenvalues(&m);
        values.sort_by(f64::total_cmp);
        for (value, expected) in values.into_iter().zip([1.0, 3.0, 7.0]) {
            assert!((value - expected).abs() < 1e-12, "{values:?}");
            let vector = eigenvector(&m, value).expect("a simple one");
            let off = times(&m, vector).into_iter().zip(vector).map(|(a, b)| a - value * b);
            assert!(off.into_iter().all(|off| off.abs() < 1e-12));
        }
        let inverse = inverse(&m).expect("not singular");
        assert!((product(&m, &inverse)[2][1]).abs() < 1e-12);
    }

    #[test]
    fn inverses_of_symmetric_matrices() {
        let inverse = inverse_symmetric(&[vec![4.0, 2.0], vec![2.0, 3.0]]).expect("positive");
        assert!((inverse[0][0] - 0.375).abs() < 1e-12 && (inverse[0][1] + 0.25).abs() < 1e-12);
        assert_eq!(inverse_symmetric(&[vec![1.0, 2.0], vec![2.0, 1.0]]), None);
    }
}
