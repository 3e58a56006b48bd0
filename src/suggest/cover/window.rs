//! What stands in the way of a window: for each pair of dogs, how far it reaches into it.

use super::dog::{Cuts, Room};
use crate::pair::{Block, Edges, Mesh, wrapped_mm};
use crate::ring::{FlankSide, PerFlank};

/// A pair of dogs that can block each other. Lengths are arcs at the mean radius of the contact.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    /// The rooms of its dogs.
    pub(super) dogs: [usize; 2],
    /// Where the middles of the tips face each other.
    at_mm: f64,
    /// From there to the ends of the blocked arc, as the dogs are now.
    reach_mm: PerFlank<f64>,
    /// The undercut that the flanks keep as a tip is lowered.
    keeps: PerFlank<f64>,
}

/// All pairs of two rings at the overlap that a goal is judged at.
#[derive(Clone, Debug)]
pub(super) struct Layer {
    pub(super) pairs: Vec<Pair>,
    /// Pairs whose dogs are lower than the reference heights by this in all are out of the way, mm.
    pub(super) clear_mm: f64,
    /// The whole circle.
    circle_mm: f64,
    /// Whether edge breaks count.
    pub(super) eases: bool,
}

/// How far a pair reaches into a window past each of its ends.
#[derive(Clone, Copy, Debug)]
pub(super) struct Need {
    pub(super) dogs: [usize; 2],
    pub(super) mm: PerFlank<f64>,
    keeps: PerFlank<f64>,
}

impl Layer {
    /// The tips that come level before an overlap.
    pub(super) fn of_tips(mesh: &Mesh, count_a: usize, clear_mm: f64) -> Self {
        let reach = |block: &Block, flank| block.reach(flank, block.starts_mm, Edges::Broken);
        Self::of(mesh, count_a, clear_mm, true, reach, |_, _| 0.0)
    }

    /// The dogs at a depth, if the reference heights are lower by `dropped_mm` than the tallest tips.
    pub(super) fn at_depth(mesh: &Mesh, count_a: usize, depth_mm: f64, dropped_mm: f64) -> Self {
        let at = depth_mm + dropped_mm;
        let reach = |block: &Block, flank| block.reach(flank, at, Edges::Sharp);
        let keeps = |block: &Block, flank| block.undercut(flank, &mesh.contact);
        Self::of(mesh, count_a, depth_mm, false, reach, keeps)
    }

    fn of(
        mesh: &Mesh,
        count_a: usize,
        clear_mm: f64,
        eases: bool,
        reach: impl Fn(&Block, FlankSide) -> f64,
        keeps: impl Fn(&Block, FlankSide) -> f64,
    ) -> Self {
        let mean = mesh.contact.mean_mm();
        let pair = |block: &Block| Pair {
            dogs: [block.dog_a, count_a + block.dog_b],
            at_mm: block.phase.radians() * mean,
            reach_mm: PerFlank::from_fn(|flank| reach(block, flank) * mean),
            keeps: PerFlank::from_fn(|flank| keeps(block, flank)),
        };
        let pairs = mesh.blocks.iter().map(pair).collect();
        Self { pairs, clear_mm, circle_mm: std::f64::consts::TAU * mean, eases }
    }

    /// Where a window of a width can begin so that an arc as it is now, or with `eased_mm` of edge breaks, ends
    /// where the window does.
    pub(super) fn starts(&self, width_mm: f64, eased_mm: f64) -> Vec<f64> {
        let ends = self.pairs.iter().flat_map(|pair| {
            let [drive, coast] = FlankSide::BOTH.map(|flank| pair.reach_mm[flank] - eased_mm);
            [pair.at_mm + drive, pair.at_mm - coast - width_mm]
        });
        let mut starts: Vec<_> = ends.map(|at| wrapped_mm(at, self.circle_mm)).collect();
        starts.sort_by(f64::total_cmp);
        starts.dedup_by(|a, b| *a - *b < 1e-6);
        starts
    }

