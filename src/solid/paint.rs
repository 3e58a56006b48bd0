//! The order in which facets can be painted so that the nearer ones hide the farther ones.
//!
//! The plane of one facet parts all others into those behind it and those in front, and cuts the few
//! that it passes through; each part is parted again. Nothing behind a plane can hide anything in
//! front of it, so that the order is exact, whatever the facets are.

use super::space::Vec3;
use super::{Facets, Panel};

/// Points this close to a plane lie in it, mm.
const FLAT_MM: f64 = 1e-6;

/// Facets that lean less than this towards the reader are not seen.
const EDGE_ON: f64 = 1e-6;

/// How many planes are tried for each parting.
const TRIALS: usize = 9;

/// What a cut facet counts against one facet more on the fuller side.
const CUT_COUNTS: usize = 4;

/// A flat convex figure, counter-clockwise seen by the reader.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Its corners; the reader looks along −z.
    pub corners: Vec<Vec3>,
    /// Whether the side from each corner to the next is drawn.
    pub edges: Vec<bool>,
    /// Its normal, of length 1, towards the reader.
    pub normal: Vec3,
    /// Of which of the solids it is, from 0.
    pub solid: usize,
    /// The place of the dog it is part of, from 0; none for the web.
    pub place: Option<usize>,
}

/// Sheets of one plane. They do not hide each other.
pub type Painted = Vec<Sheet>;

/// The visible sides of several solids, the farthest first. `place` puts each point of a solid where
/// the reader sees it, looking along −z; it may turn and move, not mirror or stretch.
///
/// Outlines of round faces, where their near side meets their far side, are drawn as edges too.
pub fn painted(solids: &[Facets], place: impl Fn(usize, Vec3) -> Vec3) -> Vec<Painted> {
    let mut sheets = Vec::new();
    for (solid, facets) in solids.iter().enumerate() {
        let points: Vec<Vec3> = facets.points.iter().map(|&point| place(solid, point)).collect();
        sheets.extend(seen(facets, &points, solid));
    }
    in_order(sheets)
}

// ---- what is seen of a solid ----

/// The facets of a solid that face the reader.
fn seen(facets: &Facets, points: &[Vec3], solid: usize) -> Vec<Sheet> {
    let near: Vec<Flat> =
        facets.panels.iter().flat_map(|panel| flat(facets, panel, points)).collect();
    let mut sides = vec![Vec::new(); points.len()];
    for flat in &near {
        flat.sides().for_each(|[from, to]| sides[from].push(to));
    }
    let inner = |from: usize, to: usize| sides.get(to).is_some_and(|ends| ends.contains(&from));
    let sheet = |flat: &Flat| Sheet {
        corners: flat.corners.iter().map(|&corner| points[corner]).collect(),
        edges: flat
            .edges
            .iter()
            .zip(flat.sides())
            .map(|(&edge, [a, b])| edge || !inner(a, b))
            .collect(),
        normal: flat.normal,
        solid,
        place: flat.place,
    };
    near.iter().map(sheet).collect()
}

/// A flat facet by the places of its corners.
struct Flat {
    corners: Vec<usize>,
    edges: Vec<bool>,
    normal: Vec3,
    place: Option<usize>,
}

impl Flat {
    fn sides(&self) -> impl Iterator<Item = [usize; 2]> {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(&from, &to)| [from, to])
    }

    /// `None` where it does not face the reader.
    fn of(
        corners: &[usize],
        edges: &[bool],
        points: &[Vec3],
        place: Option<usize>,
    ) -> Option<Self> {
        let at = |corner: usize| points[corners[corner % corners.len()]];
        let last = corners.len() - 1;
        let normal = (at(2) - at(0)).cross(at(last) - at(1));
        let normal = if last == 2 { (at(1) - at(0)).cross(at(2) - at(0)) } else { normal }.unit();
        (normal.z > EDGE_ON).then(|| Self {
            corners: corners.to_vec(),
            edges: edges.to_vec(),
            normal,
            place,
        })
    }
}

/// A panel that lies in a plane stays whole, any other falls in two.
fn flat(facets: &Facets, panel: &Panel, points: &[Vec3]) -> Vec<Flat> {
    let [a, b, c, d] = panel.corners.map(|corner| points[corner]);
    let off = (b - a).cross(c - a).unit().dot(d - a);
    if off.abs() < FLAT_MM {
        return Flat::of(&panel.corners, &panel.edges, points, panel.place).into_iter().collect();
    }
    let halves = facets.parted(panel).into_iter();
    halves.filter_map(|half| Flat::of(&half.corners, &half.edges, points, half.place)).collect()
}

// ---- the order ----

/// What is still to be done: sheets in no order, or sheets of one plane.
enum Task {
    Part(Vec<Sheet>),
    Paint(Painted),
}

