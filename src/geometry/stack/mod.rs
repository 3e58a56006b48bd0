//! Depth: dimension chains along the shaft, neutral clearance, working overlap and shims.

mod chain;
mod depth;

pub use chain::{Chain, Link};
pub use depth::{Depth, Facing, PerFacing};
