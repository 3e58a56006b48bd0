//! The torques that the dogs have to take: what the strength of the dogs is worked out from.

use super::offered::Offered;
use super::shifting::Shifting;
use crate::design::{Design, LoadCase};
use crate::fields::FieldId;
use crate::pair::Arc;
use crate::ring::FlankSide;

/// Torques at the dogs, N·m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loading {
    /// Throttle open, all settled.
    pub steady_nm: f64,
    /// Throttle shut, all settled: the engine brakes.
    pub overrun_nm: f64,
    /// The blow of the shift as drawn, with the slip that is left when it is caught; `None` where it
    /// is not.
    pub drawn_nm: Option<f64>,
    /// The blow of a shift that takes the whole speed difference.
    pub shift_nm: f64,
    /// The blow on opening the throttle across the whole lash; `None` without a window at full depth.
    pub clunk_nm: Option<f64>,
}

impl Loading {
    pub(super) fn of(
        design: &Design,
        offered: &Offered,
        shifting: Option<&Shifting>,
        held: Option<&Arc>,
    ) -> Self {
        let (blow, clunk) = (offered.blow(design), offered.clunk(design));
        let caught = shifting.map(|s| &s.attempt).filter(|attempt| attempt.is_in());
        Self {
            steady_nm: offered.throttle_nm,
            overrun_nm: offered.throttle_nm * design.setting.of(FieldId::OverrunShare),
            drawn_nm: caught.map(|attempt| blow.peak_nm(attempt.slip_left, 0.0)),
            shift_nm: blow.peak_nm(offered.slip(), 0.0),
            clunk_nm: held.map(|held| clunk.peak_nm(0.0, held.width.radians())),
        }
    }

    /// The steady torque on a flank, N·m.
    pub const fn settled_nm(&self, flank: FlankSide) -> f64 {
        match flank {
            FlankSide::Drive => self.steady_nm,
            FlankSide::Coast => self.overrun_nm,
        }
    }

    /// The torque on a flank that a load case counts, N·m.
    pub fn counted_nm(&self, case: LoadCase, flank: FlankSide) -> f64 {
        match case {
            LoadCase::Throttle => self.settled_nm(flank),
            LoadCase::Largest => self.largest_nm(flank),
        }
    }

    /// The largest torque on a flank, N·m. A blow can come on either.
    pub fn largest_nm(&self, flank: FlankSide) -> f64 {
        self.settled_nm(flank).max(self.shift_nm).max(self.clunk_nm.unwrap_or_default())
    }
}
