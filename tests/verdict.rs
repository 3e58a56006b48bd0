//! The verdict on the gallery and on designs made from it.

use crenel::analysis::Analysis;
use crenel::design::{Design, example, gallery};
use crenel::finding::Class;
use crenel::verdict::{Stage, Verdict, headline, matters};
use crenel_words::Reader;

fn design(key: &str) -> Design {
    let found = gallery().iter().find(|one| one.key == key);
    found.map_or_else(example, |one| one.design())
}

#[test]
fn each_design_has_its_verdict() {
    let cases = [
        ("example", Class::Entry, "verdict.hard_shift", Stage::Pair),
        ("few-dogs", Class::Stress, "verdict.stress", Stage::Pair),
        ("six-on-six", Class::Entry, "verdict.too_fast", Stage::Pair),
        ("five-on-five", Class::Within, "verdict.within_at_least", Stage::Pair),
        ("half-height", Class::Within, "verdict.within_at_most", Stage::Pair),
        ("one-ring-cut", Class::Entry, "verdict.too_fast", Stage::Pair),
        ("cut-down", Class::Within, "verdict.within_at_most", Stage::Pair),
        ("rounded-flanks", Class::Hold, "verdict.pushed_out", Stage::Pair),
        ("rough-faces", Class::Entry, "verdict.measured", Stage::Cause),
        ("damaged-dog", Class::Stress, "verdict.stress", Stage::Pair),
        ("worn-measured", Class::Hold, "verdict.pushed_out", Stage::Pair),
        ("shallow-dogs", Class::Fit, "verdict.too_shallow", Stage::Cause),
        ("cramped-linkage", Class::Fit, "finding.linkage_cramps", Stage::Cause),
        ("claw-overthrows", Class::Fit, "verdict.not_the_dogs", Stage::Cause),
        ("kicks-back", Class::Hold, "verdict.measured", Stage::Cause),
        ("wide-first-step", Class::Entry, "verdict.hard_shift", Stage::Pair),
        ("road-six-speed", Class::Entry, "verdict.hard_shift", Stage::Pair),
    ];
    for (key, class, sentence, stage) in cases {
        let verdict = Verdict::of(&Analysis::of(&design(key)));
        let told = (verdict.class, verdict.fact.key(), verdict.stage);
        assert_eq!(told, (class, sentence, stage), "{key}");
    }
}

#[test]
fn nothing_is_past_a_limit_exactly_if_the_verdict_says_so() {
    for one in gallery() {
        let analysis = Analysis::of(&one.design());
        let matters = matters(&analysis);
        let verdict = Verdict::of(&analysis);
        assert_eq!(verdict.class == Class::Within, matters.is_empty(), "{}", one.key);
        assert!(matters.is_sorted_by_key(|matter| matter.class), "{}", one.key);
        assert_eq!(verdict, Verdict::of(&analysis), "{}", one.key);
    }
}

#[test]
fn the_figures_of_the_pair_have_their_limits_beside_them() {
    let analysis = Analysis::of(&example());
    let told = headline(Stage::Pair, &analysis).map(|one| {
        let told = one.told.map(|told| told.show(Reader::default()));
        (one.value.show(Reader::default()), told)
    });
    let is = |value: &str, told: Option<&str>| (value.to_owned(), told.map(str::to_owned));
    let want =
        [is("3.1 ms", Some("needs 8.3 ms")), is("275 rpm", Some("needs 749 rpm")), is("13°", None)];
    assert_eq!(told, want);
}
