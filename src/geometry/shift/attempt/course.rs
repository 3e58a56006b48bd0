//! The result of the first pass, and how far its start can move on before the result changes.
//!
//! Falls and lands keep the order of rings: a ring that starts further on, or faster, is ahead all the
//! way. So the result changes between two neighbouring phases only where the ring ahead just reaches
//! something that the ring behind misses: a flank, the start or the end of a top, or the end of a land
//! before it stops. Each of these places is known in closed form. One attempt therefore tells how far
//! its result holds.

use std::f64::consts::TAU;

use super::directed_block::DirectedBlock;
use super::pass::FirstPass;
use super::room::By;
use super::run::{FallEnd, Shifter, State, in_order, rubbed_for, shortest};
use super::{SAME_MM, SAME_RAD};
use crate::pair::wrapped;

/// Flanks closer to each other than this (rad) are flush, as for a fall.
const FLUSH_RAD: f64 = 2.0 * SAME_RAD;

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

    fn start(&self, u: f64, slip: f64) -> State {
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
        let land = self.levels[from.level].lands.under(from.u).unwrap_or(0.0);
        let wall = self.wall(from, land);
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

    /// How much the start of a fall can grow before the fall meets something else, or meets the same
    /// flank where that no longer holds.
    pub(in crate::shift) fn same_fall(
        &self,
        from: &State,
        fall: &FallEnd<'_>,
        by: By,
        limit: f64,
    ) -> f64 {
        let (end_mm, met) = match fall {
            FallEnd::Full(_) => (self.conditions.full_mm, None),
            FallEnd::Top(at) => (at.x, None),
            FallEnd::Wall(at, wall) => (at.x, Some(*wall)),
        };
        let motion = self.motion(from);
        let lasts = self.fallen_by(from, &motion, end_mm).time - from.time;
        let mut more = limit;
        for near in self.ahead(from.u) {
            if near.begins > by.most_swept(from.slip, more, lasts) {
                break;
            }
            let level = &self.levels[near.level];
            let mut begins = *from;
            if near.level > from.level {
                if level.depth_mm > end_mm + SAME_MM {
                    continue;
                }
                begins = self.fallen_to(from, &motion, near.level);
                more = more.min(by.needed(level.lands.to_next(begins.u), begins.time - from.time));
            }
            let block = &level.blocks[near.block];
            if met.is_some_and(|wall| std::ptr::eq(wall, block)) {
                continue;
            }
            let to_mm = met.map_or(end_mm, |wall| counts_to(wall, block, begins.x, end_mm));
            more = more.min(self.clear(from, &begins, block, to_mm, by));
        }
        let held = met.filter(|wall| self.holds(end_mm, wall));
        if let Some(wall) = held {
            // Met earlier, the flank holds too, down to the holding depth and to a top that the fall passes.
            let passed = self.levels.iter().skip(from.level + 1).map(|level| level.depth_mm);
            let passed = passed.take_while(|depth| *depth <= end_mm + SAME_MM).last();
            let passed_mm = passed.unwrap_or(from.x);
            let deepest = (wall.starts_mm + self.conditions.hold_mm).max(passed_mm);
            let least = (deepest - SAME_MM).min(end_mm);
            let level = self.level_of(wall);
            let x = if level > from.level { self.levels[level].depth_mm } else { from.x };
            more = more.min(self.clear(from, &self.fallen_by(from, &motion, x), wall, least, by));
        }
        more.max(0.0)
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

/// The overlap down to which another flank matters beside the one that is met. Where it lies behind the
/// met flank, a fall meets that one first.
fn counts_to(met: &DirectedBlock, other: &DirectedBlock, from_mm: f64, met_mm: f64) -> f64 {
    let top = from_mm.max(met.starts_mm).min(met_mm);
    let ends =
        |block: &DirectedBlock| (block.starts_mm + block.near.edge_end_mm).clamp(top, met_mm);
    let [first, second] = in_order([ends(met), ends(other)]);
    let bends = [top, first, second, met_mm];
    let behind = |x: f64| shortest(wrapped(other.to_near(0.0, x) - met.to_near(0.0, x)));
    let mut below = behind(met_mm);
    if below < -FLUSH_RAD {
        return met_mm;
    }
    for bend in bends.windows(2).rev().filter(|bend| bend[0] < bend[1]) {
        let above = behind(bend[0]);
        if above < -FLUSH_RAD {
            // Both are straight between bends.
            let share = (below.max(0.0) / (below.max(0.0) - above)).clamp(0.0, 1.0);
            return bend[1] - share * (bend[1] - bend[0]);
        }
        below = above;
    }
    met.starts_mm.min(met_mm)
}
