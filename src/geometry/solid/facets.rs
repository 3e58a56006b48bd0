//! The solid in flat facets, to a tolerance.
//!
//! Every face is a strip of panels of four corners between two rows of points. Rows are shared by
//! the faces that meet in them, so that the facets close by their construction.

use std::f64::consts::{FRAC_PI_8, TAU};

use super::space::Vec3;
use super::stand::{Level, Stand};
use super::{Solid, check};
use crate::ring::FlankSide;

/// What a panel is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Top, back, bore or rim of the web.
    Web,
    /// The tip face of a dog.
    Tip,
    /// A flank of a dog.
    Flank(FlankSide),
    /// The inner or the outer end of a dog.
    End,
}

/// Four corners, counter-clockwise seen from outside. On the cylinders of undercut dogs they need not
/// lie in one plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Panel {
    /// Places of the corners in [`Facets::points`].
    pub corners: [usize; 4],
    /// Whether the side from each corner to the next is an edge of the solid, not only a seam.
    pub edges: [bool; 4],
    /// What it is part of.
    pub kind: Kind,
    /// The place of the dog it is part of, from 0; `None` for the web.
    pub place: Option<usize>,
}

/// Three corners, counter-clockwise seen from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Triangle {
    /// Places of the corners in [`Facets::points`].
    pub corners: [usize; 3],
    /// Whether the side from each corner to the next is an edge of the solid, not only a seam.
    pub edges: [bool; 3],
    /// What it is part of.
    pub kind: Kind,
    /// The place of the dog it is part of, from 0; none for the web.
    pub place: Option<usize>,
}

/// A closed surface of flat facets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Facets {
    /// The points, mm; all lie on the solid.
    pub points: Vec<Vec3>,
    /// The panels.
    pub panels: Vec<Panel>,
}

impl Solid {
    /// The solid in facets whose chords stay within `tolerance_mm` of the cylinders.
    ///
    /// Flat faces are exact except for their round edges. Steps are between a thousandth of a radian
    /// and π/8, so that the tolerance is kept from 1.25e-7 of the rim's radius on; beside edges that
    /// come near to lying along the bore they are finer than the tolerance asks for.
    pub fn facets(&self, tolerance_mm: f64) -> Facets {
        let layer = self.step(tolerance_mm);
        // Chords of the web and of tips turn less than the steepest edge is short of the bore's circle,
        // or panels beside it would fold over. Between layers there is nothing to fold.
        let step = layer.min(check::short_of_bore(&self.ring, &self.stands));
        let mut builder = Builder { solid: self, step, layer, out: Facets::default() };
        builder.build();
        builder.out
    }

    /// The largest step in radians whose chord stays within the tolerance.
    fn step(&self, tolerance_mm: f64) -> f64 {
        // A chord of the rim must not reach the dogs, nor one between dogs their inner ends.
        let narrowest = (self.rim_mm() - self.ring.outer_radius_mm)
            .min(self.ring.outer_radius_mm - self.ring.inner_radius_mm);
        let within = tolerance_mm.max(0.0).min(narrowest / 2.0) / self.rim_mm();
        let step = 2.0 * libm::acos((1.0 - within).max(0.0));
        step.clamp(1e-3, FRAC_PI_8)
    }
}

impl Facets {
    /// The panels, each parted along its shorter diagonal.
    pub fn triangles(&self) -> impl Iterator<Item = Triangle> + '_ {
        self.panels.iter().flat_map(|panel| self.parted(panel))
    }

    /// The two halves of a panel.
    pub fn parted(&self, panel: &Panel) -> [Triangle; 2] {
        let [a, b, c, d] = panel.corners.map(|corner| self.points[corner]);
        let first = usize::from((d - b).length() < (c - a).length());
        [first, first + 2].map(|from| {
            let corner = |by: usize| panel.corners[(from + by) % 4];
            let edge = |by: usize| panel.edges[(from + by) % 4];
            Triangle {
                corners: [corner(0), corner(1), corner(2)],
                edges: [edge(0), edge(1), false],
                kind: panel.kind,
                place: panel.place,
            }
        })
    }
}

