//! Closed outlines of exact straight lines and arcs about the shaft axis, and their moments.

use std::f64::consts::FRAC_PI_2;

use super::dog::{Dog, FlankSide, PlanForm, Ring};
use crate::units::Angle;

/// A point in the plane of the ring, mm from the axis.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

impl Point {
    /// From its coordinates.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// From radius and angle in radians.
    pub fn polar(radius: f64, angle: f64) -> Self {
        Self { x: radius * libm::cos(angle), y: radius * libm::sin(angle) }
    }

    /// Distance from the origin.
    pub fn radius(self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// Direction from the origin in radians, `[−π, π]`.
    pub fn angle(self) -> f64 {
        libm::atan2(self.y, self.x)
    }

    /// Distance to another point.
    pub fn distance(self, other: Self) -> f64 {
        libm::hypot(self.x - other.x, self.y - other.y)
    }
}

/// One piece of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight line.
    Line {
        /// Start.
        from: Point,
        /// End.
        to: Point,
    },
    /// An arc about the axis; a negative sweep runs clockwise.
    Arc {
        /// Radius, mm.
        radius: f64,
        /// Direction of its start, radians.
        start: f64,
        /// How far it turns, radians.
        sweep: f64,
    },
}

impl Segment {
    /// Where it starts.
    pub fn from(&self) -> Point {
        match *self {
            Self::Line { from, .. } => from,
            Self::Arc { radius, start, .. } => Point::polar(radius, start),
        }
    }

    /// Where it ends.
    pub fn to(&self) -> Point {
        match *self {
            Self::Line { to, .. } => to,
            Self::Arc { radius, start, sweep } => Point::polar(radius, start + sweep),
        }
    }
}

/// A closed outline, counter-clockwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// The pieces; each starts where the one before ends.
    pub segments: Vec<Segment>,
}

/// Area and moments of an outline about the axis.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Area, mm².
    pub area: f64,
    /// First moment `∫x dA`, mm³.
    pub x: f64,
    /// First moment `∫y dA`, mm³.
    pub y: f64,
    /// Polar second moment `∫r² dA`, mm⁴.
    pub polar: f64,
}

impl Moments {
    /// Adds `other`, weighted.
    #[must_use]
    pub fn plus(self, other: Self, weight: f64) -> Self {
        Self {
            area: self.area + weight * other.area,
            x: self.x + weight * other.x,
            y: self.y + weight * other.y,
            polar: self.polar + weight * other.polar,
        }
    }
}

impl Outline {
    /// Exact moments by Green's theorem, piece by piece.
    pub fn moments(&self) -> Moments {
        self.segments.iter().fold(Moments::default(), |sum, s| sum.plus(s.moments(), 1.0))
    }
}

impl Segment {
    /// The piece's share of the boundary integrals: the moments of the sector or triangle that it
    /// spans with the axis, which is where every arc here has its centre.
    fn moments(&self) -> Moments {
        match *self {
            Self::Line { from: p, to: q } => {
                let cross = p.x * q.y - q.x * p.y;
                let squares = p.x * p.x + p.x * q.x + q.x * q.x + p.y * p.y + p.y * q.y + q.y * q.y;
                Moments {
                    area: cross / 2.0,
                    x: cross * (p.x + q.x) / 6.0,
                    y: cross * (p.y + q.y) / 6.0,
                    polar: cross * squares / 12.0,
                }
            }
            Self::Arc { radius: r, start, sweep } => {
                let end = start + sweep;
                let cube = r * r * r / 3.0;
                Moments {
                    area: r * r * sweep / 2.0,
                    x: cube * (libm::sin(end) - libm::sin(start)),
                    y: cube * (libm::cos(start) - libm::cos(end)),
                    polar: r * r * r * r * sweep / 4.0,
                }
            }
        }
    }
}

