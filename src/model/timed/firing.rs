//! How long it is until the next firing: the first that a cut leaves out, or the first of a blip.

use crate::design::{Setting, SettingField};

/// Degrees of the crank in the four strokes of every cylinder.
const CYCLE_DEG: f64 = 720.0;

/// The intervals between the firings of a four-stroke, in degrees of the crank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Firing {
    longest_deg: f64,
    /// Each of the others, and how many they are.
    other_deg: f64,
    others: f64,
}

impl Firing {
    /// Even where no interval is longer than the rest.
    pub(super) fn of(setting: &Setting) -> Self {
        let cylinders = setting.get(SettingField::Cylinders).max(1.0);
        let given = setting.get(SettingField::LongestFiring);
        let longest_deg = given.clamp(CYCLE_DEG / cylinders, CYCLE_DEG);
        let others = cylinders - 1.0;
        let other_deg = if others > 0.0 { (CYCLE_DEG - longest_deg) / others } else { 0.0 };
        Self { longest_deg, other_deg, others }
    }

    /// The wait that is not exceeded in a share of all shifts, s. A shift begins at any angle of the crank: each
    /// interval is hit as often as it is long, and the rest of it is uniform.
    pub(super) fn wait_s(&self, share: f64, engine_rpm: f64) -> f64 {
        let cylinders = self.others + 1.0;
        let part = share * CYCLE_DEG;
        // Up to the shorter interval every cylinder counts, beyond it the longest interval alone.
        let deg = if part <= cylinders * self.other_deg || self.others == 0.0 {
            part / cylinders
        } else {
            part - self.others * self.other_deg
        };
        deg / (6.0 * engine_rpm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn firing(cylinders: f64, longest_deg: f64) -> Firing {
        let mut setting = Setting::default();
        setting.set(SettingField::Cylinders, cylinders);
        setting.set(SettingField::LongestFiring, longest_deg);
        Firing::of(&setting)
    }

    /// The engagement model, §14: 6000 rpm, one cylinder 20 ms, two 10, four 5.
    #[test]
    fn even_firings_are_120000_over_speed_and_cylinders_apart() {
        for (cylinders, ms) in [(1.0, 20.0), (2.0, 10.0), (4.0, 5.0)] {
            let even = firing(cylinders, 0.0);
            for share in [0.05, 0.5, 0.95, 1.0] {
                assert!((even.wait_s(share, 6000.0) * 1000.0 - share * ms).abs() < 1e-12);
            }
        }
    }

    /// A twin that fires at 270° and 450°: counted over the angles of the crank.
    #[test]
    fn uneven_firings_wait_for_the_longest() {
        let twin = firing(2.0, 450.0);
        let waits = (0..720_u32).map(|at| f64::from(at) + 0.5);
        let mut waits: Vec<_> =
            waits.map(|at| if at < 270.0 { 270.0 - at } else { 720.0 - at }).collect();
        waits.sort_by(f64::total_cmp);
        for (share, place) in [(0.25, 180), (0.5, 360), (0.75, 540), (0.95, 684)] {
            let wanted = f64::midpoint(waits[place - 1], waits[place]) / (6.0 * 6000.0);
            let got = twin.wait_s(share, 6000.0);
            assert!((got - wanted).abs() < 1e-9, "{share}: {got} for {wanted}");
        }
    }
}
