//! Keeps the settled draft, and tells the reader if that is not possible.

use leptos::prelude::*;

use super::keys::HISTORY;
use crenel_words::page::frame as say;

use crate::state::app_state::AppState;
use crate::state::kinds::{Notice, Offer};
use crate::state::language::here;
use crate::storage::room::usage;
use crate::storage::store::Store;
use crate::storage::tab_storage::{self, NotKept};

/// Keeps the settled draft, and tells the reader if that is not possible.
pub(crate) fn keep(state: AppState) {
    let (draft, text) = state.history.with_untracked(|h| (h.settled().clone(), h.save()));
    if Store::Tab.put(HISTORY, &text).is_err() {
        // An outdated history would undo the latest changes after a reload.
        Store::Tab.remove(HISTORY);
    }
    match state.tab_storage.with_value(|tab_storage| tab_storage.keep(&draft)) {
        Ok(()) => {
            state.told_not_kept.set_value(false);
            if draft.design != draft.opened {
                tab_storage::ask_to_last();
            }
            let was_full = |notice: &Notice| notice.offer == Offer::Clearing;
            if state.notice.with_untracked(|n| n.as_ref().is_some_and(was_full)) {
                state.notice.set(None);
            }
        }
        Err(why) => tell_not_kept(state, why),
    }
}

/// Says that the work is not kept. Once it was said, it is not repeated until work was kept again. Another
/// message is not replaced; then it is said at the next change.
fn tell_not_kept(state: AppState, why: NotKept) {
    if !state.told_not_kept.get_value() && state.notice.with_untracked(Option::is_none) {
        state.told_not_kept.set_value(true);
        state.notice.set(Some(not_kept(why)));
    }
}

fn not_kept(why: NotKept) -> Notice {
    match why {
        NotKept::Forbidden => Notice::bad(here(say::keeping_forbidden).into_owned()),
        NotKept::Full => {
            let (works, size) = usage();
            let text = here(say::no_room(works, size)).into_owned();
            Notice { text, bad: true, offer: Offer::Clearing }
        }
    }
}
