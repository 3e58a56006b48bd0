//! The least and the greatest width of a window, with every size anywhere within its limits.

use super::programme::Programme;
use super::spread::{Size, Spread};
use crate::pair::{Arc, Block, Edges, Mesh};
use crate::ring::{FlankSide, PerSide, PlanForm, Ring, Side};
use crate::shop::tolerance::Limits;
use crate::units::Angle;

/// The least and the greatest value of a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The least.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
}

/// One size that may be off, with how far, in radians or mm.
struct Variable {
    side: Side,
    dog: usize,
    size: Size,
    limits: Limits,
    /// For a width, how much of it is at the radius where the rings meet.
    scale: f64,
}

/// An end of a blocked arc as a linear function of the sizes, radians from the middle of the window.
struct End {
    nominal: f64,
    /// By so much for each size, by its place in the list.
    by: Vec<(usize, f64)>,
}

impl End {
    /// The value with every size at the limit that makes it least, or greatest.
    fn extreme(&self, sizes: &[Variable], greatest: bool) -> f64 {
        let at = |(size, by): &(usize, f64)| {
            let Limits { minus, plus } = sizes[*size].limits;
            if (*by > 0.0) == greatest { by * plus } else { -by * minus }
        };
        self.nominal + self.by.iter().map(at).sum::<f64>()
    }

    fn slope(&self, size: usize) -> f64 {
        self.by.iter().filter(|(of, _)| *of == size).map(|(_, by)| by).sum()
    }

    /// This end less another.
    fn less(&self, other: &Self) -> Self {
        let mut by = self.by.clone();
        for (size, slope) in &other.by {
            match by.iter_mut().find(|(of, _)| of == size) {
                Some((_, sum)) => *sum -= slope,
                None => by.push((*size, -slope)),
            }
        }
        Self { nominal: self.nominal - other.nominal, by }
    }
}

/// What bounds a window: at an overlap in mm, to sharp edges or broken ones.
#[derive(Clone, Copy, Debug)]
pub(super) enum Level {
    /// All dogs that block at full depth, where they are at that depth.
    Depth(f64),
    /// All tips that come level before a holding depth, where they come level.
    Hold(f64),
}

/// Windows of a pair whose sizes may be off.
pub(super) struct Windows<'a> {
    mesh: &'a Mesh,
    level: Level,
    sizes: Vec<Variable>,
    /// The sizes of each dog, by ring.
    of_dog: PerSide<Vec<Vec<usize>>>,
    /// No end of a blocked arc is off by more, radians.
    most_off: f64,
}

impl<'a> Windows<'a> {
    pub(super) fn new(
        rings: &PerSide<Ring>,
        mesh: &'a Mesh,
        spread: &Spread,
        level: Level,
    ) -> Self {
        let sizes: Vec<_> = spread
            .sizes()
            .map(|(side, dog, size, limits)| {
                let radians = if size == Size::Height { 1.0 } else { 1_f64.to_radians() };
                let [minus, plus] = [limits.minus, limits.plus].map(|limit| limit * radians);
                let scale = scale(&rings[side], dog, mesh);
                Variable { side, dog, size, limits: Limits { minus, plus }, scale }
            })
            .collect();
        let of = |side: Side| {
            let dogs = 0..rings[side].dogs.len();
            let of_dog = |dog| {
                let here = sizes.iter().enumerate().filter(|(_, v)| v.side == side && v.dog == dog);
                here.map(|(at, _)| at).collect()
            };
            dogs.map(of_dog).collect()
        };
        let of_dog = PerSide::from_fn(of);
        let most_off = most_off(mesh, level, &sizes, &of_dog);
        Self { mesh, level, sizes, of_dog, most_off }
    }

    /// A bound of the range of the width of one window, radians: each end as far off as it can be, whatever the other
    /// is.
    pub(super) fn outer(&self, window: &Arc) -> Range {
        let (left, right) = self.ends(window, false);
        let next = right.iter().map(|end| end.extreme(&self.sizes, true));
        let last = left.iter().map(|end| end.extreme(&self.sizes, false));
        let greatest = next.fold(f64::INFINITY, f64::min) - last.fold(f64::NEG_INFINITY, f64::max);
        Range { least: self.least(window), greatest: greatest.min(std::f64::consts::TAU) }
    }

