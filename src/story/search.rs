//! Looks for the number at which something begins, on the model alone.

use crate::analysis::Analysis;
use crate::design::Design;
use crate::figures::{Figure, some_figures};

/// Halvings of a span: down to a ten-millionth of it.
const HALVINGS: usize = 24;

/// The number between two at which `is` begins to hold; `None` where it does not hold at the far end, and the near end
/// where it holds from there.
pub(super) fn begins(from: f64, to: f64, is: impl Fn(f64) -> bool) -> Option<f64> {
    if is(from) {
        return Some(from);
    }
    let (mut not, mut holds) = (from, is(to).then_some(to)?);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(not, holds);
        *if is(middle) { &mut holds } else { &mut not } = middle;
    }
    Some(holds)
}

/// The number of one figure of a design, if it has it.
pub(super) fn number(figure: &'static Figure, design: &Design) -> Option<f64> {
    some_figures([figure], &Analysis::of(design)).first()?.value
}