fn in_order(sheets: Vec<Sheet>) -> Vec<Painted> {
    let mut painted = Vec::new();
    let mut tasks = vec![Task::Part(sheets)];
    while let Some(task) = tasks.pop() {
        match task {
            Task::Paint(plane) => painted.push(plane),
            Task::Part(sheets) => {
                if let Some(parts) = Parts::of(sheets) {
                    // The last one is done first. All face the reader, so that front is nearer.
                    tasks.extend([Task::Part(parts.front), Task::Paint(parts.inside)]);
                    tasks.push(Task::Part(parts.behind));
                }
            }
        }
    }
    painted
}

/// A plane; points with `normal·p > offset` are in front.
#[derive(Clone, Copy)]
struct Plane {
    normal: Vec3,
    offset: f64,
}

impl Plane {
    fn of(sheet: &Sheet) -> Self {
        let at = sheet.corners.first().copied().unwrap_or_default();
        Self { normal: sheet.normal, offset: sheet.normal.dot(at) }
    }

    fn height(&self, point: Vec3) -> f64 {
        self.normal.dot(point) - self.offset
    }

    /// Whether something of the sheet lies behind, and in front.
    fn sides(&self, sheet: &Sheet) -> [bool; 2] {
        let heights = || sheet.corners.iter().map(|&corner| self.height(corner));
        [heights().any(|h| h < -FLAT_MM), heights().any(|h| h > FLAT_MM)]
    }
}

/// The place of the sheet, among a few, whose plane cuts little and parts evenly.
fn splitter(sheets: &[Sheet]) -> Option<usize> {
    let trials = (0..sheets.len()).step_by(sheets.len().div_ceil(TRIALS).max(1));
    trials.min_by_key(|&at| cost(&Plane::of(&sheets[at]), sheets))
}

fn cost(plane: &Plane, sheets: &[Sheet]) -> usize {
    let [mut behind, mut front, mut cut] = [0_usize; 3];
    for sheet in sheets {
        match plane.sides(sheet) {
            [true, true] => cut += 1,
            [true, false] => behind += 1,
            [false, true] => front += 1,
            [false, false] => {}
        }
    }
    behind.max(front) + CUT_COUNTS * cut
}

/// Sheets parted by a plane.
#[derive(Default)]
struct Parts {
    behind: Vec<Sheet>,
    inside: Vec<Sheet>,
    front: Vec<Sheet>,
}

impl Parts {
    /// `None` where there is nothing to part. The sheet that gives the plane lies inside, whatever
    /// rounding says, so that every parting leaves less to do.
    fn of(mut sheets: Vec<Sheet>) -> Option<Self> {
        let chosen = sheets.remove(splitter(&sheets)?);
        let plane = Plane::of(&chosen);
        let mut parts = Self { inside: vec![chosen], ..Self::default() };
        sheets.into_iter().for_each(|sheet| parts.add(sheet, &plane));
        Some(parts)
    }

    fn add(&mut self, sheet: Sheet, plane: &Plane) {
        match plane.sides(&sheet) {
            [false, false] => self.inside.push(sheet),
            [true, false] => self.behind.push(sheet),
            [false, true] => self.front.push(sheet),
            [true, true] => {
                let [behind, front] = cut(&sheet, plane);
                self.behind.push(behind);
                self.front.push(front);
            }
        }
    }
}

/// The parts of a sheet behind and in front of a plane that passes through it.
fn cut(sheet: &Sheet, plane: &Plane) -> [Sheet; 2] {
    let empty = || Sheet { corners: Vec::new(), edges: Vec::new(), ..sheet.clone() };
    let mut parts = [empty(), empty()];
    let count = sheet.corners.len();
    for at in 0..count {
        let (from, to) = (sheet.corners[at], sheet.corners[(at + 1) % count]);
        let heights = [plane.height(from), plane.height(to)];
        let crossing = crossing(from, to, heights);
        for (side, part) in [-1.0, 1.0].into_iter().zip(&mut parts) {
            let [start, end] = heights.map(|height| side * height);
            if start >= -FLAT_MM {
                // A side that runs along the cut, or leaves by it, ends there.
                part.corners.push(from);
                part.edges.push(sheet.edges[at] && (end >= -FLAT_MM || crossing.is_some()));
            }
            if let Some(point) = crossing {
                part.corners.push(point);
                part.edges.push(sheet.edges[at] && end > 0.0);
            }
        }
    }
    parts
}

/// Where a side passes through the plane, if it does.
fn crossing(from: Vec3, to: Vec3, [start, end]: [f64; 2]) -> Option<Vec3> {
    let passes = start.min(end) < -FLAT_MM && start.max(end) > FLAT_MM;
    passes.then(|| from + (to - from) * (start / (start - end)))
}