/// Points in a row.
type Row = Vec<usize>;

/// Which sides of a strip are edges of the solid: at its start and end across, and along its left and
/// its right row, by panel.
struct Edges<'a> {
    across: bool,
    left: &'a dyn Fn(usize) -> bool,
    right: &'a dyn Fn(usize) -> bool,
}

/// The columns of the web's top: directions at the inner and the outer ends of the dogs, and from
/// where to where each dog is.
#[derive(Default)]
struct Columns {
    inner: Vec<f64>,
    outer: Vec<f64>,
    /// First and last column of each dog.
    dogs: Vec<[usize; 2]>,
}

impl Columns {
    /// Adds columns from one corner up to, but not including, the next.
    fn add(&mut self, inner: [f64; 2], outer: [f64; 2], parts: usize) {
        self.inner.extend(parted(inner, parts).take(parts));
        self.outer.extend(parted(outer, parts).take(parts));
    }
}

/// From one number to another in equal parts, both ends included.
fn parted([from, to]: [f64; 2], parts: usize) -> impl Iterator<Item = f64> {
    (0..=parts)
        .map(move |part| if part == parts { to } else { from + (to - from) * share(part, parts) })
}

/// How many steps the widest of some ranges of directions takes, at least one.
fn parts<const N: usize>(ranges: [[f64; 2]; N], step: f64) -> usize {
    let widest = ranges.into_iter().map(|[from, to]| (to - from).abs()).fold(0.0, f64::max);
    // Ranges are at most a turn and steps at least a thousandth, so that it stays small.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let parts = (widest / step).ceil() as usize;
    parts.max(1)
}

/// A fraction. Both numbers are far below the limit to which a float counts exactly.
#[expect(clippy::cast_precision_loss)]
fn share(part: usize, parts: usize) -> f64 {
    part as f64 / parts as f64
}

struct Builder<'a> {
    solid: &'a Solid,
    /// How far a panel may turn from one column to the next, radians.
    step: f64,
    /// How far a corner may turn from one layer to the next, radians.
    layer: f64,
    out: Facets,
}

