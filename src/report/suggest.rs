//! The least cut that brings about what is wished for.

mod way;

use std::cmp::Ordering;
use std::collections::BTreeMap;

use self::way::{Size, Way};
use super::analysis::{Analysis, lowered_mm};
use super::offered::Offered;
use super::rework::{Change, changes};
use crate::design::Design;
use crate::fields::FieldId;
use crate::finding::{Finding, Severity, any_error};
use crate::pair::{Edges, Mesh};
use crate::ring::Side;
use crate::shift::Passing;
use crate::units::{Angle, DisplayUnits, sort_by_number};

/// How often the size of a cut is halved down; a part in 16 000 of the largest is enough for metal.
const HALVINGS: usize = 14;

/// Cuts are rounded up to this, mm, which is what can be set on a machine.
const STEP_MM: f64 = 0.01;

/// Heights that are tried to see how much lower dogs can give.
const TRIED: usize = 16;

/// Differences below this are rounding, ms or degrees.
const SAME: f64 = 1e-9;

/// What is wished for, from the settings of the design.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Wish {
    /// The widest window open for at least so long at the speed difference.
    Window,
    /// At least so much lash at full depth.
    Lash,
}

/// One way of cutting that brings about what is wished for, or what comes nearest.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// What is done, in words.
    pub words: String,
    /// The design with it in its plan.
    pub design: Design,
    /// Whether it brings about what is wished for.
    pub reached: bool,
    /// What it reaches, ms or degrees.
    pub reaches: f64,
    /// Metal that comes off both rings beyond what is planned already, g.
    pub stock_g: f64,
    /// What it costs and gains against the design as it stands.
    pub changes: Vec<Change>,
    /// Warnings that the design does not have as it stands.
    pub warnings: Vec<Finding>,
}

/// Suggestions that are shown where several do it, and where none does.
const MOST_SHOWN: usize = 6;
const NEAREST_SHOWN: usize = 3;

/// Of ways that read alike, how many are looked at for one without a warning.
const TRIED_ALIKE: usize = 6;

/// Ways to bring about what is wished for on top of what is planned already, those with the least metal
/// first, and those that bring a warning with them after the others; where none does it, those that come
/// nearest. Empty where the design cannot be worked out, or where it has what is wished for as it stands.
///
/// Coast flanks are narrowed, every second dog is cut down or removed, on one ring or on both, from the
/// first or from the second dog that stands, and a cut of one kind is topped up by the other.
pub fn suggestions(now: &Analysis, wish: Wish, units: DisplayUnits) -> Vec<Suggestion> {
    let design = &now.design;
    let wanted = wanted(design, wish);
    let has = reaches(design, wish);
    if now.meshed.is_none() || has.is_some_and(|has| has >= wanted) {
        return Vec::new();
    }
    let wished = Wished { wish, wanted, has: has.unwrap_or(0.0) };
    // Ways that read alike, such as every second dog from the first and from the second.
    let mut alike: BTreeMap<_, Vec<Least>> = BTreeMap::new();
    for way in Way::all(now) {
        if let Some(least) = wished.least(now, way) {
            alike.entry(way.kind()).or_default().push(least);
        }
    }
    let any = alike.values().flatten().any(|least| least.reached);
    let mut list: Vec<_> =
        alike.into_values().filter_map(|list| best_of(list, now, units)).collect();
    list.retain(|suggestion| suggestion.reached == any);
    if any {
        sort_by_number(&mut list, |suggestion| suggestion.stock_g);
        list.truncate(MOST_SHOWN);
        list.sort_by_key(|suggestion| !suggestion.warnings.is_empty());
    } else {
        sort_by_number(&mut list, |suggestion| -suggestion.reaches);
        list.truncate(NEAREST_SHOWN);
    }
    list
}

/// Of ways that read alike the one with the least metal that brings no warning with it, or else with the
/// least metal.
fn best_of(mut list: Vec<Least>, now: &Analysis, units: DisplayUnits) -> Option<Suggestion> {
    list.sort_by(Least::order);
    let reached = list.first()?.reached;
    let tried = list.into_iter().filter(|least| least.reached == reached).take(TRIED_ALIKE);
    let mut told: Vec<_> = tried.filter_map(|least| least.told(now, units)).collect();
    told.sort_by_key(|suggestion| !suggestion.warnings.is_empty());
    told.into_iter().next()
}

