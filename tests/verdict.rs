//! The verdict on the gallery and on designs made from it.

use std::collections::BTreeSet;

use crenel::analysis::Analysis;
use crenel::compare::Verdict as Way;
use crenel::design::{Design, LoadCase, Readings, SYMPTOMS, example, gallery, open, save};
use crenel::fields::{FieldId, Slot};
use crenel::figures::{HOLDING_FORCE, WINDOW_TIME, catalogue, figures};
use crenel::finding::Class;
use crenel::gearset::{GearsetAnalysis, Part, Worst, shift_table};
use crenel::ring::Side;
use crenel::units::{DisplayUnits, LengthUnit};
use crenel::verdict::{Mark, Matter, Stage, Verdict, beside_bar, change, headline, matters};
use crenel_words::{CATALOGUE, Language, Reader};
use serde_json::{Value, json};

/// A design of the gallery, or the first one a newcomer sees, with changes in its saved form: an object is
/// merged, null removes.
fn design(key: &str, changes: &Value) -> Design {
    let found = gallery().iter().find(|one| one.key == key);
    let mut saved = save(&found.map_or_else(example, |one| one.design()));
    merge(&mut saved, changes);
    open(&saved.to_string()).unwrap_or_else(|wrong| panic!("{key}: {wrong:?}")).design
}

fn merge(saved: &mut Value, changes: &Value) {
    let Value::Object(changes) = changes else {
        *saved = changes.clone();
        return;
    };
    for (key, change) in changes {
        if change.is_null() {
            saved.as_object_mut().expect("an object").remove(key);
        } else {
            if !(saved[key].is_object() && change.is_object()) {
                saved[key] = json!({});
            }
            merge(&mut saved[key], change);
        }
    }
}

/// Design, changes, class, sentence, its first number.
type Row = (&'static str, Value, Class, &'static str, f64);

