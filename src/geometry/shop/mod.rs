//! The workshop: dividing, cutters, cut-off wheels, grit, tolerances and balance.
//!
//! Pure functions of numbers that stand on a drawing or on a machine. Nothing here knows a design;
//! what cannot be answered is `None`, and nothing panics on any number.

pub mod balance;
pub mod cutter;
pub mod grit;
pub mod indexing;
pub mod tolerance;
pub mod wheel;

/// A number that can be worked with: above 0 and not without limit.
fn is_size(value: f64) -> bool {
    value > 0.0 && value.is_finite()
}
