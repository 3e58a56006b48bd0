//! What is asked of a search, and what a cut must not exceed.

use crenel_words::{Message, Value, suggest as say};

use super::goal::{Goal, reaches, wanted};
use super::step::{FlankStep, ShopStep, Steps as ShopSteps};
use crate::analysis::Analysis;
use crate::units::{Angle, DisplayUnits, Quantity};

/// What is asked: a goal, whose number is in the settings of the design, and what must not be exceeded for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Search {
    /// The goal.
    pub goal: Goal,
    /// The step that sizes are whole numbers of.
    pub step: ShopStep,
    /// What radial flanks are moved in by.
    pub flank: FlankStep,
    /// Whether the goal has to be met with every size off by its tolerance, where any cut does so. Without it
    /// the nominal sizes meet the goal: for parts that are measured as they are cut.
    pub holds: bool,
    /// What a cut must not exceed.
    pub ceilings: Ceilings,
}

/// What a cut must not exceed. The default sets no ceiling.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ceilings {
    /// The lash after the cut, at its nominal sizes.
    pub lash: Option<Angle>,
    /// The metal that comes off both rings, g.
    pub metal_g: Option<f64>,
    /// Whether no figure may cross its limit, and no warning may speak against the cut.
    pub within_limits: bool,
}

impl Search {
    /// A search without ceilings, in the usual step of a shop.
    pub const fn new(goal: Goal, units: DisplayUnits) -> Self {
        let ceilings = Ceilings { lash: None, metal_g: None, within_limits: false };
        let (step, flank) = (ShopStep::usual(units), FlankStep::Length);
        Self { goal, step, flank, holds: true, ceilings }
    }

    /// Whether a design meets the goal as it is.
    pub fn is_met(&self, now: &Analysis) -> bool {
        reaches(&now.design, self.goal).is_some_and(|has| has >= wanted(&now.design, self.goal))
    }

    pub(super) const fn steps(&self) -> ShopSteps {
        ShopSteps { length: self.step, flank: self.flank }
    }

    /// A sentence on what is searched.
    pub fn searched(&self) -> Message {
        say::searched(Value::Size(Quantity::Length, self.step.mm()))
    }
}
