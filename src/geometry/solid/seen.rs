//! What a reader sees of several solids: their near sides, and the parts of their edges that are not
//! hidden.
//!
//! Both are exact for the facets. A sheet hides the part of a line that is inside all its sides and behind
//! its plane. The strokes are what remains of the edges.

use super::paint::{Painted, Sheet, in_order};
use super::space::Vec3;
use super::{Facets, Panel};
use crate::units::sort_by_number;

/// Points this close to a plane or to a side lie on it, mm.
const TOUCHING_MM: f64 = 1e-6;

/// A visible piece of a line between two hidden parts is not drawn if it is shorter than this, mm. Such
/// pieces appear below the seam of two facets, which hide the line up to the points where they touch.
const SHORTEST_MM: f64 = 0.01;

/// Facets that lean less than this towards the reader are not seen.
const EDGE_ON: f64 = 1e-6;

/// A straight piece of an edge that is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its start; the reader looks along −z.
    pub from: Vec3,
    /// Its end.
    pub to: Vec3,
    /// The solid that it belongs to, from 0.
    pub solid: usize,
    /// The place of the dog that it bounds, from 0; `None` if it belongs to the web alone.
    pub place: Option<usize>,
}

/// What is seen of several solids.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// The near sides, the farthest first. Painted one over the other they hide each other correctly.
    pub planes: Vec<Painted>,
    /// The visible parts of the edges and of the outlines of round faces.
    pub strokes: Vec<Stroke>,
}

impl Seen {
    /// The view of several solids. `place` moves each point of a solid to where the reader sees it, looking
    /// along −z. It may rotate and translate, but not mirror or scale.
    pub fn of(solids: &[Facets], place: impl Fn(usize, Vec3) -> Vec3) -> Self {
        let (mut sheets, mut edges) = (Vec::new(), Vec::new());
        for (solid, facets) in solids.iter().enumerate() {
            let points: Vec<Vec3> = facets.points.iter().map(|&p| place(solid, p)).collect();
            let near = facets.panels.iter().flat_map(|panel| flat(facets, panel, &points));
            let near: Vec<Flat> = near.collect();
            edges.extend(drawn(&near, &points, solid));
            sheets.extend(near.iter().map(|flat| flat.sheet(&points, solid)));
        }
        let screens: Vec<Screen> = sheets.iter().map(Screen::of).collect();
        let strokes = edges.iter().flat_map(|edge| uncovered(edge, &screens)).collect();
        Self { planes: in_order(sheets), strokes }
    }
}

// ---- the near sides ----

/// A flat facet by the places of its corners.
struct Flat {
    corners: Vec<usize>,
    edges: Vec<bool>,
    normal: Vec3,
    place: Option<usize>,
}

impl Flat {
    /// `None` if it does not face the reader.
    fn facing_reader(
        corners: &[usize],
        edges: &[bool],
        points: &[Vec3],
        place: Option<usize>,
    ) -> Option<Self> {
        let at = |corner: usize| points[corners[corner]];
        // Half the product of the diagonals is the area; a triangle has its last side for one.
        let last = corners.len() - 1;
        let normal = (at(2) - at(0)).cross(at(last) - at(1)).unit();
        let (corners, edges) = (corners.to_vec(), edges.to_vec());
        (normal.z > EDGE_ON).then_some(Self { corners, edges, normal, place })
    }

    fn sides(&self) -> impl Iterator<Item = [usize; 2]> {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(&from, &to)| [from, to])
    }

    fn sheet(&self, points: &[Vec3], solid: usize) -> Sheet {
        let corners = self.corners.iter().map(|&corner| points[corner]).collect();
        Sheet { corners, normal: self.normal, solid, place: self.place }
    }
}

/// A plane panel stays whole; any other is split in two.
fn flat(facets: &Facets, panel: &Panel, points: &[Vec3]) -> Vec<Flat> {
    let [a, b, c, d] = panel.corners.map(|corner| points[corner]);
    let off = (b - a).cross(c - a).unit().dot(d - a);
    if off.abs() < TOUCHING_MM {
        let whole = Flat::facing_reader(&panel.corners, &panel.edges, points, panel.place);
        return whole.into_iter().collect();
    }
    let halves = facets.parted(panel).into_iter();
    halves
        .filter_map(|half| Flat::facing_reader(&half.corners, &half.edges, points, half.place))
        .collect()
}

