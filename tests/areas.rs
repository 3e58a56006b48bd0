//! The table of areas: an area is its file and its row, and nothing else asks which area it has to do
//! with. The app is built for a browser only, but its table is plain Rust, so that it is tried here.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crenel::design::{Design, RingPair, example, gallery};
use crenel::figures::Group;
use crenel_words::{Reader, page};

#[path = "../src/app/state/area.rs"]
mod area;

use area::{Area, AreaKey, Areas, Content, OpenedBy};

/// Areas whose views are words, with one in their midst that the app does not have. Their titles are those of
/// areas of the app.
const AREAS: Areas<&str> = Areas(&[
    Area::tab(
        AreaKey("rings"),
        page::rings::title,
        Content::Board { drawings: || "drawings", sizes: || "sizes", sizes_first: true },
    ),
    Area {
        tour: Some(page::compare::tour),
        first_results: &[Group::Depth],
        draws_outcomes: true,
        layouts: |design| design.alternatives.len() + 1,
        ..Area::tab(AreaKey("dummy"), page::compare::title, Content::Page(|| "a dummy"))
    },
    Area {
        opened_by: OpenedBy::HeadButton { key: "?" },
        tour: Some(page::load::tour),
        ..Area::tab(AreaKey("help"), page::help::title, Content::Page(|| "help"))
    },
]);

/// A design with so many layouts beside its own.
fn with_alternatives(count: usize) -> Design {
    let mut design = example();
    let pair = RingPair { title: "Beside".to_owned(), a: design.a.clone(), b: design.b.clone() };
    design.alternatives = vec![pair; count];
    design
}

/// The title of an area for a design with so many layouts beside its own.
fn shown(area: &Area<&str>, alternatives: usize) -> String {
    area.title_for(&with_alternatives(alternatives)).show(Reader::default())
}

#[test]
fn an_area_that_is_added_is_found_on_every_surface() {
    let dummy = AREAS.find(AreaKey("dummy"));
    let tabs: Vec<_> = AREAS.tabs().map(|area| shown(area, 0)).collect();
    assert_eq!(tabs, ["Dogs", "Compare"], "tabs are in the order of the table");
    assert!(matches!(dummy.content, Content::Page(page) if page() == "a dummy"));
    let tour: Vec<_> = AREAS.tour().map(|words| words().key()).collect();
    assert_eq!(tour, ["page.compare.tour", "page.load.tour"]);
    assert_eq!((dummy.first_results, dummy.draws_outcomes), (&[Group::Depth][..], true));
    let opened = AREAS.for_layouts(&with_alternatives(2)).map(|area| area.key);
    assert_eq!(opened, Some(AreaKey("dummy")), "a link to a comparison opens where it is shown");
    assert_eq!(shown(dummy, 2), "Compare (3)");
}

#[test]
fn what_a_row_leaves_out_is_plain() {
    let rings = AREAS.first();
    let Content::Board { drawings, sizes, sizes_first } = rings.content else {
        panic!("the first area has drawings and sizes");
    };
    assert_eq!((drawings(), sizes(), sizes_first), ("drawings", "sizes", true));
    assert_eq!((rings.first_results, rings.draws_outcomes), (&[][..], false));
    assert!(rings.tour.is_none());
    assert_eq!(shown(rings, 2), "Dogs");
    assert!(
        AREAS.for_layouts(&with_alternatives(0)).is_none(),
        "a single layout opens at the start"
    );
}

#[test]
fn an_area_without_a_tab_has_its_button_and_its_key() {
    let buttons: Vec<_> = AREAS.head_buttons().map(|area| shown(area, 0)).collect();
    assert_eq!(buttons, ["Help"]);
    assert_eq!(AREAS.opened_by_key("?").map(|area| area.key), Some(AreaKey("help")));
    assert!(AREAS.opened_by_key("Dogs").is_none());
}

