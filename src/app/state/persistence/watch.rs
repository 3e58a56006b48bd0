//! Keeps the work from now on, and opens links put into the address by hand.

use std::cell::RefCell;
use std::rc::Rc;

use gloo_events::EventListener;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crenel::design::{History, encode};

use super::address::{open_address, put_into_address};
use super::autosave::keep;
use super::keys::{LEFT, TOLD};
use super::place::{self, fragment, parts};
use crenel_words::page::frame as say;

use crate::state::app_state::AppState;
use crate::state::language::here;
use crate::state::unfinished;
use crate::storage::room;
use crate::storage::store::Store;
use crate::storage::tab_storage::TabStorage;
use crate::storage::work_key::is_work;

/// The pause before the address is replaced: browsers limit how often that may happen.
const PAUSE_MS: u32 = 300;

/// The longest time between asking for a reload and leaving the page.
const LEAVING_MS: f64 = 2000.0;

/// Keeps the work from now on, and opens links put into the address by hand.
pub(crate) fn watch(state: AppState) {
    state.history.update_untracked(History::keep_as_text);
    let pending: Rc<RefCell<Option<Timeout>>> = Rc::default();
    // The address before it was last replaced, and the time of that.
    let earlier: Rc<RefCell<(String, f64)>> = Rc::default();
    let noted = Rc::clone(&earlier);
    // The settled draft is kept at once, so that a crash costs only the gesture in progress.
    let settled = Memo::new(move |_| state.history.with(|h| h.settled().clone()));
    Effect::new(move |before: Option<String>| {
        let draft = settled.get();
        keep(state);
        let place = draft.place.clone();
        if before.as_ref() != Some(&place) {
            state.tab_storage.with_value(|tab_storage| tab_storage.merge(&draft));
        }
        let noted = Rc::clone(&noted);
        let address = move || {
            *noted.borrow_mut() = (fragment(), js_sys::Date::now());
            put_into_address(state, &draft.design);
        };
        // Replacing the timer cancels the previous one.
        *pending.borrow_mut() = Some(Timeout::new(PAUSE_MS, address));
        place
    });
    tell_what_is_forgotten(state);
    unfinished::watch(state);
    // A change within the pause before the page is left is not in the address.
    EventListener::new(&window(), "pagehide", move |_| {
        unfinished::leave(state);
        let left = fragment();
        let (before, at) = earlier.borrow().clone();
        state.tab_storage.update_value(TabStorage::leave);
        // A reload uses the address from before the change, even if the page replaced it while leaving.
        // If this cannot be noted, the work is still kept and offered.
        if parts(&left).0 != encode(&settled.get_untracked().design) {
            let _ = Store::Tab.put(LEFT, &left);
        } else if js_sys::Date::now() - at < LEAVING_MS && before != left {
            let _ = Store::Tab.put(LEFT, &before);
        }
    })
    .forget();
    // The page lives as long as its window.
    EventListener::new(&window(), "pageshow", move |event| come_back(state, event)).forget();
    place::watch(state);
    // Where both come, the first has done what there is to do.
    EventListener::new(&window(), "popstate", move |event| {
        let entry = event.dyn_ref::<web_sys::PopStateEvent>().map(web_sys::PopStateEvent::state);
        if !entry.is_some_and(|entry| place::travelled(state, &entry, &fragment())) {
            open_address(state);
        }
    })
    .forget();
    EventListener::new(&window(), "storage", move |event| other_tab(state, event)).forget();
}

/// The page returns from the browser's back/forward cache. It had given up its places when it went there.
fn come_back(state: AppState, event: &web_sys::Event) {
    let back = event.dyn_ref::<web_sys::PageTransitionEvent>();
    if back.is_some_and(web_sys::PageTransitionEvent::persisted) {
        room::changed_elsewhere();
        state.tab_storage.update_value(TabStorage::come_back);
        keep(state);
    }
}

/// Says once, for a moment, that the oldest steps can no longer be undone.
fn tell_what_is_forgotten(state: AppState) {
    let forgot = Memo::new(move |_| state.history.with(History::forgot));
    Effect::new(move |before: Option<bool>| {
        let forgot = forgot.get();
        if forgot && before == Some(false) {
            state.flash(here(say::oldest_steps_gone));
        }
        forgot
    });
}

/// Another tab wrote to the store. Says once that it is open, and that neither tab overwrites the other.
fn other_tab(state: AppState, event: &web_sys::Event) {
    let key = event.dyn_ref::<web_sys::StorageEvent>().and_then(web_sys::StorageEvent::key);
    // A store that is cleared names no key.
    if key.as_deref().is_none_or(is_work) {
        room::changed_elsewhere();
    }
    let told = Store::Tab.get(TOLD).is_some() || state.notice.with_untracked(Option::is_some);
    if key.as_deref().is_some_and(is_work) && !told {
        // If this cannot be noted, it is said again after a reload.
        let _ = Store::Tab.put(TOLD, "yes");
        state.tell(here(say::open_in_other_tab), false);
    }
}
