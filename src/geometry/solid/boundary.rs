//! The exact boundary of the solid: faces on planes and cylinders, bounded by lines, arcs and ellipses.

use std::f64::consts::{FRAC_PI_2, PI};

use super::Solid;
use super::space::Vec3;
use super::stand::{Level, Stand, middle};

/// A corner edge this close to the cylinder of its end counts as straight, mm.
const STRAIGHT_MM: f64 = 1e-9;

/// What an edge runs along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    /// A straight line.
    Line,
    /// A circle about the axis, counter-clockwise seen from +z.
    Circle {
        /// Radius, mm.
        radius: f64,
        /// Height above the web, mm.
        z: f64,
    },
    /// An ellipse about a point of the axis, where a leaning flank cuts a cylinder.
    Ellipse {
        /// Height of its centre above the web, mm.
        z: f64,
        /// Its normal; seen from there it runs counter-clockwise.
        normal: Vec3,
        /// Direction of its larger half axis.
        along: Vec3,
        /// The larger half axis, mm.
        major: f64,
        /// The smaller half axis, mm: the radius of the cylinder.
        minor: f64,
    },
}

/// A piece of a curve between two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Place of its start in [`Boundary::points`].
    pub from: usize,
    /// Place of its end.
    pub to: usize,
    /// What it runs along, from start to end.
    pub curve: Curve,
}

/// What a face lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// A plane.
    Plane {
        /// A point of it.
        at: Vec3,
        /// Its normal, out of the metal.
        normal: Vec3,
        /// A direction in it.
        along: Vec3,
    },
    /// A cylinder about the axis.
    Cylinder {
        /// Radius, mm.
        radius: f64,
        /// Direction in radians that the face keeps clear of.
        clear: f64,
        /// Whether the metal is inside.
        solid: bool,
    },
}

/// A face.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// What it lies on.
    pub surface: Surface,
    /// Its bounds, the outer one first: edges by their place in [`Boundary::edges`], and whether each
    /// is gone along forward. Seen from outside the metal, the face lies to the left.
    pub bounds: Vec<Vec<(usize, bool)>>,
}

/// The boundary of a solid: one closed shell.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Boundary {
    /// The corners, mm.
    pub points: Vec<Vec3>,
    /// The edges; each bounds two faces, once forward and once backward.
    pub edges: Vec<Edge>,
    /// The faces.
    pub faces: Vec<Face>,
}

impl Solid {
    /// Its exact boundary. The round faces of the web come in two halves, so that no face closes on
    /// itself.
    ///
    /// An edge that departs less than 1e-9 mm from a line is one.
    pub fn boundary(&self) -> Boundary {
        let mut builder = Builder { solid: self, out: Boundary::default() };
        builder.build();
        builder.out
    }
}

/// A circle in two halves, from direction 0 to π and on.
struct Halves {
    points: [usize; 2],
    arcs: [usize; 2],
}

/// The four edges of a section of a dog.
struct Section {
    /// Corners at the inner and the outer end, drive first.
    points: [[usize; 2]; 2],
    /// Drive and coast, from the inner to the outer end.
    flanks: [usize; 2],
    /// Inner and outer end, from drive to coast.
    ends: [usize; 2],
}

struct Builder<'a> {
    solid: &'a Solid,
    out: Boundary,
}

