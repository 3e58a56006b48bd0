//! Findings of the pair at their bounds: on one side of the number they stand, on the other they do not.

use crenel::analysis::Analysis;
use crenel::design::open;
use crenel::finding::Finding;
use serde_json::{Value, json};

fn analysis(changes: &Value) -> Analysis {
    let mut saved = json!({ "crenel": 1 });
    for (key, value) in changes.as_object().expect("changes by key") {
        saved[key] = value.clone();
    }
    Analysis::of(&open(&saved.to_string()).expect("it opens").design)
}

fn found(changes: &Value, code: &str) -> Option<Finding> {
    analysis(changes).findings.into_iter().find(|finding| finding.code == code)
}

fn text(finding: &Finding) -> String {
    finding.text(crenel_words::Reader::default())
}

/// The numbers that a finding names.
fn numbers(finding: &Finding) -> Vec<f64> {
    finding.numbers().iter().map(|(_, number)| *number).collect()
}

#[test]
fn fewer_dogs_on_one_ring_are_told_where_they_bring_nothing() {
    let pair = |a: Value, b: Value, hold: f64| {
        found(&json!({ "a": a, "b": b, "hold_depth_mm": hold }), "fewer_on_one_ring")
    };
    let count = |count: u32| json!({ "count": count });
    let fewer = pair(count(3), count(6), 1.0).expect("three on six have six windows");
    assert_eq!(numbers(&fewer), [3.0, 6.0, 6.0]);
    assert!(
        text(&fewer).starts_with("Ring A has 3 tall dogs and ring B has 6"),
        "{}",
        text(&fewer)
    );
    let fewer = pair(count(6), count(2), 1.0).expect("two on six have six windows");
    assert!(
        text(&fewer).starts_with("Ring B has 2 tall dogs and ring A has 6"),
        "{}",
        text(&fewer)
    );
    // As many on both: nothing to say.
    for n in [2, 3, 6] {
        assert_eq!(pair(count(n), count(n), 1.0), None, "{n}");
    }
    // Four on six give twelve windows, not six.
    let narrow = |count: u32| json!({ "count": count, "tip_width_deg": 8 });
    assert_eq!(pair(narrow(4), narrow(6), 1.0), None);
    // Every second dog 1 mm lower: it is no tall one at a holding depth of 1 mm, but is one at more.
    let lower = json!({ "heights": [1, 0.8] });
    assert!(pair(lower.clone(), count(6), 1.0).is_some());
    assert_eq!(pair(lower, count(6), 1.01), None);
}

#[test]
fn short_dogs_that_miss_each_other_are_told_with_the_gap() {
    let pair = |overlap: f64, hold: f64| {
        let ring = json!({ "heights": [1, 0.6] });
        let saved = json!({ "a": ring, "b": ring, "overlap_mm": overlap, "hold_depth_mm": hold });
        found(&saved, "short_dogs_apart")
    };
    // 2 mm lower on each ring: at 3.9 mm of overlap 0.1 mm is missing, at 4 mm none.
    let gap = numbers(&pair(3.9, 1.0).expect("they miss"));
    assert!(gap.len() == 1 && (gap[0] - 0.1).abs() < 1e-9, "{gap:?}");
    assert_eq!(pair(4.0, 1.0), None);
    assert_eq!(pair(4.1, 1.0), None);
    // Dogs lower by no more than the holding depth hold with the tall ones.
    assert!(pair(3.9, 1.99).is_some());
    assert_eq!(pair(3.9, 2.0), None);
    // One ring of equal dogs: its tall dogs reach the short ones of the other.
    let one = json!({ "a": { "heights": [1, 0.6] }, "overlap_mm": 1.9 });
    assert_eq!(found(&one, "short_dogs_apart"), None);
}

#[test]
fn the_hold_depth_has_to_pass_both_edge_breaks() {
    let pair = |hold: f64| {
        let [a, b] = [0.5, 0.25].map(|mm| json!({ "edge_break_mm": mm }));
        found(&json!({ "a": a, "b": b, "hold_depth_mm": hold }), "hold_depth_in_edges")
    };
    assert_eq!(numbers(&pair(0.7).expect("too little")), [0.7, 0.75]);
    assert_eq!(pair(0.75), None);
    assert_eq!(pair(0.8), None);
}

