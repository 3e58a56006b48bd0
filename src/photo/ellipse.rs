//! An ellipse through edge points.

use crate::small::{Matrix3, eigenvalues, eigenvector, inverse, median, product, transposed};

/// Samples of points from which the first ellipse is taken, and how many points each has.
const SAMPLES: usize = 200;
const SAMPLED: usize = 6;

/// How often the ellipse is fitted anew to the points near it.
const REFITS: usize = 6;

/// Points farther from the ellipse than so many of their deviations are left out.
const BEYOND: f64 = 3.0;

/// The least deviation that edge points are given, px.
const LEAST_OFF_PX: f64 = 0.15;

/// An ellipse: `ax² + bxy + cy² + dx + ey + f = 0`, negative inside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    conic: [f64; 6],
}

impl Ellipse {
    /// The ellipse with a middle and two conjugate half diameters; `None` if they lie on one line.
    pub fn of(middle: [f64; 2], [u, v]: [[f64; 2]; 2]) -> Option<Self> {
        let area = u[0] * v[1] - u[1] * v[0];
        if !(area.abs() > 1e-9 && area.is_finite()) {
            return None;
        }
        // (x, y) = middle + s u + t v with s² + t² = 1.
        let (s, t) = ([v[1] / area, -v[0] / area], [-u[1] / area, u[0] / area]);
        let [a, b, c] = [
            s[0] * s[0] + t[0] * t[0],
            2.0 * (s[0] * s[1] + t[0] * t[1]),
            s[1] * s[1] + t[1] * t[1],
        ];
        let [x, y] = middle;
        let d = -2.0 * a * x - b * y;
        let e = -2.0 * c * y - b * x;
        Some(Self { conic: [a, b, c, d, e, a * x * x + b * x * y + c * y * y - 1.0] })
    }

    /// The ellipse of least algebraic distance (Halíř and Flusser, 1998); `None` for fewer than six points, and for points
    /// that no ellipse comes near.
    pub fn through(points: &[[f64; 2]]) -> Option<Self> {
        if points.len() < SAMPLED {
            return None;
        }
        let many = points.len() as f64;
        let mean = [0, 1].map(|i| points.iter().map(|p| p[i]).sum::<f64>() / many);
        let spread = points.iter().map(|p| (p[0] - mean[0]).abs() + (p[1] - mean[1]).abs());
        let scale = spread.sum::<f64>() / many;
        let scaled = points.iter().map(|p| [0, 1].map(|i| (p[i] - mean[i]) / scale));
        let (mut s1, mut s2, mut s3) = ([[0.0; 3]; 3], [[0.0; 3]; 3], [[0.0; 3]; 3]);
        for [x, y] in scaled {
            let (square, line) = ([x * x, x * y, y * y], [x, y, 1.0]);
            for i in 0..3 {
                for j in 0..3 {
                    s1[i][j] += square[i] * square[j];
                    s2[i][j] += square[i] * line[j];
                    s3[i][j] += line[i] * line[j];
                }
            }
        }
        let t = product(&inverse(&s3)?, &transposed(&s2)).map(|row| row.map(|x| -x));
        let right = product(&s2, &t);
        let m: Matrix3 = [0, 1, 2].map(|i| [0, 1, 2].map(|j| s1[i][j] + right[i][j]));
        let m = [m[2].map(|x| x / 2.0), m[1].map(|x| -x), m[0].map(|x| x / 2.0)];
        let is_ellipse = |v: &[f64; 3]| 4.0 * v[0] * v[2] - v[1] * v[1] > 0.0;
        let vectors = eigenvalues(&m).into_iter().filter_map(|value| eigenvector(&m, value));
        let [a, b, c] = vectors.into_iter().find(is_ellipse)?;
        let [d, e, f] = crate::small::times(&t, [a, b, c]);
        // Back from the scaled points.
        let ([x, y], square) = (mean, scale * scale);
        let (d, e, f) = (d * scale, e * scale, f * square);
        let conic = [
            a,
            b,
            c,
            d - 2.0 * a * x - b * y,
            e - 2.0 * c * y - b * x,
            a * x * x + b * x * y + c * y * y - d * x - e * y + f,
        ];
        let sign = if a < 0.0 { -1.0 } else { 1.0 };
        let ellipse = Self { conic: conic.map(|x| sign * x) };
        ellipse.middle().iter().all(|x| x.is_finite()).then_some(ellipse)
    }

