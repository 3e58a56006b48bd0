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
//! - Numbers are under the keys of the table of inputs ([`crate::fields`]), which carry the unit. A
//!   missing number has the default of that table. The defaults are therefore frozen with the version.
//! - `cuts` has dogs by their number from 1, each with `"remove"` or the height in mm that is left.
//! - `dogs` lists a ring dog by dog.
//! - `plan` lists any other work on a ring, in its order: each operation has `do`, its number, and the
//!   `dogs` it is done to, counted from 1. A file can have both `cuts` and `plan`; `cuts` come first.
//! - `readings` has what was read on a ring: how many `dogs`, the datum, how the closing error is spread, and
//!   `columns`, each with its `gauge`, what it is set `at`, its `uncertainty`, and what was `read` on each dog.
//! - `variants` lists plans of work with their `name`. The one that is `current` has its plan on the rings; the others
//!   have it under `a` and `b`, or `rings` of their own with the overlap and the tip friction that belong to them. One
//!   that is not `compared` is left out of the comparison.
//! - `beside` lists pairs of rings to compare with, each with `title`, `a` and `b`. `held` says what is
//!   held in the comparison, `held_deg` at which value.
//! - `gearbox` is there only if the gearbox is known. Its `gears` begin with the first gear.
//! - `linkage`, `claw`, `detent`, `track` and `depth` are there only if they are known. A `track` can have
//!   `points`. `depth` has the chains `this` and `other`, lists of dimensions with `name` and `way`.
//! - `felt` lists what the rider feels, and `measured` has the measurements for it.
//! - `box` has the whole gearbox around the pair, and which of its gears the pair is: see [`save_gearset`].
//! - `plates` lists the index plates of the shop, each as the list of its hole circles.
//! - `limits` has the limits that the user sets.
//! - `given` lists the places of numbers that somebody gave although they equal their default, as in
//!   `"a.tip_width_deg"`: what differs from its default is given anyway.
//! - `unknown` lists the places of numbers that nobody knows, as in `"slip_rpm"`: nothing is worked out with the
//!   default in their place. Only speeds, ratios, loads and friction can be unknown.
//! - `photos` lists pictures of the rings, in a file alone: [`save_with_photos`].
//!
//! Unknown keys are reported and left out. If a key is given twice in one place, the last one counts, and
//! that is reported too. Files and links of version 1 open forever: a later version reads them through a
//! migration here.

mod bytes;
mod gearset;
mod photos;
mod read;
mod repeated;
mod words;
mod write;

pub use bytes::{FILE_LIMIT, check_size, read, text_of};
pub use gearset::{
    GEARSET_VERSION, OpenedGearset, gearset_to_json, open_gearset, read_gearset, save_gearset,
};
pub use photos::{MOST_PHOTOS, PHOTO_LIMIT, save_with_photos};
pub(super) use read::open_value;
pub use read::{Opened, open};
pub use words::VERSION;
pub use write::{save, to_json};
