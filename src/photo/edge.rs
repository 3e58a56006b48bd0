//! The first edge along a path.

/// Samples along a path for each px.
pub(crate) const PER_PX: f64 = 2.0;

/// Half the width of the derivative, samples: a bell curve of σ 1.2 px.
const HALF: usize = 7;
const SIGMA: f64 = 2.4;

/// An edge rises above so many deviations of the noise, so many levels, and such a share of the strongest edge.
const ABOVE_NOISE: f64 = 5.0;
const LEAST_LEVELS: f64 = 4.0;
const LEAST_SHARE: f64 = 0.15;

/// Another edge within so many samples and of such a share makes the first one doubtful.
const RIVAL_WITHIN: usize = 9;
const RIVAL_SHARE: f64 = 0.4;

/// An edge along a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Edge {
    /// Where, in samples from the begin of the path.
    pub(crate) at: f64,
    /// Slope there, levels for each sample; plus is brighter outwards.
    pub(crate) slope: f64,
    /// Whether another edge is so near that either may be meant.
    pub(crate) has_rival: bool,
}

/// The derivative of light along a path, by that of a bell curve, and by how much it lessens noise.
fn slopes(light: &[f64]) -> (Vec<f64>, f64) {
    let weight = |at: usize| {
        let x = at as f64 - HALF as f64;
        x * libm::exp(-x * x / (2.0 * SIGMA * SIGMA))
    };
    let kernel: Vec<f64> = (0..=2 * HALF).map(weight).collect();
    let by: f64 = kernel.iter().enumerate().map(|(at, w)| w * (at as f64 - HALF as f64)).sum();
    let slope = |window: &[f64]| window.iter().zip(&kernel).map(|(l, w)| l * w).sum::<f64>() / by;
    let square: f64 = kernel.iter().map(|w| w * w).sum();
    (light.windows(kernel.len()).map(slope).collect(), square.sqrt() / by)
}

/// The first edge along a path that begins on a tip. `noise` is the deviation of a pixel, levels. Samples between two
/// pixels share their noise, which is why it counts as if they did not: twice.
pub(crate) fn first_edge(light: &[f64], noise: f64) -> Option<Edge> {
    let (slopes, share) = slopes(light);
    let strongest = slopes.iter().fold(0.0, |most: f64, slope| most.max(slope.abs()));
    let least_step = LEAST_LEVELS / (SIGMA * 2.5);
    let least = (ABOVE_NOISE * noise * share).max(least_step).max(LEAST_SHARE * strongest);
    let is_peak = |at: &usize| {
        let [a, b, c] = [at - 1, *at, at + 1].map(|i| slopes[i].abs());
        b >= least && b > a && b >= c
    };
    let mut peaks = (1..slopes.len().saturating_sub(1)).filter(is_peak);
    let first = peaks.next()?;
    let own = slopes[first].abs();
    let rival = |at: usize| at - first <= RIVAL_WITHIN && slopes[at].abs() > RIVAL_SHARE * own;
    let [a, c] = [first - 1, first + 1].map(|i| slopes[i].abs());
    let bend = a - 2.0 * own + c;
    let aside = if bend < 0.0 { 0.5 * (a - c) / bend } else { 0.0 };
    Some(Edge {
        at: first as f64 + HALF as f64 + aside,
        slope: slopes[first],
        has_rival: peaks.any(rival),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A blurred step whose middle is at a place.
    fn step(middle: f64, from: f64, to: f64) -> impl Fn(usize) -> f64 {
        move |at| from + (to - from) / 2.0 * (1.0 + libm::erf((at as f64 - middle) / 2.0))
    }

    #[test]
    fn a_step_is_found_to_a_hundredth_of_a_sample() {
        for middle in [30.0, 30.3, 41.75] {
            let light: Vec<f64> = (0..90).map(step(middle, 190.0, 60.0)).collect();
            let edge = first_edge(&light, 1.0).expect("an edge");
            assert!((edge.at - middle).abs() < 0.02, "{edge:?} {middle}");
            assert!(edge.slope < 0.0 && !edge.has_rival);
        }
    }

    #[test]
    fn the_first_of_two_counts_and_a_near_one_is_told() {
        let two = |second: f64| -> Vec<f64> {
            let (a, b) = (step(30.0, 190.0, 140.0), step(second, 0.0, -60.0));
            (0..120).map(|at| a(at) + b(at)).collect()
        };
        let far = first_edge(&two(70.0), 1.0).expect("an edge");
        assert!((far.at - 30.0).abs() < 0.1 && !far.has_rival, "{far:?}");
        assert!(first_edge(&two(37.5), 1.0).expect("an edge").has_rival);
    }

    #[test]
    fn noise_and_short_paths_have_no_edge() {
        let flat: Vec<f64> = (0..200).map(|at| 100.0 + f64::from(at * 7919 % 5) - 2.0).collect();
        assert_eq!(first_edge(&flat, 1.5), None);
        assert_eq!(first_edge(&[], 1.0), None);
        assert_eq!(first_edge(&[1.0; 8], 1.0), None);
    }
}
