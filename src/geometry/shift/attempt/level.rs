//! The overlaps at which tips come level.

use std::f64::consts::TAU;

use super::SAME_MM;
use super::directed_block::DirectedBlock;
use super::lands::Lands;
use crate::pair::{Block, wrapped};
use crate::units::sort_by_number;

/// An overlap at which tips come level with tips.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::shift) struct Level {
    pub(in crate::shift) depth_mm: f64,
    pub(in crate::shift) lands: Lands,
    /// The blocks that begin here: tops at this overlap, walls below.
    pub(super) blocks: Vec<DirectedBlock>,
}

impl Level {
    /// Sorts blocks into levels, from the highest tops down.
    pub(super) fn sorted(mut blocks: Vec<&Block>, direction: f64, full_mm: f64) -> Vec<Self> {
        sort_by_number(&mut blocks, |b| b.starts_mm);
        let alike = blocks.chunk_by_mut(|a, b| b.starts_mm - a.starts_mm < SAME_MM);
        let mut levels: Vec<_> =
            alike.map(|alike| Self::from_blocks(alike, direction, full_mm)).collect();
        let depths: Vec<_> = levels.iter().map(|level| level.depth_mm).collect();
        let all = levels.iter_mut().flat_map(|level| level.blocks.iter_mut().enumerate());
        for (index, block) in all {
            block.index = index;
            block.level = depths.partition_point(|depth| *depth < block.starts_mm - SAME_MM);
        }
        levels
    }

    fn from_blocks(alike: &mut [&Block], direction: f64, full_mm: f64) -> Self {
        sort_by_number(alike, |block| wrapped(direction * block.phase.radians()));
        let mut blocks: Vec<DirectedBlock> = Vec::new();
        for run in alike.chunk_by(|a, b| a.is_shaped_as(b)) {
            let first = DirectedBlock::new(run[0], direction, full_mm);
            for block in run {
                let block = first.with_middle(direction * block.phase.radians());
                // Equal rings block the same phases several times over; one block of each is enough.
                if !blocks.last().is_some_and(|last| block.is_twin(last)) {
                    blocks.push(block);
                }
            }
        }
        let lands = Lands::joined(blocks.iter().map(DirectedBlock::top));
        Self { depth_mm: blocks[0].starts_mm, lands, blocks }
    }

    /// Whether the level is unchanged if it is turned by this fraction of the circle.
    pub(super) fn repeats(&self, times: usize) -> bool {
        let (count, by) = (self.blocks.len(), part_of_circle(times));
        let next = |at: usize| &self.blocks[(at + count / times) % count];
        count.is_multiple_of(times)
            && self.blocks.iter().enumerate().all(|(at, block)| block.is_turned(next(at), by))
    }

    /// Whether all its blocks have straight flanks and sharp edges.
    pub(in crate::shift) fn is_straight(&self) -> bool {
        self.blocks.iter().all(DirectedBlock::is_straight)
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn part_of_circle(times: usize) -> f64 {
    TAU / times as f64
}