/// The edges of the near sides, each once, and the seams beyond which a round face turns away.
fn drawn(near: &[Flat], points: &[Vec3], solid: usize) -> Vec<Stroke> {
    let mut sides = vec![Vec::new(); points.len()];
    for flat in near {
        flat.sides().for_each(|[from, to]| sides[from].push((to, flat.place)));
    }
    let mut strokes = Vec::new();
    for flat in near {
        for ([from, to], &edge) in flat.sides().zip(&flat.edges) {
            let beyond = sides[to].iter().find(|&&(end, _)| end == from);
            if beyond.is_some() && (!edge || from > to) {
                continue;
            }
            let place = flat.place.or(beyond.and_then(|&(_, place)| place));
            strokes.push(Stroke { from: points[from], to: points[to], solid, place });
        }
    }
    strokes
}

// ---- hidden lines ----

/// A sheet as what it hides: all that is below every one of its planes.
struct Screen {
    /// Outward normals and offsets of its sides, upright in depth, and of the sheet itself.
    planes: Vec<(Vec3, f64)>,
    /// Its extent: left, right, bottom, top.
    reach: [f64; 4],
}

impl Screen {
    fn of(sheet: &Sheet) -> Self {
        let next = sheet.corners.iter().cycle().skip(1);
        let sides = sheet.corners.iter().zip(next).map(|(&from, &to)| {
            let out = Vec3::new(to.y - from.y, from.x - to.x, 0.0).unit();
            (out, out.dot(from))
        });
        let own = sheet.corners.first().map(|&at| (sheet.normal, sheet.normal.dot(at)));
        Self { planes: own.into_iter().chain(sides).collect(), reach: reach(&sheet.corners) }
    }

    /// The hidden part of a line, from and to, as shares of its length.
    fn hides(&self, from: Vec3, to: Vec3) -> Option<[f64; 2]> {
        let [mut start, mut end] = [0.0, 1.0_f64];
        for &(normal, offset) in &self.planes {
            let above = [from, to].map(|point| normal.dot(point) - offset + TOUCHING_MM);
            match above.map(|height| height > 0.0) {
                [true, true] => return None,
                [true, false] => start = f64::max(start, above[0] / (above[0] - above[1])),
                [false, true] => end = end.min(above[0] / (above[0] - above[1])),
                [false, false] => {}
            }
        }
        (start < end).then_some([start, end])
    }
}

fn reach(points: &[Vec3]) -> [f64; 4] {
    let least = |of: fn(&Vec3) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    let most = |of: fn(&Vec3) -> f64| points.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    [least(|p| p.x), most(|p| p.x), least(|p| p.y), most(|p| p.y)]
}

fn meet(a: &[f64; 4], b: &[f64; 4]) -> bool {
    a[0] < b[1] && b[0] < a[1] && a[2] < b[3] && b[2] < a[3]
}

