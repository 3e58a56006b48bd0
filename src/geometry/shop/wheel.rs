//! Cut-off wheels: how fast they may turn.

use std::f64::consts::PI;

use super::is_size;

/// Wheels are marked in whole hundreds of turns a minute.
const STEP_RPM: f64 = 100.0;

/// Most turns a minute of a wheel that may run at a rim speed: `n = 60000·v/(πD)`, rounded down to
/// whole hundreds as on the wheels themselves (125 mm at 80 m/s: 12 200, wheel tables).
///
/// `None` where speed or diameter is not above 0 or is not a number.
pub fn most_rpm(rim_m_per_s: f64, diameter_mm: f64) -> Option<f64> {
    let rpm = 60_000.0 * rim_m_per_s / (PI * diameter_mm);
    let sizes = is_size(rim_m_per_s) && is_size(diameter_mm) && rpm.is_finite();
    sizes.then(|| (rpm / STEP_RPM).floor() * STEP_RPM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_wheel_never_runs_faster_than_it_may() {
        for diameter in 20..400 {
            for speed in [50.0, 63.0, 80.0, 100.0] {
                let rpm = most_rpm(speed, f64::from(diameter)).unwrap();
                let rim = |rpm: f64| PI * f64::from(diameter) * rpm / 60_000.0;
                assert!(rim(rpm) <= speed && rim(rpm + 100.0) > speed, "{diameter} {speed}");
            }
        }
    }

    #[test]
    fn what_is_no_wheel_is_none() {
        let odd = [0.0, -1.0, f64::NAN, f64::INFINITY];
        assert!(odd.iter().all(|&v| most_rpm(v, 125.0).is_none() && most_rpm(80.0, v).is_none()));
        assert_eq!(most_rpm(1e300, 1e-300), None);
    }
}
