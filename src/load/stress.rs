//! What a force does to one dog.

/// The root of a dog under load, lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Root {
    /// Length of the dog from its inner to its outer end, where the rings touch.
    pub length_mm: f64,
    /// Thickness at the root, along the mean radius, that both back-cuts leave.
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
    /// Stresses under a force in N. Infinite where nothing is engaged or no root is left.
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
