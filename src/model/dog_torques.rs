//! The torques on the dogs, from which their strength is worked out.

use super::shift::ShiftAnalysis;
use super::shift_case::ShiftCase;
use crate::design::{Design, LoadCase, SettingField};
use crate::pair::{Arc, extremes};
use crate::ring::FlankSide;
use crate::shift::{Attempt, flank_met};
use crate::units::Angle;

/// Torques at the dogs, N·m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DogTorques {
    /// Throttle open, all settled.
    pub steady_nm: f64,
    /// Throttle shut, all settled: the engine brakes.
    pub overrun_nm: f64,
    /// The blow of the shift as drawn, with the slip and the lash that are left when it is in; `None` where it
    /// is not.
    pub drawn_nm: Option<f64>,
    /// The lash that the shift as drawn has still to close when it is in, rad.
    pub drawn_lash: f64,
    /// The hardest blow of a shift that takes the whole speed difference, with the whole lash still to close.
    pub shift_nm: f64,
    /// The flank that it comes on.
    pub shift_flank: FlankSide,
    /// The blow on opening the throttle across the whole lash; `None` without a window at full depth.
    pub clunk_nm: Option<f64>,
    /// The blow on shutting it, when the engine brakes across the whole lash the other way.
    pub overrun_clunk_nm: Option<f64>,
}

impl DogTorques {
    pub(super) fn of(
        design: &Design,
        shift_case: &ShiftCase,
        shift: Option<&ShiftAnalysis>,
        windows: &[Arc],
        held: Option<&Arc>,
    ) -> Self {
        let blow = shift_case.blow(design);
        let overrun_nm = shift_case.throttle_nm * design.setting.get(SettingField::OverrunShare);
        let clunk = |steady_nm: f64| {
            held.map(|held| shift_case.clunk(design, steady_nm).peak_nm(0.0, held.width.radians()))
        };
        let caught = shift.map(|s| &s.attempt).filter(|attempt| attempt.is_in());
        let drawn_lash = caught.map_or(0.0, |attempt| to_close(attempt, windows));
        let [closed, other] = blow.hardest_nm(shift_case.slip(), widest(windows));
        // At equal speeds the drive flank counts as the one that is closed.
        let slip_rpm = if shift_case.slip_rpm == 0.0 { 1.0 } else { shift_case.slip_rpm };
        Self {
            steady_nm: shift_case.throttle_nm,
            overrun_nm,
            drawn_nm: caught.map(|attempt| blow.peak_nm(attempt.slip_left, drawn_lash)),
            drawn_lash,
            shift_nm: closed.max(other),
            shift_flank: if closed < other { flank_met(-slip_rpm) } else { flank_met(slip_rpm) },
            clunk_nm: clunk(shift_case.throttle_nm),
            overrun_clunk_nm: clunk(overrun_nm),
        }
    }

    /// The hardest blow of a shift with these rings, N·m: see [`Blow::hardest_nm`](crate::shift::Blow::hardest_nm).
    pub(super) fn hardest_nm(design: &Design, shift_case: &ShiftCase, windows: &[Arc]) -> f64 {
        let [closed, other] =
            shift_case.blow(design).hardest_nm(shift_case.slip(), widest(windows));
        closed.max(other)
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

    /// The clunk that comes on a flank, N·m: on the drive flanks when the throttle is opened, on the coast
    /// flanks when it is shut.
    pub const fn clunk_on_nm(&self, flank: FlankSide) -> Option<f64> {
        match flank {
            FlankSide::Drive => self.clunk_nm,
            FlankSide::Coast => self.overrun_clunk_nm,
        }
    }

    /// The largest torque on a flank, N·m. The blow of a shift can come on either.
    pub fn largest_nm(&self, flank: FlankSide) -> f64 {
        self.settled_nm(flank).max(self.shift_nm).max(self.clunk_on_nm(flank).unwrap_or_default())
    }
}

/// The widest window at full depth, rad; 0 without one.
pub(super) fn widest(windows: &[Arc]) -> f64 {
    extremes(windows).map_or(0.0, |(_, widest)| widest.radians())
}

/// How far a ring that is in is from the flank that its slip closes, rad.
fn to_close(attempt: &Attempt, windows: &[Arc]) -> f64 {
    let phase = Angle::from_radians(attempt.rests_at.0);
    let grows = attempt.slip_left >= 0.0;
    let ahead = |window: &Arc| {
        let ahead = if grows { window.end() - phase } else { phase - window.start };
        ahead.wrapped().radians()
    };
    let within = windows.iter().find(|window| window.contains(phase));
    within.map_or(0.0, ahead)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;

    fn torques(overrun_share: f64) -> DogTorques {
        let mut design = Design::default();
        design.setting.set(SettingField::OverrunShare, overrun_share);
        design.setting.set(SettingField::SlipSpeed, 10.0);
        Analysis::of(&design).worked.pair.expect("the rings go in").torques
    }

    /// 100 N·m open and 30 N·m braking, 2000 N·m/rad, a lash of 12°: `T_s + √(T_s² + 2·k·T_s·λ)`.
    #[test]
    fn each_flank_takes_its_own_clunk() {
        let torques = torques(0.3);
        let lash = 12f64.to_radians();
        for (flank, steady) in [(FlankSide::Drive, 100.0f64), (FlankSide::Coast, 30.0)] {
            let clunk = steady + (steady * steady + 4000.0 * steady * lash).sqrt();
            let largest = torques.counted_nm(LoadCase::Largest, flank);
            assert!((largest - clunk).abs() < 1e-9, "{flank:?}: {largest} for {clunk}");
            assert!((torques.counted_nm(LoadCase::Throttle, flank) - steady).abs() < 1e-12);
        }
    }

    #[test]
    fn an_engine_that_does_not_brake_leaves_the_coast_flanks_the_blow_of_the_shift() {
        let torques = torques(0.0);
        assert_eq!(torques.largest_nm(FlankSide::Coast), torques.shift_nm);
        assert!(torques.largest_nm(FlankSide::Drive) > torques.shift_nm);
    }
}
