//! The table of areas: an area is its file and its row, and nothing else asks which area it has to do
//! with. The app is built for a browser only, but its table is plain Rust, so that it is tried here.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crenel::design::{Design, RingPair, example, gallery};
use crenel::fields::{FieldId, Slot};
use crenel::figures::catalogue;
use crenel::ring::Side;
use crenel::verdict::Stage;
use crenel_words::{Reader, page};

#[path = "../src/app/state/area.rs"]
mod area;

use area::{Area, AreaKey, Areas, Content, Home, Panel, Picture};

/// Areas whose views are words, with one in their midst that the app does not have. Their titles are those of
/// areas of the app.
const AREAS: Areas<&str> = Areas(&[
    Area {
        results: &["lash_deg"],
        draws_outcomes: true,
        layouts: |design| design.alternatives.len() + 1,
        begins: |design| !design.alternatives.is_empty(),
        ..Area::of(
            Stage::Change,
            AreaKey("dummy"),
            page::compare::title,
            Content::Page(|| "a dummy"),
        )
    },
    Area::of(
        Stage::Pair,
        AreaKey("dogs"),
        page::rings::title,
        Content::Board {
            pictures: &[Picture::of("face", page::rings::picture_face, || "face")],
            panels: &[Panel {
                key: "position",
                title: page::rings::position,
                owns: |slot| slot == Slot::Setting(FieldId::Phase),
                form: || "form",
            }],
            home: Home::Pair,
        },
    ),
    Area::of(
        Stage::Cause,
        AreaKey("second"),
        page::depth::title,
        Content::Board {
            pictures: &[
                Picture {
                    roomy: true,
                    ..Picture::of("pair", page::rings::picture_pair, || "both")
                },
                Picture::of_rings("face", page::rings::picture_face, || "face"),
            ],
            panels: &[],
            home: Home::Panel,
        },
    ),
    Area::of_head("?", AreaKey("help"), page::help::title, Content::Page(|| "help")),
    Area::of_links(AreaKey::LEARN, page::learn::title, Content::Page(|| "stories")),
    Area {
        step: |name| (name == "second").then_some("second"),
        ..Area::of_first_visit(AreaKey("doors"), page::start::title, Content::Page(|| "doors"))
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
    let of_stages = Stage::ALL.into_iter().flat_map(|stage| AREAS.of_stage(stage));
    let titles: Vec<_> = of_stages.map(|area| shown(area, 0)).collect();
    assert_eq!(titles, ["Depth", "Dogs", "Compare"], "by stage, in the order of the table");
    assert!(matches!(dummy.content, Content::Page(page) if page() == "a dummy"));
    assert!(dummy.pictures().is_empty() && dummy.panels().is_empty());
    assert_eq!((dummy.results, dummy.draws_outcomes), (&["lash_deg"][..], true));
    assert_eq!(dummy.stage(), Some(Stage::Change));
    let opened = AREAS.beginning(&with_alternatives(2)).map(|area| area.key);
    assert_eq!(opened, Some(AreaKey("dummy")), "a link to a comparison opens where it is shown");
    assert_eq!(shown(dummy, 2), "Compare (3)");
}

#[test]
fn what_a_row_leaves_out_is_plain() {
    let rings = AREAS.first();
    let Content::Board { pictures: [picture], panels: [panel], home: Home::Pair } = rings.content
    else {
        panic!("the page begins with a board");
    };
    let titles = [picture.title, panel.title].map(|title| title().show(Reader::default()));
    assert_eq!(titles, ["Face", "Position"]);
    assert_eq!((picture.key, (picture.show)()), ("face", "face"));
    assert_eq!((panel.key, (panel.form)()), ("position", "form"));
    assert_eq!((rings.pictures().len(), rings.panels().len()), (1, 1));
    assert!((panel.owns)(Slot::Setting(FieldId::Phase)));
    assert!(!(rings.owns)(Slot::Setting(FieldId::Phase)), "a panel has it");
    assert_eq!((rings.results, rings.draws_outcomes), (&[][..], false));
    assert_eq!(shown(rings, 2), "Dogs");
    assert!(AREAS.beginning(&with_alternatives(0)).is_none(), "a single layout opens at the start");
    assert_eq!(AREAS.whole_box().key, rings.key, "an area that is not there is the first");
}

#[test]
fn the_inspector_begins_with_the_pair_a_panel_or_what_suits_the_design() {
    let panels = AREAS.first().panels();
    let plan = |design: &Design| if design.is_planned() { "a" } else { "smallest" };
    let begins = |home: Home, design: &Design| home.panel(panels, design);
    let planned = gallery().iter().map(|one| one.design()).find(Design::is_planned);
    let planned = planned.expect("one has a plan");
    assert_eq!(begins(Home::Pair, &planned), None);
    assert_eq!(begins(Home::Panel, &planned), Some("position"));
    assert_eq!(Home::Panel.panel::<&str>(&[], &planned), None);
    assert_eq!(begins(Home::PanelFor(plan), &planned), Some("a"));
    assert_eq!(begins(Home::PanelFor(plan), &Design::default()), Some("smallest"));
}

#[test]
fn a_phone_leaves_out_what_needs_room() {
    let keys = |phone| {
        let shown = AREAS.find(AreaKey("second")).pictures_on(phone);
        shown.map(|picture| picture.key).collect::<Vec<_>>()
    };
    assert_eq!(keys(false), ["pair", "face"]);
    assert_eq!(keys(true), ["face"]);
}

#[test]
fn a_picture_of_the_rings_says_that_it_can_show_them_as_found() {
    let pictures = AREAS.find(AreaKey("second")).pictures();
    assert_eq!(
        pictures.iter().map(|picture| picture.shows_rings).collect::<Vec<_>>(),
        [false, true]
    );
}

#[test]
fn an_area_of_no_stage_has_its_button_and_its_key() {
    let buttons: Vec<_> = AREAS.head_buttons().map(|area| shown(area, 0)).collect();
    assert_eq!(buttons, ["Help"]);
    assert_eq!(AREAS.opened_by_key("?").map(|area| area.key), Some(AreaKey("help")));
    assert!(AREAS.opened_by_key("Dogs").is_none());
    assert_eq!(AREAS.find(AreaKey("help")).stage(), None);
}

#[test]
fn a_first_visit_begins_with_an_area_of_no_button() {
    let doors = AREAS.first_visit();
    assert_eq!((doors.key, doors.stage()), (AreaKey("doors"), None));
    assert_eq!((doors.step)("second"), Some("second"));
    assert_eq!((AREAS.first().step)("second"), None);
}

#[test]
fn a_name_that_no_area_has_leads_to_the_first() {
    assert_eq!(AREAS.find(AreaKey("gone")).key, AreaKey("dogs"));
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
    let constant = format!("const {name}: Self = Self(\"");
    let table = fs::read_to_string(app().join("state/area.rs")).expect("text");
    let value = table.split(&constant).nth(1).expect("the constant is there");
    value.split('"').next().unwrap_or_default().to_owned()
}

/// The figures that stand open in an area are named by their keys.
#[test]
fn every_result_that_stands_open_is_a_figure() {
    let known: BTreeSet<_> = catalogue().map(|figure| figure.key).collect();
    let mut named = 0;
    for (module, text) in areas() {
        let Some(list) = text.split("results: &[").nth(1) else { continue };
        let list = list.split(']').next().unwrap_or_default();
        for key in list.split('"').skip(1).step_by(2) {
            assert!(known.contains(key), "{module}: {key}");
            named += 1;
        }
    }
    assert!(named > 30, "the rows were not found: {named}");
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
    let led_to = [
        AreaKey::CHECKS,
        AreaKey::DOGS,
        AreaKey::SHIFT,
        AreaKey::REWORK,
        AreaKey::DEPTH,
        AreaKey::SELECTOR,
        AreaKey::BOX,
        AreaKey::MEASURED,
        AreaKey::LEARN,
    ];
    let sides = Side::BOTH.map(AreaKey::readings_of);
    assert_ne!(sides[0], sides[1], "each ring has readings of its own");
    let examples = gallery().iter().map(|example| example.opens_in);
    for key in led_to.map(|key| key.0).into_iter().chain(examples) {
        assert!(keys.contains(key), "no area has the name {key}");
    }
}

/// An area without a button of its own at first is still of its stage, and found by its name.
#[test]
fn an_area_is_listed_from_the_start_unless_its_row_says_otherwise() {
    let design = Design::default();
    assert!(AREAS.0.iter().all(|area| (area.listed)(&design)));
    let hidden = |text: &String| text.contains("listed: |design|");
    let named: BTreeSet<_> =
        areas().into_iter().filter(|(_, text)| hidden(text)).map(|(name, _)| name).collect();
    assert_eq!(named, ["measured", "whole"].map(str::to_owned).into());
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

/// The readings of each ring are a place of their own.
#[test]
fn readings_of_each_ring_have_a_step() {
    let steps = crenel::ring::Side::BOTH.map(AreaKey::readings_of);
    assert_eq!(steps, ["a", "b"]);
}

#[test]
fn an_area_of_links_has_no_button_and_no_key() {
    let learn = AREAS.stories();
    assert_eq!(learn.key, AreaKey::LEARN);
    assert_eq!(learn.stage(), None);
    assert!(AREAS.head_buttons().all(|area| area.key != AreaKey::LEARN));
    assert!(AREAS.first_visit().key != AreaKey::LEARN && AREAS.first().key != AreaKey::LEARN);
}
