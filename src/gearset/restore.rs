//! Which shims bring back what a gearbox must keep: never two gears at once, and a fork that is free in gear.
//!
//! Every shim moves the dogs of some gears along the shaft, by whole steps of what the shop has. The search takes one
//! place and then two, the least metal first, so that what it finds cannot be had with less. A shim moves a depth and
//! nothing else, so that each two gears are worked out once for each pair of depths.

use std::collections::HashMap;

use crenel_words::{Message, Value, gearset as say};

use super::GearsetAnalysis;
use super::findings::same_ratio;
use crate::drum::{Drum, Play};
use crate::fields::FieldId;
use crate::units::{Quantity, sort_by_number};

/// How many steps of the shop a place is moved by at most, either way.
const MOST_STEPS: i32 = 20;

/// Lengths that are nearer to each other than this are the same, mm.
const SAME_MM: f64 = 1e-9;

/// Where a shim can be changed. All are counted from 0, in the gearbox.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ShimPlace {
    /// Below the free wheel of a gear; plus moves it away from its slider.
    Wheel(usize),
    /// At a fork; plus moves its slider towards the higher gear.
    Fork(usize),
    /// At the end of a shaft; plus moves it towards the end of its list.
    Shaft(usize),
}

impl ShimPlace {
    /// Its word and its number from 1, for programs.
    pub const fn key(self) -> (&'static str, usize) {
        match self {
            Self::Wheel(at) => ("wheel", at + 1),
            Self::Fork(at) => ("fork", at + 1),
            Self::Shaft(at) => ("shaft", at + 1),
        }
    }

    /// What to do there, in words.
    pub fn says(self, mm: f64) -> Message {
        let by = Value::Result(Quantity::Length, mm.abs());
        let is_plus = mm > 0.0;
        match self {
            Self::Wheel(at) => say::shim_wheel(at, by, if is_plus { "away" } else { "near" }),
            Self::Fork(at) => say::shim_fork(at, by, if is_plus { "higher" } else { "lower" }),
            Self::Shaft(at) => say::shim_shaft(at, by, if is_plus { "end" } else { "beginning" }),
        }
    }
}

/// What is left at the worst, over all gears and all play; minus is what is missing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShimMargins {
    /// How much deeper two gears would have to be to be in at once, freely or with one of them held in by torque, mm;
    /// `None` with fewer than two gears of different ratio.
    pub apart_mm: Option<f64>,
    /// The two gears of that.
    pub apart: Option<[usize; 2]>,
    /// The least clearance of a fork in gear, mm; `None` where nobody knows where dogs stop.
    pub room_mm: Option<f64>,
    /// The gear of that.
    pub room: Option<usize>,
    /// The least depth beyond the holding depth, mm; `None` without a position of the detent.
    pub hold_mm: Option<f64>,
    /// The gear of that.
    pub hold: Option<usize>,
}

impl ShimMargins {
    /// Whether nothing is missing.
    pub fn is_kept(&self) -> bool {
        self.missing_mm() <= SAME_MM
    }

    /// What is missing, all three added up, mm.
    fn missing_mm(&self) -> f64 {
        [self.apart_mm, self.room_mm, self.hold_mm]
            .into_iter()
            .flatten()
            .map(|mm| (-mm).max(0.0))
            .sum()
    }

    /// Whether one of the three is missing, and more than before.
    fn spoils(&self, before: &Self) -> bool {
        let each = |own: &Self| [own.apart_mm, own.room_mm, own.hold_mm];
        let mut both = each(self).into_iter().zip(each(before));
        both.any(|(after, before)| {
            after.zip(before).is_some_and(|(after, before)| after < before.min(0.0) - SAME_MM)
        })
    }

    /// The least of the three, mm.
    fn least_mm(&self) -> f64 {
        [self.apart_mm, self.room_mm, self.hold_mm]
            .into_iter()
            .flatten()
            .fold(f64::INFINITY, f64::min)
    }
}

/// Shims that bring a gearbox back, or as far as one or two can.
#[derive(Clone, Debug, PartialEq)]
pub struct Restored {
    /// Where, and by how much, mm: one place or two.
    pub shims: Vec<(ShimPlace, f64)>,
    /// What is left as found.
    pub before: ShimMargins,
    /// What is left with these shims.
    pub after: ShimMargins,
}

