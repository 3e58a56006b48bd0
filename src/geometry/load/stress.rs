//! What a force does to one dog.

/// The root of a dog under load, lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Root {
    /// Length of the dog from its inner to its outer end, where the rings touch.
    pub length_mm: f64,
    /// Thickness at the root, along the mean radius, that both undercuts leave.
    pub thickness_mm: f64,
    /// Area at the root.
    pub area_mm2: f64,
    /// From the root to the middle of the flank that is engaged.
    pub arm_mm: f64,
    /// Height of the flank that is engaged, edges off.
    pub engaged_mm: f64,
}

/// Nominal stresses in one dog, MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stress {
    /// Pressure on the flank: `F/(b·h_e)`.
    pub pressure_mpa: f64,
    /// Mean shear at the root: `F/A`; its peak in the middle of a flat section is 1.5 times that.
    pub shear_mpa: f64,
    /// Bending at the root: `6·F·a/(b·t²)`.
    pub bending_mpa: f64,
}

impl Root {
    /// Stresses under a force in N. Infinite if no flank is engaged or no root is left.
    pub fn under(&self, force_n: f64) -> Stress {
        let thick = self.thickness_mm.max(0.0);
        Stress {
            pressure_mpa: force_n / (self.length_mm * self.engaged_mm.max(0.0)),
            shear_mpa: force_n / self.area_mm2.max(0.0),
            bending_mpa: 6.0 * force_n * self.arm_mm / (self.length_mm * thick * thick),
        }
    }
}

impl Stress {
    /// Bending and peak shear together, by the energy of distortion: `√(σ² + 3·(1.5·τ)²)`, MPa.
    pub fn combined_mpa(&self) -> f64 {
        let peak = 1.5 * self.shear_mpa;
        (self.bending_mpa * self.bending_mpa + 3.0 * peak * peak).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOT: Root =
        Root { length_mm: 8.0, thickness_mm: 6.0, area_mm2: 50.0, arm_mm: 2.5, engaged_mm: 4.0 };

    #[test]
    fn stresses_are_those_of_a_short_beam() {
        let stress = ROOT.under(3200.0);
        assert_eq!((stress.pressure_mpa, stress.shear_mpa), (100.0, 64.0));
        // 6·3200·2.5/(8·36)
        assert!((stress.bending_mpa - 500.0 / 3.0).abs() < 1e-12);
        let combined = (500.0 / 3.0 * 500.0 / 3.0 + 3.0 * 96.0 * 96.0_f64).sqrt();
        assert!((stress.combined_mpa() - combined).abs() < 1e-12);
    }

    #[test]
    fn where_less_than_nothing_is_left_a_stress_is_without_end_and_never_minus() {
        for left in [0.0, -0.2] {
            let none = Root { thickness_mm: left, area_mm2: left, engaged_mm: left, ..ROOT };
            let stress = none.under(1000.0);
            let all = [stress.pressure_mpa, stress.shear_mpa, stress.bending_mpa];
            assert_eq!(all, [f64::INFINITY; 3], "{left}");
        }
    }
}