impl Builder<'_> {
    fn build(&mut self) {
        let solid = self.solid;
        let columns = self.columns();
        let back = -solid.body.thickness_mm;
        let [bore, bore_back] =
            [0.0, back].map(|z| self.circle(solid.bore_mm(), &columns.inner, z));
        let [rim, rim_back] = [0.0, back].map(|z| self.circle(solid.rim_mm(), &columns.outer, z));
        let inner = self.circle(solid.radius(0), &columns.inner, 0.0);
        let outer = self.circle(solid.radius(1), &columns.outer, 0.0);
        let (always, never) = (&|_: usize| true, &|_: usize| false);
        let dog = |at: usize| columns.dogs.iter().any(|&[first, last]| (first..last).contains(&at));
        let across = false;
        self.web(&bore, &inner, &Edges { across, left: always, right: &dog });
        self.web(&outer, &rim, &Edges { across, left: &dog, right: always });
        for [left, right] in [[&rim, &rim_back], [&rim_back, &bore_back], [&bore_back, &bore]] {
            self.web(left, right, &Edges { across, left: always, right: always });
        }
        for (at, &[first, last]) in columns.dogs.iter().enumerate() {
            // The last gap ends where the first dog begins.
            let next = columns.dogs.get(at + 1).map_or(inner.len() - 1, |next| next[0]);
            let gap = [&inner, &outer].map(|row| row[last..=next].to_vec());
            self.web(&gap[0], &gap[1], &Edges { across: true, left: never, right: never });
            let foot = [&inner, &outer].map(|row| row[first..=last].to_vec());
            self.dog(&solid.stands[at], foot);
        }
    }

    fn columns(&self) -> Columns {
        let stands = &self.solid.stands;
        let mut columns = Columns::default();
        for (at, stand) in stands.iter().enumerate() {
            let first = columns.inner.len();
            let Level { inner, outer } = stand.root;
            let wide = [inner, outer, stand.tip.inner, stand.tip.outer];
            columns.add(inner, outer, parts(wide, self.step));
            columns.dogs.push([first, columns.inner.len()]);
            let (next, turn) = stands.get(at + 1).map_or((&stands[0], TAU), |next| (next, 0.0));
            let [inner, outer] =
                [[inner[1], next.root.inner[0] + turn], [outer[1], next.root.outer[0] + turn]];
            columns.add(inner, outer, parts([inner, outer], self.step));
        }
        columns
    }

    /// Points on a circle. The first is repeated at the end, to close it.
    fn circle(&mut self, radius: f64, angles: &[f64], z: f64) -> Row {
        let mut row = self.row(radius, angles.iter().copied(), z);
        row.extend(row.first().copied());
        row
    }

    fn row(&mut self, radius: f64, angles: impl Iterator<Item = f64>, z: f64) -> Row {
        let first = self.out.points.len();
        self.out.points.extend(angles.map(|angle| Vec3::polar(radius, angle, z)));
        (first..self.out.points.len()).collect()
    }

    fn web(&mut self, left: &[usize], right: &[usize], edges: &Edges) {
        self.strip(left, right, edges, Kind::Web, None);
    }

    /// Panels between two rows that run counter-clockwise round the axis. Seen from outside, the
    /// first row lies to the left of the second looking along them.
    fn strip(
        &mut self,
        left: &[usize],
        right: &[usize],
        edges: &Edges,
        kind: Kind,
        place: Option<usize>,
    ) {
        let last = left.len() - 1;
        for at in 0..last {
            let corners = [left[at], right[at], right[at + 1], left[at + 1]];
            let (start, end) = (edges.across && at == 0, edges.across && at + 1 == last);
            let edges = [start, (edges.right)(at), end, (edges.left)(at)];
            self.out.panels.push(Panel { corners, edges, kind, place });
        }
    }

    /// A dog on the rows of its root at the inner and the outer end.
    fn dog(&mut self, stand: &Stand, foot: [Row; 2]) {
        let place = Some(stand.dog.place);
        let layers = self.layers(stand);
        let mut below = foot;
        for layer in 1..=layers {
            let above = self.layer(stand, below[0].len() - 1, layer, layers);
            let (root, tip) = (layer == 1, layer == layers);
            self.ends(&below, &above, [root, tip], place);
            self.flanks(&below, &above, [root, tip], place);
            below = above;
        }
        let always = &|_: usize| true;
        let edges = Edges { across: true, left: always, right: always };
        self.strip(&below[0], &below[1], &edges, Kind::Tip, place);
    }

    /// The number of layers for which no corner moves by more than a step from one to the next.
    fn layers(&self, stand: &Stand) -> usize {
        let [root, tip] = [&stand.root, &stand.tip].map(Level::ends);
        let moves = [0, 1].map(|end| [0, 1].map(|flank| [root[end][flank], tip[end][flank]]));
        let [inner, outer] = moves.map(|flanks| parts(flanks, self.layer));
        inner.max(outer)
    }

    /// The rows of a dog at the top of a layer.
    fn layer(&mut self, stand: &Stand, columns: usize, layer: usize, layers: usize) -> [Row; 2] {
        let z = stand.dog.height_mm * share(layer, layers);
        // Dogs are checked at several heights before they become part of a solid, see `check`.
        let level = if layer == layers {
            stand.tip
        } else {
            stand.at(&self.solid.ring, z).unwrap_or(stand.tip)
        };
        [0, 1].map(|end| self.row(self.solid.radius(end), parted(level.ends()[end], columns), z))
    }

    fn ends(&mut self, below: &[Row; 2], above: &[Row; 2], at: [bool; 2], place: Option<usize>) {
        let [root, tip] = at;
        let (root, tip) = (&|_: usize| root, &|_: usize| tip);
        let inside = Edges { across: true, left: root, right: tip };
        self.strip(&below[0], &above[0], &inside, Kind::End, place);
        let outside = Edges { across: true, left: tip, right: root };
        self.strip(&above[1], &below[1], &outside, Kind::End, place);
    }

    fn flanks(&mut self, below: &[Row; 2], above: &[Row; 2], at: [bool; 2], place: Option<usize>) {
        let [root, tip] = at;
        for side in FlankSide::BOTH {
            let corner = |row: &Row| {
                let at = if side == FlankSide::Drive { 0 } else { row.len() - 1 };
                row[at]
            };
            // Seen from outside, the drive flank has its inner end on the left.
            let [left, right] = if side == FlankSide::Drive { [0, 1] } else { [1, 0] };
            let corners = [&below[left], &below[right], &above[right], &above[left]].map(corner);
            let edges = [root, true, tip, true];
            self.out.panels.push(Panel { corners, edges, kind: Kind::Flank(side), place });
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::*;
    use crate::ring::{EvenRing, PerFlank, PlanForm};
    use crate::solid::{Body, SolidError};

    /// The solid of a ring whose dogs at these places are cut down to heights in mm, or removed.
    fn solid(form: PlanForm, even: EvenRing, cuts: &[(usize, f64)]) -> Solid {
        let mut ring = EvenRing { form, ..even }.to_ring();
        cuts.iter().for_each(|&(place, to_mm)| ring.shorten(|at| at == place, to_mm));
        Solid::of(&ring, &Body::default()).unwrap()
    }

    fn leaning(drive: f64, coast: f64) -> EvenRing<'static> {
        EvenRing { back_cut_deg: PerFlank { drive, coast }, ..EvenRing::default() }
    }

    fn rings() -> Vec<Solid> {
        use PlanForm::{Parallel, Radial};
        let mixed = EvenRing { heights: &[1.0, 0.5, 0.8], ..leaning(4.0, 0.0) };
        let one = EvenRing { count: 1, tip_width_deg: 300.0, ..leaning(5.0, -3.0) };
        let many = EvenRing { count: 64, tip_width_deg: 2.6, ..leaning(1.0, 1.0) };
        vec![
            solid(Radial, leaning(0.0, 0.0), &[]),
            solid(Radial, leaning(10.0, 8.0), &[]),
            solid(Radial, leaning(-5.0, -5.0), &[]),
            solid(Radial, leaning(-5.0, 10.0), &[(0, 0.0), (2, 2.0)]),
            solid(Parallel, leaning(0.0, 0.0), &[]),
            solid(Parallel, leaning(6.0, 2.0), &[(1, 1.5)]),
            solid(Radial, mixed, &[]),
            solid(Radial, one, &[]),
            solid(Radial, many, &[]),
        ]
    }

    /// Every side of the triangles by its ends, with its edge flag and the normal beside it.
    fn sides(facets: &Facets) -> HashMap<[usize; 2], (bool, Vec3)> {
        let mut sides = HashMap::new();
        for triangle in facets.triangles() {
            let [a, b, c] = triangle.corners.map(|corner| facets.points[corner]);
            let normal = (b - a).cross(c - a).unit();
            for at in 0..3 {
                let side = [triangle.corners[at], triangle.corners[(at + 1) % 3]];
                let before = sides.insert(side, (triangle.edges[at], normal));
                assert!(before.is_none(), "{side:?} is gone along twice the same way");
            }
        }
        sides
    }

    #[test]
    fn facets_close_and_have_one_hole() {
        for solid in rings() {
            for tolerance in [1.0, 0.1, 0.004] {
                let facets = solid.facets(tolerance);
                let sides = sides(&facets);
                assert!(sides.keys().all(|&[from, to]| sides.contains_key(&[to, from])));
                let (edges, faces) = (sides.len() / 2, facets.triangles().count());
                assert_eq!(facets.points.len() + faces, edges, "Euler: a ring has none left over");
                assert!(
                    facets.triangles().all(|t| t.corners.iter().all(|&c| c < facets.points.len()))
                );
            }
        }
    }

    #[test]
    fn edges_are_where_the_surface_turns_a_corner() {
        for solid in rings() {
            let facets = solid.facets(0.01);
            let sides = sides(&facets);
            for (&[from, to], (edge, normal)) in &sides {
                let (edge_too, beyond) = sides[&[to, from]];
                assert_eq!(*edge, edge_too);
                assert_eq!(*edge, normal.dot(beyond) < 0.8, "{from} to {to}");
            }
        }
    }

    #[test]
    fn the_volume_comes_as_near_as_the_tolerance_lets_it() {
        for solid in rings() {
            let exact = solid.metal().volume_mm3;
            let mut last = f64::INFINITY;
            for tolerance in [0.3, 0.1, 0.03, 0.01, 0.003] {
                let facets = solid.facets(tolerance);
                let cone = |t: Triangle| {
                    let [a, b, c] = t.corners.map(|corner| facets.points[corner]);
                    a.dot(b.cross(c)) / 6.0
                };
                let error = (facets.triangles().map(cone).sum::<f64>() - exact).abs();
                let radii = solid.ring.inner_radius_mm + solid.ring.outer_radius_mm;
                let round = TAU
                    * ((solid.bore_mm() + solid.rim_mm()) * solid.thickness_mm()
                        + radii * solid.tallest_mm());
                assert!(error < tolerance * round, "{error} at {tolerance}");
                assert!(error <= last, "{error} is worse than {last}");
                last = error;
            }
        }
    }

    #[test]
    fn points_lie_on_the_solid() {
        for solid in rings() {
            let radii = [solid.bore_mm(), solid.rim_mm(), solid.radius(0), solid.radius(1)];
            for point in solid.facets(0.05).points {
                let radius = libm::hypot(point.x, point.y);
                assert!(radii.iter().any(|r| (r - radius).abs() < 1e-12), "{point:?}");
                assert!((-solid.thickness_mm()..=solid.tallest_mm()).contains(&point.z));
            }
        }
    }

    /// Flanks of parallel dogs are chords of the bore: the nearer to its width, the finer the columns.
    #[test]
    fn dogs_nearly_as_wide_as_the_bore_take_few_facets_or_are_told() {
        // Half of Ø44 is 26 mm · sin(w/2) at w = 115.592°.
        for tip_width_deg in [110.0, 115.0, 115.4, 115.5, 115.58, 115.591] {
            let (form, height_mm) = (PlanForm::Parallel, 20.0);
            let even = EvenRing { form, count: 1, tip_width_deg, height_mm, ..leaning(3.0, 15.0) };
            match Solid::of(&even.to_ring(), &Body::default()) {
                Ok(solid) => {
                    let panels = solid.facets(0.05).panels.len();
                    assert!(panels < 10_000, "{tip_width_deg}: {panels}");
                }
                Err(error) => {
                    let along = matches!(error, SolidError::FlankAlongBore { .. });
                    assert!(along, "{tip_width_deg}: {error}");
                    assert!(tip_width_deg > 115.5);
                }
            }
        }
    }

    #[test]
    fn any_tolerance_gives_facets() {
        let solid = &rings()[1];
        for tolerance in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0, 1e-300, 1e300] {
            let panels = solid.facets(tolerance).panels.len();
            assert!((100..400_000).contains(&panels), "{tolerance}: {panels}");
        }
    }
}
