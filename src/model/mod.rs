//! A design worked out: rings, pair, shift, load, and the parts between foot and dogs.
//!
//! [`Worked`] holds the geometry and the numbers. [`crate::findings`] reads it, and
//! [`crate::analysis::Analysis`] holds both.

mod chances;
mod dog_torques;
mod gears;
mod pair;
mod selector;
mod shares;
mod shift;
mod shift_case;
mod standing;
mod stock;
mod strength;
mod timed;
mod wear;
mod worked;

pub use chances::{ChanceTable, Chances, Limits, chance_table, chance_top_rpm, gear_steps};
pub use dog_torques::DogTorques;
pub use gears::{
    GearLash, GearLoad, GearShift, HardestShift, gear_lashes, gear_loads, gear_shift, gear_shifts,
    hardest_shift, hardest_words,
};
pub use pair::PairAnalysis;
pub use selector::{ClawStrokes, DepthCase, PedalHeight, PedalSwing, SelectorAnalysis, WithRod};
pub use shares::{BAND_FRICTIONS, BAND_LOSSES, Band, ShiftShares, drawn_shares, gear_shares};
pub use shift::{Shares, ShiftAnalysis};
pub use shift_case::ShiftCase;
pub use standing::{Idling, Standing, standing};
pub(crate) use stock::{allowed_unbalance_g_mm, case_left_mm, most_off_flank};
pub(crate) use strength::TOGETHER_MM;
pub use strength::{Loaded, SpacingNeed, Strength};
pub use timed::{
    Foot, LineMoment, LineStep, Manner, SPREAD_SHARES, SlipEnd, Spread, TIMED_SPEEDS, TimeLine,
    TimeParts, TimedShift, Timing, TimingFault, WholeCatch, timed_shift, timed_shifts,
};
pub use wear::{EdgeWear, RoundedEdges, edge_wear, edges_give_way_mm, rounded_edges, step_wear};
pub(crate) use worked::lowered_mm;
pub use worked::{LaidOut, Pose, Worked};
