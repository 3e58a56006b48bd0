//! The torque at the engine over the time.

use super::DrivelineFault;

/// A torque that goes straight from each of its corners to the next, and is steady before the first and after the last.
/// Two corners at one time are a step.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueCourse {
    /// Time, s, and torque, N·m.
    corners: Vec<[f64; 2]>,
}

impl TorqueCourse {
    /// Through corners of a time, s, and a torque, N·m.
    pub const fn through(corners: Vec<[f64; 2]>) -> Self {
        Self { corners }
    }

    /// One that does not change, N·m.
    pub fn steady(nm: f64) -> Self {
        Self::through(vec![[0.0, nm]])
    }

    /// From one torque to another in a time that begins at 0.
    pub fn ramp(from_nm: f64, to_nm: f64, lasts_s: f64) -> Self {
        Self::through(vec![[0.0, from_nm], [lasts_s, to_nm]])
    }

    /// At a time, N·m; before a step that comes at that time.
    pub fn at(&self, time_s: f64) -> f64 {
        let Some([_, first]) = self.corners.first() else { return 0.0 };
        let after = self.corners.iter().position(|[at, _]| *at >= time_s);
        match after {
            Some(0) => *first,
            Some(to) => between(self.corners[to - 1], self.corners[to], time_s),
            None => self.corners.last().map_or(0.0, |[_, nm]| *nm),
        }
    }

    pub(super) fn check(&self) -> Result<(), DrivelineFault> {
        let finite = self.corners.iter().flatten().all(|number| number.is_finite());
        let ordered = self.corners.windows(2).all(|two| two[0][0] <= two[1][0]);
        if finite && ordered && !self.corners.is_empty() {
            Ok(())
        } else {
            Err(DrivelineFault::NoCourse)
        }
    }

    /// From a time on: the torque after a step at that time, N·m, how fast it changes, N·m/s, and until when, s.
    pub(super) fn from(&self, time_s: f64) -> [f64; 3] {
        let after = self.corners.partition_point(|[at, _]| *at <= time_s);
        let next = self.corners.get(after);
        match (after.checked_sub(1).map(|before| self.corners[before]), next) {
            (Some(before), Some(next)) => {
                let slope = (next[1] - before[1]) / (next[0] - before[0]);
                [between(before, *next, time_s), slope, next[0]]
            }
            (Some([_, nm]), None) => [nm, 0.0, f64::INFINITY],
            (None, Some([at, nm])) => [*nm, 0.0, *at],
            (None, None) => [0.0, 0.0, f64::INFINITY],
        }
    }
}

fn between([from, low]: [f64; 2], [to, high]: [f64; 2], at: f64) -> f64 {
    if to > from { low + (high - low) * (at - from) / (to - from) } else { low }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_goes_straight_between_its_corners() {
        let course =
            TorqueCourse::through(vec![[0.0, 60.0], [1.0, 60.0], [1.0, -8.0], [3.0, 12.0]]);
        assert_eq!(
            [-1.0, 0.0, 1.0, 2.0, 3.0, 9.0].map(|t| course.at(t)),
            [60.0, 60.0, 60.0, 2.0, 12.0, 12.0]
        );
        assert_eq!(course.from(0.0), [60.0, 0.0, 1.0]);
        assert_eq!(course.from(1.0), [-8.0, 10.0, 3.0]);
        assert_eq!(course.from(3.0), [12.0, 0.0, f64::INFINITY]);
    }

    #[test]
    fn what_is_no_course_is_told() {
        for corners in [vec![], vec![[0.0, f64::NAN]], vec![[1.0, 0.0], [0.0, 0.0]]] {
            assert_eq!(TorqueCourse::through(corners).check(), Err(DrivelineFault::NoCourse));
        }
    }
}
