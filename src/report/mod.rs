//! Reports on a design and on a whole gearbox: JSON with its schema, set-up and bench sheets for the shop, sizes as they
//! came out, and cautions.

mod bench;
mod cautions;
mod gearset;
mod gearset_schema;
mod json;
mod judged;
mod papers;
mod schema;
mod set_up;
mod timed;

pub use bench::{BENCH, BenchCheck, Expected, parts_in_order};
pub use cautions::{CAUTION_LINE, CAUTIONS, cautions_short};
pub use gearset::{fault_report, gearset_report};
pub use gearset_schema::gearset_schema;
pub use json::{RING_KEYS, TOP_KEYS, report_json};
pub use judged::{Judged, judged};
pub use papers::{Allowed, INSPECTED, Inspected, Retyped, SetUpSheet, as_got, retyped};
pub use schema::report_schema;
pub use set_up::{CutDepth, FACES, Face};
