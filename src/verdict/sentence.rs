//! The sentence on the whole design.

use crenel_words::{Message, verdict as say};

use super::matter::{Matter, matters};
use super::rests_on::{assumed, assumed_by_figure};
use super::said::{Said, result};
use super::stage::Stage;
use super::stress::load_judged;
use super::within::{said, tightest};
use crate::analysis::Analysis;
use crate::design::Need;
use crate::diagnosis::{Diagnosis, diagnose};
use crate::fields::Slot;
use crate::figures::{Group, STRAIGHT_IN_LIMIT, numbers};
use crate::finding::Class;
use crate::gearset::{Part, Worst};

/// One sentence on the whole design.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// How grave it is.
    pub class: Class,
    /// The fact with its number and limit.
    pub fact: Message,
    /// The next thing to do.
    pub next: Option<Message>,
    /// The fact in at most thirteen words.
    pub short: Message,
    /// The stage that shows it.
    pub stage: Stage,
    /// The numbers to select when somebody wants to see it.
    pub at: Vec<Slot>,
    /// By which share it is past its limit; 0 if nothing is.
    pub excess: f64,
    /// Whether its numbers are estimates.
    pub estimate: bool,
    /// The numbers that it rests on and that nobody gave: they have the default of the table.
    pub assumed: Vec<Slot>,
    /// The part of the whole gearbox that it is about; `None` where it is about the pair.
    pub part: Option<Part>,
}

impl Verdict {
    /// The verdict on a design. Never panics, whatever the design holds.
    pub fn of(analysis: &Analysis) -> Self {
        Self::on(&matters(analysis), analysis)
    }

    /// The same where its [`matters`] are known.
    pub fn on(matters: &[Matter], analysis: &Analysis) -> Self {
        match matters.first() {
            Some(gravest) => Self::past(gravest.clone(), analysis),
            None => Self::within(analysis),
        }
    }

    /// The verdict as a stage of the work shows it. It is the same for all, except where the cause is still looked
    /// for: there it is on the parts between foot and dogs, and on what is not known of them yet. A design that
    /// cannot be made as it stands comes before that.
    pub fn at_stage(stage: Stage, matters: &[Matter], analysis: &Analysis) -> Self {
        let is_grave = |matter: &Matter| matter.class <= Class::Cut;
        if stage != Stage::Cause || matters.first().is_some_and(is_grave) {
            return Self::on(matters, analysis);
        }
        let diagnosis = diagnose(analysis);
        let open = diagnosis.open();
        match matters.iter().find(|matter| matter.stage == Stage::Cause) {
            _ if open == 0 => Self::on(matters, analysis),
            Some(gravest) => Self::past(gravest.clone(), analysis),
            None => Self::undiagnosed(&diagnosis, open),
        }
    }

    /// No part between foot and dogs is past a limit, and some are not measured.
    fn undiagnosed(diagnosis: &Diagnosis, open: usize) -> Self {
        let all = diagnosis.checks.len();
        let first = diagnosis.first_open().filter(|_| diagnosis.asked);
        let advice = match first.map(|first| (first.check.title)()) {
            Some(first) => say::not_diagnosed_yet(open, all, first),
            None => say::not_diagnosed(open, all),
        };
        let Said { fact, next, short } = Said::new(advice, say::not_diagnosed_short(open, all));
        Self {
            class: Class::Open,
            fact,
            next: Some(next),
            short,
            stage: Stage::Cause,
            at: Vec::new(),
            excess: 0.0,
            estimate: false,
            assumed: Vec::new(),
            part: None,
        }
    }

    fn past(matter: Matter, analysis: &Analysis) -> Self {
        let Matter { class, stage, excess, at, fact, next, short, .. } = matter;
        Self {
            class,
            fact,
            next: Some(next),
            short,
            stage,
            excess,
            estimate: class.is_estimate(),
            assumed: assumed(analysis, class, &at),
            at,
            part: None,
        }
    }

    /// Nothing that is known is past a limit.
    fn within(analysis: &Analysis) -> Self {
        if let Some(open) = Self::open(analysis) {
            return open;
        }
        let tightest = tightest(analysis);
        let group = tightest.map(|(figure, _)| figure.group);
        let assumed =
            tightest.map_or_else(Vec::new, |(figure, _)| assumed_by_figure(analysis, figure));
        let Said { fact, next, short } = said(tightest, &assumed, load_judged(analysis));
        Self {
            class: Class::Within,
            fact,
            next: Some(next),
            short,
            stage: group.map_or(Stage::Pair, Stage::of_group),
            at: Vec::new(),
            excess: 0.0,
            estimate: group.is_some_and(Group::is_estimate),
            assumed,
            part: None,
        }
    }

    /// How fast the dogs go in, where nobody knows the speed difference that they meet.
    fn open(analysis: &Analysis) -> Option<Self> {
        let missing = analysis.design.missing(Need::Speed)?;
        let (_, rpm) = numbers([&STRAIGHT_IN_LIMIT], analysis).pop()?;
        let limit = || result(STRAIGHT_IN_LIMIT.quantity, rpm);
        let advice = match missing {
            Slot::Setting(_) => say::shift_unknown(limit()),
            of_gearbox => say::gearbox_unknown(limit(), of_gearbox.words()),
        };
        let Said { fact, next, short } = Said::new(advice, say::shift_unknown_short(limit()));
        Some(Self {
            class: Class::Open,
            fact,
            next: Some(next),
            short,
            stage: Stage::Pair,
            at: vec![missing],
            excess: 0.0,
            estimate: false,
            assumed: assumed_by_figure(analysis, &STRAIGHT_IN_LIMIT),
            part: None,
        })
    }

    /// The verdict with the whole gearbox around the pair: a finding on a part of it that locks or burns outranks what is
    /// said about the pair, unless that is graver still.
    ///
    /// Which gear is open is then no matter: two gears at once are told whatever pair is looked at.
    #[must_use]
    pub fn in_box(self, worst: &Worst) -> Self {
        let Some(part) = worst.part.filter(|_| worst.class <= Class::Cut) else { return self };
        if self.class < worst.class {
            return self;
        }
        Self {
            class: worst.class,
            fact: worst.says.clone(),
            next: worst.next.clone(),
            short: worst.short.clone(),
            stage: Stage::Cause,
            at: Vec::new(),
            excess: 0.0,
            estimate: false,
            assumed: Vec::new(),
            part: Some(part),
        }
    }

    /// The same for a design that came by a link. Its title is at the top of the page.
    #[must_use]
    pub fn of_friend(self) -> Self {
        let fact = say::friends_design(self.fact);
        Self { fact, short: say::friends_design_short(self.short), ..self }
    }
}
