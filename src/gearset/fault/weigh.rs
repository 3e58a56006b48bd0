//! Which faults explain what was read.
//!
//! Every fault shifts the readings along a direction of its own, near enough in proportion to its size. What is read is
//! the gearbox as given, plus faults, plus what every part may be off within its limits, plus the uncertainty of each
//! reading. All of these are taken as normal, so the evidence for a fault, and for every two of different parts, is in
//! closed form: no sampling, the same bits everywhere. Method: linear models compared by their marginal likelihood, as
//! in any textbook on Bayesian regression; the shares below are our own.

use super::square::{Factor, dot};
use crate::units::sort_by_number;

/// Standard deviation of what a part is off within its limit, as a share of it.
const WITHIN: f64 = 1.0 / 6.0;

/// Standard deviation of a fault, as a share of its limit: twice the limit is usual.
const USUAL: f64 = 2.0;

/// How often a part is at fault in a gearbox that somebody measures.
const AT_FAULT: f64 = 0.03;

/// A fault that may be there.
pub(super) struct Cause {
    /// Which part it is in, from 0.
    pub(super) part: usize,
    /// In how many ways that part can be at fault.
    pub(super) ways: usize,
    pub(super) limit: f64,
    pub(super) is_wear: bool,
    /// What a size of 1 does to every reading, whether it was taken or not.
    pub(super) shifts: Vec<f64>,
}

/// A reading that was taken.
#[derive(Clone, Copy)]
pub(super) struct Taken {
    /// Which one of all readings.
    pub(super) at: usize,
    /// By how much it is off what is expected.
    pub(super) off: f64,
}

/// Faults that explain the readings together, each with its size and the standard deviation of that; none for a
/// gearbox that is sound.
#[derive(Clone, Debug)]
pub(super) struct Explanation {
    pub(super) causes: Vec<(usize, f64, f64)>,
    /// Its probability.
    pub(super) share: f64,
}

/// An explanation with the logarithm of what speaks for it.
type Weight = (f64, Vec<(usize, f64, f64)>);

/// What the readings say, whitened.
pub(super) struct Weighed<'a> {
    causes: &'a [Cause],
    sigmas: &'a [f64],
    taken: &'a [Taken],
    factor: Factor,
    /// For each cause, what it does to the readings taken.
    shifts: Vec<Vec<f64>>,
    off: Vec<f64>,
}

impl<'a> Weighed<'a> {
    /// Weighs readings; `None` if there are none.
    pub(super) fn of(causes: &'a [Cause], sigmas: &'a [f64], taken: &'a [Taken]) -> Option<Self> {
        let within = |i: usize, j: usize| covariance(causes, taken[i].at, taken[j].at);
        let own = |i: usize| sigmas[taken[i].at] * sigmas[taken[i].at];
        let factor =
            Factor::of(taken.len(), |i, j| within(i, j) + if i == j { own(i) } else { 0.0 })?;
        let of = |cause: &Cause| {
            let shifts: Vec<f64> = taken.iter().map(|reading| cause.shifts[reading.at]).collect();
            factor.forward(&shifts)
        };
        let shifts = causes.iter().map(of).collect();
        let off = factor.forward(&taken.iter().map(|reading| reading.off).collect::<Vec<_>>());
        (!taken.is_empty()).then_some(Self { causes, sigmas, taken, factor, shifts, off })
    }

    /// The size of each fault if it were the only one, with no regard to how usual it is; `None` where no reading sees
    /// it.
    pub(super) fn sizes(&self) -> Vec<Option<f64>> {
        let size = |shifts: &Vec<f64>| {
            let seen = dot(shifts, shifts);
            (seen > 0.0).then(|| dot(shifts, &self.off) / seen)
        };
        self.shifts.iter().map(size).collect()
    }

    /// Every explanation by one fault or by two, and none, the most probable first.
    pub(super) fn explanations(&self) -> Vec<Explanation> {
        let mut found: Vec<Weight> = vec![(0.0, Vec::new())];
        let seen: Vec<[f64; 2]> = self
            .shifts
            .iter()
            .map(|shifts| [dot(shifts, shifts), dot(shifts, &self.off)])
            .collect();
        for one in 0..self.causes.len() {
            found.extend(self.single(one, seen[one]));
            for other in one + 1..self.causes.len() {
                found.extend(self.double([one, other], [seen[one], seen[other]]));
            }
        }
        let most = found.iter().map(|(evidence, _)| *evidence).fold(f64::NEG_INFINITY, f64::max);
        let share = |evidence: f64| libm::exp(evidence - most);
        let all: f64 = found.iter().map(|(evidence, _)| share(*evidence)).sum();
        let told = |(evidence, causes)| Explanation { causes, share: share(evidence) / all };
        let mut explanations: Vec<Explanation> = found.into_iter().map(told).collect();
        sort_by_number(&mut explanations, |one| -one.share);
        explanations
    }

