//! The smallest cut that reaches a goal, what it costs, its cautions, and how far the sizes of a plan may be off.

mod cautions;
mod cover;
mod goal;
mod new_sizes;
mod offer;
mod price;
mod progress;
mod proposed;
mod search;
mod size_limits;
mod step;
mod strategy;
mod wished;
mod words;

pub(crate) use cautions::plan_cautions;
pub use goal::{Goal, reach_both_with, reach_with, wanted};
pub use offer::{Spare, Suggestion};
pub use price::Price;
pub use progress::{Progress, SearchStep, Searching};
pub use proposed::{Proposed, proposed_window_ms};
pub use search::{Ceilings, Search, searching, suggestions};
pub(crate) use size_limits::limits_words;
pub use size_limits::{LIMIT_STEP_MM, SizeLimits, size_limits};
pub use step::{FlankStep, ShopStep};
