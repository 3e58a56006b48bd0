//! A number that runs in time as a polynomial and a dying wave: what a spring with a damper does under a torque that is
//! steady or rises evenly.

/// Coefficients of a polynomial, from the constant on.
const TERMS: usize = 5;

/// A complex number.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Complex {
    pub(super) re: f64,
    pub(super) im: f64,
}

impl Complex {
    pub(super) const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    fn times(self, other: Self) -> Self {
        Self {
            re: self.re * other.re - self.im * other.im,
            im: self.re * other.im + self.im * other.re,
        }
    }

    fn over(self, other: Self) -> Self {
        let square = other.re * other.re + other.im * other.im;
        let up = self.times(Self { re: other.re, im: -other.im });
        Self { re: up.re / square, im: up.im / square }
    }

    /// `e^(self·t)`.
    fn exp(self, t: f64) -> Self {
        let size = libm::exp(self.re * t);
        let (sin, cos) = libm::sincos(self.im * t);
        Self { re: size * cos, im: size * sin }
    }
}

/// `Σ aᵢ·tⁱ + Re(C·e^(s·t))`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Course {
    terms: [f64; TERMS],
    wave: Complex,
    rate: Complex,
}

impl Course {
    /// What stays as it is.
    pub(super) const fn steady(value: f64) -> Self {
        Self::new(value, 0.0, Complex::new(0.0, 0.0), Complex::new(-1.0, 0.0))
    }

    /// A polynomial of the first degree and a wave.
    pub(super) const fn new(start: f64, slope: f64, wave: Complex, rate: Complex) -> Self {
        Self { terms: [start, slope, 0.0, 0.0, 0.0], wave, rate }
    }

    /// The value at a time.
    pub(super) fn at(&self, t: f64) -> f64 {
        let sum = self.terms.iter().rev().fold(0.0, |sum, term| sum * t + term);
        sum + self.wave.times(self.rate.exp(t)).re
    }

    /// How fast it changes.
    pub(super) fn slope(&self) -> Self {
        let mut terms = [0.0; TERMS];
        let mut power = 1.0;
        for (at, term) in self.terms.iter().enumerate().skip(1) {
            terms[at - 1] = term * power;
            power += 1.0;
        }
        Self { terms, wave: self.wave.times(self.rate), rate: self.rate }
    }

    /// Its integral that begins with a value at time 0. The polynomial must have room for one more term.
    pub(super) fn integral(&self, value: f64) -> Self {
        let mut terms = [0.0; TERMS];
        let mut power = 1.0;
        for (to, term) in terms.iter_mut().skip(1).zip(self.terms) {
            *to = term / power;
            power += 1.0;
        }
        let raw = Self { terms, wave: self.wave.over(self.rate), rate: self.rate };
        let mut set = raw;
        set.terms[0] += value - raw.at(0.0);
        set
    }

    /// `self·by + add`.
    pub(super) fn scaled(&self, by: f64, add: f64) -> Self {
        let mut terms = self.terms.map(|term| term * by);
        terms[0] += add;
        let wave = Complex::new(self.wave.re * by, self.wave.im * by);
        Self { terms, wave, rate: self.rate }
    }

    /// With the terms of a polynomial added.
    pub(super) fn plus(&self, start: f64, slope: f64, half_bend: f64) -> Self {
        let mut sum = *self;
        for (term, more) in sum.terms.iter_mut().zip([start, slope, half_bend]) {
            *term += more;
        }
        sum
    }

    /// With the polynomial of another course added.
    pub(super) fn plus_polynomial(&self, other: &Self) -> Self {
        let mut sum = *self;
        for (term, more) in sum.terms.iter_mut().zip(other.terms) {
            *term += more;
        }
        sum
    }

    /// With so much of how fast it changes added.
    pub(super) fn with_slope(&self, by: f64) -> Self {
        let slope = self.slope().scaled(by, 0.0);
        let mut sum = *self;
        for (term, more) in sum.terms.iter_mut().zip(slope.terms) {
            *term += more;
        }
        sum.wave = Complex::new(sum.wave.re + slope.wave.re, sum.wave.im + slope.wave.im);
        sum
    }

    /// The first time up to `to` at which it falls to 0 or below; 0 if it is there already. One that begins at 0 and
    /// rises counts from just after. It is looked at every `step`, so that a dip that is shorter can be missed.
    pub(super) fn falls_to_zero(&self, to: f64, step: f64) -> Option<f64> {
        let begins = self.at(0.0);
        let after = 1e-3 * step;
        let rises = begins.abs() <= self.smallest() && self.at(after) > 0.0;
        if begins <= 0.0 && !rises {
            return Some(0.0);
        }
        let mut low = if rises { after } else { 0.0 };
        while low < to {
            let high = (low + step).min(to);
            if self.at(high) <= 0.0 {
                return Some(self.root(low, high));
            }
            low = high;
        }
        None
    }

    /// What is nothing beside its parts.
    fn smallest(&self) -> f64 {
        1e-12 * (self.terms[0].abs() + self.wave.re.abs() + self.wave.im.abs())
    }

    /// Where it changes sign between two times, by halving.
    fn root(&self, mut low: f64, mut high: f64) -> f64 {
        for _ in 0..80 {
            let middle = f64::midpoint(low, high);
            if middle <= low || middle >= high {
                break;
            }
            if self.at(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        high
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn course() -> Course {
        Course::new(2.0, -3.0, Complex::new(1.5, 0.5), Complex::new(-20.0, 400.0))
    }

    #[test]
    fn slope_and_integral_undo_each_other() {
        let course = course();
        let back = course.integral(7.0).slope();
        for t in [0.0, 0.003, 0.01, 0.2] {
            assert!((back.at(t) - course.at(t)).abs() < 1e-9, "{t}");
        }
        assert!((course.integral(7.0).at(0.0) - 7.0).abs() < 1e-12);
    }

    #[test]
    fn the_first_crossing_is_found() {
        // 2 − 3t falls to 0 at 2/3 where there is no wave.
        let line = Course::new(2.0, -3.0, Complex::default(), Complex::new(-1.0, 1.0));
        let found = line.falls_to_zero(1.0, 0.01).expect("it crosses");
        assert!((found - 2.0 / 3.0).abs() < 1e-12);
        assert_eq!(line.falls_to_zero(0.5, 0.01), None);
        assert_eq!(Course::steady(-1.0).falls_to_zero(1.0, 0.01), Some(0.0));
        // One that begins at nothing and rises is not there yet.
        let hop = Course::steady(0.0).plus(0.0, 1.0, -2.0);
        let found = hop.falls_to_zero(1.0, 0.01).expect("it comes down");
        assert!((found - 0.5).abs() < 1e-12);
    }
}
