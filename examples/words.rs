//! Prints every text as a language file, for a translator.
//!
//! `cargo run --example words [-- --longer]`
//!
//! The file is JSON: `tag` is the tag of the language after BCP 47, `name` its name in that language, and
//! `texts` has the English of every text by its key. The notation is described at the top of
//! `src/words/lib.rs`; `[tyre|tire]` is British and American English, of which a translation keeps one word.
//! A text that the file lacks is shown in English. Under Help the page opens the file.
//!
//! `--longer` prints a language that nobody speaks: every word with accents and 40 % longer, so that labels
//! that are cut, and texts that are not in the catalogue, are seen on the page.

mod shell;

use std::process::ExitCode;

use crenel::texts;
use crenel_words::{Dictionary, map_words};

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(arguments: &[String]) -> Result<String, String> {
    let words: Vec<_> = arguments.iter().map(String::as_str).collect();
    let english = texts::all();
    let file = match words.as_slice() {
        [] => Dictionary::file(
            "und",
            "Name of the language",
            english.map(|(key, text)| (key, text.into())),
        ),
        ["--longer"] => {
            let longer = english.map(|(key, text)| (key, map_words(text, &longer)));
            Dictionary::file("en-XA", &self::longer("Longer"), longer)
        }
        _ => return Err("Say nothing, or --longer.".to_owned()),
    };
    Ok(format!("{file:#}\n"))
}

/// The letters of English, and one with an accent for each.
const LETTERS: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
const ACCENTED: &str = "áƀçðéƒĝĥíĵķĺɱñóþɋŕšťúṽŵẋýžÁƁÇÐÉƑĜĤÍĴĶĹṀÑÓÞɊŔŠŤÚṼŴẊÝŽ";

/// The words with accents; every second letter is written twice, which makes a text 40 % longer.
fn longer(words: &str) -> String {
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
