//! The works kept in this browser. Each tab has places of its own, one for each work it had on the
//! board, so that two tabs open on the same design never write over each other. Nothing is taken
//! away to make room: where there is none left, that is said.

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
/// Noted when a page of the tab was left in order. A copied tab brings the name along but not this.
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
        // Where it cannot be noted, a reload begins new places; nothing is lost by that.
        let _ = Store::Tab.put(TAB, &tab);
        let presence = Presence::of(&tab);
        Self { tab, presence }
    }

    /// The page is left; the next one of this tab may have its places.
    pub(crate) fn leave(&mut self) {
        let _ = Store::Tab.put(TAB, &self.tab);
        let _ = Store::Tab.put(LEFT_IN_ORDER, "yes");
        self.presence.end();
    }

    /// The page is back out of the browser's memory. If another page of the tab had its places
    /// meanwhile, they stay with that one.
    pub(crate) fn come_back(&mut self) {
        let is_left = Store::Tab.get(LEFT_IN_ORDER).is_some()
            && Store::Tab.get(TAB).as_ref() == Some(&self.tab);
        Store::Tab.remove(LEFT_IN_ORDER);
        let tab = if is_left { self.tab.clone() } else { random_name() };
        *self = Self::named(tab);
    }

    /// Where a draft of this tab is kept.
    pub(crate) fn key(&self, draft: &Draft) -> String {
        key_of(&self.tab, &draft.place)
    }

    /// What this tab kept in its first place.
    pub(crate) fn first(&self) -> Option<Draft> {
        SavedSession::read(&self.key(&Draft::default()))?.draft()
    }

    /// What is kept besides what is on the board, the newest first. Examples that nothing was changed
    /// in are nobody's work, and what is kept twice is shown once.
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

    /// A draft to go on with what is kept: in its own place if that is one of this tab, else in a new
    /// one, because another tab may be at work on it.
    pub(crate) fn taken_up(&self, kept: &SavedSession) -> Option<Draft> {
        let place = place_of(&kept.key, &self.tab).map_or_else(random_name, str::to_owned);
        Some(Draft { place, ..kept.draft()? })
    }

    /// Keeps a draft of this tab. An example that nothing was changed in takes no room.
    ///
    /// # Errors
    /// Where the browser does not let the page keep anything, or there is no room left. Nothing else
    /// that is kept is touched.
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

    /// Takes away what other tabs kept and is the same as this draft, which is kept here by now. What
    /// an open tab keeps stays: its tab may be at work on it.
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

    /// Asks which tabs are open besides this one, and tells it where that can be known.
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
    // Where nothing is kept there is nothing to take away: such a browser has no room at all.
    if full && !work_key::all().is_empty() { NotKept::Full } else { NotKept::Forbidden }
}

/// Asks the browser, once, not to clear what is kept when it runs short of space.
pub(crate) fn ask_to_last() {
    const ASKED: &str = "crenel.asked";
    if Store::Browser.get(ASKED).is_some() || Store::Browser.put(ASKED, "yes").is_err() {
        return;
    }
    if let Ok(asked) = window().navigator().storage().persist() {
        // A browser that promises nothing is told of as one that keeps no backup, which none does.
        spawn_local(async { drop(JsFuture::from(asked).await) });
    }
}
