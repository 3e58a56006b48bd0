//! Somebody's own gear: nothing of the example is in it, and what needs a number that nobody knows says so.

use std::collections::BTreeSet;

use crenel::analysis::Analysis;
use crenel::design::{Design, Need, ShiftFrom, decode, encode, example, open, save, to_json};
use crenel::export::{Detail, EXPORTS, Export, ExportInput};
use crenel::fields::{FieldId, Slot};
use crenel::figures::{FigureValue, figures};
use crenel::finding::Class;
use crenel::report::report_json;
use crenel::ring::Side;
use crenel::shift::Drive;
use crenel::verdict::{Stage, Verdict, headline};
use crenel_words::Reader;
use serde_json::{Value, json};

/// Its own gear with a gearbox of two gears to fill in.
fn with_gearbox() -> Design {
    let mut design = Design::own_gear();
    design.add_gearbox();
    design
}

fn shown(design: &Design) -> Vec<FigureValue> {
    figures(&Analysis::of(design))
}

fn verdict(design: &Design) -> Verdict {
    Verdict::of(&Analysis::of(design))
}

#[test]
fn nobody_gave_a_number_of_it() {
    for design in [Design::own_gear(), with_gearbox()] {
        for slot in design.slots() {
            let default = design.get(slot) == Some(slot.field().spec().default);
            let gear = slot == Slot::Setting(FieldId::Gear);
            assert!(default || gear, "{slot:?} has a number that somebody gave");
            assert!(gear || design.is_assumed(slot) || design.is_unknown(slot), "{slot:?}");
        }
    }
}

#[test]
fn nothing_of_the_example_survives_in_design_file_link_and_report() {
    let (example, own) = (example(), Design::own_gear());
    let Value::Object(saved) = save(&own) else { panic!("an object") };
    assert_eq!(saved.keys().collect::<Vec<_>>(), ["crenel", "unknown"]);
    let sent = decode(&encode(&own)).expect("it opens");
    assert_eq!((&sent.design, sent.findings.len()), (&own, 0));
    let analysis = Analysis::of(&own);
    let words = |text: &str| -> BTreeSet<String> {
        let words = text.split(|c: char| !c.is_alphanumeric());
        words.filter(|word| word.len() > 5).map(str::to_lowercase).collect()
    };
    let texts = [to_json(&own), report_json(&analysis).to_string(), encode(&own)];
    for text in texts {
        for word in words(&example.title) {
            assert!(!text.to_lowercase().contains(&word), "{word} in {text}");
        }
    }
}

#[test]
fn no_file_made_of_it_has_a_number_of_the_example() {
    let example = Analysis::of(&example());
    let of_example: Vec<_> = figures(&example).into_iter().filter_map(|v| v.value).collect();
    let own = Analysis::of(&Design::own_gear());
    let link = encode(&own.design);
    let input = ExportInput {
        analysis: &own,
        before: &own,
        reader: Reader::default(),
        link: &link,
        time: "",
        detail: Detail { map: [36, 24], facets_mm: 0.1 },
    };
    let mut made = 0;
    for export in Export::all(EXPORTS) {
        // The chances need the tip friction.
        let Ok(file) = export.make(&input) else { continue };
        made += 1;
        let text = String::from_utf8_lossy(&file.bytes);
        assert!(!text.contains("Hill-climb"), "{}", export.name());
        let slip =
            of_example.iter().find(|value| **value > 700.0 && text.contains(&value.to_string()));
        assert_eq!(slip, None, "{}", export.name());
    }
    assert!(made > 8, "{made} files");
}

/// A number that can be unknown, another value of it, and the design that it is in.
fn forgettable() -> Vec<(Design, Slot)> {
    let mut typed = Design::default();
    typed.setting.from = ShiftFrom::Typed;
    let mut driven = example();
    driven.setting.from = ShiftFrom::Up;
    let of = |design: Design| {
        let slots = design.slots().into_iter();
        let can_be = |slot: &Slot| design.clone().set_unknown(*slot);
        slots.filter(can_be).map(|slot| (design.clone(), slot)).collect::<Vec<_>>()
    };
    [of(typed), of(driven)].concat()
}

/// What a change of a number changes is not said where nobody knows the number.
#[test]
fn every_figure_that_a_number_changes_needs_it() {
    let all = forgettable();
    assert!(all.len() > 20, "{}", all.len());
    for (design, slot) in all {
        let at = |value: f64| {
            let mut design = design.clone();
            design.set_given(slot, value);
            shown(&design)
        };
        let default = slot.field().spec().default;
        let unknown = {
            let mut design = design.clone();
            assert!(design.set_unknown(slot));
            shown(&design)
        };
        for factor in [0.6, 1.7] {
            let [now, then] = [at(default), at((default * factor).round().max(default * 0.5))];
            for (a, b) in now.iter().zip(&then) {
                assert_eq!(a.figure, b.figure);
                let same = a.value == b.value && a.words == b.words;
                let told = unknown.iter().find(|v| v.figure == a.figure).expect("it is there");
                let hidden = told.value.is_none() && told.words.is_none();
                assert!(same || hidden, "{slot:?} changes {:?}", a.figure);
            }
        }
    }
}

