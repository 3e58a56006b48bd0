//! The result of the first pass, and how far its start can move on before the result changes.
//!
//! Falls and lands keep the order of rings: a ring that starts further on, or faster, is ahead all the
//! way. So the result changes between two neighbouring phases only where the ring ahead just reaches
//! something that the ring behind misses: a flank, the start or the end of a top, or the end of a land
//! before it stops. Each of these places is known in closed form. One attempt therefore tells how far
//! its result holds.

use std::f64::consts::TAU;

use super::SAME_MM;
use super::directed_block::DirectedBlock;
use super::pass::FirstPass;
use super::room::By;
use super::run::{FallEnd, Shifter, rubbed_for};
use super::state::State;

/// The first pass of a ring from some state on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Course {
    /// The result, if there is time for it.
    pub(super) what: FirstPass,
    /// How much the start can grow with the same result: its phase, its slip, or the square of the slip
    /// at the end of a land.
    pub(super) more: f64,
    /// The time at which the result is decided, s. It never gets later as the start grows.
    pub(super) time: f64,
}

impl Shifter {
    /// The first pass from a phase over a window. `more` is only followed up to `limit`.
    pub(super) fn over_window(&self, u: f64, slip: f64, limit: f64) -> Course {
        self.falls(&self.start(u, slip), By::Phase, limit, FirstPass::StraightIn)
    }

    /// The first pass from a phase on a land.
    pub(super) fn over_land(&self, u: f64, slip: f64) -> Course {
        let course = self.rubs(&self.start(u, slip), slip);
        Course {
            more: By::Phase.after_a_land(course.more, slip, 0.0, self.slip_deceleration()),
            ..course
        }
    }

    /// A ring at tip level from which a shift begins.
    pub(in crate::shift) fn start(&self, u: f64, slip: f64) -> State {
        let v = self.conditions.travel.start_speed_m_per_s;
        State { u, x: 0.0, level: 0, v, slip, time: 0.0 }
    }

    fn slip_deceleration(&self) -> f64 {
        self.conditions.slip_deceleration()
    }

    /// A fall, and what follows it. `inside` is its result if it reaches full depth.
    fn falls(&self, from: &State, by: By, limit: f64, inside: FirstPass) -> Course {
        let fall = self.fall(*from);
        let more = self.same_fall(from, &fall, by, limit);
        match fall {
            FallEnd::Full(at) => Course { what: inside, more, time: at.time },
            FallEnd::Wall(at, wall) if self.holds(at.x, wall) => {
                let end = self.guided(&at, wall);
                let deep = end.x >= self.conditions.full_mm - SAME_MM;
                Course { what: if deep { inside } else { FirstPass::HalfIn }, more, time: end.time }
            }
            FallEnd::Wall(..) => Course { what: FirstPass::Struck, more, time: from.time },
            FallEnd::Top(at) => {
                let course = self.rubs(&at, from.slip + limit_of(by, limit));
                let seconds = at.time - from.time;
                let after =
                    by.after_a_land(course.more, from.slip, seconds, self.slip_deceleration());
                Course { more: more.min(after), ..course }
            }
        }
    }

    /// Rubbing along a land, and what follows it. `more` of the answer is for the square of the slip at the
    /// end of the land. No ring is faster than `fastest`.
    fn rubs(&self, from: &State, fastest: f64) -> Course {
        let slip_deceleration = self.slip_deceleration();
        let under = self.land(from).map(|on| (on.ahead, on.wall));
        let (land, wall) = under.unwrap_or_else(|| (0.0, self.wall(from, 0.0)));
        let reach = wall.map_or(land, |(ahead, _)| ahead.min(land));
        let square = from.slip * from.slip - 2.0 * slip_deceleration * reach;
        let all = |what, time| Course { what, more: f64::INFINITY, time };
        if square <= 0.0 || reach >= TAU {
            return match from.slip {
                slip if slip <= 0.0 => all(self.stopped(from), from.time),
                _ if slip_deceleration <= 0.0 => all(FirstPass::Ratcheting, from.time),
                slip => {
                    let more = if reach >= TAU { f64::INFINITY } else { -square };
                    Course { more, ..all(self.stopped(from), from.time + slip / slip_deceleration) }
                }
            };
        }
        let at = rubbed_for(from, reach, square.sqrt(), slip_deceleration);
        match wall {
            Some((_, wall)) => match self.holds(from.x, wall) {
                true => all(FirstPass::HalfIn, at.time),
                false => all(FirstPass::Struck, from.time),
            },
            None => {
                let limit = (fastest - at.slip).max(0.0);
                let course = self.falls(&at, By::Slip, limit, FirstPass::AfterRubbing);
                let end = at.slip + course.more;
                Course { more: end * end - square, ..course }
            }
        }
    }

    const fn stopped(&self, at: &State) -> FirstPass {
        if at.x > SAME_MM { FirstPass::HalfIn } else { FirstPass::Locked }
    }

    /// Whether a flank that is met at an overlap holds.
    pub(in crate::shift) fn holds(&self, x: f64, wall: &DirectedBlock) -> bool {
        x - wall.starts_mm >= self.conditions.hold_mm - SAME_MM
    }
}

/// By how much a fall can get faster at most.
const fn limit_of(by: By, limit: f64) -> f64 {
    match by {
        By::Phase => 0.0,
        By::Slip => limit,
    }
}
