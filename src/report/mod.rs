//! Every number and every finding for one design, as data.

mod analysis;
mod cautions;
mod chances;
mod compare;
mod cuts;
mod figures;
mod gears;
mod gravity;
mod handbook;
mod hanging;
mod inwards;
mod json;
mod judge;
mod loading;
mod made;
mod offered;
mod papers;
mod price;
mod remeasured;
mod rework;
mod selecting;
mod shifting;
mod steps;
mod strength;
mod suggest;
mod tracing;
mod wish;
mod words;

pub use analysis::{Analysis, LaidOut, Meshed, Pose};
pub use cautions::{CAUTION_LINE, CAUTIONS, CAUTIONS_SHORT};
pub use chances::{ChanceTable, Chances, Limits, chance_table, chance_top_rpm, gear_steps};
pub use compare::{Cell, Column, CompareRow, Comparison, Mark};
pub use figures::{Better, Figure, Group, figures, meaning, moment_words};
pub use gears::{
    GearLash, GearLoad, GearShift, gear_lashes, gear_loads, gear_shifts, hardest_words,
};
pub use handbook::handbook;
pub use json::{RING_KEYS, TOP_KEYS, report_json};
pub use loading::Loading;
pub use offered::Offered;
pub use papers::{Allowed, INSPECTED, Inspected, Retyped, SetUpSheet, index_sheet, retyped};
pub use price::Price;
pub use rework::{Change, Verdict, changes, verdict_words};
pub use selecting::{ClawStrokes, DepthCase, PedalHeight, PedalSwing, Selecting, WithRod};
pub use shifting::{Shares, Shifting};
pub use steps::{PlanStep, plan_steps};
pub use strength::{Loaded, Strength};
pub use suggest::{Spare, Suggestion, suggestions};
pub use tracing::{Checked, Judged, KnownBy, Traced, trace};
pub use wish::{Wish, wanted};
