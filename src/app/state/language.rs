//! The language of the page. Changing it opens the page again, because every label is written once.

use std::borrow::Cow;
use std::cell::{Cell, OnceCell};

use crenel_words::page::frame as say;
use crenel_words::{Dictionary, DictionaryError, Language, Message, Reader, Words};
use leptos::prelude::window;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use wasm_bindgen_futures::spawn_local;

use crate::storage::store::Store;

/// Where the language that was chosen by hand is kept: its tag, or [`FROM_FILE`].
const KEY: &str = "crenel.language";
const FROM_FILE: &str = "file";

/// Where the file of a language is kept.
const FILE: &str = "crenel.language.file";

/// The longest file of a language, characters. Beside the works that are kept it fits into the smallest store.
const LONGEST: usize = 450_000;

thread_local! {
    static LANGUAGE: Cell<Language> = const { Cell::new(Language::British) };
    static LOADED: OnceCell<Option<&'static Dictionary>> = const { OnceCell::new() };
}

/// The languages that are always there, each with its name.
const ENGLISHES: [(Language, &str); 2] =
    [(Language::British, "English (UK)"), (Language::American, "English (US)")];

/// The language of the page.
pub(crate) fn language() -> Language {
    LANGUAGE.get()
}

/// The languages to choose from, each with its name.
pub(crate) fn languages() -> Vec<(Language, &'static str)> {
    let from_file = loaded().map(|file| (Language::Loaded(file), file.name()));
    ENGLISHES.into_iter().chain(from_file).collect()
}

/// The language whose file is kept in this browser. It stays in memory as long as the page.
fn loaded() -> Option<&'static Dictionary> {
    let read = || {
        let file = Dictionary::read(&Store::Browser.get(FILE)?).ok()?;
        Some(&*Box::leak(Box::new(file)))
    };
    LOADED.with(|loaded| *loaded.get_or_init(read))
}

/// Does something once the language of the page is known: the one that was chosen by hand, or that suits the browser.
pub(crate) fn with_language(begin: impl FnOnce() + 'static) {
    if Store::Browser.get(KEY).as_deref() != Some(FROM_FILE) {
        begin_language();
        return begin();
    }
    spawn_local(async move {
        // Without the code that reads it, the page is in a language that it has.
        let _ = load_file().await;
        begin_language();
        begin();
    });
}

#[wasm_split(keeping, wasm_split_path = leptos::wasm_split, fallible)]
fn load_file() -> Result<(), SplitLoaderError> {
    loaded();
    Ok(())
}

fn begin_language() {
    let chosen = match Store::Browser.get(KEY).as_deref() {
        Some(FROM_FILE) => LOADED.with(|file| file.get().copied().flatten()).map(Language::Loaded),
        tag => ENGLISHES.map(|(one, _)| one).into_iter().find(|one| tag == Some(one.tag())),
    };
    let suiting = || {
        let tags = window().navigator().languages();
        let tags: Vec<_> = tags.iter().filter_map(|tag| tag.as_string()).collect();
        Language::suiting(tags.iter().map(String::as_str))
    };
    let language = chosen.unwrap_or_else(suiting);
    LANGUAGE.set(language);
    // A page without an element cannot be read in any language.
    if let Some(root) = window().document().and_then(|document| document.document_element()) {
        let _ = root.set_attribute("lang", language.tag());
    }
}

/// Keeps the language that was chosen by hand, and opens the page in it. In a browser that stores nothing the page
/// stays as it is.
pub(crate) fn choose_language(language: Language) {
    let choice = if matches!(language, Language::Loaded(_)) { FROM_FILE } else { language.tag() };
    if language != self::language() && Store::Browser.put(KEY, choice).is_ok() {
        open_page_again();
    }
}

/// Keeps the file of a language, and opens the page in that language.
///
/// # Errors
/// Why the file is not opened. The language is unchanged.
pub(crate) fn open_language(file: &str) -> Result<(), Message> {
    if file.encode_utf16().count() > LONGEST {
        return Err(say::language_too_long(LONGEST));
    }
    Dictionary::read(file).map_err(|why| match why {
        DictionaryError::Missing(key) => say::language_lacks(key.to_owned()),
        DictionaryError::NoText(key) => say::language_text_is_none(key),
    })?;
    let kept = Store::Browser.put(FILE, file).and_then(|()| Store::Browser.put(KEY, FROM_FILE));
    kept.map_err(|_| say::language_not_kept())?;
    open_page_again();
    Ok(())
}

/// Removes the file of a language, and opens the page again.
pub(crate) fn remove_language() {
    Store::Browser.remove(FILE);
    open_page_again();
}

fn open_page_again() {
    // Fails only if the page is gone.
    let _ = window().location().reload();
}

/// Words in the language of the page, their numbers in mm and decimal degrees.
#[expect(clippy::needless_pass_by_value, reason = "a call names the sentence and nothing else")]
pub(crate) fn here(words: impl Words) -> Cow<'static, str> {
    words.words(reader_here())
}

/// Not inlined: every label of the page comes by here.
#[inline(never)]
fn reader_here() -> Reader {
    Reader { language: language(), ..Reader::default() }
}
