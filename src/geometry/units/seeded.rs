//! Random numbers from a seed.

/// `2⁻⁵³`, the step between the numbers of [`Seeded::share`].
const STEP: f64 = 1.0 / 9_007_199_254_740_992.0;

/// Random numbers that are the same on every machine: SplitMix64 (Steele, Lea and Flood, “Fast splittable
/// pseudorandom number generators”, OOPSLA 2014).
///
/// ```
/// use crenel_geometry::units::Seeded;
/// assert_eq!(Seeded::new(7).share(), Seeded::new(7).share());
/// ```
#[derive(Clone, Debug)]
pub struct Seeded(u64);

impl Seeded {
    /// Starts from a seed.
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next number, uniform over all 64 bits.
    const fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// The next number, uniform in `[0, 1)`.
    pub const fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 * STEP
    }

    /// The next whole number, uniform from 0 up to but not including `count`; 0 if `count` is 0.
    #[expect(clippy::cast_possible_truncation, reason = "it is less than a usize")]
    pub const fn below(&mut self, count: usize) -> usize {
        ((self.bits() as u128 * count as u128) >> 64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers of the seed 1234567, as published with the algorithm's reference code.
    #[test]
    fn the_numbers_are_those_of_the_reference() {
        let mut seeded = Seeded::new(1_234_567);
        let got = [seeded.bits(), seeded.bits(), seeded.bits()];
        assert_eq!(
            got,
            [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]
        );
    }

    #[test]
    fn shares_and_counts_are_within_their_bounds() {
        let mut seeded = Seeded::new(3);
        let mut sum = 0.0;
        for _ in 0..10_000 {
            let share = seeded.share();
            assert!((0.0..1.0).contains(&share));
            assert!(seeded.below(7) < 7);
            sum += share;
        }
        assert!((sum / 10_000.0 - 0.5).abs() < 0.01, "{sum}");
        assert_eq!(seeded.below(0), 0);
    }
}
