//! The catalogue of sentences, read as an editor would: every key used, every value named, no word that
//! the house does not use, and the hardest sentences printed.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crenel::texts::all;
use crenel_words::{CATALOGUE, Entry, Language, Reader, Text, map_words};

const BRITISH: Language = Language::British;
const AMERICAN: Language = Language::American;

/// Words and phrases that are wrong in meaning, read as translated, or have a better standard word.
const FORBIDDEN: [&str; 39] = [
    "reckon",
    "over-run",
    "half way",
    "half-way",
    "up-shift",
    "down-shift",
    "back-cut",
    "set against",
    "look at",
    "good to know",
    "take out",
    "take away",
    "given up",
    "is told",
    "stands apart",
    "stand apart",
    "comes to",
    "come to",
    "anew",
    "wish",
    "cramp",
    "dimension chain",
    "dead point",
    "picked up",
    " moment of a",
    "machine of",
    "dog places",
    "the star ",
    "valley",
    "lies bare",
    "stands at",
    "are allowed",
    "safe",
    "set up",
    // Areas under the names that they had.
    "fault finding",
    "under rings",
    "under rework",
    "under selector",
    "(rework",
];

fn entries() -> impl Iterator<Item = &'static Entry> {
    CATALOGUE.iter().copied().flatten()
}

fn texts() -> impl Iterator<Item = &'static Text> {
    crenel::texts::sentences()
}

/// A text as it is read where none of its values is given.
fn plain(text: &Text, language: Language) -> String {
    text.show(language).into_owned()
}

/// Reads every source below a folder, but for those of the catalogue itself.
fn each_source(folder: &Path, read: &mut impl FnMut(&str)) {
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() && !path.ends_with("src/words") {
            each_source(&path, read);
        } else if path.extension().is_some_and(|end| end == "rs") {
            read(&fs::read_to_string(&path).expect("a source"));
        }
    }
}

#[test]
fn every_key_is_there_once_and_used() {
    let keys: Vec<_> = all().map(|(key, _)| key).collect();
    assert_eq!(keys.iter().collect::<BTreeSet<_>>().len(), keys.len());
    let mut source = String::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    each_source(&root, &mut |one| source += one);
    let unused = entries().map(|entry| entry.text.key).filter(|key| {
        let name = key.rsplit('.').next().unwrap_or_default();
        let ends = |at: usize| {
            let after = source[at + name.len()..].chars().next();
            !after.is_some_and(|c| c.is_alphanumeric() || c == '_')
        };
        let called = |module: &str| {
            let call = format!("{module}::{name}");
            source.match_indices(&call).any(|(at, _)| ends(at + module.len() + 2))
        };
        let subject = key.rsplit('.').nth(1).unwrap_or_default();
        !called("say") && !called(subject)
    });
    assert_eq!(unused.collect::<Vec<_>>(), Vec::<&str>::new());
}

#[test]
fn every_value_that_is_given_is_named_and_every_name_is_given() {
    for entry in entries() {
        let asked: BTreeSet<_> =
            [entry.text].into_iter().chain(entry.next).flat_map(Text::asks_for).collect();
        let given: BTreeSet<_> = entry.given.iter().copied().collect();
        let needless: Vec<_> = given.difference(&asked).collect();
        let missing: Vec<_> = asked.difference(&given).collect();
        assert!(missing.is_empty(), "{}: {missing:?}", entry.text.key);
        // A value may also serve a program that reads the report.
        assert!(needless.len() <= 1, "{}: {needless:?}", entry.text.key);
    }
}

#[test]
fn every_finding_is_a_sentence_with_a_next_step() {
    for entry in entries().filter(|entry| entry.text.key.starts_with("finding.")) {
        let next = entry.next.expect("a finding has a next step");
        for text in [entry.text, next] {
            assert!(text.english.ends_with(['.', '}']), "{}", text.key);
            assert!(!text.english.contains("  "), "{}", text.key);
        }
        assert!(next.english.len() <= 260, "{} is too long", next.key);
    }
}