impl Ring {
    /// Section of a dog `depth_mm` below its tip plane, without edge break and root fillet.
    ///
    /// Flanks are planes: each is its tip edge moved square to itself by `depth·tan α`. `None`
    /// where the undercuts leave no metal at some radius.
    pub fn section(&self, dog: &Dog, depth_mm: f64) -> Option<Outline> {
        let (ri, ro) = (self.inner_radius_mm, self.outer_radius_mm);
        let at = |side, radius| self.flank_angle(dog, side, depth_mm, radius);
        let [drive_in, drive_out] = [ri, ro].map(|r| at(FlankSide::Drive, r));
        let [coast_in, coast_out] = [ri, ro].map(|r| at(FlankSide::Coast, r));
        let (drive_in, drive_out) = (drive_in?, drive_out?);
        let (coast_in, coast_out) = (coast_in?, coast_out?);
        if coast_in <= drive_in || coast_out <= drive_out {
            return None;
        }
        Some(Outline {
            segments: vec![
                Segment::Line { from: Point::polar(ri, drive_in), to: Point::polar(ro, drive_out) },
                Segment::Arc { radius: ro, start: drive_out, sweep: coast_out - drive_out },
                Segment::Line { from: Point::polar(ro, coast_out), to: Point::polar(ri, coast_in) },
                Segment::Arc { radius: ri, start: coast_in, sweep: drive_in - coast_in },
            ],
        })
    }

    /// Outline of the tip face to the sharp tip edges.
    pub fn tip_outline(&self, dog: &Dog) -> Option<Outline> {
        self.section(dog, 0.0)
    }

    /// Outline where the flanks meet the web, to the sharp corner.
    pub fn root_outline(&self, dog: &Dog) -> Option<Outline> {
        self.section(dog, dog.height_mm)
    }

    /// Outline of the area that a dog covers, seen from its tip: on each flank the tip edge or the root
    /// edge, whichever is further out.
    pub fn covered_outline(&self, dog: &Dog) -> Option<Outline> {
        let mut widest = *dog;
        for flank in FlankSide::BOTH {
            let leans_out = (dog.height_mm * dog.back_cut[flank].tan()).min(0.0);
            widest.lean_kept_mm[flank] += leans_out;
        }
        self.tip_outline(&widest)
    }

    /// Direction of a tip edge at the mean radius, from the datum, as the tip is now.
    pub fn tip_edge(&self, dog: &Dog, flank: FlankSide) -> Angle {
        let mean = self.mean_radius_mm();
        let rough = || {
            let half = self.half_width_at(dog, flank, mean).radians();
            dog.centre.radians() + flank.sign() * (half - dog.leaned_mm(flank, 0.0) / mean)
        };
        Angle::from_radians(self.flank_angle(dog, flank, 0.0, mean).unwrap_or_else(rough))
    }

