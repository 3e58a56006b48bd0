//! The language of the page. Changing it opens the page anew, because every label is written once.

use std::borrow::Cow;
use std::cell::Cell;

use crenel_words::{Language, Reader, Words};
use leptos::prelude::window;

use crate::storage::store::Store;

/// Where the language that was chosen by hand is kept.
const KEY: &str = "crenel.language";

thread_local! {
    static LANGUAGE: Cell<Language> = const { Cell::new(Language::British) };
}

/// The languages to choose from, each with its name.
pub(crate) const LANGUAGES: [(Language, &str); 2] =
    [(Language::British, "English (UK)"), (Language::American, "English (US)")];

/// The language of the page.
pub(crate) fn language() -> Language {
    LANGUAGE.get()
}

/// Takes the language that was chosen by hand, or the one that suits the browser.
pub(crate) fn begin_language() {
    let chosen = Store::Browser.get(KEY);
    let chosen = LANGUAGES.into_iter().find(|(one, _)| chosen.as_deref() == Some(one.tag()));
    let suiting = || {
        let tags = window().navigator().languages();
        let tags: Vec<_> = tags.iter().filter_map(|tag| tag.as_string()).collect();
        Language::suiting(tags.iter().map(String::as_str))
    };
    let language = chosen.map_or_else(suiting, |(one, _)| one);
    LANGUAGE.set(language);
    // A page without an element cannot be read in any language.
    if let Some(root) = window().document().and_then(|document| document.document_element()) {
        let _ = root.set_attribute("lang", language.tag());
    }
}

/// Keeps the language that was chosen by hand, and opens the page in it.
pub(crate) fn choose_language(language: Language) {
    if language == self::language() {
        return;
    }
    // A browser that stores nothing cannot remember the choice, so the page stays as it is.
    if Store::Browser.put(KEY, language.tag()).is_ok() {
        // Reloading fails only if the page is gone.
        let _ = window().location().reload();
    }
}

/// Words in the language of the page, their numbers in mm and decimal degrees.
#[expect(clippy::needless_pass_by_value, reason = "a call names the sentence and nothing else")]
pub(crate) fn here(words: impl Words) -> Cow<'static, str> {
    words.words(Reader { language: language(), ..Reader::default() })
}
