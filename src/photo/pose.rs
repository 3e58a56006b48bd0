//! Where the camera stood, from the circles that are seen.

use crate::concentric::concentric;
use crate::ellipse::Ellipse;
use crate::small::{deviation, inverse_symmetric};
use crate::view::View;

/// What is assumed of a camera nobody described, with its standard deviation: its distance in diameters of the ring, as
/// its logarithm, and where the lens looks, in widths of the picture. Common practice, no source: nobody holds a camera
/// much nearer than two diameters, and pictures are hardly cropped to one side.
const DISTANCE: (f64, f64) = (6.0, 0.6);
const MIDDLE: f64 = 0.05;

/// The deviation of an edge point by which two cameras are compared, px.
const COMPARED_PX: f64 = 0.3;

/// A lens that is not straight: by what share of its distance from the middle a point half the picture's longer side
/// away is seen farther out, two standard deviations. Common practice, no source: cameras straighten their own pictures
/// and leave less, and a wide-angle lens that nobody straightened bends by several times as much.
const LENS: f64 = 0.01;

/// A camera from a part of the circles is taken if it leaves so small a share of the squares.
const BETTER: f64 = 0.8;

/// Most steps of Levenberg's and Marquardt's method, and the gain from which on there are no more.
const MOST_STEPS: usize = 60;
const LEAST_GAIN: f64 = 1e-10;

/// How often outliers are weighed anew.
const WEIGHINGS: usize = 4;

/// The biweight of Beaton and Tukey: points beyond so many deviations do not count.
const BIWEIGHT: f64 = 4.685;

/// The least deviation that an edge point is given, px: neighbours on an edge err alike.
const LEAST_OFF_PX: f64 = 0.1;

/// Half the step of a derivative, in the units of the unknowns.
const HALF_STEP: f64 = 1e-5;

/// Unknowns of the camera; the radii that are not known follow.
const CAMERA: usize = 8;

/// A circle about the axis of the ring, as it is seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Traced {
    /// Its height above the tips, mm; below them it is negative.
    pub height_mm: f64,
    /// Its radius, where it is known, mm.
    pub radius_mm: Option<f64>,
    /// Points on its edge.
    pub points: Vec<[f64; 2]>,
    /// The ellipse that they lie on.
    pub ellipse: Ellipse,
}

/// A camera that sees circles where they were seen.
#[derive(Clone, Debug)]
pub struct Posed {
    /// The camera.
    pub view: View,
    /// The radii of the circles, in the order given, each with its standard uncertainty, mm.
    pub radii_mm: Vec<(f64, f64)>,
    /// By how much an edge point lies off its circle, one standard deviation, px.
    pub off_px: f64,
    unknowns: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

impl Posed {
    /// Standard uncertainty from the fit of angles about the axis, radians, their common turn left out.
    pub fn angle_sigmas(&self, seen: &[[f64; 2]]) -> Vec<f64> {
        let angles = |unknowns: &[f64]| {
            let view = view_of(unknowns);
            seen.iter().map(move |p| view.to_plane(*p, 0.0)).collect::<Vec<_>>()
        };
        let mut slopes = vec![vec![0.0; seen.len()]; self.unknowns.len()];
        for (at, slope) in slopes.iter_mut().enumerate() {
            let [less, more] = [-HALF_STEP, HALF_STEP].map(|by| {
                let mut moved = self.unknowns.clone();
                moved[at] += by * step_of(at, &self.unknowns);
                angles(&moved)
            });
            for (own, (a, b)) in slope.iter_mut().zip(less.iter().zip(&more)) {
                *own = libm::atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
                    / (2.0 * HALF_STEP * step_of(at, &self.unknowns));
            }
            let mean = slope.iter().sum::<f64>() / slope.len().max(1) as f64;
            slope.iter_mut().for_each(|own| *own -= mean);
        }
        (0..seen.len())
            .map(|i| {
                let column: Vec<f64> = slopes.iter().map(|slope| slope[i]).collect();
                quadratic(&self.covariance, &column).max(0.0).sqrt()
            })
            .collect()
    }
}

/// Finds the camera by least squares of the distances of all points from their circles, px, with weights that leave
/// outliers out. What two concentric circles tell in closed form is where it begins. `None` where no diameter is known,
/// and where no camera sees such circles. `size` is that of the picture.
pub fn pose(circles: &[Traced], size: [f64; 2]) -> Option<Posed> {
    let starts = starts(circles, size)?;
    let fitted = starts.into_iter().filter_map(|start| Fit { circles, size }.run(start));
    fitted.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, posed)| posed)
}

