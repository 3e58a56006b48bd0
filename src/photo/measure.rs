//! The flanks of a ring in a picture.

use std::f64::consts::{FRAC_PI_2, PI, TAU};
use std::fmt;

use crate::edge::{Edge, PER_PX, first_edge};
use crate::ellipse::Ellipse;
use crate::picture::Grey;
use crate::pose::{Posed, Traced, best_pose, lens_shifts, pose};
use crate::sectors::{SAMPLES, Sector, sectors};
use crate::small::{deviation, median};
use crate::view::View;

/// The least outer radius, px: below it a pixel is more than half a degree.
pub const LEAST_RADIUS_PX: f64 = 120.0;

/// The most that 1 mm of height may cost, radians: half a degree.
pub const MOST_ERROR: f64 = 0.5 * PI / 180.0;

/// Standard uncertainty of the height of an edge from the plane of the tips, mm: tips that are not level, and edges that
/// are rounded. Common practice, no source.
const HEIGHT_OFF_MM: f64 = 0.05;

/// Standard uncertainty of a height that somebody typed, mm: a depth rod on a worn tip. Common practice, no source.
const TYPED_HEIGHT_MM: f64 = 0.1;

/// What an edge is off by itself, one standard deviation, px: light that is not even, and a lens that is not straight.
/// Common practice, no source; pictures worked out from solids, `tests/cross/test_photo.py`, stay within it.
const EDGE_OFF_PX: f64 = 0.12;

/// What an edge is off by its wear, one standard deviation, mm: where a rounded edge ends is a matter of the light. Common
/// practice, no source.
const WORN_MM: f64 = 0.02;

/// How often the circles are traced anew with the camera that they gave.
const ROUNDS: usize = 3;

/// Circles on which flanks are looked for, and what is left out at each end of the tips, as a share of their length.
const CIRCLES: usize = 19;
const LEFT_OUT: f64 = 0.14;

/// Arcs of a tip on which its ends are looked for, and what is left out at each corner, as a share of its width.
const RAYS: usize = 25;
const CORNER: f64 = 0.12;

/// How far beyond the tips their ends are looked for, as a share of their length, and how far a circle off the plane of the
/// tips is, as a share of its radius.
const BEYOND_ENDS: f64 = 0.45;
const AROUND_CIRCLE: f64 = 0.05;

/// A flank is sure if so large a share of circles agrees, within so many px, and if it runs as the others do: within so
/// many degrees over the length of the tips, or so many deviations.
const LEAST_AGREE: f64 = 0.65;
const MOST_SCATTER_PX: f64 = 0.7;
const MOST_BEND: f64 = 0.15 * PI / 180.0;
const BEND_DEVIATIONS: f64 = 5.0;

/// A flank whose slope of light is below this share of what is usual is faint.
const LEAST_SLOPE: f64 = 0.2;

/// The most standard uncertainty of a flank that is sure, radians: twice it is 0.15°.
const MOST_SIGMA: f64 = 0.075 * PI / 180.0;

/// A dog whose ends lie off the circles by more than so many px, and so many deviations, is not of their height.
const OFF_CIRCLE_PX: f64 = 1.0;
const OFF_CIRCLE_DEVIATIONS: f64 = 5.0;

/// A circle about the axis as somebody laid it over the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circle {
    /// The middle of the ellipse, px.
    pub middle: [f64; 2],
    /// Two conjugate half diameters, px: to the right, and up.
    pub half: [[f64; 2]; 2],
    /// Its height above the tips, mm: 0 for the ends of the tips themselves.
    pub height_mm: f64,
    /// Its diameter, where it is known, mm.
    pub diameter_mm: Option<f64>,
}

impl Circle {
    /// A round one in the plane of the tips.
    pub fn round(middle: [f64; 2], radius: f64, diameter_mm: Option<f64>) -> Self {
        Self { middle, half: [[radius, 0.0], [0.0, -radius]], height_mm: 0.0, diameter_mm }
    }

    /// Its point at an angle of the circle, px.
    pub fn at(&self, angle: f64) -> [f64; 2] {
        let (sin, cos) = libm::sincos(angle);
        [0, 1].map(|i| self.middle[i] + cos * self.half[0][i] + sin * self.half[1][i])
    }