    /// The least width of a window, radians. Undercuts are held.
    pub(super) fn least(&self, window: &Arc) -> f64 {
        let (left, right) = self.ends(window, true);
        // The least of a smallest less a largest is that of the worst two.
        let mut least = std::f64::consts::TAU;
        for right in &right {
            for left in &left {
                least = least.min(right.less(left).extreme(&self.sizes, false));
            }
        }
        least.max(0.0)
    }

    /// The ends of the arcs on both sides of a window, of all pairs that may block, or of those that do
    /// whatever the heights are.
    fn ends(&self, window: &Arc, may: bool) -> (Vec<End>, Vec<End>) {
        let blocks = self.mesh.blocks.iter().filter(|block| self.blocks(block, may));
        let origin = window.middle();
        let place = |block: &'a Block| {
            let at = (block.phase - origin).wrapped().radians();
            let nominal = |flank: FlankSide| self.nominal(block, at, flank);
            (block, at, [nominal(FlankSide::Drive), nominal(FlankSide::Coast)])
        };
        let places: Vec<_> = blocks.map(place).collect();
        let last = places.iter().map(|(.., [end, _])| *end).fold(f64::NEG_INFINITY, f64::max);
        let next = places.iter().map(|(.., [_, end])| *end).fold(f64::INFINITY, f64::min);
        // What cannot become the nearest end is left out.
        let far = 2.0 * self.most_off + 1e-9;
        let lefts = places.iter().filter(|(.., [end, _])| *end >= last - far);
        let rights = places.iter().filter(|(.., [_, end])| *end <= next + far);
        let mut left: Vec<_> =
            lefts.map(|(block, at, _)| self.end(block, *at, FlankSide::Drive)).collect();
        let mut right: Vec<_> =
            rights.map(|(block, at, _)| self.end(block, *at, FlankSide::Coast)).collect();
        let near =
            right.iter().map(|end| end.extreme(&self.sizes, true)).fold(f64::INFINITY, f64::min);
        right.retain(|end| end.extreme(&self.sizes, false) <= near);
        let near = left
            .iter()
            .map(|end| end.extreme(&self.sizes, false))
            .fold(f64::NEG_INFINITY, f64::max);
        left.retain(|end| end.extreme(&self.sizes, true) >= near);
        (left, right)
    }

    /// Whether a pair may block, or does whatever the heights are.
    fn blocks(&self, block: &Block, may: bool) -> bool {
        let (Level::Depth(limit) | Level::Hold(limit)) = self.level;
        let heights =
            self.of_pair(block).filter(|(size, _)| self.sizes[*size].size == Size::Height);
        // A tallest dog that is lower brings the others nearer, on both rings.
        let lower = heights.map(|(size, _)| self.sizes[size].limits.width()).sum::<f64>();
        block.starts_mm < limit - 1e-9 + if may { lower } else { -lower }
    }

    /// The sizes of the two dogs of a pair, each with its ring.
    fn of_pair(&self, block: &Block) -> impl Iterator<Item = (usize, Side)> {
        let dogs = [(Side::A, block.dog_a), (Side::B, block.dog_b)];
        dogs.into_iter()
            .flat_map(|(side, dog)| self.of_dog[side][dog].iter().map(move |size| (*size, side)))
    }

    /// Where an end of a blocked arc lies with every size nominal, from the middle of the window.
    fn nominal(&self, block: &Block, at: f64, flank: FlankSide) -> f64 {
        let reach = match self.level {
            Level::Depth(depth) => block.reach(flank, depth, Edges::Sharp),
            Level::Hold(_) => block.reach(flank, block.starts_mm, Edges::Broken),
        };
        // Drive meets drive at the upper end of a blocked arc, which is the left end of the window after it.
        let turn = if flank == FlankSide::Drive { std::f64::consts::TAU } else { 0.0 };
        at - flank.sign() * reach - turn
    }

    fn end(&self, block: &Block, at: f64, flank: FlankSide) -> End {
        let deeper = match self.level {
            Level::Depth(_) => block.shrink(flank),
            Level::Hold(_) => 0.0,
        };
        let away = -flank.sign();
        let by = self.of_pair(block).map(|(size, _)| {
            let of = &self.sizes[size];
            let by = match of.size {
                Size::Position => -1.0,
                Size::Width => away * 0.5 * of.scale,
                Size::Height => -away * deeper,
            };
            (size, by)
        });
        End { nominal: self.nominal(block, at, flank), by: by.collect() }
    }

    /// The greatest width of a window, radians.
    pub(super) fn greatest(&self, window: &Arc) -> f64 {
        let solved = self.programme(window);
        let width = solved.and_then(|(programme, beside)| Some(programme.largest()? + beside));
        width.map_or(std::f64::consts::TAU, |width| width.min(std::f64::consts::TAU))
    }

    /// The programme whose largest value, with the number beside it added, is the greatest width of a window, radians:
    /// `u − v` with `u` at most every right end, and `v` at least every left end. That is exact where the same dogs
    /// block whatever the heights are; otherwise it is a bound. Undercuts are held. `None` where nothing bounds the
    /// window.
    pub(super) fn programme(&self, window: &Arc) -> Option<(Programme, f64)> {
        let (left, right) = self.ends(window, false);
        let sizes = &self.sizes;
        let lowest = right.iter().map(|end| end.extreme(sizes, false)).reduce(f64::min)?;
        let highest = left.iter().map(|end| end.extreme(sizes, true)).reduce(f64::max)?;
        // The sizes of other dogs move none of the ends.
        let ends = right.iter().chain(&left);
        let mut moving: Vec<usize> = ends.flat_map(|end| &end.by).map(|(size, _)| *size).collect();
        moving.sort_unstable();
        moving.dedup();
        // Sizes are counted from their lower limits, so that no number is negative.
        let row = |end: &End, sign: f64, u: f64, v: f64, from: f64| {
            let mut row: Vec<f64> = moving.iter().map(|size| -sign * end.slope(*size)).collect();
            row.extend([u, v]);
            let base: f64 = end.by.iter().map(|(size, by)| by * sizes[*size].limits.minus).sum();
            (row, (sign * (end.nominal - base - from)).max(0.0))
        };
        let mut rows: Vec<_> = right.iter().map(|end| row(end, 1.0, 1.0, 0.0, lowest)).collect();
        rows.extend(left.iter().map(|end| row(end, -1.0, 0.0, 1.0, highest)));
        let count = moving.len();
        for (at, size) in moving.iter().enumerate() {
            let mut row = vec![0.0; count + 2];
            row[at] = 1.0;
            rows.push((row, sizes[*size].limits.width()));
        }
        let mut gains = vec![0.0; count];
        gains.extend([1.0, 1.0]);
        Some((Programme::new(&gains, &rows), lowest - highest))
    }
}

