//! The works kept in this browser. Each tab has places of its own, one for each work it had on the
//! board, so that two tabs open on the same design never write over each other. Nothing is taken
//! away to make room: where there is none left, that is said.

use leptos::prelude::window;
use serde_json::{Value, json};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use crenel::design::Draft;
use crenel::units::decimal;

use crate::storage::store::{self, forget, get, note, put, recall};
use crate::storage::tabs::{self, Presence};

/// What the keys of kept works begin with; the name of the tab follows, and the place if it is not the first.
const WORK: &str = "crenel.work.";

/// The name of this tab, as long as the tab lives.
const TAB: &str = "crenel.tab";
/// Put when a page of the tab was left in order. A copied tab brings the name along but not this.
const LEFT_IN_ORDER: &str = "crenel.tab.left";

/// How much the kept works may take together, characters. The smallest store that a browser gives has
/// room for two and a half million; a design takes about a thousand.
pub(crate) const ROOM: usize = 2_000_000;

/// A work that is kept.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SavedSession {
    /// Where.
    pub(crate) key: String,
    /// How much it takes, characters.
    pub(crate) size: usize,
    /// As the store holds it: there may be very many, and to open all of them would be felt.
    saved: Value,
}

impl SavedSession {
    /// Whether the tab that kept it is among the open ones.
    pub(crate) fn is_of(&self, open: &[String]) -> bool {
        is_open(open, &self.key)
    }

    /// When it was kept, milliseconds since 1970.
    pub(crate) fn at_ms(&self) -> f64 {
        self.saved["at"].as_f64().unwrap_or_default()
    }

    /// The work itself, if it can be read.
    pub(crate) fn draft(&self) -> Option<Draft> {
        Draft::open(self.saved.clone())
    }

    /// Whether its design is the one with this saved form.
    pub(crate) fn has(&self, design: &Value) -> bool {
        self.saved["design"] == *design
    }

    /// Whether it holds the same as another, wherever that is kept.
    fn is_same_as(&self, other: &Value) -> bool {
        ["design", "opened"].iter().all(|at| self.saved[at] == other[at])
    }

    /// Whether it is an example that nothing was changed in: earlier versions kept those too.
    fn is_nobodys(&self) -> bool {
        self.saved["opened"].is_null()
            && self.draft().is_none_or(|draft| draft.is_untouched_example())
    }

