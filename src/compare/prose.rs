//! How one layout differs from another, in sentences made from the numbers.

use crenel_words::{Message, Value, compare as say};

use super::column::{Column, jam_mm};
use crate::design::Need;
use crate::figures::{self, Better, Figure, FigureValue};
use crate::model::{Chances, chance_top_rpm};
use crate::units::Quantity;

/// Differences below this share of the larger number get neither a sentence nor a mark.
pub(super) const WORTH_TELLING: f64 = 0.02;

/// How many speed differences are sampled to find where a layout falls behind, and the least share of all
/// phases that counts as behind.
const LAG_STEPS: u32 = 60;
const LAG_SHARE: f64 = 0.05;

/// A sentence on a number now and before.
type NowAndBefore = fn(Value, Value) -> Message;

/// Figures that get a sentence only if they get worse, with the sentence.
static WORSE_TOO: [(&Figure, NowAndBefore); 4] = [
    (&figures::OVERRUN_PRESSURE, say::overrun_pressure_rises),
    (&figures::ROOT_COMBINED, say::root_stress_rises),
    (&figures::OVERRUN_COMBINED, say::overrun_root_stress_rises),
    (&figures::OVERRUN_HOLDING, say::overrun_holding_falls),
];

/// One paragraph: how `other` differs from `first`, and why.
pub(super) fn differences(first: &Column, other: &Column) -> Vec<Message> {
    let pair = Pair { first, other };
    let (number, title) = pair.name();
    if other.analysis.pair.is_none() {
        let why = other.analysis.findings.first();
        return why
            .map(|why| say::cannot_be_computed(number, title, why.says.clone()))
            .into_iter()
            .collect();
    }
    if first.analysis.pair.is_none() {
        return vec![say::nothing_to_compare(number, title)];
    }
    // Every paragraph begins by saying what it is about.
    let mut told: Vec<Message> = pair.jam().into_iter().chain(pair.entry()).collect();
    let rest = [
        pair.first_pass(),
        pair.hang(),
        pair.lash(),
        pair.depth(),
        pair.carrying(),
        pair.elsewhere(),
        pair.worse_too(),
    ]
    .concat();
    if told.is_empty() {
        let same = if rest.is_empty() { say::same_results } else { say::same_windows };
        told.push(same(number, title, first.number));
    }
    told.extend(rest);
    told
}

struct Pair<'a> {
    first: &'a Column,
    other: &'a Column,
}

/// One figure of both layouts.
struct Both {
    quantity: Quantity,
    first: f64,
    other: f64,
}

impl Both {
    fn differs(&self) -> bool {
        let most = self.first.abs().max(self.other.abs());
        (self.first - self.other).abs() > WORTH_TELLING * most
    }

    fn grows(&self) -> bool {
        self.other > self.first
    }

    /// Which case of a sentence applies.
    fn more(&self) -> &'static str {
        if self.grows() { "more" } else { "less" }
    }

    /// The number of the other layout, and that of the first.
    fn show(&self) -> [Value; 2] {
        [self.other, self.first].map(|number| Value::Result(self.quantity, number))
    }
}

