//! Files and links of version 1 open forever.
//!
//! Each design in `fixtures/version-1` stands there as it was saved, as it is saved again, and
//! number by number, as it was opened when version 1 was new. None of these files is ever edited:
//! a new version of the saved form gets a folder of its own.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use crenel::analysis::Analysis;
use crenel::design::{
    Cut, Design, Layout, Operation, Plan, RingPair, RingSpec, Setting, Symptom, Tolerances, Work,
    decode, encode, is_of_gearset, open, save,
};
use crenel::fields::{FIELDS, FieldId, Slot};
use crenel::ring::Side;
use serde_json::{Value, json};

const NAMES: [&str; 18] = [
    "defaults",
    "half-height",
    "measured",
    "slots",
    "gearbox",
    "gearbox-defaults",
    "loaded",
    "loaded-defaults",
    "rework",
    "rework-defaults",
    "selector",
    "selector-defaults",
    "given",
    "own-gear",
    "shift-in-time",
    "manners-of-a-shift",
    "tolerances",
    "variants",
];

fn path(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/version-1").join(file)
}

fn read(file: &str) -> String {
    std::fs::read_to_string(path(file)).unwrap_or_else(|e| panic!("{file}: {e}"))
}

fn opened(file: &str) -> Design {
    let opened = open(&read(file)).unwrap_or_else(|findings| panic!("{file}: {findings:?}"));
    assert_eq!(opened.findings, vec![], "{file}");
    opened.design
}

/// A plan in the notation of the kept files.
fn plan_as_kept(plan: &Plan) -> String {
    let work = |work: &Work| {
        let number = work.number;
        match work.kind.key {
            "remove" => "Cut(Remove)".to_owned(),
            "shorten" => format!("Cut(Shorten({number:?}))"),
            "narrow_drive" => format!("Narrow(Drive, {number:?})"),
            "narrow_coast" => format!("Narrow(Coast, {number:?})"),
            "recut_drive" => format!("Recut(Drive, {number:?})"),
            "recut_coast" => format!("Recut(Coast, {number:?})"),
            "lap" => format!("Lap({number:?})"),
            "break" => format!("Break({number:?})"),
            newer => panic!("{newer} is not in files of version 1 that are kept"),
        }
    };
    let operation = |Operation { work: done, places }: &Operation| {
        format!("Operation {{ work: {}, places: {places:?} }}", work(done))
    };
    let operations: Vec<_> = plan.operations.iter().map(operation).collect();
    format!("Plan {{ operations: [{}] }}", operations.join(", "))
}

/// Symptoms in the notation of the kept files.
fn felt_as_kept(felt: &BTreeSet<Symptom>) -> String {
    let word = |symptom: &Symptom| match symptom.key {
        "hangs" => "Hangs",
        "clunks" => "Clunks",
        newer => panic!("{newer} is not in files of version 1 that are kept"),
    };
    format!("{{{}}}", felt.iter().map(word).collect::<Vec<_>>().join(", "))
}

/// What becomes of whole dogs, by place.
fn cuts(plan: &Plan) -> BTreeMap<usize, Cut> {
    (0..200).filter_map(|place| Some((place, plan.cut_of(place)?))).collect()
}