/// The better of a camera and those that are found from parts of the circles: whichever leaves the most points of all
/// on their circles. A dog that is lower than the others bends a camera that is fitted to it along with them.
pub(crate) fn best_pose(
    all: &[Traced],
    size: [f64; 2],
    first: Posed,
    parts: impl Iterator<Item = Vec<Traced>>,
) -> (Posed, Option<usize>) {
    let fit = Fit { circles: all, size };
    // Another camera must be better by more than chance.
    let start = first.unknowns.clone();
    let mut best = (BETTER * fit.truncated(&start, LEAST_OFF_PX), first, None);
    for (at, part) in parts.enumerate() {
        let Some((_, posed)) = (Fit { circles: &part, size }).run(start.clone()) else {
            continue;
        };
        let off = fit.truncated(&posed.unknowns, LEAST_OFF_PX);
        if off < best.0 {
            best = (off, posed, Some(at));
        }
    }
    (best.1, best.2)
}

/// By how much angles about the axis would be others, radians, their common turn left out, if the lens bent by
/// [`LENS`].
///
/// That cannot be fitted along: a bent lens makes the circles larger or smaller, as another inner radius and another
/// tilt do too. So the circles are straightened by it, and the camera is found anew. `None` where no camera sees such
/// circles.
pub(crate) fn lens_shifts(
    circles: &[Traced],
    size: [f64; 2],
    posed: &Posed,
    seen: &[[f64; 2]],
) -> Option<Vec<f64>> {
    let straight = |place: [f64; 2]| straightened(place, size);
    let circle = |circle: &Traced| {
        let points: Vec<_> = circle.points.iter().copied().map(straight).collect();
        Some(Traced { ellipse: Ellipse::through(&points)?, points, ..circle.clone() })
    };
    let other = pose(&circles.iter().map(circle).collect::<Option<Vec<_>>>()?, size)?;
    let shift = |place: &[f64; 2]| {
        let [a, b] = posed.view.to_plane(*place, 0.0);
        let [c, d] = other.view.to_plane(straight(*place), 0.0);
        libm::atan2(a * d - b * c, a * c + b * d)
    };
    let shifts: Vec<f64> = seen.iter().map(shift).collect();
    let mean = shifts.iter().sum::<f64>() / shifts.len().max(1) as f64;
    Some(shifts.into_iter().map(|shift| shift - mean).collect())
}

/// Where a place would be seen without what a lens bends by [`LENS`].
fn straightened(place: [f64; 2], size: [f64; 2]) -> [f64; 2] {
    let half = size[0].max(size[1]) / 2.0;
    let from = [0, 1].map(|i| (place[i] - size[i] / 2.0) / half);
    let out = 1.0 + LENS * (from[0] * from[0] + from[1] * from[1]);
    [0, 1].map(|i| size[i] / 2.0 + from[i] * half / out)
}

fn view_of(unknowns: &[f64]) -> View {
    View {
        focal_px: libm::exp(unknowns[0]),
        middle: [unknowns[1], unknowns[2]],
        lean: [unknowns[3], unknowns[4]],
        place: [unknowns[5], unknowns[6], libm::exp(unknowns[7])],
    }
}

/// The unit of an unknown, in which a step is small.
fn step_of(at: usize, unknowns: &[f64]) -> f64 {
    match at {
        1 | 2 => 100.0,
        5 | 6 => libm::exp(unknowns[7]) / 100.0,
        _ => 1.0,
    }
}

