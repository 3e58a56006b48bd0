//! The plane four-bar linkage.

use std::f64::consts::{PI, TAU};

use libm::{acos, atan2, cos, sin, sqrt};

use crate::ring::Point;
use crate::units::Angle;

/// Arm and rod this near to a line lie in it, radians: what rounding leaves of one.
const IN_LINE: f64 = 1e-6;

/// On which side of the line from the arm's end to the shaft the rod meets the lever.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Assembly {
    /// To the left of it, counter-clockwise from the line as seen from the arm's end.
    Left,
    /// To the right.
    Right,
}

/// An arm, a rod and a lever on two fixed pivots.
///
/// Angles are in radians, counter-clockwise from the line from the arm's pivot to the lever's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FourBar {
    /// Length of the driving arm, *a*, mm.
    pub arm_mm: f64,
    /// Length of the rod, *b*, mm.
    pub rod_mm: f64,
    /// Length of the driven lever, *c*, mm.
    pub lever_mm: f64,
    /// Distance of the pivots, *d*, mm.
    pub apart_mm: f64,
}

impl FourBar {
    /// The end of the arm, from its pivot.
    pub fn arm_end(&self, arm: f64) -> Point {
        Point::new(self.arm_mm * cos(arm), self.arm_mm * sin(arm))
    }

    /// Square of the distance from the arm's end to the lever's pivot.
    fn diagonal2(&self, arm: f64) -> f64 {
        let (a, d) = (self.arm_mm, self.apart_mm);
        a * a + d * d - 2.0 * a * d * cos(arm)
    }

    /// The transmission angle between rod and lever; `None` where the rod does not reach.
    ///
    /// `cos μ = (b² + c² − a² − d² + 2ad·cos θ)/(2bc)`: the law of cosines across the diagonal.
    /// Source: Uicker, Pennock, Shigley, *Theory of Machines and Mechanisms*.
    pub fn transmission(&self, arm: f64) -> Option<f64> {
        let (b, c) = (self.rod_mm, self.lever_mm);
        let cosine = (b * b + c * c - self.diagonal2(arm)) / (2.0 * b * c);
        // A linkage that just reaches must not fail because of rounding.
        (cosine.abs() <= 1.0 + 1e-12).then(|| acos(cosine.clamp(-1.0, 1.0)))
    }

    /// The direction of the lever; `None` where the rod does not reach.
    pub fn lever(&self, arm: f64, assembly: Assembly) -> Option<f64> {
        self.transmission(arm)?;
        let end = self.arm_end(arm);
        let (x, y) = (end.x - self.apart_mm, end.y);
        let diagonal = sqrt(x * x + y * y);
        // With the arm's end on the shaft any direction would do.
        if diagonal <= 0.0 {
            return None;
        }
        let (b, c) = (self.rod_mm, self.lever_mm);
        let cosine = (diagonal * diagonal + c * c - b * b) / (2.0 * diagonal * c);
        let inside = acos(cosine.clamp(-1.0, 1.0));
        let back = atan2(y, x);
        Some(match assembly {
            Assembly::Left => back - inside,
            Assembly::Right => back + inside,
        })
    }

    /// The ratio of the speeds of lever and arm.
    ///
    /// `dψ/dθ = a·sin(θ − β)/(c·sin(ψ − β))` with β the direction of the rod.
    pub fn ratio(&self, arm: f64, assembly: Assembly) -> Option<f64> {
        let lever = self.lever(arm, assembly)?;
        let start = self.arm_end(arm);
        let end_x = self.apart_mm + self.lever_mm * cos(lever);
        let rod = atan2(self.lever_mm * sin(lever) - start.y, end_x - start.x);
        let ratio = self.arm_mm * sin(arm - rod) / (self.lever_mm * sin(lever - rod));
        ratio.is_finite().then_some(ratio)
    }