/// The most that an end of a blocked arc can be off, radians: both dogs of a pair as far off as the worst of their ring.
fn most_off(
    mesh: &Mesh,
    level: Level,
    sizes: &[Variable],
    of_dog: &PerSide<Vec<Vec<usize>>>,
) -> f64 {
    let shrinks =
        || mesh.blocks.iter().flat_map(|block| FlankSide::BOTH.map(|flank| block.shrink(flank)));
    let deeper = match level {
        Level::Depth(_) => shrinks().map(f64::abs).fold(0.0, f64::max),
        Level::Hold(_) => 0.0,
    };
    let off = |of: &Variable| {
        let by = match of.size {
            Size::Position => 1.0,
            Size::Width => 0.5 * of.scale.abs(),
            Size::Height => deeper,
        };
        by * of.limits.minus.abs().max(of.limits.plus.abs())
    };
    let all = |own: &Vec<usize>| own.iter().map(|size| off(&sizes[*size])).sum::<f64>();
    let worst = |side: Side| of_dog[side].iter().map(all).fold(0.0, f64::max);
    Side::BOTH.into_iter().map(worst).sum()
}

/// How much of a change of the tip width is at the radius where the rings meet.
fn scale(ring: &Ring, dog: usize, mesh: &Mesh) -> f64 {
    let (mean, meeting) = (ring.mean_radius_mm(), mesh.contact.meeting_mm);
    match ring.form {
        PlanForm::Radial => 1.0,
        PlanForm::Parallel => {
            let half: Angle = ring.dogs[dog].tip_width / 2.0;
            let chord = mean * half.sin();
            let square = meeting * meeting - chord * chord;
            if square > 0.0 { mean * libm::cos(half.radians()) / square.sqrt() } else { 1.0 }
        }
    }
}
