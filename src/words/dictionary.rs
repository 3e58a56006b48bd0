//! A language other than English, as a file.

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;

use crenel_geometry::units::map_of;
use serde_json::Value;

/// The texts of a language by their keys.
#[derive(Debug, PartialEq, Eq)]
pub struct Dictionary {
    tag: String,
    name: String,
    texts: BTreeMap<String, String>,
}

/// Why a file is no dictionary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DictionaryError {
    /// It is not JSON, or has no text under this key.
    Missing(&'static str),
    /// The text under this key is not a string.
    NoText(String),
}

impl fmt::Display for DictionaryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing(key) => write!(f, "the language file has no \"{key}\""),
            Self::NoText(key) => write!(f, "\"{key}\" in the language file is not text"),
        }
    }
}

impl Error for DictionaryError {}

impl Dictionary {
    /// The form of a file, with these texts by their keys.
    pub fn file(tag: &str, name: &str, texts: impl IntoIterator<Item = (String, String)>) -> Value {
        let texts: serde_json::Map<_, _> =
            texts.into_iter().map(|(key, text)| (key, Value::String(text))).collect();
        serde_json::json!({ "tag": tag, "name": name, "texts": texts })
    }

    /// Reads `{ "tag": "…", "name": "…", "texts": { key: text } }`. Texts are written as those of the
    /// catalogue; keys that the catalogue does not have are kept and never asked for.
    ///
    /// # Errors
    ///
    /// If the file is not of that form.
    pub fn read(json: &str) -> Result<Self, DictionaryError> {
        let file: Value = serde_json::from_str(json).unwrap_or_default();
        let text = |key: &'static str| {
            let text = file.get(key).and_then(Value::as_str);
            text.map(str::to_owned).ok_or(DictionaryError::Missing(key))
        };
        let (tag, name) = (text("tag")?, text("name")?);
        let texts = file.get("texts").and_then(Value::as_object);
        let texts = texts.ok_or(DictionaryError::Missing("texts"))?.iter().map(|(key, text)| {
            let text = text.as_str().ok_or_else(|| DictionaryError::NoText(key.clone()))?;
            Ok((key.clone(), text.to_owned()))
        });
        let texts: Vec<_> = texts.collect::<Result<_, _>>()?;
        Ok(Self { tag, name, texts: map_of(texts) })
    }

    /// The tag of the language after BCP 47.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// The name of the language in that language.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The text of a key; `None` where the language has none.
    pub fn text(&self, key: &str) -> Option<&str> {
        self.texts.get(key).map(String::as_str)
    }
}
