//! Mutants drawn from the list that cargo-mutants makes of the core.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::embed::Change;
use crate::{Mutant, SAMPLE, mutant_kind, offset, path, unplaced};

const SEED: u64 = 14;

/// So many more are drawn than count, for those that do not compile.
const SPARE: usize = 80;

/// The same mutants for the same sources. Each has a rank by its name without line and column, so that
/// a change draws anew only among the mutants of what it touches.
///
/// # Errors
/// If cargo-mutants is not there or answers with something else than its list.
pub fn drawn(root: &Path) -> Result<Vec<Mutant>, String> {
    let listing =
        ["mutants", "--workspace", "--list", "--json", "-e", "src/app/**", "-e", "tools/**"];
    let output = Command::new("cargo").args(listing).current_dir(root).output();
    let output = output.map_err(|e| format!("cargo mutants does not start: {e}"))?;
    let list: Value = serde_json::from_slice(&output.stdout).map_err(|_| {
        format!("cargo mutants gives no list: {}", String::from_utf8_lossy(&output.stderr))
    })?;
    let list = list.as_array().ok_or("cargo mutants gives no list")?;
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut ranked: Vec<(u64, &Value)> = list
        .iter()
        .map(|m| {
            let name = unplaced(m["name"].as_str().unwrap_or_default());
            let alike = seen.entry(name.clone()).or_default();
            *alike += 1;
            (rank(&format!("{} {alike}", as_first_drawn(&name))), m)
        })
        .collect();
    ranked.sort_by_key(|(rank, _)| *rank);
    let drawn = ranked.into_iter().take(SAMPLE + SPARE);
    drawn.map(|(_, m)| mutant(root, m).ok_or_else(|| format!("cargo mutants lists {m}"))).collect()
}

/// Where files lay when the survivors were first looked at, the longest beginnings first.
///
/// Another name is another draw: without this, moving a file would draw anew among all that is in it.
const MOVED: [(&str, &str); 4] = [
    ("src/geometry/", "src/"),
    ("src/model/", "src/analysis/"),
    ("src/analysis.rs", "src/analysis/complete.rs"),
    ("src/design/symptom.rs", "src/diagnosis/symptom.rs"),
];

/// A name as it was when the survivors were first looked at, which had one colon for two.
fn as_first_drawn(name: &str) -> String {
    let moved = MOVED.iter().find_map(|(to, from)| Some((from, name.strip_prefix(to)?)));
    let name = moved.map_or_else(|| name.to_owned(), |(from, rest)| format!("{from}{rest}"));
    name.replace("::", ":")
}

/// A number that looks random, from a name and the seed: FNV-1a, stirred as splitmix64 does.
fn rank(name: &str) -> u64 {
    let mut z = name.bytes().fold(seed() ^ 0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// Another seed draws others, to see whether the tests were made for these alone.
fn seed() -> u64 {
    std::env::var("CRENEL_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(SEED)
}

fn mutant(root: &Path, m: &Value) -> Option<Mutant> {
    let (file, name) = (m["file"].as_str()?, m["name"].as_str()?);
    let replacement = m["replacement"].as_str()?;
    let text = std::fs::read_to_string(path(root, file)).ok()?;
    let at = |end: &str, key: &str| usize::try_from(m["span"][end][key].as_u64()?).ok();
    let (line, column) = (at("start", "line")?, at("start", "column")?);
    let range =
        offset(&text, line, column)..offset(&text, at("end", "line")?, at("end", "column")?);
    Some(Mutant {
        file: file.to_owned(),
        name: name.to_owned(),
        change: Change {
            id: 0,
            kind: mutant_kind(m["genre"].as_str()?, line, column, replacement),
        },
        range,
        replacement: replacement.to_owned(),
        is_ours: false,
    })
}
