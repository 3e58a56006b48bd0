//! Where two rings can touch at all.

use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::ring::{PlanForm, Ring, Side};
use crate::units::Quantity;

/// The band of radii that both rings cover.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Inner radius of the band: the larger of the two inner radii.
    pub inner_mm: f64,
    /// Outer radius of the band: the smaller of the two outer radii.
    pub outer_mm: f64,
    /// Radius at which the dogs are widest together and so meet: the inner end if any flank is
    /// parallel, otherwise anywhere along the line, taken at the mean.
    pub meeting_mm: f64,
}

impl Contact {
    /// The common band.
    ///
    /// # Errors
    /// The rings miss each other: one lies wholly inside the other.
    pub fn of(a: &Ring, b: &Ring) -> Result<Self, Finding> {
        let inner_mm = a.inner_radius_mm.max(b.inner_radius_mm);
        let outer_mm = a.outer_radius_mm.min(b.outer_radius_mm);
        if inner_mm >= outer_mm {
            let (outside, inside) =
                if a.inner_radius_mm > b.inner_radius_mm { (a, b) } else { (b, a) };
            let numbers = [2.0 * outside.inner_radius_mm, 2.0 * inside.outer_radius_mm];
            let side = if std::ptr::eq(outside, a) { Side::A } else { Side::B };
            return Err(Finding::error("no_common_band")
                .at(Slot::Ring(side, FieldId::InnerDiameter))
                .says(
                    format!("The dogs of {} begin at {{}}, but those of {} end at {{}}: the rings never touch.", side.name(), side.other().name()),
                    &numbers.map(|v| (Quantity::Length, v)),
                )
                .hint("Check the inner and outer diameters of both rings; they must share a band."));
        }
        let parallel = [a, b].iter().any(|ring| ring.form == PlanForm::Parallel);
        let meeting_mm = if parallel { inner_mm } else { (inner_mm + outer_mm) / 2.0 };
        Ok(Self { inner_mm, outer_mm, meeting_mm })
    }

    /// Mean radius of the band, at which lash in mm and the growth with back-cut are taken.
    pub fn mean_mm(&self) -> f64 {
        (self.inner_mm + self.outer_mm) / 2.0
    }
}
