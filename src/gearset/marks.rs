//! How each gear of a gearbox stands, and what is worst in it.

use crenel_words::{Message, Value, gearset as say};

use super::{GearsetAnalysis, Part, SetShift, findings};
use crate::design::LoadCase;
use crate::drum::{Play, Span};
use crate::finding::{Class, Finding, Severity};
use crate::shift::Step;

/// How one gear stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GearMark {
    /// The gravest of what is past a limit in it.
    pub class: Class,
    /// How many findings and shifts are past a limit.
    pub count: usize,
}

/// What is worst in a gearbox, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Worst {
    /// How grave it is.
    pub class: Class,
    /// The gear that it is about, from 0.
    pub gear: Option<usize>,
    /// The part at fault; `None` where it is the dogs of the gear.
    pub part: Option<Part>,
    /// The shift that it is about.
    pub step: Option<Step>,
    /// What it is.
    pub says: Message,
    /// The same in at most thirteen words.
    pub short: Message,
    /// What to do next, if a finding says so.
    pub next: Option<Message>,
}

impl GearsetAnalysis {
    /// How each gear stands, with the shifts of the table into it and every finding that concerns it.
    pub fn marks(&self, shifts: &[SetShift]) -> Vec<GearMark> {
        let mark = |gear: usize| {
            let of_findings = self.warnings().filter(|placed| placed.gears.contains(&gear));
            let of_shifts = shifts.iter().filter(|row| row.shift.step.to == gear);
            let classes = of_findings.map(|placed| placed.finding.class());
            let past = of_shifts.map(|row| row.class).filter(|class| *class != Class::Within);
            let all: Vec<_> = classes.chain(past).collect();
            let class = all.iter().copied().min().unwrap_or(Class::Within);
            GearMark { class, count: all.len() }
        };
        (0..self.gearset.gears.len()).map(mark).collect()
    }

    /// What is worst: a finding that is graver than any shift, or the shift that is furthest past a limit.
    pub fn worst(&self, shifts: &[SetShift]) -> Worst {
        let found = self.warnings().next();
        let shift = shifts.first().filter(|row| row.class != Class::Within);
        let finding_first = match (found, shift) {
            (Some(found), Some(shift)) => found.finding.class() <= shift.class,
            (found, _) => found.is_some(),
        };
        match (found.filter(|_| finding_first), shift) {
            (Some(placed), _) => {
                let [says, short] = self.in_words(placed);
                Worst {
                    class: placed.finding.class(),
                    gear: placed.gears.first().copied(),
                    part: Some(placed.part),
                    step: None,
                    says,
                    short,
                    next: Some(placed.finding.next.clone()),
                }
            }
            (None, Some(row)) if row.class == Class::Stress => of_gear(row),
            (None, Some(row)) => of_shift(row, say::hard_shift),
            (None, None) => nothing(shifts.first(), self.load_judged()),
        }
    }

