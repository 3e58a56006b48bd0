//! The blow: two inertias that meet with a speed difference, and the shafts between that give.

/// Two sides of the dogs, and how stiffly they are held together once the dogs have met.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blow {
    /// Inertia of the input side, kg·m².
    pub input_kg_m2: f64,
    /// Inertia of the output side, kg·m²; infinite for one so heavy that it keeps its speed.
    pub output_kg_m2: f64,
    /// Torsional stiffness of everything between the two, in series, N·m/rad.
    pub stiffness_nm_per_rad: f64,
    /// Torque that keeps driving the input side, N·m.
    pub input_nm: f64,
    /// Torque that keeps holding the output side back, N·m.
    pub output_nm: f64,
}

impl Blow {
    /// The reduced inertia, on which the speed difference acts: `J = J1·J2/(J1+J2)`, kg·m².
    pub fn reduced_kg_m2(&self) -> f64 {
        1.0 / (1.0 / self.input_kg_m2 + 1.0 / self.output_kg_m2)
    }

    /// Torque between the two sides after the swing has settled: `T_s = (T1·J2 + T2·J1)/(J1+J2)`, N·m.
    pub fn steady_nm(&self) -> f64 {
        let share = self.input_nm / self.input_kg_m2 + self.output_nm / self.output_kg_m2;
        share * self.reduced_kg_m2()
    }

    /// Peak torque, N·m: `T_s + √(T_s² + k·J·Δω² + 2·k·T_s·λ)` for a slip in rad/s and a lash that
    /// is still open, rad. The lash counts as closed if the steady torque opens it: then the slip has to
    /// close it before there is a blow.
    ///
    /// ```
    /// use crenel_geometry::shift::Blow;
    /// let blow = Blow {
    ///     input_kg_m2: 2e-3,
    ///     output_kg_m2: 0.05,
    ///     stiffness_nm_per_rad: 2000.0,
    ///     input_nm: 20.0,
    ///     output_nm: 0.0,
    /// };
    /// assert!((blow.peak_nm(50.0, 0.0) - 119.157).abs() < 5e-4);
    /// ```
    pub fn peak_nm(&self, slip: f64, lash: f64) -> f64 {
        let (steady, k) = (self.steady_nm(), self.stiffness_nm_per_rad);
        let swung = k * self.reduced_kg_m2() * slip * slip + 2.0 * k * steady.max(0.0) * lash;
        steady + (steady * steady + swung).sqrt()
    }

    /// The hardest that the blow can be with a lash of `lash` rad, N·m: on the flank that a slip in rad/s closes,
    /// and on the other.
    ///
    /// A steady torque with the slip adds the work that it does while the whole lash is still to close. One
    /// against the slip takes away, so that the blow is hardest with no lash left; but it can turn the sides
    /// round, and drives them on to the other flank across the whole lash at most.
    pub fn hardest_nm(&self, slip: f64, lash: f64) -> [f64; 2] {
        let back = Self { input_nm: -self.input_nm, output_nm: -self.output_nm, ..*self };
        let turned = if self.steady_nm() < 0.0 { back.peak_nm(0.0, lash) } else { 0.0 };
        [self.peak_nm(slip, lash), turned]
    }

    /// Energy of the speed difference, which the blow turns to heat: `½·J·Δω²`, J.
    pub fn energy_j(&self, slip: f64) -> f64 {
        self.reduced_kg_m2() * slip * slip / 2.0
    }

