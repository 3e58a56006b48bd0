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

/// How far apart the gaps in front of dogs may lie, µm, so that at least `carrying` of them carry however the gaps
/// lie in between; infinite for one dog.
///
/// The worst that can be is one dog fewer with the smallest gap, and all others with the largest: those others are
/// reached once the springs in front give way so far, `s = F/(k·(n − 1))`.
pub fn gap_spread_um(carrying: usize, stiffness_n_per_um: f64, force_n: f64) -> f64 {
    force_n / (stiffness_n_per_um * count(carrying.saturating_sub(1)))
}

/// The most that one of the dogs that meet can have to carry, N, if the gaps in front of them lie no farther apart
/// than `spread_um`: it has the smallest gap and all others the largest, `F/m + k·s·(m − 1)/m`.
pub fn hardest_n(meeting: usize, spread_um: f64, stiffness_n_per_um: f64, force_n: f64) -> f64 {
    let lead = stiffness_n_per_um * spread_um * count(meeting.saturating_sub(1));
    ((force_n + lead) / count(meeting)).min(force_n)
}

#[expect(clippy::cast_precision_loss, reason = "dogs are few")]
const fn count(dogs: usize) -> f64 {
    dogs as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers from 0 to 1.
    fn random() -> impl FnMut() -> f64 {
        let mut seed = 1_u64;
        move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            f64::from(u32::try_from(seed >> 33).unwrap_or(0)) / f64::from(u32::MAX >> 1)
        }
    }

    /// Gaps anywhere within the spread, and those at its ends, where it is as bad as it can be.
    #[test]
    fn so_many_carry_within_the_spread() {
        let mut next = random();
        let of = (2..24).flat_map(|meeting| (2..=meeting).map(move |carrying| (meeting, carrying)));
        for (meeting, carrying) in of.flat_map(|one| [one; 8]) {
            let (k, force) = (20.0 + 300.0 * next(), 1.0 + 9000.0 * next());
            let spread = gap_spread_um(carrying, k, force);
            let most = hardest_n(meeting, spread, k, force);
            let gaps: Vec<f64> = (0..meeting).map(|_| spread * next()).collect();
            let at = |first: usize, spread: f64| {
                let gap = |dog| if dog < first { 0.0 } else { spread };
                forces_from_gaps_n(&(0..meeting).map(gap).collect::<Vec<_>>(), k, force)
            };
            let carry = |forces: &[f64]| forces.iter().filter(|n| **n > 0.0).count();
            let forces = forces_from_gaps_n(&gaps, k, force);
            assert!(carry(&forces) >= carrying, "{forces:?}: {carrying}");
            assert!(forces.iter().all(|n| *n <= most * (1.0 + 1e-9)), "{forces:?} {most}");
            assert!(carry(&at(carrying - 1, spread * 0.999)) >= carrying);
            assert!(carry(&at(carrying - 1, spread * 1.001)) < carrying, "no wider");
            assert!((at(1, spread)[0] / most - 1.0).abs() < 1e-9, "no less");
        }
    }

    #[test]
    fn forces_add_up_and_no_dog_pulls() {
        let mut next = random();
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