impl Pair<'_> {
    fn name(&self) -> (usize, Value) {
        (self.other.number, self.other.name())
    }

    fn both(&self, figure: &Figure) -> Option<Both> {
        let number = |column: &Column| {
            let same = |value: &&FigureValue| value.figure == figure;
            column.figures.iter().find(same)?.value
        };
        let (first, other) = (number(self.first)?, number(self.other)?);
        Some(Both { quantity: figure.quantity, first, other })
    }

    fn differing(&self, figure: &Figure) -> Option<Both> {
        self.both(figure).filter(Both::differs)
    }

    /// A sentence if the other layout jams.
    fn jam(&self) -> Option<Message> {
        let (number, title) = self.name();
        Some(say::jams(number, title, jam_mm(&self.other.analysis)?))
    }

    /// Sentences on getting in: the windows and for how long they are open.
    fn entry(&self) -> Vec<Message> {
        let of = |figure| self.both(figure);
        let (Some(free), Some(time), Some(windows)) =
            (of(&figures::FREE_ANGLE), of(&figures::WINDOW_TIME), of(&figures::ENTRY_WINDOWS))
        else {
            return Vec::new();
        };
        let (number, title) = self.name();
        let (many, were) = (windows.other, windows.first);
        if !free.differs() {
            let more = || say::number_of_windows(number, title, many, were, self.first.number);
            return windows.differs().then(more).into_iter().collect();
        }
        let [wide, was] = free.show();
        let says = if free.grows() { say::easier } else { say::harder };
        let [open, open_before] = time.show();
        let open = match self.both(&figures::TRAVEL_TIME) {
            Some(travel) => {
                let [travel, _] = travel.show();
                say::window_open_and_travel(open, open_before, travel)
            }
            None => say::window_open(open, open_before),
        };
        vec![says(number, title, many, wide, were, was), open]
    }

    fn first_pass(&self) -> Vec<Message> {
        let of = |figure| self.both(figure);
        let Some((straight, rubbed)) =
            of(&figures::STRAIGHT_IN).zip(of(&figures::IN_AFTER_RUBBING))
        else {
            return Vec::new();
        };
        let sum = Both {
            quantity: Quantity::Share,
            first: straight.first + rubbed.first,
            other: straight.other + rubbed.other,
        };
        if !sum.differs() {
            return Vec::new();
        }
        let [share, was] = sum.show();
        let struck = self.differing(&figures::THROWN_BACK).map(|struck| {
            let [share, was] = struck.show();
            say::thrown_back(share, was)
        });
        [say::first_pass(sum.more(), share, was)].into_iter().chain(struck).collect()
    }

    /// Sentences on tips that rub themselves to a stop.
    fn hang(&self) -> Vec<Message> {
        let of = |figure| self.both(figure);
        let Some((locked, half)) = of(&figures::HANGS).zip(of(&figures::HALF_IN)) else {
            return Vec::new();
        };
        let locked = locked.differs().then(|| {
            let lands = Both {
                quantity: Quantity::Angle,
                first: longest_land_deg(self.first),
                other: longest_land_deg(self.other),
            };
            let ([share, was], [land, land_was]) = (locked.show(), lands.show());
            say::hangs(locked.more(), share, was, land, land_was)
        });
        let half = half.differs().then(|| {
            let [share, was] = half.show();
            say::stops_halfway(share, was)
        });
        [locked, half].into_iter().flatten().collect()
    }

    /// A sentence on lash and clunk.
    fn lash(&self) -> Vec<Message> {
        let says = |clunk: Both| {
            let lash = self.differing(&figures::LASH)?;
            let ([now, was], [torque, torque_was]) = (lash.show(), clunk.show());
            Some(say::clunk(lash.more(), now, was, torque, torque_was))
        };
        self.both(&figures::CLUNK).and_then(says).into_iter().collect()
    }

    fn depth(&self) -> Vec<Message> {
        self.sentence(&figures::FULL_DEPTH, say::depth)
    }

    fn carrying(&self) -> Vec<Message> {
        let pairs = self.differing(&figures::PAIRS_MEETING_DRIVE);
        let pairs = pairs.map(|pairs| say::pairs_meeting(pairs.other, pairs.first));
        pairs.into_iter().chain(self.sentence(&figures::FLANK_PRESSURE, say::pressure)).collect()
    }

    /// A sentence on a figure that differs.
    fn sentence(&self, figure: &Figure, says: NowAndBefore) -> Vec<Message> {
        let told = self.differing(figure).map(|both| {
            let [now, was] = both.show();
            says(now, was)
        });
        told.into_iter().collect()
    }

    /// A sentence on the speed differences at which it goes in less often, unless another one says so.
    fn elsewhere(&self) -> Vec<Message> {
        let first = &self.first.analysis;
        let known = first.pair.as_ref().filter(|_| first.design.missing(Need::Speed).is_none());
        let drawn = known.map(|pair| pair.shift_case.slip_rpm.abs());
        let unsaid = |lag: &Lag| {
            !drawn.is_some_and(|drawn| {
                lag.from.is_none_or(|from| from <= drawn) && lag.to.is_none_or(|to| drawn <= to)
            })
        };
        lag(self.first, self.other).filter(unsaid).map(Lag::says).into_iter().collect()
    }

    /// Sentences on what gets worse under load, unless another one says so.
    fn worse_too(&self) -> Vec<Message> {
        let worse = |(figure, says): &(&Figure, NowAndBefore)| {
            let both = self.differing(figure)?;
            let more_is_better = figure.better == Better::More;
            let [now, was] = both.show();
            (both.grows() != more_is_better).then(|| says(now, was))
        };
        WORSE_TOO.iter().filter_map(worse).collect()
    }
}

/// A range of speed differences in which one layout goes in less often than the other.
struct Lag {
    /// Where it begins and ends, rpm; `None` at the end of the axis.
    from: Option<f64>,
    to: Option<f64>,
    /// Where it is furthest behind, rpm.
    at: f64,
    chances: Both,
}

impl Lag {
    fn says(self) -> Message {
        let [now, was] = self.chances.show();
        let at = self.at.round();
        match (self.from.map(f64::round), self.to.map(f64::round)) {
            (None, None) => say::less_often(at, now, was),
            (None, Some(to)) => say::less_often_below(to, at, now, was),
            (Some(from), None) => say::less_often_above(from, at, now, was),
            (Some(from), Some(to)) => say::less_often_between(from, to, at, now, was),
        }
    }
}

/// The range in which the other layout is furthest behind the first one, at the first pass.
fn lag(first: &Column, other: &Column) -> Option<Lag> {
    let tops = [first, other].map(|column| chance_top_rpm(&column.analysis));
    let step = tops[0].max(tops[1]) / f64::from(LAG_STEPS);
    let [first, other] = [Chances::of(&first.analysis)?, Chances::of(&other.analysis)?];
    let at = |place: u32| (f64::from(place) + 0.5) * step;
    let chances = |place| Both {
        quantity: Quantity::Share,
        first: first.first_pass(at(place)).is_in(),
        other: other.first_pass(at(place)).is_in(),
    };
    let all: Vec<Both> = (0..LAG_STEPS).map(chances).collect();
    let behind = |both: &Both| both.first - both.other;
    let worst = (0..all.len()).max_by(|a, b| behind(&all[*a]).total_cmp(&behind(&all[*b])))?;
    let from = all[..worst].iter().rposition(|both| behind(both) < LAG_SHARE).map(|at| at + 1);
    let to = all[worst..].iter().position(|both| behind(both) < LAG_SHARE).map(|by| worst + by);
    let edge = |place: usize| u32::try_from(place).map_or(0.0, |place| f64::from(place) * step);
    let chances = all.into_iter().nth(worst).filter(|both| behind(both) >= LAG_SHARE)?;
    let at = edge(worst) + 0.5 * step;
    Some(Lag { from: from.map(edge), to: to.map(edge), at, chances })
}

fn longest_land_deg(column: &Column) -> f64 {
    let passing = column.analysis.pair.as_ref().map(|m| &m.passing);
    passing.map_or(0.0, |passing| passing.widest_land().to_degrees())
}
