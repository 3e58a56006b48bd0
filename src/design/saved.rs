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
mod write;

pub use bytes::{FILE_LIMIT, check_size, read, text_of};
pub(super) use read::open_value;
pub use read::{Opened, open};
pub use write::{save, to_json};

use super::{Clutch, Held, LoadCase, PedalBy, ShiftFrom};
use crate::design::{Cut, SizeBy, Work};
use crate::load::Carried;
use crate::ring::{FlankSide, PlanForm};
use crate::shift::{Drive, Shaft};
use crate::stack::Facing;

/// The version that is written.
pub const VERSION: u64 = 1;

const FORMS: [(&str, PlanForm); 2] =
    [("radial", PlanForm::Radial), ("parallel", PlanForm::Parallel)];
const SIZES: [(&str, SizeBy); 2] = [("dog", SizeBy::Dog), ("gap", SizeBy::Gap)];
const DRIVES: [(&str, Drive); 3] =
    [("force", Drive::Force), ("drum", Drive::Drum), ("both", Drive::Both)];
const SHIFTS: [(&str, ShiftFrom); 3] =
    [("typed", ShiftFrom::Typed), ("up", ShiftFrom::Up), ("down", ShiftFrom::Down)];
const CARRIED: [(&str, Carried); 4] = [
    ("half", Carried::HalfAboveThree),
    ("all", Carried::All),
    ("third", Carried::Third),
    ("spacing", Carried::Spacing),
];
const LOADS: [(&str, LoadCase); 2] =
    [("throttle", LoadCase::Throttle), ("largest", LoadCase::Largest)];
const CLUTCHES: [(&str, Clutch); 2] = [("pulled", Clutch::Pulled), ("gripping", Clutch::Gripping)];
const HOLDS: [(&str, Held); 3] =
    [("as_drawn", Held::AsDrawn), ("dog_width", Held::DogWidth), ("free_angle", Held::FreeAngle)];
const WORKS: [(&str, Work); 8] = [
    ("remove", Work::Cut(Cut::Remove)),
    ("shorten", Work::Cut(Cut::Shorten(0.0))),
    ("narrow_drive", Work::Narrow(FlankSide::Drive, 0.0)),
    ("narrow_coast", Work::Narrow(FlankSide::Coast, 0.0)),
    ("recut_drive", Work::Recut(FlankSide::Drive, 0.0)),
    ("recut_coast", Work::Recut(FlankSide::Coast, 0.0)),
    ("lap", Work::Lap(0.0)),
    ("break", Work::Break(0.0)),
];
const SHAFTS: [(&str, Shaft); 2] = [("output", Shaft::Output), ("input", Shaft::Input)];
const PEDALS: [(&str, PedalBy); 3] = [
    ("rod_above", PedalBy::RodAbove),
    ("rod_below", PedalBy::RodBelow),
    ("on_shaft", PedalBy::OnShaft),
];
/// Whether a dimension opens the clearance.
const WAYS: [(&str, bool); 2] = [("takes", false), ("opens", true)];
const CHAINS: [(&str, Facing); 2] = [("this", Facing::This), ("other", Facing::Other)];
