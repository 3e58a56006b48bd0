//! Somebody's words stay words in every kind of file and in every sentence. Each kind of file is read by
//! its own rules in `readers`.

use crenel::analysis::Analysis;
use crenel::finding::Finding;
use crenel_words::{Language, Reader};

use crenel::compare::Comparison;
use crenel::design::{DepthSpec, Design, LinkSpec, RingPair, example, open, save};
use crenel::draw::views::VIEWS;
use crenel::draw::{ViewOptions, ring_drawing};
use crenel::export::{
    chances_csv, dogs_csv, dxf, file_name, index_csv, step, stl, svg_file, svg_markup,
};
use crenel::model::Chances;
use crenel::report::report_json;
use crenel::ring::Side;
use crenel::shop::indexing::{Dividing, IndexSheet};
use crenel::solid::Solid;
use crenel::units::{Angle, Quantity};
use serde_json::{Value, json};

use crate::readers;
use crate::soak::{NASTY_NAMES, file};

/// A design with a name in every text it has.
fn named(name: &str) -> Design {
    let mut design = example();
    for text in [&mut design.title, &mut design.initials, &mut design.notes] {
        name.clone_into(text);
    }
    let RingPair { a, b, .. } = RingPair::default();
    design.alternatives = vec![RingPair { title: name.to_owned(), a, b }];
    let link = || LinkSpec::new(name, 20.0, 0.05, true);
    let mut depth = DepthSpec::example();
    depth.chains = [vec![link()], vec![link(), link()]].into();
    design.depth = Some(depth);
    design
}

/// Whether a sentence is on one line and leaves the direction of writing alone.
fn stays_within(sentence: &str) -> bool {
    let breaks =
        |c: char| c.is_control() || matches!(c, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    !sentence.contains(breaks)
}

#[test]
fn no_name_breaks_out_of_a_drawing() {
    for name in NASTY_NAMES {
        let analysis = Analysis::of(&named(name));
        let mut scenes = vec![ring_drawing(&analysis, Side::A, name, Language::British)];
        for view in VIEWS {
            let frame = view.frame(&analysis, 600.0, view.shape, 12.0);
            scenes.push(view.draw(&analysis, &frame, &ViewOptions::default()));
        }
        for scene in &scenes {
            file("drawing", scene, name).unwrap_or_else(|why| panic!("{name:?}: {why}"));
            let marks = svg_markup(scene);
            let read = readers::markup(&marks).unwrap_or_else(|why| panic!("{name:?}: {why}"));
            // A browser reads marks by the rules of HTML: there, too, the only tags are ours.
            let tags = marks.matches('<').count();
            assert!(
                tags <= 2 * scene.items.len() && read.texts.len() <= scene.items.len(),
                "{name:?}"
            );
            assert!(!svg_file(scene, name).contains("<script"), "{name:?}");
        }
    }
}

#[test]
fn no_name_adds_a_code_to_a_dxf_file() {
    for name in NASTY_NAMES {
        let scene = ring_drawing(&Analysis::of(&named(name)), Side::A, name, Language::British);
        let read = readers::dxf(&dxf(&scene)).unwrap_or_else(|why| panic!("{name:?}: {why}"));
        for text in &read.texts {
            // What a reader takes for a code: two percent signs, a caret, a backslash.
            let percents = text.split("%%").skip(1);
            let known = percents.into_iter().all(|rest| rest.starts_with(['c', 'd', 'p']));
            let carets = text.split('^').skip(1).all(|rest| rest.starts_with(' '));
            let slashes = text.split('\\').skip(1).all(|rest| rest.starts_with("U+"));
            assert!(known && carets && slashes, "{name:?}: {text}");
        }
        if name.contains("%%") {
            let words = read.texts.iter().any(|text| text.contains("% %d"));
            assert!(words, "the signs are kept apart: {:?}", read.texts);
        }
    }
}

#[test]
fn no_name_begins_a_formula_and_numbers_stay_numbers() {
    let dogs = NASTY_NAMES.iter().zip(0..);
    let dogs = dogs.map(|(name, at)| ((*name).to_owned(), Angle::from_degrees(f64::from(at))));
    let sheet = IndexSheet::new(dogs.collect(), Some(&Dividing::default()), None);
    let rows = readers::csv(&index_csv(&sheet)).expect("it is read");
    assert_eq!(rows.len(), 1 + NASTY_NAMES.len());
    for (row, name) in rows[1..].iter().zip(NASTY_NAMES) {
        let plain: String = name.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        assert!(row[0] == plain || row[0] == format!("'{plain}"), "{row:?}");
    }
    let mut design = named("=1");
    design.a = crenel::design::RingSpec::default();
    assert!(
        design
            .set(crenel::fields::Slot::Ring(Side::A, crenel::fields::FieldId::BackCutDrive), -3.0)
    );
    let analysis = Analysis::of(&design);
    let rows = readers::csv(&dogs_csv(&analysis)).expect("it is read");
    let at = rows[0].iter().position(|head| head == "back_cut_drive_deg").expect("it is there");
    assert_eq!(rows[1][at], "-3", "a negative number is no formula and has no apostrophe");
    let map = Chances::of(&analysis).expect("it meshes").map(12, 8);
    assert_eq!(readers::csv(&chances_csv(&map)).expect("it is read").len(), 9);
}

#[test]
fn no_name_breaks_a_solid() {
    let analysis = Analysis::of(&example());
    let solid = Solid::of(analysis.ring(Side::A), &analysis.body()).expect("it is one");
    let facets = solid.facets(0.05);
    for name in NASTY_NAMES.into_iter().chain(["solid", "solid ring\nfacet normal 0 0 0"]) {
        let bytes = stl(&facets, name);
        readers::stl(&bytes, facets.points.len()).unwrap_or_else(|why| panic!("{name:?}: {why}"));
        let text = step(&solid, name, "1970-01-01T00:00:00");
        let strings = readers::step(&text).unwrap_or_else(|why| panic!("{name:?}: {why}"));
        let plain: String = name.chars().filter(|c| !c.is_control()).collect();
        assert!(strings.iter().filter(|string| **string == plain).count() >= 2, "{name:?}");
        let lines = text.lines().count();
        assert_eq!(lines, step(&solid, "", "1970-01-01T00:00:00").lines().count(), "{name:?}");
    }
}

#[test]
fn names_come_back_from_json_as_they_were() {
    for name in NASTY_NAMES {
        let design = named(name);
        let report = report_json(&Analysis::of(&design));
        for written in [&report, &save(&design)] {
            readers::json(written).unwrap_or_else(|why| panic!("{name:?}: {why}"));
        }
        assert_eq!(report["title"], name);
        assert_eq!(open(&save(&design).to_string()).expect("it opens").design, design);
    }
}

#[test]
fn no_name_leaves_the_folder() {
    for name in NASTY_NAMES {
        let called = file_name(name, "ring-a.dxf");
        let plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '.');
        assert!(called.chars().all(plain) && called.ends_with("-ring-a.dxf"), "{called:?}");
        assert!(called.matches('.').count() == 1 && !called.starts_with(['-', '.']), "{called:?}");
    }
}

