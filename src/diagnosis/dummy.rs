//! A symptom and a check that only tests have: a row each, and every surface shows them.

use crenel_words::{Message, Text, diagnosis as say};
use serde_json::json;

use super::evidence::{CheckOutcome, KnownBy};
use super::{Check, CheckStatus, Station, diagnose, sketch};
use crate::analysis::Analysis;
use crate::design::{Design, Symptom, decode, encode, example, open, save, to_json};
use crate::report::{report_json, report_schema};

static TITLE: Text = Text { key: "test.dummy", english: "Dummy" };
static NEXT: Text = Text { key: "test.dummy_next", english: "Remove the dummy." };
static LOOSE: Text = Text { key: "test.loose", english: "It is loose." };
static SHAKE: Text = Text { key: "test.shake", english: "Shake it." };

const fn says(text: &'static Text) -> Message {
    Message::new(text, Vec::new())
}

/// It is past its limit where its symptom is felt.
pub(super) const DUMMY: Check = Check {
    key: "dummy",
    title: || says(&TITLE),
    station: Station::Layout,
    symptoms: &[Symptom::DUMMY],
    cleared_by: &[],
    class: None,
    measured: &[],
    next: || says(&NEXT),
    sketch: sketch::DUMMY,
    judge: |evidence| {
        let is_felt = evidence.drawn.design.trace.felt.contains(&Symptom::DUMMY);
        let outcome = || CheckOutcome::new(KnownBy::Measured, 0.5, vec![says(&LOOSE)]);
        is_felt.then(outcome).ok_or_else(|| says(&SHAKE))
    },
};

fn rattling() -> Design {
    let mut design = example();
    design.trace.felt = [Symptom::DUMMY].into();
    design
}

#[test]
fn the_symptom_is_saved_and_sent_by_its_key() {
    let design = rattling();
    assert_eq!(save(&design)["felt"], json!(["dummy"]));
    let opened = open(&to_json(&design)).expect("it opens");
    assert_eq!((&opened.design, opened.findings.len()), (&design, 0));
    let sent = decode(&encode(&design)).expect("it opens");
    assert_eq!(sent.design.trace, design.trace);
    let findings = open(r#"{ "crenel": 1, "felt": ["nothing"] }"#).expect_err("it is unknown");
    assert!(
        findings[0].hint(crenel_words::Reader::default()).contains(", dummy, "),
        "{findings:?}"
    );
}

#[test]
fn the_check_is_asked_for_its_symptom_and_said_to_be_the_cause() {
    let diagnosis = diagnose(&Analysis::of(&rattling()));
    let [checked] = diagnosis.checks.as_slice() else { panic!("{:?}", diagnosis.checks) };
    assert_eq!((checked.check, checked.status), (&DUMMY, CheckStatus::Fails));
    assert_eq!(checked.says, [says(&LOOSE)]);
    assert_eq!(checked.next, Some(says(&NEXT)));
    assert_eq!(checked.explains, [Symptom::DUMMY]);
    assert_eq!(diagnosis.verdict(), [say::furthest_and_outermost(says(&TITLE))]);
}

#[test]
fn the_check_is_open_among_all_where_nothing_is_felt() {
    let diagnosis = diagnose(&Analysis::of(&example()));
    let dummy = diagnosis.checks.iter().find(|checked| *checked.check == DUMMY).expect("asked");
    assert_eq!((dummy.status, &dummy.says[..]), (CheckStatus::Open, &[says(&SHAKE)][..]));
}

#[test]
fn both_are_in_the_report_and_its_schema() {
    let report = report_json(&Analysis::of(&rattling()));
    let checked = &report["trace"]["checks"][0];
    assert_eq!([&checked["check"], &checked["title"]], [&json!("dummy"), &json!("Dummy")]);
    assert_eq!(checked["explains"], json!(["dummy"]));
    let schema = report_schema();
    let of_checks = &schema["properties"]["trace"]["properties"]["checks"]["items"];
    let listed = |list: &serde_json::Value, word| {
        list["enum"].as_array().expect("a list").contains(&json!(word))
    };
    assert!(listed(&of_checks["properties"]["check"], "dummy"));
    assert!(listed(&of_checks["properties"]["explains"]["items"], "dummy"));
}
