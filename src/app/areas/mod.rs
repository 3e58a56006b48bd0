//! The parts of the job, one file or folder each. To add one: its file, and its row in the table.

use leptos::prelude::AnyView;

use crate::state::Areas;

mod compare;
mod depth;
mod dogs;
mod help;
mod learn;
mod load;
mod measured;
mod papers;
mod rework;
mod selector;
mod shift;
mod start;
mod trace;
mod whole;

/// In the order of the job, which is that of the buttons.
pub(crate) const AREAS: Areas<AnyView> = Areas(&[
    trace::AREA,
    selector::AREA,
    depth::AREA,
    whole::AREA,
    dogs::AREA,
    measured::AREA,
    shift::AREA,
    load::AREA,
    rework::AREA,
    compare::AREA,
    papers::AREA,
    learn::AREA,
    help::AREA,
    start::AREA,
]);
