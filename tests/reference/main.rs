//! Numbers that somebody else worked out: each check value that the core meets, row by row.
//!
//! A row gives a name, a source and its kind, the expected number and how far the computed one may be off: half a
//! unit of the last digit that the source prints. One module holds the rows of one subject. All rows
//! are tried and all failures are listed at once. The count is pinned, so that no row can get lost.
//! The page lists the rows from `www/checks.json`, so a name must tell a reader what is compared,
//! and in which unit.

mod blow;
mod designs;
mod drum;
mod gauging;
mod gearbox;
mod indexing;
mod load;
mod metal;
mod page;
mod row;
mod selector;
mod shift;
mod shop;
mod stack;
mod tolerance;
mod windows;

use std::collections::BTreeSet;

use row::{Kind, Row};

/// How many rows there are. Change it together with the rows.
const ROWS: usize = 272;

/// Every row, in the order in which the page lists them.
fn rows() -> Vec<Row> {
    let subjects = [
        windows::rows(),
        shift::rows(),
        gearbox::rows(),
        blow::rows(),
        load::rows(),
        metal::rows(),
        shop::rows(),
        indexing::rows(),
        gauging::rows(),
        stack::rows(),
        tolerance::rows(),
        selector::rows(),
        drum::rows(),
    ];
    subjects.into_iter().flatten().collect()
}

#[test]
fn every_reference_number_is_met() {
    let rows = rows();
    let failures: Vec<String> = rows.iter().filter_map(Row::failure).collect();
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
    println!("{} reference numbers checked", rows.len());
    assert_eq!(rows.len(), ROWS, "rows were added or lost");
}

#[test]
fn every_row_has_a_name_of_its_own_and_a_source() {
    let mut seen = BTreeSet::new();
    for Row { name, source, .. } in rows() {
        assert!(!name.contains(['_', '"']), "{name}: a key is not a name");
        assert!(!name.starts_with(char::is_lowercase), "{name}");
        assert!((8..=120).contains(&name.chars().count()), "{name}");
        let cited = source.cited;
        assert!(cited.len() > 8, "{name}: {cited}");
        // What nobody can look up is not called published.
        let vague = ["textbook", "exercise", "example", "catalogue", "memory", "no source"];
        let is_vague = vague.iter().any(|word| cited.contains(word));
        assert!(!(is_vague && source.kind == Kind::Published), "{name}: {cited}");
        let says_memory = cited.contains("from memory");
        assert_eq!(source.kind == Kind::FromMemory, says_memory, "{name}: {cited}");
        assert!(seen.insert(name.clone()), "{name} occurs twice");
    }
}