    /// The ellipse of most points, with those that lie on it: samples of six (Fischler and Bolles, 1981), and then fits to
    /// the points near it.
    pub fn of_most(points: &[[f64; 2]]) -> Option<(Self, Vec<bool>)> {
        let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
        let misfit = |ellipse: &Self| median(points.iter().map(|p| ellipse.distance(*p).abs()));
        let samples = (0..SAMPLES).filter_map(|_| {
            let sample: Vec<[f64; 2]> =
                (0..SAMPLED).map(|_| points[dice.below(points.len())]).collect();
            let ellipse = Self::through(&sample)?;
            Some((misfit(&ellipse)?, ellipse))
        });
        if points.len() < SAMPLED {
            return None;
        }
        let whole = Self::through(points).and_then(|all| Some((misfit(&all)?, all)));
        let (mut off, mut ellipse) = samples.chain(whole).min_by(|a, b| a.0.total_cmp(&b.0))?;
        let mut near = vec![true; points.len()];
        for _ in 0..REFITS {
            let most = BEYOND * (1.4826 * off).max(LEAST_OFF_PX);
            near = points.iter().map(|p| ellipse.distance(*p).abs() <= most).collect();
            let kept: Vec<[f64; 2]> =
                points.iter().zip(&near).filter(|(_, near)| **near).map(|(p, _)| *p).collect();
            ellipse = Self::through(&kept)?;
            off = median(kept.iter().map(|p| ellipse.distance(*p).abs()))?;
        }
        Some((ellipse, near))
    }

    /// Its matrix `Q`, with `xᵀQx = 0` on it.
    pub(crate) fn matrix(&self) -> Matrix3 {
        let [a, b, c, d, e, f] = self.conic;
        [[a, b / 2.0, d / 2.0], [b / 2.0, c, e / 2.0], [d / 2.0, e / 2.0, f]]
    }

    /// Its middle.
    pub fn middle(&self) -> [f64; 2] {
        let [a, b, c, d, e, _] = self.conic;
        let by = b * b - 4.0 * a * c;
        [(2.0 * c * d - b * e) / by, (2.0 * a * e - b * d) / by]
    }

    /// Its two half axes, the longer one first.
    pub fn axes(&self) -> [[f64; 2]; 2] {
        let [a, b, c, d, e, f] = self.conic;
        let [x, y] = self.middle();
        let inside = -(f + (d * x + e * y) / 2.0);
        let half = libm::hypot(a - c, b) / 2.0;
        let (less, more) = ((a + c) / 2.0 - half, (a + c) / 2.0 + half);
        // The direction of the smaller curvature of the form, which is that of the longer axis.
        let turn = libm::atan2(-b, c - a) / 2.0;
        let (sin, cos) = libm::sincos(turn);
        let (long, short) = ((inside / less).sqrt(), (inside / more).sqrt());
        [[long * cos, long * sin], [-short * sin, short * cos]]
    }

    /// Half the longer and half the shorter axis.
    pub fn radii(&self) -> [f64; 2] {
        self.axes().map(|[x, y]| libm::hypot(x, y))
    }

    /// Distance of a point from it, positive outside, to the first order (Sampson, 1982).
    pub fn distance(&self, [x, y]: [f64; 2]) -> f64 {
        let [a, b, c, d, e, f] = self.conic;
        let value = a * x * x + b * x * y + c * y * y + d * x + e * y + f;
        let slope = libm::hypot(2.0 * a * x + b * y + d, b * x + 2.0 * c * y + e);
        value / slope.max(f64::MIN_POSITIVE)
    }
}

