//! The whole gearbox around the open pair, worked out.

use crenel::drum::Span;
use crenel::gearset::{GearMark, GearsetAnalysis, SetShift, Worst, shift_table};

/// A whole gearbox with everything that is shown of it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Boxed {
    pub(crate) analysis: GearsetAnalysis,
    /// Every shift, the worst first.
    pub(crate) shifts: Vec<SetShift>,
    /// How each gear stands.
    pub(crate) marks: Vec<GearMark>,
    pub(crate) worst: Worst,
    /// Where two gears can be in at once.
    pub(crate) at_once: Vec<Span>,
}

impl Boxed {
    pub(crate) fn of(analysis: GearsetAnalysis) -> Self {
        let shifts = shift_table(&analysis);
        let (marks, worst) = (analysis.marks(&shifts), analysis.worst(&shifts));
        let at_once = analysis.at_once();
        Self { analysis, shifts, marks, worst, at_once }
    }
}