    /// The smaller of its half diameters, px.
    pub fn least_radius(&self) -> f64 {
        let ellipse = Ellipse::of(self.middle, self.half);
        ellipse.map_or(0.0, |ellipse| ellipse.radii()[1])
    }
}

/// A dog whose tip is below the plane of the others, because it was cut down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lowered {
    /// An angle within the dog, radians.
    pub angle: f64,
    /// How far its tip is below the others, mm.
    pub below_mm: f64,
}

/// What somebody says of a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Hints {
    /// The outer circle: the outer ends of the tips, or another circle.
    pub outer: Circle,
    /// The inner circle: the inner ends of the tips, or another circle.
    pub inner: Circle,
    /// How many dogs are expected.
    pub dogs: Option<usize>,
    /// Whether the tips are brighter than the gaps; `None` to find out.
    pub bright: Option<bool>,
    /// Inner and outer diameter of the tips, mm, where a circle is not theirs.
    pub tips_mm: Option<[f64; 2]>,
    /// Dogs that were cut down. Their edges are looked for at their own height.
    pub lowered: Vec<Lowered>,
}

impl Hints {
    /// How far the tip of the dog is below the others that reaches from one angle to another, mm.
    pub fn below(&self, from: f64, to: f64) -> f64 {
        let is_within =
            |dog: &&Lowered| (dog.angle - from).rem_euclid(TAU) <= (to - from).rem_euclid(TAU);
        self.lowered.iter().find(is_within).map_or(0.0, |dog| dog.below_mm)
    }
}

/// Why a flank is not sure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Doubt {
    /// No edge is seen.
    NoEdge,
    /// The circles do not agree on it.
    Scattered,
    /// Two edges are so near that either may be the tip's.
    TwoEdges,
    /// It is much fainter than the others.
    Faint,
    /// It does not run as the others do.
    Askew,
    /// Its dog is not of the height of the others, or is chipped at its end.
    OffCircle,
}

impl Doubt {
    /// All, with their words in what is saved.
    pub const ALL: [(&'static str, Self); 6] = [
        ("no_edge", Self::NoEdge),
        ("scattered", Self::Scattered),
        ("two_edges", Self::TwoEdges),
        ("faint", Self::Faint),
        ("askew", Self::Askew),
        ("off_circle", Self::OffCircle),
    ];
}

/// A flank in a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flank {
    /// Its angle at the mean radius of the tips, radians; `None` where no edge is seen.
    pub angle: Option<f64>,
    /// Its standard uncertainty: pixels, fit of the circles, height and wear.
    pub sigma: f64,
    /// By how much single circles differ, one standard deviation, px.
    pub scatter_px: f64,
    /// Why it is not sure.
    pub doubt: Option<Doubt>,
}

/// A dog in a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhotoDog {
    /// How far its tip is below the others, as somebody typed it, mm.
    pub below_mm: f64,
    /// Its drive flank, which is the clockwise one.
    pub drive: Flank,
    /// Its coast flank.
    pub coast: Flank,
}

/// A ring in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Where the camera stood.
    pub view: View,
    /// Outer and inner radius of the tips, each with its standard uncertainty, mm.
    pub outer_mm: (f64, f64),
    /// See [`Self::outer_mm`].
    pub inner_mm: (f64, f64),
    /// By how much edge points lie off the circles, one standard deviation, px.
    pub off_px: f64,
    /// Whether the tips are brighter than the gaps.
    pub bright: bool,
    /// By how much a flank would be another at most, radians, if the lens bent by 1 % half the picture's longer side
    /// from its middle.
    pub lens: f64,
    /// Its dogs counter-clockwise, the first one nearest to the top of the picture.
    pub dogs: Vec<PhotoDog>,
}

impl Measured {
    /// Mean radius of the tips, mm.
    pub fn mean_mm(&self) -> f64 {
        (self.outer_mm.0 + self.inner_mm.0) / 2.0
    }

    /// What 1 mm of unknown height costs, radians.
    pub fn error_per_mm(&self) -> f64 {
        self.view.error_per_mm(self.mean_mm())
    }

    /// Whether that is too much.
    pub fn is_too_tilted(&self) -> bool {
        self.error_per_mm() > MOST_ERROR
    }

