//! The order in which facets can be painted so that the nearer ones hide the farther ones.
//!
//! The plane of one facet divides the others into those behind it and those in front, and cuts the few
//! that it passes through. Each part is divided again. A facet behind a plane can never hide one in
//! front of it, so the order is exact for any facets.

use super::space::Vec3;

/// Points this close to a plane lie in it, mm.
const FLAT_MM: f64 = 1e-6;

/// How many planes are tried for each division.
const TRIALS: usize = 9;

/// The cost of a cut facet, where one facet more on the fuller side costs 1.
const CUT_COUNTS: usize = 4;

/// A flat convex figure, counter-clockwise seen by the reader.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Its corners; the reader looks along −z.
    pub corners: Vec<Vec3>,
    /// Its normal, of length 1, towards the reader.
    pub normal: Vec3,
    /// The solid that it belongs to, from 0.
    pub solid: usize,
    /// The place of the dog it is part of, from 0; `None` for the web.
    pub place: Option<usize>,
}

/// Sheets of one plane, which do not hide each other.
pub type Painted = Vec<Sheet>;

/// Remaining work: sheets in no order, or sheets of one plane.
enum Task {
    Part(Vec<Sheet>),
    Paint(Painted),
}

/// Sheets that face the reader, the farthest plane first.
pub(super) fn in_order(sheets: Vec<Sheet>) -> Vec<Painted> {
    let mut painted = Vec::new();
    let mut tasks = vec![Task::Part(sheets)];
    while let Some(task) = tasks.pop() {
        match task {
            Task::Paint(plane) => painted.push(plane),
            Task::Part(sheets) => {
                if let Some(parts) = Parts::split(sheets) {
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

    /// Whether a part of the sheet lies behind the plane, and whether a part lies in front.
    fn sides(&self, sheet: &Sheet) -> [bool; 2] {
        let heights = || sheet.corners.iter().map(|&corner| self.height(corner));
        [heights().any(|h| h < -FLAT_MM), heights().any(|h| h > FLAT_MM)]
    }
}

/// The index of the sheet, among a few, whose plane cuts few others and divides them most evenly.
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

/// Sheets divided by a plane.
#[derive(Default)]
struct Parts {
    behind: Vec<Sheet>,
    inside: Vec<Sheet>,
    front: Vec<Sheet>,
}

impl Parts {
    /// `None` if there is no sheet. The sheet that gives the plane always counts as inside it, regardless of
    /// rounding, so that every division leaves less work.
    fn split(mut sheets: Vec<Sheet>) -> Option<Self> {
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
    let [mut behind, mut front] = [Vec::new(), Vec::new()];
    let next = sheet.corners.iter().cycle().skip(1);
    for (&from, &to) in sheet.corners.iter().zip(next) {
        let heights = [from, to].map(|corner| plane.height(corner));
        let crossing = crossing(from, to, heights);
        behind.extend((heights[0] <= FLAT_MM).then_some(from).into_iter().chain(crossing));
        front.extend((heights[0] >= -FLAT_MM).then_some(from).into_iter().chain(crossing));
    }
    [behind, front].map(|corners| Sheet { corners, ..*sheet })
}

/// The point at which a side passes through the plane, if it does.
fn crossing(from: Vec3, to: Vec3, [start, end]: [f64; 2]) -> Option<Vec3> {
    let passes = start.min(end) < -FLAT_MM && start.max(end) > FLAT_MM;
    passes.then(|| from + (to - from) * (start / (start - end)))
}
