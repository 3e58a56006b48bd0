//! The smallest cut that reaches a goal, what it costs, and its cautions.

mod asked;
mod cautions;
mod cover;
mod goal;
mod new_sizes;
mod offer;
mod price;
mod progress;
mod proposed;
mod search;
mod step;
mod strategy;
mod wished;
mod words;

pub use asked::{Ceilings, Search};
pub(crate) use cautions::plan_cautions;
pub use goal::{Goal, reach_both_with, reach_with, wanted};
pub(crate) use goal::{opened, reach};
pub(crate) use new_sizes::{NewSize, new_sizes_on_both, worst_rings};
pub use offer::{Spare, Suggestion};
pub use price::Price;
pub use progress::{Progress, SearchStep, Searching};
pub use proposed::{Proposed, proposed_window_ms};
pub use search::{searching, suggestions};
pub use step::{FlankStep, ShopStep};