/// A design number by number and word by word, a line each.
fn lines(design: &Design) -> Vec<String> {
    let texts = [&design.title, &design.initials, &design.notes];
    let mut lines: Vec<String> = texts.iter().map(|text| format!("{text:?}")).collect();
    for side in Side::BOTH {
        let RingSpec { form, layout, plan, .. } = design.ring(side);
        let cuts = cuts(plan);
        let ring = side.letter();
        lines.push(format!("{ring}: {form:?}, cuts {cuts:?}"));
        lines.push(format!("{ring}: plan {}", plan_as_kept(plan)));
        if let Layout::Even(even) = layout {
            lines.push(format!("{ring}: by {:?}, heights {:?}", even.size_by, even.heights));
        }
    }
    if design.tolerances != Tolerances::default() {
        let tolerances = &design.tolerances;
        lines.push(format!("grade {}", tolerances.grade.letter()));
        let planned = tolerances.all_planned().map(|(slot, limits)| {
            format!("{} −{:?} +{:?}", slot.path(), limits.minus, limits.plus)
        });
        let measured = tolerances.all_measured();
        let measured = measured.map(|(slot, by)| format!("{} measured ±{by:?}", slot.path()));
        lines.extend(planned.chain(measured));
    }
    lines.push(format!("{:?}", design.setting.drive));
    lines.push(format!("{:?}, {:?}", design.setting.from, design.normalize));
    lines.push(format!("{:?}, {:?}", design.setting.carried, design.setting.case));
    if let Some(gearbox) = &design.gearbox {
        let shafts: Vec<_> = gearbox.gears.iter().map(|gear| gear.free_on).collect();
        lines.push(format!("{:?}, {shafts:?}", gearbox.clutch));
    }
    for (at, pair) in design.alternatives.iter().enumerate() {
        lines.push(format!("beside[{at}]: {:?}", pair.title));
        let RingPair { a, b, .. } = pair.clone();
        let rings = Design { a, b, ..Design::default() };
        let slots = Side::BOTH.into_iter().flat_map(|side| rings.ring_slots(side));
        let value = |slot| rings.get(slot).expect("a ring has its own slots");
        lines.extend(slots.map(|s| format!("beside[{at}].{} = {}", s.path(), value(s))));
        lines.push(format!(
            "beside[{at}]: cuts {:?}, {:?}",
            cuts(&pair.a.plan),
            cuts(&pair.b.plan)
        ));
    }
    lines.extend(design.selector.linkage.iter().map(|linkage| format!("{:?}", linkage.by)));
    for link in design.depth.iter().flat_map(|depth| depth.chains.iter().flatten()) {
        lines.push(format!("{:?}, opens {}", link.name, link.opens));
    }
    if !design.trace.is_empty() {
        lines.push(format!("felt {}", felt_as_kept(&design.trace.felt)));
    }
    let value = |slot| design.get(slot).expect("a design has its own slots");
    lines.extend(design.slots().into_iter().map(|s| format!("{} = {}", s.path(), value(s))));
    for (at, variant) in design.variants.iter().enumerate() {
        let one = design.to_variant(at).expect("there is such a variant");
        let shown = if variant.compared { "" } else { ", not compared" };
        let now = if design.variants.current() == Some(at) { ", current" } else { "" };
        lines.push(format!("variants[{at}]: {:?}{shown}{now}", variant.name));
        for side in Side::BOTH {
            let plan = plan_as_kept(&one.ring(side).plan);
            lines.push(format!("variants[{at}].{}: plan {plan}", side.letter()));
        }
        if design.variants.has_own_rings(at) {
            let rings = Side::BOTH.into_iter().flat_map(|side| one.ring_slots(side));
            let place = [FieldId::Overlap, FieldId::TipFriction].map(Slot::Setting);
            let value = |slot| one.get(slot).expect("a design has its own slots");
            let slots = rings.chain(place);
            lines.extend(slots.map(|s| format!("variants[{at}].{} = {}", s.path(), value(s))));
        }
    }
    lines.extend(design.given.iter().map(|slot| format!("{} is given", slot.path())));
    lines.extend(design.unknown.iter().map(|slot| format!("{} is unknown", slot.path())));
    lines
}

/// Pins the fixtures of a new shape of design; run once, by hand, when one is added.
#[test]
#[ignore = "writes the fixtures of the name in PIN"]
fn pin_a_new_fixture() {
    let name = std::env::var("PIN").expect("PIN=name");
    let design = opened(&format!("{name}.json"));
    let write = |file: &str, text: String| std::fs::write(path(file), text).expect("it is written");
    write(&format!("{name}.saved.json"), format!("{:#}\n", save(&design)));
    write(&format!("{name}.opened.txt"), lines(&design).join("\n") + "\n");
}

#[test]
fn every_fixture_opens_to_the_same_numbers_as_ever() {
    for name in NAMES {
        let lines = lines(&opened(&format!("{name}.json")));
        let pinned = read(&format!("{name}.opened.txt"));
        assert!(pinned.lines().count() > 30, "{name}");
        // A field that came later may add a line, but none may go or change.
        for line in pinned.lines() {
            assert!(lines.iter().any(|now| now == line), "{name}: {line} is not in {lines:#?}");
        }
    }
}

#[test]
fn every_fixture_is_saved_again_as_ever() {
    for name in NAMES {
        let design = opened(&format!("{name}.json"));
        let pinned = read(&format!("{name}.saved.json"));
        assert_eq!(format!("{:#}\n", save(&design)), pinned, "{name}");
        assert_eq!(opened(&format!("{name}.saved.json")), design, "{name}");
    }
}