/// The shims that give back what is missing of never two at once, a free fork, and depth to hold: for each place at
/// which one is enough the thinnest, the thinnest of all first. If one is not enough, the best two, and the best one
/// where that gains anything. No shim is offered that makes one of the three missing, or more so. Empty if nothing is
/// missing, or if no shim gains anything.
pub fn restore(analysis: &GearsetAnalysis) -> Vec<Restored> {
    let mut search = Search::of(analysis);
    let before = search.margins(&[]);
    if before.is_kept() {
        return Vec::new();
    }
    let places = search.places();
    let singles: Vec<Steps> = places
        .iter()
        .map(|place| steps().map(|by| vec![(*place, by)]).collect::<Vec<_>>())
        .flat_map(|of_place| search.best(&of_place, &before, &before))
        .collect();
    let mut found: Vec<Restored> =
        singles.iter().map(|shims| search.restored(shims, before)).collect();
    found.sort_by(|a, b| a.order(b));
    if found.iter().any(|one| one.after.is_kept()) {
        found.retain(|one| one.after.is_kept());
        return found;
    }
    found.truncate(1);
    let most = found.first().map_or(before, |one| one.after);
    let doubles = doubles(&places).collect::<Vec<_>>();
    let two = search.best(&doubles, &before, &most).map(|shims| search.restored(&shims, before));
    two.into_iter().chain(found).collect()
}

/// What to do before any shim is chosen: replace each bent fork.
pub fn before_shims(analysis: &GearsetAnalysis) -> Vec<Message> {
    let forks = analysis.drum.forks.iter().zip(&analysis.forks_on_drum);
    let bent = forks.filter(|(fork, _)| fork.offset_mm != 0.0);
    bent.map(|(fork, number)| {
        say::bent_before_shims(*number, Value::Result(Quantity::Length, fork.offset_mm.abs()))
    })
    .collect()
}

/// How many steps of the shop at which places.
type Steps = Vec<(ShimPlace, i32)>;

/// Every step either way, the smallest first.
fn steps() -> impl Iterator<Item = i32> {
    (1..=MOST_STEPS).flat_map(|step| [step, -step])
}

/// Steps at every two places.
fn doubles(places: &[ShimPlace]) -> impl Iterator<Item = Steps> {
    let pairs = places.iter().enumerate();
    let pairs = pairs.flat_map(|(at, one)| places[at + 1..].iter().map(move |two| (*one, *two)));
    pairs.flat_map(|(one, two)| {
        steps().flat_map(move |first| steps().map(move |second| vec![(one, first), (two, second)]))
    })
}

impl Restored {
    /// What is left before and after, a sentence for each.
    pub fn says(&self) -> Vec<Message> {
        let length = |mm: f64| Value::Result(Quantity::Length, mm);
        let (before, after) = (&self.before, &self.after);
        let apart = before.apart_mm.zip(after.apart_mm).zip(before.apart);
        let apart = apart
            .map(|((was, is), [one, two])| say::margin_apart(one, two, length(was), length(is)));
        let room = before.room_mm.zip(after.room_mm).zip(before.room);
        let room = room.map(|((was, is), gear)| say::margin_room(gear, length(was), length(is)));
        let hold = before.hold_mm.zip(after.hold_mm).zip(before.hold);
        let hold = hold.map(|((was, is), gear)| say::margin_hold(gear, length(was), length(is)));
        let nearest = (!after.is_kept()).then(say::shims_are_not_enough);
        [apart, room, hold, nearest].into_iter().flatten().collect()
    }

    /// What is missing, then how much metal is moved, then what is left.
    fn order(&self, other: &Self) -> std::cmp::Ordering {
        let metal = |own: &Self| own.shims.iter().map(|(_, mm)| mm.abs()).sum::<f64>();
        let missing = self.after.missing_mm().total_cmp(&other.after.missing_mm());
        let metal = metal(self).total_cmp(&metal(other));
        missing.then(metal).then(other.after.least_mm().total_cmp(&self.after.least_mm()))
    }
}

/// A drum whose shims are tried.
struct Search<'a> {
    analysis: &'a GearsetAnalysis,
    step_mm: f64,
    /// The drum with the gears of one pair moved.
    drum: Drum,
    /// Every two gears of different ratio, and how near they come as found, the nearest first.
    pairs: Vec<([usize; 2], f64)>,
    /// How near two gears come with so many steps of depth each.
    known: HashMap<([usize; 2], [i32; 2]), f64>,
    /// Of each gear, the room of its fork on either side, and its depth beyond the holding depth, mm.
    rooms: Vec<Option<[f64; 2]>>,
    holds: Vec<Option<f64>>,
}

