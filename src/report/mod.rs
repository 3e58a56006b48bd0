//! Every number and every finding for one design, as data.

mod analysis;
mod figures;
mod json;
mod judge;

pub use analysis::{Analysis, Meshed};
pub use figures::{Better, Figure, Group, figures};
pub use json::{RING_KEYS, TOP_KEYS, report_json};
