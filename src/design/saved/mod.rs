//! The saved form, version 1: JSON with defaults left out.
//!
//! ```json
//! {
//!   "crenel": 1,
//!   "title": "Second gear",
//!   "a": { "count": 6, "heights": [1, 0.5], "cuts": { "3": "remove", "5": 2.5 } },
//!   "b": { "dogs": [ { "centre_deg": 0, "tip_width_deg": 23.8 }, { "centre_deg": 61.2 } ] },
//!   "overlap_mm": 4.2,
//!   "travel_by": "drum",
//!   "shift": "up",
//!   "gearbox": { "clutch": "gripping", "gears": [ { "driving_teeth": 13, "driven_teeth": 35 }, {} ] }
//! }
//! ```
//!
//! Numbers stand under the keys of the table of inputs ([`crate::fields`]), the unit in the key.
//! What is missing has the default of that table, which is therefore frozen with the version.
//! Dogs are counted from 1 in `cuts`: `"remove"`, or the height in mm that is left. A ring with
//! `dogs` is given dog by dog. Work on a ring that is more than that stands in `plan`, a list of
//! operations in their order, each with `do`, its number and the `dogs` it is done to, counted from 1;
//! a file may have both, `cuts` come first. `beside` lists pairs of rings to compare with, each with `title`, `a`
//! and `b`, and `held` says what is held in the comparison. Without `gearbox` there is none; its `gears` begin with the first.
//! `linkage`, `claw`, `detent`, `track` and `depth` are there only if they are known; a `track` may have
//! `points`, and `depth` has the chains `this` and `other`, each a list of dimensions with `name` and
//! `way`. `felt` lists what the rider feels, `measured` has what was measured for it. Unknown keys are reported and left out; of
//! a key that stands twice in one place the last counts, and that is reported too. Files and links of version 1
//! open forever: a later version reads them through a migration here.

mod bytes;
mod read;
mod repeated;
mod words;
mod write;

pub use bytes::{FILE_LIMIT, check_size, read, text_of};
pub(super) use read::open_value;
pub use read::{Opened, open};
pub use words::VERSION;
pub use write::{save, to_json};
