//! Every text of the program by its key: what a translator translates.

use crenel_words::{CATALOGUE, Dictionary, Label, Text, map_words};
use serde_json::Value;

use crate::design::{PRESETS, START_RINGS, SYMPTOMS, WORKS, gallery};
use crate::draw::views::VIEWS;
use crate::fields::FIELDS;
use crate::figures::catalogue;
use crate::glossary::TERMS;

/// Key and English of every text, with both spellings where they differ. The notation is that of
/// [`crenel_words`].
///
/// ```
/// let all: Vec<_> = crenel::texts::all().collect();
/// assert!(all.contains(&("field.overlap_mm.label".to_owned(), "Overlap in gear")));
/// assert!(all.iter().any(|(key, _)| key == "finding.no_dogs.next"));
/// ```
pub fn all() -> impl Iterator<Item = (String, &'static str)> {
    let sentences = sentences().map(|text| (text.key.to_owned(), text.english));
    sentences.chain(labels().map(|label| (label.key.join("."), label.english)))
}

/// The sentences of the catalogue.
pub fn sentences() -> impl Iterator<Item = &'static Text> {
    let entries = CATALOGUE.iter().copied().flatten();
    entries.flat_map(|entry| [entry.text].into_iter().chain(entry.next))
}

/// The texts in the rows of tables.
pub fn labels() -> impl Iterator<Item = Label> {
    let inputs = FIELDS.iter().flat_map(|field| [field.name(), field.explanation()]);
    let figures = catalogue().flat_map(|f| [f.name(), f.what_it_is(), f.how(), f.from_where()]);
    let terms = TERMS
        .iter()
        .flat_map(|term| [term.word(), term.explanation()].into_iter().chain(term.synonyms()));
    let works = WORKS.iter().map(|work| work.label());
    let views = VIEWS.iter().flat_map(|view| [view.name(), view.what_it_shows()]);
    let presets = PRESETS.into_iter().flatten().flat_map(|row| [row.name(), row.from_where()]);
    let starts = START_RINGS.iter().flat_map(|row| [row.name(), row.explanation()]);
    let symptoms = SYMPTOMS.iter().flat_map(|symptom| [symptom.label(), symptom.synonyms()]);
    let examples = gallery().iter().flat_map(|example| [example.name(), example.story()]);
    let tables = works.chain(views).chain(presets).chain(starts).chain(symptoms).chain(examples);
    inputs.chain(figures).chain(terms).chain(tables)
}

/// A language that nobody speaks, as a language file: every word with accents and 40 % longer, so that labels that
/// are cut, and texts that are not in the catalogue, are seen.
pub fn longer() -> Value {
    let texts = all().map(|(key, text)| (key, map_words(text, &lengthened)));
    Dictionary::file("en-XA", &lengthened("Longer"), texts)
}

/// The letters of English, and one with an accent for each.
const LETTERS: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
const ACCENTED: &str = "áƀçðéƒĝĥíĵķĺɱñóþɋŕšťúṽŵẋýžÁƁÇÐÉƑĜĤÍĴĶĹṀÑÓÞɊŔŠŤÚṼŴẊÝŽ";

/// The words with accents; every second letter is written twice, which makes a text 40 % longer.
fn lengthened(words: &str) -> String {
    let mut letters = 0;
    let mut out = String::new();
    for letter in words.chars() {
        let accented = LETTERS.chars().zip(ACCENTED.chars()).find(|(plain, _)| *plain == letter);
        out.push(accented.map_or(letter, |(_, accented)| accented));
        if let Some((_, accented)) = accented {
            if letters % 2 == 0 {
                out.extend(accented.to_lowercase());
            }
            letters += 1;
        }
    }
    out
}