impl Builder<'_> {
    fn build(&mut self) {
        let solid = self.solid;
        let back = -solid.body.thickness_mm;
        let [bore, bore_back] = [0.0, back].map(|z| self.halves(solid.bore_mm(), z));
        let [rim, rim_back] = [0.0, back].map(|z| self.halves(solid.rim_mm(), z));
        self.level(-Vec3::UP, back, vec![backward(&rim_back.arcs), forward(&bore_back.arcs)]);
        self.round(&rim_back, &rim, solid.rim_mm(), true);
        self.round(&bore_back, &bore, solid.bore_mm(), false);
        let mut top = vec![forward(&rim.arcs), backward(&bore.arcs)];
        for stand in &solid.stands {
            top.push(self.dog(stand));
        }
        self.level(Vec3::UP, 0.0, top);
    }

    fn point(&mut self, at: Vec3) -> usize {
        self.out.points.push(at);
        self.out.points.len() - 1
    }

    fn edge(&mut self, [from, to]: [usize; 2], curve: Curve) -> usize {
        self.out.edges.push(Edge { from, to, curve });
        self.out.edges.len() - 1
    }

    fn face(&mut self, surface: Surface, bounds: Vec<Vec<(usize, bool)>>) {
        self.out.faces.push(Face { surface, bounds });
    }

    /// A face square to the axis.
    fn level(&mut self, normal: Vec3, z: f64, bounds: Vec<Vec<(usize, bool)>>) {
        let (at, along) = (Vec3::new(0.0, 0.0, z), Vec3::new(1.0, 0.0, 0.0));
        self.face(Surface::Plane { at, normal, along }, bounds);
    }

    // ---- the web ----

    fn halves(&mut self, radius: f64, z: f64) -> Halves {
        let points = [0.0, PI].map(|angle| self.point(Vec3::polar(radius, angle, z)));
        let [a, b] = points;
        let arcs = [[a, b], [b, a]].map(|ends| self.edge(ends, Curve::Circle { radius, z }));
        Halves { points, arcs }
    }

    /// Both halves of bore or rim.
    fn round(&mut self, below: &Halves, above: &Halves, radius: f64, solid: bool) {
        let up = [0, 1].map(|at| self.edge([below.points[at], above.points[at]], Curve::Line));
        for half in [0, 1] {
            let mut bound = vec![
                (below.arcs[half], true),
                (up[1 - half], true),
                (above.arcs[half], false),
                (up[half], false),
            ];
            if !solid {
                turn_round(&mut bound);
            }
            let clear = if half == 0 { -FRAC_PI_2 } else { FRAC_PI_2 };
            self.face(Surface::Cylinder { radius, clear, solid }, vec![bound]);
        }
    }

    // ---- the dogs ----

    /// All faces of a dog. The answer is the bound it leaves in the top of the web.
    fn dog(&mut self, stand: &Stand) -> Vec<(usize, bool)> {
        let root = self.section(&stand.root, 0.0);
        let tip = self.section(&stand.tip, stand.dog.height_mm);
        self.level(Vec3::UP, stand.dog.height_mm, vec![around(&tip)]);
        let normals = [0, 1].map(|flank| self.normal(&root, &tip, flank));
        let levels = [stand.root.ends(), stand.tip.ends()];
        let rises = [0, 1].map(|flank| {
            [0, 1].map(|end| {
                let turn = levels[1][end][flank] - levels[0][end][flank];
                self.rise(
                    [root.points[end][flank], tip.points[end][flank]],
                    end,
                    turn,
                    normals[flank],
                )
            })
        });
        for flank in [0, 1] {
            self.flank(&root, &tip, flank, rises[flank], normals[flank]);
        }
        for end in [0, 1] {
            let clear = middle(levels[0][end]) + PI;
            self.end(&root, &tip, end, [rises[0][end], rises[1][end]], clear);
        }
        let mut hole = around(&root);
        turn_round(&mut hole);
        hole
    }

    fn section(&mut self, level: &Level, z: f64) -> Section {
        let points = [0, 1].map(|end| {
            level.ends()[end].map(|angle| self.point(Vec3::polar(self.solid.radius(end), angle, z)))
        });
        let flanks =
            [0, 1].map(|flank| self.edge([points[0][flank], points[1][flank]], Curve::Line));
        let ends = [0, 1].map(|end| {
            let radius = self.solid.radius(end);
            self.edge(points[end], Curve::Circle { radius, z })
        });
        Section { points, flanks, ends }
    }

    /// The normal of a flank, out of the metal.
    fn normal(&self, root: &Section, tip: &Section, flank: usize) -> Vec3 {
        let at = |section: &Section, end: usize| self.out.points[section.points[end][flank]];
        let outward = (at(tip, 1) - at(root, 0)).cross(at(tip, 0) - at(root, 1)).unit();
        if flank == 0 { outward } else { -outward }
    }

    /// The edge from root to tip where a flank meets an end, round which it turns by so much.
    fn rise(&mut self, ends: [usize; 2], end: usize, turn: f64, flank: Vec3) -> usize {
        let radius = self.solid.radius(end);
        let straight = radius * turn * turn / 8.0 < STRAIGHT_MM;
        let curve = if straight { Curve::Line } else { self.ellipse(ends[0], radius, turn, flank) };
        self.edge(ends, curve)
    }

    /// The ellipse through a point in which a plane cuts a cylinder.
    fn ellipse(&self, through: usize, radius: f64, turn: f64, flank: Vec3) -> Curve {
        let level = libm::hypot(flank.x, flank.y);
        let along = Vec3::new(flank.x / level * flank.z, flank.y / level * flank.z, -level);
        // It has to run the way the edge goes, which is less than half a turn.
        let counter_clockwise = turn > 0.0;
        Curve::Ellipse {
            z: flank.dot(self.out.points[through]) / flank.z,
            normal: if counter_clockwise == (flank.z > 0.0) { flank } else { -flank },
            along,
            major: radius / flank.z.abs(),
            minor: radius,
        }
    }

    fn flank(
        &mut self,
        root: &Section,
        tip: &Section,
        flank: usize,
        rise: [usize; 2],
        normal: Vec3,
    ) {
        let mut bound = vec![
            (root.flanks[flank], true),
            (rise[1], true),
            (tip.flanks[flank], false),
            (rise[0], false),
        ];
        if flank == 1 {
            turn_round(&mut bound);
        }
        let [at, to] = [0, 1].map(|end| self.out.points[root.points[end][flank]]);
        self.face(Surface::Plane { at, normal, along: (to - at).unit() }, vec![bound]);
    }

    fn end(&mut self, root: &Section, tip: &Section, end: usize, rise: [usize; 2], clear: f64) {
        let mut bound =
            vec![(root.ends[end], true), (rise[1], true), (tip.ends[end], false), (rise[0], false)];
        if end == 0 {
            turn_round(&mut bound);
        }
        let surface = Surface::Cylinder { radius: self.solid.radius(end), clear, solid: end == 1 };
        self.face(surface, vec![bound]);
    }
}

