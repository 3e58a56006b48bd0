//! What the drawing of the linkage and the chart of the swing share.

use crenel_words::{Phrase, drawing as say};

use crate::analysis::Analysis;
use crate::design::{Design, LinkageSpec};
use crate::draw::view::Subject;

/// The linkage as the subject of a view.
pub(crate) const SUBJECT: Subject = Subject::Part { is_given, absent: say::no_linkage };

const fn is_given(design: &Design) -> bool {
    design.selector.linkage.is_some()
}

/// The linkage, if its numbers are within their limits.
pub(crate) fn sound_linkage(analysis: &Analysis) -> Option<&LinkageSpec> {
    analysis.selector.pedal.as_ref()?;
    analysis.design.selector.linkage.as_ref()
}

/// Why there is no linkage to draw.
pub(crate) fn why_absent(analysis: &Analysis) -> Phrase {
    if is_given(&analysis.design) { say::outside_limits } else { say::no_linkage }
}
