//! How far falls that start further on, or faster, meet the same, and what those can meet that go a little further.

use super::SAME_MM;
use super::around::BlockId;
use super::directed_block::DirectedBlock;
use super::first_pass::CLEAR_RAD;
use super::lands::SAME_RAD;
use super::room::By;
use super::run::{FallEnd, Shifter, shortest};
use super::state::{State, in_order};
use crate::pair::wrapped;

/// Flanks closer to each other than this (rad) are flush, as for a fall.
const FLUSH_RAD: f64 = 2.0 * SAME_RAD;

/// The blocks that a fall can meet which starts only a little beyond those that meet the same.
#[derive(Clone, Copy)]
pub(in crate::shift) struct Beside {
    /// From the highest level down.
    blocks: [BlockId; Seen::MOST],
    count: usize,
    /// The overlap down to which these are all, mm.
    to_mm: f64,
    /// The phase up to which falls can start for which they are, rad.
    pub(in crate::shift) until: f64,
}

/// Blocks on the way of a fall, in any order.
struct Seen {
    /// Each with how far on (rad) a fall has to start at least that meets it.
    blocks: [(BlockId, f64); Self::MOST],
    count: usize,
}

impl Seen {
    /// Seldom are there more.
    const MOST: usize = 8;

    const fn none() -> Self {
        Self { blocks: [([0; 2], 0.0); Self::MOST], count: 0 }
    }

    fn add(&mut self, block: BlockId, needs: f64) {
        if let Some(place) = self.blocks.get_mut(self.count) {
            *place = (block, needs);
        }
        self.count += 1;
    }

    /// Those that a fall can meet which starts at most so much further on; `None` if there was no room for all.
    fn within(&self, most: f64, [to_mm, until]: [f64; 2]) -> Option<Beside> {
        let (mut blocks, mut count) = ([[0; 2]; Self::MOST], 0);
        for (block, _) in self.blocks.get(..self.count)?.iter().filter(|(_, needs)| *needs <= most)
        {
            let at = blocks[..count].partition_point(|other| other < block);
            if blocks[..count].get(at) != Some(block) {
                blocks.copy_within(at..count, at + 1);
                blocks[at] = *block;
                count += 1;
            }
        }
        Some(Beside { blocks, count, to_mm, until })
    }
}

impl Shifter {
    /// How much the start of a fall can grow before the fall meets something else, or meets the same
    /// flank where that no longer holds.
    pub(in crate::shift) fn same_fall(
        &self,
        from: &State,
        fall: &FallEnd<'_>,
        by: By,
        limit: f64,
    ) -> f64 {
        self.alike(from, fall, by, limit, |_, _| ())
    }

    /// How much further on a fall can start before it meets something else, and what those can meet that start only a
    /// little beyond, if that is known.
    pub(in crate::shift) fn same_fall_beside(
        &self,
        from: &State,
        fall: &FallEnd<'_>,
        limit: f64,
    ) -> (f64, Option<Beside>) {
        let mut seen = Seen::none();
        let more = self.alike(from, fall, By::Phase, limit, |block, needs| seen.add(block, needs));
        // The top on which a fall lands is not among what lies beside it.
        if matches!(fall, FallEnd::Top(_)) {
            return (more, None);
        }
        let until = from.u + more + CLEAR_RAD / 2.0;
        (more, seen.within(more + CLEAR_RAD, [fall.state().x, until]))
    }

    /// A fall that can meet nothing else down to the overlap of the one that it is beside; deeper, it is searched for.
    pub(in crate::shift) fn fall_beside(&self, from: State, beside: &Beside) -> FallEnd<'_> {
        let end = self.fall_among(&beside.blocks[..beside.count], from);
        if end.state().x <= beside.to_mm + SAME_MM { end } else { self.fall(from) }
    }

    /// How much the start of a fall can grow. `see` is told of each block that a fall can meet which starts little
    /// further than that, and how much further at least.
    fn alike(
        &self,
        from: &State,
        fall: &FallEnd<'_>,
        by: By,
        limit: f64,
        mut see: impl FnMut(BlockId, f64),
    ) -> f64 {
        let (end_mm, met) = match fall {
            FallEnd::Full(_) => (self.conditions.full_mm, None),
            FallEnd::Top(at) => (at.x, None),
            FallEnd::Wall(at, wall) => (at.x, Some(*wall)),
        };
        let motion = self.motion(from);
        let lasts = self.fallen_by(from, &motion, end_mm).time - from.time;
        let clear = if lasts > 0.0 { by.needed(CLEAR_RAD, lasts) } else { 0.0 };
        let mut more = limit;
        for near in self.ahead(from.u) {
            if near.begins > by.most_swept(from.slip, more + clear, lasts) {
                break;
            }
            let level = &self.levels[near.level];
            let (mut begins, mut to_land) = (*from, f64::INFINITY);
            if near.level > from.level {
                if level.depth_mm > end_mm + SAME_MM {
                    continue;
                }
                begins = self.fallen_to(from, &motion, near.level);
                to_land = by.needed(level.lands.to_next(begins.u), begins.time - from.time);
                more = more.min(to_land);
            }
            let block = &level.blocks[near.block];
            if met.is_some_and(|wall| std::ptr::eq(wall, block)) {
                see(near.id(), f64::NEG_INFINITY);
                continue;
            }
            let swept = from.slip * (lasts - (begins.time - from.time));
            let is_far =
                by.needed(block.room_left(begins.u, begins.x, swept), lasts) > more + clear;
            let to_flank =
                if is_far { f64::INFINITY } else { self.clear(from, &begins, block, end_mm, by) };
            if to_land.min(to_flank) <= more + clear {
                see(near.id(), to_land.min(to_flank));
            }
            // Less of a flank that matters leaves no less room.
            if to_flank <= more + clear {
                let to_mm = met.map_or(end_mm, |wall| counts_to(wall, block, begins.x, end_mm));
                let counts = to_mm < end_mm;
                let needs =
                    if counts { self.clear(from, &begins, block, to_mm, by) } else { to_flank };
                more = more.min(needs);
            }
        }
        let held = met.filter(|wall| self.holds(end_mm, wall));
        if let Some(wall) = held {
            // Met earlier, the flank holds too, down to the holding depth and to a top that the fall passes.
            let passed = self.levels.iter().skip(from.level + 1).map(|level| level.depth_mm);
            let passed = passed.take_while(|depth| *depth <= end_mm + SAME_MM).last();
            let passed_mm = passed.unwrap_or(from.x);
            let deepest = (wall.starts_mm + self.conditions.hold_mm).max(passed_mm);
            let least = (deepest - SAME_MM).min(end_mm);
            let below = wall.level > from.level;
            let x = if below { self.levels[wall.level].depth_mm } else { from.x };
            more = more.min(self.clear(from, &self.fallen_by(from, &motion, x), wall, least, by));
        }
        more.max(0.0)
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