#[test]
fn a_name_that_no_area_has_leads_to_the_first() {
    assert_eq!(AREAS.find(AreaKey("gone")).key, AreaKey("rings"));
}

// ---- the app's own table, read off its sources ----

fn app() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/app")
}

/// The files of a folder of the app and below, with their text.
fn sources(folder: &Path) -> Vec<(PathBuf, String)> {
    let entries = fs::read_dir(folder).expect("the folder is there");
    let paths = entries.map(|entry| entry.expect("it can be read").path());
    let files = paths.filter(|path| path.is_dir() || path.extension().is_some_and(|e| e == "rs"));
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("text");
        vec![(path, text)]
    };
    files.flat_map(|path| if path.is_dir() { sources(&path) } else { read(path) }).collect()
}

/// Each area by the name of its module, with the text of all its files.
fn areas() -> Vec<(String, String)> {
    let folder = app().join("areas");
    let mut areas: Vec<(String, String)> = Vec::new();
    for (path, text) in sources(&folder) {
        let below = path.strip_prefix(&folder).expect("below areas").to_string_lossy();
        let module = below.split(['/', '\\', '.']).next().unwrap_or_default().to_owned();
        match areas.iter_mut().find(|(name, _)| *name == module) {
            Some((_, known)) => known.push_str(&text),
            None => areas.push((module, text)),
        }
    }
    areas.retain(|(name, _)| name != "mod");
    areas
}

/// The name in an area's row.
fn key_of(area: &str) -> String {
    let row = area.split("const AREA: Area<AnyView>").nth(1).expect("an area has its row");
    let key = row.split("AreaKey").nth(1).expect("a row has its name");
    if let Some(named) = key.strip_prefix("(\"") {
        return named.split('"').next().unwrap_or_default().to_owned();
    }
    let name: String = key[2..].chars().take_while(char::is_ascii_uppercase).collect();
    name.to_ascii_lowercase()
}

#[test]
fn every_area_has_its_row() {
    let table = fs::read_to_string(app().join("areas/mod.rs")).expect("text");
    let areas = areas();
    assert!(areas.len() > 8, "the areas were not found");
    for (module, _) in &areas {
        assert!(table.contains(&format!("    {module}::AREA,\n")), "{module} is not in the table");
    }
    let rows = table.matches("::AREA,").count();
    assert_eq!(rows, areas.len(), "an area stands in the table twice");
    let keys: BTreeSet<_> = areas.iter().map(|(_, text)| key_of(text)).collect();
    assert_eq!(keys.len(), areas.len(), "two areas have the same name");
}

#[test]
fn whoever_leads_to_an_area_finds_it() {
    let keys: BTreeSet<_> = areas().iter().map(|(_, text)| key_of(text)).collect();
    let led_to = [AreaKey::SHIFT, AreaKey::REWORK, AreaKey::DEPTH, AreaKey::SELECTOR];
    let examples = gallery().iter().map(|example| example.opens_in);
    for key in led_to.map(|key| key.0).into_iter().chain(examples) {
        assert!(keys.contains(key), "no area has the name {key}");
    }
}

#[test]
fn areas_know_nothing_of_each_other_and_nothing_else_knows_them() {
    let areas = areas();
    for (module, text) in &areas {
        for (other, _) in areas.iter().filter(|(other, _)| other != module) {
            for path in [format!("areas::{other}"), format!("super::{other}")] {
                assert!(!text.contains(&path), "{module} leans on {path}");
            }
        }
    }
    let below = ["state", "storage", "widgets"].map(|folder| sources(&app().join(folder)));
    for (path, text) in below.into_iter().flatten() {
        let own = path.ends_with("state/area.rs");
        let named = [r#"AreaKey(""#, "AreaKey::", "crate::areas"];
        let found = named.into_iter().find(|name| !own && text.contains(name));
        assert_eq!(found, None, "{} asks for one area", path.display());
    }
}
