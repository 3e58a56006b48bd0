//! A dividing head: turns of the crank and holes of a circle.

use std::f64::consts::TAU;

use super::plate::Plates;
use super::{HAIR, on_circle};
use crate::units::{Angle, sort_by_number};

/// Below this many minutes of arc a hole counts as exact: 9 nm at a radius of 30 mm. An angle that
/// was written with six decimals of a degree differs from a true fraction by less.
pub const EXACT_MIN: f64 = 0.001;

/// Errors that differ by less than this, in minutes of arc, are the same but for rounding.
const TIE_MIN: f64 = 1e-6;

/// An angle half-way between two holes goes to the hole before, whatever its last bits are.
const HALF_WAY: f64 = 0.5 - 1e-9;

/// The largest single angle that is accepted: a thousand full turns of the work.
const MOST_TURNS: f64 = 1000.0;

/// Minutes of arc in a full turn.
const MINUTES: f64 = 21_600.0;

/// A dividing head with the available plates.
#[derive(Clone, Debug, PartialEq)]
pub struct Dividing {
    /// Turns of the crank for one turn of the work.
    pub ratio: u16,
    /// The available plates.
    pub plates: Plates,
}

impl Default for Dividing {
    /// 40 turns of the crank, by far the usual, and all the usual plates.
    fn default() -> Self {
        Self { ratio: 40, plates: Plates::default() }
    }
}

/// How far the crank turns: whole turns, then so many holes on from the one the pin was in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crank {
    /// Whole turns.
    pub turns: u32,
    /// Spaces between holes, fewer than the circle has; the hole the pin leaves is not counted.
    pub holes: u16,
    /// Holes of the circle.
    pub circle: u16,
}

impl Crank {
    /// Never called with a circle without holes, and only with numbers that the limits above keep small.
    #[expect(clippy::cast_possible_truncation)]
    fn new(spaces: u64, circle: u16) -> Self {
        let (turns, holes) = (spaces / u64::from(circle), spaces % u64::from(circle));
        Self { turns: turns as u32, holes: holes as u16, circle }
    }
}

/// What the crank does for one angle on one circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Turns and holes.
    pub crank: Crank,
    /// The position of the work less the position wanted, minutes of arc; minus is short of it.
    pub error_min: f64,
}

impl Fit {
    /// The error along the circle at a radius, mm; minus is short.
    pub fn error_mm(&self, radius_mm: f64) -> f64 {
        self.error_min / MINUTES * TAU * radius_mm
    }

    /// Whether the circle has a hole for this angle, within [`EXACT_MIN`].
    pub fn is_exact(&self) -> bool {
        self.error_min.abs() < EXACT_MIN
    }
}

/// One position of a job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The position, counter-clockwise from the datum, in `[0°, 360°)`.
    pub position: Angle,
    /// The crank from the datum to here.
    pub fit: Fit,
    /// The crank from the position before (the first from the datum), always turned the same way,
    /// so that backlash stays on one side.
    pub on: Crank,
}

/// All positions of one ring on one circle.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// Turns of the crank for one turn of the work.
    pub ratio: u16,
    /// Holes of the one circle that serves every position.
    pub circle: u16,
    /// The positions in the order they were given.
    pub steps: Vec<Step>,
}

impl Job {
    /// The largest error of a position, without its sign, minutes of arc; 0 without positions.
    pub fn largest_error_min(&self) -> f64 {
        self.steps.iter().map(|step| step.fit.error_min.abs()).fold(0.0, f64::max)
    }

    /// Whether every position has a hole, within [`EXACT_MIN`].
    pub fn is_exact(&self) -> bool {
        self.largest_error_min() < EXACT_MIN
    }
}

impl Dividing {
    /// Every available circle once, fewest holes first.
    pub fn circles(&self) -> Vec<u16> {
        let mut circles: Vec<u16> = self.plates.iter().flat_map(|p| &p.circles).copied().collect();
        circles.retain(|holes| *holes > 0);
        sort_by_number(&mut circles, |holes| f64::from(*holes));
        circles.dedup();
        circles
    }

    /// One angle on every circle, fewest holes first: `turns = angle·ratio/360`, to the nearest hole.
    ///
    /// Empty for an angle that is below 0 by more than rounding, above a thousand full turns or not a number,
    /// and for a ratio of 0.
    pub fn fits(&self, angle: Angle) -> Vec<Fit> {
        let turns = angle.radians() / TAU;
        if self.ratio == 0 || !(-HAIR..=MOST_TURNS).contains(&turns) {
            return Vec::new();
        }
        let fit = |circle| {
            let (spaces, error_min) = self.nearest_space(turns, circle);
            Fit { crank: Crank::new(spaces, circle), error_min }
        };
        self.circles().into_iter().map(fit).collect()
    }

