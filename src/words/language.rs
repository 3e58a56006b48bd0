//! Who reads: the language and the units.

use crenel_geometry::units::DisplayUnits;

use crate::dictionary::Dictionary;

/// The language of the reader.
///
/// Both Englishes are in the catalogue itself. Any other language is a file that is loaded on demand; a
/// text that it does not have is shown in British English.
#[derive(Clone, Copy, Debug, Default)]
pub enum Language {
    /// English as in Britain: tyre, centre, overrun.
    #[default]
    British,
    /// English as in the United States: tire, center, coast.
    American,
    /// A language that was loaded, and stays for as long as the program runs.
    Loaded(&'static Dictionary),
}

impl Language {
    /// The tag of the language after BCP 47.
    ///
    /// ```
    /// assert_eq!(crenel_words::Language::American.tag(), "en-US");
    /// ```
    pub fn tag(self) -> &'static str {
        match self {
            Self::British => "en-GB",
            Self::American => "en-US",
            Self::Loaded(dictionary) => dictionary.tag(),
        }
    }

    /// The English that suits a list of language tags, the most wanted first, as a browser gives it.
    ///
    /// ```
    /// use crenel_words::Language;
    /// assert_eq!(Language::suiting(["de-AT", "en-US", "en"]).tag(), "en-US");
    /// assert_eq!(Language::suiting(["en-NZ"]).tag(), "en-GB");
    /// ```
    pub fn suiting<'a>(tags: impl IntoIterator<Item = &'a str>) -> Self {
        let english = |tag: &&str| tag.get(..2).is_some_and(|tag| tag.eq_ignore_ascii_case("en"));
        let first = tags.into_iter().find(english);
        // Spellings of the United States are those of the Philippines and of Liberia, too.
        let american = ["en-US", "en-PH", "en-LR"];
        let is_american =
            first.is_some_and(|tag| american.iter().any(|one| one.eq_ignore_ascii_case(tag)));
        if is_american { Self::American } else { Self::British }
    }
}

impl PartialEq for Language {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Loaded(one), Self::Loaded(other)) => one == other,
            _ => core::mem::discriminant(self) == core::mem::discriminant(other),
        }
    }
}

impl Eq for Language {}

/// The reader of a sentence.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reader {
    /// The units in which lengths and angles are shown.
    pub units: DisplayUnits,
    /// The language of the words.
    pub language: Language,
}
