//! The numbers of a design, each with its formula, its working and its source.

mod blow;
mod entry;
mod handbook;
mod lash;
mod meaning;
mod metal;
mod selector;
mod shift;
mod strength;
mod time;

pub use handbook::handbook;
pub use meaning::meaning;
pub use shift::moment_words;

use crate::analysis::{Analysis, PairAnalysis};
use crate::design::SettingField;
use crate::units::{DisplayUnits, Quantity};

/// Which direction of change a builder wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More is better.
    More,
    /// Less is better.
    Less,
    /// Neither by itself.
    Neither,
}

/// Under which heading a figure stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Getting in.
    Entry,
    /// Once in.
    Lash,
    /// Against the clock.
    Time,
    /// What becomes of a shift.
    Shift,
    /// How hard the dogs meet.
    Blow,
    /// What the dogs carry, and whether they stay in.
    Strength,
    /// The metal of the dogs.
    Metal,
    /// From the pedal to the fork.
    Selector,
    /// Depth along the shaft.
    Depth,
}

impl Group {
    /// All headings in order.
    pub const ALL: [Self; 9] = [
        Self::Entry,
        Self::Lash,
        Self::Time,
        Self::Shift,
        Self::Blow,
        Self::Strength,
        Self::Metal,
        Self::Selector,
        Self::Depth,
    ];

    /// The heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Entry => "Getting in",
            Self::Lash => "Once in",
            Self::Time => "Against the clock",
            Self::Shift => "Does it go in?",
            Self::Blow => "The blow",
            Self::Strength => "Will it hold?",
            Self::Metal => "Metal",
            Self::Selector => "From the pedal to the fork",
            Self::Depth => "Depth along the shaft",
        }
    }
}

/// One number of a report.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Stable key with the unit in it.
    pub key: &'static str,
    /// Heading it stands under.
    pub group: Group,
    /// Words for it.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// The number; `None` where the design has none, which `working` explains.
    pub value: Option<f64>,
    /// An answer in words, where a number says too little.
    pub words: Option<&'static str>,
    /// What is said where there is neither.
    pub absent: &'static str,
    /// Which way is better.
    pub better: Better,
    /// The formula in signs.
    pub formula: &'static str,
    /// The formula with this design's numbers.
    pub working: String,
    /// Where the formula comes from.
    pub source: &'static str,
}

impl Figure {
    /// Whether a number would be shown as this one is.
    pub(crate) fn looks_like(&self, value: f64) -> bool {
        let show = |value| self.quantity.show_short(value, DisplayUnits::default());
        self.value.is_some_and(|own| show(own) == show(value))
    }

    /// The answer as it is shown: words, a number with its unit, or none.
    pub fn shown(&self, units: DisplayUnits) -> String {
        self.told(|value| self.quantity.show_short(value, units))
    }

    /// The same with all the digits that are worth something.
    pub fn shown_fully(&self, units: DisplayUnits) -> String {
        self.told(|value| self.quantity.show(value, units))
    }

    fn told(&self, number: impl Fn(f64) -> String) -> String {
        let number = || self.value.map_or_else(|| self.absent.to_owned(), number);
        self.words.map_or_else(number, str::to_owned)
    }
}

const GEOMETRY: &str = "Plane geometry of the ring; common practice, no source.";
const KINEMATICS: &str = "Uniform motion; plain arithmetic.";

/// Every figure of a design, in the order of the headings; those of the pair are not there where an
/// error stands in its way, and those of other parts where they are not given.
pub fn figures(analysis: &Analysis, units: DisplayUnits) -> Vec<Figure> {
    let mut figures = pair_figures(analysis, units);
    figures.extend(selector::figures(analysis, units));
    figures
}

/// Every figure of the pair; none where an error stands in its way.
pub(crate) fn pair_figures(analysis: &Analysis, units: DisplayUnits) -> Vec<Figure> {
    let Some(pair) = &analysis.pair else { return Vec::new() };
    let shown = Shown { analysis, pair, units };
    let mut figures = shown.entry();
    figures.extend(shown.lash());
    figures.extend(shown.time());
    figures.extend(shown.shift());
    figures.extend(shown.blow());
    figures.extend(shown.strength());
    figures.extend(shown.metal());
    figures
}

/// Makes the figures of a group from one source; a number that is not finite counts as none.
fn if_finite(
    group: Group,
    source: &'static str,
) -> impl Fn(&'static str, &'static str, Quantity, Option<f64>, Better, &'static str, String) -> Figure
{
    move |key, label, quantity, value, better, formula, working| Figure {
        key,
        group,
        label,
        quantity,
        value: value.filter(|v| v.is_finite()),
        words: None,
        absent: "none",
        better,
        formula,
        working,
        source,
    }
}

struct Shown<'a> {
    analysis: &'a Analysis,
    pair: &'a PairAnalysis,
    units: DisplayUnits,
}

impl Shown<'_> {
    fn deg(&self, radians: f64) -> String {
        Quantity::Angle.show(radians.to_degrees(), self.units)
    }

    fn mm(&self, mm: f64) -> String {
        Quantity::Length.show(mm, self.units)
    }

    fn show(&self, quantity: Quantity, value: f64) -> String {
        quantity.show(value, self.units)
    }

    fn setting(&self, field: SettingField) -> f64 {
        self.analysis.design.setting.get(field)
    }

    /// Size of the speed difference in words.
    fn slip(&self) -> String {
        self.show(Quantity::Speed, self.pair.shift_case.slip_rpm.abs())
    }

    /// A setting in words, with its unit.
    fn given(&self, field: SettingField) -> String {
        self.show(field.id().spec().quantity, self.setting(field))
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn count(n: usize) -> f64 {
    n as f64
}
