//! Every number and every finding for one design, as data.

mod analysis;
mod chances;
mod figures;
mod json;
mod judge;
mod offered;
mod shifting;

pub use analysis::{Analysis, Meshed, Pose};
pub use chances::{Chances, Limits};
pub use figures::{Better, Figure, Group, figures};
pub use json::{RING_KEYS, TOP_KEYS, report_json};
pub use offered::Offered;
pub use shifting::{Shares, Shifting};
