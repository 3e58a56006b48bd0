//! The keys under which works are kept: `crenel.work.`, the name of the tab that kept it, and the place
//! within the tab if that is not its first, after a dot.

use super::store::Store;

const WORK: &str = "crenel.work.";

/// The key of a place of a tab; the first place has no name.
pub(super) fn key_of(tab: &str, place: &str) -> String {
    let dot = if place.is_empty() { "" } else { "." };
    format!("{WORK}{tab}{dot}{place}")
}

/// Whether a key of the store is that of a kept work.
pub(crate) fn is_work(key: &str) -> bool {
    key.starts_with(WORK)
}

/// The name of the tab in the key of a kept work.
pub(super) fn tab_of(key: &str) -> &str {
    let name = key.strip_prefix(WORK).unwrap_or_default();
    name.split('.').next().unwrap_or_default()
}

/// The place within a tab, if the key is one of that tab.
pub(super) fn place_of<'a>(key: &'a str, tab: &str) -> Option<&'a str> {
    let place = key.strip_prefix(WORK)?.strip_prefix(tab)?;
    if place.is_empty() { Some(place) } else { place.strip_prefix('.') }
}

/// Whether any work is kept, of whatever tab.
pub(crate) fn is_any_kept() -> bool {
    !all().is_empty()
}

/// The keys of all kept works.
pub(super) fn all() -> Vec<String> {
    Store::Browser.keys().into_iter().filter(|key| is_work(key)).collect()
}
