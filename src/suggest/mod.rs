//! The smallest cut that reaches a goal, what it costs, its cautions, and which sizes the goal hangs on.

mod cautions;
mod cover;
mod goal;
mod hanging;
mod new_sizes;
mod price;
mod progress;
mod search;
mod step;
mod strategy;
mod words;

pub(crate) use cautions::plan_cautions;
pub use goal::{Goal, reach_both_with, reach_with, wanted};
pub(crate) use hanging::{Hanging, hanging, hangs, words as hanging_words};
pub(crate) use new_sizes::Off;
pub use price::Price;
pub use progress::{Progress, SearchStep, Searching};
pub use search::{Ceilings, Search, Spare, Suggestion, searching, suggestions};
pub use step::ShopStep;
