//! The outcome map of the design, worked out beside the page.

use std::sync::Arc;

use crenel::design::Design;
use crenel::fields::{FieldId, Slot};
use crenel::model::{Chances, chance_top_rpm};
use crenel::shift::OutcomeMap;
use leptos::prelude::*;

use super::app_state::AppState;
use crate::background::{Background, maps};

/// Requests a new outcome map whenever the design or the range shown changes. The last map stays until the new one
/// arrives.
pub(crate) fn watch_outcomes(state: AppState) {
    let background = StoredValue::new_local(None::<Background>);
    let asked = StoredValue::new_local(None::<(Design, f64)>);
    Effect::new(move |_| {
        if !state.current_area().draws_outcomes {
            return;
        }
        let (design, shifts) =
            state.unturned.with(|a| (a.design.clone(), Chances::of(a).is_some()));
        if !shifts {
            asked.set_value(None);
            return state.outcomes.set(None);
        }
        // Nothing of a map depends on how large the speed difference is, except where it ends.
        let top_rpm = state.unturned.with(|a| chance_top_rpm(a));
        let wanted = (at_unit_slip(design), top_rpm);
        if asked.with_value(|asked| asked.as_ref() == Some(&wanted)) {
            return;
        }
        let background = background.try_update_value(|kept| {
            let start = || maps::start(move |_, map| state.outcomes.set(Some(Arc::new(map))));
            kept.get_or_insert_with(start).clone()
        });
        if let Some(background) = background {
            maps::ask(&background, top_rpm, std::slice::from_ref(&wanted.0));
            asked.set_value(Some(wanted));
        }
    });
}

/// Whether a map is as fine as it will be.
pub(crate) fn is_whole(map: &OutcomeMap) -> bool {
    maps::is_finest(map)
}

/// The design with a typed speed difference of 1 rpm in its direction.
fn at_unit_slip(mut design: Design) -> Design {
    let slot = Slot::Setting(FieldId::SlipSpeed);
    if let Some(rpm) = design.get(slot).filter(|_| design.way().is_none()) {
        design.set(slot, 1_f64.copysign(rpm));
    }
    design
}
