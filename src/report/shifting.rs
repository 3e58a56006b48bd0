//! The shift of a design: one from the phase as drawn, and the shares over all phases.

use std::f64::consts::TAU;

use super::offered::Offered;
use crate::design::Design;
use crate::fields::FieldId;
use crate::pair::{Engagement, Mesh};
use crate::shift::{Attempt, Conditions, Ending, Shifter, phase_sense};
use crate::units::Angle;

/// Pairs of dogs looked at for the shares in one recompute, which bounds their cost in a drag.
const SHARE_EFFORT: usize = 9_000;

/// Fewest and most starting phases for the shares.
const SHARE_PHASES: (usize, usize) = (60, 360);

/// One shift and what becomes of all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Shifting {
    /// Under what conditions.
    pub conditions: Conditions,
    /// The shift from the phase of the design, with its path.
    pub attempt: Attempt,
    /// What becomes of the first pass, over evenly spread starting phases.
    pub shares: Shares,
}

/// Shares of starting phases by what the first pass comes to; they sum to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shares {
    /// Into the first window and caught.
    pub straight_in: f64,
    /// Caught after rubbing.
    pub after_rubbing: f64,
    /// Thrown back by a flank at least once.
    pub struck: f64,
    /// Locked tip on tip.
    pub locked: f64,
    /// Held by the tall dogs on top of a short one.
    pub half_in: f64,
    /// None of these within the time allowed.
    pub ratcheting: f64,
    /// How many phases were tried.
    pub phases: usize,
}

impl Shifting {
    pub(super) fn of(
        design: &Design,
        mesh: &Mesh,
        engagement: &Engagement,
        offered: &Offered,
    ) -> Self {
        let conditions = conditions(design, mesh, engagement.full_depth_mm, offered);
        let phase = Angle::from_degrees(design.setting.of(FieldId::Phase)).radians();
        let slip = offered.slip();
        let shifter = Shifter::new(mesh, conditions, phase_sense(slip));
        let shares = Shares::over_phases(&shifter, slip, mesh.blocks.len());
        Self { conditions, attempt: shifter.trace(phase, slip), shares }
    }
}

/// What a shift is made under.
pub(super) fn conditions(
    design: &Design,
    mesh: &Mesh,
    full_mm: f64,
    offered: &Offered,
) -> Conditions {
    let setting = &design.setting;
    Conditions {
        travel: setting.travel(),
        hold_mm: setting.of(FieldId::HoldDepth),
        full_mm: full_mm.max(0.0),
        friction: design.tip_friction(),
        friction_radius_mm: mesh.contact.mean_mm(),
        inertia_kg_m2: offered.sides.reduced_kg_m2(),
        drag_nm: setting.of(FieldId::Drag),
        strike_loss: setting.of(FieldId::StrikeLoss),
        allowed_s: setting.of(FieldId::TimeAllowed) / 1000.0,
    }
}

impl Shares {
    /// Over as many evenly spread phases as a recompute can bear with so many pairs of dogs.
    pub(super) fn over_phases(shifter: &Shifter, slip: f64, pairs: usize) -> Self {
        let phases = SHARE_EFFORT / pairs.max(1);
        Self::over(shifter, slip, phases.clamp(SHARE_PHASES.0, SHARE_PHASES.1))
    }

    /// Over so many evenly spread phases, at a slip in rad/s.
    pub(super) fn over(shifter: &Shifter, slip: f64, phases: usize) -> Self {
        let mut shares = Self { phases, ..Self::default() };
        #[expect(clippy::cast_precision_loss, reason = "at most a few hundred")]
        let (each, step) = (1.0 / phases as f64, |at: usize| (at as f64 + 0.5) / phases as f64);
        for at in 0..phases {
            let first = shifter.first_pass(step(at) * TAU, slip);
            *shares.of_mut(&first) += each;
        }
        shares
    }

    const fn of_mut(&mut self, first: &Attempt) -> &mut f64 {
        if first.strikes > 0 {
            return &mut self.struck;
        }
        match first.ending {
            Ending::StraightIn => &mut self.straight_in,
            Ending::AfterRubbing => &mut self.after_rubbing,
            Ending::Locked => &mut self.locked,
            Ending::HalfIn => &mut self.half_in,
            Ending::Ratcheting => &mut self.ratcheting,
        }
    }
}