/// The visible parts of an edge.
fn uncovered(edge: &Stroke, screens: &[Screen]) -> Vec<Stroke> {
    // An upright or level line has an extent as well.
    let [left, right, bottom, top] = reach(&[edge.from, edge.to]);
    let own = [left - TOUCHING_MM, right + TOUCHING_MM, bottom - TOUCHING_MM, top + TOUCHING_MM];
    let screens = screens.iter().filter(|screen| meet(&own, &screen.reach));
    let hidden = screens.filter_map(|screen| screen.hides(edge.from, edge.to));
    let mut hidden: Vec<[f64; 2]> = hidden.collect();
    hidden.push([1.0, 1.0]);
    sort_by_number(&mut hidden, |&[start, _]| start);
    let at =
        |share: f64| if share == 1.0 { edge.to } else { edge.from + (edge.to - edge.from) * share };
    let shortest = SHORTEST_MM / (edge.to - edge.from).length();
    let (mut strokes, mut seen_from) = (Vec::new(), 0.0);
    for [start, end] in hidden {
        if start - seen_from > shortest {
            strokes.push(Stroke { from: at(seen_from), to: at(start), ..*edge });
        }
        seen_from = f64::max(seen_from, end);
    }
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::{EvenRing, PerFlank};
    use crate::solid::{Body, Solid};

    /// Two rings that face each other, half in, seen from the side.
    fn seen(yaw: f64, pitch: f64) -> Seen {
        let back_cut_deg = PerFlank { drive: 5.0, coast: 0.0 };
        let ring = EvenRing { heights: &[1.0, 0.5], back_cut_deg, ..EvenRing::default() }.to_ring();
        let facets = Solid::of(&ring, &Body::default()).unwrap().facets(0.1);
        Seen::of(&[facets.clone(), facets], |solid, p| {
            let p = if solid == 0 {
                Vec3::polar_turned(p, 0.5)
            } else {
                Vec3::new(p.x, -p.y, 7.5 - p.z)
            };
            let p = Vec3::new(
                p.x * libm::cos(yaw) + p.z * libm::sin(yaw),
                p.y,
                p.z * libm::cos(yaw) - p.x * libm::sin(yaw),
            );
            let (sin, cos) = (libm::sin(pitch), libm::cos(pitch));
            Vec3::new(p.x, p.y * cos - p.z * sin, p.y * sin + p.z * cos)
        })
    }

    impl Vec3 {
        fn polar_turned(p: Self, by: f64) -> Self {
            Self::polar(libm::hypot(p.x, p.y), libm::atan2(p.y, p.x) + by, p.z)
        }
    }

    /// Height of a sheet where it covers a place of the paper by more than a hair.
    fn height(sheet: &Sheet, x: f64, y: f64) -> Option<f64> {
        let at = Vec3::new(x, y, 0.0);
        let next = sheet.corners.iter().cycle().skip(1);
        let inside = sheet.corners.iter().zip(next).all(|(&from, &to)| {
            let side = to - from;
            let length = libm::hypot(side.x, side.y);
            side.x * (at.y - from.y) - side.y * (at.x - from.x) > 1e-5 * length
        });
        let own = sheet.normal.dot(sheet.corners[0] - at) / sheet.normal.z;
        inside.then_some(own)
    }

    const POSES: [(f64, f64); 6] =
        [(0.0, 0.0), (-0.9, 0.35), (-1.57, 0.0), (0.7, -0.6), (2.2, 0.3), (3.9, 0.9)];

    #[test]
    fn what_is_painted_last_is_nearest_everywhere() {
        for (yaw, pitch) in POSES {
            let seen = seen(yaw, pitch);
            let sheets: Vec<&Sheet> = seen.planes.iter().flatten().collect();
            let mut covered = 0;
            for x in -40..40 {
                for y in -40..40 {
                    let (x, y) = (f64::from(x) * 0.87 + 0.013, f64::from(y) * 0.83 + 0.017);
                    let heights = || sheets.iter().filter_map(|sheet| height(sheet, x, y));
                    let nearest = heights().fold(f64::NEG_INFINITY, f64::max);
                    if let Some(last) = heights().next_back() {
                        covered += 1;
                        assert!(last > nearest - 1e-5, "{last} hides {nearest} at {x}, {y}");
                    }
                }
            }
            assert!(covered > 600, "{covered}");
        }
    }

    #[test]
    fn no_line_that_is_seen_has_anything_before_it() {
        for (yaw, pitch) in POSES {
            let seen = seen(yaw, pitch);
            assert!(seen.strokes.len() > 100);
            for stroke in &seen.strokes {
                for share in [0.03, 0.3, 0.5, 0.8, 0.97] {
                    let at = stroke.from + (stroke.to - stroke.from) * share;
                    let before =
                        |sheet: &&Sheet| height(sheet, at.x, at.y).is_some_and(|z| z > at.z + 1e-4);
                    let before = seen.planes.iter().flatten().find(before);
                    assert!(before.is_none(), "{stroke:?} is behind {before:?}");
                }
            }
        }
    }

    #[test]
    fn a_line_behind_a_square_is_seen_on_both_sides_of_it() {
        let corner = |x, y| Vec3::new(x, y, 1.0);
        let square = Sheet {
            corners: vec![corner(1.0, 0.0), corner(3.0, 0.0), corner(3.0, 2.0), corner(1.0, 2.0)],
            normal: Vec3::UP,
            solid: 0,
            place: None,
        };
        let line = |z| Stroke {
            from: Vec3::new(0.0, 1.0, z),
            to: Vec3::new(4.0, 1.0, z),
            solid: 1,
            place: None,
        };
        let seen = |z| {
            let strokes = uncovered(&line(z), &[Screen::of(&square)]);
            strokes
                .iter()
                .map(|s| [s.from.x, s.to.x].map(|x| (x * 1e3).round() / 1e3))
                .collect::<Vec<_>>()
        };
        assert_eq!(seen(0.0), [[0.0, 1.0], [3.0, 4.0]]);
        assert_eq!(seen(1.0), [[0.0, 4.0]], "in the plane");
        assert_eq!(seen(2.0), [[0.0, 4.0]]);
    }
}
