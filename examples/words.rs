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
use crenel_words::Dictionary;

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
        ["--longer"] => texts::longer(),
        _ => return Err("Give no argument, or --longer.".to_owned()),
    };
    Ok(format!("{file:#}\n"))
}