    /// How far ahead of one place another is.
    pub(super) fn ahead_mm(&self, from_mm: f64, to_mm: f64) -> f64 {
        wrapped_mm(to_mm - from_mm, self.circle_mm)
    }

    /// What reaches into a window, or nearly does.
    pub(super) fn needs(&self, start_mm: f64, width_mm: f64, rooms: &[Room<'_>]) -> Vec<Need> {
        // Opposite the middle of the window, and half of what is not the window.
        let away = start_mm + (width_mm + self.circle_mm) / 2.0;
        let half = (self.circle_mm - width_mm) / 2.0;
        let of = |pair: &Pair| {
            let [drive, coast] = [pair.reach_mm.drive, pair.reach_mm.coast];
            let apart = pair.at_mm - away + self.circle_mm / 2.0;
            let at = wrapped_mm(apart, self.circle_mm) - self.circle_mm / 2.0;
            let mm = PerFlank { drive: at + drive - half, coast: coast - at - half };
            // A tip that is cut down becomes wider where the flanks taper.
            let grows = |flank: FlankSide| {
                let widest = pair.dogs.iter().map(|dog| pair.keeps[flank] - rooms[*dog].tan[flank]);
                widest.fold(0.0, f64::max) * self.clear_mm
            };
            let near = FlankSide::BOTH.into_iter().any(|flank| mm[flank] + grows(flank) > 1e-9);
            let is_arc = drive + coast > 0.0;
            (near && is_arc).then_some(Need { dogs: pair.dogs, mm, keeps: pair.keeps })
        };
        self.pairs.iter().filter_map(of).collect()
    }

    /// The width of the window that holds a phase, at the nominal sizes; `None` if the phase is blocked.
    pub(super) fn held_mm(
        &self,
        phase_mm: f64,
        rooms: &[Room<'_>],
        low: &[f64],
        cuts: &[Cuts],
    ) -> Option<f64> {
        let (mut left, mut right) = (f64::NEG_INFINITY, f64::INFINITY);
        for pair in &self.pairs {
            let lower: f64 = pair.dogs.iter().map(|&dog| low[dog] + cuts[dog].lower_mm).sum();
            if lower >= self.clear_mm - 1e-9 {
                continue;
            }
            let reach = |flank: FlankSide| {
                let taken = pair.dogs.map(|dog| {
                    let leans = rooms[dog].tan[flank] - pair.keeps[flank];
                    rooms[dog].nominal_arc_mm(&cuts[dog], flank) + cuts[dog].lower_mm * leans
                });
                pair.reach_mm[flank] - taken[0] - taken[1]
            };
            let at = wrapped_mm(pair.at_mm - phase_mm, self.circle_mm);
            right = right.min(at - reach(FlankSide::Coast));
            left = left.max(at + reach(FlankSide::Drive) - self.circle_mm);
        }
        (left <= 0.0 && right >= 0.0).then(|| (right - left).min(self.circle_mm))
    }
}

impl Need {
    /// The place of a dog in it: 0 or 1.
    pub(super) fn place_of(&self, dog: usize) -> usize {
        usize::from(self.dogs[0] != dog)
    }

    /// How far the pair still reaches past one end, mm.
    pub(super) fn left_mm(&self, flank: FlankSide, rooms: &[Room<'_>], cuts: &[Cuts]) -> f64 {
        let taken = self.dogs.map(|dog| {
            let (cuts, leans) = (&cuts[dog], rooms[dog].tan[flank] - self.keeps[flank]);
            let lowered = if cuts.lowered_mm.is_finite() { cuts.lowered_mm } else { 0.0 };
            cuts.arc_mm[flank] + cuts.eased_mm + lowered * leans
        });
        self.mm[flank] - taken[0] - taken[1]
    }

    /// Whether the flanks are out of the window.
    pub(super) fn is_narrow(&self, rooms: &[Room<'_>], cuts: &[Cuts]) -> bool {
        FlankSide::BOTH.into_iter().all(|flank| self.left_mm(flank, rooms, cuts) <= 1e-9)
    }
}