/// What is wished for, ms or degrees.
pub fn wanted(design: &Design, wish: Wish) -> f64 {
    design.setting.of(match wish {
        Wish::Window => FieldId::WishedWindow,
        Wish::Lash => FieldId::WishedLash,
    })
}

/// What a design has of it, ms or degrees; `None` where the rings do not go in.
fn reaches(design: &Design, wish: Wish) -> Option<f64> {
    let sound = Side::BOTH.into_iter().all(|side| !any_error(&design.ring(side).check(side)));
    if !sound {
        return None;
    }
    let found = [design.a.as_found(), design.b.as_found()];
    let cut = [design.a.as_cut(), design.b.as_cut()];
    let mesh = Mesh::new(&cut[0], &cut[1]).ok()?;
    let overlap = design.setting.of(FieldId::Overlap) - lowered_mm(&found, &cut);
    let engagement = mesh.engage(overlap);
    let phase = Angle::from_degrees(design.setting.of(FieldId::Phase));
    let held = engagement.window_near(phase).filter(|_| engagement.full_depth_mm > 0.0)?;
    match wish {
        Wish::Lash => Some(held.width.degrees()),
        Wish::Window => {
            let hold = design.setting.of(FieldId::HoldDepth);
            let windows = mesh.windows_down_to(hold, Edges::Broken);
            let passing = Passing::new(&windows, Offered::of(design).slip_rpm);
            let (_, widest) = passing.extremes()?;
            Some(passing.seconds_open(widest) * 1000.0)
        }
    }
}

/// What is wished for, how much of it, and how much there is.
struct Wished {
    wish: Wish,
    wanted: f64,
    has: f64,
}

/// The least cut of one way.
struct Least {
    way: Way,
    size: Size,
    design: Design,
    reached: bool,
    reaches: f64,
    /// Metal that is left on both rings, g.
    left_g: f64,
}

impl Wished {
    /// The smallest size of a way of cutting that does it, or its largest that leaves rings that go in.
    /// `None` where the way cannot be taken, or gives no more than a simpler one.
    fn least(&self, now: &Analysis, way: Way) -> Option<Least> {
        let reach = |size: Size| way.on(&now.design, size).and_then(|cut| reaches(&cut, self.wish));
        let most = way.most(now)?;
        let lower_only = |lower_mm| reach(Size { lower_mm, flank_mm: 0.0 });
        // Every second dog first, no lower than it gives anything; the flanks give what is still missing.
        let mut lower_mm = 0.0;
        if way.treats_seconds() {
            let sizes = (0..=TRIED).map(|i| most.lower_mm * i as f64 / TRIED as f64);
            let best = sizes.filter_map(lower_only).reduce(f64::max)?;
            if way.narrows() && (best >= self.wanted || best <= self.has + SAME) {
                return None;
            }
            let enough = (best - SAME).min(self.wanted);
            lower_mm = smallest(lower_only, most.lower_mm, STEP_MM, enough);
        }
        let flank_only = |flank_mm| reach(Size { lower_mm, flank_mm });
        let flank_mm = smallest(flank_only, most.flank_mm, way.flank_step(STEP_MM), self.wanted);
        let size = Size { lower_mm, flank_mm };
        let design = way.on(&now.design, size).filter(|cut| way.cuts(&now.design, cut, size))?;
        let reaches = reaches(&design, self.wish).filter(|has| *has > self.has + SAME)?;
        let left_g = Side::BOTH.map(|side| design.ring(side).as_cut().metal().mass_g());
        let (reached, left_g) = (reaches >= self.wanted, left_g.iter().sum());
        Some(Least { way, size, design, reached, reaches, left_g })
    }
}

