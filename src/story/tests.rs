use super::*;
use crate::design::gallery;
use crate::figures::{CLUNK, LASH, STRAIGHT_IN_LIMIT};
use crenel_words::Reader;

fn story(key: &str) -> &'static Story {
    Story::named(key).expect("a story")
}

fn answer(key: &str) -> f64 {
    story(key).answer(&told_of()).value.expect("the example has an answer")
}

fn number(figure: &'static Figure, design: &Design) -> f64 {
    let found = some_figures([figure], &Analysis::of(design));
    found.first().and_then(|found| found.value).expect("the figure has a number")
}

#[test]
fn answers_for_the_example_are_those_of_the_check_values() {
    assert_eq!(answer("doors"), 4.0);
    assert!((answer("row") - 1.0).abs() < 1e-5, "{}", answer("row"));
    assert_eq!(answer("two"), 0.0);
    assert!((answer("throttle") - 0.256).abs() < 0.002, "{}", answer("throttle"));
    // ρ + atan(0.1·26/14) with ρ = atan 0.1: 5.711° + 10.521°.
    assert!((answer("lean") - 16.2316).abs() < 1e-3, "{}", answer("lean"));
}

#[test]
fn four_dogs_go_straight_in_up_to_875_rpm_and_five_up_to_515() {
    let limit =
        |count: f64| number(&STRAIGHT_IN_LIMIT, &story("doors").design(&told_of(), &[count]));
    assert!((limit(4.0) - 875.26).abs() < 0.01);
    assert!((limit(5.0) - 515.26).abs() < 0.01);
}

#[test]
fn a_lash_that_is_dragged_is_the_lash_of_the_design() {
    let story = story("throttle");
    let span = story.drags[0].span(&told_of());
    for lash in [span.min, 13.0, 26.1, 40.0, span.max] {
        let design = story.design(&told_of(), &[lash]);
        assert!((number(&LASH, &design) - lash).abs() < 1e-9, "{lash}");
    }
    let clunk = number(&CLUNK, &story.design(&told_of(), &story.starts(&told_of())));
    assert!((clunk - 604.0).abs() < 1.0, "{clunk}");
}

#[test]
fn every_cut_of_the_mate_but_the_last_leaves_the_slot_as_it_was() {
    let rows = story("two").answer(&told_of()).rows;
    let slots: Vec<_> = rows.iter().map(|row| row[1].show(Reader::default())).collect();
    assert_eq!(slots, ["12°", "12°", "12°", "12°", "12°", "12°", "72°"]);
}

#[test]
fn all_shifts_end_somehow_and_lapping_lets_fewer_hang() {
    let answer = story("faces").answer(&told_of());
    let share = |row: usize, column: usize| match answer.rows[row][column] {
        Value::Result(Quantity::Share, share) => share,
        ref other => panic!("{other:?}"),
    };
    for column in [1, 2] {
        let sum: f64 = (0..6).map(|row| share(row, column)).sum();
        assert!((sum - 1.0).abs() < 1e-9);
    }
    assert!(share(4, 2) < share(4, 1) && share(4, 1) > 0.05);
}

#[test]
fn stories_are_known_by_their_names() {
    assert_eq!(STORIES.map(|story| story.key), KEYS);
    assert!(KEYS.iter().all(|key| Story::named(key).is_some()) && Story::named("").is_none());
}

#[test]
fn a_paragraph_has_at_most_ninety_words() {
    for story in STORIES {
        let told = (story.told)().show(Reader::default());
        assert!(told.split_whitespace().count() <= 90, "{story:?}");
    }
}

/// Whatever the reader's own gears are, a story has a design for every number, and says something.
#[test]
fn every_story_is_told_of_any_design() {
    let designs = gallery().iter().map(|example| example.design());
    for base in designs.chain([Design::default(), Design::own_gear()]) {
        for story in STORIES {
            for drag in story.drags {
                let span = drag.span(&base);
                assert!(span.min <= span.start && span.start <= span.max, "{story:?}: {span:?}");
                for value in [f64::NAN, -1e9, span.min, span.max, 1e9] {
                    drop(story.figures(&Analysis::of(&story.design(&base, &[value]))));
                }
            }
            let answer = story.answer(&base);
            let said = answer.says.iter().all(|told| !told.show(Reader::default()).is_empty());
            assert!(!answer.says.is_empty() && said, "{story:?} of {}", base.title);
            assert!(answer.rows.iter().all(|row| row.len() == answer.heads.len()));
        }
    }
}

#[test]
fn a_guess_is_held_against_the_answer() {
    let (story, base) = (story("doors"), told_of());
    let answer = story.answer(&base);
    let said = |guess| story.verdict(&base, guess, &answer).map(|told| told.key());
    assert_eq!(said(4.0), Some("story.guess_right"));
    assert_eq!(said(5.0), Some("story.guess_off"));
}