#[test]
fn stresses_are_told_once_they_are_over_their_number() {
    let pressure = |allowed: f64| {
        let changes = json!({ "allowed_pressure_mpa": allowed, "throttle_torque_nm": 500 });
        let findings = analysis(&changes).findings;
        findings.into_iter().find(|f| text(f).contains("Flank pressure"))
    };
    let strength =
        analysis(&json!({ "throttle_torque_nm": 500 })).worked.pair.expect("they fit").strength;
    let most = strength.expect("dogs meet").most(|stress| stress.pressure_mpa);
    assert_eq!(pressure(most), None);
    let over = numbers(&pressure(most - 0.01).expect("over"));
    assert_eq!(over, [most, most - 0.01]);
}

#[test]
fn flanks_that_push_out_are_told_by_the_least_angle_and_say_whether_friction_holds() {
    let pair = |back_cut: f64| {
        let ring = json!({ "back_cut_drive_deg": back_cut });
        let friction = json!({ "a": ring, "b": ring, "flank_friction": 0.1 });
        found(&friction, "pushed_out")
    };
    assert_eq!(pair(0.0), None);
    assert_eq!(pair(0.1), None);
    // tan 5.71° = 0.1
    let held = pair(-5.7).expect("it leans");
    assert!(text(&held).contains("only friction holds them"), "{}", text(&held));
    assert!(numbers(&held)[0] > 0.0);
    let jumps = pair(-5.72).expect("it leans");
    assert!(text(&jumps).contains("the gear jumps out"), "{}", text(&jumps));
}

#[test]
fn rings_apart_are_told_and_rings_that_just_meet_are_not() {
    let overlap = |mm: f64| found(&json!({ "overlap_mm": mm }), "rings_apart");
    assert_eq!(numbers(&overlap(0.0).expect("apart")), [0.0]);
    assert_eq!(numbers(&overlap(-1.5).expect("apart")), [-1.5]);
    assert_eq!(overlap(0.05), None);
}

#[test]
fn uneven_heights_are_told_where_they_change_the_windows() {
    let ring = |short: f64| json!({ "heights": [1, short] });
    let pair = |short: f64| found(&json!({ "a": ring(short), "b": ring(short) }), "uneven_heights");
    // 0.05 mm lower: three windows at the tips are six before the holding depth.
    assert_eq!(numbers(&pair(0.99).expect("uneven")), [3.0, 6.0]);
    // 2 mm lower: three and three.
    assert_eq!(pair(0.6), None);
    assert_eq!(pair(1.0), None);
}

#[test]
fn a_slip_too_fast_for_any_phase_is_told_with_the_limit() {
    let at = |rpm: f64| found(&json!({ "slip_rpm": rpm }), "too_fast_to_drop_in");
    let limit = numbers(&at(2000.0).expect("too fast"))[1];
    assert_eq!(numbers(&at(limit + 0.1).expect("too fast")), [limit + 0.1, limit]);
    assert_eq!(at(limit - 0.1), None);
    assert!(numbers(&at(-2000.0).expect("either way round"))[0] == 2000.0);
    // 12° of window over the time to the holding depth, in turns a minute.
    let pair = analysis(&json!({})).worked.pair.expect("they fit");
    assert!((limit - 12.0 / 360.0 * 60.0 / pair.travel_s).abs() < 1e-6, "{limit}");
}

#[test]
fn dogs_that_stand_on_their_edge_breaks_only_are_told_with_what_is_left_of_the_flank() {
    let pair = |overlap: f64| {
        let ring = json!({ "edge_break_mm": 0.5 });
        let saved = json!({ "a": ring, "b": ring, "overlap_mm": overlap, "hold_depth_mm": 0.5 });
        found(&saved, "only_edges_engaged")
    };
    let left = numbers(&pair(0.75).expect("on the edges"));
    assert!(left.len() == 1 && (left[0] + 0.25).abs() < 1e-9, "{left:?}");
    assert!(pair(1.0).is_some(), "nothing of the flank is left");
    assert_eq!(pair(1.25), None);
}

