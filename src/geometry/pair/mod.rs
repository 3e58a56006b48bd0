//! Two rings facing each other: what blocks what, over phase and overlap.
//!
//! **Phase** is how far ring A is turned counter-clockwise, looking at the dogs of A, from the two
//! datum marks in line. Ring B is seen from its back there, so that an angle measured
//! counter-clockwise on B's own dogs runs clockwise: dog *i* of A is over dog *j* of B at phase
//! `−(θi + θj)`. **Overlap** is the distance past tip level with tip of the two tallest dogs.

mod block;
mod circle;
mod contact;
mod depth;
mod repeats;
mod rocking;

pub use block::{Block, Edges, Mesh};
pub(crate) use circle::wrapped;
pub use circle::{ANGLE_TOLERANCE, Arc, extremes, windows_between, wrapped_mm};
pub use contact::{Contact, NoCommonBand};
pub use depth::{DepthLimit, Engagement, Jam};
pub use rocking::TipsOnTips;
