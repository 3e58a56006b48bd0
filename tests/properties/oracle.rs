//! The model's rule for what blocks what, asked one phase at a time.

use std::f64::consts::{PI, TAU};

use crenel::pair::Contact;
use crenel::ring::{Dog, FlankSide, PlanForm, Ring};

/// Whether two dogs whose tips are just level at the overlap are in each other's way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Level {
    /// They block already.
    Blocks,
    /// They only touch.
    Touches,
}

/// One pair of dogs: where it stands, and what either side of its arc is at the tips and per mm.
struct PairOfDogs {
    phase: f64,
    starts_mm: f64,
    /// Coast, drive.
    at_tips: [f64; 2],
    per_mm: [f64; 2],
}

const SIDES: [FlankSide; 2] = [FlankSide::Coast, FlankSide::Drive];

/// Two rings and every pair of their dogs.
pub(crate) struct Oracle {
    pairs: Vec<PairOfDogs>,
}

impl Oracle {
    pub(crate) fn new([a, b]: &[Ring; 2], contact: &Contact) -> Self {
        let pairs = a.dogs.iter().flat_map(|i| b.dogs.iter().map(move |j| (i, j)));
        let wide = |ring: &Ring, dog: &Dog, side| {
            let (mean, narrowed) = (ring.mean_radius_mm(), dog.narrowed_mm[side]);
            let half = dog.tip_width.radians() / 2.0;
            match ring.form {
                PlanForm::Radial => half - narrowed / mean,
                PlanForm::Parallel => {
                    let sine = (mean * libm::sin(half) - narrowed) / contact.meeting_mm;
                    libm::asin(sine.clamp(-1.0, 1.0))
                }
            }
        };
        let radius = (contact.inner_mm + contact.outer_mm) / 2.0;
        let slope = |dog: &Dog, side| dog.back_cut[side].tan() / radius;
        let pair = |(i, j): (&Dog, &Dog)| PairOfDogs {
            phase: -(i.centre + j.centre).radians(),
            starts_mm: a.tallest_mm() - i.height_mm + b.tallest_mm() - j.height_mm,
            // A tip that was cut down stands where the flank was at that depth, and a flank that was
            // re-cut since keeps the lean that it had there.
            at_tips: SIDES.map(|side| {
                let leaned = |dog: &Dog| {
                    dog.lean_kept_mm[side] / radius + dog.cut_down_mm * slope(dog, side)
                };
                let half = |ring, dog: &Dog| wide(ring, dog, side) - leaned(dog);
                half(a, i) + half(b, j)
            }),
            per_mm: SIDES.map(|side| slope(i, side).min(slope(j, side))),
        };
        Self { pairs: pairs.map(pair).collect() }
    }

    /// Overlaps at which the tips of some pair of dogs come level.
    pub(crate) fn levels(&self) -> Vec<f64> {
        self.pairs.iter().map(|p| p.starts_mm).collect()
    }

    /// The steepest side of any arc, radians per mm.
    pub(crate) fn steepest(&self) -> f64 {
        self.pairs.iter().flat_map(|p| p.per_mm).fold(0.0, |most, s| most.max(s.abs()))
    }

    /// Every arc that blocks at an overlap, as its two ends in radians; empty arcs are left out.
    pub(crate) fn arcs(&self, overlap_mm: f64, level: Level) -> Vec<[f64; 2]> {
        let blocks = |p: &&PairOfDogs| match level {
            Level::Blocks => p.starts_mm <= overlap_mm + 1e-9,
            Level::Touches => p.starts_mm < overlap_mm - 1e-9,
        };
        let arc = |p: &PairOfDogs| {
            let depth = overlap_mm - p.starts_mm;
            let [coast, drive] = [0, 1].map(|side| p.at_tips[side] - depth * p.per_mm[side]);
            [p.phase - coast, p.phase + drive]
        };
        let arcs = self.pairs.iter().filter(blocks).map(arc);
        arcs.filter(|[from, to]| to > from).collect()
    }
}

/// How far a phase is from the nearest arc, radians; negative inside an arc.
pub(crate) fn clearance(arcs: &[[f64; 2]], phase: f64) -> f64 {
    let to_arc = |&[from, to]: &[f64; 2]| {
        // Seen from its own middle the arc is half a turn away at most.
        let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
        let away = (phase - middle).rem_euclid(TAU);
        away.min(TAU - away) - half
    };
    arcs.iter().map(to_arc).fold(PI, f64::min)
}
