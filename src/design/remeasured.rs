//! A ring as measured, beside its nominal form.

use crate::ring::{Dog, FlankSide, PerFlank, Ring};

/// A measured ring: each nominal dog beside the dog as measured.
pub(crate) struct Remeasured<'a> {
    /// The nominal dogs, and the same as measured.
    pub(crate) dogs: Vec<(&'a Dog, &'a Dog)>,
    /// How far each drive and coast flank is beyond its nominal place, towards more metal, mm at the mean radius.
    pub(crate) over_mm: Vec<PerFlank<f64>>,
    /// How much higher than nominal the tallest dogs are, mm.
    pub(crate) higher_mm: f64,
}

impl<'a> Remeasured<'a> {
    pub(crate) fn new(nominal: &'a Ring, measured: &'a Ring) -> Self {
        let dogs: Vec<_> = nominal.dogs.iter().zip(&measured.dogs).collect();
        let over = |flank: FlankSide, (ought, is): &(&Dog, &Dog)| {
            let apart = measured.tip_edge(is, flank) - nominal.tip_edge(ought, flank);
            flank.sign() * apart.signed().radians() * nominal.mean_radius_mm()
        };
        let both = |dog| PerFlank::from_fn(|flank| over(flank, dog));
        Self {
            over_mm: dogs.iter().map(both).collect(),
            higher_mm: measured.tallest_mm() - nominal.tallest_mm(),
            dogs,
        }
    }

    /// The measured size if all dogs are within the tolerance of the size wanted, else the size wanted.
    /// `size` reads it off a dog; from a larger one more has to come off.
    pub(crate) fn size_made(
        &self,
        wanted: f64,
        tolerance: Option<f64>,
        here: &[usize],
        size: impl Fn(&Dog) -> f64,
    ) -> f64 {
        let largest = here.iter().map(|at| size(self.dogs[*at].1)).fold(wanted, f64::max);
        let is_within = largest - wanted <= tolerance.unwrap_or_default() + 1e-9;
        if is_within { largest } else { wanted }
    }
}