/// Counter-clockwise round a section.
fn around(section: &Section) -> Vec<(usize, bool)> {
    vec![
        (section.flanks[0], true),
        (section.ends[1], true),
        (section.flanks[1], false),
        (section.ends[0], false),
    ]
}

fn forward(arcs: &[usize; 2]) -> Vec<(usize, bool)> {
    arcs.iter().map(|&arc| (arc, true)).collect()
}

fn backward(arcs: &[usize; 2]) -> Vec<(usize, bool)> {
    let mut bound = forward(arcs);
    turn_round(&mut bound);
    bound
}

/// The same bound the other way round.
fn turn_round(bound: &mut [(usize, bool)]) {
    bound.reverse();
    bound.iter_mut().for_each(|(_, forward)| *forward = !*forward);
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;
    use crate::ring::{EvenRing, PerFlank};
    use crate::solid::Body;

    fn boundary(back_cut_deg: f64, count: u32) -> Boundary {
        let back_cut_deg = PerFlank::both(back_cut_deg);
        let ring = EvenRing { count, back_cut_deg, ..EvenRing::default() }.to_ring();
        Solid::of(&ring, &Body::default()).unwrap().boundary()
    }

    #[test]
    fn each_edge_is_gone_along_once_each_way_and_bounds_close() {
        for (back_cut, count) in [(0.0, 6), (5.0, 6), (-5.0, 3), (2.0, 1)] {
            let boundary = boundary(back_cut, count);
            let uses = boundary.faces.iter().flat_map(|face| &face.bounds).flatten();
            let uses: Vec<_> = uses.copied().collect();
            assert_eq!(uses.len(), 2 * boundary.edges.len());
            assert_eq!(uses.iter().collect::<HashSet<_>>().len(), uses.len());
            for bound in boundary.faces.iter().flat_map(|face| &face.bounds) {
                let ends = |&(edge, forward): &(usize, bool)| {
                    let Edge { from, to, .. } = boundary.edges[edge];
                    if forward { [from, to] } else { [to, from] }
                };
                let next = bound.iter().cycle().skip(1);
                assert!(bound.iter().zip(next).all(|(this, next)| ends(this)[1] == ends(next)[0]));
            }
            // Euler and Poincaré for a body with one hole through it.
            let bounds: usize = boundary.faces.iter().map(|face| face.bounds.len()).sum();
            let (points, edges) = (boundary.points.len(), boundary.edges.len());
            assert_eq!(points + 2 * boundary.faces.len(), edges + bounds);
        }
    }

    /// Corners of a bound in their order.
    fn corners(boundary: &Boundary, bound: &[(usize, bool)]) -> Vec<Vec3> {
        let start = |&(edge, forward): &(usize, bool)| {
            let edge = &boundary.edges[edge];
            boundary.points[if forward { edge.from } else { edge.to }]
        };
        bound.iter().map(start).collect()
    }

    #[test]
    fn normals_point_out_of_the_metal_and_bounds_go_round_them_to_the_left() {
        for (back_cut, count) in [(0.0, 6), (6.0, 6), (-5.0, 3)] {
            let boundary = boundary(back_cut, count);
            let mut flanks = 0;
            for face in &boundary.faces {
                let Surface::Plane { at, normal, along } = face.surface else { continue };
                assert!(
                    (normal.dot(normal) - 1.0).abs() < 1e-12 && along.dot(normal).abs() < 1e-12
                );
                // The web is square to the axis; its bounds are circles, with two corners each.
                let corners = corners(&boundary, &face.bounds[0]);
                let [a, b, c, d] = corners[..] else { continue };
                assert!(corners.iter().all(|p| (*p - at).dot(normal).abs() < 1e-9));
                assert!((c - a).cross(d - b).dot(normal) > 0.0, "{face:?}");
                let up = normal.dot(Vec3::UP);
                if up > 0.9 {
                    continue;
                }
                // Undercut looks down, by the sine of its angle.
                let sine = libm::sin(back_cut.to_radians());
                assert!((up + sine).abs() < 0.02 && up * sine <= 0.0, "{back_cut}: {normal:?}");
                // Out of the metal: away from the middle of the dog that the flank belongs to.
                let along_circle = Vec3::UP.cross(at).unit().dot(normal);
                let inner = boundary.faces.iter().filter_map(|f| top_middle(&boundary, f));
                let near = |p: &Vec3| (*p - at).dot(*p - at);
                let middle = inner.min_by(|p, q| near(p).total_cmp(&near(q))).unwrap();
                let to_flank = Vec3::UP.cross(at).unit().dot(at - middle);
                assert!(along_circle * to_flank > 0.0, "{normal:?} at {at:?}, middle {middle:?}");
                flanks += 1;
            }
            assert_eq!(flanks, 2 * count);
        }
    }

    /// The middle of the tip of a dog.
    fn top_middle(boundary: &Boundary, face: &Face) -> Option<Vec3> {
        let Surface::Plane { at, normal, .. } = face.surface else { return None };
        let corners = corners(boundary, &face.bounds[0]);
        let is_tip = normal.z > 0.9 && at.z > 0.0 && corners.len() == 4;
        is_tip.then(|| corners.iter().fold(Vec3::new(0.0, 0.0, 0.0), |sum, p| sum + *p * 0.25))
    }

    #[test]
    fn a_round_face_lies_on_the_other_side_of_the_axis_from_its_seam() {
        for (back_cut, count) in [(0.0, 6), (5.0, 3), (-5.0, 1)] {
            let boundary = boundary(back_cut, count);
            let mut round = 0;
            for face in &boundary.faces {
                let Surface::Cylinder { radius, clear, .. } = face.surface else { continue };
                let away = Vec3::polar(1.0, clear, 0.0);
                for &(edge, _) in &face.bounds[0] {
                    let [from, to] = {
                        let Edge { from, to, .. } = boundary.edges[edge];
                        [from, to].map(|at| boundary.points[at])
                    };
                    let turn = |p: Vec3| libm::atan2(p.y, p.x);
                    let sweep = (turn(to) - turn(from)).rem_euclid(2.0 * PI);
                    let middle = Vec3::polar(radius, turn(from) + sweep / 2.0, from.z);
                    let is_arc = matches!(boundary.edges[edge].curve, Curve::Circle { .. });
                    let points = [Some(from), Some(to), is_arc.then_some(middle)];
                    for point in points.into_iter().flatten() {
                        assert!((libm::hypot(point.x, point.y) - radius).abs() < 1e-9);
                        assert!(point.dot(away) < 1e-9, "{point:?} beside the seam {clear}");
                    }
                }
                round += 1;
            }
            assert_eq!(round, 4 + 2 * count);
        }
    }

    #[test]
    fn ends_of_an_ellipse_lie_on_it_and_the_edge_is_its_short_way() {
        let kinds = |back_cut| {
            let boundary = boundary(back_cut, 6);
            let ellipse = |edge: &&Edge| matches!(edge.curve, Curve::Ellipse { .. });
            boundary.edges.iter().filter(ellipse).count()
        };
        assert_eq!([kinds(0.0), kinds(1e-6), kinds(0.01), kinds(-5.0)], [0, 0, 24, 24]);
        for back_cut in [0.01, 5.0, -5.0, 10.0] {
            let boundary = boundary(back_cut, 6);
            for edge in &boundary.edges {
                let Curve::Ellipse { z, normal, along, major, minor } = edge.curve else {
                    continue;
                };
                let across = normal.cross(along);
                let turn = [edge.from, edge.to].map(|point| {
                    let from_centre = boundary.points[point] - Vec3::UP * z;
                    let (cos, sin) =
                        (from_centre.dot(along) / major, from_centre.dot(across) / minor);
                    assert!((libm::hypot(cos, sin) - 1.0).abs() < 1e-10);
                    assert!(from_centre.dot(normal).abs() < 1e-9);
                    libm::atan2(sin, cos)
                });
                let turn = (turn[1] - turn[0]).rem_euclid(2.0 * PI);
                assert!(turn < 0.1, "{turn}");
            }
        }
    }
}
