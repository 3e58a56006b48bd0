//! A tip that rubs along a land.

use std::f64::consts::TAU;

use crate::shift::attempt::{DirectedBlock, FallEnd, SAME_MM, Shifter, State, rubbed_for};
use crate::shift::outcome::Outcome;
use crate::shift::outcome_bounds::OutcomeBounds;

/// A slide along a land.
#[derive(Clone, Copy)]
pub(super) struct Slide<'a> {
    /// How far it goes, rad, if it does not stop before.
    pub(super) reach: f64,
    /// The square of the slip at its end; negative if it stops before.
    pub(super) rest: f64,
    pub(super) end: SlideEnd<'a>,
}

/// What is at the end of a slide.
#[derive(Clone, Copy)]
pub(super) enum SlideEnd<'a> {
    /// The shift ends here.
    Settled(OutcomeBounds),
    /// A flank on the land throws the ring back.
    Wall(State, &'a DirectedBlock),
    /// The land ends.
    Edge(State),
}

impl<'a> Slide<'a> {
    /// The slide of a ring that lies on a land.
    pub(super) fn of(shifter: &'a Shifter, from: &State) -> Self {
        let deceleration = shifter.conditions.slip_deceleration();
        let (land, wall) = shifter.land(from).unwrap_or_else(|| (0.0, shifter.wall(from, 0.0)));
        let reach = wall.map_or(land, |(ahead, _)| ahead.min(land));
        let rest = from.slip * from.slip - 2.0 * deceleration * reach;
        if rest <= 0.0 || reach >= TAU {
            let end = SlideEnd::Settled(stopped(from, reach, deceleration));
            return Self { reach, rest, end };
        }
        let at = rubbed_for(from, reach, rest.sqrt(), deceleration);
        let end = match wall {
            Some((_, wall)) => {
                if shifter.holds(from.x, wall) {
                    SlideEnd::Settled(OutcomeBounds::last(Outcome::HalfIn, at.time - from.time))
                } else {
                    SlideEnd::Wall(at, wall)
                }
            }
            None => SlideEnd::Edge(at),
        };
        Self { reach, rest, end }
    }

    /// The square of the slip at the end up to which a slide that settles the shift is the same.
    pub(super) const fn settled_to(&self) -> f64 {
        if self.rest <= 0.0 && self.reach < TAU { 0.0 } else { f64::INFINITY }
    }
}

/// A ring that a flank throws back from a fall.
#[derive(Clone, Copy)]
pub(super) struct Thrown<'a> {
    /// When it is struck, s.
    pub(super) struck_s: f64,
    /// The slip with which it rubs along the tip, and how it does.
    pub(super) slip: f64,
    pub(super) slide: Slide<'a>,
    /// Where it gets to, rad.
    pub(super) end: f64,
}

impl<'a> Thrown<'a> {
    /// After a fall; `None` where it is not thrown back.
    pub(super) fn after(shifter: &'a Shifter, fall: &FallEnd<'a>) -> Option<Self> {
        match fall {
            FallEnd::Wall(at, wall) if !shifter.holds(at.x, wall) => {
                Some(Self::by(shifter, at, wall))
            }
            _ => None,
        }
    }

    /// By a flank that is met in a state.
    pub(super) fn by(shifter: &'a Shifter, at: &State, wall: &DirectedBlock) -> Self {
        let back = State { time: 0.0, ..shifter.thrown_back(at, wall) };
        let slide = Slide::of(shifter, &back);
        Self { struck_s: at.time, slip: back.slip, slide, end: back.u + slide.reach }
    }
}

/// A ring whose slip ends on a land. It takes longest if it stops just at the end of it.
fn stopped(from: &State, reach: f64, deceleration: f64) -> OutcomeBounds {
    if from.slip > 0.0 && deceleration <= 0.0 {
        return OutcomeBounds::never();
    }
    let outcome = if from.x > SAME_MM { Outcome::HalfIn } else { Outcome::Locked };
    let most = if from.slip <= 0.0 {
        0.0
    } else if reach >= TAU {
        f64::INFINITY
    } else {
        (2.0 * reach / deceleration).sqrt()
    };
    OutcomeBounds::last(outcome, most)
}
