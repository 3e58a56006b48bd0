//! The room that kept works take in the browser's store, and what is left of it.

use std::cell::Cell;

use wasm_bindgen::JsValue;

use crenel::units::decimal;
use crenel_words::page::designs as say;
use crenel_words::{Message, Value};

use super::store::Store;
use super::work_key;

/// How much the kept works may take together, characters. The smallest store that a browser gives has
/// room for two and a half million; a design takes about a thousand.
pub(crate) const ROOM: usize = 2_000_000;

thread_local! {
    /// The sum of their sizes, cached: there may be thousands of works, and one is written at each change.
    static TAKEN: Cell<Option<usize>> = const { Cell::new(None) };
}

fn taken() -> usize {
    let add_up = || work_key::all().iter().map(|key| Store::Browser.size(key)).sum();
    let taken = TAKEN.get().unwrap_or_else(add_up);
    TAKEN.set(Some(taken));
    taken
}

/// Forgets the sum, because another tab may have written.
pub(crate) fn changed_elsewhere() {
    TAKEN.set(None);
}

/// Whether there is room for a text under a key.
pub(super) fn has_room(key: &str, text: &str) -> bool {
    let size = key.len() + text.encode_utf16().count();
    taken().saturating_sub(Store::Browser.size(key)) + size <= ROOM
}

/// Stores a text under a key.
///
/// # Errors
/// The message of the browser, if the store is forbidden or full.
pub(super) fn put(key: &str, text: &str) -> Result<(), JsValue> {
    counted(key, || Store::Browser.put(key, text))
}

pub(super) fn remove(key: &str) {
    counted(key, || Store::Browser.remove(key));
}

/// Changes one entry, and corrects the sum.
fn counted<T>(key: &str, act: impl FnOnce() -> T) -> T {
    let others = taken().saturating_sub(Store::Browser.size(key));
    let done = act();
    TAKEN.set(Some(others + Store::Browser.size(key)));
    done
}

/// How many works are kept, and how much they take.
pub(crate) fn usage() -> (usize, Message) {
    (work_key::all().len(), kilobytes(taken()))
}

/// A size as it is read.
pub(crate) fn kilobytes(size: usize) -> Message {
    say::kilobytes(Value::Verbatim(decimal(size as f64 / 1000.0, 1)))
}
