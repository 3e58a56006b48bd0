//! Comparisons: a design as found and as cut, and several layouts under the same conditions.

mod changes;
mod column;
mod comparison;
mod prose;

pub use changes::{Change, Verdict, changes, verdict_words};
pub use column::Column;
pub use comparison::{Cell, CompareRow, Comparison, Mark};