impl<'a> Search<'a> {
    fn of(analysis: &'a GearsetAnalysis) -> Self {
        let drum = analysis.drum.clone();
        let gears = 0..drum.gears.len();
        let of_depth = |gear: &std::sync::Arc<super::SetGear>| {
            gear.worked.design.depth.as_ref()?.field(FieldId::ShimStep)
        };
        let step = analysis.gears.iter().find_map(of_depth);
        let rooms = gears.clone().map(|gear| Some(drum.fork_room(gear)?.worst_mm())).collect();
        let holds = gears.map(|gear| hold_mm(&drum, gear)).collect();
        let mut search = Self {
            analysis,
            step_mm: step.unwrap_or(FieldId::ShimStep.spec().default),
            drum,
            pairs: Vec::new(),
            known: HashMap::new(),
            rooms,
            holds,
        };
        let on = &analysis.on_drum;
        let pairs = (0..on.len()).flat_map(|one| (0..one).map(move |two| [two, one]));
        let differ = |pair: &[usize; 2]| !same_ratio(&analysis.gearset, on[pair[0]], on[pair[1]]);
        for pair in pairs.filter(differ) {
            let apart = search.apart_mm(pair, [0, 0]);
            search.pairs.push((pair, apart));
        }
        sort_by_number(&mut search.pairs, |(_, apart_mm)| *apart_mm);
        search
    }

    /// The places whose shims move a gear of which something is missing.
    fn places(&self) -> Vec<ShimPlace> {
        let set = &self.analysis.gearset;
        let wheels = self.analysis.on_drum.iter().copied().map(ShimPlace::Wheel);
        let forks = self.analysis.forks_on_drum.iter().copied().map(ShimPlace::Fork);
        let shafts = (0..set.shafts.len()).map(ShimPlace::Shaft);
        let missing = |gear: usize| {
            let off = |pair: &&([usize; 2], f64)| pair.1 < -SAME_MM && pair.0.contains(&gear);
            self.rooms[gear].is_some_and(|room| room[0].min(room[1]) < -SAME_MM)
                || self.holds[gear].is_some_and(|hold| hold < -SAME_MM)
                || self.pairs.iter().any(|pair| off(&pair))
        };
        let moves = |place: &ShimPlace| {
            (0..self.drum.gears.len()).any(|gear| missing(gear) && self.depth(*place, gear) != 0)
        };
        wheels.chain(forks).chain(shafts).filter(moves).collect()
    }

    /// How many steps deeper a gear gets by one step at a place: 1, -1, or 0.
    fn depth(&self, place: ShimPlace, gear: usize) -> i32 {
        let own = &self.drum.gears[gear];
        let of_face = if own.face.sign() > 0.0 { 1 } else { -1 };
        let along = if self.drum.forks[own.fork].is_turned { -of_face } else { of_face };
        match place {
            ShimPlace::Wheel(at) if self.analysis.on_drum[gear] == at => -1,
            ShimPlace::Fork(at) if self.analysis.forks_on_drum[own.fork] == at => of_face,
            ShimPlace::Shaft(at) if own.shaft == at => -along,
            _ => 0,
        }
    }

    fn mm(&self, steps: i32) -> f64 {
        f64::from(steps) * self.step_mm
    }

    /// How near two gears come to being in at once, freely or with one held in by torque, mm.
    fn apart_mm(&mut self, pair: [usize; 2], deeper: [i32; 2]) -> f64 {
        if let Some(known) = self.known.get(&(pair, deeper)) {
            return *known;
        }
        let found = pair.map(|gear| self.drum.gears[gear].clearance_mm);
        for (gear, by) in pair.into_iter().zip(deeper) {
            self.drum.gears[gear].clearance_mm -= self.mm(by);
        }
        let [one, two] = pair;
        let held = |old, new| self.drum.held(old, new).map(|held| held.together.margin_mm);
        let ways = [Some(self.drum.together(one, two).margin_mm), held(one, two), held(two, one)];
        let apart = ways.into_iter().flatten().fold(f64::INFINITY, f64::min);
        for (gear, clearance) in pair.into_iter().zip(found) {
            self.drum.gears[gear].clearance_mm = clearance;
        }
        self.known.insert((pair, deeper), apart);
        apart
    }

    fn deeper(&self, shims: &[(ShimPlace, i32)]) -> Vec<i32> {
        let by = |gear: usize| shims.iter().map(|(place, by)| by * self.depth(*place, gear)).sum();
        (0..self.drum.gears.len()).map(by).collect()
    }

