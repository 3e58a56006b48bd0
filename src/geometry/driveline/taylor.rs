//! The exact course of a linear system over a step: its Taylor series, of which the rest is below rounding, and the
//! matrix that takes a whole step at once.

use super::JOINTS;
use super::system::{SIZE, System, Vector};

/// Terms of the series.
const TERMS: usize = 17;

/// Power of the last of them.
const LAST: f64 = 16.0;

/// A step lasts so long beside the fastest rate: what the series leaves out, `0.5¹⁷/17!`, is nothing.
const SHARE: f64 = 0.5;

/// Everything over one step, as polynomials of the time since it began.
pub(super) struct Series {
    vectors: [Vector; TERMS],
    torques: [[f64; JOINTS]; TERMS],
}

/// A polynomial of the time since a step began.
pub(super) type Polynomial = [f64; TERMS];

impl Series {
    /// From a state, with `one` at 1; from a difference of states, with 0.
    pub(super) fn of(system: &System, from: &Vector, one: f64) -> Self {
        let mut vectors = [Vector::NONE; TERMS];
        let mut torques = [[0.0; JOINTS]; TERMS];
        vectors[0] = *from;
        let (mut one, mut power) = (one, 1.0);
        for term in 0..TERMS {
            torques[term] = system.torques(&vectors[term], one);
            if term + 1 < TERMS {
                let change = system.change(&vectors[term], &torques[term], one);
                vectors[term + 1] = change.times(1.0 / power);
            }
            one = 0.0;
            power += 1.0;
        }
        Self { vectors, torques }
    }

    /// The state at a time.
    pub(super) fn at(&self, time_s: f64) -> Vector {
        let mut sum = [0.0; SIZE];
        for term in self.vectors.iter().rev() {
            for (sum, term) in sum.iter_mut().zip(term.0) {
                *sum = *sum * time_s + term;
            }
        }
        Vector(sum)
    }

    pub(super) fn torque(&self, joint: usize) -> Polynomial {
        self.torques.map(|term| term[joint])
    }

    pub(super) fn across(&self, joint: usize) -> Polynomial {
        self.vectors.map(|term| term.across(joint))
    }

    pub(super) fn slip(&self, joint: usize) -> Polynomial {
        self.vectors.map(|term| term.slip(joint))
    }
}

/// The value of a polynomial.
pub(super) fn value(of: &Polynomial, time_s: f64) -> f64 {
    of.iter().rev().fold(0.0, |sum, term| sum * time_s + term)
}

/// How fast a polynomial changes.
pub(super) fn slope(of: &Polynomial, time_s: f64) -> f64 {
    let (mut sum, mut power) = (0.0, LAST);
    for term in of.iter().skip(1).rev() {
        sum = sum * time_s + power * term;
        power -= 1.0;
    }
    sum
}

/// Torque, N·m, angle, rad, and speed, rad/s, that may go by unseen in a long step.
const SMALL: [f64; 3] = [1e-3, 1e-7, 1e-4];

/// The largest of the fifth and of the sixth term of the series beside what is small, 1/s⁵ and 1/s⁶. A fast swing shows
/// in one of them whatever its phase, and in a step with a seventh of a wave of it they come to more than is let go by.
pub(super) struct Rates([f64; 2]);

impl Rates {
    /// From a state whose changes change so fast.
    pub(super) fn of(system: &System, bends: &Vector) -> Self {
        let (mut term, mut torques) = (*bends, system.torques(bends, 0.0));
        let mut next = |share: f64| {
            term = system.change(&term, &torques, 0.0).times(share);
            torques = system.torques(&term, 0.0);
            largest(&term, &torques)
        };
        // The third and the fourth term are passed by.
        next(0.5 / 3.0);
        next(0.25);
        Self([0.2, 1.0 / 6.0].map(next))
    }

    /// Whether nothing goes by unseen in a step of so long, s.
    pub(super) fn allow(&self, step_s: f64) -> bool {
        let [fifth, sixth] = self.0;
        let square = step_s * step_s;
        let power = square * square * step_s;
        fifth * power <= 1.0 && sixth * power * step_s <= 1.0
    }
}

/// The largest of the torques, angles and slips, beside what is small.
fn largest(vector: &Vector, torques: &[f64; JOINTS]) -> f64 {
    let [nm, angle, speed] = SMALL;
    let mut most = [0.0_f64; 3];
    for (at, torque) in torques.iter().enumerate() {
        let seen = [torque.abs(), vector.across(at).abs(), vector.slip(at).abs()];
        most = std::array::from_fn(|kind| most[kind].max(seen[kind]));
    }
    (most[0] / nm).max(most[1] / angle).max(most[2] / speed)
}

/// Takes whole steps of one length.
#[derive(Clone, Debug)]
pub(super) struct Stepper {
    pub(super) step_s: f64,
    /// What each number of a state becomes in a step, column by column.
    columns: [[f64; SIZE]; SIZE],
}

impl Stepper {
    /// Steps as long as the fastest rate allows, but no longer than so long.
    pub(super) fn of(system: &System, longest_s: f64) -> Self {
        let step_s = (SHARE / system.fastest()).min(longest_s);
        let mut columns = [[0.0; SIZE]; SIZE];
        for (at, column) in columns.iter_mut().enumerate() {
            let mut unit = Vector::NONE;
            unit.0[at] = 1.0;
            *column = Series::of(system, &unit, 0.0).at(step_s).0;
        }
        Self { step_s, columns }
    }

    /// One that takes two steps at once.
    pub(super) fn doubled(&self) -> Self {
        let columns = self.columns.map(|column| self.next(&Vector(column), &Vector::NONE).0);
        Self { step_s: 2.0 * self.step_s, columns }
    }

    /// What a state that is nothing becomes in a step, by the constants of the system.
    pub(super) fn drift(&self, system: &System) -> Vector {
        Series::of(system, &Vector::NONE, 1.0).at(self.step_s)
    }

    /// The state after a step.
    pub(super) fn next(&self, from: &Vector, drift: &Vector) -> Vector {
        let mut sum = drift.0;
        for (number, column) in from.0.iter().zip(&self.columns) {
            for (sum, share) in sum.iter_mut().zip(column) {
                *sum += number * share;
            }
        }
        Vector(sum)
    }
}
