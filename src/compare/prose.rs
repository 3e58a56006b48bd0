//! How one layout differs from another, in plain words made from the numbers.

use super::column::{Column, jam_mm};
use crate::figures::{self, Better, Figure, FigureValue};
use crate::model::{Chances, chance_top_rpm};
use crate::units::{DisplayUnits, Quantity, sanitize_quote};

/// Differences below this share of the larger number get neither a sentence nor a mark.
pub(super) const WORTH_TELLING: f64 = 0.02;

/// How many speed differences are sampled to find where a layout falls behind, and the least share of all
/// phases that counts as behind.
const LAG_STEPS: u32 = 60;
const LAG_SHARE: f64 = 0.05;

/// Figures that get a sentence only if they get worse, with the words for them.
static WORSE_TOO: [(&Figure, &str); 4] = [
    (&figures::OVERRUN_PRESSURE, "flank pressure on the over-run"),
    (&figures::ROOT_COMBINED, "stress at the root"),
    (&figures::OVERRUN_COMBINED, "stress at the root on the over-run"),
    (&figures::OVERRUN_HOLDING, "holding force on the over-run"),
];

/// One paragraph: how `other` differs from `first`, and why.
pub(super) fn differences(first: &Column, other: &Column, units: DisplayUnits) -> String {
    let pair = Pair { first, other, units };
    if other.analysis.pair.is_none() {
        let why = other.analysis.findings.first().map_or(String::new(), |f| f.text(units));
        return format!("{} cannot be worked out. {why}", pair.name(other));
    }
    if first.analysis.pair.is_none() {
        return format!(
            "{} has nothing to be compared with: the design on the board cannot be worked out.",
            pair.name(other)
        );
    }
    // Every paragraph begins by saying what it is about.
    let mut told: Vec<String> = [pair.jam(), pair.entry()].into_iter().flatten().collect();
    let rest = [
        pair.first_pass(),
        pair.hang(),
        pair.lash(),
        pair.depth(),
        pair.carrying(),
        pair.elsewhere(),
        pair.worse_too(),
    ];
    let rest: Vec<String> = rest.into_iter().flatten().collect();
    if told.is_empty() {
        let same = if rest.is_empty() { "comes out the same" } else { "opens the same windows" };
        told.push(format!("{} {same} as layout {}.", pair.name(other), first.number));
    }
    told.extend(rest);
    told.join(" ")
}

struct Pair<'a> {
    first: &'a Column,
    other: &'a Column,
    units: DisplayUnits,
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

    fn show(&self, units: DisplayUnits) -> [String; 2] {
        [self.other, self.first].map(|v| self.quantity.show_result(v, units))
    }

    /// Both numbers, as “this against that”.
    fn against(&self, units: DisplayUnits) -> String {
        let [other, first] = self.show(units);
        format!("{other} against {first}")
    }
}

