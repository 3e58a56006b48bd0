//! The gallery: every design opens, fits a link, and shows the fault it is named for.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crenel::analysis::Analysis;
use crenel::design::{Design, Example, decode, encode, gallery, open};
use crenel::report::report_json;
use serde_json::Value;

fn file(example: &Example) -> String {
    let designs = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/designs");
    fs::read_to_string(designs.join(format!("{}.json", example.key))).expect("its file is there")
}

fn design(key: &str) -> Design {
    let example = gallery().iter().find(|example| example.key == key);
    example.unwrap_or_else(|| panic!("{key} is missing")).design()
}

fn report(key: &str) -> Value {
    report_json(&Analysis::of(&design(key)))
}

fn codes(report: &Value) -> Vec<&str> {
    let findings = report["findings"].as_array().expect("a list");
    findings.iter().map(|finding| finding["code"].as_str().expect("a word")).collect()
}

fn figure(report: &Value, key: &str) -> f64 {
    report["figures"][key].as_f64().unwrap_or_else(|| panic!("no {key}"))
}

/// What the trace puts first; empty where it blames nothing.
fn first_cause(report: &Value) -> &str {
    let trace = &report["trace"];
    let first =
        trace["causes"][0].as_u64().and_then(|at| trace["checks"].get(usize::try_from(at).ok()?));
    first.and_then(|check| check["check"].as_str()).unwrap_or_default()
}

#[test]
fn the_gallery_is_the_folder_of_example_designs() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/designs");
    let files = fs::read_dir(folder).expect("the folder is there");
    let stem = |path: &Path| path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let files: BTreeSet<_> =
        files.filter_map(|entry| stem(&entry.expect("it can be read").path())).collect();
    let keys: BTreeSet<_> = gallery().iter().map(|example| example.key.to_owned()).collect();
    assert_eq!(keys, files);
    assert_eq!(keys.len(), gallery().len());
}

#[test]
fn every_design_opens_clean_says_that_it_is_invented_and_fits_a_link() {
    for example in gallery() {
        let opened = open(&file(example)).expect("it is a design");
        assert_eq!(opened.findings, [], "{}", example.key);
        assert_eq!(opened.design, example.design(), "{}", example.key);
        assert!(opened.design.notes.starts_with("Invented"), "{}", example.key);
        assert!(opened.design.title.ends_with(" (invented)"), "{}", example.key);
        let link = encode(&opened.design);
        assert!(link.len() < 2000, "{}: {}", example.key, link.len());
        assert_eq!(decode(&link).expect("our own link").design, opened.design);
        assert!(example.story().english.ends_with(['.', '?']), "{}", example.key);
        let analysis = Analysis::of(&opened.design);
        assert!(analysis.pair.is_some(), "{}: {:?}", example.key, analysis.findings);
    }
}

#[test]
fn each_fault_is_found_and_nothing_else_is() {
    // Key, every finding of its report, and what the trace puts first.
    let cases: &[(&str, &[&str], &str)] = &[
        ("few-dogs", &["over_allowed"; 3], "lash"),
        ("six-on-six", &["too_fast_to_drop_in"], "entry_time"),
        ("five-on-five", &[], ""),
        (
            "one-ring-cut",
            &["too_fast_to_drop_in", "over_allowed", "nothing_gained", "core_on_tips"],
            "",
        ),
        (
            "rounded-flanks",
            &["pushed_out", "hold_depth_in_edges", "pushed_out_on_overrun"],
            "drive_flanks",
        ),
        ("rough-faces", &["hangs_half_way", "phase_blocked"], "tip_faces"),
        ("damaged-dog", &["over_allowed"], ""),
        ("shallow-dogs", &["engaged_too_little", "sliding_gear_off_centre"], "engaged_depth"),
        ("cramped-linkage", &["linkage_cramps"], "rod_angle"),
        ("claw-overthrows", &["gap_too_small"; 2], "stop_gap"),
        ("road-six-speed", &["too_fast_to_drop_in"], "entry_time"),
    ];
    for (key, found, cause) in cases {
        let report = report(key);
        assert_eq!(codes(&report), *found, "{key}");
        assert_eq!(first_cause(&report), *cause, "{key}");
    }
}

