//! The solid of one ring: a web, which is a plain plate, with the dogs standing on it.
//!
//! The axis is z. The web reaches from `z = −thickness` to `z = 0`, the dogs from there up to their
//! heights; seen from +z, which is looking at the dogs, angles run counter-clockwise as in
//! [`crate::ring`]. Flanks are true planes, and both ends of a dog are cylinders about the axis.
//! Edge breaks and root fillets are left out, as in [`Ring::metal`].
//!
//! One solid comes in three forms: exact [`Solid::metal`], exact faces ([`Solid::boundary`]), and
//! flat [`Solid::facets`] to a tolerance. [`Seen`] is what a reader sees of the facets
//! of several solids.

mod boundary;
mod check;
mod error;
mod facets;
mod paint;
mod seen;
mod space;
mod stand;

pub use boundary::{Boundary, Curve, Edge, Face, Surface};
pub use error::SolidError;
pub use facets::{Facets, Kind, Panel, Triangle};
pub use paint::{Painted, Sheet};
pub use seen::{Seen, Stroke};
pub use space::Vec3;

use std::f64::consts::{FRAC_PI_2, PI};

use crate::ring::{Metal, Ring};
use stand::Stand;

/// How far the web reaches beyond the dogs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// From the inner ends of the dogs in to the bore, mm.
    pub inside_mm: f64,
    /// From the outer ends of the dogs out to the rim, mm.
    pub outside_mm: f64,
    /// Thickness of the web, mm.
    pub thickness_mm: f64,
}

impl Default for Body {
    fn default() -> Self {
        Self { inside_mm: 2.0, outside_mm: 1.0, thickness_mm: 4.0 }
    }
}

/// The solid of one ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    ring: Ring,
    body: Body,
    /// The dogs in the order of their places round the circle.
    stands: Vec<Stand>,
}

impl Solid {
    /// The solid of a ring on a web.
    ///
    /// # Errors
    /// If the ring is not one sound piece: it has no dog, a dog without a root, dogs that touch (less than
    /// 1e-4 mm apart, at their roots or anywhere above), a flank within 0.02 rad of running along the bore,
    /// lengths of the web below 0.1 mm or above 10 m, or a bore below a fifth of the inner radius of the
    /// dogs.
    pub fn of(ring: &Ring, body: &Body) -> Result<Self, SolidError> {
        check::lengths(ring, body)?;
        let stands = check::standing(ring)?;
        check::apart(ring, &stands)?;
        check::across(ring, &stands)?;
        Ok(Self { ring: ring.clone(), body: *body, stands })
    }

    /// Radius of the bore, mm.
    pub fn bore_mm(&self) -> f64 {
        self.ring.inner_radius_mm - self.body.inside_mm
    }

    /// Radius of the rim of the web, mm.
    pub fn rim_mm(&self) -> f64 {
        self.ring.outer_radius_mm + self.body.outside_mm
    }

    /// Radius of one end of the dogs, mm: 0 for the inner one, else the outer one.
    const fn radius(&self, end: usize) -> f64 {
        if end == 0 { self.ring.inner_radius_mm } else { self.ring.outer_radius_mm }
    }

    /// From the back of the web to its top, mm.
    pub const fn thickness_mm(&self) -> f64 {
        self.body.thickness_mm
    }

    /// Height of the tallest dog above the web, mm.
    pub fn tallest_mm(&self) -> f64 {
        self.ring.tallest_mm()
    }

    /// Volume and moments of the whole solid: [`Ring::metal`] of the dogs, and the web, which is
    /// exact and adds nothing to the first moments.
    pub fn metal(&self) -> Metal {
        let dogs = self.ring.metal();
        let [bore, rim] = [self.bore_mm(), self.rim_mm()].map(|radius| radius * radius);
        let area = PI * (rim - bore);
        let polar = FRAC_PI_2 * (rim * rim - bore * bore);
        Metal {
            volume_mm3: dogs.volume_mm3 + area * self.body.thickness_mm,
            second_moment_mm5: dogs.second_moment_mm5 + polar * self.body.thickness_mm,
            ..dogs
        }
    }
}