    /// Direction in radians of the point at `radius_mm` on a flank, `depth_mm` below the tip.
    /// `None` where the flank does not reach that circle.
    fn flank_angle(
        &self,
        dog: &Dog,
        side: FlankSide,
        depth_mm: f64,
        radius_mm: f64,
    ) -> Option<f64> {
        let cut = dog.leaned_mm(side, depth_mm);
        // The tip edge's direction, and its distance from the axis on the dog's own side.
        let (direction, distance) = match self.form {
            PlanForm::Radial => {
                (dog.centre + self.half_width_at(dog, side, radius_mm) * side.sign(), -cut)
            }
            PlanForm::Parallel => {
                (dog.centre, self.half_chord_mm(dog) - dog.narrowed_mm[side] - cut)
            }
        };
        let ratio = side.sign() * distance / radius_mm;
        let turn = (ratio.abs() < 1.0).then(|| libm::asin(ratio))?;
        // Past a quarter turn the line would meet the circle behind the axis.
        (turn.abs() < FRAC_PI_2).then_some(direction.radians() + turn)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::EvenRing;

    /// A closed chain of straight lines.
    fn polygon(points: &[[f64; 2]]) -> Outline {
        let points: Vec<_> = points.iter().map(|[x, y]| Point::new(*x, *y)).collect();
        let next = points.iter().cycle().skip(1);
        let segments = points.iter().zip(next).map(|(&from, &to)| Segment::Line { from, to });
        Outline { segments: segments.collect() }
    }

    fn close(got: Moments, want: [f64; 4]) {
        for (got, want) in [got.area, got.x, got.y, got.polar].into_iter().zip(want) {
            assert!((got - want).abs() < 1e-9 * want.abs().max(1.0), "{got} {want}");
        }
    }

    #[test]
    fn moments_of_a_rectangle_off_the_axis_are_those_of_the_handbook() {
        // 3 by 2 about (7, −4): area 6; b·h·(b² + h²)/12 about its own middle, and 6·(49 + 16) from there.
        let corners = [[5.5, -5.0], [8.5, -5.0], [8.5, -3.0], [5.5, -3.0]];
        close(polygon(&corners).moments(), [6.0, 42.0, -24.0, 6.5 + 390.0]);
        // Turned about the axis by 30° only the first moments turn with it.
        let (sin, cos) = (0.5, 0.75_f64.sqrt());
        let turned = corners.map(|[x, y]| [x * cos - y * sin, x * sin + y * cos]);
        let first = [42.0 * cos + 24.0 * sin, 42.0 * sin - 24.0 * cos];
        close(polygon(&turned).moments(), [6.0, first[0], first[1], 396.5]);
    }

    #[test]
    fn moments_of_a_sector_between_two_circles_are_those_of_the_handbook() {
        let (ri, ro, from, sweep) = (20.0, 30.0, 0.3, 0.8);
        let at = |radius, angle| Point::polar(radius, angle);
        let sector = Outline {
            segments: vec![
                Segment::Line { from: at(ri, from), to: at(ro, from) },
                Segment::Arc { radius: ro, start: from, sweep },
                Segment::Line { from: at(ro, from + sweep), to: at(ri, from + sweep) },
                Segment::Arc { radius: ri, start: from + sweep, sweep: -sweep },
            ],
        };
        // (Ro² − Ri²)·β/2, the centroid on the middle line, (Ro⁴ − Ri⁴)·β/4.
        let first = 2.0 / 3.0 * (27_000.0 - 8_000.0) * libm::sin(sweep / 2.0);
        let middle = from + sweep / 2.0;
        let polar = (810_000.0 - 160_000.0) * sweep / 4.0;
        close(
            sector.moments(),
            [200.0, first * libm::cos(middle), first * libm::sin(middle), polar],
        );
    }

    /// A flank that leans in is widest at the tip, one that leans out at the root.
    #[test]
    fn what_a_dog_covers_is_its_wider_end_on_each_flank() {
        for form in [PlanForm::Radial, PlanForm::Parallel] {
            let ring = EvenRing { form, ..EvenRing::default() }.to_ring();
            let area = |drive: f64, coast: f64, covered: bool| {
                let mut dog = ring.dogs[0];
                for (flank, deg) in FlankSide::BOTH.into_iter().zip([drive, coast]) {
                    dog.back_cut[flank] = Angle::from_degrees(deg);
                }
                let outline =
                    if covered { ring.covered_outline(&dog) } else { ring.root_outline(&dog) };
                outline.expect("it has one").moments().area
            };
            let tip = area(0.0, 0.0, false);
            let near = |got: f64, want: f64| assert!((got - want).abs() < 1e-9, "{got} {want}");
            near(area(5.0, 3.0, true), tip);
            near(area(-5.0, -3.0, true), area(-5.0, -3.0, false));
            near(area(-5.0, 3.0, true), area(-5.0, 0.0, false));
            assert!(area(-5.0, 3.0, true) > tip + 1.0);
        }
    }
}
