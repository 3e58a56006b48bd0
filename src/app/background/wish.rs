//! What the smallest cut is searched for, as the reader has set it.

use serde_json::{Value, json};

use crenel::suggest::{Ceilings, FlankStep, Goal, Search, ShopStep};
use crenel::units::{Angle, DisplayUnits};

/// A search as the reader has set it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Wish {
    pub(crate) goal: Goal,
    /// `None` for the usual step in the units shown.
    pub(crate) step: Option<ShopStep>,
    /// What radial flanks are moved in by.
    pub(crate) flank: FlankStep,
    /// Whether the goal has to be met over the whole tolerance of each new size.
    pub(crate) holds: bool,
    pub(crate) lash_deg: Option<f64>,
    pub(crate) metal_g: Option<f64>,
    /// Whether no limit may be crossed.
    pub(crate) within_limits: bool,
}

impl Wish {
    /// What is searched for until the reader sets something else.
    pub(crate) const USUAL: Self = Self {
        goal: Goal::Window,
        step: None,
        flank: FlankStep::Length,
        holds: true,
        lash_deg: None,
        metal_g: None,
        within_limits: true,
    };

    /// Anything that cannot be read is as usual.
    pub(crate) fn read(text: &str) -> Self {
        let saved: Value = serde_json::from_str(text).unwrap_or_default();
        let step = |mm: f64| ShopStep::ALL.into_iter().find(|step| step.mm() == mm);
        Self {
            goal: Goal::ALL
                .into_iter()
                .find(|goal| saved["goal"] == key(*goal))
                .unwrap_or(Self::USUAL.goal),
            step: saved["step_mm"].as_f64().and_then(step),
            flank: read_flank(&saved),
            holds: saved["holds"].as_bool().unwrap_or(Self::USUAL.holds),
            lash_deg: saved["lash_deg"].as_f64(),
            metal_g: saved["metal_g"].as_f64(),
            within_limits: saved["within_limits"].as_bool().unwrap_or(Self::USUAL.within_limits),
        }
    }

    pub(crate) fn to_json(self) -> String {
        let (minutes, hole) = match self.flank {
            FlankStep::Length => (None, None),
            FlankStep::Minutes(minutes) => (Some(minutes), None),
            FlankStep::Hole { circle, ratio } => (None, Some([circle, ratio])),
        };
        json!({
            "goal": key(self.goal),
            "step_mm": self.step.map(ShopStep::mm),
            "flank_minutes": minutes,
            "flank_hole": hole,
            "holds": self.holds,
            "lash_deg": self.lash_deg,
            "metal_g": self.metal_g,
            "within_limits": self.within_limits,
        })
        .to_string()
    }

    /// The step that is chosen, or the usual one.
    pub(crate) fn step(self, units: DisplayUnits) -> ShopStep {
        self.step.unwrap_or_else(|| ShopStep::usual(units))
    }

    pub(crate) fn search(self, units: DisplayUnits) -> Search {
        Search {
            goal: self.goal,
            step: self.step(units),
            flank: self.flank,
            holds: self.holds,
            ceilings: Ceilings {
                lash: self.lash_deg.map(Angle::from_degrees),
                metal_g: self.metal_g,
                within_limits: self.within_limits,
            },
        }
    }
}

fn read_flank(saved: &Value) -> FlankStep {
    let whole =
        |value: &Value| value.as_u64().and_then(|n| u16::try_from(n).ok()).filter(|n| *n > 0);
    let hole = &saved["flank_hole"];
    match (whole(&saved["flank_minutes"]), whole(&hole[0]), whole(&hole[1])) {
        (Some(minutes), ..) => FlankStep::Minutes(minutes),
        (None, Some(circle), Some(ratio)) => FlankStep::Hole { circle, ratio },
        _ => FlankStep::Length,
    }
}

/// The key of the number that is wanted.
fn key(goal: Goal) -> &'static str {
    goal.field().id().spec().key
}