    /// One angle on the smallest circle that has a hole for it; if none has, on the circle with the
    /// nearest hole. `None` where [`Dividing::fits`] is empty.
    pub fn nearest(&self, angle: Angle) -> Option<Fit> {
        let fits = self.fits(angle);
        let errors: Vec<f64> = fits.iter().map(|fit| fit.error_min.abs()).collect();
        least(&errors).map(|at| fits[at])
    }

    /// All positions on one circle: the smallest that has a hole for each, else the one whose
    /// largest error is least, the smaller one where two do equally well.
    ///
    /// Positions are angles from the datum, any number of turns on or back. `None` if one of them
    /// is not a number, for a ratio of 0, and without circles.
    pub fn job(&self, positions: &[Angle]) -> Option<Job> {
        if self.ratio == 0 || positions.iter().any(|position| !position.radians().is_finite()) {
            return None;
        }
        let job = |circle| Job { ratio: self.ratio, circle, steps: self.steps(positions, circle) };
        let mut jobs: Vec<Job> = self.circles().into_iter().map(job).collect();
        let errors: Vec<f64> = jobs.iter().map(Job::largest_error_min).collect();
        least(&errors).map(|at| jobs.swap_remove(at))
    }

    /// The head with the one plate that serves several rings, each on a circle of its own: the plate with
    /// the least of the largest errors, the first of those that do equally well. Unchanged without plates
    /// and where no plate can do it.
    #[must_use]
    pub fn on_one_plate(&self, rings: &[Vec<Angle>]) -> Self {
        let heads = self.plates.iter().map(|plate| Self {
            ratio: self.ratio,
            plates: std::iter::once(plate.clone()).collect(),
        });
        let mut heads: Vec<Self> = heads.collect();
        let worst = |head: &Self| {
            let jobs = rings.iter().map(|ring| head.job(ring));
            let errors = jobs.map(|job| job.map_or(f64::INFINITY, |job| job.largest_error_min()));
            errors.fold(0.0, f64::max)
        };
        let errors: Vec<f64> = heads.iter().map(worst).collect();
        least(&errors).map_or_else(|| self.clone(), |at| heads.swap_remove(at))
    }

    fn steps(&self, positions: &[Angle], circle: u16) -> Vec<Step> {
        let round = u64::from(self.ratio) * u64::from(circle);
        let mut before = 0;
        let step = |&position: &Angle| {
            let position = on_circle(position);
            let (spaces, error_min) = self.nearest_space(position.radians() / TAU, circle);
            // The nearest hole may be that of the datum, a full turn on.
            let spaces = spaces % round;
            let on = Crank::new((spaces + round - before) % round, circle);
            before = spaces;
            Step { position, fit: Fit { crank: Crank::new(spaces, circle), error_min }, on }
        };
        positions.iter().map(step).collect()
    }

    /// Spaces of a circle nearest to so many turns of the work, and their error in minutes of arc.
    fn nearest_space(&self, turns: f64, circle: u16) -> (u64, f64) {
        let round = f64::from(self.ratio) * f64::from(circle);
        let wanted = turns * round;
        let got = (wanted + HALF_WAY).floor().max(0.0);
        // From 0 to 1000 rounds of 65535² spaces, which a float holds exactly.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let spaces = got as u64;
        (spaces, (got - wanted) * MINUTES / round)
    }
}

/// The index of the first of the least errors; all errors that count as exact are equal.
fn least(errors: &[f64]) -> Option<usize> {
    let graded = |error: f64| if error < EXACT_MIN { 0.0 } else { error };
    let least = errors.iter().map(|&error| graded(error)).fold(f64::INFINITY, f64::min);
    errors.iter().position(|&error| graded(error) <= least + TIE_MIN)
}

#[cfg(test)]
mod tests {
    use super::super::plate::Plate;
    use super::*;

    fn plates(circles: &[&[u16]]) -> Plates {
        Plates::new(circles.iter().map(|plate| plate.to_vec()).collect()).expect("plates")
    }

    fn degrees(value: f64) -> Angle {
        Angle::from_degrees(value)
    }

    fn even(count: u32) -> Vec<Angle> {
        (0..count).map(|at| Angle::FULL * f64::from(at) / f64::from(count)).collect()
    }

    fn crank(turns: u32, holes: u16, circle: u16) -> Crank {
        Crank { turns, holes, circle }
    }

    #[test]
    fn circles_of_two_plates_are_listed_once() {
        let circles = Dividing::default().circles();
        assert_eq!((circles.first(), circles.last()), (Some(&15), Some(&66)));
        assert_eq!(circles.iter().filter(|holes| **holes == 37).count(), 1);
        assert!(circles.is_sorted());
    }

    #[test]
    fn a_full_turn_of_the_work_is_the_ratio() {
        let head = Dividing::default();
        let fit = head.nearest(Angle::FULL).unwrap();
        assert_eq!((fit.crank, fit.is_exact()), (crank(40, 0, 15), true));
        for none in [0.0, -1e-13] {
            assert_eq!(head.nearest(degrees(none)).unwrap().crank, crank(0, 0, 15));
        }
    }