#[test]
fn a_figure_that_needs_a_number_says_which() {
    let said = |design: &Design, key: &str| {
        let all = shown(design);
        let found = all.iter().find(|value| value.figure.key == key).expect("it is there");
        found.shown(Reader::default())
    };
    let own = Design::own_gear();
    assert_eq!(said(&own, "window_time_ms"), "needs the speed difference");
    assert_eq!(said(&own, "lash_tyre_mm"), "needs the gearbox ratios");
    assert_eq!(said(&own, "flank_pressure_mpa"), "needs the torque");
    assert_eq!(said(&own, "first_pass_locked_share"), "needs the speed difference");
    assert_eq!(said(&own, "lock_limit_rpm"), "needs the tip friction");
    let geared = with_gearbox();
    assert_eq!(said(&geared, "window_time_ms"), "needs the gearbox ratios");
    for (figure, told) in headline(Stage::Pair, &Analysis::of(&own)).into_iter().zip([true, false])
    {
        let needs = figure.told.map(|told| told.show(Reader::default()));
        assert_eq!(needs.is_some_and(|words| words.starts_with("needs the")), told);
    }
}

/// Nine numbers, and nothing that the sentence rests on is assumed.
#[test]
fn nine_numbers_make_a_true_sentence_about_ones_own_gear() {
    let mut design = Design::own_gear();
    design.setting.drive = Drive::Drum;
    let both = |id| Side::BOTH.map(|side| Slot::Ring(side, id));
    let given = [
        (both(FieldId::Count).to_vec(), 5.0),
        (both(FieldId::TipWidth).to_vec(), 24.0),
        (both(FieldId::EdgeBreak).to_vec(), 0.3),
        (vec![Slot::Setting(FieldId::HoldDepth)], 1.2),
        (vec![Slot::Setting(FieldId::DrumSpeed)], 0.15),
        (vec![Slot::Setting(FieldId::SlipSpeed)], 640.0),
    ];
    let open = verdict(&design);
    assert_eq!(open.class, Class::Open);
    assert!(!open.assumed.is_empty());
    let numbers: usize = given.iter().map(|(slots, _)| slots.len()).sum();
    assert!(numbers <= 9, "{numbers}");
    for (slots, value) in given {
        slots.into_iter().for_each(|slot| assert!(design.set_given(slot, value)));
    }
    let told = verdict(&design);
    assert_eq!((told.class, &told.assumed[..]), (Class::Entry, &[][..]));
    assert!(told.fact.show(Reader::default()).contains("640 rpm"));
}

#[test]
fn a_gearbox_to_fill_in_is_known_number_by_number() {
    let mut design = with_gearbox();
    assert_eq!(design.gearbox.as_ref().map(|gearbox| gearbox.gears.len()), Some(2));
    let teeth = [(FieldId::GearDriving, [13.0, 17.0]), (FieldId::GearDriven, [35.0, 28.0])];
    for (id, numbers) in teeth {
        for (at, number) in numbers.into_iter().enumerate() {
            design.set_given(Slot::Gear(at, id), number);
        }
    }
    design.set_given(Slot::Gearbox(FieldId::PrimaryDriving), 24.0);
    design.set_given(Slot::Gearbox(FieldId::PrimaryDriven), 69.0);
    assert_eq!(design.missing(Need::Speed), Some(Slot::Gear(0, FieldId::UpAt)));
    // The default of the table, given by somebody, is a number like any other.
    design.set_given(Slot::Gear(0, FieldId::UpAt), FieldId::UpAt.spec().default);
    assert_eq!(design.missing(Need::Speed), None);
    let opened = open(&to_json(&design)).expect("it opens").design;
    assert_eq!(save(&opened), save(&design));
    let report = report_json(&Analysis::of(&design));
    let shifts = report["gearbox"]["shifts"].as_array().expect("a list");
    assert_eq!(shifts.len(), 1, "the downshift needs its speed: {shifts:?}");
    assert_eq!(report["gearbox"]["load"], json!([]));
    assert_eq!(report["gearbox"]["lash"], json!([]));
    design.add_gear();
    assert!(design.is_unknown(Slot::Gear(2, FieldId::GearDriving)), "nobody knows the gear below");
    design.remove_gear(0);
    assert!(design.is_unknown(Slot::Gear(0, FieldId::UpAt)), "the second gear is the first now");
}

#[test]
fn a_number_that_is_listed_as_unknown_must_be_one_that_can_be() {
    for (saved, told) in [
        (json!({ "crenel": 1, "unknown": ["overlap_mm"] }), "overlap_mm"),
        (json!({ "crenel": 1, "slip_rpm": 400, "unknown": ["slip_rpm"] }), "slip_rpm"),
        (json!({ "crenel": 1, "unknown": ["nothing"] }), "nothing"),
    ] {
        let findings = open(&saved.to_string()).expect("it opens").findings;
        let says = findings.iter().map(|one| one.whole(Reader::default())).collect::<String>();
        assert!(says.contains(told), "{saved}: {says}");
    }
}