/// Forty-one designs. What is said of each is fixed: a change of the order of gravity shows here.
fn rows() -> [Row; 41] {
    use Class::{Blocked, Cut, Entry, Fit, Gain, Hold, Lash, Open, Stress, Unknown, Within};
    let as_it_is = || json!({});
    let both = |ring: Value| json!({ "a": ring.clone(), "b": ring });
    let narrowed = json!([{ "do": "narrow_drive", "flank_stock_mm": 1, "dogs": [1, 2] }]);
    let low_and_wide =
        json!({ "a": { "heights": [1, 0.6] }, "b": { "count": 3, "tip_width_deg": 80 } });
    let five = "five-on-five";
    [
        ("few-dogs", as_it_is(), Stress, "stress", 594.74),
        ("six-on-six", as_it_is(), Entry, "too_fast", 600.0),
        (five, as_it_is(), Within, "within_on_assumed", 500.0),
        ("half-height", as_it_is(), Within, "tightest_on_assumed", 39.09),
        ("one-ring-cut", as_it_is(), Entry, "too_fast", 500.0),
        ("cut-down", as_it_is(), Within, "tightest_on_assumed", 41.73),
        ("rounded-flanks", as_it_is(), Hold, "pushed_out", 472.25),
        ("rough-faces", as_it_is(), Entry, "measured", 0.0),
        ("damaged-dog", as_it_is(), Stress, "stress", 123.27),
        ("worn-measured", as_it_is(), Hold, "pushed_out", 201.57),
        ("shallow-dogs", as_it_is(), Fit, "too_shallow", 2.0),
        ("cramped-linkage", as_it_is(), Fit, "linkage_cramps", 30.6),
        ("claw-overthrows", as_it_is(), Fit, "not_the_dogs", 0.13),
        ("kicks-back", as_it_is(), Hold, "measured", 0.0),
        ("wide-first-step", as_it_is(), Entry, "hard_shift_elsewhere", 6500.0),
        ("road-six-speed", as_it_is(), Entry, "hard_shift", 6500.0),
        ("", as_it_is(), Entry, "hard_shift", 8500.0),
        // Nobody knows how fast the shift is.
        (five, json!({ "slip_rpm": null, "unknown": ["slip_rpm"] }), Open, "shift_unknown", 515.26),
        // A number that is missing or impossible comes before everything.
        ("six-on-six", json!({ "shift": "up" }), Unknown, "gearbox_missing", 0.0),
        ("rounded-flanks", json!({ "a": { "height_mm": 60 } }), Unknown, "impossible", 60.0),
        ("six-on-six", json!({ "a": { "tip_width_deg": 64 } }), Unknown, "dogs_do_not_fit", 6.0),
        (
            "few-dogs",
            json!({ "b": { "inner_diameter_mm": 70 } }),
            Unknown,
            "diameters_crossed",
            70.0,
        ),
        // Does not reach full depth.
        ("six-on-six", json!({ "overlap_mm": -1 }), Blocked, "rings_apart", -1.0),
        ("six-on-six", low_and_wide, Blocked, "jams", 2.5),
        ("six-on-six", both(json!({ "tip_width_deg": 40 })), Blocked, "no_window", 0.0),
        (
            "shallow-dogs",
            json!({ "depth": { "groove_width_mm": 9 } }),
            Blocked,
            "touch_in_neutral",
            -1.03,
        ),
        // A cut that must not be made, before a gear that does not go in.
        ("", json!({ "a": { "plan": narrowed } }), Cut, "case_gone", 1.15),
        // Does not hold in.
        (five, both(json!({ "back_cut_coast_deg": -2 })), Hold, "pushed_out", 40.29),
        (five, json!({ "a": { "edge_break_mm": 1.2 } }), Hold, "hold_in_edges", 1.0),
        // Does not go in.
        (five, json!({ "slip_rpm": 520 }), Entry, "too_fast", 520.0),
        ("rough-faces", json!({ "measured": null, "tip_friction": 0.6 }), Entry, "hangs", 0.66),
        // A stress that is the price of a gain.
        ("cut-down", json!({ "throttle_torque_nm": 300 }), Stress, "gain_with_price", 5.37),
        // Depth, gap, claw and detent.
        ("claw-overthrows", json!({ "felt": null }), Fit, "stop_gaps", 0.13),
        (
            "cramped-linkage",
            json!({ "linkage": { "foot_press_mm": 8 } }),
            Fit,
            "foot_short_of_stop",
            4.79,
        ),
        (five, json!({ "detent": { "roller_friction": 0.8 } }), Fit, "roller_stays", -34.54),
        (five, json!({ "measured": { "measured_rod_angle_deg": 20 } }), Fit, "measured", 0.0),
        (
            "shallow-dogs",
            json!({ "depth": { "throw_this_mm": 8 } }),
            Within,
            "within_on_assumed",
            240.0,
        ),
        // Lash and clunk only where a limit is set.
        (five, json!({ "limits": { "most_lash_deg": 20 } }), Lash, "lash", 25.04),
        (five, json!({ "limits": { "most_clunk_nm": 300 } }), Lash, "clunk", 25.04),
        (five, json!({ "limits": { "most_lash_deg": 30 } }), Within, "within_on_assumed", 500.0),
        // A plan that gains nothing.
        (
            "one-ring-cut",
            json!({ "slip_rpm": 200, "allowed_pressure_mpa": 300 }),
            Gain,
            "one_ring_cut",
            6.0,
        ),
    ]
}

/// Every row with its verdict.
fn verdicts() -> impl Iterator<Item = (Row, Analysis, Verdict)> {
    rows().into_iter().map(|row| {
        let analysis = Analysis::of(&design(row.0, &row.1));
        let verdict = Verdict::of(&analysis);
        (row, analysis, verdict)
    })
}

