//! A head tilted so that the side of the cutter lies along a flank that leans.
//!
//! All in the plane square to the flank. The tip edge of the flank is the origin: `x` runs into the space, heights
//! count from the web. The cutter is a band of its width with a flat end square to its axis.

use super::is_size;
use crate::units::Angle;

/// A cutter along a flank that leans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilt {
    /// Angle of the flank from the shaft axis, and of the head; plus is undercut.
    pub angle: Angle,
    /// From the web up to the tip edge, mm.
    pub height_mm: f64,
    /// Width of the cutter, mm.
    pub cutter_mm: f64,
}

impl Tilt {
    /// How far the flank at the web lies behind its tip edge, mm: `h·tan α`. Plus is under the dog: there the
    /// corner of the cutter passes the line of the tip edge.
    pub fn set_over_mm(&self) -> f64 {
        self.height_mm * self.angle.tan()
    }

    /// How far one corner of the end is above the other, mm: `w·sin|α|`. With an undercut the far corner is
    /// the lower one, so the near one stays that far above the web, and leaves as much of the flank uncut.
    pub fn end_drop_mm(&self) -> f64 {
        self.cutter_mm * libm::sin(self.angle.radians().abs())
    }

    /// The far side of the cutter at a height over the web, mm: `w/cos α − (h − z)·tan α`.
    pub fn far_side_mm(&self, height_mm: f64) -> f64 {
        self.cutter_mm / libm::cos(self.angle.radians())
            - (self.height_mm - height_mm) * self.angle.tan()
    }

    /// The least distance from the cutter to the flank of the next dog, mm; minus cuts into it. `None` for a
    /// width that is no size.
    ///
    /// The next flank is straight from web to tip: `web` and `tip` are its heights and distances.
    pub fn clearance_mm(&self, web: [f64; 2], tip: [f64; 2]) -> Option<f64> {
        // Both lines are straight, so the least distance is at an end.
        let clear = [web, tip].map(|[height, distance]| distance - self.far_side_mm(height));
        is_size(self.cutter_mm).then(|| clear[0].min(clear[1]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tilt(degrees: f64) -> Tilt {
        Tilt { angle: Angle::from_degrees(degrees), height_mm: 5.0, cutter_mm: 8.0 }
    }

    /// The band turned about the tip edge point by point, without the formulas above.
    fn corner(tilt: &Tilt, across: f64, down: f64) -> (f64, f64) {
        let (sin, cos) = (libm::sin(tilt.angle.radians()), libm::cos(tilt.angle.radians()));
        (across * cos - down * sin, tilt.height_mm - across * sin - down * cos)
    }

    #[test]
    fn the_cutter_is_a_band_turned_about_the_tip_edge() {
        for degrees in [-6.0, 0.0, 3.0, 8.0] {
            let tilt = tilt(degrees);
            // The near side meets the web at the set-over.
            let down = tilt.height_mm / libm::cos(tilt.angle.radians());
            let (x, height) = corner(&tilt, 0.0, down);
            assert!(height.abs() < 1e-12 && (x + tilt.set_over_mm()).abs() < 1e-12, "{degrees}");
            for down in [0.0, 2.0, 6.0] {
                let (x, height) = corner(&tilt, tilt.cutter_mm, down);
                assert!((tilt.far_side_mm(height) - x).abs() < 1e-12, "{degrees}");
                let (_, near) = corner(&tilt, 0.0, down);
                assert!(((near - height).abs() - tilt.end_drop_mm()).abs() < 1e-12, "{degrees}");
            }
        }
    }

    #[test]
    fn clearance_is_the_least_over_the_whole_flank_of_the_next_dog() {
        for degrees in [-6.0, 0.0, 3.0, 8.0] {
            for (low, high) in [(12.0, 12.0), (13.0, 11.0), (9.0, 12.0)] {
                let tilt = tilt(degrees);
                let told = tilt.clearance_mm([0.0, low], [4.0, high]).unwrap();
                let at = |step: i32| {
                    let share = f64::from(step) / 100.0;
                    low + (high - low) * share - tilt.far_side_mm(4.0 * share)
                };
                let least = (0..=100).map(at).fold(f64::INFINITY, f64::min);
                assert!((told - least).abs() < 1e-12, "{degrees}: {told} {least}");
            }
        }
        assert_eq!(
            Tilt { cutter_mm: f64::NAN, ..tilt(3.0) }.clearance_mm([0.0; 2], [1.0; 2]),
            None
        );
    }
}