    #[test]
    fn equal_divisions_take_the_smallest_circle() {
        for (count, circle, holes) in [(6, 15, 10), (7, 21, 15), (13, 39, 3), (42, 21, 20)] {
            let job = Dividing::default().job(&even(count)).unwrap();
            assert!(job.is_exact(), "{count}");
            assert_eq!((job.circle, job.steps[1].on.holes), (circle, holes), "{count}");
            assert!(job.steps[2..].iter().all(|step| step.on == job.steps[1].on), "{count}");
        }
    }

    #[test]
    fn what_is_written_to_six_decimals_is_as_exact_as_the_fraction() {
        let sevenths: Vec<Angle> = (0..7).map(|at| degrees(51.428_571 * f64::from(at))).collect();
        let job = Dividing::default().job(&sevenths).unwrap();
        assert_eq!((job.circle, job.is_exact()), (21, true));
    }

    #[test]
    fn errors_do_not_add_up_round_the_circle() {
        // No circle divides by 61: each position is within half a hole all the same.
        let job = Dividing::default().job(&even(61)).unwrap();
        assert!(!job.is_exact());
        assert!(job.largest_error_min() <= 270.0 / f64::from(job.circle));
    }

    #[test]
    fn the_datum_is_reached_from_both_sides() {
        let near = [360.0, -1e-12, 359.999_999_9, 359.999, -720.0];
        let job = Dividing::default().job(&near.map(degrees)).unwrap();
        for step in &job.steps {
            assert_eq!((step.fit.crank.turns, step.fit.crank.holes), (0, 0), "{step:?}");
            assert_eq!((step.on.turns, step.on.holes), (0, 0), "{step:?}");
        }
        assert!((job.steps[3].fit.error_min - 0.06).abs() < 1e-9);
        assert_eq!(job.steps[2].position, Angle::ZERO);
    }

    #[test]
    fn the_crank_goes_on_the_same_way() {
        let job = Dividing::default().job(&[300.0, 60.0].map(degrees)).unwrap();
        assert_eq!(job.steps[0].on, job.steps[0].fit.crank);
        assert_eq!(job.steps[1].on, crank(13, 5, 15));
    }

    #[test]
    fn half_way_goes_to_the_hole_before() {
        let head = Dividing { ratio: 40, plates: plates(&[&[20]]) };
        for spaces in [0.5, 1.5, 7.5, 399.5] {
            let fit = head.nearest(degrees(spaces * 0.45)).unwrap();
            assert!((fit.error_min + 13.5).abs() < 1e-9, "{spaces}: {fit:?}");
        }
    }

    /// Sevenths and elevenths are on the plate from 21 to 33, sevenths and thirteenths on that from 37 to 49,
    /// and no plate has sixty-firsts.
    #[test]
    fn one_plate_serves_every_ring() {
        let head = Dividing::default();
        let [seven, eleven, thirteen, prime] = [7, 11, 13, 61].map(even);
        let plate = head.on_one_plate(&[seven.clone(), eleven]);
        let names: Vec<_> = plate.plates.iter().map(Plate::name).collect();
        assert_eq!(names, ["21–33"]);
        assert!(plate.job(&seven).is_some_and(|job| job.is_exact() && job.circle == 21));
        let plate = head.on_one_plate(&[seven.clone(), thirteen]);
        assert_eq!(plate.plates.iter().map(Plate::name).collect::<Vec<_>>(), ["37–49"]);
        let both = [seven, prime];
        let chosen = head.on_one_plate(&both);
        let worst = |head: &Dividing| {
            let errors = both.each_ref().map(|ring| head.job(ring).unwrap().largest_error_min());
            errors[0].max(errors[1])
        };
        for plate in head.plates.iter() {
            let alone =
                Dividing { plates: std::iter::once(plate.clone()).collect(), ..head.clone() };
            assert!(worst(&chosen) <= worst(&alone) + TIE_MIN, "{plate:?}");
        }
        let none = Dividing { plates: plates(&[]), ..head };
        assert_eq!(none.on_one_plate(&both), none);
    }

    #[test]
    fn errors_are_told_along_the_rim() {
        let fit = Fit { crank: crank(0, 1, 20), error_min: -1.0 };
        assert!((fit.error_mm(30.0) + 30.0 * (1.0 / 60.0_f64).to_radians()).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_divided_is_none() {
        let head = Dividing::default();
        for angle in [-1.0, f64::NAN, f64::INFINITY, 1e9] {
            assert_eq!(head.nearest(degrees(angle)), None, "{angle}");
        }
        assert_eq!(head.job(&[degrees(f64::NAN)]), None);
        for broken in [
            Dividing { ratio: 0, ..head.clone() },
            Dividing { plates: plates(&[]), ..head.clone() },
        ] {
            assert_eq!(broken.nearest(degrees(60.0)), None);
            assert_eq!(broken.job(&[]), None);
        }
        assert_eq!(head.job(&[]).unwrap().circle, 15);
    }
}
