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

/// Area of a sector of a ring, `θ/2·(Ro² − Ri²)` with θ in radians, mm².
pub fn sector_area_mm2(inner_mm: f64, outer_mm: f64, angle: f64) -> f64 {
    angle / 2.0 * (outer_mm * outer_mm - inner_mm * inner_mm)
}

/// Radius of the centroid of that sector, mm.
pub fn sector_centroid_mm(inner_mm: f64, outer_mm: f64, angle: f64) -> f64 {
    let cubes = outer_mm * outer_mm * outer_mm - inner_mm * inner_mm * inner_mm;
    let squares = outer_mm * outer_mm - inner_mm * inner_mm;
    2.0 / 3.0 * cubes / squares * libm::sin(angle / 2.0) / (angle / 2.0)
}

/// Polar second moment of that sector about the axis, `θ/4·(Ro⁴ − Ri⁴)`, mm⁴.
pub fn sector_polar_mm4(inner_mm: f64, outer_mm: f64, angle: f64) -> f64 {
    let fourth = |r: f64| r * r * r * r;
    angle / 4.0 * (fourth(outer_mm) - fourth(inner_mm))
}
