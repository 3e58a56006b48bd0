//! A ring of equal dogs, the same angle apart.

use super::dog::{Dog, PerFlank, PlanForm, Ring};
use crate::units::Angle;

/// A ring of dogs that are alike and evenly spaced.
///
/// ```
/// use crenel_geometry::ring::EvenRing;
/// let ring = EvenRing { count: 3, heights: &[1.0, 1.0, 0.0], ..EvenRing::default() }.to_ring();
/// assert_eq!(ring.dogs.len(), 2);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EvenRing<'a> {
    /// Across the inner ends of the dogs, mm.
    pub inner_diameter_mm: f64,
    /// Across the outer ends of the dogs, mm.
    pub outer_diameter_mm: f64,
    /// How the flanks run in plan.
    pub form: PlanForm,
    /// How many places.
    pub count: u32,
    /// Centre of the first dog, degrees from the datum mark.
    pub first_dog_deg: f64,
    /// Tip width at the mean diameter, degrees.
    pub tip_width_deg: f64,
    /// Full height, mm.
    pub height_mm: f64,
    /// Share of the full height of each place in turn, repeated round the ring; 0 leaves a place empty.
    pub heights: &'a [f64],
    /// Flank angles from the shaft axis, degrees; plus is undercut.
    pub back_cut_deg: PerFlank<f64>,
}

impl Default for EvenRing<'_> {
    fn default() -> Self {
        Self {
            inner_diameter_mm: 44.0,
            outer_diameter_mm: 60.0,
            form: PlanForm::Radial,
            count: 6,
            first_dog_deg: 0.0,
            tip_width_deg: 24.0,
            height_mm: 5.0,
            heights: &[1.0],
            back_cut_deg: PerFlank::default(),
        }
    }
}

impl EvenRing<'_> {
    /// The ring as working geometry. Edges are sharp, and roots have no fillet.
    pub fn to_ring(&self) -> Ring {
        let pitch_deg = 360.0 / f64::from(self.count);
        let dogs = (0..self.count).zip(0..).map(|(nth, place)| Dog {
            back_cut: self.back_cut_deg.map(Angle::from_degrees),
            ..Dog::straight(
                place,
                Angle::from_degrees(self.first_dog_deg + pitch_deg * f64::from(nth)),
                Angle::from_degrees(self.tip_width_deg),
                self.height_mm * height_share(self.heights, place),
            )
        });
        Ring {
            inner_radius_mm: self.inner_diameter_mm / 2.0,
            outer_radius_mm: self.outer_diameter_mm / 2.0,
            form: self.form,
            dogs: dogs.filter(|dog| dog.height_mm > 0.0).collect(),
        }
    }
}

/// Share of the full height at a place, of a list that is repeated round the ring; 1 where it is empty.
pub fn height_share(heights: &[f64], place: usize) -> f64 {
    *heights.get(place % heights.len().max(1)).unwrap_or(&1.0)
}
