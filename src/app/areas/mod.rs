//! The parts of the job, one file or folder each. To add one: its file, and its row in the table.

use leptos::prelude::AnyView;

use crate::state::Areas;

mod compare;
mod depth;
mod help;
mod load;
mod papers;
mod rework;
mod rings;
mod selector;
mod shift;
mod trace;

/// In the order of the job, which is that of the tabs; the page begins with the first.
pub(crate) const AREAS: Areas<AnyView> = Areas(&[
    rings::AREA,
    shift::AREA,
    load::AREA,
    rework::AREA,
    depth::AREA,
    selector::AREA,
    trace::AREA,
    papers::AREA,
    compare::AREA,
    help::AREA,
]);
