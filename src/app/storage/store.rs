//! The browser's two stores of text: one that lasts, and one that lives as long as the tab.

use leptos::prelude::window;
use wasm_bindgen::{JsCast as _, JsValue};

fn store() -> Option<web_sys::Storage> {
    window().local_storage().ok().flatten()
}

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

/// Takes something out of the browser's store.
pub(crate) fn remove(key: &str) {
    if let Some(store) = store() {
        // What is not there need not be taken away.
        let _ = store.remove_item(key);
    }
}

/// What the browser's store has.
pub(crate) fn keys() -> Vec<String> {
    let Some(store) = store() else { return Vec::new() };
    let count = store.length().unwrap_or_default();
    (0..count).filter_map(|at| store.key(at).ok().flatten()).collect()
}

/// How much something takes in the browser's store, characters. The text itself is not fetched.
pub(crate) fn size(key: &str) -> usize {
    let text = store().and_then(|store| js_sys::Reflect::get(&store, &key.into()).ok());
    let text = text.and_then(|text| text.dyn_into::<js_sys::JsString>().ok());
    key.len() + text.map_or(0, |text| text.length() as usize)
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