/// The smallest number from 0 to `most` for which `reach` is at least `wanted`, in steps; the last step
/// that the dogs stand where there is none.
fn smallest(reach: impl Fn(f64) -> Option<f64>, most: f64, step: f64, wanted: f64) -> f64 {
    let enough = |mm: f64| reach(mm).is_some_and(|has| has >= wanted);
    if most <= 0.0 || enough(0.0) {
        return 0.0;
    }
    // Too small on one side; on the other large enough, or too much for the dogs to stand.
    let (mut small, mut large) = (0.0, most);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(small, large);
        match reach(middle) {
            Some(has) if has < wanted => small = middle,
            _ => large = middle,
        }
    }
    // To the next step, up if it must be.
    let below = (large / step).floor();
    let steps = [below, below + 1.0].map(|steps| steps * step);
    let last = (small / step).floor() * step;
    steps.into_iter().find(|mm| *mm <= most && enough(*mm)).unwrap_or(last)
}

impl Least {
    /// The better answer first: that with less metal off of two that do it, that which comes nearer of two
    /// that do not.
    fn order(&self, other: &Self) -> Ordering {
        other.reached.cmp(&self.reached).then_with(|| match self.reached {
            true => other.left_g.total_cmp(&self.left_g),
            false => other.reaches.total_cmp(&self.reaches),
        })
    }

    fn told(self, now: &Analysis, units: DisplayUnits) -> Option<Suggestion> {
        let after = Analysis::of(&self.design);
        // A way that leaves nothing to engage is none.
        after.meshed.as_ref()?;
        let before_g: f64 = now.cut.iter().map(|ring| ring.metal().mass_g()).sum();
        Some(Suggestion {
            words: self.way.words(now, self.size, units),
            reached: self.reached,
            reaches: self.reaches,
            stock_g: before_g - self.left_g,
            changes: changes(now, &after, units),
            warnings: new_warnings(now, &after),
            design: self.design,
        })
    }
}

