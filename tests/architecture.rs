//! The direction of dependence, read off the sources.

use std::fs;
use std::path::{Path, PathBuf};

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the folder is there");
    let paths = entries.map(|e| e.expect("it can be read").path());
    // A module of tests in a file of its own leans on what it tries.
    let code = paths.filter(|p| !p.ends_with("tests.rs"));
    code.flat_map(|p| if p.is_dir() { sources(&p) } else { vec![p] }).collect()
}

/// Every source file with its path below `src`, `/` between folders.
fn all() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let name = |p: &Path| {
        let below = p.strip_prefix(&root).expect("below src");
        below.to_string_lossy().replace('\\', "/")
    };
    let rust = |p: &&PathBuf| p.extension().is_some_and(|end| end == "rs");
    sources(&root)
        .iter()
        .filter(rust)
        .map(|p| (name(p), fs::read_to_string(p).expect("text")))
        .collect()
}

/// Code without tests and comments: what a module really leans on.
fn code(text: &str) -> String {
    let body = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = body.lines().filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn arrows_point_one_way() {
    // Folder, and the words that must not stand in it, with the reason.
    let rules: &[(&str, &[&str], &str)] = &[
        (
            "",
            &["leptos", "web_sys", "gloo", "wasm_bindgen", "js_sys"],
            "only the app knows a browser",
        ),
        (
            "",
            &["std::fs", "std::time", "SystemTime", "std::env"],
            "the core knows no files and no clock",
        ),
        ("geometry/units", &["crate::ring", "crate::pair", "crate::design"], "units come first"),
        (
            "geometry/ring",
            &["crate::pair", "crate::shift", "crate::design", "crate::report"],
            "a ring knows no pair",
        ),
        (
            "geometry/solid",
            &[
                "crate::pair",
                "crate::shift",
                "crate::load",
                "crate::design",
                "crate::report",
                "crate::draw",
            ],
            "a solid knows one ring",
        ),
        (
            "geometry/pair",
            &["crate::design", "crate::report", "crate::draw", "crate::shift"],
            "a pair knows no design",
        ),
        (
            "geometry/shift",
            &["crate::design", "crate::report", "crate::draw"],
            "travel knows no design",
        ),
        (
            "geometry/load",
            &["crate::design", "crate::report", "crate::draw", "crate::pair"],
            "a load knows no pair",
        ),
        (
            "geometry/shop",
            &["crate::ring", "crate::pair", "crate::design", "crate::report", "crate::draw"],
            "the workshop works on plain numbers",
        ),
        (
            "design",
            &["crate::analysis", "crate::report", "crate::draw", "crate::export", "crate::pair"],
            "a design is only given",
        ),
        (
            "analysis",
            &["crate::figures", "crate::report", "crate::draw", "crate::export"],
            "numbers do not lean on what shows them",
        ),
        (
            "findings",
            &["crate::figures", "crate::report", "crate::draw", "crate::export"],
            "findings read what is worked out",
        ),
        (
            "figures",
            &["crate::report", "crate::draw", "crate::export"],
            "figures do not lean on what shows them",
        ),
        ("diagnosis", &["crate::draw", "crate::export"], "verdicts do not lean on drawings"),
        ("compare", &["crate::draw", "crate::export"], "comparisons do not lean on drawings"),
        ("rework", &["crate::report", "crate::draw", "crate::export"], "a plan knows no paper"),
        ("suggest", &["crate::report", "crate::draw", "crate::export"], "a cut knows no paper"),
        ("report", &["crate::draw", "crate::export"], "numbers do not lean on drawings"),
        (
            "draw",
            &["crate::export", "Mesh::new", "Analysis::of", "windows_at("],
            "drawings compute nothing",
        ),
        ("export", &["Mesh", "Analysis::of", "windows_at("], "exports compute nothing"),
    ];
    let mut seen = 0;
    let mut broken = Vec::new();
    for (file, text) in all() {
        let app = file.starts_with("app/");
        let code = code(&text);
        for (folder, words, reason) in rules {
            let inside = folder.is_empty() || file.starts_with(&format!("{folder}/"));
            if app || !inside {
                continue;
            }
            seen += 1;
            let found = words.iter().filter(|word| code.contains(**word));
            broken.extend(found.map(|word| format!("{file}: {word} – {reason}")));
        }
    }
    assert!(seen > 40, "the sources were not found");
    assert!(broken.is_empty(), "{broken:#?}");
}

#[test]
fn the_app_computes_nothing() {
    let formulas = ["libm::", ".tan()", ".sin()", ".cos()", "Mesh::", "Block", "Travel {"];
    let app = all().into_iter().filter(|(file, _)| file.starts_with("app/"));
    for (file, text) in app {
        for formula in formulas {
            assert!(!code(&text).contains(formula), "{file}: {formula}");
        }
    }
}

/// The names of the elements in a view: `<name`, where no type stands before it.
fn elements(code: &str) -> impl Iterator<Item = &str> {
    code.match_indices('<').filter_map(|(at, _)| {
        let before = code[..at].chars().next_back()?;
        let rest = &code[at + 1..];
        let end = rest.find(|c: char| !c.is_ascii_lowercase() && !c.is_ascii_digit())?;
        let stands = before.is_whitespace() || "{>(\"".contains(before);
        let closed = rest[end..].starts_with([' ', '\n', '>', '/']);
        (stands && closed && end > 0).then(|| &rest[..end])
    })
}

/// What the framework knows at compile time it sets as text, which the page's own policy looks through.
#[test]
fn the_page_lets_in_every_element_that_the_app_writes() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/index.html");
    let page = fs::read_to_string(page).expect("text");
    let list = page.split("const elements = \"").nth(1).expect("the page has a list");
    let list = list.split('"').next().unwrap_or_default().replace("h[1-6]", "h1|h2|h3|h4|h5|h6");
    let let_in: Vec<&str> = list.split('|').collect();
    let app = all().into_iter().filter(|(file, _)| file.starts_with("app/"));
    let mut seen = 0;
    for (file, text) in app {
        for name in elements(&code(&text)) {
            seen += 1;
            assert!(
                let_in.contains(&name),
                "{file}: <{name}> is not in the list of www/index.html"
            );
        }
    }
    assert!(seen > 500, "only {seen} elements were found");
}
