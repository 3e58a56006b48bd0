//! The shift of a design: one from the phase as drawn, and the shares over all phases.

use std::f64::consts::TAU;

use super::shift_case::ShiftCase;
use crate::design::{Design, SettingField};
use crate::pair::{Engagement, Mesh};
use crate::shift::{Attempt, Conditions, FirstPass, Shifter, phase_sense};
use crate::units::Angle;

/// One shift, and the shares of the outcomes over all phases.
#[derive(Clone, Debug, PartialEq)]
pub struct ShiftAnalysis {
    /// The conditions of the shift.
    pub conditions: Conditions,
    /// The shift from the phase of the design, with its path.
    pub attempt: Attempt,
    /// Outcomes of the first pass, over all starting phases.
    pub shares: Shares,
}

/// Shares of starting phases by the outcome of the first pass. They sum to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shares {
    /// Caught in the first window.
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
    /// Number of spans of phases with one outcome each.
    pub spans: usize,
}

impl ShiftAnalysis {
    pub(super) fn of(
        design: &Design,
        mesh: &Mesh,
        engagement: &Engagement,
        shift_case: &ShiftCase,
    ) -> Self {
        let conditions = conditions(design, mesh, engagement.full_depth_mm, shift_case);
        let phase = Angle::from_degrees(design.setting.get(SettingField::Phase)).radians();
        let slip = shift_case.slip();
        let shifter = Shifter::new(mesh, conditions, phase_sense(slip));
        let shares = Shares::of(&shifter, slip);
        Self { conditions, attempt: shifter.trace(phase, slip), shares }
    }
}

/// The conditions of a shift.
pub(super) fn conditions(
    design: &Design,
    mesh: &Mesh,
    full_mm: f64,
    shift_case: &ShiftCase,
) -> Conditions {
    let setting = &design.setting;
    Conditions {
        travel: setting.travel(),
        hold_mm: setting.get(SettingField::HoldDepth),
        full_mm: full_mm.max(0.0),
        friction: design.tip_friction(),
        friction_radius_mm: mesh.contact.mean_mm(),
        inertia_kg_m2: shift_case.sides.reduced_kg_m2(),
        drag_nm: setting.get(SettingField::Drag),
        strike_loss: setting.get(SettingField::StrikeLoss),
        allowed_s: setting.get(SettingField::TimeAllowed) / 1000.0,
    }
}

/// Shares of the first pass of a shift with a pair that overlaps by `full_mm` at most.
pub(super) fn first_pass(design: &Design, mesh: &Mesh, full_mm: f64, case: &ShiftCase) -> Shares {
    let given = conditions(design, mesh, full_mm, case);
    Shares::of(&Shifter::new(mesh, given, phase_sense(case.slip())), case.slip())
}

impl Shares {
    /// The shares at a slip in rad/s, from the exact widths of the spans, not from a count of tries.
    pub(super) fn of(shifter: &Shifter, slip: f64) -> Self {
        let spans = shifter.first_passes(slip);
        let mut shares = Self { spans: spans.len(), ..Self::default() };
        for span in spans {
            *shares.of_mut(span.what) += span.width / TAU;
        }
        shares
    }

    /// Share that is in at the first pass, straight or after rubbing.
    pub fn is_in(&self) -> f64 {
        self.straight_in + self.after_rubbing
    }

    const fn of_mut(&mut self, what: FirstPass) -> &mut f64 {
        match what {
            FirstPass::StraightIn => &mut self.straight_in,
            FirstPass::AfterRubbing => &mut self.after_rubbing,
            FirstPass::Struck => &mut self.struck,
            FirstPass::Locked => &mut self.locked,
            FirstPass::HalfIn => &mut self.half_in,
            FirstPass::Ratcheting => &mut self.ratcheting,
        }
    }
}