/// Numbers that look random and are the same each time.
struct Dice(u64);

impl Dice {
    /// A place in a list of so many.
    #[expect(clippy::cast_possible_truncation, reason = "below the length of a list")]
    fn below(&mut self, many: usize) -> usize {
        // Steele, Lea and Flood, 2014.
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) % many.max(1) as u64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(middle: [f64; 2], [a, b]: [f64; 2], turn: f64, at: f64) -> [f64; 2] {
        let (x, y) = (a * libm::cos(at), b * libm::sin(at));
        let (sin, cos) = libm::sincos(turn);
        [middle[0] + x * cos - y * sin, middle[1] + x * sin + y * cos]
    }

    #[test]
    fn an_ellipse_is_found_again() {
        for (turn, radii) in [(0.3, [400.0, 350.0]), (-1.2, [90.0, 20.0]), (0.0, [500.0, 500.0])] {
            let points: Vec<_> =
                (0..9).map(|i| on([611.0, 473.0], radii, turn, 0.3 * f64::from(i))).collect();
            let ellipse = Ellipse::through(&points).expect("an ellipse");
            let [x, y] = ellipse.middle();
            assert!((x - 611.0).abs() < 1e-5 && (y - 473.0).abs() < 1e-5, "{x} {y}");
            for (found, given) in ellipse.radii().into_iter().zip(radii) {
                assert!((found - given).abs() < 1e-5, "{found} {given}");
            }
            let [long, _] = ellipse.axes();
            let along = libm::atan2(long[1], long[0]) - turn;
            assert!(radii[0] == radii[1] || libm::sin(along).abs() < 1e-7, "{along}");
            let outside = on([611.0, 473.0], radii.map(|r| r + 0.01), turn, 2.0);
            assert!((ellipse.distance(outside) - 0.01).abs() < 2e-3);
        }
    }

    #[test]
    fn half_diameters_make_an_ellipse() {
        let ellipse = Ellipse::of([10.0, 20.0], [[5.0, 1.0], [-1.0, 3.0]]).expect("an area");
        for at in 0..12 {
            let (sin, cos) = libm::sincos(f64::from(at));
            let point = [10.0 + 5.0 * cos - sin, 20.0 + cos + 3.0 * sin];
            assert!(ellipse.distance(point).abs() < 1e-9);
        }
        assert_eq!(Ellipse::of([0.0; 2], [[1.0, 2.0], [2.0, 4.0]]), None);
    }

    /// A third of the points lie elsewhere.
    #[test]
    fn outliers_do_not_pull() {
        let points: Vec<_> = (0..90)
            .map(|i| {
                let out = if i % 3 == 0 { 12.0 + f64::from(i % 7) } else { 0.0 };
                on([600.0, 500.0], [400.0 + out, 380.0 + out], 0.4, f64::from(i) * 0.07)
            })
            .collect();
        let (ellipse, near) = Ellipse::of_most(&points).expect("an ellipse");
        assert!((ellipse.radii()[0] - 400.0).abs() < 0.01, "{:?}", ellipse.radii());
        assert_eq!(near.iter().filter(|near| !**near).count(), 30);
    }

    #[test]
    fn points_of_no_ellipse() {
        let line: Vec<_> = (0..9).map(|i| [f64::from(i), 2.0 * f64::from(i)]).collect();
        assert!(
            Ellipse::through(&line)
                .is_none_or(|e| e.radii().iter().any(|r| !r.is_finite() || *r > 1e6 || *r < 1e-3))
        );
        assert_eq!(Ellipse::through(&line[..5]), None);
        assert!(Ellipse::of_most(&line[..3]).is_none());
    }
}