    /// Takes it away, and what is the same and kept elsewhere but by an open tab. Gives what the store
    /// held, by its keys.
    pub(crate) fn remove(&self, open: &[String]) -> Vec<(String, String)> {
        let same = |key: &String| {
            *key == self.key
                || !is_open(open, key)
                    && kept(key).is_some_and(|other| other.is_same_as(&self.saved))
        };
        let keys: Vec<String> = keys().into_iter().filter(same).collect();
        let gone: Vec<_> =
            keys.into_iter().filter_map(|key| Some((key.clone(), get(&key)?))).collect();
        for (key, _) in &gone {
            store::remove(key);
        }
        gone
    }
}

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
        let had = recall(TAB).filter(|_| recall(LEFT_IN_ORDER).is_some());
        forget(LEFT_IN_ORDER);
        Self::named(had.unwrap_or_else(some_name))
    }

    fn named(tab: String) -> Self {
        // Where it cannot be noted, a reload begins new places; nothing is lost by that.
        let _ = note(TAB, &tab);
        let presence = Presence::of(&tab);
        Self { tab, presence }
    }

    /// The page is left; the next one of this tab may have its places.
    pub(crate) fn leave(&mut self) {
        let _ = note(TAB, &self.tab);
        let _ = note(LEFT_IN_ORDER, "yes");
        self.presence.end();
    }

    /// The page is back out of the browser's memory. If another page of the tab had its places
    /// meanwhile, they stay with that one.
    pub(crate) fn come_back(&mut self) {
        let is_left = recall(LEFT_IN_ORDER).is_some() && recall(TAB).as_ref() == Some(&self.tab);
        forget(LEFT_IN_ORDER);
        let tab = if is_left { self.tab.clone() } else { some_name() };
        *self = Self::named(tab);
    }

    /// Where a draft of this tab is kept.
    pub(crate) fn key(&self, draft: &Draft) -> String {
        let dot = if draft.place.is_empty() { "" } else { "." };
        format!("{WORK}{}{dot}{}", self.tab, draft.place)
    }

    /// What this tab kept in its first place.
    pub(crate) fn first(&self) -> Option<Draft> {
        kept(&self.key(&Draft::default()))?.draft()
    }

    /// What is kept besides what is on the board, the newest first. Examples that nothing was changed
    /// in are nobody's work, and what is kept twice is shown once.
    pub(crate) fn others(&self, on_board: Option<&Draft>) -> Vec<SavedSession> {
        let own = on_board.map(|draft| self.key(draft));
        let on_board = on_board.map(Draft::save);
        let mut all: Vec<SavedSession> = Vec::new();
        for key in keys() {
            if let Some(one) = kept(&key).filter(|_| own.as_ref() != Some(&key)) {
                all.insert(all.partition_point(|other| other.at_ms() > one.at_ms()), one);
            }
        }
        let mut others: Vec<SavedSession> = Vec::new();
        for one in all {
            let here = on_board.as_ref().is_some_and(|draft| one.is_same_as(draft));
            let again = || others.iter().any(|other| other.is_same_as(&one.saved));
            if !(here || again() || one.is_nobodys()) {
                others.push(one);
            }
        }
        others
    }

    /// A draft to go on with what is kept: in its own place if that is one of this tab, else in a new
    /// one, because another tab may be at work on it.
    pub(crate) fn taken_up(&self, kept: &SavedSession) -> Option<Draft> {
        let own = kept.key.strip_prefix(WORK).and_then(|name| name.strip_prefix(&self.tab));
        let own = own.filter(|place| place.is_empty() || place.starts_with('.'));
        let place = own.map_or_else(some_name, |place| place.trim_start_matches('.').to_owned());
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
            store::remove(&key);
            return Ok(());
        }
        let mut saved = draft.save();
        saved["at"] = json!(js_sys::Date::now());
        let text = saved.to_string();
        if !has_room(&key, &text) {
            return Err(NotKept::Full);
        }
        put(&key, &text).map_err(|why| why_not(&why))
    }

    /// Takes away what other tabs kept and is the same as this draft, which is kept here by now. What
    /// an open tab keeps stays: its tab may be at work on it.
    pub(crate) fn merge(&self, draft: &Draft) {
        let (tab, key) = (self.tab.clone(), self.key(draft));
        tabs::ask_open(Box::new(move |open| {
            let Some(own) = kept(&key) else { return };
            let closed = |key: &&String| tab_of(key) != tab && !is_open(&open, key);
            let same = |key: &&String| kept(key).is_some_and(|one| one.is_same_as(&own.saved));
            keys().iter().filter(closed).filter(same).for_each(|key| store::remove(key));
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

/// Whether a work is that of an open tab.
fn is_open(open: &[String], key: &str) -> bool {
    open.iter().any(|name| name == tab_of(key))
}

/// Puts back what was taken away. Says whether there was room.
pub(crate) fn put_back(gone: &[(String, String)]) -> bool {
    gone.iter().all(|(key, text)| has_room(key, text) && put(key, text).is_ok())
}

/// A name that no other tab or place has.
pub(crate) fn some_name() -> String {
    js_sys::Math::random().to_string().replace("0.", "")
}

/// Whether there is room for a text in its place.
fn has_room(key: &str, text: &str) -> bool {
    let others = keys().into_iter().filter(|other| other != key);
    let others: usize = others.map(|other| store::size(&other)).sum();
    others + key.len() + text.len() <= ROOM
}

/// How many works are kept and how much they take, in words.
pub(crate) fn taken() -> String {
    let keys = keys();
    let size = kilobytes(keys.iter().map(|key| store::size(key)).sum());
    match keys.len() {
        1 => format!("1 work takes {size}"),
        count => format!("{count} works take {size}"),
    }
}

/// A size in words.
pub(crate) fn kilobytes(size: usize) -> String {
    format!("{} kB", decimal(size as f64 / 1000.0, 1))
}

/// Whether a key of the store is that of a kept work.
pub(crate) fn is_work(key: &str) -> bool {
    key.starts_with(WORK)
}

/// The name of the tab in the key of a kept work.
fn tab_of(key: &str) -> &str {
    let name = key.strip_prefix(WORK).unwrap_or_default();
    name.split('.').next().unwrap_or_default()
}

fn keys() -> Vec<String> {
    store::keys().into_iter().filter(|key| is_work(key)).collect()
}

/// What is kept in a place, if it can be read: anything may stand in the store.
pub(crate) fn kept(key: &str) -> Option<SavedSession> {
    let saved: Value = serde_json::from_str(&get(key)?).ok()?;
    let is_design = saved["design"]["crenel"].is_u64();
    is_design.then(|| SavedSession { key: key.to_owned(), size: store::size(key), saved })
}

fn why_not(why: &JsValue) -> NotKept {
    let why = why.dyn_ref::<web_sys::DomException>();
    let full = why.is_some_and(|why| why.name() == "QuotaExceededError");
    // Where nothing is kept there is nothing to take away: such a browser has no room at all.
    if full && !keys().is_empty() { NotKept::Full } else { NotKept::Forbidden }
}

/// Asks the browser, once, not to clear what is kept when it runs short of space.
pub(crate) fn ask_to_last() {
    const ASKED: &str = "crenel.asked";
    if get(ASKED).is_some() || put(ASKED, "yes").is_err() {
        return;
    }
    if let Ok(asked) = window().navigator().storage().persist() {
        // A browser that promises nothing is told of as one that keeps no backup, which none does.
        spawn_local(async { drop(JsFuture::from(asked).await) });
    }
}