#[test]
fn each_design_has_its_verdict() {
    let mut wrong = Vec::new();
    for ((key, changes, class, sentence, number), _, verdict) in verdicts() {
        let told = verdict.fact.key().rsplit('.').next().unwrap_or_default();
        let first = verdict.fact.numbers().next().map_or(0.0, |(_, first)| first);
        if (verdict.class, told) != (class, sentence) || (first - number).abs() >= 0.05 {
            wrong.push(format!("{key} {changes}: {:?}, {told}, {first}", verdict.class));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_class_is_the_verdict_on_one_of_them() {
    let classes: BTreeSet<_> = verdicts().map(|(.., verdict)| verdict.class).collect();
    assert_eq!(classes.into_iter().collect::<Vec<_>>(), Class::ALL);
}

/// How many words a sentence has; a number and its unit are one.
fn words(text: &str) -> usize {
    let beside = ["rpm", "mm", "in", "ms", "MPa", "N", "N·m", "N·mm", "g·mm", "%", "–", "→", "×"];
    let is_word = |word: &&str| !beside.contains(&word.trim_end_matches([',', '.', ';', ':']));
    text.split_whitespace().filter(is_word).count()
}

#[test]
fn a_verdict_is_read_at_a_glance() {
    let inch = DisplayUnits { length: LengthUnit::Inch, ..DisplayUnits::default() };
    let readers = [Language::British, Language::American].into_iter().flat_map(|language| {
        [DisplayUnits::default(), inch].map(|units| Reader { units, language })
    });
    let readers: Vec<_> = readers.collect();
    let mut wrong = Vec::new();
    let mut measure = |text: String, most: [usize; 2]| {
        let is = [words(&text), text.chars().count()];
        if is[0] > most[0] || is[1] > most[1] {
            wrong.push(format!("{is:?} {text}"));
        }
    };
    for (_, analysis, verdict) in verdicts() {
        let all = matters(&analysis);
        let next = verdict.next.expect("a next step");
        let longs = all.iter().map(|matter| [&matter.fact, &matter.next]);
        let longs: Vec<_> = longs.chain([[&verdict.fact, &next]]).collect();
        let shorts = all.iter().map(|matter| &matter.short).chain([&verdict.short]);
        let shorts: Vec<_> = shorts.collect();
        for reader in &readers {
            for [fact, next] in &longs {
                measure(format!("{} {}", fact.show(*reader), next.show(*reader)), [36, 190]);
            }
            shorts.iter().for_each(|short| measure(short.show(*reader), [13, 76]));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_verdict_praises_or_reads_like_a_test() {
    let forbidden = [
        "good to know",
        "look at this",
        "set against",
        "wish",
        "moment",
        "passes",
        "passed",
        "good",
        "safe",
        "fine",
    ];
    let has = |text: &str| {
        let letters = |c: char| if c.is_alphabetic() { c } else { ' ' };
        let text: String = format!(" {text} ").to_lowercase().chars().map(letters).collect();
        forbidden.into_iter().find(|word| text.contains(&format!(" {word} ")))
    };
    assert_eq!(has("It is safe."), Some("safe"));
    let entries = CATALOGUE.iter().copied().flatten();
    let own = entries.filter(|entry| entry.text.key.starts_with("verdict."));
    for text in own.flat_map(|entry| [entry.text].into_iter().chain(entry.next)) {
        assert_eq!(has(text.english), None, "{}", text.key);
    }
    for (_, _, verdict) in verdicts() {
        let fact = verdict.fact.show(Reader::default());
        assert_eq!(has(&fact), None, "{fact}");
    }
}

#[test]
fn nothing_is_past_a_limit_exactly_if_the_verdict_says_so() {
    for ((key, changes, ..), analysis, verdict) in verdicts() {
        let all = matters(&analysis);
        let is_within = matches!(verdict.class, Class::Open | Class::Within);
        assert_eq!(is_within, all.is_empty(), "{key} {changes}");
        let in_order = |pair: &[Matter]| {
            let [one, next] = pair else { return true };
            one.class < next.class || one.class == next.class && one.excess >= next.excess
        };
        assert!(all.windows(2).all(in_order), "{key} {changes}");
        for value in figures(&analysis) {
            let gauge = value.value.and_then(|number| value.figure.gauge(number, &analysis));
            let is_past = gauge.is_some_and(|gauge| gauge.is_past());
            assert!(!is_past || !all.is_empty(), "{key} {changes}: {:?}", value.figure);
        }
    }
}

#[test]
fn the_stage_that_shows_it_is_named() {
    let stage = |key, changes| Verdict::of(&Analysis::of(&design(key, &changes))).stage;
    assert_eq!(stage("", json!({})), Stage::Pair);
    assert_eq!(stage("claw-overthrows", json!({})), Stage::Cause);
    let gains_nothing = json!({ "slip_rpm": 200, "allowed_pressure_mpa": 300 });
    assert_eq!(stage("one-ring-cut", gains_nothing), Stage::Change);
}

#[test]
fn a_window_too_narrow_says_how_wide_it_has_to_be() {
    let next = |key, changes| {
        let next = Verdict::of(&Analysis::of(&design(key, &changes))).next;
        next.expect("a next step").show(Reader::default())
    };
    // The figures of the pair say the same.
    let told = next("", json!({}));
    assert!(told.starts_with("Widen the window (3.1 ms now, 8.3 ms needed)"), "{told}");
    // No window is as wide as the whole circle.
    let told = next("six-on-six", json!({ "slip_rpm": 20000 }));
    assert!(told.contains("no window can be"), "{told}");
}

#[test]
fn while_checks_are_open_the_first_stage_says_so() {
    let told = |design: &Design| {
        let analysis = Analysis::of(design);
        let all = matters(&analysis);
        Stage::ALL.map(|stage| {
            let verdict = Verdict::at_stage(stage, &all, &analysis);
            (verdict.class, verdict.fact.key().rsplit('.').next().unwrap_or_default())
        })
    };
    let mut design = example();
    let hard = (Class::Entry, "hard_shift");
    assert_eq!(told(&design), [(Class::Open, "not_diagnosed"), hard, hard, hard]);
    // All of them; when they show would leave checks out.
    design.trace.felt = SYMPTOMS.iter().copied().filter(|felt| !felt.is_when).collect();
    assert_eq!(told(&design)[0], (Class::Open, "not_diagnosed_yet"));
    // What was measured and is past its limit is the cause.
    design.set(Slot::Seen(FieldId::SeenRodAngle), 20.0);
    assert_eq!(told(&design), [(Class::Fit, "measured"), hard, hard, hard]);
    // A part that cannot be made comes first everywhere.
    design.set(Slot::Ring(Side::A, FieldId::TipWidth), 64.0);
    assert_eq!(told(&design).map(|(class, _)| class), [Class::Unknown; 4]);
}

#[test]
fn a_stress_of_the_steady_throttle_has_no_tick_where_a_shock_is_past_the_limit() {
    let worst = |design: &Design| {
        let [_, _, worst] = headline(Stage::Change, &Analysis::of(design));
        let told = worst.told.map_or_else(String::new, |told| told.show(Reader::default()));
        (told.ends_with(", steady pull"), worst.mark)
    };
    let mut design = example();
    assert_eq!(worst(&design), (true, Mark::Unknown));
    // With loads that are allowed this high, the shock is within its limit too.
    for id in [FieldId::AllowedPressure, FieldId::AllowedShear, FieldId::AllowedStress] {
        design.set(Slot::Setting(id), 5000.0);
    }
    assert_eq!(worst(&design), (true, Mark::Within));
    design.setting.case = LoadCase::Largest;
    assert_eq!(worst(&design), (false, Mark::Within));
}

#[test]
fn an_all_clear_says_for_which_load_it_is() {
    let told = |design: &Design| {
        let verdict = Verdict::of(&Analysis::of(design));
        assert_eq!(verdict.class, Class::Within);
        [&verdict.fact, &verdict.short].map(|words| words.show(Reader::default()))
    };
    let mut half = design("half-height", &json!({}));
    assert!(
        told(&half).iter().all(|words| words.contains("under steady torque")),
        "{:?}",
        told(&half)
    );
    // The shock is within such limits too, and then counts itself.
    for id in [FieldId::AllowedPressure, FieldId::AllowedShear, FieldId::AllowedStress] {
        half.set(Slot::Setting(id), 5000.0);
    }
    assert!(told(&half).iter().all(|words| !words.contains("steady")), "{:?}", told(&half));
}

/// Straight flanks hold by friction alone, by their shape: 0 N is no margin.
#[test]
fn straight_flanks_have_no_margin_of_holding() {
    let flanks = json!({ "back_cut_drive_deg": 0, "back_cut_coast_deg": 0 });
    let straight = design("half-height", &json!({ "a": flanks, "b": flanks }));
    let analysis = Analysis::of(&straight);
    let holding = figures(&analysis).into_iter().find(|row| row.figure.key == "holding_n");
    let newton = holding.and_then(|row| row.value).expect("it is worked out");
    assert!(newton.abs() < 1e-9, "{newton}");
    let beside = beside_bar(&HOLDING_FORCE, newton, &analysis).expect("it has a limit");
    assert_eq!(beside.show(Reader::default()), "held by friction alone");
    let verdict = Verdict::of(&analysis).fact.show(Reader::default());
    assert!(verdict.contains("flank pressure") && !verdict.contains("0 N"), "{verdict}");
    let undercut = design("six-on-six", &json!({}));
    let beside = beside_bar(&HOLDING_FORCE, 200.0, &Analysis::of(&undercut)).expect("a limit");
    assert_eq!(beside.show(Reader::default()), "must not be below 0 N");
}

/// The window of the drawings is between sharp tips; that of the times has the edge breaks.
#[test]
fn the_window_time_tells_the_width_that_it_comes_from() {
    let beside = |saved: &Value| {
        let design = design("six-on-six", saved);
        let told = beside_bar(&WINDOW_TIME, 3.3, &Analysis::of(&design));
        told.map(|told| told.show(Reader::default()))
    };
    let told = beside(&json!({})).expect("its edges are broken");
    assert!(told.starts_with("window 1") && told.ends_with("° with edge breaks"), "{told}");
    let sharp = json!({ "edge_break_mm": 0 });
    assert_eq!(beside(&json!({ "a": sharp, "b": sharp })), None);
}

#[test]
fn a_shift_of_another_gear_is_told_as_one_with_these_dogs() {
    let mut third = example();
    third.set(Slot::Setting(FieldId::Gear), 3.0);
    let told = Verdict::of(&Analysis::of(&third)).fact.show(Reader::default());
    assert!(told.starts_with("If every gear has these dogs, 1→2 is hardest: "), "{told}");
}

#[test]
fn a_design_from_a_friend_says_so() {
    let own = Verdict::of(&Analysis::of(&example()));
    let verdict = own.clone().of_friend();
    let fact = verdict.fact.show(Reader::default());
    assert_eq!(fact, format!("{} This design came by a link.", own.fact.show(Reader::default())));
    assert_eq!((verdict.class, verdict.next), (Class::Entry, own.next));
}

// ---- what nobody gave ----

#[test]
fn a_verdict_lists_the_numbers_it_rests_on_that_nobody_gave() {
    let mut design = design("five-on-five", &json!({}));
    let assumed = |design: &Design| Verdict::of(&Analysis::of(design)).assumed;
    let [speed, hold] = [FieldId::DrumSpeed, FieldId::HoldDepth].map(Slot::Setting);
    let [a, b] = Side::BOTH.map(|side| Slot::Ring(side, FieldId::TipWidth));
    let first = assumed(&design);
    assert_eq!(first, [speed, hold, a, b]);
    for slot in first {
        assert!(design.set_given(slot, slot.field().spec().default));
    }
    let verdict = Verdict::of(&Analysis::of(&design));
    assert_eq!((verdict.assumed, verdict.fact.key()), (Vec::new(), "verdict.within_at_least"));
    assert!(!design.assumed().is_empty(), "others are still assumed");
}

#[test]
fn a_push_counts_only_where_the_drum_does_not_set_the_speed() {
    let lists = |changes: Value| {
        let verdict = Verdict::of(&Analysis::of(&design("six-on-six", &changes)));
        assert_eq!(verdict.class, Class::Entry, "{changes}");
        [FieldId::ShiftForce, FieldId::DrumSpeed]
            .map(|id| verdict.assumed.contains(&Slot::Setting(id)))
    };
    assert_eq!(lists(json!({})), [false, true]);
    assert_eq!(lists(json!({ "start_speed_m_per_s": 0.01 })), [true, true]);
    assert_eq!(lists(json!({ "travel_by": "force", "slip_rpm": 2000 })), [true, false]);
}

#[test]
fn numbers_of_other_gears_do_not_count() {
    let verdict = Verdict::of(&Analysis::of(&example()));
    let is_of_gear = |slot: &Slot| matches!(slot, Slot::Gear(..));
    let gears: Vec<_> = verdict.assumed.into_iter().filter(is_of_gear).collect();
    assert_eq!(gears, [Slot::Gear(0, FieldId::UpAt), Slot::Gear(1, FieldId::GearDriven)]);
}

// ---- the figures of a stage ----

#[test]
fn the_figures_of_the_pair_have_their_limits_beside_them() {
    let mut design = example();
    let shown = |design: &Design| {
        headline(Stage::Pair, &Analysis::of(design)).map(|one| {
            let told = one.told.map_or_else(String::new, |told| told.show(Reader::default()));
            (one.value.show(Reader::default()), told, one.mark)
        })
    };
    let is = |value: &str, told: &str, mark| (value.to_owned(), told.to_owned(), mark);
    let time = is("3.1 ms", "needs 8.3 ms", Mark::Past);
    let limit = is("275 rpm", "needs 749 rpm", Mark::Past);
    let lash = is("13°", "", Mark::Unknown);
    assert_eq!(shown(&design), [time.clone(), limit.clone(), lash]);
    design.set(Slot::Limit(FieldId::MostLash), 15.0);
    assert_eq!(shown(&design), [time, limit, is("13°", "limit 15°", Mark::Within)]);
    assert!(design.clear(Slot::Limit(FieldId::MostLash)));
    assert_eq!(design, example());
}

#[test]
fn every_stage_has_three_figures_of_any_design() {
    for (_, analysis, _) in verdicts() {
        for one in Stage::ALL.into_iter().flat_map(|stage| headline(stage, &analysis)) {
            assert!(!one.value.show(Reader::default()).is_empty(), "{one:?}");
            let is_known = |key| catalogue().any(|figure| figure.key == key);
            assert!(one.key.is_none_or(is_known), "{one:?}");
            if let Some(gauge) = one.gauge {
                assert_eq!(one.mark == Mark::Past, gauge.is_past(), "{one:?}");
            }
        }
    }
}

#[test]
fn a_plan_is_counted_with_its_tightest_tolerance_and_its_cautions() {
    let shown = |key: &str| {
        let analysis = Analysis::of(&design(key, &json!({})));
        headline(Stage::Make, &analysis).map(|one| one.value.show(Reader::default()))
    };
    assert_eq!(shown(""), ["no cut planned", "–", "general ones only"]);
    // Shortened on both rings: heat, tips down to the core, and the cut-off wheel. 2.5 mm are within 0.1 mm by ISO 2768-1 m.
    assert_eq!(shown("half-height"), ["2", "± 0.1 mm", "3"]);
}

#[test]
fn the_likely_cause_has_its_share_and_what_is_still_open() {
    let analysis = Analysis::of(&design("rounded-flanks", &json!({})));
    let shown = headline(Stage::Cause, &analysis).map(|one| one.value.show(Reader::default()));
    assert_eq!(shown, ["Drive flanks", "140 %", "6"]);
}

// ---- what a change did ----

#[test]
fn a_change_names_its_number_and_the_figure_that_moved_most() {
    let before = design("five-on-five", &json!({}));
    let mut after = before.clone();
    after.set(Slot::Setting(FieldId::SlipSpeed), 550.0);
    let [was, is] = [&before, &after].map(Analysis::of);
    assert_eq!(change(&was, &was), None);
    let line = change(&was, &is).expect("a change");
    assert_eq!(line.what.show(Reader::default()), "Speed difference 500 rpm → 550 rpm");
    let moved = line.moved.expect("a figure moved");
    assert_eq!(moved.way, Way::Worse);
    assert_eq!(moved.words.show(Reader::default()), "Window time 8.6 ms → 7.8 ms");
    let crossed = line.crossed.iter().map(|one| (one.figure.key, one.past));
    let crossed: Vec<_> = crossed.collect();
    assert_eq!(crossed, [("window_time_ms", true), ("straight_in_limit_rpm", true)]);
    let back = change(&is, &was).expect("a change");
    assert_eq!(back.moved.map(|moved| moved.way), Some(Way::Better));
    assert!(back.crossed.len() == 2 && back.crossed.iter().all(|one| !one.past));
}

#[test]
fn several_numbers_are_counted_and_words_move_no_figure() {
    let before = example();
    let mut after = before.clone();
    for side in Side::BOTH {
        after.set(Slot::Ring(side, FieldId::TipWidth), 20.0);
        after.set(Slot::Ring(side, FieldId::Height), 5.5);
    }
    let [was, is] = [&before, &after].map(Analysis::of);
    let line = change(&was, &is).expect("a change");
    assert_eq!(line.what.show(Reader::default()), "4 values changed");
    let noted = Design { notes: "Other".to_owned(), ..before };
    assert_eq!(change(&was, &Analysis::of(&noted)), None, "no number");
    let mut by_drum = example();
    by_drum.setting.drive = crenel::shift::Drive::Drum;
    let line = change(&was, &Analysis::of(&by_drum)).expect("a change");
    assert_eq!(line.what.show(Reader::default()), "Choice changed");
    let mut read = example();
    read.a.readings = Some(Readings::new(6));
    let line = change(&was, &Analysis::of(&read)).expect("a change");
    assert_eq!(line.what.show(Reader::default()), "Readings changed");
}

#[test]
fn a_gearbox_that_locks_is_told_whatever_gear_is_open_and_at_every_stage() {
    let bent = gallery().iter().find(|one| one.key == "six-speed-bent-fork").expect("it is there");
    let mut design = bent.design();
    let boxed = GearsetAnalysis::around(&design).expect("a gearbox");
    let worst = boxed.worst(&shift_table(&boxed));
    for gear in 0..6 {
        let _ = design.open_gear(gear);
        let analysis = Analysis::of(&design);
        for stage in Stage::ALL {
            let verdict = Verdict::at_stage(stage, &matters(&analysis), &analysis).in_box(&worst);
            assert_eq!((verdict.class, verdict.part), (Class::Blocked, Some(Part::Fork(1))));
            let fact = verdict.fact.show(Reader::default());
            assert_eq!(
                fact,
                "Gear 4 can be in at once with gears 1, 3, 5, 6: that locks the gearbox and the rear wheel."
            );
            let short = verdict.short.show(Reader::default());
            assert_eq!(short, "Gear 4 can be in at once with gears 1, 3, 5, 6. Do not run it.");
        }
    }
    // What is no worse than a hard shift is left to the pair that is open.
    let sound = Worst { class: Class::Entry, part: None, ..worst };
    let analysis = Analysis::of(&design);
    let own = Verdict::of(&analysis);
    assert_eq!(own.clone().in_box(&sound), own);
}
