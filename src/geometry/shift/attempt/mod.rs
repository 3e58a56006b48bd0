//! One shift from a given phase, event by event in closed form.
//!
//! The tips meet level at `x = 0`. Over a window the ring falls in; over a land it rubs and the
//! slip decreases. A flank met at the holding depth or deeper holds the ring; met at less depth it throws
//! the ring back onto its tip. The top of a shorter dog is a land at its own depth.

mod alike;
mod along_land;
mod around;
mod course;
mod directed_block;
mod first_pass;
mod lands;
mod level;
mod pass;
mod room;
mod run;
mod state;
mod walls;
mod way_of;
mod ways;

pub use first_pass::Span;
pub use pass::FirstPass;
pub use run::Shifter;

pub(super) use alike::Beside;
pub(super) use directed_block::DirectedBlock;
pub(super) use first_pass::{CLEAR_RAD, Part, STEP_RAD};
pub(super) use lands::{Lands, SAME_RAD};
pub(super) use level::Level;
pub(super) use room::By;
#[cfg(test)]
pub(super) use run::SEARCHED;
pub(super) use run::{FallEnd, Met, rubbed_for, to_tip};
pub(super) use state::State;

use super::travel::Travel;

/// The number of events after which an attempt counts as ratcheting.
pub(super) const MOST_EVENTS: usize = 4000;

/// Overlaps closer than this (mm) count as the same.
pub(super) const SAME_MM: f64 = 1e-9;

/// The conditions of a shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// How ring A is moved along the shaft.
    pub travel: Travel,
    /// How deep two flanks must lie on each other to hold, mm, from the tips of those two dogs.
    pub hold_mm: f64,
    /// Overlap at full depth, mm.
    pub full_mm: f64,
    /// Friction coefficient tip on tip.
    pub friction: f64,
    /// Radius at which the tips rub, mm.
    pub friction_radius_mm: f64,
    /// Reduced inertia on which the slip acts, kg·m².
    pub inertia_kg_m2: f64,
    /// Drag that slows the slip as well while the tips rub, N·m.
    pub drag_nm: f64,
    /// Share of the slip that is lost in a strike.
    pub strike_loss: f64,
    /// Time after which the attempt is given up, s.
    pub allowed_s: f64,
}

#[cfg(test)]
impl Conditions {
    /// Those of a usual shift, for tests.
    pub(super) const fn of_tests(drive: super::travel::Drive) -> Self {
        let travel = Travel {
            drive,
            force_n: 120.0,
            mass_kg: 0.3,
            drum_speed_m_per_s: 0.2,
            start_speed_m_per_s: 0.12,
        };
        Self {
            travel,
            hold_mm: 1.0,
            full_mm: 4.5,
            friction: 0.1,
            friction_radius_mm: 25.0,
            inertia_kg_m2: 1e-3,
            drag_nm: 0.01,
            strike_loss: 0.1,
            allowed_s: 1e3,
        }
    }
}

impl Conditions {
    /// Slip lost in a second of rubbing, rad/s²: `(μ·F·r + drag)/J`.
    pub fn slip_deceleration(&self) -> f64 {
        (self.rubbing_nm() + self.drag_nm) / self.inertia_kg_m2
    }

    /// Friction torque of tip on tip, N·m: `μ·F·r`.
    pub fn rubbing_nm(&self) -> f64 {
        self.friction * self.travel.force_n * self.friction_radius_mm / 1000.0
    }
}

/// How an attempt ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ending {
    /// Caught in the first window.
    StraightIn,
    /// Caught after the tips rubbed, or after strikes.
    AfterRubbing,
    /// The slip ended tip on tip: the shift hangs half way.
    Locked,
    /// Held by the tall dogs alone, on top of a short one.
    HalfIn,
    /// Neither in nor stopped within the time allowed.
    Ratcheting,
}

/// One leg of the path: from one event to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Start time, s.
    pub start_s: f64,
    /// Duration, s.
    pub lasts_s: f64,
    /// Phase at the start and at the end, radians, not wrapped.
    pub phase: [f64; 2],
    /// Overlap at the start and at the end, mm.
    pub overlap_mm: [f64; 2],
    /// Speed along the shaft at the start, m/s; 0 unless the leg is a fall.
    pub speed_m_per_s: f64,
    /// Slip at the start and at the end, rad/s, signed.
    pub slip: [f64; 2],
}

impl Leg {
    /// Phase and overlap after a share of the duration.
    pub fn at(&self, share: f64) -> (f64, f64) {
        let t = share * self.lasts_s;
        let [from, to] = self.phase;
        let [top, bottom] = self.overlap_mm;
        let rate =
            |from: f64, to: f64| if self.lasts_s > 0.0 { (to - from) / self.lasts_s } else { 0.0 };
        // Slip decreases evenly over a leg. Along a flank it is 0, and the phase follows the slope of the
        // flank.
        let phase = if self.slip == [0.0; 2] {
            from + rate(from, to) * t
        } else {
            from + self.slip[0] * t + rate(self.slip[0], self.slip[1]) * t * t / 2.0
        };
        let overlap = if bottom > top {
            let start = (self.speed_m_per_s * 1000.0).min(rate(top, bottom));
            top + start * t + (rate(top, bottom) - start) * t * share
        } else {
            top
        };
        (phase, overlap)
    }
}

/// A moment of an attempt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// The leg that contains it.
    pub leg: usize,
    /// Phase, radians, not wrapped.
    pub phase: f64,
    /// Overlap, mm.
    pub overlap_mm: f64,
    /// Slip, rad/s, signed.
    pub slip: f64,
}

/// The result of one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Attempt {
    /// How the shift ended.
    pub ending: Ending,
    /// How often a flank threw the ring back.
    pub strikes: u32,
    /// Time from tip level to the end, s.
    pub time_s: f64,
    /// Phase and overlap at the end.
    pub rests_at: (f64, f64),
    /// Slip that is left when the flank is met, rad/s, signed: the speed difference of the blow.
    pub slip_left: f64,
    /// The path; empty unless it was recorded.
    pub legs: Vec<Leg>,
}

impl Attempt {
    /// The state of a traced attempt after a time, s. Times before its start and after its end give the
    /// states there. `None` without a path.
    pub fn at(&self, time_s: f64) -> Option<Moment> {
        let begun = self.legs.partition_point(|leg| leg.start_s <= time_s);
        let place = begun.saturating_sub(1);
        let leg = self.legs.get(place)?;
        let share = if leg.lasts_s > 0.0 { (time_s - leg.start_s) / leg.lasts_s } else { 1.0 };
        let share = share.clamp(0.0, 1.0);
        let (phase, overlap_mm) = leg.at(share);
        let slip = leg.slip[0] + share * (leg.slip[1] - leg.slip[0]);
        Some(Moment { leg: place, phase, overlap_mm, slip })
    }

    /// Whether the gear is in to full depth.
    pub const fn is_in(&self) -> bool {
        matches!(self.ending, Ending::StraightIn | Ending::AfterRubbing)
    }
}
