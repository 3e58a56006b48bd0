//! Windows passing by at a steady speed difference, and how deep a flank has to be met.

use std::f64::consts::TAU;

use crate::pair::Arc;
use crate::units::{rad_per_s, rpm};

/// The entry windows of a pair passing by at a speed difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Passing {
    /// Widths of the windows, radians, in order round the circle.
    pub windows: Vec<f64>,
    /// Widths of the lands between them, radians; each follows the window of the same index.
    pub lands: Vec<f64>,
    /// Size of the speed difference, rad/s; at 0 the windows do not pass.
    pub slip: f64,
}

impl Passing {
    /// From entry windows in order round the circle, and a speed difference in rpm of either sign.
    pub fn new(windows: &[Arc], slip_rpm: f64) -> Self {
        let next = windows.iter().cycle().skip(1);
        let land = |(this, next): (&Arc, &Arc)| (next.start - this.end()).wrapped().radians();
        let whole = windows.iter().any(|w| w.width.radians() >= TAU);
        Self {
            windows: windows.iter().map(|w| w.width.radians()).collect(),
            lands: if whole { vec![0.0] } else { windows.iter().zip(next).map(land).collect() },
            slip: rad_per_s(slip_rpm.abs()),
        }
    }

    /// Narrowest and widest window, radians; `None` if there is no window.
    pub fn extremes(&self) -> Option<(f64, f64)> {
        let first = *self.windows.first()?;
        let widen = |(least, most): (f64, f64), &w: &f64| (least.min(w), most.max(w));
        Some(self.windows.iter().fold((first, first), widen))
    }

    /// Time in seconds for which a window of `width` radians is open: `t = b/Δω`.
    pub fn seconds_open(&self, width: f64) -> f64 {
        width / self.slip
    }

    /// Windows that pass in a second: `Δn·N/60`.
    pub fn per_second(&self) -> f64 {
        // There are at most a few thousand windows.
        #[expect(clippy::cast_precision_loss)]
        let count = self.windows.len() as f64;
        self.slip / TAU * count
    }

    /// The widest land, radians.
    pub fn widest_land(&self) -> f64 {
        self.lands.iter().fold(0.0, |most: f64, &land| most.max(land))
    }

    /// Longest wait in seconds for the next window, faces rubbing: `L/Δω` of the widest land.
    pub fn worst_wait(&self) -> f64 {
        self.widest_land() / self.slip
    }

    /// Mean wait in seconds over all starting phases: `Σ L²/(2·2π·Δω)`, which is `L²/(2pΔω)`
    /// for equal lands.
    pub fn mean_wait(&self) -> f64 {
        self.lands.iter().map(|land| land * land).sum::<f64>() / (2.0 * TAU * self.slip)
    }

    /// Share of starting phases from which the travel time fits into the rest of the window:
    /// `Σ max(0, b − Δω·τ)/2π`.
    pub fn straight_in_share(&self, travel_seconds: f64) -> f64 {
        let swept = self.slip * travel_seconds;
        self.windows.iter().map(|b| (b - swept).max(0.0)).sum::<f64>() / TAU
    }
}

/// Largest speed difference in rpm at which a travel still fits a window: `b/τ`.
pub fn straight_in_limit_rpm(width: f64, travel_seconds: f64) -> f64 {
    rpm(width / travel_seconds)
}

/// The window in radians that a travel needs to fit in at a speed difference in rpm: `Δω·τ`, the inverse of
/// [`straight_in_limit_rpm`].
pub fn window_needed(slip_rpm: f64, travel_seconds: f64) -> f64 {
    rad_per_s(slip_rpm.abs()) * travel_seconds
}

/// Overlap in mm at and beyond which rounded tip edges hold under load: `(R1 + R2)(1 − sin ρ)` with the two
/// radii together in mm and `tan ρ = μ`. At less the edges push each other apart.
pub fn rounded_hold_mm(radii_mm: f64, friction: f64) -> f64 {
    radii_mm * (1.0 - friction / libm::hypot(1.0, friction))
}
