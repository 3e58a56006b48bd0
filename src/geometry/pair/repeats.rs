//! How often what the dogs block comes again in a turn.

use std::collections::HashMap;
use std::f64::consts::TAU;

use super::Mesh;
use super::block::Block;
use crate::ring::FlankSide;
use crate::units::sort_by_number;

/// Phases closer than this, in radians, count as the same.
const SAME: f64 = 1e-7;

impl Mesh {
    /// How many times the blocked phases come again in a turn, at every overlap: six for six dogs alike on both rings,
    /// once for rings as measured.
    pub fn repeats(&self) -> u32 {
        if !self.first_comes_again() {
            return 1;
        }
        let mut kinds: HashMap<Kind, Vec<f64>> = HashMap::new();
        for run in self.blocks.chunk_by(Block::is_shaped_as) {
            let phases = run.iter().map(|block| block.phase.radians());
            kinds.entry(Kind::of(&run[0])).or_default().extend(phases);
        }
        let groups: Vec<_> = kinds.into_values().map(apart).collect();
        let fewest = groups.iter().map(Vec::len).min().unwrap_or(1);
        let comes_again =
            |times: &usize| groups.iter().all(|phases| is_same_turned(phases, *times));
        let most = (1..=fewest).rev().find(comes_again).unwrap_or(1);
        u32::try_from(most).unwrap_or(1)
    }

    /// Whether the blocks that are like the first may come again in a turn: where they do not, as of rings as measured,
    /// no others need be looked at.
    fn first_comes_again(&self) -> bool {
        let Some(first) = self.blocks.first() else { return false };
        if self.blocks.iter().all(|block| block.is_shaped_as(first)) {
            return true;
        }
        let (kind, starts) = (Kind::of(first), millionths(first.starts_mm));
        let is_alike =
            |block: &&Block| millionths(block.starts_mm) == starts && Kind::of(block) == kind;
        let phases = self.blocks.iter().filter(is_alike).map(|block| block.phase.radians());
        let phases = apart(phases.collect());
        (2..=phases.len()).any(|times| is_same_turned(&phases, times))
    }
}

/// What two blocks have in common that block alike, to a millionth.
#[derive(PartialEq, Eq, Hash)]
struct Kind([i64; 6]);

impl Kind {
    fn of(block: &Block) -> Self {
        let [drive, coast] = FlankSide::BOTH.map(|flank| {
            let deep =
                |from_mm| block.reach(flank, block.starts_mm + from_mm, super::Edges::Broken);
            [deep(0.0), deep(1.0)]
        });
        let numbers =
            [block.starts_mm, block.edge_ends_mm(), drive[0], drive[1], coast[0], coast[1]];
        Self(numbers.map(millionths))
    }
}

/// A number in millionths.
#[expect(clippy::cast_possible_truncation, reason = "saturates, and then nothing is alike")]
fn millionths(number: f64) -> i64 {
    (number * 1e6).round() as i64
}

/// Phases in order, each once.
fn apart(mut phases: Vec<f64>) -> Vec<f64> {
    sort_by_number(&mut phases, |phase| *phase);
    phases.dedup_by(|a, b| (*a - *b).abs() < SAME);
    // The last may be the first, a turn on.
    if let [first, .., last] = phases[..]
        && first + TAU - last < SAME
    {
        phases.pop();
    }
    phases
}

/// Whether phases in order fall on themselves when they are turned by a part of a turn.
fn is_same_turned(phases: &[f64], times: usize) -> bool {
    let count = phases.len();
    if !count.is_multiple_of(times) {
        return false;
    }
    let (on, part) = (count / times, TAU / f64::from(u32::try_from(times).unwrap_or(u32::MAX)));
    (0..count).all(|at| {
        let moved = (phases[(at + on) % count] - phases[at]).rem_euclid(TAU);
        // A whole turn is no turn.
        (moved - part).abs() < SAME || (times == 1 && moved < SAME)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::{Dog, PlanForm, Ring};
    use crate::units::Angle;

    fn ring(dogs: &[(f64, f64)]) -> Ring {
        let dog = |(place, (centre, height)): (usize, &(f64, f64))| {
            let [centre, wide] = [*centre, 24.0].map(Angle::from_degrees);
            Dog::straight(place, centre, wide, *height)
        };
        Ring {
            inner_radius_mm: 22.0,
            outer_radius_mm: 30.0,
            form: PlanForm::Radial,
            dogs: dogs.iter().enumerate().map(dog).collect(),
        }
    }

    /// Dogs alike so many times in a turn, the first by some degrees out of place and every second so much lower.
    fn dogs(count: u32, off: f64, lower: f64) -> Ring {
        let dog = |at: u32| {
            let off = if at == 0 { off } else { 0.0 };
            let low = if at % 2 == 1 { lower } else { 0.0 };
            (360.0 / f64::from(count) * f64::from(at) + off, 5.0 - low)
        };
        ring(&(0..count).map(dog).collect::<Vec<_>>())
    }

    #[test]
    fn rings_alike_come_again_with_every_dog_and_measured_ones_never() {
        let repeats = |a: &Ring, b: &Ring| Mesh::new(a, b).expect("they meet").repeats();
        let six = dogs(6, 0.0, 0.0);
        assert_eq!(repeats(&six, &six), 6);
        assert_eq!(repeats(&six, &dogs(3, 0.0, 0.0)), 6);
        assert_eq!(repeats(&six, &dogs(4, 0.0, 0.0)), 12);
        assert_eq!(repeats(&dogs(6, 0.0, 2.0), &dogs(6, 0.0, 2.0)), 3);
        assert_eq!(repeats(&dogs(6, 1.0, 0.0), &dogs(6, 1.0, 0.0)), 1);
        assert_eq!(repeats(&dogs(1, 0.0, 0.0), &dogs(1, 0.0, 0.0)), 1);
    }
}
