//! A number that runs in time as a polynomial and a dying wave: what a spring with a damper does under a torque that is
//! steady or rises evenly.

/// Coefficients of a polynomial, from the constant on.
const TERMS: usize = 5;

/// Terms of the series of `e^z` that bring it to the last digit for a `z` smaller than 1.
const SERIES: u8 = 18;

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

    fn size(self) -> f64 {
        (self.re * self.re + self.im * self.im).sqrt()
    }

    const fn scaled(self, by: f64) -> Self {
        Self { re: self.re * by, im: self.im * by }
    }

    fn exp(self) -> Self {
        let size = libm::exp(self.re);
        let (sin, cos) = libm::sincos(self.im);
        Self { re: size * cos, im: size * sin }
    }

    /// What the series of `e^self` still adds after so many terms.
    fn rest_of_exp(self, after: u8) -> Self {
        let one = Self { re: 1.0, im: 0.0 };
        let mut sum = one;
        if after > 0 && self.size() < 1.0 {
            for term in (after + 1..after + SERIES).rev() {
                let next = self.times(sum).scaled(1.0 / f64::from(term));
                sum = Self { re: 1.0 + next.re, im: next.im };
            }
            return (1..=after)
                .fold(sum, |rest, term| rest.times(self).scaled(1.0 / f64::from(term)));
        }
        let (mut rest, mut term) = (self.exp(), one);
        for power in 1..=after {
            rest = Self { re: rest.re - term.re, im: rest.im - term.im };
            term = term.times(self).scaled(1.0 / f64::from(power));
        }
        rest
    }
}

/// `Σ aᵢ·tⁱ + Re(C·R(s·t))`, where `R` is what the series of `e^z` still adds after its first terms. So what happens
/// in a moment that is short beside the swing is not the difference of two large numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Course {
    terms: [f64; TERMS],
    wave: Complex,
    rate: Complex,
    /// Terms of the series that are left out.
    after: u8,
}

impl Course {
    /// What stays as it is.
    pub(super) const fn steady(value: f64) -> Self {
        let rate = Complex::new(-1.0, 0.0);
        Self { terms: [value, 0.0, 0.0, 0.0, 0.0], wave: Complex::new(0.0, 0.0), rate, after: 0 }
    }

    /// `start + slope·t + Re(wave·e^(rate·t))`.
    pub(super) fn new(start: f64, slope: f64, wave: Complex, rate: Complex) -> Self {
        Self::begun(start + wave.re, slope + wave.times(rate).re, wave, rate)
    }

    /// The same, known by the value and the slope that it begins with.
    pub(super) const fn begun(value: f64, slope: f64, wave: Complex, rate: Complex) -> Self {
        Self { terms: [value, slope, 0.0, 0.0, 0.0], wave, rate, after: 2 }
    }

    /// The value at a time.
    pub(super) fn at(&self, t: f64) -> f64 {
        let sum = self.terms.iter().rev().fold(0.0, |sum, term| sum * t + term);
        if self.wave == Complex::default() {
            return sum;
        }
        sum + self.wave.times(self.rate.scaled(t).rest_of_exp(self.after)).re
    }

    /// How fast it changes.
    pub(super) fn slope(&self) -> Self {
        let mut terms = [0.0; TERMS];
        let mut power = 1.0;
        for (at, term) in self.terms.iter().enumerate().skip(1) {
            terms[at - 1] = term * power;
            power += 1.0;
        }
        let wave = self.wave.times(self.rate);
        Self { terms, wave, rate: self.rate, after: self.after.saturating_sub(1) }
    }

    /// Its integral that begins with a value at time 0. The polynomial must have room for one more term.
    pub(super) fn integral(&self, value: f64) -> Self {
        let mut terms = [0.0; TERMS];
        let mut power = 1.0;
        for (to, term) in terms.iter_mut().skip(1).zip(self.terms) {
            *to = term / power;
            power += 1.0;
        }
        terms[0] = value;
        Self { terms, wave: self.wave.over(self.rate), rate: self.rate, after: self.after + 1 }
    }

    /// `self·by + add`.
    pub(super) fn scaled(&self, by: f64, add: f64) -> Self {
        let mut terms = self.terms.map(|term| term * by);
        terms[0] += add;
        Self { terms, wave: self.wave.scaled(by), ..*self }
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
        let mut sum = self.plus_polynomial(&slope);
        // The slope leaves one term less out of its series.
        if self.after > 0 {
            let term = usize::from(slope.after);
            sum.terms[term] += slope.left_out()[term];
        }
        sum.wave = Complex::new(sum.wave.re + slope.wave.re, sum.wave.im + slope.wave.im);
        sum
    }