    /// How far the arm can turn from an angle, counter-clockwise (`way` 1) or clockwise (−1), until the
    /// diagonal has this length; `None` if it never does.
    pub fn turn_to_diagonal(&self, arm: f64, way: f64, diagonal_mm: f64) -> Option<f64> {
        let (a, d) = (self.arm_mm, self.apart_mm);
        let cosine = (a * a + d * d - diagonal_mm * diagonal_mm) / (2.0 * a * d);
        if cosine.is_nan() || cosine.abs() > 1.0 {
            return None;
        }
        let at = acos(cosine);
        let turn = |to: f64| (way * (to - arm)).rem_euclid(TAU);
        Some(turn(at).min(turn(-at)))
    }

    /// How far the arm can turn until rod and lever lie in line; `None` if they never do.
    pub fn turn_to_lock(&self, arm: f64, way: f64) -> Option<f64> {
        let (b, c) = (self.rod_mm, self.lever_mm);
        let turns = [b + c, (b - c).abs()].map(|e| self.turn_to_diagonal(arm, way, e));
        turns.into_iter().flatten().min_by(f64::total_cmp)
    }

    /// How far the arm can turn until it is in line with the rod, where the lever stops and turns back;
    /// `None` if that never happens. If the two are in line already, that does not count.
    pub fn turn_to_reversal(&self, arm: f64, way: f64, assembly: Assembly) -> Option<f64> {
        let (a, b, c, d) = (self.arm_mm, self.rod_mm, self.lever_mm, self.apart_mm);
        // With the rod laid back along the arm, its end lies behind the pivot where the rod is longer.
        let behind = if b > a { PI } else { 0.0 };
        let lines = [(a + b, 0.0), ((a - b).abs(), behind)];
        let candidates = lines.into_iter().flat_map(|(far, about)| {
            let cosine = (far * far + d * d - c * c) / (2.0 * far * d);
            let at = (cosine.abs() <= 1.0).then(|| acos(cosine));
            at.into_iter().flat_map(move |at| [(at, at + about, far), (-at, about - at, far)])
        });
        let fits = candidates.filter(|&(joint, arm, far)| {
            let end = Point::polar(far, joint);
            let lever = self.lever(arm, assembly);
            lever.is_some_and(|lever| {
                let reached = Point::new(d + c * cos(lever), c * sin(lever));
                reached.distance(end) < 1e-6 * (a + b + c + d)
            })
        });
        let turns = fits.map(|(_, to, _)| (way * (to - arm)).rem_euclid(TAU));
        turns.filter(|turn| (IN_LINE..TAU - IN_LINE).contains(turn)).min_by(f64::total_cmp)
    }

    /// How far the lever turns while the arm turns by `turn`, radians, signed and not wrapped; `None` if the
    /// rod does not reach all the way.
    pub fn swing(&self, arm: f64, turn: f64, assembly: Assembly) -> Option<f64> {
        // The lever turns by less than half a turn in each of these steps.
        const STEPS: u8 = 64;
        let mut last = self.lever(arm, assembly)?;
        let mut swung = 0.0;
        for step in 1..=STEPS {
            let next = self.lever(arm + turn * f64::from(step) / f64::from(STEPS), assembly)?;
            swung += Angle::from_radians(next - last).signed().radians();
            last = next;
        }
        Some(swung)
    }

    /// How far the arm can turn until the transmission angle is this far from a right angle; `None` if
    /// it never is.
    pub fn turn_to_transmission(&self, arm: f64, way: f64, least: f64) -> Option<f64> {
        let (b, c) = (self.rod_mm, self.lever_mm);
        let diagonal = |angle: f64| sqrt(b * b + c * c - 2.0 * b * c * cos(angle));
        let turns =
            [least, PI - least].map(|angle| self.turn_to_diagonal(arm, way, diagonal(angle)));
        turns.into_iter().flatten().min_by(f64::total_cmp)
    }

