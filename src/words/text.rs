//! A text of the catalogue.

/// A text with its key.
#[derive(Debug, PartialEq, Eq)]
pub struct Text {
    /// Its name in files, reports and other languages: subject, point, name.
    pub key: &'static str,
    /// Its English, with both spellings where they differ.
    pub english: &'static str,
}

/// A text and the names of the values that it is given.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    /// The text.
    pub text: &'static Text,
    /// The names of its values.
    pub given: &'static [&'static str],
    /// The text of the next thing to do, where it has one; it has the same values.
    pub next: Option<&'static Text>,
}
