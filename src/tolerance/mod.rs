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
mod programme;
mod ranges;
mod sample;
mod spread;

use crate::analysis::Analysis;
use crate::design::SettingField;
use crate::pair::Arc;
pub use crate::shop::tolerance::Limits;
use crate::suggest::Goal;
pub use bounds::Range;
use bounds::{Level, Windows};
pub(crate) use limits::limits_words;
pub use limits::{SizeLimits, size_limits};
pub use programme::largest;
pub use ranges::{DRAWS, FigureRange, Ranging, figures_with_range, ranges};
pub use sample::{Driver, FARTHEST, Margin, Sampling, Shares, drivers, margins, shares};
pub use spread::{CALLIPER_MM, DogSpread, INDEXED_DEG, Size, Spread, TABLE_DEG, put_all_off};

/// The worst case of a number that a goal is about, ms or degrees; `None` if the rings do not go in.
///
/// For the window time the least is a bound: the window that stays widest at its worst.
pub fn worst_case(analysis: &Analysis, spread: &Spread, goal: Goal) -> Option<Range> {
    over_windows(analysis, spread, goal, |windows, window| windows.range(window))
}

/// A bound of [`worst_case`] that is worked out at once, however many dogs there are.
fn outer_case(analysis: &Analysis, spread: &Spread, goal: Goal) -> Option<Range> {
    over_windows(analysis, spread, goal, |windows, window| windows.outer(window))
}

fn over_windows(
    analysis: &Analysis,
    spread: &Spread,
    goal: Goal,
    of: fn(&Windows<'_>, &Arc) -> Range,
) -> Option<Range> {
    let pair = analysis.pair.as_ref()?;
    let held = pair.held.as_ref()?;
    let level = match goal {
        Goal::Lash => Level::Depth(pair.engagement.full_depth_mm),
        Goal::Window => Level::Hold(analysis.design.setting.get(SettingField::HoldDepth)),
    };
    let windows = Windows::new(&analysis.cut, &pair.mesh, spread, level);
    let range = |list: &[Arc]| {
        let ranges = list.iter().map(|window| of(&windows, window));
        ranges.reduce(|a, b| Range {
            least: a.least.max(b.least),
            greatest: a.greatest.max(b.greatest),
        })
    };
    let (range, by) = match goal {
        Goal::Lash => (range(std::slice::from_ref(held))?, 1_f64.to_degrees()),
        // The time of one radian.
        Goal::Window => (range(&pair.to_hold)?, pair.passing.seconds_open(1.0) * 1000.0),
    };
    Some(Range { least: range.least * by, greatest: range.greatest * by })
}