#[test]
fn a_link_of_version_1_opens_as_the_file_it_was_made_from() {
    let link = read("measured.link.txt");
    let opened = decode(link.trim_end()).expect("the link opens");
    assert_eq!(opened.findings, vec![]);
    assert_eq!(opened.design, self::opened("measured.json"));
    // What is packed today need not be the same letters, but must open as the same design.
    assert_eq!(decode(&encode(&opened.design)).expect("our own link").design, opened.design);
}

#[test]
fn no_default_has_changed() {
    let stated = opened("defaults.json");
    assert_eq!(stated.a, RingSpec::default());
    assert_eq!(stated.setting, Setting::default());
    let unstated = open(r#"{ "crenel": 1, "b": { "dogs": [{}] } }"#).expect("it opens").design;
    assert_eq!(stated.b, unstated.b);
    let stated = opened("gearbox-defaults.json");
    let unstated =
        open(r#"{ "crenel": 1, "gearbox": { "gears": [{}] } }"#).expect("it opens").design;
    assert_eq!(stated, unstated);
    assert_eq!(opened("loaded-defaults.json"), Design::default());
    let unstated = r#"{ "crenel": 1, "a": { "plan": [
        { "do": "shorten" }, { "do": "narrow_drive" }, { "do": "recut_drive" }, { "do": "lap" }, { "do": "break" }
    ] } }"#;
    assert_eq!(opened("rework-defaults.json"), open(unstated).expect("it opens").design);
    let unstated = r#"{ "crenel": 1, "linkage": {}, "claw": {}, "detent": {}, "track": { "points": [{}] },
        "depth": { "this": [{}] } }"#;
    assert_eq!(opened("selector-defaults.json"), open(unstated).expect("it opens").design);
}

/// A change of one part of the kept design with variants, and the key of what is said about it.
fn opened_with(change: impl FnOnce(&mut Value)) -> Vec<String> {
    let mut form: Value = serde_json::from_str(&read("variants.json")).expect("it is JSON");
    change(&mut form["variants"]);
    let findings = open(&form.to_string()).map_or_else(|findings| findings, |o| o.findings);
    findings.iter().map(|finding| finding.says.key().to_owned()).collect()
}

#[test]
fn wrong_entries_of_variants_are_reported() {
    type Change = fn(&mut Value);
    let cases: [(Change, &str); 8] = [
        (|list| list[2]["current"] = json!(false), "finding.not_one_current"),
        (|list| list[3]["current"] = json!(true), "finding.not_one_current"),
        (|list| list[2]["current"] = json!("yes"), "finding.unknown_word"),
        (|list| list[2]["a"] = json!({ "cuts": { "1": 2 } }), "finding.unknown_key"),
        (|list| list[3]["a"]["dogs"] = json!([{}]), "finding.unknown_key"),
        (|list| list[0]["rings"]["a"] = json!(3), "finding.not_a_ring"),
        (|list| list[1]["name"] = json!(3), "finding.not_a_text"),
        (|list| *list = json!(vec![json!({}); 13]), "finding.not_a_list"),
    ];
    for (change, want) in cases {
        let found = opened_with(change);
        assert!(found.iter().any(|key| key == want), "{want} is not in {found:?}");
    }
    assert_eq!(opened_with(|_| ()), Vec::<String>::new());
}

/// A name that is too long is kept, and told where the design is checked.
#[test]
fn the_name_of_a_variant_has_a_limit() {
    let mut design = opened("variants.json");
    design.variants.rename(3, "x".repeat(61));
    let keys: Vec<_> = design.check().iter().map(|finding| finding.says.key()).collect();
    assert_eq!(keys, ["finding.text_too_long"]);
    assert_eq!(open(&save(&design).to_string()).expect("it opens").design, design);
}

#[test]
fn links_carry_variants() {
    let design = opened("variants.json");
    assert_eq!(decode(&encode(&design)).expect("our own link").design, design);
}

fn keys_in(value: &Value, keys: &mut BTreeSet<String>) {
    if let Value::Object(map) = value {
        keys.extend(map.keys().cloned());
    }
    let inner: Vec<&Value> = match value {
        Value::Object(map) => map.values().collect(),
        Value::Array(list) => list.iter().collect(),
        _ => Vec::new(),
    };
    inner.into_iter().for_each(|value| keys_in(value, keys));
}

