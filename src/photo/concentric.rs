//! Centre and vanishing line from two concentric circles.

use crate::ellipse::Ellipse;
use crate::small::{eigenvalues, eigenvector, inverse, product, times};

/// What two concentric circles tell of the plane that they lie in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Concentric {
    /// Where their common centre is seen, which is not the middle of either ellipse.
    pub centre: [f64; 2],
    /// The line that the plane vanishes in: `ax + by + c = 0`.
    pub vanishing: [f64; 3],
    /// Radius of the smaller circle over that of the larger one.
    pub ratio: f64,
}

/// Centre, vanishing line and ratio from the images of two concentric circles (Kim, Gurdjos and Kweon, IEEE TPAMI 27, 2005):
/// of `Q₁⁻¹Q₂` two eigenvalues are alike; the vector of the third one is the centre, and its polar the vanishing line.
/// `None` where the two are no such circles.
pub fn concentric(outer: &Ellipse, inner: &Ellipse) -> Option<Concentric> {
    let (large, small) = (outer.matrix(), inner.matrix());
    let m = product(&inverse(&large)?, &small);
    let values = eigenvalues(&m);
    let apart = |at: usize| {
        let [a, b] = [(at + 1) % 3, (at + 2) % 3].map(|i| values[i]);
        (values[at] - (a + b) / 2.0).abs() - (a - b).abs()
    };
    let single = (0..3).max_by(|a, b| apart(*a).total_cmp(&apart(*b)))?;
    let alike = (values[(single + 1) % 3] + values[(single + 2) % 3]) / 2.0;
    let centre = eigenvector(&m, values[single])?;
    let ratio = values[single] / alike;
    let seen = [centre[0] / centre[2], centre[1] / centre[2]];
    (ratio > 0.0 && seen.iter().all(|x| x.is_finite())).then(|| Concentric {
        centre: seen,
        vanishing: times(&large, centre),
        ratio: ratio.sqrt(),
    })
}
