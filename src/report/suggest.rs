//! The least cut that brings about what is wished for.

use super::analysis::{Analysis, lowered_mm};
use super::offered::Offered;
use super::rework::{Change, changes};
use crate::design::Design;
use crate::fields::FieldId;
use crate::finding::{Finding, Severity, any_error};
use crate::pair::{Edges, Mesh};
use crate::ring::{Cut, FlankSide, Operation, RingSpec, Side, Work};
use crate::shift::Passing;
use crate::units::{Angle, DisplayUnits, sort_by_number};

/// How often the size of a cut is halved down; a part in 16 000 of the largest is enough for metal.
const HALVINGS: usize = 14;

/// Cuts are rounded up to this, mm, which is what can be set on a machine.
const STEP_MM: f64 = 0.01;

/// Thickness that a cut has to leave of every dog, mm.
const LEAST_DOG_MM: f64 = 1.0;

/// What is wished for, from the settings of the design.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Wish {
    /// The widest window open for at least so long at the speed difference.
    Window,
    /// At least so much lash at full depth.
    Lash,
}

/// A way of cutting, as its size grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    /// All coast flanks of one ring, or of both by half each.
    Narrow(&'static [Side]),
    /// Every second dog of both rings cut down.
    SecondShorter,
    /// Every second dog of both rings removed, and all coast flanks narrowed as far as it still takes.
    SecondGone,
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
    /// What it reaches: ms or degrees; `None` where the rings do not go in any more.
    pub reaches: Option<f64>,
    /// Metal that comes off both rings beyond what is planned already, g.
    pub stock_g: f64,
    /// What it costs and gains against the design as it stands.
    pub changes: Vec<Change>,
    /// Warnings that the design does not have as it stands.
    pub warnings: Vec<Finding>,
}

/// Ways to bring about what is wished for on top of what is planned already, those that do it with
/// the least metal first; ways that cannot do it come last. Empty where the design cannot be worked
/// out, or where it has what is wished for as it stands.
pub fn suggestions(now: &Analysis, wish: Wish, units: DisplayUnits) -> Vec<Suggestion> {
    let design = &now.design;
    let wanted = wanted(design, wish);
    if now.meshed.is_none() || reaches(design, wish).is_some_and(|has| has >= wanted) {
        return Vec::new();
    }
    let ways = [
        Way::Narrow(&[Side::A]),
        Way::Narrow(&[Side::B]),
        Way::Narrow(&Side::BOTH),
        Way::SecondShorter,
        Way::SecondGone,
    ];
    let mut list: Vec<_> =
        ways.into_iter().filter_map(|way| least(now, way, wish, wanted, units)).collect();
    sort_by_number(&mut list, |s| if s.reached { s.stock_g } else { f64::MAX });
    list
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

/// The smallest size of a way of cutting that does it, or its largest that leaves rings that go in.
fn least(
    now: &Analysis,
    way: Way,
    wish: Wish,
    wanted: f64,
    units: DisplayUnits,
) -> Option<Suggestion> {
    let design = &now.design;
    let reach = |mm: f64| way.on(design, mm).and_then(|cut| reaches(&cut, wish));
    let most = way.most_mm(now)?;
    let enough = |mm: f64| reach(mm).is_some_and(|has| has >= wanted);
    let mm = if enough(0.0) {
        0.0
    } else {
        // Too small on one side; on the other large enough, or too much for the dogs to stand.
        let (mut small, mut large) = (0.0, most);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(small, large);
            match reach(middle) {
                Some(has) if has < wanted => small = middle,
                _ => large = middle,
            }
        }
        // To the next step of the machine, up if it must be; where that is too much for the dogs, the
        // last step that they stand.
        let below = (large / STEP_MM).floor();
        let steps = [below, below + 1.0].map(|steps| steps * STEP_MM);
        let last = (small / STEP_MM).floor() * STEP_MM;
        steps.into_iter().find(|mm| enough(*mm)).unwrap_or(last)
    };
    let cut = way.on(design, mm).filter(|cut| cut != design)?;
    let after = Analysis::of(&cut);
    // A way that leaves nothing to engage is none.
    after.meshed.as_ref()?;
    let reached = enough(mm);
    let grams = |analysis: &Analysis| -> f64 {
        analysis.cut.iter().map(|ring| ring.metal().mass_g()).sum()
    };
    Some(Suggestion {
        words: way.words(mm, units),
        reached,
        reaches: reach(mm),
        stock_g: grams(now) - grams(&after),
        changes: changes(now, &after, units),
        warnings: new_warnings(now, &after),
        design: cut,
    })
}

/// Warnings of a kind that was not there before, one of each.
fn new_warnings(now: &Analysis, after: &Analysis) -> Vec<Finding> {
    let mut list: Vec<Finding> = Vec::new();
    for finding in after.findings.iter().filter(|f| f.severity == Severity::Warning) {
        let known = |list: &[Finding]| list.iter().any(|f| f.code == finding.code);
        if !known(&now.findings) && !known(&list) {
            list.push(finding.clone());
        }
    }
    list
}