    /// All flanks, dog by dog, drive flank first.
    pub fn flanks(&self) -> impl Iterator<Item = &Flank> {
        self.dogs.iter().flat_map(|dog| [&dog.drive, &dog.coast])
    }

    /// How many flanks are not sure.
    pub fn doubtful(&self) -> usize {
        self.flanks().filter(|flank| flank.doubt.is_some()).count()
    }
}

/// Why there is no ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotMeasured {
    /// Neither circle has a diameter, or one is not above 0.
    NoDiameter,
    /// The outer radius is less than [`LEAST_RADIUS_PX`].
    TooSmall,
    /// The circles are not one inside the other, or leave the picture.
    NotInPicture,
    /// Dogs cannot be told from gaps.
    NoDogs,
    /// The edges lie on no circles.
    NoCircle,
}

impl NotMeasured {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::NoDiameter, Self::TooSmall, Self::NotInPicture, Self::NoDogs, Self::NoCircle];
}

impl fmt::Display for NotMeasured {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoDiameter => "no diameter is given",
            Self::TooSmall => "the ring is too small in the picture",
            Self::NotInPicture => "the circles do not lie one inside the other in the picture",
            Self::NoDogs => "dogs cannot be told from gaps",
            Self::NoCircle => "the edges lie on no circles",
        })
    }
}

impl std::error::Error for NotMeasured {}

/// Measures the ring that lies under two circles.
///
/// The ends of the tips are traced, each circle is fitted to them as broken arcs, the camera is found from both, and the
/// circles are traced anew as that camera sees them. Then each flank is the first edge from the middle of its dog along
/// circles in the plane of the tips.
///
/// # Errors
/// See [`NotMeasured`].
pub fn measure(grey: &Grey, hints: &Hints) -> Result<Measured, NotMeasured> {
    check(grey, hints)?;
    let noise = grey.noise().max(0.3);
    let look = Look { grey, hints, noise };
    let ways: &[bool] = match hints.bright {
        Some(true) => &[true],
        Some(false) => &[false],
        None => &[true, false],
    };
    let mut best = Err(NotMeasured::NoDogs);
    let mut least = usize::MAX;
    for bright in ways {
        match look.ring(*bright) {
            Ok((ring, misfits)) if misfits < least => (best, least) = (Ok(ring), misfits),
            Err(why) if best.is_err() => best = Err(why),
            _ => {}
        }
        if least == 0 {
            break;
        }
    }
    best
}

fn check(grey: &Grey, hints: &Hints) -> Result<(), NotMeasured> {
    let circles = [hints.outer, hints.inner];
    let is_known = |d: Option<f64>| d.is_some_and(|d| d > 0.0 && d.is_finite());
    if !circles.iter().any(|c| is_known(c.diameter_mm))
        || circles.iter().any(|c| c.diameter_mm.is_some() && !is_known(c.diameter_mm))
    {
        return Err(NotMeasured::NoDiameter);
    }
    let [width, height] = grey.size();
    let (outer, inner) = (hints.outer.least_radius(), hints.inner.least_radius());
    let [x, y] = hints.outer.middle;
    let is_inside = (0.0..width).contains(&x) && (0.0..height).contains(&y);
    let is_finite = circles.iter().all(|c| c.height_mm.is_finite())
        && hints.lowered.iter().all(|dog| dog.angle.is_finite() && dog.below_mm.is_finite());
    if !(inner > 0.0 && outer > inner * 1.02 && is_inside && is_finite && outer < width.max(height))
    {
        return Err(NotMeasured::NotInPicture);
    }
    if outer < LEAST_RADIUS_PX { Err(NotMeasured::TooSmall) } else { Ok(()) }
}

/// From radius, angle and height to the picture.
enum Map<'a> {
    /// Between the circles as they were laid over the picture; the radius is 0 at the inner one, 1 at the outer one.
    Laid(&'a Hints),
    /// As a camera sees them; the radius is that of the tips.
    Seen(View, [f64; 2]),
}

impl Map<'_> {
    /// `share` is 0 at the inner and 1 at the outer ends of the tips.
    fn at(&self, share: f64, angle: f64) -> [f64; 2] {
        match self {
            Self::Laid(hints) => {
                let (inner, outer) = (hints.inner.at(angle), hints.outer.at(angle));
                [0, 1].map(|i| inner[i] + share * (outer[i] - inner[i]))
            }
            Self::Seen(view, [inner, outer]) => {
                view.polar(inner + share * (outer - inner), angle, 0.0)
            }
        }
    }
}

