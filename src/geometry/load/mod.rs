//! Strength and holding: what the dogs carry, what it does to them, and whether they stay in.
//!
//! What is checked is the pressure on the flanks and the shear and bending at the root, by nominal
//! stress. What is not: impact fatigue, the notch of the root fillet, spalling of the case, and
//! anything that cracks, wear or heat have done already.

mod allowed;
mod hold;
mod material;
mod share;
mod stress;

pub use allowed::{life_factor, spline_compression_mpa, spline_shear_mpa};
pub use hold::Hold;
pub use material::{CORE_STEELS, CoreSteel};
pub use share::{Carried, forces_from_gaps_n};
pub use stress::{Root, Stress};