    /// The transmission angle nearest to locking while the arm turns by `turn` (signed); `None` if the
    /// rod does not reach at either end.
    pub fn worst_transmission(&self, arm: f64, turn: f64) -> Option<f64> {
        let mut worst: Option<f64> = None;
        let ends = [arm, arm + turn];
        // In between, the diagonal turns round only with the arm on the line of the pivots.
        let inline = [0.0, PI].into_iter().filter(|on| {
            let way = if turn < 0.0 { -1.0 } else { 1.0 };
            (way * (on - arm)).rem_euclid(TAU) < turn.abs()
        });
        for at in ends.into_iter().chain(inline) {
            let angle = self.transmission(at)?;
            let nearer = worst.is_none_or(|other| from_lock(angle) < from_lock(other));
            if nearer {
                worst = Some(angle);
            }
        }
        worst
    }
}

/// How far a transmission angle is from rod and lever being in line, radians.
pub(super) fn from_lock(angle: f64) -> f64 {
    angle.min(PI - angle)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARS: FourBar =
        FourBar { arm_mm: 63.5, rod_mm: 165.5, lever_mm: 114.0, apart_mm: 154.34 };

    #[test]
    fn the_loop_closes_all_the_way_round() {
        for step in 0..720 {
            let arm = f64::from(step) * TAU / 720.0;
            for assembly in [Assembly::Left, Assembly::Right] {
                let lever = BARS.lever(arm, assembly).expect("a crank goes round");
                let (start, end) = (
                    BARS.arm_end(arm),
                    Point::new(154.34 + 114.0 * cos(lever), 114.0 * sin(lever)),
                );
                let rod = start.distance(end);
                assert!((rod - 165.5).abs() < 1e-9, "{step}: {rod}");
            }
        }
    }

    #[test]
    fn the_ratio_is_the_slope_of_the_lever() {
        for step in 0..100 {
            let arm = 0.03 + f64::from(step) * TAU / 100.0;
            let at = |arm| BARS.lever(arm, Assembly::Left).unwrap_or(f64::NAN);
            let slope = (at(arm + 1e-6) - at(arm - 1e-6)) / 2e-6;
            let ratio = BARS.ratio(arm, Assembly::Left).unwrap_or(f64::NAN);
            assert!((slope - ratio).abs() < 1e-6 || slope.abs() > 1e5, "{step}: {slope} {ratio}");
        }
    }

    #[test]
    fn a_lever_turns_back_where_arm_and_rod_are_in_line() {
        for assembly in [Assembly::Left, Assembly::Right] {
            let turn = BARS.turn_to_reversal(0.3, 1.0, assembly).expect("a rocker turns back");
            let ratio = BARS.ratio(0.3 + turn, assembly).expect("it reaches");
            assert!(ratio.abs() < 1e-9, "{ratio}");
            let before = BARS.swing(0.3, turn, assembly).expect("it reaches");
            let after = BARS.swing(0.3, turn + 0.1, assembly).expect("it reaches");
            assert!(after.abs() < before.abs(), "{before} {after}");
        }
    }

    #[test]
    fn the_angle_nearest_to_locking_is_found_whichever_way_the_arm_turns() {
        for (arm, turn) in [(0.5, -1.0), (-0.5, 1.0), (0.5, 1.0), (2.7, 0.9), (3.6, -0.9)] {
            let at = |step: i32| BARS.transmission(arm + turn * f64::from(step) / 1000.0);
            let walked = (0..=1000).filter_map(at).map(from_lock).fold(f64::INFINITY, f64::min);
            let worst = from_lock(BARS.worst_transmission(arm, turn).expect("a crank goes round"));
            assert!((worst - walked).abs() < 1e-5, "{arm} {turn}: {worst} {walked}");
        }
    }

    #[test]
    fn a_linkage_that_is_no_crank_locks_where_rod_and_lever_are_in_line() {
        let bars = FourBar { arm_mm: 80.0, rod_mm: 60.0, lever_mm: 50.0, apart_mm: 120.0 };
        let start = 0.9;
        for way in [1.0, -1.0] {
            let turn = bars.turn_to_lock(start, way).expect("it locks");
            let inside = bars.transmission(start + way * (turn - 1e-6)).expect("just before");
            assert!(from_lock(inside) < 0.01, "{inside}");
            assert_eq!(bars.transmission(start + way * (turn + 1e-3)), None);
        }
    }
}