/// A dog's edge points on a circle.
struct Arc {
    dog: usize,
    points: Vec<[f64; 2]>,
}

/// A picture being looked at.
struct Look<'a> {
    grey: &'a Grey,
    hints: &'a Hints,
    noise: f64,
}

impl Look<'_> {
    /// The ring with tips of one light, and how much speaks against that.
    fn ring(&self, bright: bool) -> Result<(Measured, usize), NotMeasured> {
        let mut dogs = self.dogs(&Map::Laid(self.hints), bright);
        let mut arcs = self.ends(&Map::Laid(self.hints), &dogs);
        let (mut posed, mut circles) = self.posed(&arcs, &dogs, None)?;
        for _ in 0..ROUNDS {
            let tips = self.tips(&posed)?;
            let map = Map::Seen(posed.view, tips);
            dogs = self.dogs(&map, bright);
            arcs = self.ends(&map, &dogs);
            (posed, circles) = self.posed(&arcs, &dogs, Some(&posed))?;
        }
        if dogs.len() < 2 {
            return Err(NotMeasured::NoDogs);
        }
        (posed, circles) = self.without_lower(&arcs, &dogs, posed, circles)?;
        let tips = self.tips(&posed)?;
        arcs = self.ends(&Map::Seen(posed.view, tips), &dogs);
        let ring = self.flanks(&posed, &circles, tips, &dogs, &arcs, bright);
        let expected = self.hints.dogs.map_or(0, |dogs| dogs.abs_diff(ring.dogs.len()));
        let misfits = 100 * expected + 2 * ring.doubtful();
        Ok((ring, misfits))
    }

    /// Inner and outer radius of the tips, mm.
    fn tips(&self, posed: &Posed) -> Result<[f64; 2], NotMeasured> {
        let [(outer, _), (inner, _)] = [posed.radii_mm[0], posed.radii_mm[1]];
        let given = self.hints.tips_mm.map(|tips| tips.map(|d| d / 2.0));
        let inner = if self.hints.inner.height_mm == 0.0 {
            inner
        } else {
            given.ok_or(NotMeasured::NoDiameter)?[0]
        };
        let outer = if self.hints.outer.height_mm == 0.0 {
            outer
        } else {
            given.ok_or(NotMeasured::NoDiameter)?[1]
        };
        let is_ring = inner > 0.0 && outer > 1.02 * inner && outer.is_finite();
        is_ring.then_some([inner, outer]).ok_or(NotMeasured::NoCircle)
    }

    fn dogs(&self, map: &Map, bright: bool) -> Vec<Sector> {
        let light = |at: usize| {
            let angle = TAU * at as f64 / SAMPLES as f64;
            let across = [0.3, 0.4, 0.5, 0.6, 0.7].map(|share| self.grey.at(map.at(share, angle)));
            median(across.into_iter().flatten()).unwrap_or_default()
        };
        sectors(&(0..SAMPLES).map(light).collect::<Vec<_>>(), bright, self.hints.dogs)
    }

    /// Light along a line.
    fn along(&self, from: [f64; 2], to: [f64; 2]) -> Vec<f64> {
        let length = libm::hypot(to[0] - from[0], to[1] - from[1]) * PER_PX;
        let point = |at: usize| [0, 1].map(|i| from[i] + (to[i] - from[i]) * at as f64 / length);
        let light = (0..).take_while(|at| *at as f64 <= length).map(|at| self.grey.at(point(at)));
        light.map_while(|light| light).collect()
    }

    /// The first edge along a line.
    fn edge(&self, from: [f64; 2], to: [f64; 2]) -> Option<[f64; 2]> {
        let edge = first_edge(&self.along(from, to), self.noise)?;
        let length = libm::hypot(to[0] - from[0], to[1] - from[1]) * PER_PX;
        Some([0, 1].map(|i| from[i] + (to[i] - from[i]) * edge.at / length))
    }

    /// The outer and the inner ends of all dogs.
    fn ends(&self, map: &Map, dogs: &[Sector]) -> [Vec<Arc>; 2] {
        [1.0 + BEYOND_ENDS, -BEYOND_ENDS].map(|to| {
            let arc = |(dog, (start, end)): (usize, &Sector)| {
                let ray = |at: usize| {
                    let share = CORNER + (1.0 - 2.0 * CORNER) * at as f64 / (RAYS - 1) as f64;
                    let angle = start + share * (end - start);
                    self.edge(map.at(0.5, angle), map.at(to, angle))
                };
                Arc { dog, points: (0..RAYS).filter_map(ray).collect() }
            };
            dogs.iter().enumerate().map(arc).collect()
        })
    }

    /// Points all round a circle off the plane of the tips: the strongest edge near it.
    fn around(&self, circle: &Circle, before: Option<(View, f64)>) -> Vec<[f64; 2]> {
        let at = |share: f64, angle: f64| match before {
            Some((view, radius)) => view.polar(radius * share, angle, circle.height_mm),
            None => {
                let p = circle.at(angle);
                [0, 1].map(|i| circle.middle[i] + share * (p[i] - circle.middle[i]))
            }
        };
        let point = |step: usize| {
            let angle = TAU * step as f64 / 240.0;
            let ends = [1.0 - AROUND_CIRCLE, 1.0 + AROUND_CIRCLE].map(|share| at(share, angle));
            self.edge(ends[0], ends[1])
        };
        (0..240).filter_map(point).collect()
    }

    /// The camera that sees both circles.
    fn posed(
        &self,
        arcs: &[Vec<Arc>; 2],
        dogs: &[Sector],
        before: Option<&Posed>,
    ) -> Result<(Posed, Vec<Traced>), NotMeasured> {
        let traced = self.traced(arcs, dogs, before, &[])?;
        let posed = pose(&traced, self.grey.size()).ok_or(NotMeasured::NoCircle)?;
        Ok((posed, traced))
    }

    /// The camera again without dogs that are lower than the others and nobody said so: each one, those opposite each
    /// other, and every second one are left out in turn.
    fn without_lower(
        &self,
        arcs: &[Vec<Arc>; 2],
        dogs: &[Sector],
        posed: Posed,
        circles: Vec<Traced>,
    ) -> Result<(Posed, Vec<Traced>), NotMeasured> {
        let many = dogs.len();
        let one = (0..many).map(|dog| vec![dog]);
        let two =
            (0..many / 2).filter(|_| many.is_multiple_of(2)).map(|dog| vec![dog, dog + many / 2]);
        let second =
            (0..2).filter(|_| many.is_multiple_of(2)).map(|from| (from..many).step_by(2).collect());
        let left_out: Vec<Vec<usize>> =
            one.chain(two).chain(second).filter(|out: &Vec<usize>| many - out.len() >= 3).collect();
        let mut parts: Vec<Vec<Traced>> = left_out
            .iter()
            .filter_map(|out| self.traced(arcs, dogs, Some(&posed), out).ok())
            .collect();
        let mut all = circles.clone();
        for (at, circle) in all.iter_mut().enumerate().filter(|(_, circle)| circle.height_mm == 0.0)
        {
            circle.points = arcs[at].iter().flat_map(|arc| arc.points.iter().copied()).collect();
        }
        let (posed, taken) = best_pose(&all, self.grey.size(), posed, parts.iter().cloned());
        Ok((posed, taken.map_or(circles, |at| parts.swap_remove(at))))
    }

    /// The circles through the ends of all dogs but some.
    fn traced(
        &self,
        arcs: &[Vec<Arc>; 2],
        dogs: &[Sector],
        before: Option<&Posed>,
        left_out: &[usize],
    ) -> Result<Vec<Traced>, NotMeasured> {
        // A dog that is lower does not end on the circles of the others.
        let is_tall = |arc: &&Arc| {
            let is_in = !left_out.contains(&arc.dog);
            is_in && dogs.get(arc.dog).is_none_or(|dog| self.below(dog) == 0.0)
        };
        let mut traced = Vec::new();
        for (at, circle) in [self.hints.outer, self.hints.inner].into_iter().enumerate() {
            let points: Vec<[f64; 2]> = if circle.height_mm == 0.0 {
                let tall = arcs[at].iter().filter(is_tall);
                tall.flat_map(|arc| arc.points.iter().copied()).collect()
            } else {
                self.around(&circle, before.map(|posed| (posed.view, posed.radii_mm[at].0)))
            };
            let (ellipse, near) = Ellipse::of_most(&points).ok_or(NotMeasured::NoCircle)?;
            let near: Vec<_> =
                points.into_iter().zip(near).filter_map(|(p, near)| near.then_some(p)).collect();
            let radius_mm = circle.diameter_mm.map(|d| d / 2.0);
            traced.push(Traced { height_mm: circle.height_mm, radius_mm, points: near, ellipse });
        }
        Ok(traced)
    }

    /// How far the tip of a dog is below the others, mm.
    fn below(&self, (from, to): &Sector) -> f64 {
        self.hints.below(*from, *to)
    }

    fn flanks(
        &self,
        posed: &Posed,
        circles: &[Traced],
        tips: [f64; 2],
        dogs: &[Sector],
        arcs: &[Vec<Arc>; 2],
        bright: bool,
    ) -> Measured {
        let mut dogs: Vec<(usize, Sector)> = dogs.iter().copied().enumerate().collect();
        let from_top = |(_, (start, end)): &(usize, Sector)| {
            libm::remainder((start + end) / 2.0 - FRAC_PI_2, TAU).abs()
        };
        let first =
            (0..dogs.len()).min_by(|a, b| from_top(&dogs[*a]).total_cmp(&from_top(&dogs[*b])));
        dogs.rotate_left(first.unwrap_or_default());
        let many = dogs.len();
        let mut traced: Vec<[Trace; 2]> = (0..many)
            .map(|at| {
                let ((_, own), (_, next), (_, last)) =
                    (dogs[at], dogs[(at + 1) % many], dogs[(at + many - 1) % many]);
                let (middle, height) = ((own.0 + own.1) / 2.0, -self.below(&own));
                let to = |edge: f64, other: f64, sign: f64| {
                    let gap = (sign * (other - edge)).rem_euclid(TAU);
                    (sign * (edge - middle)).rem_euclid(TAU) + 0.8 * gap
                };
                [(-1.0, to(own.0, last.1, -1.0)), (1.0, to(own.1, next.0, 1.0))].map(
                    |(sign, reach)| {
                        // What is seen at the middle of a lower tip stands elsewhere on its own plane.
                        let seen = posed.view.polar((tips[0] + tips[1]) / 2.0, middle, 0.0);
                        let [x, y] = posed.view.to_plane(seen, height);
                        self.trace(&posed.view, (tips, height), libm::atan2(y, x), sign, reach)
                    },
                )
            })
            .collect();
        self.compare(tips, &mut traced);
        self.off_circle(posed, tips, arcs, &dogs, &mut traced);
        let mean = (tips[0] + tips[1]) / 2.0;
        let below = |at: usize| self.below(&dogs[at / 2].1);
        let seen = |(at, trace): (usize, &Trace)| {
            posed.view.polar(mean, trace.angle.unwrap_or_default(), -below(at))
        };
        let points: Vec<[f64; 2]> = traced.iter().flatten().enumerate().map(seen).collect();
        let of_fit = posed.angle_sigmas(&points);
        let of_lens = lens_shifts(circles, self.grey.size(), posed, &points);
        let of_lens = of_lens.unwrap_or_else(|| vec![0.0; points.len()]);
        let aside = libm::tan(posed.view.tilt()) / mean;
        let of_edge = libm::hypot(aside * HEIGHT_OFF_MM, WORN_MM / mean);
        let px = posed.view.px_per_mm() * mean;
        let flank = |(at, trace): (usize, &Trace)| {
            let of_pixels = libm::hypot(trace.sigma_px, EDGE_OFF_PX) / px;
            let of_camera = libm::hypot(of_fit[at], of_lens[at] / 2.0);
            let sigma = libm::hypot(libm::hypot(of_pixels, of_camera), of_edge);
            let doubt = trace.doubt.or((sigma > MOST_SIGMA).then_some(Doubt::Scattered));
            let of_typed = if below(at) == 0.0 { 0.0 } else { aside * TYPED_HEIGHT_MM };
            let sigma = libm::hypot(sigma, of_typed);
            Flank { angle: trace.angle, sigma, scatter_px: trace.scatter_px, doubt }
        };
        let flanks: Vec<Flank> = traced.iter().flatten().enumerate().map(flank).collect();
        let sigma = |at: usize| {
            if tips[1 - at] == posed.radii_mm[at].0 { posed.radii_mm[at].1 } else { 0.0 }
        };
        Measured {
            view: posed.view,
            outer_mm: (tips[1], sigma(0)),
            inner_mm: (tips[0], sigma(1)),
            off_px: posed.off_px,
            bright,
            lens: of_lens.iter().map(|shift| shift.abs()).fold(0.0, f64::max),
            dogs: flanks
                .chunks_exact(2)
                .zip(&dogs)
                .map(|(two, (_, own))| PhotoDog {
                    below_mm: self.below(own),
                    drive: two[0],
                    coast: two[1],
                })
                .collect(),
        }
    }

    /// Follows a flank from circle to circle.
    fn trace(
        &self,
        view: &View,
        ([inner, outer], height): ([f64; 2], f64),
        middle: f64,
        sign: f64,
        reach: f64,
    ) -> Trace {
        let place =
            |at: usize| LEFT_OUT + (1.0 - 2.0 * LEFT_OUT) * at as f64 / (CIRCLES - 1) as f64;
        let onto = view.onto_picture();
        let found: Vec<(f64, f64, Edge)> = (0..CIRCLES)
            .filter_map(|at| {
                let radius = inner + place(at) * (outer - inner);
                let step = sign / (PER_PX * radius * view.px_per_mm());
                let px = 1.0 / view.px_per_mm();
                let many = reach / step.abs();
                let light = (0..).take_while(|at| f64::from(*at) < many).map(|at: u32| {
                    let (sin, cos) = libm::sincos(middle + f64::from(at) * step);
                    let three = [-px, 0.0, px].map(|by| {
                        self.grey.at(onto([(radius + by) * cos, (radius + by) * sin, height]))
                    });
                    three.into_iter().sum::<Option<f64>>().map(|sum| sum / 3.0)
                });
                let light: Vec<f64> = light.map_while(|light| light).collect();
                let edge = first_edge(&light, self.noise / 1.5)?;
                // Along parallel flanks the angle goes with 1/r, along radial ones it stays.
                Some(((inner + outer) / 2.0 / radius - 1.0, middle + edge.at * step, edge))
            })
            .collect();
        Trace::of(&found, view.px_per_mm() * (inner + outer) / 2.0)
    }

    /// Marks flanks that are fainter than the others, or run otherwise: neither towards the axis nor along the middle of
    /// their dog, whichever most of them do.
    fn compare(&self, [inner, outer]: [f64; 2], traced: &mut [[Trace; 2]]) {
        let usual =
            median(traced.iter().flatten().filter(|t| t.angle.is_some()).map(|t| t.slope.abs()));
        let off = |is_parallel: bool, two: &[Trace; 2]| {
            let [Some(drive), Some(coast)] = two.map(|trace| trace.angle) else { return [0.0; 2] };
            let runs = if is_parallel { libm::tan((coast - drive) / 2.0) } else { 0.0 };
            [two[0].bend + runs, two[1].bend - runs]
        };
        let misfit = |is_parallel: bool| {
            median(traced.iter().flat_map(|two| off(is_parallel, two)).map(f64::abs))
        };
        let is_parallel = misfit(true) < misfit(false);
        let least = MOST_BEND * (outer + inner) / 2.0 / (outer - inner);
        for two in traced.iter_mut() {
            let offs = off(is_parallel, two);
            for (trace, off) in two.iter_mut().zip(offs) {
                let is_askew = off.abs() > least.max(BEND_DEVIATIONS * trace.bend_sigma);
                let is_faint = usual.is_some_and(|usual| trace.slope.abs() < LEAST_SLOPE * usual);
                let faint = is_faint.then_some(Doubt::Faint);
                trace.doubt = trace.doubt.or(faint).or(is_askew.then_some(Doubt::Askew));
            }
        }
    }

    /// Marks dogs whose ends lie off the circles: they are nearer or farther than the tips, or chipped.
    fn off_circle(
        &self,
        posed: &Posed,
        tips: [f64; 2],
        arcs: &[Vec<Arc>; 2],
        dogs: &[(usize, Sector)],
        traced: &mut [[Trace; 2]],
    ) {
        let px = posed.view.px_per_mm();
        let most = OFF_CIRCLE_PX.max(OFF_CIRCLE_DEVIATIONS * posed.off_px);
        let is_tip = [self.hints.outer, self.hints.inner].map(|circle| circle.height_mm == 0.0);
        for (at, radius) in [(0, tips[1]), (1, tips[0])].into_iter().filter(|(at, _)| is_tip[*at]) {
            for (two, (dog, own)) in traced.iter_mut().zip(dogs) {
                let arc = arcs[at].iter().filter(|arc| arc.dog == *dog).flat_map(|arc| &arc.points);
                let height = -self.below(own);
                let off = arc.map(|p| {
                    let [x, y] = posed.view.to_plane(*p, height);
                    (libm::hypot(x, y) - radius) * px
                });
                if median(off).is_none_or(|off| off.abs() > most) {
                    // Flanks of a dog of another height do not run as the others do either.
                    let is_open =
                        |trace: &&mut Trace| matches!(trace.doubt, None | Some(Doubt::Askew));
                    two.iter_mut()
                        .filter(is_open)
                        .for_each(|trace| trace.doubt = Some(Doubt::OffCircle));
                }
            }
        }
    }
}

