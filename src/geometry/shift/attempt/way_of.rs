//! Which way a fall takes past a flank.

use super::directed_block::DirectedBlock;
use super::level::Level;
use super::run::Shifter;
use super::state::{State, in_order};
use super::ways::Way;

impl Shifter {
    /// The way of a fall from a state in which it is level with a wall, or below its tip.
    pub(super) fn way(&self, at: &State, wall: &DirectedBlock) -> Way {
        let bottom = self.conditions.full_mm;
        let mut motion = self.motion(at);
        let edge_end = wall.starts_mm + wall.near.edge_end_mm;
        let cap = at.x + motion.cap_after_mm();
        let [first, second] = in_order([edge_end, cap].map(|x| x.clamp(at.x, bottom)));
        let flank = wall.near_end(at.x);
        let mut way = Way::past(flank);
        let mut from = *at;
        for x in [first, second, bottom] {
            if x <= from.x {
                continue;
            }
            let to = self.fallen_by(&from, &motion, x);
            way.go_on(&from, &to, &motion, wall);
            if to.v != from.v {
                motion = self.motion(&to);
            }
            from = to;
        }
        way
    }

    /// The ways of falls from the start of a shift past every block, by its level and its index there; empty where a
    /// block is not on its own level.
    pub(super) fn ways_from_start(&self) -> Vec<Vec<Way>> {
        let is_own = |(at, level): (usize, &Level)| level.blocks.iter().all(|b| b.level == at);
        if !self.levels.iter().enumerate().all(is_own) {
            return Vec::new();
        }
        let start = self.start(0.0, 0.0);
        let on_level = |(at, level): (usize, &Level)| {
            let begins = self.level_with(&start, at);
            level.blocks.iter().map(|block| self.way(&begins, block)).collect()
        };
        self.levels.iter().enumerate().map(on_level).collect()
    }
}
