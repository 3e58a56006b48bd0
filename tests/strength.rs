//! The dogs under load, on pairs that a hand can follow.

use crenel::analysis::Analysis;

use crenel::design::{Design, LoadCase, open};
use crenel::load::Carried;
use crenel::model::Strength;
use crenel::ring::FlankSide;
use serde_json::json;

fn strength(design: &Design) -> Strength {
    Analysis::of(design).worked.pair.expect("the rings fit").strength.expect("dogs meet")
}

fn design(changes: &serde_json::Value) -> Design {
    let mut saved = json!({ "crenel": 1 });
    for (key, value) in changes.as_object().expect("changes by key") {
        saved[key] = value.clone();
    }
    open(&saved.to_string()).expect("it opens").design
}

#[test]
fn stresses_grow_with_the_torque_and_with_nothing_else() {
    let once = strength(&design(&json!({ "throttle_torque_nm": 50 })));
    let thrice = strength(&design(&json!({ "throttle_torque_nm": 50, "load_factor": 3 })));
    for (a, b) in once.pairs.iter().zip(&thrice.pairs) {
        assert!((b.force_n / a.force_n - 3.0).abs() < 1e-12);
        assert!((b.stresses.a.combined_mpa() / a.stresses.a.combined_mpa() - 3.0).abs() < 1e-12);
    }
}

#[test]
fn forces_of_all_that_carry_make_the_whole_torque() {
    let worn = json!([
        { "centre_deg": 0 }, { "centre_deg": 60.2 }, { "centre_deg": 119.9, "height_mm": 3.6 },
        { "centre_deg": 180.1 }, { "centre_deg": 240 }, { "centre_deg": 299.7, "tip_width_deg": 23.5 },
    ]);
    let mut worn = design(&json!({ "a": { "dogs": worn }, "carried_by": "spacing" }));
    for stiffness in [5.0, 100.0, 3000.0] {
        let slot = crenel::fields::Slot::Setting(crenel::fields::FieldId::DogStiffness);
        assert!(worn.set(slot, stiffness));
        let strength = strength(&worn);
        let sum: f64 = strength.pairs.iter().map(|pair| pair.force_n).sum();
        assert!((sum / strength.force_n - 1.0).abs() < 1e-9, "{stiffness}: {sum}");
    }
    // All of equal dogs carry alike, whichever way that is found out.
    let by = |carried: Carried| {
        let mut even = Design::default();
        even.setting.carried = carried;
        strength(&even).pairs.iter().map(|pair| pair.force_n).collect::<Vec<_>>()
    };
    for (a, b) in by(Carried::All).into_iter().zip(by(Carried::Spacing)) {
        assert!((a - b).abs() < 1e-6, "{a} {b}");
    }
}

#[test]
fn back_cuts_edges_and_cuts_leave_less_to_carry() {
    let plain = strength(&Design::default());
    let root = |changes: &serde_json::Value| strength(&design(changes)).pairs[0].roots.a;
    let undercut = root(&json!({ "a": { "back_cut_drive_deg": 5, "back_cut_coast_deg": 3 } }));
    let tan = |degrees: f64| libm::tan(degrees.to_radians());
    // The root is thinner by the height times both tangents.
    let thinner = plain.pairs[0].roots.a.thickness_mm - undercut.thickness_mm;
    assert!((thinner - 5.0 * (tan(5.0) + tan(3.0))).abs() < 1e-9, "{thinner}");
    assert!(undercut.area_mm2 < plain.pairs[0].roots.a.area_mm2);
    let broken = root(&json!({ "a": { "edge_break_mm": 0.4 }, "b": { "edge_break_mm": 0.3 } }));
    assert!((broken.engaged_mm - (4.5 - 0.7)).abs() < 1e-9);
    // From 0.4 under A's tip to 4.5 less 0.3: middle 2.3 below the tip, 2.7 above the root.
    assert!((broken.arm_mm - 2.7).abs() < 1e-9, "{}", broken.arm_mm);
}

#[test]
fn the_largest_case_takes_the_blow_or_the_clunk() {
    let mut design = Design::default();
    let steady = strength(&design).torque_nm;
    design.setting.case = LoadCase::Largest;
    let analysis = Analysis::of(&design);
    let pair = analysis.worked.pair.expect("the rings fit");
    let largest = pair.strength.expect("dogs meet").torque_nm;
    assert_eq!(largest, pair.torques.largest_nm(FlankSide::Drive));
    assert!(largest > 2.0 * steady, "{largest} {steady}");
}

#[test]
fn a_table_says_how_many_of_the_dogs_that_meet_carry() {
    let rows = |strength: &Strength| strength.pairs.iter().map(|p| p.force_n).sum::<f64>();
    // Six meet and, by the rule, three carry: the rows are each what one of three takes.
    let six = strength(&Design::default());
    let of = |message: crenel_words::Message| {
        (message.key(), message.numbers().map(|(_, number)| number).collect::<Vec<_>>())
    };
    assert_eq!(of(six.force_head()), ("figure.force_if_carrying", vec![3.0, 6.0]));
    assert!((rows(&six) / six.force_n - 2.0).abs() < 1e-9);
    let each = six.force_n / 3.0;
    let told = of(six.idle_words().expect("three are idle"));
    assert_eq!(told, ("figure.some_carry", vec![6.0, six.force_n, 3.0, each]));
    // Of three all carry, and of six where all are said to.
    let three = strength(&design(&json!({ "a": { "count": 3 }, "b": { "count": 3 } })));
    let all = strength(&design(&json!({ "carried_by": "all" })));
    for strength in [three, all] {
        assert_eq!((strength.force_head().key(), strength.idle_words()), ("figure.force", None));
        assert!((rows(&strength) / strength.force_n - 1.0).abs() < 1e-9);
    }
}
