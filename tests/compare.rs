//! Layouts side by side: what is held, what is marked, and what is said about the differences.

use crenel::compare::{Comparison, MOST_COLUMNS, Shown, shown};
use crenel::design::{Design, Normalize, RingPair, START_RINGS, example};
use crenel::fields::FieldId;
use crenel::figures::Better;
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
    let cases = [(1, "compare.held_no_dog", None, 0.8), (2, "compare.held_jams", Some(2.5), 72.0)];
    for (column, why, last, free) in cases {
        let note = comparison.columns[column].note.as_ref().expect("a note");
        let told = numbers(note).last().copied();
        assert_eq!(note.key(), why);
        assert_eq!(told.is_some(), last.is_some());
        assert!((told.unwrap_or_default() - last.unwrap_or_default()).abs() < 1e-9, "{note:?}");
        assert!((number(&comparison, column, "free_angle_deg") - free).abs() < 1e-9);
    }
    assert_eq!(comparison.normalized.key(), "compare.free_held_except");
    let except = [2, 3].map(Value::how_many).to_vec();
    assert_eq!(comparison.normalized.values()[1].1, Value::List(except));
}

#[test]
fn the_best_is_marked_where_one_way_is_better() {
    let comparison = against(Normalize::AsDrawn, &["three", "six-half", "spline"]);
    let marks = |key: &str| {
        let row = comparison.rows.iter().find(|row| row.figure.key == key).expect("a row");
        row.cells.iter().map(|cell| cell.is_best).collect::<Vec<_>>()
    };
    // A number that two share has no mark.
    assert_eq!(marks("free_angle_deg"), [false; 4]);
    assert_eq!(marks("lash_deg"), [false, false, false, true]);
    // Neither many windows nor few are better by themselves, and the depth is the same in all.
    assert_eq!(marks("entry_windows"), [false; 4]);
    assert_eq!(marks("full_depth_mm"), [false; 4]);
}

#[test]
fn rows_that_differ_most_come_first_and_none_is_lost() {
    let comparison = against(Normalize::AsDrawn, &["three", "six-half", "spline"]);
    let lots = comparison.by_difference(8);
    assert_eq!(lots[0].len(), 8);
    assert_eq!(lots.iter().map(Vec::len).sum::<usize>(), comparison.rows.len());
    let least = lots[0].iter().map(|row| row.spread).fold(f64::INFINITY, f64::min);
    for row in &lots[1] {
        assert!(row.spread > 0.0, "{:?}", row.figure);
        let directed = row.figure.better != Better::Neither;
        assert!(!directed || row.spread <= least, "{:?} {} {least}", row.figure, row.spread);
    }
    for row in &lots[2] {
        assert!(row.cells.windows(2).all(|two| two[0].shown.is_some() == two[1].shown.is_some()));
    }
    let is_in = |lot: usize, key: &str| lots[lot].iter().any(|row| row.figure.key == key);
    assert!(is_in(2, "full_depth_mm") && !is_in(2, "lash_deg") && !is_in(2, "entry_windows"));
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

fn named(text: &str) -> Design {
    crenel::design::open(text).expect("it opens").design
}

/// Three variants; the first has no work.
const THREE: &str = r#"{ "crenel": 1, "title": "Second gear",
    "a": { "plan": [{ "do": "recut_drive", "recut_to_deg": 3, "dogs": [1, 2, 3, 4, 5, 6] }] },
    "variants": [{ "name": "half-height", "a": { "cuts": { "2": 2.5, "4": 2.5, "6": 2.5 } } },
        { "name": "left out", "compared": false }, { "name": "re-cut", "current": true }] }"#;

fn titles(design: &Design) -> Vec<String> {
    let columns = Comparison::of(design).columns;
    columns.iter().map(|column| column.name().show(Default::default())).collect()
}

#[test]
fn variants_stand_after_the_first_state_and_before_other_layouts() {
    let mut design = named(THREE);
    // The variant without work is the first state, whether it is ticked or not.
    assert_eq!(titles(&design), ["left out", "half-height", "re-cut"]);
    assert_eq!(shown(&design)[0], Shown::Variant(1));
    assert!(Shown::Variant(2).is_current(&design));
    design.alternatives = vec![RingPair { title: "Other".to_owned(), ..RingPair::default() }];
    assert_eq!(titles(&design), ["left out", "half-height", "re-cut", "Other"]);
    design.remove_variant(1);
    assert_eq!(titles(&design), ["As found", "half-height", "re-cut", "Other"]);
    design.variants.set_compared(0, false);
    assert_eq!(titles(&design), ["As found", "re-cut", "Other"]);
}

#[test]
fn a_plan_without_variants_stands_beside_what_it_was_made_for() {
    let mut design =
        named(r#"{ "crenel": 1, "title": "Cut", "a": { "cuts": { "2": "remove" } } }"#);
    assert_eq!(titles(&design), ["As found", "Cut"]);
    design.a.plan = Default::default();
    assert_eq!(titles(&design), ["Cut"]);
}

#[test]
fn no_more_columns_are_shown_than_fit_and_layouts_keep_theirs() {
    let mut design = named(THREE);
    while design.add_variant(String::new(), String::new()) {}
    assert_eq!(shown(&design).len(), MOST_COLUMNS);
    design.alternatives = vec![RingPair::default(); 3];
    let columns = shown(&design);
    assert_eq!(columns.len(), MOST_COLUMNS);
    assert_eq!(columns[3..], [Shown::Layout(0), Shown::Layout(1), Shown::Layout(2)]);
}

/// Six dogs of 24° on six: windows of 12°. Widened by 6° each they close; of three dogs the windows are 72°.
#[test]
fn a_typed_value_is_held_in_every_layout_within_what_each_can_have() {
    let mut design = example();
    design.normalize = Normalize::FreeAngle;
    design.held_deg = Some(20.0);
    let three = START_RINGS.iter().find(|start| start.key == "three").expect("a starting ring");
    design.alternatives = vec![RingPair { title: String::new(), a: three.ring(), b: three.ring() }];
    let comparison = Comparison::of(&design);
    for column in 0..2 {
        assert!((number(&comparison, column, "free_angle_deg") - 20.0).abs() < 1e-9);
    }
    assert_eq!(comparison.normalized, say::free_held(20.0));
    let (least, most) = comparison.range_deg.expect("a range");
    // Six dogs a minute wide leave windows of nearly 60°, less the width of two dogs.
    assert!(least < 1.0 && (50.0..=60.0).contains(&most), "{least} {most}");
    let free = |held: f64| Comparison::of(&Design { held_deg: Some(held), ..design.clone() });
    assert!(free(most - 0.01).columns.iter().all(|column| !column.not_normalized));
    let past = free(most + 0.01);
    assert!(past.columns[0].not_normalized && !past.columns[1].not_normalized);
}

/// What was told as dogs “−6° wide”.
#[test]
fn no_layout_is_told_to_have_dogs_of_less_than_nothing() {
    let design = Design { held_deg: Some(24.0), ..design_against("spline") };
    let note = Comparison::of(&design).columns[1].note.clone().expect("a note");
    assert_eq!(note, say::held_no_dog());
    assert!(numbers(&note).is_empty());
}

fn design_against(key: &str) -> Design {
    let start = START_RINGS.iter().find(|start| start.key == key).expect("a starting ring");
    let pair = RingPair { title: String::new(), a: start.ring(), b: start.ring() };
    Design { normalize: Normalize::FreeAngle, alternatives: vec![pair], ..example() }
}