/// Where the fit begins: the ring as large as its ellipse, leaning as far as that is narrow, to the side that the
/// vanishing line tells, and to the other.
fn starts(circles: &[Traced], size: [f64; 2]) -> Option<Vec<Vec<f64>>> {
    let known = circles.iter().find(|circle| circle.radius_mm.is_some())?;
    let outer =
        circles.iter().max_by(|a, b| a.ellipse.radii()[0].total_cmp(&b.ellipse.radii()[0]))?;
    let inner =
        circles.iter().min_by(|a, b| a.ellipse.radii()[0].total_cmp(&b.ellipse.radii()[0]))?;
    let [long, short] = outer.ellipse.radii();
    let away = DISTANCE.0 * 2.0 * known.radius_mm?;
    let focal = away * known.ellipse.radii()[0] / known.radius_mm?;
    let middle = outer.ellipse.middle();
    let [u, v] = [0, 1].map(|i| (middle[i] - size[i] / 2.0) / focal * away);
    let lean = libm::acos((short / long).clamp(0.0, 1.0)).max(0.01);
    // The plane leans about the longer axis: its normal is seen along the shorter one, with y upwards.
    let [_, axis] = outer.ellipse.axes();
    let mut normal = [axis[0] / short, -axis[1] / short];
    if let Some(two) = concentric(&outer.ellipse, &inner.ellipse) {
        // The plane falls away towards its vanishing line, so that its normal leans from it.
        let line = two.vanishing;
        let side = line[0] * two.centre[0] + line[1] * two.centre[1] + line[2];
        let away = [line[0] * side.signum(), -line[1] * side.signum()];
        if away[0] * normal[0] + away[1] * normal[1] < 0.0 {
            normal = normal.map(|x| -x);
        }
    }
    let radii = circles.iter().filter(|circle| circle.radius_mm.is_none());
    let radii: Vec<f64> = radii.map(|c| libm::log(c.ellipse.radii()[0] * away / focal)).collect();
    let start = |sign: f64| {
        let [x, y] = normal.map(|part| sign * part * lean);
        let [half_u, half_v] = size.map(|side| side / 2.0);
        let camera = [libm::log(focal), half_u, half_v, -y, x, u, -v, libm::log(away)];
        camera.into_iter().chain(radii.iter().copied()).collect()
    };
    Some(vec![start(1.0), start(-1.0)])
}

/// The least-squares problem.
struct Fit<'a> {
    circles: &'a [Traced],
    size: [f64; 2],
}

