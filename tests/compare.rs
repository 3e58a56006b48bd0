//! Layouts side by side: what is held, what is marked, and what is said about the differences.

use crenel::compare::{Comparison, Mark};
use crenel::design::{Design, Normalize, RingPair, START_RINGS, example};
use crenel::fields::FieldId;
use crenel_words::{Message, Value, compare as say};

/// The example against starting rings.
fn against(normalize: Normalize, starts: &[&str]) -> Comparison {
    let pair = |key: &&str| {
        let start = START_RINGS.iter().find(|start| start.key == *key).expect("a starting ring");
        RingPair { title: start.key.to_owned(), a: start.ring(), b: start.ring() }
    };
    let design = Design { normalize, alternatives: starts.iter().map(pair).collect(), ..example() };
    Comparison::of(&design)
}

fn number(comparison: &Comparison, column: usize, key: &str) -> f64 {
    let figures = &comparison.columns[column].figures;
    let figure = figures.iter().find(|f| f.figure.key == key).unwrap_or_else(|| panic!("no {key}"));
    figure.value.unwrap_or_else(|| panic!("{key} has no number"))
}

fn numbers(message: &Message) -> Vec<f64> {
    message.numbers().map(|(_, number)| number).collect()
}

/// The sentence of a paragraph that has a key.
fn says<'a>(paragraph: &'a [Message], key: &str) -> &'a Message {
    let keys = || paragraph.iter().map(Message::key).collect::<Vec<_>>();
    let found = paragraph.iter().find(|message| message.key() == key);
    found.unwrap_or_else(|| panic!("{key} is not in {:?}", keys()))
}

#[test]
fn what_is_held_is_the_same_in_every_layout() {
    let starts = ["three", "five"];
    let drawn = against(Normalize::AsDrawn, &starts);
    assert!((number(&drawn, 1, "free_angle_deg") - 72.0).abs() < 1e-9);
    let free = against(Normalize::FreeAngle, &starts);
    for column in 1..=2 {
        let angle = number(&free, column, "free_angle_deg");
        assert!((angle - 12.0).abs() < 1e-9, "{column}: {angle}");
        let note = free.columns[column].note.as_ref().map(Message::key);
        assert_eq!(note, Some("compare.widened"));
    }
    assert_eq!(free.normalized, say::free_held(number(&free, 0, "free_angle_deg")));
    // Slots of 38° leave webs of 22°; held at 24° they are 36° wide.
    let width = against(Normalize::DogWidth, &["slots"]);
    assert!((number(&width, 1, "free_angle_deg") - 12.0).abs() < 1e-9);
    assert_eq!(width.normalized.key(), "compare.width_held");
    assert!((numbers(&width.normalized)[0] - 24.0).abs() < 1e-9, "{:?}", width.normalized);
}

#[test]
fn fewer_dogs_help_at_one_width_and_hurt_at_one_free_angle() {
    // The chance rises as N falls where the dog width is held, and with N where the free angle is.
    let chance = |comparison: &Comparison, column| number(comparison, column, "straight_in_share");
    let slow = |normalize| {
        let mut design = example();
        design.setting.from = crenel::design::ShiftFrom::Typed;
        *design.setting.field_mut(FieldId::SlipSpeed).expect("a field") = 60.0;
        design.normalize = normalize;
        let ring = |key: &str| START_RINGS.iter().find(|s| s.key == key).expect("a start").ring();
        design.alternatives =
            vec![RingPair { title: String::new(), a: ring("three"), b: ring("three") }];
        design.a = ring("six");
        design.b = ring("six");
        Comparison::of(&design)
    };
    let (width, free) = (slow(Normalize::DogWidth), slow(Normalize::FreeAngle));
    assert!(chance(&width, 1) > chance(&width, 0), "three dogs, dog width held");
    assert!(chance(&free, 1) < chance(&free, 0), "three dogs, free angle held");
}

#[test]
fn what_cannot_be_held_says_why_and_stands_as_drawn() {
    // Thirty dogs have a pitch of 12°: with windows of 12° nothing would be left of them.
    // And six dogs of which every second is short would jam on the short ones.
    let comparison = against(Normalize::FreeAngle, &["spline", "six-half"]);
    let cases = [(1, "compare.held_too_wide", 0.0, 0.8), (2, "compare.held_jams", 2.5, 72.0)];
    for (column, why, last, free) in cases {
        let note = comparison.columns[column].note.as_ref().expect("a note");
        let told = numbers(note).last().copied().expect("a number");
        assert_eq!(note.key(), why);
        assert!((told - last).abs() < 1e-9, "{note:?}");
        assert!((number(&comparison, column, "free_angle_deg") - free).abs() < 1e-9);
    }
    assert_eq!(comparison.normalized.key(), "compare.free_held_except");
    let except = [2, 3].map(Value::how_many).to_vec();
    assert_eq!(comparison.normalized.values()[1].1, Value::List(except));
}

