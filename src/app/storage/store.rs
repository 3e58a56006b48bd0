//! The browser's two stores of text.

use leptos::prelude::window;
use wasm_bindgen::{JsCast as _, JsValue};

/// One of the browser's stores. If the browser forbids it, it is empty and every write fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Store {
    /// Shared by all tabs; lasts.
    Browser,
    /// Of this tab alone; lasts as long as the tab.
    Tab,
}

impl Store {
    fn open(self) -> Option<web_sys::Storage> {
        let store = match self {
            Self::Browser => window().local_storage(),
            Self::Tab => window().session_storage(),
        };
        store.ok().flatten()
    }

    pub(crate) fn get(self, key: &str) -> Option<String> {
        self.open()?.get_item(key).ok().flatten()
    }

    /// # Errors
    /// The message of the browser, if the store is forbidden or full.
    pub(crate) fn put(self, key: &str, value: &str) -> Result<(), JsValue> {
        self.open().ok_or(JsValue::NULL)?.set_item(key, value)
    }

    pub(crate) fn remove(self, key: &str) {
        if let Some(store) = self.open() {
            // Fails only if nothing can be stored, and then there is nothing to remove.
            let _ = store.remove_item(key);
        }
    }

    pub(crate) fn keys(self) -> Vec<String> {
        let Some(store) = self.open() else { return Vec::new() };
        let count = store.length().unwrap_or_default();
        (0..count).filter_map(|at| store.key(at).ok().flatten()).collect()
    }

    /// The size of a key and its text, characters; 0 if there is no such key.
    pub(crate) fn size(self, key: &str) -> usize {
        let text = self.open().and_then(|store| js_sys::Reflect::get(&store, &key.into()).ok());
        let text = text.and_then(|text| text.dyn_into::<js_sys::JsString>().ok());
        text.map_or(0, |text| key.len() + text.length() as usize)
    }
}
