//! What invented designs came to, number by number: it changes only where somebody means it to.
//!
//! `tests/fixtures/kept` has the numbers of the drawings and of the report for each design. Words are
//! left out but for a sum of those on drawings. `CRENEL_ACCEPT=1 cargo test --test kept` writes all anew;
//! look at what differs, and at the drawings themselves, before you commit it.

mod drawings;
mod figures;

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use crenel::analysis::Analysis;
use crenel::design::{Design, gallery};
use crenel::units::Quantity;

/// A plan, worn dogs, everything between foot and dogs, and a gearbox.
const DRAWN: [&str; 4] = ["cut-down", "worn-measured", "kicks-back", "wide-first-step"];

/// What to do where a difference is meant.
const ACCEPT: &str = "If it is meant: CRENEL_ACCEPT=1 cargo test --test kept";

/// A number with three decimals, without a minus before nothing.
fn short(number: f64) -> String {
    let text = format!("{number:.3}");
    if text.trim_start_matches(['-', '0', '.']).is_empty() { "0.000".to_owned() } else { text }
}

fn design(key: &str) -> Design {
    let exhibit = gallery().iter().find(|exhibit| exhibit.key == key);
    exhibit.unwrap_or_else(|| panic!("{key} is missing")).design()
}

/// Compares line by line with what is kept in a file, or keeps it.
fn compare(name: &str, now: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/kept");
    let file = folder.join(format!("{name}.txt"));
    if std::env::var_os("CRENEL_ACCEPT").is_some() {
        fs::create_dir_all(&folder).expect("the folder can be made");
        fs::write(&file, now).expect("the file can be written");
    }
    let kept = fs::read_to_string(&file).unwrap_or_default().replace('\r', "");
    let mut heading = "";
    for (was, is) in kept.lines().zip(now.lines()) {
        heading = if is.starts_with(' ') { heading } else { is };
        assert_eq!(was, is, "{name}, {heading}: what is kept, and what is now. {ACCEPT}");
    }
    let lines = [&kept, now].map(|text| text.lines().count());
    assert_eq!(lines[0], lines[1], "{name}: lines that are kept, and lines now. {ACCEPT}");
}

#[test]
fn drawings_show_what_they_showed() {
    for key in DRAWN {
        compare(&format!("{key}-drawings"), &drawings::drawn(&Analysis::of(&design(key))));
    }
}

/// Each number of a design made smaller or larger in turn: a sum of all that the drawings then show.
#[test]
fn drawings_of_changed_numbers_show_what_they_showed() {
    for key in DRAWN.into_iter().chain(["cramped-linkage", "claw-overthrows", "five-on-five"]) {
        let given = design(key);
        let mut text = String::new();
        for slot in given.slots() {
            let Some(value) = given.get(slot) else { continue };
            let field = slot.field().spec();
            for share in [-0.2, 0.3] {
                let by =
                    if value == 0.0 { 10.0 * share * field.coarse } else { share * value.abs() };
                let whole = field.quantity == Quantity::Count;
                let changed = if whole { (value + by).round() } else { value + by };
                let changed = changed.clamp(field.min, field.max);
                let mut design = given.clone();
                design.set(slot, changed);
                let sum = drawings::sum(&[drawings::quick(&Analysis::of(&design))]);
                writeln!(text, "{slot:?} {changed:.6}: {sum}").expect("a text takes all");
            }
        }
        compare(&format!("{key}-changed"), &text);
    }
}

#[test]
fn reports_say_what_they_said() {
    for exhibit in gallery() {
        let analysis = Analysis::of(&exhibit.design());
        compare(&format!("{}-report", exhibit.key), &figures::told(&analysis));
    }
}
