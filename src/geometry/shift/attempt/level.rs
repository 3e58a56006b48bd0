//! The overlaps at which tips come level.

use std::f64::consts::TAU;

use super::SAME_MM;
use super::directed_block::DirectedBlock;
use super::lands::Lands;
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
    pub(super) fn sorted(mut blocks: Vec<DirectedBlock>) -> Vec<Self> {
        sort_by_number(&mut blocks, |b| b.starts_mm);
        let alike = blocks.chunk_by(|a, b| b.starts_mm - a.starts_mm < SAME_MM);
        let mut levels: Vec<_> = alike.map(Self::from_blocks).collect();
        let depths: Vec<_> = levels.iter().map(|level| level.depth_mm).collect();
        for block in levels.iter_mut().flat_map(|level| &mut level.blocks) {
            block.level = depths.partition_point(|depth| *depth < block.starts_mm - SAME_MM);
        }
        levels
    }

    fn from_blocks(blocks: &[DirectedBlock]) -> Self {
        let mut blocks = blocks.to_vec();
        // Equal rings block the same phases several times over; one block of each is enough.
        sort_by_number(&mut blocks, DirectedBlock::turn);
        blocks.dedup_by(|a, b| a.is_twin(b));
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
