//! Reports on a design: JSON with its schema, set-up sheets for the shop, and cautions.

mod cautions;
mod json;
mod papers;
mod schema;

pub use cautions::{CAUTION_LINE, CAUTIONS, cautions_short};
pub use json::{RING_KEYS, TOP_KEYS, report_json};
pub use papers::{Allowed, INSPECTED, Inspected, Retyped, SetUpSheet, retyped};
pub use schema::report_schema;
