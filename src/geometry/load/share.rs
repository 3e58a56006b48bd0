//! How the torque is shared among the dogs that meet.

/// The rule by which the dogs that meet share the load.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Carried {
    /// All of up to three dogs, half of more: the factor built into Dudley's shear formula for
    /// splines.
    #[default]
    HalfAboveThree,
    /// All of them, as with perfect rings.
    All,
    /// A third of them, but at least one: for dogs ground by hand.
    Third,
    /// According to their measured spacing, with each dog as a spring.
    Spacing,
}

impl Carried {
    /// How many of the `meeting` dogs carry, by this rule; all of them where the spacing decides.
    ///
    /// Dudley, "When Splines Need Stress Control", Product Engineering, 1957; a third for hand-ground
    /// dogs is common practice, no source.
    pub fn carrying(self, meeting: f64) -> f64 {
        match self {
            Self::All | Self::Spacing => meeting,
            Self::HalfAboveThree if meeting <= 3.0 => meeting,
            Self::HalfAboveThree => meeting / 2.0,
            Self::Third => (meeting / 3.0).max(1.0).min(meeting),
        }
    }
}

/// The forces in N on dogs that carry `force_n` together. Each dog is a spring with a gap (µm) in front of it:
/// `F_i = k·max(0, δ − g_i)` with `ΣF_i = F`.
///
/// The solution is exact. The ring moves until it rests on the m dogs with the smallest gaps, with
/// `δ = (F/k + Σg)/m`. m is the largest number for which each of them is loaded.
///
/// ```
/// use crenel_geometry::load::forces_from_gaps_n;
/// let forces = forces_from_gaps_n(&[10.0, 0.0, 5.0], 100.0, 1500.0);
/// assert_eq!(forces, [0.0, 1000.0, 500.0]);
/// ```
pub fn forces_from_gaps_n(gaps_um: &[f64], stiffness_n_per_um: f64, force_n: f64) -> Vec<f64> {
    let mut sorted = gaps_um.to_vec();
    sorted.sort_by(f64::total_cmp);
    let (mut sum, mut count, mut moved) = (0.0, 0.0, 0.0);
    for gap in sorted {
        if count > 0.0 && gap >= moved {
            break;
        }
        (sum, count) = (sum + gap, count + 1.0);
        moved = (force_n / stiffness_n_per_um + sum) / count;
    }
    gaps_um.iter().map(|gap| stiffness_n_per_um * (moved - gap).max(0.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forces_add_up_and_no_dog_pulls() {
        let mut seed = 1_u64;
        let mut next = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            f64::from(u32::try_from(seed >> 33).unwrap_or(0)) / f64::from(u32::MAX >> 1)
        };
        for dogs in 1..40 {
            let gaps: Vec<f64> = (0..dogs).map(|_| next() * 60.0).collect();
            let (stiffness, force) = (20.0 + 300.0 * next(), 1.0 + 9000.0 * next());
            let forces = forces_from_gaps_n(&gaps, stiffness, force);
            let sum: f64 = forces.iter().sum();
            assert!((sum / force - 1.0).abs() < 1e-12, "{sum} {force}");
            assert!(forces.iter().all(|f| *f >= 0.0));
            // Dogs that carry have moved alike; the gaps of the others are wider than that.
            let moved = gaps.iter().zip(&forces).filter(|(_, f)| **f > 0.0);
            let moved: Vec<f64> = moved.map(|(gap, f)| gap + f / stiffness).collect();
            assert!(moved.iter().all(|m| (m - moved[0]).abs() < 1e-9));
        }
    }

    #[test]
    fn rules_count_the_dogs_that_carry() {
        let counts = |rule: Carried| [1.0, 2.0, 3.0, 6.0].map(|n| rule.carrying(n));
        assert_eq!(counts(Carried::HalfAboveThree), [1.0, 2.0, 3.0, 3.0]);
        assert_eq!(counts(Carried::All), [1.0, 2.0, 3.0, 6.0]);
        assert_eq!(counts(Carried::Third), [1.0, 1.0, 1.0, 2.0]);
    }
}
