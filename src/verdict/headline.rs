//! The three figures of a stage.

use crenel_words::{Message, Value, place, verdict as say};

use super::said::result;
use super::stage::Stage;
use super::stress::{UnderShock, under_shock};
use crate::analysis::Analysis;
use crate::design::SettingField;
use crate::diagnosis::diagnose;
use crate::figures::{
    self, FLANK_PRESSURE, Figure, HOLDING_FORCE, LASH, OVERRUN_COMBINED, OVERRUN_HOLDING,
    OVERRUN_PRESSURE, ROOT_COMBINED, ROOT_SHEAR, STRAIGHT_IN_LIMIT, WIDTH_TO_HOLD, WINDOW_TIME,
    numbers,
};
use crate::finding::{Class, Severity};
use crate::gauge::{Allowed, Gauge};
use crate::gearset::Worst;
use crate::ring::{DENSITY_G_PER_MM3, Ring, Side};
use crate::suggest::plan_cautions;
use crate::units::Quantity;

/// Whether a figure is past its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Within its limit.
    Within,
    /// Past its limit.
    Past,
    /// It has no limit, or no number.
    Unknown,
}

/// One of the three figures of a stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Headline {
    /// What it is.
    pub name: Message,
    /// Its number or words; a dash if there is none.
    pub value: Value,
    /// The number beside its limit, for a bar.
    pub gauge: Option<Gauge>,
    /// The limit in words.
    pub told: Option<Message>,
    /// Whether it is past its limit.
    pub mark: Mark,
    /// The key of its figure, where it is one.
    pub key: Option<&'static str>,
}

/// The three figures of a stage.
pub fn headline(stage: Stage, analysis: &Analysis) -> [Headline; 3] {
    match stage {
        Stage::Cause => cause(analysis),
        Stage::Pair => of([&WINDOW_TIME, &STRAIGHT_IN_LIMIT, &LASH], analysis),
        Stage::Change => change(analysis),
        Stage::Make => make(analysis),
    }
}

/// The same in a gearbox: where something in it is graver than any check, that is the cause.
pub fn headline_in_box(stage: Stage, analysis: &Analysis, worst: &Worst) -> [Headline; 3] {
    let [cause, past, open] = headline(stage, analysis);
    match worst.part.filter(|_| stage == Stage::Cause && worst.class <= Class::Cut) {
        Some(part) => {
            [Headline { mark: Mark::Past, value: part.name().into(), ..cause }, past, open]
        }
        None => [cause, past, open],
    }
}

impl Headline {
    /// A number without a limit.
    const fn plain(name: Message, value: Value) -> Self {
        Self { name, value, gauge: None, told: None, mark: Mark::Unknown, key: None }
    }

    /// A number beside its limit.
    fn gauged(self, gauge: Option<Gauge>, told: impl FnOnce(&Gauge) -> Message) -> Self {
        let mark = gauge
            .map_or(Mark::Unknown, |gauge| if gauge.is_past() { Mark::Past } else { Mark::Within });
        Self { told: gauge.as_ref().map(told), gauge, mark, ..self }
    }
}

impl Headline {
    /// A stress of the steady throttle where a shock is larger: no tick unless it stays within its limit then too.
    fn beside(self, shock: Option<UnderShock>) -> Self {
        let Some(shock) = shock else { return self };
        let mark = if shock == UnderShock::Within { Mark::Within } else { Mark::Unknown };
        Self { told: self.told.map(say::steady), mark, ..self }
    }
}

