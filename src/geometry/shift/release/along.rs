//! Dogs pulled apart along the shaft by a force, against a torque that is known over the time.

use super::Pull;

/// When dogs that are pulled apart are out, s; `None` if they are not in the time of the course. `course` has times, s, and the
/// torque at the dogs, N·m, minus on the coast flanks; it goes straight from each to the next.
///
/// What moves along the shaft does not change the torque, so a driveline of any kind can be followed first.
///
/// ```
/// use crenel_geometry::shift::{Pull, out_along};
/// let pull = Pull {
///     force_n: 250.0,
///     mass_kg: 0.3,
///     fastest_m_per_s: None,
///     overlap_m: 4.5e-3,
///     hold_per_m: [14.0, 14.0],
///     lash: 0.0,
///     begins_s: 0.0,
/// };
/// // 4.5 mm from rest with 250 N on 0.30 kg.
/// let out = out_along(&pull, [[0.0, 0.0], [1.0, 0.0]]).unwrap();
/// assert!((out - 3.286_335e-3).abs() < 1e-9);
/// ```
pub fn out_along(pull: &Pull, course: impl IntoIterator<Item = [f64; 2]>) -> Option<f64> {
    let mut course = course.into_iter();
    let mut from = course.next()?;
    let mut along = Along { pull, overlap_m: pull.overlap_m, speed_m_per_s: 0.0 };
    for to in course {
        // A torque that turns over, and a pull that begins, part a piece.
        let mut ends = [turns_over(from, to), pull.begins_s, to[0]];
        ends.sort_by(f64::total_cmp);
        for end_s in ends {
            if end_s <= from[0] || end_s > to[0] {
                continue;
            }
            let end = [end_s, between(from, to, end_s)];
            if let Some(out_s) = along.piece(from, end) {
                return Some(out_s);
            }
            from = end;
        }
        from = to;
    }
    None
}

fn between([from_s, low]: [f64; 2], [to_s, high]: [f64; 2], at_s: f64) -> f64 {
    low + (high - low) * (at_s - from_s) / (to_s - from_s)
}

/// Where a torque goes through 0, s; before all time if it does not.
fn turns_over([from_s, low]: [f64; 2], [to_s, high]: [f64; 2]) -> f64 {
    if low * high < 0.0 { from_s + (to_s - from_s) * low / (low - high) } else { f64::NEG_INFINITY }
}

/// Parts of a piece: over each the force is taken to be steady.
const PARTS: u32 = 8;

/// What moves along the shaft.
struct Along<'a> {
    pull: &'a Pull,
    overlap_m: f64,
    speed_m_per_s: f64,
}

impl Along<'_> {
    /// Goes on over a piece in which the torque does not change its sign; when the dogs are out, if they are by then, s.
    fn piece(&mut self, from: [f64; 2], to: [f64; 2]) -> Option<f64> {
        let lasts_s = (to[0] - from[0]) / f64::from(PARTS);
        (0..PARTS).find_map(|part| {
            let begins_s = from[0] + f64::from(part) * lasts_s;
            let nm = between(from, to, begins_s + 0.5 * lasts_s);
            self.part(begins_s, lasts_s, nm)
        })
    }

    fn part(&mut self, begins_s: f64, lasts_s: f64, nm: f64) -> Option<f64> {
        if begins_s < self.pull.begins_s - 1e-15 {
            return None;
        }
        let hold = self.pull.hold_per_m[usize::from(nm < 0.0)];
        let gains = (self.pull.force_n - nm.abs() * hold) / self.pull.mass_kg;
        let fastest = self.pull.fastest_m_per_s.unwrap_or(f64::INFINITY);
        let before = self.speed_m_per_s;
        let after = (before + gains * lasts_s).clamp(0.0, fastest);
        let way_m = f64::midpoint(before, after) * lasts_s;
        if way_m >= self.overlap_m {
            let share = self.overlap_m / way_m;
            return Some(begins_s + share * lasts_s);
        }
        self.overlap_m -= way_m;
        self.speed_m_per_s = after;
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shift::{Release, TorqueCut, TwoMasses};

    /// The torque of a release that is followed exactly brings the dogs out when that says.
    #[test]
    fn the_torque_of_two_masses_has_them_out_when_the_release_says() {
        let masses = TwoMasses {
            engine_kg_m2: 4e-3,
            vehicle_kg_m2: 0.4,
            stiffness_nm_per_rad: 3000.0,
            damping: 0.05,
        };
        let cut = TorqueCut { engine_nm: 60.0, drag_nm: 8.0, ramp_s: 2e-3 };
        for (force_n, fastest_m_per_s, begins_s) in
            [(250.0, None, 0.0), (60.0, Some(0.4), 0.0), (120.0, None, 6e-3), (30.0, None, 0.0)]
        {
            let pull = Pull {
                force_n,
                mass_kg: 0.3,
                fastest_m_per_s,
                overlap_m: 4.4e-3,
                hold_per_m: [12.0, 12.0],
                lash: 0.2,
                begins_s,
            };
            let release = Release::of(&masses, &pull, &cut, 0.3);
            let wanted = release.out_s().expect("they come out");
            let course = release.moments.iter().map(|m| [m.time_s, m.torque_nm]);
            let free = [wanted + 1e-9, 1.0].map(|time_s| [time_s, 0.0]);
            let out = out_along(&pull, course.chain(free)).expect("out");
            assert!((out / wanted - 1.0).abs() < 0.01, "{force_n}: {out} for {wanted}");
        }
    }

    #[test]
    fn a_torque_that_holds_keeps_them_in() {
        let pull = Pull {
            force_n: 100.0,
            mass_kg: 0.3,
            fastest_m_per_s: None,
            overlap_m: 4e-3,
            hold_per_m: [12.0, 12.0],
            lash: 0.2,
            begins_s: 0.0,
        };
        assert_eq!(out_along(&pull, [[0.0, 20.0], [1.0, 20.0]]), None);
        assert_eq!(out_along(&pull, [[0.0, 20.0]]), None);
    }
}
