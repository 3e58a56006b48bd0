//! The metal of the dogs: volume, mass, centroid and inertia.

use super::dog::{Dog, Ring};
use super::outline::Moments;

/// Density of steel, g/mm³ (7.85 g/cm³, the usual figure for low-alloy steel).
pub const DENSITY_G_PER_MM3: f64 = 7.85e-3;

/// Nodes and weights of eight-point Gauss–Legendre quadrature on `[−1, 1]`
/// (Abramowitz and Stegun, *Handbook of Mathematical Functions*, table 25.4).
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// Volume and moments of the dogs of a ring, or of one dog.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Metal {
    /// Volume, mm³.
    pub volume_mm3: f64,
    /// `∫x dV` and `∫y dV`, mm⁴, from the axis and the datum mark.
    pub first_moment_mm4: (f64, f64),
    /// `∫r² dV` about the shaft axis, mm⁵.
    pub second_moment_mm5: f64,
}

impl Metal {
    /// Mass, g.
    pub fn mass_g(&self) -> f64 {
        self.volume_mm3 * DENSITY_G_PER_MM3
    }

    /// Moment of inertia about the shaft axis, kg·mm².
    pub fn inertia_kg_mm2(&self) -> f64 {
        self.second_moment_mm5 * DENSITY_G_PER_MM3 / 1000.0
    }

    /// Unbalance `|Σ m·r|`, g·mm.
    pub fn unbalance_g_mm(&self) -> f64 {
        libm::hypot(self.first_moment_mm4.0, self.first_moment_mm4.1) * DENSITY_G_PER_MM3
    }

    /// This metal less another.
    #[must_use]
    pub fn without(self, that: Self) -> Self {
        let ((x, y), (less_x, less_y)) = (self.first_moment_mm4, that.first_moment_mm4);
        Self {
            volume_mm3: self.volume_mm3 - that.volume_mm3,
            first_moment_mm4: (x - less_x, y - less_y),
            second_moment_mm5: self.second_moment_mm5 - that.second_moment_mm5,
        }
    }

    fn from_moments(m: Moments) -> Self {
        Self { volume_mm3: m.area, first_moment_mm4: (m.x, m.y), second_moment_mm5: m.polar }
    }
}

impl Ring {
    /// The metal of all dogs above the web, to sharp edges and roots.
    ///
    /// Sections are exact; along the height they are summed by Gauss–Legendre quadrature, exact
    /// for straight flanks and to about 1e-12 of the volume for undercut ones. A dog has
    /// no metal below the depth at which its undercuts meet.
    pub fn metal(&self) -> Metal {
        let moments = self.dogs.iter().map(|dog| self.dog_moments(dog));
        Metal::from_moments(moments.fold(Moments::default(), |sum, m| sum.plus(m, 1.0)))
    }

    /// Mass of the dogs, g, with the edge breaks of both flanks taken off as chamfers of 45° along the dog.
    pub fn mass_with_edges_g(&self) -> f64 {
        let length = self.outer_radius_mm - self.inner_radius_mm;
        let edges = self.dogs.iter().map(|dog| dog.edge_break_mm * dog.edge_break_mm * length);
        self.metal().mass_g() - edges.sum::<f64>() * DENSITY_G_PER_MM3
    }

    fn dog_moments(&self, dog: &Dog) -> Moments {
        let half = dog.height_mm / 2.0;
        let nodes = GAUSS.iter().flat_map(|&(node, weight)| [(node, weight), (-node, weight)]);
        nodes.fold(Moments::default(), |sum, (node, weight)| {
            let section = self.section(dog, half * (1.0 + node));
            sum.plus(section.map(|s| s.moments()).unwrap_or_default(), half * weight)
        })
    }
}
