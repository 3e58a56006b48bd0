//! The works kept in this browser. Each tab has places of its own, one for each work it had on the
//! board, so that two tabs that show the same design never overwrite each other. Nothing is removed to make
//! room: if there is no room left, the reader is told.

use leptos::prelude::window;
use serde_json::json;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use crenel::design::Draft;

use super::room::{self, has_room};
use super::saved_session::{SavedSession, is_open};
use super::store::Store;
use super::tabs::{self, Presence};
use super::work_key::{self, key_of, place_of, tab_of};

/// The name of this tab, as long as the tab lives.
const TAB: &str = "crenel.tab";
/// Set when a page of the tab is left in the ordinary way. A duplicated tab has the name but not this note.
const LEFT_IN_ORDER: &str = "crenel.tab.left";

/// Why a work is not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NotKept {
    /// The browser keeps nothing for this page.
    Forbidden,
    /// There is no room left.
    Full,
}

/// The places of this tab among the kept works.
pub(crate) struct TabStorage {
    tab: String,
    presence: Presence,
}

impl TabStorage {
    /// The places of this tab: those it had before a reload, else new ones.
    pub(crate) fn of_this_tab() -> Self {
        let had = Store::Tab.get(TAB).filter(|_| Store::Tab.get(LEFT_IN_ORDER).is_some());
        Store::Tab.remove(LEFT_IN_ORDER);
        Self::named(had.unwrap_or_else(random_name))
    }

    fn named(tab: String) -> Self {
        // If it cannot be noted, the tab takes new places after a reload, and nothing is lost.
        let _ = Store::Tab.put(TAB, &tab);
        let presence = Presence::of(&tab);
        Self { tab, presence }
    }

    /// The page is left: the next page of this tab may take over its places.
    pub(crate) fn leave(&mut self) {
        let _ = Store::Tab.put(TAB, &self.tab);
        let _ = Store::Tab.put(LEFT_IN_ORDER, "yes");
        self.presence.end();
    }

    /// The page returns from the browser's memory. If another page of the tab took over its places, they
    /// remain with that page.
    pub(crate) fn come_back(&mut self) {
        let is_left = Store::Tab.get(LEFT_IN_ORDER).is_some()
            && Store::Tab.get(TAB).as_ref() == Some(&self.tab);
        Store::Tab.remove(LEFT_IN_ORDER);
        let tab = if is_left { self.tab.clone() } else { random_name() };
        *self = Self::named(tab);
    }

    /// The key under which a draft of this tab is kept.
    pub(crate) fn key(&self, draft: &Draft) -> String {
        key_of(&self.tab, &draft.place)
    }

    /// The work in this tab's first place.
    pub(crate) fn first(&self) -> Option<Draft> {
        SavedSession::read(&self.key(&Draft::default()))?.draft()
    }

    /// The kept works except the current one, newest first. Untouched examples are left out, and of
    /// equal works only one is listed.
    pub(crate) fn others(&self, on_board: Option<&Draft>) -> Vec<SavedSession> {
        let own = on_board.map(|draft| self.key(draft));
        let on_board = on_board.map(Draft::save);
        let mut all: Vec<SavedSession> = Vec::new();
        for key in work_key::all() {
            if let Some(one) = SavedSession::read(&key).filter(|_| own.as_ref() != Some(&key)) {
                all.insert(all.partition_point(|other| other.at_ms() > one.at_ms()), one);
            }
        }
        let mut others: Vec<SavedSession> = Vec::new();
        for one in all {
            let here = on_board.as_ref().is_some_and(|draft| one.holds(draft));
            let again = || others.iter().any(|other| other.is_same_as(&one));
            if !(here || again() || one.is_nobodys()) {
                others.push(one);
            }
        }
        others
    }

    /// A draft with which to continue a kept work: in its own place if that belongs to this tab, otherwise in
    /// a new one, because another tab may be working on it.
    pub(crate) fn taken_up(&self, kept: &SavedSession) -> Option<Draft> {
        let place = place_of(&kept.key, &self.tab).map_or_else(random_name, str::to_owned);
        Some(Draft { place, ..kept.draft()? })
    }

    /// Keeps a draft of this tab. An untouched example takes no room.
    ///
    /// # Errors
    /// If the browser does not let the page keep anything, or if there is no room left. Other kept works are
    /// unchanged.
    pub(crate) fn keep(&self, draft: &Draft) -> Result<(), NotKept> {
        let key = self.key(draft);
        if draft.is_untouched_example() {
            room::remove(&key);
            return Ok(());
        }
        let mut saved = draft.save();
        saved["at"] = json!(js_sys::Date::now());
        let text = saved.to_string();
        if !has_room(&key, &text) {
            return Err(NotKept::Full);
        }
        room::put(&key, &text).map_err(|why| why_not(&why))
    }

    /// Removes works of other tabs that equal this draft, once it is kept here. A work of an open tab stays,
    /// because that tab may be working on it.
    pub(crate) fn merge(&self, draft: &Draft) {
        let (tab, key) = (self.tab.clone(), self.key(draft));
        tabs::ask_open(Box::new(move |open| {
            let Some(own) = SavedSession::read(&key) else { return };
            let closed = |key: &&String| tab_of(key) != tab && !is_open(&open, key);
            let same =
                |key: &&String| SavedSession::read(key).is_some_and(|one| one.is_same_as(&own));
            work_key::all().iter().filter(closed).filter(same).for_each(|key| room::remove(key));
        }));
    }

    /// Finds out which other tabs are open and passes it to `tell`, unless the browser cannot know.
    pub(crate) fn ask_open(&self, tell: impl FnOnce(Vec<String>) + 'static) {
        let tab = self.tab.clone();
        tabs::ask_open(Box::new(move |mut open| {
            open.retain(|name| *name != tab);
            tell(open);
        }));
    }
}

/// A name that no other tab or place has.
pub(crate) fn random_name() -> String {
    js_sys::Math::random().to_string().replace("0.", "")
}

fn why_not(why: &JsValue) -> NotKept {
    let why = why.dyn_ref::<web_sys::DomException>();
    let full = why.is_some_and(|why| why.name() == "QuotaExceededError");
    // A store that is full without a single work has no room at all.
    if full && !work_key::all().is_empty() { NotKept::Full } else { NotKept::Forbidden }
}

/// Asks the browser, once, not to clear what is kept when it runs short of space.
pub(crate) fn ask_to_last() {
    const ASKED: &str = "crenel.asked";
    if Store::Browser.get(ASKED).is_some() || Store::Browser.put(ASKED, "yes").is_err() {
        return;
    }
    if let Ok(asked) = window().navigator().storage().persist() {
        // The answer changes nothing: the page says anyway that this is no backup.
        spawn_local(async { drop(JsFuture::from(asked).await) });
    }
}
