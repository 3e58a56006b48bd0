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
    /// The land ends, which has this index on its level, if it is known.
    Edge(State, Option<usize>),
}

impl<'a> Slide<'a> {
    /// The slide of a ring that lies on a land.
    pub(super) fn of(shifter: &'a Shifter, from: &State) -> Self {
        let deceleration = shifter.conditions.slip_deceleration();
        let Ahead { index, wall, reach, rest } = Ahead::of(shifter, from);
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
            None => SlideEnd::Edge(at, index),
        };
        Self { reach, rest, end }
    }

    /// The square of the slip at the end up to which a slide that settles the shift is the same.
    pub(super) const fn settled_to(&self) -> f64 {
        if self.rest <= 0.0 && self.reach < TAU { 0.0 } else { f64::INFINITY }
    }
}

/// What lies ahead of a ring that rubs along a land.
struct Ahead<'a> {
    /// The index of the land on its level, if it is on one.
    index: Option<usize>,
    wall: Option<(f64, &'a DirectedBlock)>,
    /// How far it goes, rad, and the square of the slip then; negative if it stops before.
    reach: f64,
    rest: f64,
}

impl<'a> Ahead<'a> {
    fn of(shifter: &'a Shifter, from: &State) -> Self {
        let (index, land, wall) = match shifter.land(from) {
            Some(on) => (Some(on.index), on.ahead, on.wall),
            None => (None, 0.0, shifter.wall(from, 0.0)),
        };
        let reach = wall.map_or(land, |(ahead, _)| ahead.min(land));
        let deceleration = shifter.conditions.slip_deceleration();
        let rest = from.slip * from.slip - 2.0 * deceleration * reach;
        Self { index, wall, reach, rest }
    }
}

/// Where a ring gets to that a flank throws back from a fall, rad, and the square of its slip then; `None` where it is
/// not thrown back.
pub(super) fn thrown_to(shifter: &Shifter, fall: &FallEnd<'_>) -> Option<(f64, f64)> {
    let (at, wall) = thrown_by(shifter, fall)?;
    let back = shifter.thrown_back(at, wall);
    let Ahead { reach, rest, .. } = Ahead::of(shifter, &back);
    Some((back.u + reach, rest))
}

/// The state in which a fall is thrown back, and the flank that does.
fn thrown_by<'f, 'a>(
    shifter: &Shifter,
    fall: &'f FallEnd<'a>,
) -> Option<(&'f State, &'a DirectedBlock)> {
    match fall {
        FallEnd::Wall(at, wall) if !shifter.holds(at.x, wall) => Some((at, wall)),
        _ => None,
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
        let (at, wall) = thrown_by(shifter, fall)?;
        Some(Self::by(shifter, at, wall))
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
