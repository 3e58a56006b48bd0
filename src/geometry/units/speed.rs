//! Rotational speed: rpm at every boundary, radians a second inside formulas.

use std::f64::consts::TAU;

/// Revolutions a minute as radians a second.
pub const fn rad_per_s(rpm: f64) -> f64 {
    rpm * TAU / 60.0
}

/// Radians a second as revolutions a minute.
pub const fn rpm(rad_per_s: f64) -> f64 {
    rad_per_s * 60.0 / TAU
}
