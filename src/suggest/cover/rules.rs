//! What a search may cut.

use super::super::step::Steps;

/// What a search may do, and to what it works.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rules {
    pub(super) steps: Steps,
    /// Whether the goal has to be met at the worst of the tolerances.
    pub(super) holds: bool,
    /// Whether tips are cut down.
    pub(super) lowers: bool,
    /// Whether flanks are narrowed.
    pub(super) narrows: bool,
    /// Whether edges are broken.
    pub(super) eases: bool,
    /// Whether dogs are removed.
    pub(super) removes: bool,
    /// Whether no flank is cut through its case, and, unless dogs are removed, no tip either.
    pub(super) keeps_case: bool,
}

/// What is cut: everything; everything but what goes through the case of a flank; no edges; tips alone;
/// flanks and edges alone; and nothing that goes through the case at all.
pub(super) fn kinds(steps: Steps, holds: bool, eases: bool) -> Vec<Rules> {
    let all = Rules {
        steps,
        holds,
        lowers: true,
        narrows: true,
        eases,
        removes: true,
        keeps_case: false,
    };
    let mut kinds = vec![
        all,
        Rules { keeps_case: true, ..all },
        Rules { eases: false, keeps_case: true, ..all },
        Rules { narrows: false, eases: false, ..all },
        Rules { lowers: false, removes: false, keeps_case: true, ..all },
        Rules { removes: false, keeps_case: true, ..all },
    ];
    kinds.dedup();
    kinds
}
