//! The direction of dependence, read off the sources.
//!
//! The crates hold the coarse arrows: geometry knows no design, and neither knows the app. What is held
//! here is finer: which folder may lean on which, that areas and views do not know each other, and that
//! no two folders and no two files lean on each other, however far round.

mod graph;
mod imports;
mod tokens;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crenel::diagnosis::{CHECKS, Check};
use graph::{Graph, circles};

/// For each folder, the folders of the same crate that its files may lean on. A file that is in none
/// counts as one. What is listed and not leaned on is an error, too, so that the list is the picture.
const MAY_LEAN_ON: &[(&str, &[&str])] = &[
    ("geometry/per", &[]),
    ("geometry/units", &[]),
    ("geometry/ring", &["geometry/per", "geometry/units"]),
    ("geometry/pair", &["geometry/units", "geometry/ring"]),
    ("geometry/solid", &["geometry/units", "geometry/ring"]),
    ("geometry/shift", &["geometry/units", "geometry/ring", "geometry/pair"]),
    ("geometry/gauging", &["geometry/ring"]),
    ("geometry/load", &[]),
    ("geometry/selector", &["geometry/per", "geometry/units", "geometry/ring"]),
    ("geometry/driveline", &[]),
    ("geometry/drum", &["geometry/selector"]),
    ("geometry/stack", &["geometry/per"]),
    ("geometry/shop", &["geometry/units"]),
    ("photo", &[]),
    ("words", &[]),
    ("fields", &[]),
    ("gauge", &[]),
    ("measure", &[]),
    ("finding", &["fields", "gauge"]),
    ("design", &["fields", "finding"]),
    ("model", &["fields", "finding", "design"]),
    ("limits", &["fields", "gauge", "design", "model"]),
    ("findings", &["fields", "gauge", "finding", "design", "model", "limits"]),
    ("analysis", &["finding", "design", "model", "findings"]),
    ("figures", &["fields", "gauge", "design", "model", "limits"]),
    ("diagnosis", &["fields", "finding", "design", "model", "gauge", "limits", "analysis"]),
    (
        "gearset",
        &["fields", "gauge", "finding", "design", "model", "limits", "analysis", "suggest"],
    ),
    ("glossary", &[]),
    ("references", &[]),
    ("find", &["fields", "design", "figures", "glossary"]),
    ("compare", &["finding", "design", "model", "analysis", "figures"]),
    ("suggest", &["fields", "finding", "design", "model", "analysis", "figures", "compare"]),
    (
        "verdict",
        &[
            "fields",
            "gauge",
            "limits",
            "finding",
            "design",
            "model",
            "analysis",
            "figures",
            "diagnosis",
            "gearset",
            "compare",
            "suggest",
        ],
    ),
    ("tolerance", &["fields", "design", "model", "analysis", "figures", "suggest"]),
    ("sweep", &["fields", "design", "model", "analysis", "figures"]),
    ("rework", &["design", "analysis", "tolerance"]),
    (
        "report",
        &[
            "fields",
            "finding",
            "design",
            "model",
            "analysis",
            "figures",
            "diagnosis",
            "verdict",
            "suggest",
            "rework",
            "limits",
            "gearset",
            "tolerance",
        ],
    ),
    (
        "draw",
        &[
            "fields", "finding", "design", "model", "analysis", "rework", "report", "limits",
            "gearset", "measure", "sweep",
        ],
    ),
    ("story", &["fields", "design", "model", "analysis", "figures", "draw"]),
    (
        "export",
        &[
            "finding", "model", "analysis", "figures", "compare", "report", "draw", "sweep",
            "gearset",
        ],
    ),
    ("texts", &["fields", "design", "draw", "figures", "glossary"]),
    ("app/dom", &[]),
    ("app/background", &[]),
    ("app/storage", &[]),
    ("app/deferred", &["app/dom"]),
    ("app/state", &["app/dom", "app/background", "app/storage"]),
    ("app/build", &[]),
    ("app/part", &["app/dom", "app/deferred", "app/state"]),
    (
        "app/widgets",
        &["app/dom", "app/background", "app/storage", "app/deferred", "app/part", "app/state"],
    ),
    (
        "app/areas",
        &["app/dom", "app/background", "app/deferred", "app/part", "app/state", "app/widgets"],
    ),
    ("app/page", &["app/dom", "app/deferred", "app/part", "app/state", "app/widgets", "app/areas"]),
];

