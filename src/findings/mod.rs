//! What a worked-out design shows: errors, warnings and notes, as data.

mod gravity;
mod pair;
mod rework;
mod selector;

use crate::finding::Finding;
use crate::model::Worked;

/// Everything that a design shows, the gravest first: the findings of laying it out, which are given,
/// those of the pair, and those of the parts between foot and dogs.
pub(crate) fn all(worked: &Worked, laid_out: Vec<Finding>) -> Vec<Finding> {
    let mut findings = laid_out;
    findings.extend(pair::findings(worked));
    findings.extend(rework::findings(worked));
    findings.extend(selector::findings(worked));
    gravity::sort_by_gravity(&mut findings);
    findings
}