impl Fit<'_> {
    fn radius(&self, at: usize, unknowns: &[f64]) -> f64 {
        let is_unknown = |circle: &Traced| circle.radius_mm.is_none();
        let before = self.circles[..at].iter().filter(|circle| is_unknown(circle)).count();
        self.circles[at].radius_mm.unwrap_or_else(|| libm::exp(unknowns[CAMERA + before]))
    }

    /// Distances of all points from their circles, px.
    fn distances(&self, unknowns: &[f64]) -> Vec<f64> {
        let view = view_of(unknowns);
        let px = view.px_per_mm();
        let of_circle = |(at, circle): (usize, &Traced)| {
            let (radius, height) = (self.radius(at, unknowns), circle.height_mm);
            let onto = view.onto_plane(height);
            let off = move |p: &[f64; 2]| {
                let [x, y] = onto(*p);
                (libm::hypot(x, y) - radius) * px
            };
            circle.points.iter().map(off).collect::<Vec<_>>()
        };
        self.circles.iter().enumerate().flat_map(of_circle).collect()
    }

    /// How far the camera is from what is assumed of one, in deviations.
    fn assumed(&self, unknowns: &[f64]) -> [f64; 3] {
        let wide = self.size[0].max(self.size[1]);
        let off = |at: usize| (unknowns[at] - self.size[at - 1] / 2.0) / (MIDDLE * wide);
        let known = self.circles.iter().find_map(|circle| circle.radius_mm).unwrap_or(1.0);
        [(unknowns[7] - libm::log(DISTANCE.0 * 2.0 * known)) / DISTANCE.1, off(1), off(2)]
    }

    /// Distances in deviations, each by the root of its weight, and what is assumed.
    fn residuals(&self, unknowns: &[f64], weights: &[f64]) -> Vec<f64> {
        let distances = self.distances(unknowns);
        let weighted = distances.iter().zip(weights).map(|(off, weight)| off * weight);
        weighted.chain(self.assumed(unknowns)).collect()
    }

    fn run(&self, start: Vec<f64>) -> Option<(f64, Posed)> {
        let mut unknowns = start;
        let points = self.circles.iter().map(|circle| circle.points.len()).sum();
        let mut weights = vec![1.0; points];
        let mut off_px = LEAST_OFF_PX;
        for _ in 0..WEIGHINGS {
            unknowns = self.descend(unknowns, &weights)?;
            let distances = self.distances(&unknowns);
            off_px = deviation(distances.iter().copied())?.max(LEAST_OFF_PX);
            let weight = |off: &f64| {
                let share = off / (BIWEIGHT * off_px);
                (1.0 - share * share).max(0.0) / off_px
            };
            weights = distances.iter().map(weight).collect();
        }
        unknowns = self.descend(unknowns, &weights)?;
        let (normal, _) = self.normal(&unknowns, &weights);
        let covariance = inverse_symmetric(&normal)?;
        let view = view_of(&unknowns);
        let mut free = CAMERA;
        let radii_mm = (0..self.circles.len())
            .map(|at| {
                let radius = self.radius(at, &unknowns);
                let is_known = self.circles[at].radius_mm.is_some();
                let sigma = if is_known { 0.0 } else { radius * covariance[free][free].sqrt() };
                free += usize::from(!is_known);
                (radius, sigma)
            })
            .collect();
        // Points that count for nothing must not make a camera look better than one that leaves none out.
        let off = self.truncated(&unknowns, COMPARED_PX);
        let is_before = view.place[2] > 0.0 && view.eye()[2] > 0.0 && view.focal_px.is_finite();
        is_before.then_some((off, Posed { view, radii_mm, off_px, unknowns, covariance }))
    }

    /// Squares of the distances of all points and of what is assumed, of points that are far off as if they were
    /// nearer.
    fn truncated(&self, unknowns: &[f64], off_px: f64) -> f64 {
        let least = |off: &f64| (off / off_px).abs().min(BIWEIGHT);
        let all = self.distances(unknowns);
        all.iter().map(least).chain(self.assumed(unknowns)).map(|off| off * off).sum()
    }

    /// Levenberg's and Marquardt's method.
    fn descend(&self, mut unknowns: Vec<f64>, weights: &[f64]) -> Option<Vec<f64>> {
        let square = |unknowns: &[f64]| {
            self.residuals(unknowns, weights).iter().map(|off| off * off).sum::<f64>()
        };
        let mut before = square(&unknowns);
        let mut damping = 1e-3;
        for _ in 0..MOST_STEPS {
            let (mut normal, right) = self.normal(&unknowns, weights);
            for (at, row) in normal.iter_mut().enumerate() {
                row[at] *= 1.0 + damping;
            }
            let inverse = inverse_symmetric(&normal)?;
            let step =
                inverse.iter().map(|row| row.iter().zip(&right).map(|(a, b)| a * b).sum::<f64>());
            let moved: Vec<f64> = unknowns.iter().zip(step).map(|(x, step)| x + step).collect();
            let after = square(&moved);
            if after < before {
                let gain = (before - after) / before;
                (unknowns, before) = (moved, after);
                damping *= 0.2;
                if gain < LEAST_GAIN {
                    break;
                }
            } else {
                damping *= 6.0;
                if damping > 1e12 {
                    break;
                }
            }
        }
        before.is_finite().then_some(unknowns)
    }

    /// The normal equations of a step.
    fn normal(&self, unknowns: &[f64], weights: &[f64]) -> (Vec<Vec<f64>>, Vec<f64>) {
        let now = self.residuals(unknowns, weights);
        let slopes: Vec<Vec<f64>> = (0..unknowns.len())
            .map(|at| {
                let half = HALF_STEP * step_of(at, unknowns);
                let [less, more] = [-half, half].map(|by| {
                    let mut moved = unknowns.to_vec();
                    moved[at] += by;
                    self.residuals(&moved, weights)
                });
                less.iter().zip(&more).map(|(a, b)| (b - a) / (2.0 * half)).collect()
            })
            .collect();
        let sum = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let normal = slopes.iter().map(|a| slopes.iter().map(|b| sum(a, b)).collect()).collect();
        (normal, slopes.iter().map(|slope| -sum(slope, &now)).collect())
    }
}

