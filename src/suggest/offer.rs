//! A cut that is offered, and all that there is to say of it.

use crenel_words::Message;

use super::asked::Search;
use super::cautions::cut_cautions;
use super::goal::{reaches, wanted};
use super::new_sizes::{new_sizes_on_both, reach_at_worst};
use super::price::{Price, prices};
use super::words::cut_words;
use crate::analysis::Analysis;
use crate::design::Design;
use crate::finding::{Finding, Severity};
use crate::ring::Side;

/// Warnings about a cut that leaves a gear unusable, or a flank without its case.
const NOT_ADVISABLE: [&str; 8] = [
    "case_gone",
    "edge_contact",
    "jams_before_full_depth",
    "no_entry_window",
    "only_edges_engaged",
    "pushed_out",
    "pushed_out_on_overrun",
    "windows_shrink",
];

/// One cut that reaches the goal, or one that comes nearest to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// Sentences on what is done. The sizes are those in the plan, to the last digit.
    pub words: Vec<Message>,
    /// The design with the cut in its plan.
    pub design: Design,
    /// Whether the goal is reached.
    pub reached: bool,
    /// The window time in ms or the lash in degrees that the cut gives.
    pub reaches: f64,
    /// Whether the goal is still met within the tolerances of the sizes that are cut.
    pub spare: Spare,
    /// Metal that comes off both rings in addition to the work planned already, g, with edge breaks as
    /// chamfers of 45°.
    pub stock_g: f64,
    /// Every figure that gets worse by more than a shop would overlook, those that cross a limit first.
    pub prices: Vec<Price>,
    /// Why the cut is not advisable: the first of the warnings that speak against it.
    pub against: Option<Finding>,
    /// Other warnings that the design does not have without the cut.
    pub warnings: Vec<Finding>,
    /// What may happen in cutting it, to whom, and what to do first.
    pub cautions: Vec<Message>,
}

/// Whether a goal is still met within the tolerances of the sizes that are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spare {
    /// The goal is met with every size off by its tolerance to the bad side.
    Holds,
    /// No dog is cut to a size.
    NoSize,
    /// The goal is met at the nominal sizes, and missed somewhere within their tolerance.
    None,
}

impl Suggestion {
    /// All that there is to say of a cut that a search found. `None` if the rings cannot be analysed as a pair
    /// after it.
    pub fn of(now: &Analysis, search: &Search, design: Design) -> Option<Self> {
        let after = Analysis::of(&design);
        after.pair.as_ref()?;
        let (goal, wanted) = (search.goal, wanted(&now.design, search.goal));
        let reaches = reaches(&design, goal)?;
        let reached = reaches >= wanted;
        let holds = || {
            let worst = reach_at_worst(&design, &now.cut, goal);
            reached && worst.is_some_and(|worst| worst >= wanted)
        };
        let sized = !new_sizes_on_both(&design, &now.cut, &after.cut).is_empty();
        let mut warnings = new_warnings(now, &after);
        let against = |finding: &Finding| NOT_ADVISABLE.contains(&finding.code);
        let against = warnings.iter().position(against).map(|at| warnings.remove(at));
        Some(Self {
            words: cut_words(now, &design),
            reached,
            reaches,
            spare: match sized {
                false => Spare::NoSize,
                true if holds() => Spare::Holds,
                true => Spare::None,
            },
            stock_g: mass_g(&now.design) - mass_g(&design),
            prices: prices(now, &after, goal),
            cautions: cut_cautions(now, &after),
            against,
            warnings,
            design,
        })
    }
}

/// Metal of both rings of a design as cut, g.
pub(super) fn mass_g(design: &Design) -> f64 {
    Side::BOTH.map(|side| design.ring(side).to_cut().mass_with_edges_g()).iter().sum()
}

/// Warnings that are new by their kind or by the number they are about, one of each. A warning that
/// speaks against a cut is also new if its numbers have changed.
fn new_warnings(now: &Analysis, after: &Analysis) -> Vec<Finding> {
    let mut list: Vec<Finding> = Vec::new();
    for finding in after.findings.iter().filter(|f| f.severity == Severity::Warning) {
        let about = |f: &Finding| (f.code, f.place);
        let known = |list: &[Finding]| list.iter().any(|f| about(f) == about(finding));
        let worse = NOT_ADVISABLE.contains(&finding.code) && !now.findings.contains(finding);
        if (worse || !known(&now.findings)) && !known(&list) {
            list.push(finding.clone());
        }
    }
    list
}