#[test]
fn few_dogs_go_in_at_once_and_clunk_and_many_are_missed() {
    let [few, five, six] = ["few-dogs", "five-on-five", "six-on-six"].map(report);
    let lash = |report| figure(report, "lash_deg");
    assert!(lash(&few) > 2.0 * lash(&five) && lash(&five) > 2.0 * lash(&six));
    assert!(figure(&few, "straight_in_share") > 0.4);
    assert_eq!(figure(&six, "straight_in_share"), 0.0);
    assert!(figure(&few, "clunk_nm") > 3.0 * figure(&six, "clunk_nm"));
}

#[test]
fn half_height_opens_three_wide_windows_and_keeps_the_lash_of_six() {
    let report = report("half-height");
    assert_eq!(figure(&report, "entry_windows"), 3.0);
    assert!(figure(&report, "free_angle_deg") > 70.0);
    assert!(figure(&report, "lash_deg") < 15.0);
}

#[test]
fn rough_tips_hang_and_smooth_ones_do_not() {
    let mut smooth = design("rough-faces");
    assert!(figure(&report("rough-faces"), "first_pass_locked_share") > 0.5);
    let friction = crenel::fields::FieldId::TipFriction;
    smooth.set(crenel::fields::Slot::Setting(friction), friction.spec().default);
    let smooth = report_json(&Analysis::of(&smooth));
    assert!(figure(&smooth, "first_pass_locked_share") < 0.2);
}

#[test]
fn a_bent_dog_carries_alone_and_narrows_the_entry() {
    let report = report("damaged-dog");
    assert_eq!(figure(&report, "dogs_carrying"), 1.0);
    // Two dogs of 24° on 60° leave 12°; the dog that stands 1.5° ahead takes as much of every window.
    assert!((figure(&report, "free_angle_deg") - 10.5).abs() < 1e-9);
}

#[test]
fn the_shim_that_is_offered_gives_the_depth_back() {
    let mut shimmed = design("shallow-dogs");
    let depth = shimmed.depth.as_mut().expect("its chains are given");
    let shim = depth.working().shim_mm().expect("both chains are given");
    assert!((shim + 0.8).abs() < 1e-9, "{shim}");
    depth.fit_shim(shim);
    let report = report_json(&Analysis::of(&shimmed));
    assert!(!codes(&report).contains(&"engaged_too_little"));
}

#[test]
fn the_first_step_of_the_road_gearbox_is_more_than_twice_the_last() {
    let report = report("road-six-speed");
    let slip = |from: u64| {
        let shifts = report["gearbox"]["shifts"].as_array().expect("a list");
        let up = shifts.iter().find(|shift| shift["from"] == from && shift["to"] == from + 1);
        up.and_then(|shift| shift["slip_rpm"].as_f64()).expect("it is a shift")
    };
    assert!(slip(1) > 2.0 * slip(5));
}

#[test]
fn five_beside_three_and_six_shows_what_its_text_says() {
    let design = design("five-on-five");
    let comparison = crenel::compare::Comparison::of(&design);
    let read = |column: usize, key: &str| {
        let figures = &comparison.columns[column].figures;
        figures
            .iter()
            .find(|figure| figure.figure.key == key)
            .and_then(|f| f.value)
            .expect("a number")
    };
    // On the board five, beside it three and six: in order of the dogs.
    for (few, many) in [(1, 0), (0, 2)] {
        assert!(read(few, "entry_windows") < read(many, "entry_windows"));
        assert!(read(few, "lash_deg") > 1.5 * read(many, "lash_deg"), "less lash to cross");
        let times = [few, many].map(|column| read(column, "window_time_ms"));
        assert!(times[0] > 1.5 * times[1], "open for a shorter time: {times:?}");
    }
    let says = "More dogs reduce the lash, but also the time that a window stays open.";
    let example =
        gallery().iter().find(|example| example.key == "five-on-five").expect("it is there");
    assert!(
        example.story().english.ends_with(says) && design.notes.ends_with(says),
        "{}",
        design.notes
    );
}