impl Way {
    /// The largest size worth trying, mm.
    fn most_mm(self, now: &Analysis) -> Option<f64> {
        let thinnest = |side: Side| {
            let ring = now.ring(side);
            let thick = ring
                .dogs
                .iter()
                .map(|dog| ring.thickness_mm(dog, 0.0).min(ring.thickness_mm(dog, dog.height_mm)));
            // A sliver is no dog.
            thick.fold(f64::INFINITY, f64::min) - LEAST_DOG_MM
        };
        let most = match self {
            Self::Narrow(sides) => {
                sides.iter().map(|side| thinnest(*side)).fold(f64::INFINITY, f64::min)
            }
            Self::SecondGone => thinnest(Side::A).min(thinnest(Side::B)),
            Self::SecondShorter => Side::BOTH
                .map(|side| now.ring(side).tallest_mm())
                .into_iter()
                .fold(f64::INFINITY, f64::min),
        };
        let seconds = |side: Side| now.ring(side).dogs.len().is_multiple_of(2);
        let fits = matches!(self, Self::Narrow(_)) || Side::BOTH.into_iter().all(seconds);
        (fits && most.is_finite() && most > 0.0).then_some(most)
    }

    /// A design with the cut in its plan; `None` where a number of it would be outside its limits.
    fn on(self, design: &Design, mm: f64) -> Option<Design> {
        let mut cut = design.clone();
        let narrow = |cut: &mut Design, side: Side, mm: f64| {
            if mm > 0.0 {
                let ring = cut.ring_mut(side);
                let places =
                    (0..ring.places()).filter(|&p| ring.plan.cut_of(p) != Some(Cut::Remove));
                let work = Work::Narrow(FlankSide::Coast, mm);
                let operation = Operation { work, places: places.collect() };
                ring.plan.operations.push(operation);
            }
        };
        match self {
            Self::Narrow(sides) => {
                let share = if sides.len() > 1 { 0.5 } else { 1.0 };
                sides.iter().for_each(|side| narrow(&mut cut, *side, mm * share));
            }
            Self::SecondShorter | Self::SecondGone => {
                for side in Side::BOTH {
                    self.treat_seconds(cut.ring_mut(side), mm);
                    if self == Self::SecondGone {
                        narrow(&mut cut, side, mm / 2.0);
                    }
                }
            }
        }
        let numbers =
            cut.slots().into_iter().filter(|s| matches!(s, crate::fields::Slot::Work(..)));
        let mut numbers = numbers.filter_map(|slot| slot.check(cut.get(slot)?));
        numbers.next().is_none().then_some(cut)
    }

    /// Removes or shortens every second dog that stands. Dogs that are gone or lower by plan stay as
    /// they are.
    fn treat_seconds(self, ring: &mut RingSpec, mm: f64) {
        let standing = ring.as_cut();
        let tallest = standing.tallest_mm();
        for dog in standing.by_centre().iter().skip(1).step_by(2) {
            match self {
                Self::SecondGone => ring.plan.set_cut(dog.place, Some(Cut::Remove)),
                _ if mm > 0.0 && dog.height_mm > tallest - mm => {
                    ring.plan.set_cut(dog.place, Some(Cut::Shorten(tallest - mm)));
                }
                _ => {}
            }
        }
    }

    fn words(self, mm: f64, units: DisplayUnits) -> String {
        let show = |mm: f64| crate::units::Quantity::Length.show(mm, units);
        match self {
            Self::Narrow([side]) => {
                format!("Take {} off the coast flanks of {}.", show(mm), side.lower_name())
            }
            Self::Narrow(_) => {
                format!("Take {} off the coast flanks of both rings.", show(mm / 2.0))
            }
            Self::SecondShorter => {
                format!("Cut every second dog of both rings down by {}.", show(mm))
            }
            Self::SecondGone if mm <= 0.0 => "Remove every second dog of both rings.".to_owned(),
            Self::SecondGone => format!(
                "Remove every second dog of both rings, and take {} off the coast flanks of the rest.",
                show(mm / 2.0)
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::Slot;

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
        assert!(one.reached && one.reaches.is_some_and(|ms| (10.0..10.01).contains(&ms)));
        let least = list.iter().map(|s| s.stock_g).fold(f64::INFINITY, f64::min);
        assert_eq!(list[0].stock_g, least, "the least comes first");
    }

    /// Short dogs have to clear the hold depth: each side gives half of 1 mm.
    #[test]
    fn shortening_goes_just_below_the_hold_depth() {
        let now = wishing(FieldId::WishedWindow, 35.0);
        let list = suggestions(&now, Wish::Window, DisplayUnits::default());
        let shorter = list.iter().find(|s| s.words.contains("down by")).expect("a way");
        assert!(shorter.reached, "{shorter:?}");
        assert!(shorter.reaches.is_some_and(|ms| (ms - 40.0).abs() < 1e-9), "72° at 300 rpm");
        assert_eq!(shorter.words, "Cut every second dog of both rings down by 1 mm.");
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

    #[test]
    fn nothing_is_suggested_for_what_is_there_and_the_impossible_is_said_to_be() {
        let has = wishing(FieldId::WishedLash, 11.0);
        assert!(suggestions(&has, Wish::Lash, DisplayUnits::default()).is_empty());
        let cannot = wishing(FieldId::WishedLash, 300.0);
        let list = suggestions(&cannot, Wish::Lash, DisplayUnits::default());
        assert!(!list.is_empty() && list.iter().all(|s| !s.reached));
        for suggestion in list {
            assert!(suggestion.reaches.is_some(), "{}", suggestion.words);
        }
    }
}
