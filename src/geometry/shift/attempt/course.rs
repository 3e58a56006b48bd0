//! What the first pass comes to, and for how much more of what it starts with it comes to the same.
//!
//! Falls and lands keep the order of rings: one that starts further on, or faster, is ahead all the
//! way. So what becomes of the rings from a stretch of phases changes only where the one ahead just
//! reaches something that the one behind does not: a flank, the begin or the end of a top, or the
//! end of a land before it stops. Each of these places is known in closed form, so that one try
//! says how far the answer holds.

use std::f64::consts::TAU;

use super::directed_block::DirectedBlock;
use super::pass::FirstPass;
use super::room::By;
use super::run::{Fall, Shifter, State, rubbed_for, shortest};
use super::{SAME_MM, SAME_RAD};
use crate::pair::wrapped;

/// Flanks closer to each other than this (rad) are flush, as they are for a fall.
const FLUSH_RAD: f64 = 2.0 * SAME_RAD;

/// The first pass of a ring from somewhere on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Course {
    /// What it comes to, if there is time for it.
    pub(super) what: FirstPass,
    /// How much more there may be for the same: phase, slip, or the square of the slip at the end of
    /// a land.
    pub(super) more: f64,
    /// When it is decided, s. The more there is, the sooner, or just as soon.
    pub(super) time: f64,
}

impl Shifter {
    /// From a phase over a window. Counts no further than `limit`.
    pub(super) fn over_window(&self, u: f64, slip: f64, limit: f64) -> Course {
        self.falls(&self.start(u, slip), By::Phase, limit, FirstPass::StraightIn)
    }

    /// From a phase on a land.
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

    /// A fall, and what follows. `inside` is what it counts as if nothing comes between.
    fn falls(&self, from: &State, by: By, limit: f64, inside: FirstPass) -> Course {
        let fall = self.fall(*from);
        let more = self.same_fall(from, &fall, by, limit);
        match fall {
            Fall::Full(at) => Course { what: inside, more, time: at.time },
            Fall::Wall(at, wall) if self.holds(at.x, wall) => {
                let end = self.guided(&at, wall);
                let deep = end.x >= self.conditions.full_mm - SAME_MM;
                Course { what: if deep { inside } else { FirstPass::HalfIn }, more, time: end.time }
            }
            Fall::Wall(..) => Course { what: FirstPass::Struck, more, time: from.time },
            Fall::Top(at) => {
                let course = self.rubs(&at, from.slip + limit_of(by, limit));
                let seconds = at.time - from.time;
                let after =
                    by.after_a_land(course.more, from.slip, seconds, self.slip_deceleration());
                Course { more: more.min(after), ..course }
            }
        }
    }

    /// Rubbing along a land, and what follows. `more` is that of the square of the slip at its end;
    /// no ring is faster than `fastest`.
    fn rubs(&self, from: &State, fastest: f64) -> Course {
        let slip_deceleration = self.slip_deceleration();
        let land = self.levels[from.level].lands.under(from.u).unwrap_or(0.0);
        let wall = self.wall(from);
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
            Some((ahead, wall)) if ahead <= land + SAME_RAD => match self.holds(from.x, wall) {
                true => all(FirstPass::HalfIn, at.time),
                false => all(FirstPass::Struck, from.time),
            },
            _ => {
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

    /// How much more a fall bears before it meets something else, or the same where it no longer
    /// holds.
    fn same_fall(&self, from: &State, fall: &Fall<'_>, by: By, limit: f64) -> f64 {
        let (end_mm, met) = match fall {
            Fall::Full(_) => (self.conditions.full_mm, None),
            Fall::Top(at) => (at.x, None),
            Fall::Wall(at, wall) => (at.x, Some(*wall)),
        };
        let lasts = self.fallen(from, end_mm).time - from.time;
        let sweep = by.most_swept(from.slip, limit, lasts);
        let mut more = limit;
        let mut passed_mm = from.x;
        for (at, level) in self.levels.iter().enumerate() {
            let below = at > from.level;
            if below && level.depth_mm > end_mm + SAME_MM {
                break;
            }
            let mut begins = *from;
            if below {
                begins = self.fallen(from, level.depth_mm);
                passed_mm = level.depth_mm;
                more = more.min(by.needed(level.lands.to_next(begins.u), begins.time - from.time));
            }
            for block in level.blocks.iter().filter(|b| b.concerns(from.u, sweep)) {
                let to_mm = met.map_or(end_mm, |wall| counts_to(wall, block, begins.x, end_mm));
                more = more.min(self.clear(from, &begins, block, to_mm, by));
            }
        }
        let held = met.filter(|wall| self.holds(end_mm, wall));
        if let Some(wall) = held {
            // Sooner it holds as well, down to the hold depth and to a top that it passes by.
            let deepest = (wall.starts_mm + self.conditions.hold_mm).max(passed_mm);
            let least = (deepest - SAME_MM).min(end_mm);
            let level = self.levels.partition_point(|l| l.depth_mm < wall.starts_mm - SAME_MM);
            let x = if level > from.level { self.levels[level].depth_mm } else { from.x };
            more = more.min(self.clear(from, &self.fallen(from, x), wall, least, by));
        }
        more.max(0.0)
    }

    /// Whether a flank that is met at an overlap holds.
    fn holds(&self, x: f64, wall: &DirectedBlock) -> bool {
        x - wall.starts_mm >= self.conditions.hold_mm - SAME_MM
    }
}

/// How much faster than now a fall can be at most.
const fn limit_of(by: By, limit: f64) -> f64 {
    match by {
        By::Phase => 0.0,
        By::Slip => limit,
    }
}

/// How deep a flank counts beside the one that is met at an overlap: where it stands behind that, a
/// fall meets that first, from its tip on down.
fn counts_to(met: &DirectedBlock, other: &DirectedBlock, from_mm: f64, met_mm: f64) -> f64 {
    let top = from_mm.max(met.starts_mm).min(met_mm);
    if std::ptr::eq(met, other) {
        return met.starts_mm.min(met_mm);
    }
    let ends =
        |block: &DirectedBlock| (block.starts_mm + block.near.edge_end_mm).clamp(top, met_mm);
    let mut bends = [top, ends(met), ends(other), met_mm];
    bends.sort_by(f64::total_cmp);
    let behind = |x: f64| shortest(wrapped(other.to_near(0.0, x) - met.to_near(0.0, x)));
    let mut below = behind(met_mm);
    if below < -FLUSH_RAD {
        return met_mm;
    }
    for bend in bends.windows(2).rev() {
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