#[test]
fn a_shift_that_no_phase_brings_straight_in_is_a_warning_even_if_it_rubs_in() {
    // 12° windows, entered in 8.33 ms by the drum alone: straight in up to 240 rpm. With next to no mass to
    // bring along the tips rub the slip down to that.
    let at = |inertia: f64| {
        let given = json!({ "slip_rpm": 400, "tip_friction": 0.15, "inertia_kg_m2": inertia });
        found(&given, "too_fast_to_drop_in").expect("over the limit")
    };
    for (inertia, says) in [
        (1.0, "the gear never goes in at the first pass"),
        (0.0002, "the gear never goes straight in"),
    ] {
        let told = at(inertia);
        assert_eq!(told.severity, crenel::finding::Severity::Warning);
        assert!(text(&told).contains(says), "{}", text(&told));
    }
}

/// Up to 240 rpm the dogs go straight in; the shift into second is at more, that into third at less.
#[test]
fn the_hardest_shift_of_the_gearbox_decides() {
    let gear =
        |driving: u32, driven: u32| json!({ "driving_teeth": driving, "driven_teeth": driven });
    let gearbox = json!({ "gears": [gear(20, 30), gear(20, 26), gear(20, 25)] });
    let into = |gear: u32| {
        let given = json!({ "shift": "up", "gear": gear, "gearbox": gearbox });
        numbers(&found(&given, "too_fast_to_drop_in").expect("one is over"))
    };
    let own = analysis(&json!({ "shift": "up", "gear": 3, "gearbox": gearbox })).worked.pair;
    assert!(own.expect("they fit").shift_case.slip_rpm < 240.0);
    assert!(into(2) == into(3) && into(2)[0] > 240.0, "{:?} {:?}", into(2), into(3));
}

#[test]
fn an_unbalance_is_told_once_it_is_over_the_grade() {
    let cut = |grade: f64| {
        let ring = json!({ "cuts": { "2": "remove" } });
        let given = json!({ "a": ring, "balance_rpm": 1000, "balance_grade_mm_per_s": grade });
        found(&given, "unbalance_over_grade")
    };
    let [off, allowed] = numbers(&cut(0.4).expect("a whole dog"))[..] else {
        panic!("two numbers")
    };
    // What is allowed grows with the grade.
    let just = 0.4 * off / allowed;
    assert!((1.0..39.0).contains(&just), "{just}");
    assert_eq!(numbers(&cut(just - 0.01).expect("over"))[0], off);
    assert_eq!(cut(just + 0.01), None);
}

#[test]
fn flanks_cut_no_further_than_those_that_they_meet_are_well() {
    let pair = |to: f64| {
        let plan = json!([{ "do": "recut_drive", "recut_to_deg": to, "dogs": [1, 2, 3, 4, 5, 6] }]);
        let b = json!({ "back_cut_drive_deg": 3 });
        found(&json!({ "a": { "plan": plan }, "b": b }), "mating_flank_forgotten")
    };
    assert_eq!(pair(3.0), None);
    assert_eq!(pair(2.5), None);
    let told = numbers(&pair(3.5).expect("larger than the mating flanks"));
    assert!((told[0] - 3.5).abs() + (told[1] - 3.0).abs() < 1e-9, "{told:?}");
}

#[test]
fn tips_that_rub_to_a_standstill_are_told_with_the_torque_that_turns_them_apart() {
    // Dog over dog.
    let at = |slip: f64, friction: f64, code: &str| {
        let given = json!({ "phase_deg": 0, "slip_rpm": slip, "tip_friction": friction });
        found(&given, code)
    };
    let torque = |friction| numbers(&at(1.0, friction, "hangs_half_way").expect("tip on tip"))[0];
    assert!(torque(0.2) > 0.0 && (torque(0.2) / torque(0.1) - 2.0).abs() < 1e-9);
    // Without friction no torque holds them, but there is no slip to bring them on.
    assert!(at(0.0, 0.0, "hangs_without_friction").is_some());
    assert_eq!(at(0.0, 0.0, "hangs_half_way"), None);
}

#[test]
fn tips_cut_through_their_case_are_counted() {
    let cut = |tips: Value| {
        let given = json!({ "a": { "cuts": tips }, "case_depth_mm": 0.8 });
        found(&given, "core_on_tips")
    };
    // 5 mm high as found.
    let two = cut(json!({ "1": 4.1, "2": 4.3, "3": 3.5, "4": 4.9 })).expect("two of four");
    assert_eq!(numbers(&two), [2.0, 1.5, 0.8]);
    let one = cut(json!({ "1": 4.1, "2": 4.3 })).expect("one of two");
    assert_eq!(numbers(&one)[0], 1.0);
    assert_eq!(cut(json!({ "1": 4.3 })), None);
}
