//! The sentence on the whole design.

use crenel_words::{Message, verdict as say};

use super::matter::{Matter, matters};
use super::stage::Stage;
use super::within::{sentences, tightest};
use crate::analysis::Analysis;
use crate::fields::Slot;
use crate::finding::Class;

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
}

impl Verdict {
    /// The verdict on a design. Never panics, whatever the design holds.
    pub fn of(analysis: &Analysis) -> Self {
        matters(analysis).into_iter().next().map_or_else(|| Self::within(analysis), Self::on)
    }

    fn on(matter: Matter) -> Self {
        Self {
            class: matter.class,
            fact: matter.fact,
            next: Some(matter.next),
            short: matter.short,
            stage: matter.stage,
            at: matter.at,
            excess: matter.excess,
            estimate: matter.class.is_estimate(),
            assumed: Vec::new(),
        }
    }

    fn within(analysis: &Analysis) -> Self {
        let tightest = tightest(analysis);
        let [fact, next, short] = sentences(tightest);
        let estimate = tightest.is_some_and(|(figure, _)| figure.group.is_estimate());
        Self {
            class: Class::Within,
            fact,
            next: Some(next),
            short,
            stage: Stage::Pair,
            at: Vec::new(),
            excess: 0.0,
            estimate,
            assumed: Vec::new(),
        }
    }

    /// The same for a design that came by a link.
    #[must_use]
    pub fn of_friend(self, title: &str) -> Self {
        let advice = say::friends_design(title.to_owned(), self.fact);
        Self {
            fact: advice.says,
            next: Some(advice.next),
            short: say::friends_design_short(self.short),
            ..self
        }
    }
}
