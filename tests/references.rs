//! The list of references is whole, and names nothing that the program does not use.

use std::fs::{read_dir, read_to_string};
use std::path::Path;

use crenel::references::{REFERENCES, list_of_references};
use crenel::texts;

/// Names that a text cites a source by, besides the numbers of standards.
const AUTHORS: [&str; 6] = ["Dudley", "Gere,", "Uicker", "FEPA", "DIN ", "Shigley"];

/// What a text cites: standards with their numbers, and authors.
fn cited(text: &str) -> Vec<String> {
    let standards = text.match_indices("ISO ").filter_map(|(at, _)| {
        let number: String = text[at + 4..].chars().take_while(char::is_ascii_digit).collect();
        (!number.is_empty()).then(|| format!("ISO {number}"))
    });
    let authors = AUTHORS.iter().filter(|author| text.contains(**author));
    standards.chain(authors.map(|author| (*author).to_owned())).collect()
}

#[test]
fn every_source_that_a_text_cites_is_on_the_list() {
    for (key, text) in texts::all() {
        for source in cited(text) {
            let is_there = REFERENCES.iter().any(|r| r.full.contains(source.trim()));
            assert!(is_there, "{source} of {key}");
        }
    }
}

#[test]
fn every_source_on_the_list_is_used() {
    let mut sources = String::new();
    read_all(Path::new("src"), &mut sources);
    for reference in &REFERENCES {
        assert!(sources.contains(reference.cites), "{}", reference.cites);
    }
}

fn read_all(folder: &Path, all: &mut String) {
    for entry in read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            read_all(&path, all);
        } else if path.extension().is_some_and(|e| e == "rs") && !path.ends_with("references.rs") {
            *all += &read_to_string(&path).expect("a source");
        }
    }
}

#[test]
fn the_list_is_in_order_and_links_to_pages_that_stay() {
    let stays = ["https://www.iso.org/standard/", "https://doi.org/10."];
    for reference in &REFERENCES {
        let address = reference.address.unwrap_or(stays[0]);
        assert!(stays.iter().any(|begin| address.starts_with(begin)), "{address}");
    }
    let text = list_of_references();
    assert_eq!(text.lines().count(), REFERENCES.len());
    assert!(
        text.contains("ISO 21940-11:2016")
            && text.contains("https://www.iso.org/standard/54074.html")
    );
    let name = |text: &str| -> (String, u32) {
        let number = text.split([' ', '-']).find_map(|part| part.parse().ok());
        (text.split(' ').next().unwrap_or_default().to_lowercase(), number.unwrap_or(0))
    };
    assert!(REFERENCES.is_sorted_by_key(|reference| name(reference.cites)));
}
