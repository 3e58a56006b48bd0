//! The works kept in this browser, one for each tab that worked on one, so that two tabs open on the
//! same design never write over each other.

use leptos::prelude::window;
use serde_json::{Value, json};
use wasm_bindgen::JsValue;

use crenel::design::{Design, example, open, save};

use super::office::Work;

/// What the keys of kept works begin with; the name of the tab follows.
const WORK: &str = "crenel.work.";

/// The name of this tab, as long as the tab lives.
const TAB: &str = "crenel.tab";
/// Put when a page of the tab was left in order. A copied tab brings the name along but not this.
const LEFT_IN_ORDER: &str = "crenel.tab.left";

/// So many works are kept; the oldest give way.
const MOST: usize = 12;

/// A work that is kept.
#[derive(Clone)]
pub(crate) struct Kept {
    /// The tab that kept it.
    pub(crate) tab: String,
    /// When, milliseconds since 1970.
    pub(crate) at_ms: f64,
    pub(crate) work: Work,
}

/// The place of this tab among the kept works.
#[derive(Clone)]
pub(crate) struct Shelf {
    tab: String,
}

impl Shelf {
    /// The place of this tab: the one it had before a reload, else a new one.
    pub(crate) fn of_this_tab() -> Self {
        let had = recall(TAB).filter(|_| recall(LEFT_IN_ORDER).is_some());
        forget(LEFT_IN_ORDER);
        had.map_or_else(Self::new_place, |tab| Self { tab })
    }

    /// Another place, so that what stands in the one before stays there.
    pub(crate) fn new_place() -> Self {
        let tab = js_sys::Math::random().to_string().replace("0.", "");
        // Where it cannot be noted, a reload begins a new place; nothing is lost by that.
        let _ = note(TAB, &tab);
        Self { tab }
    }

    /// The page is left; the next one of this tab may have its place.
    pub(crate) fn leave(&self) {
        let _ = note(TAB, &self.tab);
        let _ = note(LEFT_IN_ORDER, "yes");
    }

    /// The page is back out of the browser's memory and has its place again.
    pub(crate) fn come_back() {
        forget(LEFT_IN_ORDER);
    }

    /// What this tab kept before.
    pub(crate) fn own(&self) -> Option<Kept> {
        kept(&self.tab)
    }

    /// What is kept besides the work of this tab, the newest first; the example is nobody's work.
    pub(crate) fn others(&self) -> Vec<Kept> {
        let mut others = self.all_others();
        let example = example();
        others.retain(|other| other.work.design != example);
        others
    }

    fn all_others(&self) -> Vec<Kept> {
        let mut others: Vec<Kept> =
            tabs().iter().filter(|tab| **tab != self.tab).filter_map(|tab| kept(tab)).collect();
        others.sort_by(|a, b| b.at_ms.total_cmp(&a.at_ms));
        others
    }

    /// Keeps the work of this tab. The same design kept by another tab gives way, and what is one too many.
    ///
    /// # Errors
    /// Where the browser does not let the page keep anything, or not as much.
    pub(crate) fn keep(&self, work: &Work) -> Result<(), JsValue> {
        let design = save(&work.design);
        // The saved forms are compared: to open every kept work at every change would be felt.
        let same =
            |tab: &String| *tab != self.tab && held(tab).is_some_and(|h| h["design"] == design);
        let tabs = tabs();
        tabs.iter().filter(|tab| same(tab)).for_each(|tab| take_away(tab));
        if tabs.len() > MOST {
            self.all_others().iter().skip(MOST - 1).for_each(|other| take_away(&other.tab));
        }
        let opened = if work.opened == work.design { Value::Null } else { save(&work.opened) };
        let text = json!({ "at": js_sys::Date::now(), "design": design, "opened": opened });
        put(&key(&self.tab), &text.to_string())
    }
}

/// Takes a kept work away.
pub(crate) fn take_away(tab: &str) {
    if let Some(store) = store() {
        // What is not there need not be taken away.
        let _ = store.remove_item(&key(tab));
    }
}

/// Whether a key of the store is that of a kept work.
pub(crate) fn is_work(key: &str) -> bool {
    key.starts_with(WORK)
}

fn tabs() -> Vec<String> {
    let Some(store) = store() else { return Vec::new() };
    let keys =
        (0..store.length().unwrap_or_default()).filter_map(|at| store.key(at).ok().flatten());
    keys.filter_map(|key| key.strip_prefix(WORK).map(str::to_owned)).collect()
}

fn key(tab: &str) -> String {
    format!("{WORK}{tab}")
}

/// What the store holds for a tab.
fn held(tab: &str) -> Option<Value> {
    serde_json::from_str(&get(&key(tab))?).ok()
}

/// What a tab kept, if it can be read: anything may stand in the store.
fn kept(tab: &str) -> Option<Kept> {
    let held = held(tab)?;
    let design = design(&held["design"])?;
    let opened = self::design(&held["opened"]).unwrap_or_else(|| design.clone());
    let at_ms = held["at"].as_f64().unwrap_or_default();
    Some(Kept { tab: tab.to_owned(), at_ms, work: Work { design, opened } })
}

fn design(saved: &Value) -> Option<Design> {
    open(&saved.to_string()).ok().map(|opened| opened.design)
}

// ---- the browser's stores ----

fn store() -> Option<web_sys::Storage> {
    window().local_storage().ok().flatten()
}

/// The store that lives as long as the tab.
fn tab_store() -> Option<web_sys::Storage> {
    window().session_storage().ok().flatten()
}

/// Reads from the browser's store.
pub(crate) fn get(key: &str) -> Option<String> {
    store()?.get_item(key).ok().flatten()
}

/// Writes to the browser's store.
pub(crate) fn put(key: &str, value: &str) -> Result<(), JsValue> {
    store().ok_or(JsValue::NULL)?.set_item(key, value)
}

/// Reads what the tab noted.
pub(crate) fn recall(key: &str) -> Option<String> {
    tab_store()?.get_item(key).ok().flatten()
}

/// Notes something for the tab.
pub(crate) fn note(key: &str, value: &str) -> Result<(), JsValue> {
    tab_store().ok_or(JsValue::NULL)?.set_item(key, value)
}

/// Takes back what the tab noted.
pub(crate) fn forget(key: &str) {
    if let Some(store) = tab_store() {
        // What is not there need not be taken away.
        let _ = store.remove_item(key);
    }
}