    /// How usual a fault is, as the logarithm of its odds.
    fn usual(&self, at: usize) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a handful")]
        let ways = self.causes[at].ways as f64;
        libm::log(AT_FAULT / (1.0 - AT_FAULT) / ways)
    }

    fn variance(&self, at: usize) -> f64 {
        let usual = USUAL * self.causes[at].limit;
        usual * usual
    }

    fn may_be(&self, at: usize, size: f64) -> bool {
        size > 0.0 || !self.causes[at].is_wear
    }

    fn single(&self, at: usize, [square, along]: [f64; 2]) -> Option<Weight> {
        // Of what no reading sees nothing is said.
        if square <= 0.0 {
            return None;
        }
        let usual = self.variance(at);
        let known = 1.0 / usual + square;
        let size = along / known;
        let evidence = (along * size - libm::log(usual * known)) / 2.0;
        let cause = (at, size, (1.0 / known).sqrt());
        self.may_be(at, size).then(|| (evidence + self.usual(at), vec![cause]))
    }

    fn double(&self, both: [usize; 2], seen: [[f64; 2]; 2]) -> Option<Weight> {
        let is_one = self.causes[both[0]].part == self.causes[both[1]].part;
        if is_one || seen.iter().any(|[square, _]| *square <= 0.0) {
            return None;
        }
        let usual = both.map(|at| self.variance(at));
        let cross = dot(&self.shifts[both[0]], &self.shifts[both[1]]);
        let known = [1.0 / usual[0] + seen[0][0], 1.0 / usual[1] + seen[1][0]];
        let determinant = known[0] * known[1] - cross * cross;
        let along = [seen[0][1], seen[1][1]];
        let sizes = [
            (known[1] * along[0] - cross * along[1]) / determinant,
            (known[0] * along[1] - cross * along[0]) / determinant,
        ];
        let gain = dot(&along, &sizes) - libm::log(determinant * usual[0] * usual[1]);
        let prior = self.usual(both[0]) + self.usual(both[1]);
        let deviation = |at: usize| (known[1 - at] / determinant).sqrt();
        let causes = (0..2).map(|at| (both[at], sizes[at], deviation(at))).collect();
        let may_be = (0..2).all(|at| self.may_be(both[at], sizes[at]));
        may_be.then_some((gain / 2.0 + prior, causes))
    }

    /// What a reading would be off under an explanation, with its standard deviation, from what was read elsewhere.
    pub(super) fn foretold(&self, explanation: &Explanation, at: usize) -> [f64; 2] {
        let beside: Vec<f64> =
            self.taken.iter().map(|own| covariance(self.causes, at, own.at)).collect();
        let beside = self.factor.forward(&beside);
        let by_fault = |of: &dyn Fn(&Cause, usize) -> f64| -> f64 {
            explanation
                .causes
                .iter()
                .map(|(cause, size, _)| size * of(&self.causes[*cause], *cause))
                .sum()
        };
        let along: f64 = by_fault(&|_, cause| dot(&beside, &self.shifts[cause]));
        let own = by_fault(&|cause, _| cause.shifts[at]);
        let variance = covariance(self.causes, at, at) + self.sigmas[at] * self.sigmas[at];
        [own + dot(&beside, &self.off) - along, (variance - dot(&beside, &beside)).max(0.0).sqrt()]
    }

    /// The reading that an explanation leaves furthest from what the others say, and by how many standard deviations:
    /// each is foretold from all the others.
    pub(super) fn oddest(&self, explanation: &Explanation) -> Option<(usize, f64)> {
        let mut left = self.off.clone();
        for (cause, size, _) in &explanation.causes {
            for (left, shift) in left.iter_mut().zip(&self.shifts[*cause]) {
                *left -= size * shift;
            }
        }
        let count = self.taken.len();
        let odd = |at: usize| {
            let unit: Vec<f64> = (0..count).map(|own| if own == at { 1.0 } else { 0.0 }).collect();
            let column = self.factor.forward(&unit);
            (self.taken[at].at, dot(&column, &left) / dot(&column, &column).sqrt())
        };
        (0..count).map(odd).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    }
}

/// How two readings vary together by what parts may be off within their limits.
fn covariance(causes: &[Cause], one: usize, other: usize) -> f64 {
    let term = |cause: &Cause| {
        let within = WITHIN * cause.limit;
        within * within * cause.shifts[one] * cause.shifts[other]
    };
    causes.iter().map(term).sum()
}
