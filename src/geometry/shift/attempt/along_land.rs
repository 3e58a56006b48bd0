//! What is ahead of a ring that rubs along a land: its end, or a flank of taller dogs that came level above it.

use std::f64::consts::PI;

use super::around::{BlockId, Near};
use super::directed_block::{DirectedBlock, ahead};
use super::lands::SAME_RAD;
use super::level::Level;
use super::run::Shifter;
use super::state::State;
use super::walls::Wall;
use crate::units::sort_by_number;

/// A wall this far (rad) past the ends of a land is still kept for it.
const BESIDE_RAD: f64 = 1e-9;

/// The land under a ring.
#[derive(Clone, Copy)]
pub(in crate::shift) struct Under<'a> {
    /// Its index on its level.
    pub(in crate::shift) index: usize,
    /// How far it extends ahead, rad.
    pub(in crate::shift) ahead: f64,
    /// The next wall on it, and how far ahead that is, rad.
    pub(in crate::shift) wall: Option<(f64, &'a DirectedBlock)>,
}

/// So few walls are all looked at.
const FEW: usize = 4;

impl Shifter {
    /// The land under a ring; `None` over a window.
    pub(in crate::shift) fn land(&self, from: &State) -> Option<Under<'_>> {
        let level = &self.levels[from.level];
        let (index, land) = level.lands.span_under(from.u)?;
        let known = if from.x == level.depth_mm { self.walls_on(from.level, index) } else { None };
        let wall = match known {
            Some(walls) => {
                let near = match walls.len() {
                    ..=FEW => walls,
                    _ => next_of(walls, ahead(from.u, before(level, index))),
                };
                self.nearest(land, near.iter().map(|wall| (ahead(wall.at, from.u), wall.block)))
            }
            None => self.wall(from, land),
        };
        Some(Under { index, ahead: land, wall })
    }

    /// How far ahead the next wall is that a ring meets on its level within so far, rad.
    pub(in crate::shift) fn wall(&self, from: &State, land: f64) -> Option<(f64, &DirectedBlock)> {
        let near = self.ahead(from.u).take_while(|near| near.begins <= land + SAME_RAD);
        let walls = near.filter(|near| near.level < from.level);
        let way = |near: Near| (self.block(&near).to_near(from.u, from.x), near.id());
        self.nearest(land, walls.map(way))
    }

    /// The nearest wall on a land, of walls that are so far ahead. Of flush flanks that of the taller dogs counts: it
    /// is met deepest below its tip.
    fn nearest(
        &self,
        land: f64,
        walls: impl Iterator<Item = (f64, BlockId)>,
    ) -> Option<(f64, &DirectedBlock)> {
        let mut nearest: Option<(f64, BlockId)> = None;
        for (way, wall) in walls.filter(|(way, _)| *way <= land + SAME_RAD) {
            let is_nearer = |(least, than): (f64, BlockId)| {
                way < least + if wall < than { SAME_RAD } else { -SAME_RAD }
            };
            if nearest.is_none_or(is_nearer) {
                nearest = Some((way, wall));
            }
        }
        nearest.map(|(way, [level, block])| (way, &self.levels[level].blocks[block]))
    }

    fn walls_on(&self, level: usize, span: usize) -> Option<&[Wall]> {
        self.walls[level].on(span, || self.found_on(level, span))
    }

    /// The walls on a land, from its begin on; `None` on a land of half a turn or more, and where a block is
    /// not there any more at the overlap of the land.
    fn found_on(&self, level: usize, span: usize) -> Option<Vec<Wall>> {
        let Level { depth_mm, lands, .. } = &self.levels[level];
        let [begin, end] = lands.spans[span];
        let from = before(&self.levels[level], span);
        let width = end - begin + 2.0 * BESIDE_RAD;
        if width >= PI {
            return None;
        }
        let mut walls = Vec::new();
        for near in self.ahead(from).take_while(|near| near.begins <= width) {
            let block = self.block(&near);
            let at = block.near_end(*depth_mm);
            let past = ahead(at, from);
            if near.level < level && past <= width {
                if !block.is_there(*depth_mm) {
                    return None;
                }
                walls.push(Wall { block: near.id(), at, past });
            }
        }
        sort_by_number(&mut walls, |wall| wall.past);
        Some(walls)
    }
}

/// A place just before a land.
fn before(level: &Level, land: usize) -> f64 {
    level.lands.origin + level.lands.spans[land][0] - BESIDE_RAD
}

/// The first wall ahead of a ring that is so far past the place before its land, and those beside it.
fn next_of(walls: &[Wall], past: f64) -> &[Wall] {
    let behind = walls.partition_point(|wall| wall.past < past - BESIDE_RAD);
    let beside = behind + walls[behind..].partition_point(|wall| wall.past < past);
    let to = walls.get(beside).map_or(past, |next| next.past) + BESIDE_RAD;
    let count = walls[beside..].iter().take_while(|wall| wall.past <= to).count();
    &walls[behind..beside + count]
}