    /// The speed of both sides after the blow, in the unit of the two speeds:
    /// `(J1·ω1 + J2·ω2)/(J1+J2)`.
    pub fn common_speed(&self, input: f64, output: f64) -> f64 {
        // Counted from the output speed, so that an infinite output inertia keeps it exactly.
        output + (input - output) * self.reduced_kg_m2() / self.output_kg_m2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn momentum_is_kept_and_energy_goes_where_it_is_said_to() {
        for (j1, j2, w1, w2) in
            [(4.0, 2.0, 6.3, 0.0), (2.5, 4.1, 65.0, -71.6), (1e-3, 0.3, -200.0, 10.0)]
        {
            let blow = Blow {
                input_kg_m2: j1,
                output_kg_m2: j2,
                stiffness_nm_per_rad: 1.0,
                input_nm: 0.0,
                output_nm: 0.0,
            };
            let after: f64 = blow.common_speed(w1, w2);
            assert!((j1 * w1 + j2 * w2 - (j1 + j2) * after).abs() < 1e-9, "momentum");
            let before = j1 * w1 * w1 / 2.0 + j2 * w2 * w2 / 2.0;
            let left = (j1 + j2) * after * after / 2.0;
            assert!((before - left - blow.energy_j(w1 - w2)).abs() < 1e-9 * before, "energy");
        }
    }

    #[test]
    fn a_side_without_end_keeps_its_speed() {
        let blow = Blow {
            input_kg_m2: 2e-3,
            output_kg_m2: f64::INFINITY,
            stiffness_nm_per_rad: 500.0,
            input_nm: 7.0,
            output_nm: 3.0,
        };
        assert_eq!(blow.common_speed(90.0, 40.0), 40.0);
        assert_eq!((blow.reduced_kg_m2(), blow.steady_nm()), (2e-3, 7.0));
        assert_eq!(blow.peak_nm(0.0, 0.0), 14.0);
    }

    /// Sides that move freely across the lash and swing on the spring beyond either end of it, step by step.
    fn stepped(blow: &Blow, slip: f64, lash: f64, from: f64) -> [f64; 2] {
        let (steady, k) = (blow.steady_nm(), blow.stiffness_nm_per_rad);
        let spring = |way: f64| k * ((way - lash).max(0.0) + way.min(0.0));
        let (mut way, mut speed, mut peaks) = (from, slip, [0.0_f64; 2]);
        for _ in 0..400_000 {
            speed += (steady - spring(way)) / blow.reduced_kg_m2() * 2e-7;
            way += speed * 2e-7;
            peaks = [peaks[0].max(spring(way)), peaks[1].max(-spring(way))];
            // What a rebound does later is no part of the shift.
            if peaks[0].max(peaks[1]) > 0.0 && spring(way) == 0.0 {
                break;
            }
        }
        peaks
    }

    #[test]
    fn the_hardest_blow_is_that_of_the_worst_place_in_the_lash() {
        for (input_nm, slip) in
            [(20.0, 50.0), (-20.0, 50.0), (-20.0, 8.0), (-20.0, 0.0), (20.0, 0.0)]
        {
            let blow = Blow {
                input_kg_m2: 2e-3,
                output_kg_m2: 0.05,
                stiffness_nm_per_rad: 2000.0,
                input_nm,
                output_nm: 0.0,
            };
            let lash = 0.2;
            let hardest = blow.hardest_nm(slip, lash);
            let mut seen = [0.0_f64; 2];
            for place in 0..=8 {
                let [ahead, behind] = stepped(&blow, slip, lash, lash * f64::from(place) / 8.0);
                seen = [seen[0].max(ahead), seen[1].max(behind)];
            }
            for (hardest, seen) in hardest.into_iter().zip(seen) {
                assert!(seen <= hardest * 1.001 + 0.01, "{input_nm} {slip}: {hardest} {seen}");
            }
            let most = |of: [f64; 2]| of[0].max(of[1]);
            let is_near = most(seen) > 0.9 * most(hardest);
            assert!(is_near, "{input_nm} {slip}: {hardest:?} {seen:?}");
        }
    }

    #[test]
    fn a_torque_that_opens_the_lash_meets_it_closed() {
        let blow = |input_nm: f64| Blow {
            input_kg_m2: 2e-3,
            output_kg_m2: 0.05,
            stiffness_nm_per_rad: 2000.0,
            input_nm,
            output_nm: 0.0,
        };
        assert!(blow(20.0).peak_nm(50.0, 0.2) > blow(20.0).peak_nm(50.0, 0.0) + 1.0);
        assert_eq!(blow(-20.0).peak_nm(50.0, 0.2), blow(-20.0).peak_nm(50.0, 0.0));
    }
}
