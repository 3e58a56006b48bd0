//! The verdict on any design: it never fails, and it says that nothing is past a limit exactly where nothing is.

use crenel::analysis::Analysis;
use crenel::design::{Design, open, to_json};
use crenel::figures::figures;
use crenel::finding::Class;
use crenel::verdict::{Stage, Verdict, change, headline, matters};
use crenel_words::Reader;
use proptest::prelude::*;

use crate::cases;
use crate::designs::{any_number, design, sound_pair, within};

/// What holds for the verdict on every design.
fn holds(design: &Design) -> Result<(), TestCaseError> {
    let analysis = Analysis::of(design);
    let (all, verdict) = (matters(&analysis), Verdict::of(&analysis));
    prop_assert_eq!(&verdict, &Verdict::of(&Analysis::of(design)));
    prop_assert_eq!(verdict.class == Class::Within, all.is_empty());
    prop_assert!(all.is_sorted_by_key(|matter| matter.class));
    prop_assert!(all.iter().all(|matter| matter.excess.is_finite() && matter.excess >= 0.0));
    prop_assert!(all.iter().all(|matter| matter.class != Class::Within));
    prop_assert!(verdict.assumed.iter().all(|slot| design.is_assumed(*slot)));
    for message in [&verdict.fact, &verdict.short].into_iter().chain(&verdict.next) {
        prop_assert!(!message.show(Reader::default()).contains('{'), "{:?}", message);
    }
    for stage in Stage::ALL {
        headline(stage, &analysis);
    }
    Ok(())
}

/// A figure that is past its limit is a matter, whatever the findings say.
fn no_figure_is_past_unnoticed(design: &Design) -> Result<(), TestCaseError> {
    let analysis = Analysis::of(design);
    let all = matters(&analysis);
    for value in figures(&analysis) {
        let gauge = value.value.and_then(|number| value.figure.gauge(number, &analysis));
        let is_past = gauge.is_some_and(|gauge| gauge.is_past());
        prop_assert!(!is_past || !all.is_empty(), "{:?} {:?}", value.figure, gauge);
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn any_design_has_a_verdict(design in design(any_number)) {
        holds(&design)?;
    }

    #[test]
    fn a_design_within_its_limits_has_a_verdict(design in design(within)) {
        holds(&design)?;
        no_figure_is_past_unnoticed(&design)?;
    }

    #[test]
    fn a_sound_pair_has_a_verdict([a, b] in sound_pair(), rest in design(within)) {
        let design = Design { a, b, ..rest };
        holds(&design)?;
        no_figure_is_past_unnoticed(&design)?;
    }

    #[test]
    fn a_change_is_told_both_ways(one in design(within), [a, b] in sound_pair()) {
        let other = Design { a, b, ..one.clone() };
        let [was, is] = [&one, &other].map(Analysis::of);
        let [there, back] = [change(&was, &is), change(&is, &was)];
        prop_assert_eq!(there.is_some(), back.is_some());
        if let Some((there, back)) = there.zip(back) {
            prop_assert_eq!(there.crossed.len(), back.crossed.len());
        }
        prop_assert_eq!(change(&was, &was), None);
    }

    #[test]
    fn numbers_that_were_given_stay_given(design in design(within)) {
        let mut all = design.clone();
        for slot in design.assumed() {
            all.set_given(slot, slot.field().spec().default);
        }
        prop_assert_eq!(all.assumed(), []);
        let again = open(&to_json(&all)).expect("our own file");
        prop_assert_eq!(again.design, all);
    }
}
