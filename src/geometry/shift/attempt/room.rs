//! The room that a fall has before a flank.

use super::directed_block::DirectedBlock;
use super::run::Shifter;
use super::state::{State, in_order};
use crate::shift::travel::Motion;

/// In what a fall differs from the one that it is compared with.
#[derive(Clone, Copy, Debug)]
pub(in crate::shift) enum By {
    /// It starts further on, at the same slip.
    Phase,
    /// It starts faster, from the same place.
    Slip,
}

impl By {
    /// The growth of the start that moves the ring on by `way` (rad) after a time, s.
    pub(super) fn needed(self, way: f64, seconds: f64) -> f64 {
        match self {
            Self::Phase => way,
            Self::Slip if way <= 0.0 => 0.0,
            Self::Slip => way / seconds,
        }
    }

    /// The largest angle that a fall can turn through in a time, s.
    pub(super) fn most_swept(self, slip: f64, limit: f64, seconds: f64) -> f64 {
        match self {
            Self::Phase => slip * seconds + limit,
            Self::Slip => (slip + limit) * seconds,
        }
    }

    /// The growth of the start that raises the square of the slip at the end of a land by `square`, if a
    /// fall lands on it after a time, s. A ring that is ahead has less to rub.
    pub(super) fn after_a_land(
        self,
        square: f64,
        slip: f64,
        seconds: f64,
        slip_deceleration: f64,
    ) -> f64 {
        if square.is_infinite() {
            return square;
        }
        match self {
            Self::Phase if slip_deceleration > 0.0 => square / (2.0 * slip_deceleration),
            // Without deceleration a ring further on has the same slip.
            Self::Phase => f64::INFINITY,
            Self::Slip => {
                let half = slip + slip_deceleration * seconds;
                square / (half + (half * half + square).sqrt())
            }
        }
    }
}

/// The angle left between a ring and a flank over a time: `a + b·t + c·t²`.
struct Room {
    a: f64,
    b: f64,
    c: f64,
}

impl Room {
    /// The room from a state on that is reached `seconds` after the fall began, as long as the slope of the
    /// flank and the push are constant.
    fn from(at: &State, motion: &Motion, room: f64, per_mm: f64, seconds: f64) -> Self {
        let (speed, acceleration) = motion.at_start();
        // room − Δω·(t − t0) − per_mm·(v·(t − t0) + ½a·(t − t0)²), in powers of t.
        let b = -at.slip - per_mm * 1000.0 * speed;
        let c = -per_mm * 500.0 * acceleration;
        Self { a: room - seconds * (b - seconds * c), b: b - 2.0 * c * seconds, c }
    }

    fn at(&self, t: f64) -> f64 {
        self.a + t * (self.b + t * self.c)
    }

    /// The least room between two times.
    fn least(&self, [from, to]: [f64; 2]) -> f64 {
        let turn = -self.b / (2.0 * self.c);
        let ends = self.at(from).min(self.at(to));
        if from < turn && turn < to { ends.min(self.at(turn)) } else { ends }
    }

    /// The least room between two times, divided by the time since the fall began.
    fn least_per_second(&self, [from, to]: [f64; 2]) -> f64 {
        let each = |t: f64| if t > 0.0 { self.at(t) / t } else { f64::INFINITY };
        let turn = (self.a / self.c).sqrt();
        let ends = each(from).min(each(to));
        if from < turn && turn < to { ends.min(each(turn)) } else { ends }
    }
}

impl Shifter {
    /// How much the start of a fall can grow before the fall meets a wall above an overlap. `begins` is the
    /// state in which it comes level with the wall.
    pub(super) fn clear(
        &self,
        from: &State,
        begins: &State,
        wall: &DirectedBlock,
        to_mm: f64,
        by: By,
    ) -> f64 {
        if from.slip <= 0.0 {
            return f64::INFINITY;
        }
        let mut motion = self.motion(begins);
        let edge_end = wall.starts_mm + wall.near.edge_end_mm;
        let cap = begins.x + motion.cap_after_mm();
        let [first, second] = in_order([edge_end, cap].map(|x| x.min(to_mm)));
        let mut at = *begins;
        let mut room = wall.to_near(at.u, at.x);
        let mut least = f64::INFINITY;
        for x in [first, second, to_mm] {
            if x <= at.x {
                continue;
            }
            let to = self.fallen_by(&at, &motion, x);
            let [top, below] = [at.x, x].map(|x| wall.near.at(x - wall.starts_mm));
            let per_mm = (below - top) / (x - at.x);
            let times = [at.time, to.time].map(|time| time - from.time);
            let piece = Room::from(&at, &motion, room, per_mm, times[0]);
            least = least.min(match by {
                By::Phase => piece.least(times),
                By::Slip => piece.least_per_second(times),
            });
            room -= (below - top) + (to.u - at.u);
            if to.v != at.v {
                motion = self.motion(&to);
            }
            at = to;
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `a/t + b + c·t` is least at `√(a/c)`, where it is `b + 2·√(a·c)`.
    #[test]
    fn the_least_room_for_the_time_is_at_its_turn_or_at_an_end() {
        let room = Room { a: 1.0, b: -3.0, c: 4.0 };
        let is = |times: [f64; 2], want: f64| {
            let least = room.least_per_second(times);
            assert!((least - want).abs() < 1e-12, "{times:?}: {least}");
        };
        is([0.1, 1.0], 1.0);
        is([0.1, 0.25], 2.0);
        is([1.0, 4.0], 2.0);
        is([0.0, 3.0], 1.0);
    }
}
