//! The glossary explains words that people really meet.

use std::fs;
use std::path::{Path, PathBuf};

use crenel::glossary::{TERMS, Term};

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the folder is there");
    let paths = entries.map(|entry| entry.expect("it can be read").path());
    paths.flat_map(|path| if path.is_dir() { sources(&path) } else { vec![path] }).collect()
}

/// What stands between quotes in the sources, but for the glossary itself, in lower case.
fn words_on_the_page() -> String {
    let files = sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
    let others = files.iter().filter(|path| !path.ends_with("src/glossary.rs"));
    let texts = others.map(|path| fs::read_to_string(path).expect("text"));
    let quoted = texts.flat_map(|text| {
        let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
        let code = code.collect::<Vec<_>>().join("\n");
        code.split('"').skip(1).step_by(2).map(str::to_lowercase).collect::<Vec<_>>()
    });
    quoted.collect::<Vec<_>>().join("\n")
}

/// Terms that the page only has as a part of its sentences.
const FORMS: [(&str, &str); 1] = [("dead [centre|center]", "rod and lever are in line")];

#[test]
fn every_term_stands_on_the_page() {
    let page = words_on_the_page();
    assert!(page.len() > 50_000, "the words were not found");
    let stands = |term: &Term| {
        term.also
            .split(", ")
            .filter(|word| !word.is_empty())
            .chain([term.name])
            .chain(FORMS.iter().filter(|(name, _)| *name == term.name).map(|(_, form)| *form))
            .any(|word| page.contains(&word.to_lowercase()))
    };
    let unused: Vec<_> = TERMS.iter().filter(|term| !stands(term)).map(|term| term.name).collect();
    assert!(unused.is_empty(), "explained, but on no page: {unused:?}");
}