/// The folder of a file as the list above has it, or the file itself where it lies in none.
fn folder(file: &str) -> &str {
    let below = file.strip_prefix("src/").unwrap_or(file);
    let inside = ["geometry/", "app/"].into_iter().find(|krate| below.starts_with(krate));
    let skip = inside.map_or(0, str::len);
    let end = below[skip..].find('/').map_or(below.len(), |at| skip + at);
    below[..end].trim_end_matches(".rs")
}

/// The crate that a file belongs to. Which crate leans on which is the compiler's to hold.
fn crate_of(file: &str) -> &str {
    let crates = ["src/geometry/", "src/photo/", "src/words/", "src/app/"];
    crates.into_iter().find(|folder| file.starts_with(folder)).unwrap_or("src/")
}

/// Whether a file only hands on what others define: the root of a crate.
fn is_root(file: &str) -> bool {
    let roots = ["geometry/lib.rs", "photo/lib.rs", "words/lib.rs", "app/main.rs", "lib.rs"];
    file.strip_prefix("src/").is_some_and(|file| roots.contains(&file))
}

#[test]
fn folders_lean_only_on_what_the_list_allows() {
    let graph = Graph::read();
    let mut leans: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for file in graph.files().filter(|file| !is_root(file)) {
        leans.entry(folder(file)).or_default();
    }
    for (from, to) in graph.edges() {
        let inside = crate_of(from) == crate_of(to) && folder(from) != folder(to);
        if inside && !is_root(from) && !is_root(to) {
            leans.entry(folder(from)).or_default().insert(folder(to));
        }
    }
    let allowed: BTreeMap<&str, BTreeSet<&str>> =
        MAY_LEAN_ON.iter().map(|(from, to)| (*from, to.iter().copied().collect())).collect();
    let none = BTreeSet::new();
    let mut wrong = Vec::new();
    for from in leans.keys().chain(allowed.keys()).collect::<BTreeSet<_>>() {
        let (is, may) = (leans.get(from), allowed.get(from));
        if is.is_none() != may.is_none() {
            wrong.push(format!("{from} is {}", if is.is_none() { "gone" } else { "not listed" }));
        }
        let (is, may) = (is.unwrap_or(&none), may.unwrap_or(&none));
        wrong.extend(is.difference(may).map(|to| format!("{from} leans on {to}")));
        wrong.extend(may.difference(is).map(|to| format!("{from} no longer leans on {to}")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_files_lean_on_each_other() {
    let graph = Graph::read();
    // A face hands on what its children define; a name behind it is followed to the child.
    let is_face = |file: &str| is_root(file) || file.ends_with("/mod.rs");
    let mut edges = graph.edges();
    edges.retain(|(from, to)| !is_face(from) && !is_face(to));
    assert!(edges.len() > 500, "only {} imports were found", edges.len());
    assert_eq!(circles(&edges), Vec::<Vec<&str>>::new());
}

#[test]
fn no_folders_lean_on_each_other() {
    let list = MAY_LEAN_ON.iter().flat_map(|(from, to)| to.iter().map(move |to| (*from, *to)));
    assert_eq!(circles(&list.collect()), Vec::<Vec<&str>>::new());
}

#[test]
fn paths_are_read_as_the_compiler_reads_them() {
    let source = r##"
        use super::{self, pair::{Mesh as Net, *}, units};
        pub(crate) use self::view::View;
        // use crate::comment;
        const TEXT: &str = r#"crate::text"#; const LETTER: char = '"';
        fn f<'a>(x: &'a str) -> crate::ring::Dog { x.a::<u8>(); units::Angle::ZERO }
        #[cfg(test)]
        mod tests { use crate::tests_only; }
        #[cfg(test)]
        mod more;
        use std::fmt;
    "##;
    let named = imports::named(&tokens::tokens(source));
    let imports = named.imports.iter().map(|i| format!("{} as {}", i.path.join("::"), i.alias));
    assert_eq!(
        imports.collect::<Vec<_>>(),
        [
            "super as super",
            "super::pair::Mesh as Net",
            "super::pair::* as *",
            "super::units as units",
            "self::view::View as View",
            "std::fmt as fmt",
        ]
    );
    let paths = named.paths.iter().map(|path| path.join("::"));
    assert_eq!(paths.collect::<Vec<_>>(), ["crate::ring::Dog", "units::Angle::ZERO"]);
}

#[test]
fn circles_are_found_however_far_round() {
    let edges =
        [("a", "b"), ("b", "c"), ("c", "a"), ("c", "d"), ("d", "e"), ("e", "d"), ("e", "f")];
    assert_eq!(circles(&edges.into()), [vec!["a", "b", "c"], vec!["d", "e"]]);
}

#[test]
fn a_name_is_followed_to_the_file_that_defines_it() {
    let graph = Graph::read();
    let edges = graph.edges();
    // By `pub use` through two faces and another crate; by `super`; by a path in place.
    for edge in [
        ("src/draw/views/face/mod.rs", "src/geometry/ring/dog.rs"),
        ("src/design/saved/read.rs", "src/design/saved/words.rs"),
        ("src/app/widgets/files.rs", "src/export/kind.rs"),
    ] {
        assert!(edges.contains(&edge), "{edge:?}");
    }
}

#[test]
fn areas_and_views_do_not_know_each_other() {
    let graph = Graph::read();
    for catalogue in ["src/app/areas/", "src/draw/views/"] {
        let of = |file: &str| {
            let below = file.strip_prefix(catalogue)?;
            let member = below.split('/').next()?.trim_end_matches(".rs");
            (member != "mod").then(|| member.to_owned())
        };
        let members: BTreeSet<String> = graph.files().filter_map(of).collect();
        assert!(members.len() > 8, "{catalogue}: {members:?}");
        for (from, to) in graph.edges() {
            let apart = of(from).zip(of(to)).is_none_or(|(from, to)| from == to);
            assert!(apart, "{from} leans on {to}");
        }
    }
}

#[test]
fn symptoms_and_checks_are_asked_for_by_their_rows_alone() {
    let asked = |check: &Check| [format!("== \"{}\"", check.key), format!("\"{}\" =>", check.key)];
    let asked: Vec<String> = CHECKS.iter().flat_map(asked).collect();
    let own = |file: &str| file.starts_with("diagnosis/") || file == "design/symptom.rs";
    for (file, text) in all().into_iter().filter(|(file, _)| !own(file)) {
        let code = code(&text);
        assert!(!code.contains("Symptom::"), "{file} asks for one symptom");
        let check = asked.iter().find(|asked| code.contains(*asked));
        assert_eq!(check, None, "{file} asks for one check");
    }
    let trace = all().into_iter().find(|(file, _)| file == "app/areas/trace.rs");
    let trace = trace.expect("the app has a list of both").1;
    for list in ["SYMPTOMS.iter()", "diagnosis.checks.iter()"] {
        assert!(trace.contains(list), "the app does not list {list}");
    }
}

/// Words that do not occur in the code below a folder, with the reason.
const KEPT_OUT: &[(&str, &[&str], &str)] = &[
    (
        "",
        &["std::fs", "std::time", "SystemTime", "std::env"],
        "the core knows no files and no clock",
    ),
    ("draw", &["Mesh::new", "Analysis::of", "windows_at("], "drawings compute nothing"),
    ("export", &["Mesh::new", "Analysis::of", "windows_at("], "exports compute nothing"),
];

#[test]
fn the_core_knows_no_files_and_its_leaves_compute_nothing() {
    let mut seen = 0;
    for (file, text) in all().into_iter().filter(|(file, _)| !file.starts_with("app/")) {
        let code = code(&text);
        for (folder, words, reason) in KEPT_OUT {
            if !folder.is_empty() && !file.starts_with(&format!("{folder}/")) {
                continue;
            }
            seen += 1;
            for word in *words {
                assert!(!code.contains(word), "{file}: {word}; {reason}");
            }
        }
    }
    assert!(seen > 200, "the sources were not found");
}

/// Every source file with its path below `src`, `/` between folders. Files of tests are left out.
fn all() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let named = |path: &Path| {
        let below = path.strip_prefix(&root).expect("below src").to_string_lossy().into_owned();
        (below.replace('\\', "/"), fs::read_to_string(path).expect("text"))
    };
    let files = graph::files(&root).into_iter().filter(|path| !path.ends_with("tests.rs"));
    files.map(|path| named(&path)).collect()
}

/// Code without tests and comments.
fn code(text: &str) -> String {
    let body = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = body.lines().filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
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