/// A flank from circle to circle.
#[derive(Clone, Copy, Debug)]
struct Trace {
    angle: Option<f64>,
    /// Standard uncertainty of the angle from the scatter, px.
    sigma_px: f64,
    scatter_px: f64,
    /// By how much the angle changes with mean radius over radius, radians, and its uncertainty.
    bend: f64,
    bend_sigma: f64,
    slope: f64,
    doubt: Option<Doubt>,
}

impl Trace {
    /// A line through the angles on all circles; `found` is mean radius over radius less 1, the angle, and the edge. `px` are those for each radian.
    fn of(found: &[(f64, f64, Edge)], px: f64) -> Self {
        let none = Self {
            angle: None,
            sigma_px: 0.0,
            scatter_px: 0.0,
            bend: 0.0,
            bend_sigma: 0.0,
            slope: 0.0,
            doubt: Some(Doubt::NoEdge),
        };
        if found.len() < CIRCLES / 3 {
            return none;
        }
        // The line that leaves outliers alone (Theil and Sen), then least squares through what agrees with it.
        let pairs =
            found.iter().enumerate().flat_map(|(i, a)| found[..i].iter().map(move |b| (a, b)));
        let bend = median(pairs.map(|(a, b)| (a.1 - b.1) / (a.0 - b.0))).unwrap_or_default();
        let middle = median(found.iter().map(|(x, angle, _)| angle - bend * x)).unwrap_or_default();
        let off = |(x, angle, _): &(f64, f64, Edge)| (angle - middle - bend * x) * px;
        let spread = deviation(found.iter().map(off)).unwrap_or_default().max(0.1);
        let agree: Vec<_> = found.iter().filter(|one| off(one).abs() <= 3.0 * spread).collect();
        let many = agree.len() as f64;
        let mean = |of: &dyn Fn(&(f64, f64, Edge)) -> f64| {
            agree.iter().map(|one| of(one)).sum::<f64>() / many
        };
        let (x, y) = (mean(&|one| one.0), mean(&|one| one.1));
        let square = mean(&|one| (one.0 - x) * (one.0 - x)).max(1e-9);
        let bend = mean(&|one| (one.0 - x) * (one.1 - y)) / square;
        let angle = y - bend * x;
        let scatter_px = (mean(&|one| {
            let off = one.1 - angle - bend * one.0;
            off * off
        }) * many
            / (many - 2.0).max(1.0))
        .sqrt()
            * px;
        let rivals = agree.iter().filter(|one| one.2.has_rival).count() as f64;
        let doubt = if many < LEAST_AGREE * CIRCLES as f64 || scatter_px > MOST_SCATTER_PX {
            Some(Doubt::Scattered)
        } else {
            (rivals > 0.4 * many).then_some(Doubt::TwoEdges)
        };
        Self {
            angle: Some(angle),
            sigma_px: scatter_px / many.sqrt(),
            scatter_px,
            bend,
            bend_sigma: scatter_px / px / (many * square).sqrt(),
            slope: median(agree.iter().map(|one| one.2.slope)).unwrap_or_default(),
            doubt,
        }
    }
}
