//! The workshop: dividing, cutters, cut-off wheels, grit, tolerances and balance.
//!
//! Pure functions of numbers that stand on a drawing or on a machine. Nothing here knows a design;
//! what cannot be answered is `None`, and nothing panics on any number.

pub mod indexing;
