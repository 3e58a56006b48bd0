//! The smallest cut that reaches a goal.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::asked::Search;
use super::offer::{Spare, Suggestion};
use super::progress::{Searching, Steps, finish};
use super::strategy::CutStrategy;
use super::wished::{Least, Wished};
use crate::analysis::Analysis;
use crate::units::sort_by_number;

/// How many strategies of one kind, and how many cuts dog by dog of one kind, are examined for one that is advisable.
const TRIED_ALIKE: usize = 6;
const TRIED_SINGLE: usize = 12;

/// How many advisable suggestions are shown where the goal can be reached.
const MOST_SHOWN: usize = 8;

/// How many suggestions that are not advisable are shown after those.
const UNADVISED_SHOWN: usize = 3;

/// How many suggestions of each of the two are shown where the goal cannot be reached.
const NEAREST_SHOWN: usize = 3;

/// Cuts that reach a goal on top of the work that is planned already, within the ceilings of the search. Cuts
/// that still meet the goal with every size off by its tolerance come first, those that are not
/// advisable last; in each group the least metal comes first. If no cut reaches the goal, the nearest ones
/// are listed. The list is empty if the design cannot be worked out, or if it meets the goal already.
///
/// Every dog is searched on its own: it can be lowered or removed, either flank can be narrowed, and its edges
/// can be broken, on one ring or on both; the window may open at any phase. Every second dog of a ring treated
/// alike, and all coast flanks narrowed alike, are offered too, because a shop sets up for them once. The
/// metal includes edge breaks, as chamfers of 45°. At least 1 mm of each dog is left. One of the tallest dogs that
/// are left on each ring keeps its height, because cutting all of them down loses overlap. Edge breaks of both
/// rings together do not exceed the holding depth, and leave half of each tip. Flank angles are not changed.
///
/// Sizes are whole steps that a shop works to, rounded to the side that keeps the goal. Where no cut holds over
/// the tolerances, those that reach the goal at their nominal sizes are listed, in finer steps where the usual
/// ones are too coarse.
pub fn suggestions(now: &Analysis, search: &Search) -> Vec<Suggestion> {
    finish(found(now, search, &Steps::default()))
}

/// The same search in steps, for a caller that has other things to do in between.
pub fn searching(now: Arc<Analysis>, search: Search) -> Searching<Vec<Suggestion>> {
    Searching::new(async move |steps: Steps| found(&now, &search, &steps).await)
}

async fn found(now: &Analysis, search: &Search, steps: &Steps) -> Vec<Suggestion> {
    if now.pair.is_none() || search.is_met(now) {
        return Vec::new();
    }
    let wished = Wished::of(now, search);
    let ways = CutStrategy::all(now);
    steps.expect(ways.len());
    // Strategies that read alike, such as every second dog from the first and from the second.
    let mut alike: BTreeMap<_, Vec<Least>> = BTreeMap::new();
    for way in ways {
        if let Some(least) = wished.least(now, way) {
            alike.entry(way.kind()).or_default().push(least);
        }
        steps.tried().await;
    }
    let mut list = Vec::new();
    for of_kind in alike.into_values() {
        list.extend(wished.best_of(of_kind, now, TRIED_ALIKE, steps).await);
    }
    for of_kind in wished.dog_by_dog(now, steps).await {
        list.extend(wished.best_of(of_kind, now, TRIED_SINGLE, steps).await);
    }
    sorted(list, search.holds)
}