/// Warnings of a kind that was not there before, or about another number, one of each.
fn new_warnings(now: &Analysis, after: &Analysis) -> Vec<Finding> {
    let mut list: Vec<Finding> = Vec::new();
    for finding in after.findings.iter().filter(|f| f.severity == Severity::Warning) {
        let about = |f: &Finding| (f.code, f.place);
        let known = |list: &[Finding]| list.iter().any(|f| about(f) == about(finding));
        if !known(&now.findings) && !known(&list) {
            list.push(finding.clone());
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::Slot;
    use crate::ring::{Cut, FlankSide, Operation, Work};

    fn wishing(id: FieldId, value: f64) -> Analysis {
        let mut design = Design::default();
        assert!(design.set(Slot::Setting(id), value));
        Analysis::of(&design)
    }

    /// Six on six of 24° have windows of 12°: at 300 rpm they are open for 6.667 ms. For 10 ms it
    /// takes 6° more, which at a mean radius of 26 mm is 2.723 mm of flank in all.
    #[test]
    fn the_least_flank_stock_is_that_of_the_angle_that_is_missing() {
        let now = wishing(FieldId::WishedWindow, 10.0);
        let list = suggestions(&now, Wish::Window, DisplayUnits::default());
        let one = list.iter().find(|s| s.words.contains("ring A")).expect("a way on ring A");
        let Work::Narrow(_, mm) = one.design.a.plan.operations[0].work else { panic!("{one:?}") };
        assert!((mm - 2.73).abs() < 1e-9, "{mm}");
        assert!(one.reached && (10.0..10.01).contains(&one.reaches));
        for warned in [false, true] {
            let stock = list.iter().filter(|s| s.warnings.is_empty() != warned).map(|s| s.stock_g);
            assert!(stock.is_sorted(), "the least comes first");
        }
        assert!(list.is_sorted_by_key(|s| !s.warnings.is_empty()), "a warning comes after none");
    }

    /// Short dogs have to clear the hold depth: each side gives half of 1 mm.
    #[test]
    fn shortening_goes_just_below_the_hold_depth() {
        let now = wishing(FieldId::WishedWindow, 35.0);
        let list = suggestions(&now, Wish::Window, DisplayUnits::default());
        let shorter = list.iter().find(|s| s.words.contains("of both rings (A2")).expect("a way");
        assert!(shorter.reached, "{shorter:?}");
        assert!((shorter.reaches - 40.0).abs() < 1e-9, "72° at 300 rpm");
        assert_eq!(
            shorter.words,
            "Cut every second dog of both rings (A2, A4, A6 and B2, B4, B6) down to 4 mm."
        );
    }

    /// Dogs that are gone stay gone, and no way gives metal back.
    #[test]
    fn suggestions_come_on_top_of_the_plan() {
        let plans = [
            r#"{ "crenel": 1, "wished_window_ms": 10, "a": { "cuts": { "2": "remove", "4": "remove", "6": "remove" } } }"#,
            r#"{ "crenel": 1, "wished_window_ms": 45, "a": { "heights": [0, 1] }, "b": { "cuts": { "1": 2, "3": 2 } } }"#,
            r#"{ "crenel": 1, "wished_window_ms": 30, "b": { "plan": [{ "do": "shorten", "shorten_to_mm": 3.5, "dogs": [2, 4, 6] }] } }"#,
        ];
        for text in plans {
            let now = Analysis::of(&crate::design::open(text).expect("it opens").design);
            for suggestion in suggestions(&now, Wish::Window, DisplayUnits::default()) {
                assert!(
                    suggestion.stock_g >= -1e-9,
                    "{}: {}",
                    suggestion.words,
                    suggestion.stock_g
                );
                for side in Side::BOTH {
                    let cut = suggestion.design.ring(side).as_cut();
                    for dog in &cut.dogs {
                        let before = now.ring(side).at_place(dog.place).map(|d| d.height_mm);
                        assert!(before.is_some_and(|h| dog.height_mm <= h), "{}", suggestion.words);
                    }
                }
            }
        }
    }

    /// Every cut of a coarse grid that does it takes off no less than the first suggestion: every second
    /// dog from either one, on either ring, cut down or removed, and flanks of one or of both narrowed.
    #[test]
    fn no_cut_of_a_grid_does_it_with_less_metal() {
        let plans = [
            r#"{ "crenel": 1 }"#,
            r#"{ "crenel": 1, "a": { "plan": [{ "do": "shorten", "shorten_to_mm": 3.5, "dogs": [1, 3, 5] }] } }"#,
            r#"{ "crenel": 1, "a": { "plan": [{ "do": "shorten", "shorten_to_mm": 4.2, "dogs": [1, 3, 5] }] }, "b": { "plan": [{ "do": "shorten", "shorten_to_mm": 3, "dogs": [2, 4, 6] }] } }"#,
            r#"{ "crenel": 1, "b": { "plan": [{ "do": "remove", "dogs": [2, 4, 6] }] } }"#,
            r#"{ "crenel": 1, "a": { "plan": [{ "do": "narrow_coast", "flank_stock_mm": 1, "dogs": [1, 3, 5] }] } }"#,
            r#"{ "crenel": 1, "a": { "heights": [0, 1] }, "b": { "plan": [{ "do": "shorten", "shorten_to_mm": 2, "dogs": [1, 3, 5] }] } }"#,
        ];
        let mut compared = 0;
        for text in plans {
            let design = crate::design::open(text).expect("it opens").design;
            for (wish, id, wanted) in [
                (Wish::Window, FieldId::WishedWindow, 9.0),
                (Wish::Window, FieldId::WishedWindow, 20.0),
                (Wish::Window, FieldId::WishedWindow, 38.0),
                (Wish::Window, FieldId::WishedWindow, 43.0),
                (Wish::Lash, FieldId::WishedLash, 15.0),
                (Wish::Lash, FieldId::WishedLash, 40.0),
            ] {
                let mut design = design.clone();
                assert!(design.set(Slot::Setting(id), wanted));
                let now = Analysis::of(&design);
                let list = suggestions(&now, wish, DisplayUnits::default());
                if reaches(&design, wish).is_some_and(|has| has >= wanted) {
                    assert!(list.is_empty());
                    continue;
                }
                let grid = least_of_grid(&design, wish, wanted);
                let reached = list.iter().filter(|suggestion| suggestion.reached);
                let first = reached.min_by(|a, b| a.stock_g.total_cmp(&b.stock_g));
                match (grid, first) {
                    (Some(grid), Some(first)) => {
                        compared += 1;
                        assert!(
                            first.stock_g <= grid + 0.02,
                            "{text} {wish:?} {wanted}: {first:?}, {grid}"
                        );
                    }
                    (Some(grid), None) => panic!("{text} {wish:?} {wanted}: {grid} g would do"),
                    (None, _) => {}
                }
            }
        }
        assert!(compared > 20, "{compared}");
    }

    /// Where a ring has its short dogs already, they are left, and the other ring is cut in step.
    #[test]
    fn what_is_cut_already_is_not_named_again() {
        let text = r#"{ "crenel": 1, "wished_window_ms": 41, "a": { "plan": [{ "do": "shorten", "shorten_to_mm": 3.5, "dogs": [1, 3, 5] }] } }"#;
        let now = Analysis::of(&crate::design::open(text).expect("it opens").design);
        let list = suggestions(&now, Wish::Window, DisplayUnits::default());
        // Half of it off each ring leaves the case on both.
        assert_eq!(
            list[0].words,
            "Cut every second dog of ring B (B2, B4, B6) down to 4 mm, and take 0.41 mm (at Ø52 mm) off the coast flanks of the tallest dogs of both rings."
        );
        assert!(list[0].warnings.is_empty(), "{:?}", list[0].warnings);
        for (at, one) in list.iter().enumerate() {
            assert!(list[..at].iter().all(|other| other.design != one.design), "{}", one.words);
        }
    }

    /// Grams off, of the least cut of a coarse grid that does it.
    fn least_of_grid(design: &Design, wish: Wish, wanted: f64) -> Option<f64> {
        let mass = |design: &Design| -> f64 {
            Side::BOTH.map(|side| design.ring(side).as_cut().metal().mass_g()).iter().sum()
        };
        let before = mass(design);
        let mut least: Option<f64> = None;
        let treated = [None, Some(0), Some(1)];
        for (from_a, from_b) in treated.iter().flat_map(|a| treated.map(|b| (*a, b))) {
            // 0 is a dog that is removed.
            for below in [0.0, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 3.0] {
                let mut cut = design.clone();
                for (side, from) in [(Side::A, from_a), (Side::B, from_b)] {
                    let ring = cut.ring_mut(side);
                    let standing = ring.as_cut();
                    let Some(from) = from.filter(|_| standing.dogs.len() == 6) else { continue };
                    for place in (from..6).step_by(2) {
                        let height = standing.tallest_mm() - below;
                        let is = standing.at_place(place).map_or(0.0, |dog| dog.height_mm);
                        if below == 0.0 {
                            ring.plan.set_cut(place, Some(Cut::Remove));
                        } else if is > height {
                            ring.plan.set_cut(place, Some(Cut::Shorten(height)));
                        }
                    }
                }
                for (off_a, off_b) in (0..10).flat_map(|n| {
                    let mm = f64::from(n) * 0.5;
                    [(mm, 0.0), (0.0, mm), (mm / 2.0, mm / 2.0)]
                }) {
                    for only_tall in [false, true] {
                        let mut cut = cut.clone();
                        for (side, off) in [(Side::A, off_a), (Side::B, off_b)] {
                            let ring = cut.ring_mut(side);
                            let standing = ring.as_cut();
                            let dogs = standing
                                .dogs
                                .iter()
                                .filter(|dog| !only_tall || dog.height_mm == standing.tallest_mm());
                            let places = dogs.map(|dog| dog.place).collect();
                            let work = Work::Narrow(FlankSide::Coast, off);
                            if off > 0.0 {
                                ring.plan.operations.push(Operation { work, places });
                            }
                        }
                        let off = before - mass(&cut);
                        if least.is_none_or(|least| off < least)
                            && reaches(&cut, wish).is_some_and(|has| has >= wanted)
                        {
                            least = Some(off);
                        }
                    }
                }
            }
        }
        least
    }

    #[test]
    fn nothing_is_suggested_for_what_is_there_and_the_impossible_is_said_to_be() {
        let has = wishing(FieldId::WishedLash, 11.0);
        assert!(suggestions(&has, Wish::Lash, DisplayUnits::default()).is_empty());
        let cannot = wishing(FieldId::WishedLash, 300.0);
        let list = suggestions(&cannot, Wish::Lash, DisplayUnits::default());
        assert!(!list.is_empty() && list.iter().all(|s| !s.reached));
        for suggestion in list {
            assert!(suggestion.reaches > 12.0, "{}", suggestion.words);
        }
    }
}
