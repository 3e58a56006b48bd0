//! The list of the rows on the page, `www/checks.json`.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::row::Row;
use super::rows;

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("www/checks.json")
}

/// The rows as the page reads them, one to a line. The computed numbers are left out: the page shows
/// what the core must meet.
fn listed(rows: &[Row]) -> String {
    let line = |row: &Row| {
        let [name, kind, source] = [row.name.as_str(), row.source.kind.word(), row.source.cited];
        let [name, kind, source] = [name, kind, source].map(|text| json!(text));
        let (expected, tolerance) = (row.expected_written(), row.tolerance);
        format!(
            r#"{{"name":{name},"kind":{kind},"source":{source},"expected":{expected},"tolerance":{tolerance}}}"#
        )
    };
    let lines: Vec<String> = rows.iter().map(line).collect();
    format!("[\n{}\n]\n", lines.join(",\n"))
}

#[test]
fn the_page_lists_these_rows() {
    let kept = std::fs::read_to_string(path()).expect("www/checks.json is there");
    let same = kept == listed(&rows());
    assert!(same, "run: cargo test --test reference write_the_page_list -- --ignored");
}

#[test]
#[ignore = "writes www/checks.json"]
fn write_the_page_list() {
    std::fs::write(path(), listed(&rows())).expect("it is written");
}
