//! Keeps the work in the address of the page, and opens links put into it.

use leptos::prelude::*;
use wasm_bindgen::JsValue;

use crenel::design::{Design, LINK_LIMIT, decode, encode};

use crenel_words::page::frame as say;

use crate::state::app_state::AppState;
use crate::state::language::here;

/// The whole link to a design.
pub(crate) fn link_to(design: &Design) -> String {
    let href = window().location().href().unwrap_or_default();
    let page = href.split('#').next().unwrap_or_default();
    format!("{page}#{}", encode(design))
}

pub(super) fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

fn set_fragment(link: &str) {
    if let Ok(history) = window().history() {
        // A browser refuses this if it happens too often; the next change tries again.
        let _ = history.replace_state_with_url(&JsValue::NULL, "", Some(&format!("#{link}")));
    }
}

pub(super) fn put_into_address(state: AppState, design: &Design) {
    let link = encode(design);
    if link.len() <= LINK_LIMIT {
        return set_fragment(&link);
    }
    if state.notice.with_untracked(Option::is_none) {
        state.tell(here(say::too_large_for_link), true);
    }
}

/// Somebody put another link into the address of the open page.
pub(super) fn open_address(state: AppState) {
    let fragment = fragment();
    let now = state.history.with_untracked(|h| h.settled().design.clone());
    if fragment == encode(&now) {
        return;
    }
    match decode(&fragment) {
        // The same design, but a program that the link passed through appended something.
        Ok(opened) if opened.design == now => set_fragment(&encode(&now)),
        Ok(opened) => {
            if let Some(area) = state.areas.for_layouts(&opened.design) {
                state.open_area(area.key);
            }
            state.replace(opened.design);
            state.tell_opened(say::opened_from_link(), &opened.findings);
        }
        Err(why) => {
            set_fragment(&encode(&now));
            state.tell(here([why.says(), vec![say::own_work_untouched()]].concat()), true);
        }
    }
}
