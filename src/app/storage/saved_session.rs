//! A work that is kept in this browser.

use serde_json::Value;

use crenel::design::Draft;

use super::room::{self, has_room};
use super::store::Store;
use super::work_key::{self, tab_of};

/// A work that is kept.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SavedSession {
    /// Its key in the browser's store.
    pub(crate) key: String,
    /// Its size, characters.
    pub(crate) size: usize,
    /// Its text in the store. It is opened only on demand, because there may be very many works.
    saved: Value,
}

impl SavedSession {
    /// The work kept under a key, if it can be read: the store may contain anything.
    pub(crate) fn read(key: &str) -> Option<Self> {
        let saved: Value = serde_json::from_str(&Store::Browser.get(key)?).ok()?;
        let is_design = saved["design"]["crenel"].is_u64();
        is_design.then(|| Self { key: key.to_owned(), size: Store::Browser.size(key), saved })
    }

    /// Whether it belongs to one of the open tabs.
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

    /// Whether it holds the same work as another, wherever that is kept.
    pub(super) fn is_same_as(&self, other: &Self) -> bool {
        self.holds(&other.saved)
    }

    /// Whether it holds the work with this saved form.
    pub(super) fn holds(&self, saved: &Value) -> bool {
        ["design", "opened"].iter().all(|at| self.saved[at] == saved[at])
    }

    /// Whether it is an untouched example; earlier versions kept those too.
    pub(super) fn is_nobodys(&self) -> bool {
        self.saved["opened"].is_null()
            && self.draft().is_none_or(|draft| draft.is_untouched_example())
    }

    /// Removes it, and equal works of tabs that are closed. Returns what was removed, by key.
    pub(crate) fn remove(&self, open: &[String]) -> Vec<(String, String)> {
        let same = |key: &String| {
            *key == self.key
                || !is_open(open, key)
                    && Self::read(key).is_some_and(|other| other.is_same_as(self))
        };
        let keys = work_key::all().into_iter().filter(same);
        let removed: Vec<_> =
            keys.filter_map(|key| Some((key.clone(), Store::Browser.get(&key)?))).collect();
        for (key, _) in &removed {
            room::remove(key);
        }
        removed
    }
}

/// Puts removed works back. Returns whether there was room.
pub(crate) fn restore(removed: &[(String, String)]) -> bool {
    removed.iter().all(|(key, text)| has_room(key, text) && room::put(key, text).is_ok())
}

/// Whether a work belongs to an open tab.
pub(super) fn is_open(open: &[String], key: &str) -> bool {
    open.iter().any(|name| name == tab_of(key))
}