    /// What is left of room and depth with gears so many steps deeper.
    fn clear(&self, deeper: &[i32]) -> ShimMargins {
        let room = |gear: usize| {
            let [drawn, pushed] = self.rooms[gear]?;
            let by = self.mm(deeper[gear]);
            Some((drawn + by).min(pushed - by))
        };
        let hold = |gear: usize| Some(self.holds[gear]? + self.mm(deeper[gear]));
        let (room_mm, room) = self.least(&room).unzip();
        let (hold_mm, hold) = self.least(&hold).unzip();
        ShimMargins { apart_mm: None, apart: None, room_mm, room, hold_mm, hold }
    }

    /// The least over all gears, and the gear of that.
    fn least(&self, of: &dyn Fn(usize) -> Option<f64>) -> Option<(f64, usize)> {
        let all = (0..self.drum.gears.len())
            .filter_map(|gear| Some((of(gear)?, self.analysis.on_drum[gear])));
        all.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    fn margins(&mut self, shims: &[(ShimPlace, i32)]) -> ShimMargins {
        let deeper = self.deeper(shims);
        self.with_apart(self.clear(&deeper), &deeper)
    }

    /// Adds how near two gears come. Depth brings two gears no nearer than by what the one gets that gets more.
    fn with_apart(&mut self, mut margins: ShimMargins, deeper: &[i32]) -> ShimMargins {
        for at in 0..self.pairs.len() {
            let (pair, found) = self.pairs[at];
            let by = pair.map(|gear| deeper[gear]);
            let nearest = found - self.mm(by[0].max(by[1]).max(0));
            if margins.apart_mm.is_some_and(|least| nearest >= least) {
                continue;
            }
            let apart = if by == [0, 0] { found } else { self.apart_mm(pair, by) };
            if margins.apart_mm.is_none_or(|least| apart < least) {
                margins.apart_mm = Some(apart);
                margins.apart = Some(pair.map(|gear| self.analysis.on_drum[gear]));
            }
        }
        margins
    }

    /// The shims that leave the least missing, less than with what was found already; of those the thinnest, and then
    /// those that leave the most.
    fn best(&mut self, all: &[Steps], before: &ShimMargins, found: &ShimMargins) -> Option<Steps> {
        let mut best: Option<(f64, i32, f64, &Steps)> = None;
        for shims in all {
            let deeper = self.deeper(shims);
            let clear = self.clear(&deeper);
            let (most, thickness) = best.map_or((found.missing_mm() - SAME_MM, 0), |b| (b.0, b.1));
            if clear.missing_mm() > most + SAME_MM || clear.spoils(before) {
                continue;
            }
            let metal = shims.iter().map(|(_, by)| by.abs()).sum();
            let margins = self.with_apart(clear, &deeper);
            if margins.spoils(before) {
                continue;
            }
            let (missing, left) = (margins.missing_mm(), margins.least_mm());
            let is_better = match best {
                None => missing < most,
                Some((least, ..)) if (missing - least).abs() > SAME_MM => missing < least,
                Some((_, _, least, _)) => (metal, -left) < (thickness, -least),
            };
            if is_better {
                best = Some((missing, metal, left, shims));
            }
        }
        best.map(|(.., shims)| shims.clone())
    }

    fn restored(&mut self, shims: &[(ShimPlace, i32)], before: ShimMargins) -> Restored {
        let after = self.margins(shims);
        let shims = shims.iter().map(|(place, by)| (*place, self.mm(*by))).collect();
        Restored { shims, before, after }
    }
}

/// How much deeper than the holding depth a gear is in its position at the worst, mm.
fn hold_mm(drum: &Drum, gear: usize) -> Option<f64> {
    let at = drum.position_deg(gear)?;
    let course = drum.overlap(gear, Play::Least);
    let [least, _] = course.range_near(at, drum.slack_deg.max(0.0) / 2.0);
    Some(least - drum.gears[gear].hold_mm)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{ForkField, GearsetSpec, LAYOUTS, SetGearField, ShaftField};

    fn six_speed() -> GearsetSpec {
        LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there").to_gearset()
    }

    fn restored(set: &GearsetSpec) -> Vec<Restored> {
        restore(&GearsetAnalysis::of(set))
    }

    /// Puts shims into the gearbox itself.
    fn put(set: &mut GearsetSpec, shims: &[(ShimPlace, f64)]) {
        for (place, mm) in shims {
            match place {
                ShimPlace::Wheel(at) => {
                    let was = set.gears[*at].get(SetGearField::NeutralClearance);
                    set.gears[*at].set(SetGearField::NeutralClearance, was + mm);
                }
                ShimPlace::Fork(at) => {
                    let was = set.forks[*at].get(ForkField::ForkOffset);
                    set.forks[*at].set(ForkField::ForkOffset, was + mm);
                }
                ShimPlace::Shaft(at) => {
                    let was = set.shafts[*at].get(ShaftField::ShaftShim);
                    set.shafts[*at].set(ShaftField::ShaftShim, was + mm);
                }
            }
        }
    }

    fn graves(set: &GearsetSpec) -> usize {
        let found = GearsetAnalysis::of(set).findings;
        let grave =
            ["two_gears_at_once", "two_gears_under_torque", "fork_carries_thrust", "gear_not_held"];
        found.iter().filter(|placed| grave.contains(&placed.finding.code)).count()
    }

    #[test]
    fn a_gearbox_that_keeps_all_needs_no_shim() {
        for layout in LAYOUTS {
            assert_eq!(restored(&layout.to_gearset()), [], "{}", layout.key);
        }
        assert_eq!(restored(&GearsetSpec::default()), []);
    }

    #[test]
    fn a_bent_fork_is_brought_back_by_as_much_at_the_fork() {
        let mut set = six_speed();
        set.forks[1].set(ForkField::ForkOffset, 0.3);
        assert!(graves(&set) > 0);
        let found = restored(&set);
        let [(place, mm)] = found[0].shims[..] else { panic!("{found:?}") };
        assert_eq!(place, ShimPlace::Fork(1));
        assert!((-0.3 - 1e-9..0.0).contains(&mm), "{mm}");
        assert!(!found[0].before.is_kept() && found[0].after.is_kept());
        for one in &found {
            let mut shimmed = set.clone();
            put(&mut shimmed, &one.shims);
            assert_eq!(graves(&shimmed), 0, "{one:?}");
        }
    }

    #[test]
    fn two_wheels_that_stand_wrong_take_two_shims() {
        let mut set = six_speed();
        put(&mut set, &[(ShimPlace::Wheel(0), 0.3), (ShimPlace::Wheel(5), -0.35)]);
        let found = restored(&set);
        assert_eq!(found[0].shims.len(), 2, "{found:?}");
        assert!(found[0].after.is_kept());
        let mut shimmed = set.clone();
        put(&mut shimmed, &found[0].shims);
        assert_eq!(graves(&shimmed), 0);
        // One step less at either place is not enough.
        for at in 0..2 {
            let mut less = found[0].shims.clone();
            less[at].1 -= 0.05_f64.copysign(less[at].1);
            let mut shimmed = set.clone();
            put(&mut shimmed, &less);
            assert!(graves(&shimmed) > 0, "{less:?}");
        }
    }

    /// A free wheel that stands far too near could be met by a fork that leaves its other gear without depth.
    #[test]
    fn no_shim_takes_from_what_is_kept() {
        let mut set = six_speed();
        put(&mut set, &[(ShimPlace::Wheel(5), -1.6), (ShimPlace::Fork(1), 0.6)]);
        for fork in &mut set.forks {
            fork.track.iter_mut().for_each(|point| point[0] *= 0.9);
        }
        for found in restored(&set) {
            let each =
                |own: &ShimMargins| [own.apart_mm, own.room_mm, own.hold_mm].map(Option::unwrap);
            for (after, before) in each(&found.after).into_iter().zip(each(&found.before)) {
                assert!(after >= before.min(0.0) - 1e-9, "{found:?}");
            }
        }
    }

    /// Every shim of one place and of two, tried on the gearbox itself.
    #[test]
    fn margins_are_those_of_the_gearbox_with_the_shims_in_it() {
        let mut set = six_speed();
        put(&mut set, &[(ShimPlace::Fork(0), 0.4), (ShimPlace::Shaft(1), -0.2)]);
        let analysis = GearsetAnalysis::of(&set);
        let mut search = Search::of(&analysis);
        let [wheel, fork, shaft] = [ShimPlace::Wheel(3), ShimPlace::Fork(0), ShimPlace::Shaft(1)];
        for shims in [vec![(wheel, 4)], vec![(fork, -7)], vec![(shaft, 5), (fork, -3)]] {
            let told = search.margins(&shims);
            let mut put_in = set.clone();
            let mm: Vec<_> = shims.iter().map(|(place, by)| (*place, search.mm(*by))).collect();
            put(&mut put_in, &mm);
            let shimmed = GearsetAnalysis::of(&put_in);
            let direct = Search::of(&shimmed).margins(&[]);
            for (told, direct) in [
                (told.apart_mm, direct.apart_mm),
                (told.room_mm, direct.room_mm),
                (told.hold_mm, direct.hold_mm),
            ] {
                assert!(
                    (told.unwrap() - direct.unwrap()).abs() < 1e-9,
                    "{shims:?} {told:?} {direct:?}"
                );
            }
        }
    }
}
