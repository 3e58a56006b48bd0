//! How a design stands: one sentence, what is past a limit, three figures for each stage of the work, and
//! what the last change did.
//!
//! The sentence is on the gravest [`Matter`], by the order of [`Class`](crate::finding::Class). Findings,
//! checks that were measured and the limits of figures are read here; nothing is judged a second time.

mod change;
mod headline;
mod matter;
mod rests_on;
mod said;
mod sentence;
mod stage;
mod stress;
mod within;

pub use change::{ChangeLine, Crossed, Moved, change};
pub use headline::{Headline, Mark, beside_bar, headline, headline_in_box};
pub use matter::{Matter, matters};
pub use sentence::Verdict;
pub use stage::Stage;
