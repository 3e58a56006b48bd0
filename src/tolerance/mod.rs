//! Ranges of lash and window time, with the sizes of the dogs anywhere within their limits.
//!
//! The **least** lash is exact: it is a smallest less a largest number, each linear in positions, widths and
//! heights, and so least at a corner of the limits. The **greatest** is in general not at a corner; it is the
//! largest value of a small linear programme ([`largest`]). Both are bounds where heights decide which dogs
//! block. Undercuts are held: height times undercut is a product.
//!
//! **Shares** of the parts are found by sampling: sizes uniform within their limits, from a seed, so that they
//! are the same everywhere. **Drivers** are the sizes that move a number most, one at a time. **Margins** say how
//! far one size may be off, each way, before a goal is missed; **limits** how far each may be with all of them off at
//! once.

mod bounds;
mod limits;
mod narrowing;
mod programme;
mod ranges;
mod sample;
mod spread;

use crate::analysis::Analysis;
pub use crate::shop::tolerance::Limits;
use crate::suggest::Goal;
pub use bounds::Range;
pub(crate) use limits::limits_words;
pub use limits::{SizeLimits, size_limits};
use narrowing::{Bounded, Narrowing, widest};
pub use programme::largest;
pub use ranges::{DRAWS, FigureRange, Ranging, figures_with_range, ranges};
pub use sample::{Driver, FARTHEST, Margin, Sampling, Shares, drivers, margins, shares};
pub use spread::{CALLIPER_MM, DogSpread, INDEXED_DEG, Size, Spread, TABLE_DEG, put_all_off};

/// The worst case of a number that a goal is about, ms or degrees; `None` if the rings do not go in.
///
/// For the window time the least is a bound: the window that stays widest at its worst.
pub fn worst_case(analysis: &Analysis, spread: &Spread, goal: Goal) -> Option<Range> {
    let mut narrowing = Narrowing::of(analysis, spread, goal)?;
    while narrowing.step() {}
    narrowing.to_range()
}

/// A bound of [`worst_case`] that is worked out at once, however many dogs there are.
fn outer_case(analysis: &Analysis, spread: &Spread, goal: Goal) -> Option<Range> {
    let bounded = Bounded::of(analysis, spread, goal)?;
    let ranges = bounded.list.iter().map(|window| bounded.windows.outer(window));
    ranges.reduce(widest).map(|range| bounded.told(range))
}