    /// For which load the dogs of all gears are judged, as the sentences pick it.
    fn load_judged(&self) -> &'static str {
        let mut gears = (0..self.gearset.gears.len()).filter_map(|gear| self.gear(gear));
        let is_steady = gears.any(|own| own.worked.design.setting.case == LoadCase::Throttle);
        if is_steady { "steady" } else { "any" }
    }

    /// Where two gears of different ratio can be in at once, with all play.
    pub fn at_once(&self) -> Vec<Span> {
        let gears = 0..self.on_drum.len();
        let pairs = gears.clone().flat_map(|one| (0..one).map(move |other| (one, other)));
        let differ = |(one, other): &(usize, usize)| {
            !findings::same_ratio(&self.gearset, self.on_drum[*one], self.on_drum[*other])
        };
        let spans =
            pairs.filter(differ).flat_map(|(one, other)| self.drum.together(one, other).spans);
        spans.collect()
    }

    /// The gears that the drum has in at an angle, each with how deep its dogs are with all sizes nominal, mm: minus
    /// where they have not met.
    pub fn depths_at(&self, deg: f64) -> Vec<(usize, f64)> {
        let depth =
            |(at, gear): (usize, &usize)| (*gear, self.drum.overlap(at, Play::Nominal).at_mm(deg));
        self.on_drum.iter().enumerate().map(depth).collect()
    }

    /// Whether a gear can be in at once with another one.
    pub(super) fn locks(&self, gear: usize) -> bool {
        self.warnings().any(|own| own.finding.code == TWO_AT_ONCE && own.gears.contains(&gear))
    }

    /// A finding in words and in a few: a gear that can be in at once with several others is told once, with all of
    /// them.
    fn in_words(&self, placed: &super::Placed) -> [Message; 2] {
        let others = self.at_once_with(placed);
        let Some(gear) = placed.gears.first().copied().filter(|_| others.len() > 1) else {
            return [placed.finding.says.clone(), short_of(&placed.finding)];
        };
        let number = |at: &usize| Value::Verbatim((at + 1).to_string());
        let named = || others.iter().map(number).collect::<Vec<_>>();
        [say::one_with_many(gear, named()), say::one_with_many_short(gear, named())]
    }

    /// The gears that can be in at once with the first gear of a finding that two can, if it says that.
    fn at_once_with(&self, placed: &super::Placed) -> Vec<usize> {
        let says = |other: &&super::Placed| other.finding.code == TWO_AT_ONCE;
        let Some(gear) = placed.gears.first().filter(|_| says(&placed)) else { return Vec::new() };
        let same = self.warnings().filter(says).filter(|other| other.gears.contains(gear));
        let mut others: Vec<_> =
            same.flat_map(|other| &other.gears).copied().filter(|other| other != gear).collect();
        others.sort_unstable();
        others.dedup();
        others
    }

    /// The findings that are more than notes, the gravest first.
    fn warnings(&self) -> impl Iterator<Item = &super::Placed> {
        self.findings.iter().filter(|placed| placed.finding.severity != Severity::Note)
    }
}

fn of_shift(row: &SetShift, says: fn(usize, usize, Message) -> Message) -> Worst {
    let step = row.shift.step;
    let says = says(step.from, step.to, row.reason.clone());
    let gear = Some(step.to);
    let short = says.clone();
    Worst { class: row.class, gear, part: None, step: Some(step), says, short, next: None }
}

/// What the dogs of a gear carry is the same in each shift into it.
fn of_gear(row: &SetShift) -> Worst {
    let worst = of_shift(row, |_, to, reason| say::hard_gear(to, reason));
    Worst { step: None, ..worst }
}

/// The code of a finding that two gears can be in at once.
const TWO_AT_ONCE: &str = "two_gears_at_once";

/// The short form of a finding of the gravest kind; that of any other is itself.
fn short_of(finding: &Finding) -> Message {
    let says = &finding.says;
    let value = |name: &str| {
        let named = says.values().iter().find(|(own, _)| *own == name);
        named.map_or_else(|| Value::Verbatim(String::new()), |(_, value)| value.clone())
    };
    match finding.code {
        TWO_AT_ONCE => say::two_gears_short(value("one"), value("other")),
        "two_gears_under_torque" => say::held_gears_short(value("old"), value("new")),
        "fork_carries_thrust" => say::thrust_short(value("gear")),
        _ => says.clone(),
    }
}

/// Nothing is past a limit; the tightest shift is named, if there is one.
fn nothing(tightest: Option<&SetShift>, load: &'static str) -> Worst {
    let (class, part, next) = (Class::Within, None, None);
    let step = tightest.map(|row| row.shift.step);
    let says = step.map_or_else(say::within, |step| say::all_within(load, step.from, step.to));
    let short = says.clone();
    Worst { class, gear: step.map(|step| step.to), part, step, says, short, next }
}
