//! The outcome map of the design, worked out beside the page.

use std::sync::Arc;

use leptos::prelude::*;

use super::app_state::AppState;
use crate::background::Background;

/// Requests a new outcome map whenever the design or the range shown changes. The last map stays until the new one
/// arrives.
pub(crate) fn watch_outcomes(state: AppState) {
    let background = StoredValue::new_local(None::<Background>);
    Effect::new(move |_| {
        if !state.current_area().draws_outcomes {
            return;
        }
        let (design, shifts) = state.unturned.with(|a| (a.design.clone(), a.shift().is_some()));
        if !shifts {
            return state.outcomes.set(None);
        }
        let background = background.try_update_value(|kept| {
            let start = || Background::start(move |_, map| state.outcomes.set(Some(Arc::new(map))));
            kept.get_or_insert_with(start).clone()
        });
        if let Some(background) = background {
            background.ask(0.0, &[design]);
        }
    });
}