    /// Terms of the wave's own series.
    fn left_out(&self) -> [f64; TERMS] {
        let (mut term, mut power) = (self.wave, 1.0);
        [0.0; TERMS].map(|_| {
            let this = term.re;
            term = term.times(self.rate).scaled(1.0 / power);
            power += 1.0;
            this
        })
    }

    /// The first time up to `to` at which it falls to 0 or below; 0 if it is there already. One that begins at 0 and
    /// rises counts from just after, which is a small part of `swing_s`, and one that stays at 0 never falls. No dip is
    /// missed, however short: each step ends where a parabola that lies below the course falls to 0.
    pub(super) fn falls_to_zero(&self, to: f64, swing_s: f64) -> Option<f64> {
        if self.is_nothing() {
            return None;
        }
        let (mut at, smallest) = (0.0, self.smallest(to));
        if self.at(0.0).abs() <= smallest {
            at = self.leaves_zero(swing_s.min(to), smallest);
        }
        if self.at(at) <= 0.0 {
            return Some(0.0);
        }
        let whole = self.in_whole_waves();
        while at < to {
            let stays = self.stays_above_zero(&whole, at, to);
            if stays >= to - at {
                return None;
            }
            at += stays;
            if stays <= f64::EPSILON * at || self.at(at) <= 1e-3 * smallest {
                return Some(at);
            }
        }
        None
    }

    fn is_nothing(&self) -> bool {
        self.terms == [0.0; TERMS] && self.wave == Complex::default()
    }

    /// A time at which one that begins at 0 has a sign.
    fn leaves_zero(&self, swing_s: f64, smallest: f64) -> f64 {
        let mut at = 1e-5 * swing_s;
        while at < 1e-2 * swing_s && self.at(at).abs() <= smallest {
            at *= 2.0;
        }
        at
    }

    /// The same with no term of the series left out: as long as the swing goes on it stays within these bounds, though
    /// it is less exact at the start.
    fn in_whole_waves(&self) -> Self {
        let mut whole = Self { after: 0, ..*self };
        let left_out = self.left_out();
        for (term, less) in whole.terms.iter_mut().zip(left_out).take(usize::from(self.after)) {
            *term -= less;
        }
        whole
    }

    /// How long it certainly stays above 0 from a time at which it is; no less than the rest up to `to` where it does
    /// not fall to 0 at all.
    fn stays_above_zero(&self, whole: &Self, at: f64, to: f64) -> f64 {
        let rest = to - at;
        let [value, slope, bend] = whole.polynomial(at, rest);
        let size = self.wave.size() * libm::exp(self.rate.re * at);
        if value.min(value + rest * (slope - 0.5 * bend * rest)) > size * (1.0 + 1e-12) {
            return rest;
        }
        let turns = self.rate.size() * self.rate.size();
        let [_, slope, own] = self.polynomial(at, rest);
        let left = self.after.saturating_sub(2);
        let early = own + self.wave.size() * turns * most_left(self.rate.size() * to, left);
        let bend = early.min(bend + size * turns);
        let wave = self.wave.times(self.rate);
        let wave = wave.times(self.rate.scaled(at).rest_of_exp(self.after.saturating_sub(1)));
        let (value, slope) = (self.at(at), slope + wave.re);
        let root = (slope * slope + 2.0 * bend * value).sqrt();
        if slope < 0.0 {
            2.0 * value / (root - slope)
        } else if bend > 0.0 {
            (slope + root) / bend
        } else {
            rest
        }
    }

    /// Value and slope of the polynomial at a time, and the most that it bends in the time after it.
    fn polynomial(&self, at: f64, rest: f64) -> [f64; 3] {
        let [start, slope, a, b, c] = self.terms;
        let value = start + at * (slope + at * (a + at * (b + at * c)));
        let slope = slope + at * (2.0 * a + at * (3.0 * b + at * 4.0 * c));
        let bends = [2.0 * a + at * (6.0 * b + at * 12.0 * c), 6.0 * b + at * 24.0 * c, 12.0 * c];
        let bend = bends[0].abs() + rest * (bends[1].abs() + rest * bends[2].abs());
        [value, slope, bend]
    }

    /// The greatest value between two times, near one at which it was seen to be great.
    pub(super) fn greatest_near(&self, seen: f64, [low, high]: [f64; 2]) -> f64 {
        let (slope, bend) = (self.slope(), self.slope().slope());
        let mut at = seen;
        for _ in 0..3 {
            let bends = bend.at(at);
            if bends >= 0.0 {
                break;
            }
            at = (at - slope.at(at) / bends).clamp(low, high);
        }
        self.at(at).max(self.at(seen))
    }

