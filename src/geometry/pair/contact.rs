//! The band of radii on which two rings can touch.

use std::error::Error;
use std::fmt;

use crate::ring::{PlanForm, Ring, Side};

/// The band of radii that both rings cover.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Inner radius of the band: the larger of the two inner radii.
    pub inner_mm: f64,
    /// Outer radius of the band: the smaller of the two outer radii.
    pub outer_mm: f64,
    /// Radius at which the dogs are widest in angle together, and therefore meet: the inner end of the
    /// band if the flanks of either ring are parallel. Radial flanks meet along their whole length, which
    /// is represented by the mean radius.
    pub meeting_mm: f64,
}

/// One ring lies wholly inside the other, so that their dogs never touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoCommonBand {
    /// The ring outside.
    pub outside: Side,
    /// Inner diameter of the ring outside, mm.
    pub begins_mm: f64,
    /// Outer diameter of the ring inside, mm.
    pub ends_mm: f64,
}

impl fmt::Display for NoCommonBand {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { outside, begins_mm, ends_mm } = self;
        let [outside, inside] = [outside, &outside.other()].map(|side| side.lower_name());
        write!(
            f,
            "the dogs of {outside} begin at {begins_mm} mm, those of {inside} end at {ends_mm} mm"
        )
    }
}

impl Error for NoCommonBand {}

impl Contact {
    /// The common band.
    ///
    /// # Errors
    /// If one ring lies wholly inside the other.
    pub fn between(a: &Ring, b: &Ring) -> Result<Self, NoCommonBand> {
        let inner_mm = a.inner_radius_mm.max(b.inner_radius_mm);
        let outer_mm = a.outer_radius_mm.min(b.outer_radius_mm);
        if inner_mm >= outer_mm {
            let outside = if a.inner_radius_mm > b.inner_radius_mm { Side::A } else { Side::B };
            return Err(NoCommonBand {
                outside,
                begins_mm: 2.0 * inner_mm,
                ends_mm: 2.0 * outer_mm,
            });
        }
        let parallel = [a, b].iter().any(|ring| ring.form == PlanForm::Parallel);
        let meeting_mm = if parallel { inner_mm } else { (inner_mm + outer_mm) / 2.0 };
        Ok(Self { inner_mm, outer_mm, meeting_mm })
    }

    /// Mean radius of the band. Lash in mm and the effect of undercuts are taken there.
    pub fn mean_mm(&self) -> f64 {
        (self.inner_mm + self.outer_mm) / 2.0
    }
}