/// Figures of the catalogue with the limits of their rows.
fn of<const N: usize>(rows: [&'static Figure; N], analysis: &Analysis) -> [Headline; N] {
    let numbers = numbers(rows, analysis);
    rows.map(|row| {
        let number = numbers.iter().find(|(own, _)| *own == row).map(|(_, number)| *number);
        of_figure(row, number, analysis)
    })
}

/// The limit of a figure in words.
fn limit_words(figure: &Figure, gauge: &Gauge) -> Message {
    let limit = result(figure.quantity, gauge.limit);
    match gauge.allowed {
        Allowed::AtMost => say::limit(limit),
        // Straight flanks neither hold nor push out: that is their shape, and no margin.
        Allowed::AtLeast if HOLDING.contains(&figure) && gauge.value.abs() < FORCE_FROM_N => {
            say::by_friction()
        }
        // What has to be at least 0 needs nothing.
        Allowed::AtLeast if gauge.limit == 0.0 => say::not_below(limit),
        Allowed::AtLeast => say::needs(limit),
        Allowed::MoreThan => say::needs_more(limit),
    }
}

/// The retaining forces.
const HOLDING: [&Figure; 2] = [&HOLDING_FORCE, &OVERRUN_HOLDING];

/// The least force that counts as one, N.
const FORCE_FROM_N: f64 = 1e-6;

/// What stands beside the bar of a figure: its limit in words, and for which load it is. The limit of the window
/// time is in its headline; beside the bar is the width that it comes from where that is not the one on the drawings.
pub fn beside_bar(figure: &'static Figure, value: f64, analysis: &Analysis) -> Option<Message> {
    if *figure == WINDOW_TIME {
        let (_, width) = numbers([&WIDTH_TO_HOLD], analysis).pop()?;
        let is_broken = analysis.edges_mm() > 0.0;
        return is_broken.then(|| say::with_edge_breaks(result(Quantity::Angle, width)));
    }
    let told = limit_words(figure, &figure.gauge(value, analysis)?);
    let shock = under_shock(figure, analysis);
    Some(if shock.is_some() { say::steady_only(told) } else { told })
}

/// A figure with its number and the limit of its row.
fn of_figure(figure: &'static Figure, number: Option<f64>, analysis: &Analysis) -> Headline {
    let gauge = number.and_then(|number| figure.gauge(number, analysis));
    let shown = number.map_or_else(Value::absent, |number| result(figure.quantity, number));
    let headline = Headline::plain(place::alone(figure.name()), shown);
    let told = |gauge: &Gauge| limit_words(figure, gauge);
    let shock = under_shock(figure, analysis).filter(|_| gauge.is_some_and(|g| !g.is_past()));
    let missing = figure.missing(&analysis.design).map(|slot| figures::needs(slot)());
    let headline = headline.gauged(gauge, told).beside(shock);
    Headline { key: Some(figure.key), told: missing.or(headline.told), ..headline }
}

fn cause(analysis: &Analysis) -> [Headline; 3] {
    let diagnosis = diagnose(analysis);
    let first = diagnosis.most_likely();
    let no_cause = if diagnosis.asked { say::no_cause } else { say::nothing_asked };
    let named = first.map_or_else(|| no_cause().into(), |first| (first.check.title)().into());
    let share = first.map_or_else(Value::absent, |first| result(Quantity::Share, first.exceedance));
    let mark = if first.is_some() { Mark::Past } else { Mark::Unknown };
    let open_of = Headline::plain(say::checks_open(), Value::how_many(diagnosis.open()));
    [
        Headline { mark, ..Headline::plain(say::likely_cause(), named) },
        Headline { mark, ..Headline::plain(say::past_its_limit(), share) },
        Headline { told: Some(say::out_of(diagnosis.checks.len())), ..open_of },
    ]
}

/// The window time beside the one wanted.
fn target(window_time: Headline, analysis: &Analysis) -> Headline {
    let wanted = analysis.design.setting.get(SettingField::WishedWindow);
    let gauge = window_time.value.as_number().map(|ms| Gauge::at_least(wanted, ms));
    window_time.gauged(gauge, |gauge| say::target(result(Quantity::Time, gauge.limit)))
}

fn removed(analysis: &Analysis) -> Headline {
    let volume = |ring: &Ring| ring.metal().volume_mm3;
    let off = |side: Side| volume(&analysis.found[side]) - volume(&analysis.cut[side]);
    let grams = Side::BOTH.map(off).iter().sum::<f64>() * DENSITY_G_PER_MM3;
    Headline::plain(say::metal_removed(), result(Quantity::Grams, grams))
}

/// The stress that is nearest to its allowable one, or farthest past it.
fn worst(stresses: [Headline; 5]) -> Headline {
    let used = |one: &Headline| one.gauge.map_or(f64::NEG_INFINITY, |gauge| gauge.used());
    let worst = stresses.into_iter().max_by(|a, b| used(a).total_cmp(&used(b)));
    let none = || Headline::plain(say::worst_stress(), Value::absent());
    worst.filter(|one| one.gauge.is_some()).unwrap_or_else(none)
}

fn change(analysis: &Analysis) -> [Headline; 3] {
    let [window_time, stresses @ ..] = of(
        [
            &WINDOW_TIME,
            &FLANK_PRESSURE,
            &ROOT_SHEAR,
            &ROOT_COMBINED,
            &OVERRUN_PRESSURE,
            &OVERRUN_COMBINED,
        ],
        analysis,
    );
    [target(window_time, analysis), removed(analysis), worst(stresses)]
}

fn make(analysis: &Analysis) -> [Headline; 3] {
    let operations = || {
        let sides = Side::BOTH.into_iter();
        sides.flat_map(|side| &analysis.design.ring(side).plan.operations)
    };
    if operations().next().is_none() {
        let absent = |name: Message| Headline::plain(name, Value::absent());
        let none = Headline::plain(say::operations(), say::none_planned().into());
        let general = Headline::plain(say::cautions(), say::general_cautions().into());
        return [none, absent(say::tightest_tolerance()), general];
    }
    let tightest = tightest_tolerance_mm(analysis);
    let shown = tightest
        .map_or_else(Value::absent, |mm| say::plus_minus(result(Quantity::Length, mm)).into());
    let cautions = count_cautions(analysis);
    [
        Headline::plain(say::operations(), Value::how_many(operations().count())),
        Headline::plain(say::tightest_tolerance(), shown),
        Headline::plain(say::cautions(), Value::how_many(cautions)),
    ]
}

/// The tightest general tolerance of a size that the plan cuts, mm; `None` if it cuts none.
fn tightest_tolerance_mm(analysis: &Analysis) -> Option<f64> {
    let grade = analysis.design.tolerances.grade;
    let dogs = Side::BOTH.into_iter().flat_map(|side| {
        let (found, cut) = (&analysis.found[side], analysis.ring(side));
        let changed = cut.dogs.iter().filter(|dog| found.at_place(dog.place) != Some(*dog));
        changed.flat_map(|dog| {
            let width = grade.linear_mm(cut.thickness_mm(dog, 0.0));
            [width, grade.linear_mm(dog.height_mm), grade.edge_mm(dog.edge_break_mm)]
        })
    });
    dogs.flatten().reduce(f64::min)
}

/// How many cautions are on the sheets: the warnings on the design, and the cautions of the cuts, each once.
fn count_cautions(analysis: &Analysis) -> usize {
    let warnings = analysis.findings.iter().filter(|one| one.severity == Severity::Warning);
    let mut of_cuts: Vec<Message> = Vec::new();
    for caution in Side::BOTH.into_iter().flat_map(|side| plan_cautions(analysis, side)) {
        if !of_cuts.contains(&caution) {
            of_cuts.push(caution);
        }
    }
    warnings.count() + of_cuts.len()
}