#[test]
fn the_fixtures_use_every_key() {
    let mut used = BTreeSet::new();
    for name in NAMES {
        let text = read(&format!("{name}.json"));
        keys_in(&serde_json::from_str(&text).expect("it is JSON"), &mut used);
    }
    // What an estimate is made from is not kept.
    let elsewhere =
        [FieldId::DiscMass, FieldId::DiscDiameter, FieldId::ShaftDiameter, FieldId::ShaftLength];
    let fields =
        FIELDS.iter().filter(|f| !elsewhere.contains(&f.id) && !is_of_gearset(f.id)).map(|f| f.key);
    let words = [
        "crenel",
        "title",
        "initials",
        "notes",
        "a",
        "b",
        "dogs",
        "cuts",
        "heights",
        "gearbox",
        "gears",
        "beside",
        "plan",
        "do",
        "linkage",
        "claw",
        "detent",
        "track",
        "points",
        "depth",
        "this",
        "other",
        "name",
        "felt",
        "measured",
        "limits",
        "given",
        "unknown",
        "tolerances",
        "planned",
        "variants",
        "compared",
        "current",
        "rings",
    ];
    let choices = [
        "flanks",
        "size_by",
        "travel_by",
        "shift",
        "clutch",
        "free_on",
        "held",
        "carried_by",
        "load",
        "pedal_by",
        "way",
        "grade",
    ];
    let missing: Vec<&str> =
        fields.chain(words).chain(choices).filter(|key| !used.contains(*key)).collect();
    assert!(missing.is_empty(), "no fixture has {missing:?}: add a design that does");
}

/// The longest link that goes through every messenger, characters.
const SHORT_LINK: usize = 2000;

#[test]
fn every_example_opens_is_worked_out_and_fits_a_short_link() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/designs");
    let files: Vec<_> = std::fs::read_dir(folder).expect("there are examples").collect();
    assert!(files.len() >= 5, "{files:?}");
    for file in files {
        let path = file.expect("it can be listed").path();
        let text = std::fs::read_to_string(&path).expect("it can be read");
        let opened = open(&text).unwrap_or_else(|findings| panic!("{path:?}: {findings:?}"));
        assert_eq!(opened.findings, vec![], "{path:?}");
        let analysis = Analysis::of(&opened.design);
        assert!(analysis.pair.is_some(), "{path:?}: {:?}", analysis.findings);
        let link = encode(&opened.design);
        assert!(link.len() < SHORT_LINK, "{path:?}: {} characters", link.len());
        assert_eq!(decode(&link).expect("our own link").design, opened.design, "{path:?}");
        assert!(
            opened.design.title.contains("invented") || opened.design.notes.contains("nvented"),
            "{path:?}"
        );
    }
}

/// What is wrong with saved readings is told, and the file opens with the rest.
#[test]
fn what_saved_readings_cannot_be_is_told() {
    let text = |part: &str| {
        let readings = format!(r#"{{ "dogs": 6, "columns": [], {part} }}"#);
        format!(r#"{{ "crenel": 1, "a": {{ "readings": {readings} }} }}"#)
    };
    let columns = |read: &str| {
        let column = format!(r#"{{ "gauge": "chord", "read": {read} }}"#);
        format!(
            r#"{{ "crenel": 1, "a": {{ "readings": {{ "dogs": 6, "columns": [{column}] }} }} }}"#
        )
    };
    for (saved, code, words) in [
        (text(r#""datum_dog": 7"#), "no_dog_of_ring", "“a.readings.datum_dog” has 7"),
        (text(r#""datum_dog": "one""#), "no_dog_of_ring", "datum_dog"),
        (text(r#""datum_flank": "left""#), "word_ignored", "“a.readings.datum_flank” cannot be"),
        (text(r#""contact": [1, 9]"#), "no_dog_of_ring", "“a.readings.contact” has 9"),
        (text(r#""contact": "all""#), "no_dog_of_ring", "contact"),
        (columns(r#"[12.4, "thick"]"#), "reading_ignored", "“a.readings.chord” has"),
        (columns("[1, 2, 3, 4, 5, 6, 7]"), "no_dog_of_ring", "“a.readings.chord” has 7"),
        (columns("12.4"), "", ""),
    ] {
        let opened = open(&saved).unwrap_or_else(|findings| panic!("{saved}: {findings:?}"));
        let told: Vec<_> = opened.findings.iter().map(|one| one.code).collect();
        assert_eq!(told.concat(), code, "{saved}");
        let said = opened.findings.first().map(|one| one.text(Default::default()));
        assert!(said.unwrap_or_default().contains(words), "{saved}: {:?}", opened.findings);
        assert!(opened.design.a.readings.is_some(), "{saved}");
    }
}
