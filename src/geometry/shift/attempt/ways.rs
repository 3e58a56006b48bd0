//! The ways of falls past a flank, piece by piece.

use super::directed_block::{DirectedBlock, ahead};
use super::state::State;
use crate::shift::travel::Motion;

/// The way of a fall past a flank to full depth. Neither the phase nor the slip of the fall changes it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    /// Where the flank lies at the overlap at which the way begins, rad.
    flank: f64,
    pieces: [Piece; Self::MOST],
    count: usize,
}

/// A piece of a way along which the flank is straight and the push constant.
#[derive(Clone, Copy, Debug, Default)]
struct Piece {
    /// Speed in m/s at its begin, and acceleration in m/s².
    start: (f64, f64),
    /// The overlap at its end, mm, the speed there, m/s, and when the fall is there, s.
    end_mm: f64,
    end_speed: f64,
    end_s: f64,
    /// How long it takes, s: alone, and as the difference of two times.
    seconds: f64,
    lasts: f64,
    /// By how much further the flank reaches at its end, rad.
    further: f64,
    /// What the slope of the flank takes of the room over the time, rad/s and rad/s².
    linear: f64,
    square: f64,
}

impl Way {
    /// To the end of the edge break, to the speed of the drum, and to full depth.
    const MOST: usize = 3;

    /// A way that begins where a flank lies so, with no piece yet.
    pub(super) fn past(flank: f64) -> Self {
        Self { flank, pieces: [Piece::default(); Self::MOST], count: 0 }
    }

    /// Goes on from one state to another, between which the push is constant and the flank straight.
    pub(super) fn go_on(
        &mut self,
        from: &State,
        to: &State,
        motion: &Motion,
        wall: &DirectedBlock,
    ) {
        self.pieces[self.count] = Piece::between(from, to, motion, wall);
        self.count += 1;
    }

    /// The state in which a fall from where the way begins meets the flank: the first root of a quadratic, piece by
    /// piece. `None` if it misses the flank.
    pub(super) fn meets(&self, at: &State) -> Option<State> {
        if at.slip <= 0.0 {
            return None;
        }
        let mut from = *at;
        let mut room = ahead(self.flank, at.u);
        for piece in &self.pieces[..self.count] {
            if let Some(after) = piece.runs_out(room, from.slip) {
                return Some(from.after(piece.start, after));
            }
            let u = from.u + from.slip * piece.seconds;
            room -= piece.further + (u - from.u);
            let Piece { end_mm, end_speed, end_s, .. } = *piece;
            from = State { u, x: end_mm, v: end_speed, time: end_s, ..from };
        }
        None
    }
}

impl Piece {
    fn between(from: &State, to: &State, motion: &Motion, wall: &DirectedBlock) -> Self {
        let [top, below] = [from.x, to.x].map(|x| wall.near.at(x - wall.starts_mm));
        let per_mm = (below - top) / (to.x - from.x);
        let start = motion.at_start();
        let (speed, acceleration) = start;
        Self {
            start,
            end_mm: to.x,
            end_speed: to.v,
            end_s: to.time,
            seconds: motion.seconds_over(to.x - from.x),
            lasts: to.time - from.time,
            further: below - top,
            linear: per_mm * 1000.0 * speed,
            square: per_mm * 500.0 * acceleration,
        }
    }

    /// Time in seconds after which the room ahead of a fall is used up, if that is within the piece:
    /// `room − per_mm·x(t) − Δω·t = 0` with `x(t) = v·t + ½a·t²`.
    fn runs_out(&self, room: f64, slip: f64) -> Option<f64> {
        let linear = self.linear + slip;
        let under_root = linear * linear + 4.0 * self.square * room;
        let divisor = linear + under_root.max(0.0).sqrt();
        let after = 2.0 * room / divisor;
        (under_root >= 0.0 && divisor > 0.0 && after < self.lasts).then_some(after)
    }
}