#[test]
fn no_word_is_used_that_the_house_does_not_use() {
    let mut wrong = Vec::new();
    // A synonym is there for somebody who looks for the old word.
    for (key, english) in all().filter(|(key, _)| !key.ends_with(".also")) {
        let lower = english.to_lowercase();
        let found = FORBIDDEN.into_iter().filter(|word| lower.contains(word));
        wrong.extend(found.map(|word| format!("{key}: “{word}” in “{english}”")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn words_that_are_spelled_in_two_ways_are_written_in_both() {
    let pairs = [
        ("centre", "center"),
        ("tyre", "tire"),
        ("colour", "color"),
        ("overrun", "coast"),
        ("grey", "gray"),
        ("aluminium", "aluminum"),
        ("millimetre", "millimeter"),
        ("millimetres", "millimeters"),
    ];
    let sentences =
        texts().map(|text| (text.key.to_owned(), [text.show(BRITISH), text.show(AMERICAN)]));
    // A synonym is what somebody of the other country says.
    let labels = crenel::texts::labels()
        .filter(|label| label.key[2] != "also")
        .map(|label| (label.key.join("."), [label.show(BRITISH), label.show(AMERICAN)]));
    for (key, both) in sentences.chain(labels) {
        let [british, american] = both.map(|text| text.to_lowercase());
        for (here, there) in pairs {
            let spelled = american.split(|c: char| !c.is_alphabetic()).any(|word| word == here);
            assert!(
                !spelled
                    || here == "overrun" && (american.contains('{') || key.starts_with("term.")),
                "{key}: {american}"
            );
            if there != "coast" {
                assert!(!british.contains(there), "{key}: {british}");
            }
        }
    }
}

/// How hard a sentence is to read: the grade of Kincaid's formula (Kincaid and others 1975, Derivation of
/// New Readability Formulas, Navy Research Branch Report 8-75, page 14).
fn grade(text: &str) -> f64 {
    let words: Vec<&str> =
        text.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).collect();
    let sentences = text.matches(['.', ':', ';']).count().max(1);
    let vowels = |word: &&str| {
        let is_vowel = |c: char| "aeiouyAEIOUY".contains(c);
        let starts = word.chars().fold((0, false), |(count, before), c| {
            (count + usize::from(is_vowel(c) && !before), is_vowel(c))
        });
        starts.0.max(1)
    };
    let syllables: usize = words.iter().map(vowels).sum();
    #[expect(clippy::cast_precision_loss, reason = "few")]
    let [words, sentences, syllables] = [words.len(), sentences, syllables].map(|n| n as f64);
    0.39 * words / sentences + 11.8 * syllables / words.max(1.0) - 15.59
}

#[test]
fn the_hardest_sentences_are_within_reach() {
    // The formula is made for sentences; a label has up to four words.
    let sentences = texts().filter(|text| text.english.split_whitespace().count() > 4);
    let mut all: Vec<_> =
        sentences.map(|text| (grade(&plain(text, Language::British)), text)).collect();
    all.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    for (grade, text) in all.iter().take(10) {
        println!("{grade:.1} {}: {}", text.key, plain(text, Language::British));
    }
    assert!(all[0].0 < 22.0, "{:.1} {}", all[0].0, all[0].1.key);
}

// ---- how long a text may be where it stands ----

/// A text at its longest: of a choice its longest case, and for a value as many letters as most have.
fn longest(text: &str) -> usize {
    const VALUE: usize = 7;
    let mut length = 0;
    let mut rest = text;
    while let Some(at) = rest.find(['{', '[']) {
        length += rest[..at].chars().count();
        let (inside, after) = bracket(&rest[at..]);
        length += if rest[at..].starts_with('[') {
            inside.split('|').map(longest).max().unwrap_or_default()
        } else {
            cases(inside).into_iter().map(longest).max().unwrap_or(VALUE)
        };
        rest = after;
    }
    length + rest.chars().count()
}

/// What is in the bracket that a text begins with, and what follows it.
fn bracket(text: &str) -> (&str, &str) {
    let mut depth = 0;
    for (at, letter) in text.char_indices() {
        depth += i32::from(matches!(letter, '{' | '[')) - i32::from(matches!(letter, '}' | ']'));
        if depth == 0 {
            return (&text[1..at], &text[at + 1..]);
        }
    }
    (&text[1..], "")
}

/// The texts of a choice or a plural; none where the value is written as it is.
fn cases(inside: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let Some(mut rest) = inside.splitn(3, ',').nth(2) else { return found };
    while let Some(at) = rest.find('{') {
        let (text, after) = bracket(&rest[at..]);
        found.push(text);
        rest = after;
    }
    found
}

/// The keys of the texts on buttons and tabs, as the sources of the page put them there.
fn on_buttons() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/app");
    each_source(&root, &mut |source| {
        let own = source.split("as say").next().and_then(|before| {
            let name =
                before.trim_end().rsplit(|c: char| !(c.is_alphanumeric() || c == '_')).next();
            source.contains("as say").then(|| name.unwrap_or_default().to_owned())
        });
        for button in source.split("<button").skip(1) {
            let inside = button.split("</button>").next().unwrap_or_default();
            for call in inside.split("{here(").skip(1) {
                let name = call.split([')', '(', '.']).next().unwrap_or_default();
                if let Some((subject, name)) = name.split_once("::") {
                    let subject = if subject == "say" { own.as_deref() } else { Some(subject) };
                    found.extend(subject.map(|subject| format!("page.{subject}.{name}")));
                }
            }
        }
    });
    found
}

/// A place, whether a key belongs there, and the letters that it has room for in the narrowest layout.
type Room<'a> = (&'a str, Box<dyn Fn(&str) -> bool + 'a>, usize);

#[test]
fn every_text_fits_its_place() {
    let buttons = on_buttons();
    assert!(buttons.len() > 60, "only {} buttons were found", buttons.len());
    let row = |kind: &'static str, part: &'static str| {
        Box::new(move |key: &str| key.starts_with(kind) && key.ends_with(part))
    };
    let rooms: [Room; 12] = [
        ("tab", Box::new(|key| key.starts_with("page.") && key.ends_with(".title")), 16),
        ("button", Box::new(|key| buttons.contains(key)), 32),
        ("label of a field", row("field.", ".label"), 40),
        ("label of a result", row("figure.", ".label"), 40),
        ("what a field means", row("field.", ".explain"), 190),
        ("formula", row("figure.", ".formula"), 115),
        ("source", row("figure.", ".source"), 195),
        ("name of a work", row("work.", ".name"), 40),
        ("title of a view", row("view.", ".title"), 24),
        ("symptom", row("symptom.", ".words"), 60),
        ("finding", Box::new(|key| key.starts_with("finding.") && !key.ends_with(".next")), 190),
        ("next step", Box::new(|key| key.starts_with("finding.") && key.ends_with(".next")), 170),
    ];
    let mut wrong = Vec::new();
    for (place, belongs, most) in &rooms {
        let here: Vec<_> = all().filter(|(key, _)| belongs(key)).collect();
        assert!(here.len() > 4, "{place}: hardly a text belongs there");
        let long = here.iter().filter(|(_, text)| longest(text) > *most);
        wrong.extend(
            long.map(|(key, text)| format!("{place}, {} of {most}: {key}: {text}", longest(text))),
        );
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_language_is_a_file_and_a_text_it_lacks_is_english() {
    let json = r#"{ "tag": "en-XA", "name": "Longer", "texts": { "finding.no_dogs": "[!! Ring {side} !!]" } }"#;
    let dictionary = crenel_words::Dictionary::read(json).expect("it is one");
    let language = Language::Loaded(Box::leak(Box::new(dictionary)));
    let reader = Reader { language, ..Reader::default() };
    let advice = crenel_words::finding::no_dogs(crenel::ring::Side::A);
    assert_eq!(advice.says.show(reader), "[!! Ring A !!]");
    assert_eq!(advice.next.show(reader), advice.next.show(Reader::default()));
    for wrong in ["", "{}", "[]", r#"{ "tag": "x", "name": "y", "texts": { "a": 1 } }"#] {
        assert!(crenel_words::Dictionary::read(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn the_words_of_every_text_can_be_told_from_its_notation() {
    for (key, english) in all() {
        assert_eq!(map_words(english, &str::to_owned), english, "{key}");
    }
}