/// `gᵀCg`.
fn quadratic(c: &[Vec<f64>], g: &[f64]) -> f64 {
    c.iter().zip(g).map(|(row, g_i)| g_i * row.iter().zip(g).map(|(c, g)| c * g).sum::<f64>()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A camera eight ring diameters away, with the ring near the middle of a picture of 1,200 px.
    fn camera(tilt_deg: f64, toward_deg: f64) -> View {
        let (sin, cos) = libm::sincos(toward_deg.to_radians());
        let lean = tilt_deg.to_radians();
        View {
            focal_px: 1200.0 * 7.2,
            middle: [600.0, 600.0],
            lean: [-lean * sin, lean * cos],
            place: [1.0, -2.0, 480.0],
        }
    }

    /// Noise of a bell shape: twelve times what is uniform.
    fn noise(state: &mut u64) -> f64 {
        let mut sum = -6.0;
        for _ in 0..12 {
            *state = state.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            sum += (*state >> 11) as f64 / (1_u64 << 53) as f64;
        }
        sum
    }

    /// Where a lens that bends makes a place seen: what [`straightened`] undoes.
    fn bent_place(place: [f64; 2], size: [f64; 2]) -> [f64; 2] {
        let mut from = place;
        for _ in 0..30 {
            let back = straightened(from, size);
            from = [0, 1].map(|i| from[i] + place[i] - back[i]);
        }
        from
    }

    fn trace(
        view: &View,
        radius: f64,
        height: f64,
        known: bool,
        px: f64,
        state: &mut u64,
    ) -> Traced {
        let arcs = (0..360).filter(|at| at % 60 < 24);
        let points: Vec<_> = arcs
            .map(|at| view.polar(radius, f64::from(at).to_radians(), height))
            .map(|p| p.map(|x| x + px * noise(state)))
            .collect();
        let ellipse = Ellipse::through(&points).expect("an ellipse");
        Traced { height_mm: height, radius_mm: known.then_some(radius), points, ellipse }
    }

    /// The worst angle at r 26, degrees, the common turn left out.
    fn worst(found: &View, given: &View) -> f64 {
        let off = |at: u16| {
            let angle = f64::from(at).to_radians();
            let [x, y] = found.to_plane(given.polar(26.0, angle, 0.0), 0.0);
            let off = libm::atan2(y, x) - angle;
            libm::atan2(libm::sin(off), libm::cos(off)).to_degrees()
        };
        let all: Vec<f64> = (0..360).map(off).collect();
        let mean = all.iter().sum::<f64>() / 360.0;
        all.iter().map(|off| (off - mean).abs()).fold(0.0, f64::max)
    }

    /// Two circles in the plane of the tips, on arcs of 40 %: the worst angle is 0.054° with 0.5 px of noise, for any tilt to
    /// 25° from eight diameters away.
    #[test]
    fn two_circles_make_it_round_again() {
        let mut state = 7;
        for tilt in [0.0, 5.0, 10.0, 15.0, 20.0, 25.0] {
            for toward in [0.0, 50.0, 200.0] {
                let view = camera(tilt, toward);
                let circles = [
                    trace(&view, 30.0, 0.0, true, 0.5, &mut state),
                    trace(&view, 22.0, 0.0, false, 0.5, &mut state),
                ];
                let posed = pose(&circles, [1200.0, 1200.0]).expect("a camera");
                let off = worst(&posed.view, &view);
                assert!(off < 0.075, "{tilt} {toward}: {off}");
                assert!((posed.radii_mm[1].0 - 22.0).abs() < 0.02, "{:?}", posed.radii_mm);
                let tilts = posed.view.tilt().to_degrees() - view.tilt().to_degrees();
                assert!(tilts.abs() < if tilt < 6.0 { 5.0 } else { 1.5 }, "{tilt}: {tilts}");
            }
        }
    }

    /// A bore 5 mm below the tips is put right by its height, and is degrees wrong without it.
    #[test]
    fn a_circle_below_the_tips_needs_its_height() {
        let (view, mut state) = (camera(20.0, 30.0), 3);
        let mut circles = [
            trace(&view, 30.0, 0.0, true, 0.3, &mut state),
            trace(&view, 18.0, -5.0, false, 0.3, &mut state),
        ];
        let size = [1200.0, 1200.0];
        let right = worst(&pose(&circles, size).expect("a camera").view, &view);
        circles[1].height_mm = 0.0;
        let wrong = worst(&pose(&circles, size).expect("a camera").view, &view);
        assert!(right < 0.08 && wrong > 1.0, "{right} {wrong}");
    }

    #[test]
    fn concentric_circles_tell_their_centre() {
        let (view, mut state) = (camera(20.0, 30.0), 3);
        let [outer, inner] =
            [30.0, 22.0].map(|r| trace(&view, r, 0.0, true, 0.0, &mut state).ellipse);
        let two = concentric(&outer, &inner).expect("two circles");
        let centre = view.polar(0.0, 0.0, 0.0);
        let off = libm::hypot(two.centre[0] - centre[0], two.centre[1] - centre[1]);
        assert!(off < 1e-4, "{off}");
        assert!((two.ratio - 22.0 / 30.0).abs() < 1e-7, "{}", two.ratio);
        // Lines that are parallel in the plane meet on the vanishing line.
        let far = view.polar(1e9, 1.0, 0.0);
        let [a, b, c] = two.vanishing;
        let from_line = (a * far[0] + b * far[1] + c) / libm::hypot(a, b);
        assert!(from_line.abs() < 1.0, "{from_line}");
    }

    #[test]
    fn nothing_is_known_without_a_diameter() {
        let mut state = 1;
        let circle = trace(&camera(3.0, 0.0), 30.0, 0.0, false, 0.1, &mut state);
        assert!(pose(&[circle.clone(), circle], [1200.0, 1200.0]).is_none());
        assert!(pose(&[], [1200.0, 1200.0]).is_none());
    }

    /// A lens that bends by 1 % costs little in the middle of the picture, and more to one side; what is foreseen is
    /// what happens.
    #[test]
    fn what_a_bent_lens_costs_is_foreseen() {
        let size = [1200.0, 1200.0];
        let seen = |view: &View| -> Vec<_> {
            (0..12)
                .map(|i| view.polar(26.0, f64::from(i) * std::f64::consts::FRAC_PI_6, 0.0))
                .collect()
        };
        let most = |shifts: &[f64]| shifts.iter().map(|s| s.abs()).fold(0.0, f64::max).to_degrees();
        let mut costs = Vec::new();
        for aside in [0.0, 6.0, 12.0] {
            let place = [aside, 0.0, 480.0];
            let view = View { focal_px: 6000.0, place, ..camera(8.0, 50.0) };
            let mut state = 11;
            let straight = [
                trace(&view, 30.0, 0.0, true, 0.0, &mut state),
                trace(&view, 22.0, 0.0, false, 0.0, &mut state),
            ];
            let posed = pose(&straight, size).expect("a camera");
            let told = lens_shifts(&straight, size, &posed, &seen(&view)).expect("shifts");
            // The same through a lens that bends so much, taken for a straight one.
            let bent = straight.map(|circle| {
                let points: Vec<_> = circle.points.iter().map(|p| bent_place(*p, size)).collect();
                let ellipse = Ellipse::through(&points).expect("an ellipse");
                Traced { points, ellipse, ..circle }
            });
            let wrong = pose(&bent, size).expect("a camera").view;
            let off: Vec<f64> = seen(&view)
                .iter()
                .map(|p| {
                    let [x, y] = wrong.to_plane(bent_place(*p, size), 0.0);
                    let [a, b] = view.to_plane(*p, 0.0);
                    libm::atan2(a * y - b * x, a * x + b * y)
                })
                .collect();
            let mean = off.iter().sum::<f64>() / 12.0;
            let off: Vec<f64> = off.iter().map(|o| o - mean).collect();
            assert!((most(&off) - most(&told)).abs() < 0.01 + 0.2 * most(&off), "{off:?} {told:?}");
            costs.push(most(&told));
        }
        assert!(costs[0] < 0.03 && costs[2] > 2.0 * costs[0] && costs[2] < 0.2, "{costs:?}");
    }

    /// What the fit says of its own uncertainty is what happens.
    #[test]
    fn the_uncertainty_of_the_fit_is_true() {
        let view = camera(15.0, 100.0);
        let seen: Vec<_> = (0..12)
            .map(|i| view.polar(26.0, f64::from(i) * std::f64::consts::FRAC_PI_6, 0.0))
            .collect();
        let (mut square, mut said) = (0.0, 0.0);
        for seed in 1..40 {
            let mut state = seed * 7919;
            let circles = [
                trace(&view, 30.0, 0.0, true, 0.5, &mut state),
                trace(&view, 22.0, 0.0, false, 0.5, &mut state),
            ];
            let posed = pose(&circles, [1200.0, 1200.0]).expect("a camera");
            let angle = |v: &View, p: &[f64; 2]| {
                let [x, y] = v.to_plane(*p, 0.0);
                libm::atan2(y, x)
            };
            let off: Vec<f64> = seen
                .iter()
                .map(|p| {
                    libm::remainder(angle(&posed.view, p) - angle(&view, p), std::f64::consts::TAU)
                })
                .collect();
            let mean = off.iter().sum::<f64>() / 12.0;
            square += off.iter().map(|o| (o - mean) * (o - mean)).sum::<f64>();
            said += posed.angle_sigmas(&seen).iter().map(|s| s * s).sum::<f64>();
        }
        let ratio = (square / said).sqrt();
        assert!((0.7..1.4).contains(&ratio), "{ratio}");
    }
}
