//! Comparisons: a design as found and as cut, and variants and layouts under the same conditions.

mod changes;
mod column;
mod comparison;
mod conditions;
mod held;
mod prose;
mod shown;

pub use changes::{Change, Verdict, changes, verdict_words};
pub use column::Column;
pub use comparison::{Cell, CompareRow, Comparison};
pub use conditions::conditions;
pub use shown::{MOST_COLUMNS, Shown, shown};