#[test]
fn best_and_worst_are_marked_where_one_way_is_better() {
    let comparison = against(Normalize::AsDrawn, &["three", "six-half", "spline"]);
    let marks = |key: &str| {
        let row = comparison.rows.iter().find(|row| row.figure.key == key).expect("a row");
        row.cells.iter().map(|cell| cell.mark).collect::<Vec<_>>()
    };
    let (best, worst) = (Some(Mark::Best), Some(Mark::Worst));
    assert_eq!(marks("free_angle_deg"), [None, best, best, worst]);
    assert_eq!(marks("lash_deg"), [None, worst, None, best]);
    // Neither many windows nor few are better by themselves, and the depth is the same in all.
    assert_eq!(marks("entry_windows"), [None; 4]);
    assert_eq!(marks("full_depth_mm"), [None; 4]);
}

#[test]
fn differences_are_told_with_their_numbers() {
    let comparison = against(Normalize::AsDrawn, &["six-half", "three"]);
    let [half, three] = comparison.differences.as_slice() else { panic!("two paragraphs") };
    let easier = numbers(says(half, "compare.easier"));
    let near = |(told, want): (&f64, f64)| (told - want).abs() < 1e-9;
    let wanted = [2.0, 3.0, 72.0, 6.0, 12.0];
    assert!(easier.len() == 5 && easier.iter().zip(wanted).all(near), "{easier:?}");
    let lash = says(half, "compare.clunk");
    let [mean, at_tips] = [numbers(lash)[0], numbers(lash)[1]];
    assert!((mean - 12.0).abs() < 1e-9 && (at_tips - 13.04).abs() < 0.005, "{lash:?}");
    assert_eq!(lash.values()[0].1, Value::Pick("less"));
    assert_eq!(says(three, "compare.clunk").values()[0].1, Value::Pick("more"));
    assert_eq!(numbers(says(three, "compare.pairs_meeting")), [3.0, 6.0]);
    let same = against(Normalize::AsDrawn, &[]);
    assert!(same.differences.is_empty() && same.columns.len() == 1);
}

#[test]
fn a_layout_that_cannot_be_worked_out_says_so_and_spoils_no_other() {
    let mut broken = RingPair { title: "Torn".to_owned(), ..RingPair::default() };
    broken.a.inner_diameter_mm = 90.0;
    let design = Design { alternatives: vec![broken, RingPair::default()], ..example() };
    let comparison = Comparison::of(&design);
    let [why] = comparison.differences[0].as_slice() else { panic!("one sentence") };
    assert_eq!(why.key(), "compare.cannot_be_computed");
    assert_eq!(why.values()[1].1, Value::Given("Torn".to_owned()));
    assert_eq!(number(&comparison, 2, "entry_windows"), 6.0);
    assert_eq!(comparison.rows[0].cells[1].shown, None);
}

/// Flanks that taper by 6° close a gap of 1.6° at 26 mm at `1.6°·26/(2·tan 6°)`, 3.454 mm.
#[test]
fn a_layout_that_jams_is_told_with_its_depth() {
    let text = r#"{ "crenel": 1, "a": { "tip_width_deg": 29.2, "back_cut_drive_deg": -6, "back_cut_coast_deg": -6 } }"#;
    let ring = crenel::design::open(text).expect("it opens").design.a;
    let jams = RingPair { title: "Tapered".to_owned(), a: ring.clone(), b: ring };
    let design = Design { alternatives: vec![jams], ..example() };
    let comparison = Comparison::of(&design);
    let jams = says(&comparison.differences[0], "compare.jams");
    assert_eq!(numbers(jams)[0], 2.0);
    assert!((numbers(jams)[1] - 3.454).abs() < 0.0005, "{jams:?}");
}

#[test]
fn half_height_says_what_gets_worse_too() {
    let comparison = against(Normalize::AsDrawn, &["six-half"]);
    let [half] = comparison.differences.as_slice() else { panic!("one paragraph") };
    let pressures = [1, 0].map(|column| number(&comparison, column, "overrun_pressure_mpa"));
    assert!(pressures[0] > 1.02 * pressures[1], "only the tall dogs carry the coast side");
    assert_eq!(numbers(says(half, "compare.overrun_pressure_rises")), pressures);
    // Slow, its faces are longer to rub along: the plain six goes in more often there.
    let less_often = half.iter().filter(|one| one.key().starts_with("compare.less_often"));
    assert_eq!(less_often.count(), 1, "{half:?}");
}

#[test]
fn the_first_pass_counts_what_goes_straight_in_and_what_rubs_first() {
    let mut design = example();
    *design.setting.field_mut(FieldId::Inertia).expect("a field") = 0.0005;
    let three = START_RINGS.iter().find(|start| start.key == "three").expect("a starting ring");
    design.alternatives = vec![RingPair { title: String::new(), a: three.ring(), b: three.ring() }];
    let comparison = Comparison::of(&design);
    let share = |column, key| number(&comparison, column, &format!("first_pass_{key}_share"));
    let shares = [1, 0].map(|column| {
        let [straight, rubbed] = ["straight", "rubbed"].map(|key| share(column, key));
        straight + rubbed
    });
    assert!(share(1, "rubbed") > 0.1);
    assert_eq!(numbers(says(&comparison.differences[0], "compare.first_pass")), shares);
}
