//! The corpus that the fuzzers left, tried again on every run of the tests.
//!
//! Each file in `fuzz/corpus` is an input that once reached code that no other did, or broke it.

mod checks;

use std::path::Path;

/// Tries every kept input of a target. Says how many there are.
fn replay(target: &str, check: fn(&[u8])) -> usize {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus").join(target);
    let files = std::fs::read_dir(&folder).expect("the corpus is there");
    let mut seen = 0;
    for file in files {
        let path = file.expect("it can be listed").path();
        let bytes = std::fs::read(&path).expect("it can be read");
        // What fails is named: the check itself does not know the file.
        let told = std::panic::catch_unwind(|| check(&bytes));
        assert!(told.is_ok(), "{} fails", path.display());
        seen += 1;
    }
    seen
}

#[test]
fn every_kept_link_is_read_or_refused() {
    assert!(replay("link", checks::link) >= 20);
}

#[test]
fn every_kept_file_is_read_or_refused() {
    assert!(replay("file", checks::file) >= 20);
}

#[test]
fn every_kept_number_is_read_or_refused() {
    assert!(replay("number", checks::number) >= 20);
}