/// A saved form with a name in every place where a text or a key may be wrong.
fn wrong_everywhere(name: &str) -> [Value; 5] {
    [
        json!({ "crenel": 1, name: 1, "a": { name: 2, "dogs": [{ name: 3 }] } }),
        json!({ "crenel": 1, "travel_by": name, "held": [name], "a": { "flanks": { name: 1 } } }),
        json!({ "crenel": 1, "a": { "cuts": { name: name, "1": name } } }),
        json!({ "crenel": 1, "felt": [name], "b": { "plan": [{ "do": name }] } }),
        json!({ "crenel": 1, "gearbox": { name: 1, "gears": [{ name: 1 }] }, "depth": { name: 1 } }),
    ]
}

#[test]
fn no_name_breaks_a_sentence() {
    let reader = Reader::default();
    for name in NASTY_NAMES.into_iter().chain([&*"long ".repeat(9999)]) {
        let mut sentences = Vec::new();
        for saved in wrong_everywhere(name) {
            let found =
                open(&saved.to_string()).map_or_else(|found| found, |opened| opened.findings);
            assert!(!found.is_empty(), "{saved}");
            sentences.extend(found.into_iter().flat_map(|f| [f.text(reader), f.hint(reader)]));
        }
        for quantity in [Quantity::Length, Quantity::Angle, Quantity::Count] {
            let typed =
                [name.to_owned(), format!("1 {name}"), format!("1°{name}′"), format!("1,1.{name}")];
            let read = typed.map(|typed| quantity.parse(&typed, reader.units));
            let wrong = read.into_iter().filter_map(Result::err).map(Finding::from);
            sentences.extend(wrong.map(|why| why.whole(reader)));
        }
        let told = Comparison::of(&named(name)).differences.concat();
        sentences.extend(told.iter().map(|message| message.show(reader)));
        for sentence in sentences {
            assert!(stays_within(&sentence), "{name:?}: {sentence:?}");
            assert!(sentence.chars().count() < 900, "{sentence}");
        }
    }
}
