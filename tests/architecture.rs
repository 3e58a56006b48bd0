//! The direction of dependence, read off the sources.

use std::fs;
use std::path::{Path, PathBuf};

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the folder is there");
    let paths = entries.map(|e| e.expect("it can be read").path());
    paths.flat_map(|p| if p.is_dir() { sources(&p) } else { vec![p] }).collect()
}

/// Every source file with its path below `src`, `/` between folders.
fn all() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let name = |p: &Path| {
        let below = p.strip_prefix(&root).expect("below src");
        below.to_string_lossy().replace('\\', "/")
    };
    sources(&root).iter().map(|p| (name(p), fs::read_to_string(p).expect("text"))).collect()
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
        ("units", &["crate::ring", "crate::pair", "crate::design"], "units come first"),
        (
            "ring",
            &["crate::pair", "crate::shift", "crate::design", "crate::report"],
            "a ring knows no pair",
        ),
        (
            "solid",
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
            "pair",
            &["crate::design", "crate::report", "crate::draw", "crate::shift"],
            "a pair knows no design",
        ),
        ("shift", &["crate::design", "crate::report", "crate::draw"], "travel knows no design"),
        (
            "load",
            &["crate::design", "crate::report", "crate::draw", "crate::pair"],
            "a load knows no pair",
        ),
        (
            "shop",
            &["crate::ring", "crate::pair", "crate::design", "crate::report", "crate::draw"],
            "the workshop works on plain numbers",
        ),
        (
            "design",
            &["crate::report", "crate::draw", "crate::export", "crate::pair"],
            "a design is only given",
        ),
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
        let app = file.starts_with("app/") || file == "main.rs";
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
