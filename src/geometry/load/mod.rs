//! Strength and holding: the load on the dogs, the stresses from it, and whether the dogs stay in.
//!
//! The checks are of nominal stress: pressure on the flanks, and shear and bending at the root. They do not
//! include impact fatigue, the notch of the root fillet, spalling of the case, or earlier damage by cracks,
//! wear or heat.

mod allowed;
mod hold;
mod material;
mod share;
mod stress;

pub use allowed::{life_factor, spline_compression_mpa, spline_shear_mpa};
pub use hold::Hold;
pub use material::{CORE_STEELS, CoreSteel};
pub use share::{Carried, forces_from_gaps_n, gap_spread_um, hardest_n};
pub use stress::{Root, Stress};
