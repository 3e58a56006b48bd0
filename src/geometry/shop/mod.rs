//! The workshop: dividing, cutters, tilted heads, cut-off wheels, grit, tolerances and balance.
//!
//! These are pure functions of numbers on a drawing or on a machine. They know no designs, return `None`
//! where there is no answer, and panic on no number.

pub mod balance;
pub mod cutter;
pub mod grit;
pub mod indexing;
pub mod tilt;
pub mod tolerance;
pub mod wheel;

/// Whether a number is a size: above 0 and finite.
fn is_size(value: f64) -> bool {
    value > 0.0 && value.is_finite()
}
