//! The travel along the shaft to the overlap that holds.

/// What moves the ring along the shaft.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Drive {
    /// A steady force on a free mass: the fork's spring or the rider's push.
    Force,
    /// The drum track at its own speed: the ring neither lags nor runs ahead.
    Drum,
    /// A force, but never faster than the drum track.
    #[default]
    Both,
}

/// The travel of the moving ring from tip level with tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// What moves it.
    pub drive: Drive,
    /// Force along the shaft, N.
    pub force_n: f64,
    /// Moving mass, kg.
    pub mass_kg: f64,
    /// Speed of the drum track, m/s.
    pub drum_speed_m_per_s: f64,
    /// Speed at tip level, m/s.
    pub start_speed_m_per_s: f64,
}

impl Travel {
    /// Time in seconds from tip level to an overlap, starting with the speed at tip level.
    ///
    /// Force: `τ = (−v0 + √(v0² + 2ah))/a` with `a = F/m`. Drum: `τ = h/v`. Both: as by force until
    /// the drum's speed is reached, then at that speed; a start faster than the drum is cut to it.
    ///
    /// ```
    /// use crenel_geometry::shift::{Drive, Travel};
    /// let push = Travel {
    ///     drive: Drive::Force,
    ///     force_n: 100.0,
    ///     mass_kg: 0.25,
    ///     drum_speed_m_per_s: 0.12,
    ///     start_speed_m_per_s: 0.15,
    /// };
    /// assert!((push.seconds_to(1.5) - 2.3892e-3).abs() < 5e-8);
    /// ```
    pub fn seconds_to(&self, overlap_mm: f64) -> f64 {
        self.seconds_from(self.start_speed_m_per_s, overlap_mm)
    }

    /// Time in seconds to an overlap after resting tip on tip.
    pub fn seconds_from_rest(&self, overlap_mm: f64) -> f64 {
        self.seconds_from(0.0, overlap_mm)
    }

    /// Time in seconds over a distance along the shaft, from a speed in m/s.
    pub fn seconds_from(&self, start: f64, distance_mm: f64) -> f64 {
        Motion::of(self, start).seconds_over(distance_mm)
    }

    /// Speed in m/s after a distance along the shaft, from a speed in m/s.
    pub fn speed_after(&self, start: f64, distance_mm: f64) -> f64 {
        Motion::of(self, start).speed_after(distance_mm)
    }

    /// Speed in m/s and acceleration in m/s² of a ring that has reached a speed in m/s.
    pub fn motion_from(&self, speed: f64) -> (f64, f64) {
        let cap = self.drum_speed_m_per_s;
        match self.drive {
            Drive::Force => (speed, self.push()),
            // A speed that is below the cap only by rounding is at the cap.
            Drive::Both if speed < cap * (1.0 - 1e-9) => (speed, self.push()),
            Drive::Drum | Drive::Both => (cap, 0.0),
        }
    }

    /// Distance in mm over which the force still accelerates the ring, from a speed in m/s.
    pub fn distance_to_cap_mm(&self, speed: f64) -> f64 {
        let cap = self.drum_speed_m_per_s;
        match self.drive {
            Drive::Force => f64::INFINITY,
            Drive::Drum => 0.0,
            Drive::Both => ((cap * cap - speed * speed) / (2.0 * self.push()) * 1000.0).max(0.0),
        }
    }

    /// Acceleration by the force alone, m/s².
    fn push(&self) -> f64 {
        self.force_n / self.mass_kg
    }
}

/// The motion along the shaft of a ring that has reached some speed, so that what is the same for every distance is
/// worked out once.
#[derive(Clone, Copy, Debug)]
pub(super) struct Motion {
    /// Its speed at the start, m/s, and its acceleration by the push from there, m/s².
    start: f64,
    pushed: f64,
    /// The speed of the drum track, where it limits that of the ring, m/s.
    cap: f64,
    /// Distance and time after which the ring is as fast as that, m and s.
    to_cap: f64,
    until_cap: f64,
    /// Distance over which the force still accelerates it, mm.
    to_cap_mm: f64,
}

impl Motion {
    pub(super) fn of(travel: &Travel, speed: f64) -> Self {
        let (start, pushed) = travel.motion_from(speed);
        let cap = match travel.drive {
            Drive::Force => f64::INFINITY,
            Drive::Drum | Drive::Both => travel.drum_speed_m_per_s,
        };
        let to_cap = travel.distance_to_cap_mm(start) / 1000.0;
        let (until_cap, to_cap_mm) =
            ((cap - start) / travel.push(), travel.distance_to_cap_mm(speed));
        Self { start, pushed, cap, to_cap, until_cap, to_cap_mm }
    }

    /// Speed in m/s at the start, and acceleration in m/s².
    pub(super) const fn at_start(&self) -> (f64, f64) {
        (self.start, self.pushed)
    }

    /// Distance in mm over which the force still accelerates the ring.
    pub(super) const fn cap_after_mm(&self) -> f64 {
        self.to_cap_mm
    }

    /// Time in seconds over a distance along the shaft.
    pub(super) fn seconds_over(&self, distance_mm: f64) -> f64 {
        let distance = distance_mm.max(0.0) / 1000.0;
        if distance <= self.to_cap {
            return pushed_seconds(self.start, self.pushed, distance);
        }
        self.until_cap + (distance - self.to_cap) / self.cap
    }

    /// Speed in m/s after a distance along the shaft.
    pub(super) fn speed_after(&self, distance_mm: f64) -> f64 {
        let square = self.start * self.start + 2.0 * self.pushed * distance_mm.max(0.0) / 1000.0;
        square.sqrt().min(self.cap)
    }
}

/// `(−v0 + √(v0² + 2ah))/a`, in a form that keeps its precision for small distances.
fn pushed_seconds(start: f64, acceleration: f64, distance: f64) -> f64 {
    if distance == 0.0 {
        return 0.0;
    }
    2.0 * distance / (start + (start * start + 2.0 * acceleration * distance).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_lies_between_the_two_and_agrees_with_stepping() {
        for (force, speed, start) in [(100.0, 0.3, 0.0), (20.0, 0.12, 0.05), (500.0, 0.1, 0.4)] {
            let travel = |drive| Travel {
                drive,
                force_n: force,
                mass_kg: 0.25,
                drum_speed_m_per_s: speed,
                start_speed_m_per_s: start,
            };
            for overlap in [0.0, 0.01, 0.3, 1.5, 4.0] {
                let got = travel(Drive::Both).seconds_to(overlap);
                assert!(got >= travel(Drive::Drum).seconds_to(overlap) - 1e-15);
                let (mut t, mut x, mut v) = (0.0, 0.0, f64::min(start, speed));
                while x < overlap / 1000.0 {
                    v = f64::min(v + force / 0.25 * 1e-7, speed);
                    x += v * 1e-7;
                    t += 1e-7;
                }
                assert!((got - t).abs() < 5e-7, "{force} {speed} {start} {overlap}: {got} {t}");
            }
        }
    }
}