impl Pair<'_> {
    fn name(&self, column: &Column) -> String {
        format!("Layout {} ({})", column.number, sanitize_quote(&column.title))
    }

    fn both(&self, figure: &Figure) -> Option<Both> {
        let number = |column: &Column| {
            let same = |value: &&FigureValue| value.figure == figure;
            column.figures.iter().find(same)?.value
        };
        let (first, other) = (number(self.first)?, number(self.other)?);
        Some(Both { quantity: figure.quantity, first, other })
    }

    /// A sentence if either layout jams.
    fn jam(&self) -> Option<String> {
        let at = Quantity::Length.show(jam_mm(&self.other.analysis)?, self.units);
        let name = self.name(self.other);
        Some(format!("{name} jams at an overlap of {at}: it does not go in to full depth."))
    }

    /// A sentence on getting in: the windows and for how long they are open.
    fn entry(&self) -> Option<String> {
        let (free, time) = (self.both(&figures::FREE_ANGLE)?, self.both(&figures::WINDOW_TIME)?);
        let windows = self.both(&figures::ENTRY_WINDOWS)?;
        let name = self.name(self.other);
        if !free.differs() {
            return windows.differs().then(|| {
                format!(
                    "{name} has windows as wide as layout {}, but {} of them.",
                    self.first.number,
                    windows.against(self.units)
                )
            });
        }
        let [wide, was] = free.show(self.units);
        let [many, were] = windows.show(self.units);
        let word = if free.grows() { "easier to enter" } else { "harder to enter" };
        let travel = self.both(&figures::TRAVEL_TIME).map_or(String::new(), |t| {
            format!(", and the travel to the hold depth takes {}", t.show(self.units)[0])
        });
        Some(format!(
            "{name} is {word}: {many} × {wide} stand open instead of {were} × {was}, so a window stays open for \
                {}{travel}.",
            time.against(self.units)
        ))
    }

    fn first_pass(&self) -> Option<String> {
        let (straight, rubbed) =
            (self.both(&figures::STRAIGHT_IN)?, self.both(&figures::IN_AFTER_RUBBING)?);
        let sum = Both {
            quantity: Quantity::Share,
            first: straight.first + rubbed.first,
            other: straight.other + rubbed.other,
        };
        sum.differs().then(|| {
            let word = if sum.grows() { "more often" } else { "less often" };
            let struck =
                self.both(&figures::THROWN_BACK).filter(Both::differs).map_or(String::new(), |s| {
                    format!(" It is thrown back in {}.", s.against(self.units))
                });
            format!(
                "It goes in {word} at the first pass: {} of all phases.{struck}",
                sum.against(self.units)
            )
        })
    }

    /// A sentence on tips that rub themselves to a stop.
    fn hang(&self) -> Option<String> {
        let locked = self.both(&figures::HANGS)?;
        let half = self.both(&figures::HALF_IN)?;
        let locked = locked.differs().then(|| {
            let word = if locked.grows() { "more often" } else { "less often" };
            let lands = Both {
                quantity: Quantity::Angle,
                first: longest_land_deg(self.first),
                other: longest_land_deg(self.other),
            };
            format!(
                "It hangs tip on tip {word}, from {} of all phases: the longest face to rub along is {}.",
                locked.against(self.units),
                lands.against(self.units)
            )
        });
        let half = half.differs().then(|| {
            format!("It stops half in, on top of a short dog, from {}.", half.against(self.units))
        });
        let told: Vec<_> = [locked, half].into_iter().flatten().collect();
        (!told.is_empty()).then(|| told.join(" "))
    }

    /// A sentence on lash and clunk.
    fn lash(&self) -> Option<String> {
        let (lash, clunk) = (self.both(&figures::LASH)?, self.both(&figures::CLUNK)?);
        lash.differs().then(|| {
            let word = if lash.grows() { "harder" } else { "more softly" };
            let cause = if lash.grows() { "more" } else { "less" };
            format!(
                "It clunks {word} as the throttle opens and closes: the dogs have {cause} lash to cross, {}, and come \
                    together with {}.",
                lash.against(self.units),
                clunk.against(self.units)
            )
        })
    }

    fn depth(&self) -> Option<String> {
        let depth = self.both(&figures::FULL_DEPTH)?;
        depth.differs().then(|| {
            let [now, was] = depth.show(self.units);
            format!("It engages {now} deep instead of {was}.")
        })
    }

    /// A sentence on the speed differences at which it goes in less often, unless another one says so.
    fn elsewhere(&self) -> Option<String> {
        let lag = lag(self.first, self.other)?;
        let drawn = self.first.analysis.pair.as_ref()?.shift_case.slip_rpm.abs();
        let in_it =
            lag.from.is_none_or(|from| from <= drawn) && lag.to.is_none_or(|to| drawn <= to);
        let rpm = |v: f64| Quantity::Speed.show_result(v.round(), self.units);
        let range = match (lag.from, lag.to) {
            (None, Some(to)) => format!("Below {}", rpm(to)),
            (Some(from), None) => format!("Above {}", rpm(from)),
            (Some(from), Some(to)) => format!("Between {} and {}", rpm(from), rpm(to)),
            (None, None) => "At every speed difference".to_owned(),
        };
        let chances = lag.chances.against(self.units);
        (!in_it).then(|| format!("{range} it goes in less often: {chances} at {}.", rpm(lag.at)))
    }

    /// A sentence on what gets worse under load, unless another one says so.
    fn worse_too(&self) -> Option<String> {
        let worse = |(figure, words): &(&Figure, &str)| {
            let both = self.both(figure).filter(Both::differs)?;
            let more_is_better = figure.better == Better::More;
            (both.grows() != more_is_better)
                .then(|| format!("{words} {}", both.against(self.units)))
        };
        let told: Vec<String> = WORSE_TOO.iter().filter_map(worse).collect();
        (!told.is_empty()).then(|| format!("Worse as well: {}.", told.join(", ")))
    }

    fn carrying(&self) -> Option<String> {
        let pairs = self.both(&figures::PAIRS_MEETING_DRIVE).filter(Both::differs).map(|pairs| {
            let [now, was] = pairs.show(self.units);
            format!("Under power {now} pairs of dogs meet instead of {was}.")
        });
        let pressure = self.both(&figures::FLANK_PRESSURE).filter(Both::differs).map(|pressure| {
            let against = pressure.against(self.units);
            format!("Flank pressure comes to {against}.")
        });
        let told: Vec<_> = [pairs, pressure].into_iter().flatten().collect();
        (!told.is_empty()).then(|| told.join(" "))
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