/// What is shown of a list, in its order.
fn sorted(mut list: Vec<Suggestion>, holds: bool) -> Vec<Suggestion> {
    let any = list.iter().any(|one| one.reached);
    list.retain(|one| one.reached == any);
    sort_by_number(&mut list, |one| if any { one.stock_g } else { -one.reaches });
    let mut kept: Vec<Suggestion> = Vec::new();
    for one in list {
        if kept.iter().all(|other| other.design != one.design) {
            kept.push(one);
        }
    }
    let (mut against, mut list): (Vec<_>, Vec<_>) =
        kept.into_iter().partition(|suggestion| suggestion.against.is_some());
    for list in [&mut list, &mut against] {
        sort_by_number(list, |one| f64::from(u8::from(holds && one.spare == Spare::None)));
    }
    let most = match (any, list.is_empty()) {
        (false, _) => [NEAREST_SHOWN; 2],
        (true, true) => [0, MOST_SHOWN],
        (true, false) => [MOST_SHOWN, UNADVISED_SHOWN],
    };
    list.truncate(most[0]);
    against.truncate(most[1]);
    list.extend(against);
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Cut, Design, Operation, RingSpec, Work};
    use crate::fields::{FieldId, Slot};
    use crate::figures::{Figure, Group, OVERRUN_PRESSURE};
    use crate::ring::{Dog, FlankSide, Side};
    use crate::suggest::asked::Ceilings;
    use crate::suggest::goal::{Goal, reaches};
    use crate::suggest::new_sizes::reach_at_worst;
    use crate::suggest::offer::mass_g;
    use crate::suggest::step::FlankStep;
    use crate::suggest::wished::SAME;
    use crate::suggest::{Price, Progress, SearchStep};
    use crate::units::LengthUnit;
    use crate::units::{Angle, DisplayUnits, Quantity};
    use crenel_words::{Message, Reader, Value, suggest as say};

    fn wishing(id: FieldId, value: f64) -> Analysis {
        let mut design = Design::default();
        assert!(design.set(Slot::Setting(id), value));
        Analysis::of(&design)
    }

    /// Six on six of 24° have windows of 12°: at 300 rpm they are open for 6.667 ms. For 10 ms it
    /// takes 6° more, which at a mean radius of 26 mm is 2.723 mm of flank in all; widths of 6 to 30 mm
    /// have a tolerance of 0.2 mm, and the next step of 0.05 mm is 2.95 mm.
    #[test]
    fn the_least_flank_stock_is_that_of_the_angle_that_is_missing_and_its_tolerance() {
        let now = wishing(FieldId::WishedWindow, 10.0);
        let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
        let all_a = Value::List(vec![say::all_dogs(Side::A).into()]);
        let on_a = |one: &&Suggestion| {
            keys(one) == ["suggest.narrow_dogs"] && one.words[0].values()[1].1 == all_a
        };
        let one = list.iter().find(on_a).expect("a way on A");
        let mm = one.design.a.plan.operations[0].work.number;
        assert_eq!(mm, 2.95);
        let told: Vec<_> = one.words[0].numbers().collect();
        assert_eq!(told, [(Quantity::Length, 2.95), (Quantity::Length, 52.0)]);
        assert!(one.reached && one.spare == Spare::Holds, "{one:?}");
        assert!((10.0..10.4).contains(&one.reaches), "{}", one.reaches);
        // It goes through a case of 0.8 mm.
        assert_eq!(one.against.as_ref().map(|f| f.code), Some("case_gone"));
        for against in [false, true] {
            let stock = list.iter().filter(|s| s.against.is_some() == against).map(|s| s.stock_g);
            assert!(stock.is_sorted(), "the least comes first");
        }
        assert!(list.is_sorted_by_key(|s| s.against.is_some()), "what is not advisable comes last");
        assert!(list[0].against.is_none(), "{:?}", list[0]);
    }

    /// Short dogs have to clear the holding depth of 1 mm: 5 mm less that and their tolerance of 0.1 mm.
    #[test]
    fn shortening_goes_below_the_hold_depth_by_the_tolerance() {
        let now = wishing(FieldId::WishedWindow, 35.0);
        let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
        let shorter = list.iter().find(is_half_height).expect("a way");
        assert!(shorter.reached, "{shorter:?}");
        assert!((shorter.reaches - 40.0).abs() < 1e-9, "72° at 300 rpm");
        let dogs =
            ["A2", "A4", "A6", "B2", "B4", "B6"].map(|name| Value::Verbatim(name.to_owned()));
        let to = Value::Size(Quantity::Length, 3.9);
        assert_eq!(shorter.words, [say::shorten_dogs(dogs.to_vec(), to)]);
    }

    fn keys(one: &Suggestion) -> Vec<&'static str> {
        one.words.iter().map(Message::key).collect()
    }

    /// Whether every second dog of both rings is shortened, and nothing else done.
    fn is_half_height(one: &&Suggestion) -> bool {
        let operations = Side::BOTH.map(|side| &one.design.ring(side).plan.operations);
        let shorter = |one: &Operation| {
            matches!(one.work.to_cut(), Some(Cut::Shorten(_))) && one.places.iter().eq(&[1, 3, 5])
        };
        operations.iter().all(|of_ring| of_ring.len() == 1 && shorter(&of_ring[0]))
    }

    fn worn() -> Analysis {
        fixture(include_str!("../../tests/fixtures/worn-pair.json"))
    }

    fn fixture(text: &str) -> Analysis {
        Analysis::of(&crate::design::open(text).expect("it opens").design)
    }

    /// Heights of the short dogs in the plans of both rings, mm.
    fn heights(design: &Design) -> Vec<f64> {
        let operations = Side::BOTH.map(|side| &design.ring(side).plan.operations);
        let heights = operations.into_iter().flatten().filter_map(|operation| {
            match operation.work.to_cut() {
                Some(Cut::Shorten(to)) => Some(to),
                _ => None,
            }
        });
        heights.collect()
    }

    /// The tallest dogs are 5.02 and 5.0038 mm high: short ones clear a holding depth of 1.4 mm at 3.62 and
    /// 3.6038 mm, and a hair above that they do not. With a tolerance of 0.1 mm to spare these are 3.52 and
    /// 3.5038 mm: the next steps of 0.05 mm and of two thousandths of an inch below.
    #[test]
    fn a_worn_pair_is_not_cut_to_the_edge_of_a_cliff() {
        let now = worn();
        let window = |to: [f64; 2]| {
            let mut cut = now.design.clone();
            for (side, to) in Side::BOTH.into_iter().zip(to) {
                for place in now.ring(side).every_second(1) {
                    cut.ring_mut(side).plan.set_cut(place, Some(Cut::Shorten(to)));
                }
            }
            reaches(&cut, Goal::Window).expect("it goes in")
        };
        let found = reaches(&now.design, Goal::Window).expect("it goes in");
        assert!(found < 4.0 && window([3.62, 3.6038]) > 12.0, "{found} {}", window([3.62, 3.6038]));
        let over = [window([3.62, 3.604]), window([3.63, 3.6038])];
        assert!(over.iter().all(|ms| *ms < 5.0), "{over:?}");
        let inch = DisplayUnits { length: LengthUnit::Inch, ..DisplayUnits::default() };
        for (units, [a, b]) in [(DisplayUnits::default(), [3.5, 3.5]), (inch, [3.5052, 3.4544])] {
            let list = suggestions(&now, &Search::new(Goal::Window, units));
            let one = list.iter().find(is_half_height);
            let one = one.expect("half-height dogs do it");
            assert_eq!(heights(&one.design), [a, b], "{:?}", one.words);
            assert_eq!(one.spare, Spare::Holds);
            assert!(window([a + 0.1, b + 0.1]) > 12.0);
            let reader = Reader { units, ..Reader::default() };
            for height in heights(&one.design) {
                let shown = Quantity::Length.show_kept(height, units);
                let said = one.words.iter().any(|words| words.show(reader).contains(&shown));
                assert!(said, "{:?}: {shown}", one.words);
                let read = Quantity::Length.parse(&shown, units).expect("it is a number");
                assert!((read - height).abs() < 1e-12, "no digit is hidden: {read} {height}");
            }
        }
    }

    /// What gets worse is all told, and first what crosses a limit.
    #[test]
    fn every_price_is_told() {
        let now = worn();
        let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
        let half = list.iter().find(is_half_height).expect("half-height dogs do it");
        let prices = &half.prices;
        let of = |figure: &Figure| prices.iter().any(|price| price.figure == figure);
        let shock = prices.iter().any(|price| price.figure.group == Group::Blow);
        assert!(of(&OVERRUN_PRESSURE) && shock, "{prices:#?}");
        assert!(prices.is_sorted_by_key(|price| !price.crossed), "{prices:#?}");
        let after = Analysis::of(&half.design);
        let changes = crate::compare::changes(&now, &after);
        for change in &changes {
            let worse = change.verdict == Some(crate::compare::Verdict::Worse);
            let much = change.by.is_none_or(|by| by.abs() > 0.02);
            assert_eq!(of(change.figure), worse && much, "{prices:#?}");
        }
        // Of those that are within their limits, what changes most comes first.
        let share = |price: &Price| {
            let change = changes.iter().find(|change| change.figure == price.figure)?;
            change.by.map(f64::abs)
        };
        let within = prices.iter().filter(|price| price.words.key() == "suggest.price");
        let shares: Vec<_> = within.filter_map(share).collect();
        assert!(shares.len() > 2 && shares.is_sorted_by(|a, b| a >= b), "{shares:?}");
        for one in &list {
            let deep = one.design.a.plan.operations.iter().chain(&one.design.b.plan.operations);
            let deep = deep
                .into_iter()
                .any(|o| FlankSide::BOTH.iter().any(|f| o.work.narrowing_mm(*f) > Some(0.8)));
            assert!(!deep || one.against.is_some(), "{:?}", one.words);
        }
    }

    /// Dogs that the plan removes stay removed, and no suggestion adds metal.
    #[test]
    fn suggestions_come_on_top_of_the_plan() {
        let plans = [
            r#"{ "crenel": 1, "wished_window_ms": 10, "a": { "cuts": { "2": "remove", "4": "remove",
                "6": "remove" } } }"#,
            r#"{ "crenel": 1, "wished_window_ms": 45, "a": { "heights": [0, 1] }, "b": { "cuts": { "1": 2,
                "3": 2 } } }"#,
            r#"{ "crenel": 1, "wished_window_ms": 30, "b": { "plan": [{ "do": "shorten",
                "shorten_to_mm": 3.5, "dogs": [2, 4, 6] }] } }"#,
        ];
        for text in plans {
            let now = Analysis::of(&crate::design::open(text).expect("it opens").design);
            for suggestion in suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()))
            {
                assert!(
                    suggestion.stock_g >= -1e-9,
                    "{:?}: {}",
                    suggestion.words,
                    suggestion.stock_g
                );
                for side in Side::BOTH {
                    let cut = suggestion.design.ring(side).to_cut();
                    for dog in &cut.dogs {
                        let before = now.ring(side).at_place(dog.place).map(|d| d.height_mm);
                        assert!(
                            before.is_some_and(|h| dog.height_mm <= h),
                            "{:?}",
                            suggestion.words
                        );
                    }
                }
            }
        }
    }

    /// No cut of a coarse grid that reaches the goal at the worst of its tolerances removes less metal than
    /// the first suggestion that does.
    #[test]
    fn no_cut_of_a_grid_does_it_with_less_metal() {
        let plans = [
            r#"{ "crenel": 1 }"#,
            r#"{ "crenel": 1, "a": { "plan": [{ "do": "shorten", "shorten_to_mm": 3.5, "dogs": [1, 3, 5] }] } }"#,
            r#"{ "crenel": 1, "a": { "plan": [{ "do": "shorten", "shorten_to_mm": 4.2,
                "dogs": [1, 3, 5] }] }, "b": { "plan": [{ "do": "shorten", "shorten_to_mm": 3,
                "dogs": [2, 4, 6] }] } }"#,
            r#"{ "crenel": 1, "b": { "plan": [{ "do": "remove", "dogs": [2, 4, 6] }] } }"#,
            r#"{ "crenel": 1, "a": { "plan": [{ "do": "narrow_coast", "flank_stock_mm": 1, "dogs": [1, 3, 5] }] } }"#,
            r#"{ "crenel": 1, "a": { "heights": [0, 1] }, "b": { "plan": [{ "do": "shorten",
                "shorten_to_mm": 2, "dogs": [1, 3, 5] }] } }"#,
        ];
        let mut compared = 0;
        for text in plans {
            let design = crate::design::open(text).expect("it opens").design;
            for (goal, id, wanted) in [
                (Goal::Window, FieldId::WishedWindow, 9.0),
                (Goal::Window, FieldId::WishedWindow, 20.0),
                (Goal::Window, FieldId::WishedWindow, 38.0),
                (Goal::Window, FieldId::WishedWindow, 43.0),
                (Goal::Lash, FieldId::WishedLash, 15.0),
                (Goal::Lash, FieldId::WishedLash, 40.0),
            ] {
                let mut design = design.clone();
                assert!(design.set(Slot::Setting(id), wanted));
                let now = Analysis::of(&design);
                let list = suggestions(&now, &Search::new(goal, DisplayUnits::default()));
                if reaches(&design, goal).is_some_and(|has| has >= wanted) {
                    assert!(list.is_empty());
                    continue;
                }
                let grid = least_of_grid(&now, goal, wanted);
                let reached = list.iter().filter(|s| s.reached && s.spare != Spare::None);
                let first = reached.min_by(|a, b| a.stock_g.total_cmp(&b.stock_g));
                match (grid, first) {
                    (Some(grid), Some(first)) => {
                        compared += 1;
                        assert!(
                            first.stock_g <= grid + 0.02,
                            "{text} {goal:?} {wanted}: {first:?}, {grid}"
                        );
                    }
                    (Some(grid), None) => panic!("{text} {goal:?} {wanted}: {grid} g would do"),
                    (None, _) => {}
                }
            }
        }
        assert!(compared > 20, "{compared}");
    }

    /// A suggestion says that it holds over its tolerances if and only if it does. For 52 ms all that can
    /// come off the flanks is just enough.
    #[test]
    fn what_is_said_to_hold_holds_at_its_worst() {
        let mut said = [0, 0];
        for wanted in [10.0, 40.0, 52.0] {
            let now = wishing(FieldId::WishedWindow, wanted);
            let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
            for one in list.iter().filter(|one| one.reached && one.spare != Spare::NoSize) {
                let worst = reach_at_worst(&one.design, &now.cut, Goal::Window);
                let holds = worst.is_some_and(|worst| worst >= wanted);
                assert_eq!(holds, one.spare == Spare::Holds, "{wanted} ms: {:?}", one.words);
                said[usize::from(holds)] += 1;
            }
        }
        assert!(said.iter().all(|count| *count > 0), "{said:?}");
    }

    /// Edge breaks of 0.35 and 0.4 mm do it, which with the 0.2 mm of the other ring is all that the holding depth
    /// allows: a window has to begin where the largest edge break ends.
    #[test]
    fn edges_are_broken_as_far_as_the_holding_depth_allows() {
        let now = fixture(include_str!("../../tests/fixtures/edges-do-it.json"));
        let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
        let first = &list[0];
        assert!(first.spare == Spare::Holds && first.stock_g < 0.03, "{first:?}");
    }

    /// The lightest cut is offered even where it is not advisable, beside a heavier one of its kind that is.
    #[test]
    fn the_lightest_cut_is_offered_beside_the_advisable_one() {
        let now = fixture(include_str!("../../tests/fixtures/lightest-is-edgy.json"));
        let search = Search::new(Goal::Window, DisplayUnits::default());
        let search = Search { holds: false, step: search.step.fine(), ..search };
        let list = suggestions(&now, &search);
        let stock = |against: bool| {
            let of = list.iter().filter(|one| one.against.is_some() == against);
            of.map(|one| one.stock_g).reduce(f64::min).expect("one of each")
        };
        assert!(stock(true) < 2.9 && stock(false) < 3.2, "{} {}", stock(true), stock(false));
        assert!(list[0].against.is_none(), "what is not advisable comes last");
    }

    /// Where one ring has its short dogs already, they are unchanged, and the other ring is cut to match.
    #[test]
    fn what_is_cut_already_is_not_named_again() {
        let text = r#"{ "crenel": 1, "wished_window_ms": 41, "a": { "plan": [{ "do": "shorten",
            "shorten_to_mm": 3.5, "dogs": [1, 3, 5] }] } }"#;
        let now = Analysis::of(&crate::design::open(text).expect("it opens").design);
        let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
        // Half of it off each ring leaves the case on both.
        let dogs = ["B2", "B4", "B6"].map(|name| Value::Verbatim(name.to_owned())).to_vec();
        let [to, off] = [3.9, 0.65].map(|mm| Value::Size(Quantity::Length, mm));
        let tall = [("A", [2, 4, 6]), ("B", [1, 3, 5])].map(|(ring, dogs)| {
            let dogs = dogs.map(|dog| Value::Verbatim(format!("{ring}{dog}"))).to_vec();
            say::narrow_dogs(FlankSide::Coast, dogs, off.clone(), 52.0)
        });
        let [tall_a, tall_b] = tall;
        let wanted = [say::shorten_dogs(dogs, to), tall_a, tall_b];
        let alike = list.iter().find(|one| one.words == wanted).expect("every second dog alike");
        assert!(alike.against.is_none(), "{:?}", alike.against);
        assert!(list[0].stock_g <= alike.stock_g, "dog by dog it takes no more");
        for (at, one) in list.iter().enumerate() {
            assert!(list[..at].iter().all(|other| other.design != one.design), "{:?}", one.words);
        }
    }

    /// Metal in g that the smallest cut of a coarse grid removes which reaches the goal at the worst of
    /// its tolerances.
    fn least_of_grid(now: &Analysis, goal: Goal, wanted: f64) -> Option<f64> {
        let before_g = mass_g(&now.design);
        let enough = |has: Option<f64>| has.is_some_and(|has| has >= wanted);
        let mut least: Option<f64> = None;
        for cut in alternate_cuts(&now.design).iter().flat_map(narrowed_cuts) {
            let off_g = before_g - mass_g(&cut);
            if least.is_none_or(|least| off_g < least)
                && enough(reaches(&cut, goal))
                && enough(reach_at_worst(&cut, &now.cut, goal))
            {
                least = Some(off_g);
            }
        }
        least
    }

    /// A design with every second dog of no ring, of one or of both removed or cut down by several
    /// amounts, counted from the first dog or from the second.
    fn alternate_cuts(design: &Design) -> Vec<Design> {
        let starts = [None, Some(0), Some(1)];
        let mut cuts = Vec::new();
        for (a, b) in starts.into_iter().flat_map(|a| starts.map(|b| (a, b))) {
            // 0 stands for a dog that is removed.
            for below_mm in [0.0, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 3.0] {
                let mut cut = design.clone();
                cut_every_second(&mut cut.a, a, below_mm);
                cut_every_second(&mut cut.b, b, below_mm);
                cuts.push(cut);
            }
        }
        cuts
    }

    /// Only rings that have all six dogs are cut.
    fn cut_every_second(ring: &mut RingSpec, from: Option<usize>, below_mm: f64) {
        let planned = ring.to_cut();
        let Some(from) = from.filter(|_| planned.dogs.len() == 6) else { return };
        let height_mm = planned.tallest_mm() - below_mm;
        for place in (from..6).step_by(2) {
            let taller = planned.at_place(place).is_some_and(|dog| dog.height_mm > height_mm);
            if below_mm == 0.0 {
                ring.plan.set_cut(place, Some(Cut::Remove));
            } else if taller {
                ring.plan.set_cut(place, Some(Cut::Shorten(height_mm)));
            }
        }
    }

    /// A design with coast flanks of ring A, of ring B or of both narrowed by several amounts, on all dogs
    /// or on the tallest alone.
    fn narrowed_cuts(design: &Design) -> Vec<Design> {
        let amounts = (0..10).map(|step| f64::from(step) * 0.5);
        let sides = amounts.flat_map(|mm| [(mm, 0.0), (0.0, mm), (mm / 2.0, mm / 2.0)]);
        let mut cuts = Vec::new();
        for ((a, b), only_tall) in sides.flat_map(|sides| [false, true].map(|tall| (sides, tall))) {
            let mut cut = design.clone();
            narrow(&mut cut.a, a, only_tall);
            narrow(&mut cut.b, b, only_tall);
            cuts.push(cut);
        }
        cuts
    }

    fn narrow(ring: &mut RingSpec, off_mm: f64, only_tall: bool) {
        if off_mm > 0.0 {
            let planned = ring.to_cut();
            let counts = |dog: &&Dog| !only_tall || dog.height_mm == planned.tallest_mm();
            let places = planned.dogs.iter().filter(counts).map(|dog| dog.place).collect();
            let work = Work::narrow(FlankSide::Coast, off_mm);
            ring.plan.operations.push(Operation { work, places });
        }
    }

    /// An odd ring has no every second dog, and its flanks cannot give 54° of window; single dogs can.
    #[test]
    fn an_odd_ring_is_cut_dog_by_dog() {
        let text =
            r#"{ "crenel": 1, "wished_window_ms": 30, "a": { "count": 5 }, "b": { "count": 5 } }"#;
        let now = Analysis::of(&crate::design::open(text).expect("it opens").design);
        let list = suggestions(&now, &Search::new(Goal::Window, DisplayUnits::default()));
        let least = list.first().expect("there is a cut");
        assert!(
            least.reached && least.against.is_none() && least.spare == Spare::Holds,
            "{least:?}"
        );
        assert_eq!(keys(least), ["suggest.shorten_dogs"]);
        // One dog of each of the five pairs that meet at a phase, by the holding depth and the tolerance.
        assert!(heights(&least.design).iter().all(|height| *height == 3.9));
        assert!(
            least.words[0].show(Reader::default()).matches(['A', 'B']).count() == 5,
            "{least:?}"
        );
    }

    /// What is searched in steps is what is searched at once, and a step says how far it is.
    #[test]
    fn a_search_in_steps_finds_the_same() {
        let now = wishing(FieldId::WishedWindow, 10.0);
        let search = Search::new(Goal::Window, DisplayUnits::default());
        let mut last = Progress::default();
        let mut steps = 0;
        let mut answer = None;
        for step in searching(Arc::new(now.clone()), search) {
            assert!(answer.is_none(), "the answer is the last step");
            match step {
                SearchStep::Tried(progress) => {
                    assert!(progress.tried >= last.tried && progress.of >= last.of, "{progress:?}");
                    assert!(progress.tried <= progress.of, "{progress:?}");
                    (last, steps) = (progress, steps + 1);
                }
                SearchStep::Found(found) => answer = Some(found),
            }
        }
        assert_eq!(answer, Some(suggestions(&now, &search)));
        assert_eq!(last.tried, last.of, "everything was tried");
        assert!(steps > 100, "{steps} steps");
    }

    /// All that is said of a cut follows from the design with the cut in its plan.
    #[test]
    fn a_suggestion_is_told_again_from_its_saved_design() {
        let now = worn();
        let search = Search::new(Goal::Window, DisplayUnits::default());
        let list = suggestions(&now, &search);
        assert!(list.len() > 2);
        for one in list {
            let saved = crate::design::to_json(&one.design);
            let again = crate::design::open(&saved).expect("it opens").design;
            assert_eq!(Suggestion::of(&now, &search, again), Some(one));
        }
    }

    /// What comes off a flank is whole holes of a circle, to the tenth of a micron that is shown, and no more than a
    /// hole above what the finest step needs.
    #[test]
    fn flanks_move_by_whole_holes_where_a_dividing_head_is_used() {
        let now = wishing(FieldId::WishedWindow, 9.0);
        let hole = FlankStep::Hole { circle: 47, ratio: 40 };
        let search = Search { flank: hole, ..Search::new(Goal::Window, DisplayUnits::default()) };
        let list = suggestions(&now, &search);
        let step = hole.angle().expect("an angle").radians() * 26.0;
        let mut seen = 0;
        for one in &list {
            for side in Side::BOTH {
                for operation in &one.design.ring(side).plan.operations {
                    let flank = operation.work.kind.flank();
                    let Some(mm) = flank.and_then(|flank| operation.work.narrowing_mm(flank))
                    else {
                        continue;
                    };
                    let off = mm / step;
                    assert!((off - off.round()).abs() * step < 1.1e-4, "{mm} in {step}");
                    seen += 1;
                }
            }
        }
        assert!(seen > 0, "{list:?}");
    }

    #[test]
    fn ceilings_are_kept() {
        let now = wishing(FieldId::WishedWindow, 10.0);
        let free = Search::new(Goal::Window, DisplayUnits::default());
        let lightest = suggestions(&now, &free)[0].stock_g;
        let ceilings = [
            Ceilings { lash: Some(Angle::from_degrees(13.0)), ..free.ceilings },
            Ceilings { metal_g: Some(1.05 * lightest), ..free.ceilings },
            Ceilings { within_limits: true, ..free.ceilings },
        ];
        for ceilings in ceilings {
            let list = suggestions(&now, &Search { ceilings, ..free });
            assert!(list.iter().any(|one| one.reached), "{ceilings:?}");
            for one in list.iter().filter(|one| one.reached) {
                let lash = reaches(&one.design, Goal::Lash).expect("it goes in");
                assert!(ceilings.lash.is_none_or(|most| lash <= most.degrees() + SAME));
                assert!(ceilings.metal_g.is_none_or(|most| one.stock_g <= most + SAME));
                let crosses = one.prices.iter().any(|price| price.crossed);
                assert!(!ceilings.within_limits || !crosses && one.against.is_none());
            }
        }
        // A ceiling below all that is there leaves nothing that reaches the goal.
        let ceilings = Ceilings { metal_g: Some(0.01), ..free.ceilings };
        let list = suggestions(&now, &Search { ceilings, ..free });
        assert!(list.iter().all(|one| !one.reached));
    }

    /// A shop that measures each part can work to the nominal sizes, in finer steps.
    #[test]
    fn nominal_sizes_take_less_metal_and_say_that_they_do_not_hold() {
        let now = wishing(FieldId::WishedWindow, 10.0);
        let holds = Search::new(Goal::Window, DisplayUnits::default());
        let nominal = Search { holds: false, step: holds.step.fine(), ..holds };
        let [holds, nominal] = [holds, nominal].map(|search| suggestions(&now, &search));
        assert!(nominal[0].stock_g < holds[0].stock_g);
        assert_eq!([holds[0].spare, nominal[0].spare], [Spare::Holds, Spare::None]);
    }

    #[test]
    fn nothing_is_suggested_for_what_is_there_and_the_impossible_is_said_to_be() {
        let has = wishing(FieldId::WishedLash, 11.0);
        assert!(suggestions(&has, &Search::new(Goal::Lash, DisplayUnits::default())).is_empty());
        // A whole turn at 300 rpm takes 200 ms.
        let cannot = wishing(FieldId::WishedWindow, 201.0);
        let list = suggestions(&cannot, &Search::new(Goal::Window, DisplayUnits::default()));
        assert!(!list.is_empty() && list.iter().all(|s| !s.reached));
        for suggestion in list {
            assert!(suggestion.reaches > 7.0, "{:?}", suggestion.words);
        }
    }

    #[test]
    fn dogs_are_only_lowered_where_that_alone_brings_something() {
        let mut both = 0;
        for (goal, id, wanted) in [
            (Goal::Lash, FieldId::WishedLash, 15.0),
            (Goal::Lash, FieldId::WishedLash, 40.0),
            (Goal::Lash, FieldId::WishedLash, 300.0),
            (Goal::Window, FieldId::WishedWindow, 20.0),
            (Goal::Window, FieldId::WishedWindow, 52.0),
        ] {
            let now = wishing(id, wanted);
            let has = reaches(&now.design, goal).expect("it goes in");
            let wished = Wished::of(&now, &Search::new(goal, DisplayUnits::default()));
            for one in CutStrategy::all(&now).into_iter().filter_map(|way| wished.least(&now, way))
            {
                let mut lowered = one.design.clone();
                for side in Side::BOTH {
                    let is_flank = |o: &Operation| {
                        FlankSide::BOTH.iter().any(|flank| o.work.narrowing_mm(*flank).is_some())
                    };
                    lowered.ring_mut(side).plan.operations.retain(|o| !is_flank(o));
                }
                if lowered != now.design && lowered != one.design {
                    both += 1;
                    let alone = reaches(&lowered, goal).expect("it goes in");
                    assert!(alone > has + SAME, "{wanted}: {:?}", one.design);
                }
            }
        }
        assert!(both > 2, "{both}");
    }
}
