//! Keeps the work in the address of the page, and opens links put into it.

use leptos::prelude::*;

use crenel::design::{Design, LINK_LIMIT, decode, encode, encode_digits};

use crenel_words::page::frame as say;

use super::place::{fragment, go_to, parts, place_of, rewrite};
use crate::state::app_state::AppState;
use crate::state::language::here;

/// The whole link to the design, which opens where the reader is now.
pub(crate) fn link_here(state: AppState) -> String {
    format!("{}/{}", state.with(link_to), place_of(state))
}

/// The link to where the reader is now, without the design: it opens with whatever design the other has.
pub(crate) fn link_to_place(state: AppState) -> String {
    format!("{}#/{}", page_address(), untrack(|| place_of(state)))
}

/// The whole link to a design.
pub(crate) fn link_to(design: &Design) -> String {
    format!("{}#{}", page_address(), encode(design))
}

/// The same for a QR code.
pub(crate) fn code_link_to(design: &Design) -> String {
    format!("{}#{}", page_address(), encode_digits(design))
}

/// The address of the page without what follows the `#`.
fn page_address() -> String {
    let href = window().location().href().unwrap_or_default();
    href.split('#').next().unwrap_or_default().to_owned()
}

pub(super) fn put_into_address(state: AppState, design: &Design) {
    let link = encode(design);
    if link.len() <= LINK_LIMIT {
        return rewrite(state, &link);
    }
    if state.notice.with_untracked(Option::is_none) {
        state.tell(here(say::too_large_for_link), true);
    }
}

/// Somebody put another link into the address of the open page.
pub(super) fn open_address(state: AppState) {
    let fragment = fragment();
    let (link, place) = parts(&fragment);
    let now = state.history.with_untracked(|h| h.settled().design.clone());
    // Back to the doors of the first visit: they hold no design.
    if let Some(doors) = place.filter(|place| *place == state.areas.first_visit().key.0) {
        go_to(state, doors);
        return rewrite(state, &encode(&now));
    }
    // A link to a place alone keeps the design.
    if let Some(place) = place.filter(|_| link.is_empty()) {
        go_to(state, place);
        return rewrite(state, &encode(&now));
    }
    match decode(link) {
        // The same design: only the place is another, or a program that it passed through appended something.
        Ok(opened) if opened.design == now => {
            place.into_iter().for_each(|place| go_to(state, place));
            rewrite(state, &encode(&now));
        }
        Ok(opened) => {
            if let Some(area) = state.areas.beginning(&opened.design) {
                state.open_area(area.key);
            }
            place.into_iter().for_each(|place| go_to(state, place));
            state.replace(opened.design);
            state.from_friend.set(true);
            state.tell_opened(say::opened_from_link(), &opened.findings);
        }
        Err(why) => {
            rewrite(state, &encode(&now));
            state.tell(here([why.says(), vec![say::own_work_untouched()]].concat()), true);
        }
    }
}
