//! Faults of our own: each must make a test fail.

use std::path::Path;

use serde_json::Value;

use crate::embed::{Change, Kind};
use crate::{Mutant, path};

/// A list of objects: `file`, a `text` that is in it once, the `fault` that takes its place, and `what`
/// goes wrong then. An ordinary test of the core (`tests/faults.rs`) sees that each text is there.
const FAULTS: &str = include_str!("../faults.json");

/// The faults as changes of the tree.
///
/// # Errors
/// If a text does not stand in its file exactly once: the code moved on, and the fault must too.
pub fn listed(root: &Path) -> Result<Vec<Mutant>, String> {
    let list: Vec<Value> = serde_json::from_str(FAULTS).map_err(|e| format!("faults.json: {e}"))?;
    let mut lost = Vec::new();
    let mut mutants = Vec::new();
    for listed in &list {
        let [file, text, fault, what] =
            ["file", "text", "fault", "what"].map(|key| listed[key].as_str().unwrap_or_default());
        let source = std::fs::read_to_string(path(root, file)).unwrap_or_default();
        let found: Vec<usize> = source.match_indices(text).map(|(at, _)| at).collect();
        let [at] = found[..] else {
            let times = found.len();
            lost.push(format!(
                "{file}: “{text}” is there {times} times, not once: the fault “{what}” must follow the code."
            ));
            continue;
        };
        let range = at..at + text.len();
        let replacement = fault.to_owned();
        mutants.push(Mutant {
            file: file.to_owned(),
            name: format!("{file}: {what}"),
            change: Change {
                id: 0,
                kind: Kind::Fault { range: range.clone(), replacement: replacement.clone() },
            },
            range,
            replacement,
            is_ours: true,
        });
    }
    if lost.is_empty() { Ok(mutants) } else { Err(lost.join("\n")) }
}