    /// What is nothing beside what it comes to up to a time.
    fn smallest(&self, to: f64) -> f64 {
        let swing = self.wave.size() * most_left(self.rate.size() * to, self.after).min(1.0);
        1e-12 * (self.terms[0].abs() + swing)
    }
}

/// The most that is left of the series of `e^z` after so many terms, for a `z` of this size that does not grow.
fn most_left(size: f64, after: u8) -> f64 {
    (1..=after).fold(1.0, |most, term| most * size / f64::from(term))
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
        // One that stays at nothing does not fall.
        assert_eq!(Course::steady(0.0).falls_to_zero(1.0, 0.01), None);
    }

    /// `c + cos 400t`, whose troughs are at odd multiples of π/400.
    #[test]
    fn no_dip_is_too_short_and_none_is_made_up() {
        let wave = Complex::new(1.0, 0.0);
        let course = |c: f64| Course::new(c, 0.0, wave, Complex::new(0.0, 400.0));
        for short in [1e-2, 1e-4, 1e-6, 1e-8, 1e-10] {
            let found = course(1.0 - short).falls_to_zero(1.0, 0.01).expect("it dips");
            let want = libm::acos(short - 1.0) / 400.0;
            assert!((found - want).abs() < 1e-15 / short.sqrt(), "{short}: {found} for {want}");
            assert_eq!(course(1.0 + short).falls_to_zero(1.0, 0.01), None, "{short}");
        }
    }

    /// Against looks so dense that they miss nothing, on waves that die and ride on a slope.
    #[test]
    fn the_crossing_found_is_the_first() {
        for number in 0..400_u32 {
            let share = |by: u32| f64::from(number * by % 401) / 401.0 - 0.5;
            let wave = Complex::new(4.0 * share(7), 4.0 * share(11));
            let rate = Complex::new(-40.0 * (share(13) + 0.5), 400.0);
            let course = Course::new(1.5 + share(17), 40.0 * share(19), wave, rate);
            let course = course.plus(0.0, 0.0, 300.0 * share(23));
            let looks = 20_000;
            let seen = (0..=looks).map(|at| 0.1 * f64::from(at) / f64::from(looks));
            let seen = seen.into_iter().find(|at| course.at(*at) <= 0.0);
            let found = course.falls_to_zero(0.1, 0.016);
            match (seen, found) {
                (Some(seen), Some(found)) => assert!((seen - found).abs() < 6e-6, "{number}"),
                _ => assert_eq!(seen, found, "{number}"),
            }
        }
    }

    /// In a moment that is short beside the swing, the third integral of `e^(st)` is `t³/6`.
    #[test]
    fn a_short_moment_keeps_its_digits() {
        let wave = Course::new(-1.0, 0.0, Complex::new(1.0, 0.0), Complex::new(-0.1, 1.0));
        let way = wave.integral(0.0).integral(0.0);
        for t in [1e-6_f64, 1e-4, 1e-2] {
            // Re(s)·t³/6 and the next term, Re(s²)·t⁴/24.
            let want = -0.1 * t * t * t / 6.0 - 0.99 * t * t * t * t / 24.0;
            assert!((way.at(t) / want - 1.0).abs() < t, "{t}: {} for {want}", way.at(t));
        }
    }

    #[test]
    fn the_series_and_what_it_leaves_of_the_whole_meet() {
        for after in 0..5 {
            let at = |size: f64| Complex::new(-0.6, 0.8).scaled(size).rest_of_exp(after);
            let (below, above) = (at(1.0 - 1e-12), at(1.0 + 1e-12));
            assert!((below.re - above.re).abs() < 1e-11 && (below.im - above.im).abs() < 1e-11);
        }
    }

    #[test]
    fn the_greatest_value_is_that_of_the_crest() {
        let course = Course::new(0.0, 0.0, Complex::new(1.0, 0.0), Complex::new(0.0, 400.0));
        let crest = std::f64::consts::TAU / 400.0;
        let seen = 0.98 * crest;
        let greatest = course.greatest_near(seen, [0.9 * crest, 1.1 * crest]);
        assert!((greatest - 1.0).abs() < 1e-12);
        // What lies beyond the piece does not count.
        assert_eq!(course.greatest_near(seen, [0.9 * crest, seen]), course.at(seen));
    }
}
