//! What is past a limit, the gravest first.

use crenel_words::{Message, Value, verdict as say};

use super::said::{Said, of_finding};
use super::stage::Stage;
use crate::analysis::Analysis;
use crate::diagnosis::{CheckResult, CheckStatus, KnownBy, diagnose};
use crate::fields::Slot;
use crate::finding::{Class, Finding};
use crate::units::{Quantity, sort_by_number};

/// Something that is past its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Matter {
    /// How grave it is.
    pub class: Class,
    /// The stage that shows it.
    pub stage: Stage,
    /// The code of its finding, or the key of its check.
    pub code: &'static str,
    /// By which share it is past its limit.
    pub excess: f64,
    /// The numbers that it is about.
    pub at: Vec<Slot>,
    /// The fact with its number and limit.
    pub fact: Message,
    /// The next thing to do.
    pub next: Message,
    /// The fact in at most thirteen words.
    pub short: Message,
}

/// Everything that is past a limit, the gravest first, and in a class the farthest past its limit.
pub fn matters(analysis: &Analysis) -> Vec<Matter> {
    let past = analysis.findings.iter().filter(|finding| finding.class() != Class::Within);
    let mut matters: Vec<_> = past.map(|finding| Matter::of_finding(finding, analysis)).collect();
    if !analysis.design.trace.measured.is_empty() {
        let checks = diagnose(analysis).checks;
        matters.extend(checks.iter().filter_map(Matter::of_check));
    }
    sort_by_number(&mut matters, |matter| -matter.excess);
    sort_by_number(&mut matters, |matter| matter.class.place());
    matters
}

impl Matter {
    fn of_finding(finding: &Finding, analysis: &Analysis) -> Self {
        let class = finding.class();
        let at: Vec<_> = finding.place.into_iter().collect();
        let Said { fact, next, short } = of_finding(finding, analysis);
        let (stage, excess) = (Stage::of(class, &at), finding.excess());
        Self { class, stage, code: finding.code, excess, at, fact, next, short }
    }

    /// A check that fails by a number that was measured. What is worked out has its finding.
    fn of_check(checked: &CheckResult) -> Option<Self> {
        let fails = checked.status == CheckStatus::Fails;
        let measured = checked.known_by == Some(KnownBy::Measured);
        let class = checked.check.class.filter(|_| fails && measured)?;
        let at: Vec<_> = checked.check.measured.iter().copied().map(Slot::Seen).collect();
        let share = Value::Result(Quantity::Share, checked.exceedance);
        let title = (checked.check.title)();
        let says = checked.says.get(checked.decides)?.clone();
        let advice = say::measured(title.clone(), says);
        Some(Self {
            class,
            stage: Stage::Cause,
            code: checked.check.key,
            excess: checked.exceedance.min(f64::MAX),
            at,
            fact: advice.says,
            next: advice.next,
            short: say::measured_short(title, share),
        })
    }
}
