//! Where the camera stood.

use crate::small::{Matrix3, dot, times, transposed};

/// A camera and the plane of the tips before it.
///
/// Points of the ring have x and y in the plane of the tips about the axis, y upwards in the picture, and their height
/// above that plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// From the lens to the picture, px.
    pub focal_px: f64,
    /// The point of the picture that the lens looks at.
    pub middle: [f64; 2],
    /// How the plane leans, as a rotation about x and y, radians.
    pub lean: [f64; 2],
    /// Where the centre of the ring is before the lens: to the right, up, and away, mm.
    pub place: [f64; 3],
}

impl View {
    /// The turn from the ring to the camera (Rodrigues' formula for an axis in the plane).
    fn rotation(&self) -> Matrix3 {
        let [x, y] = self.lean;
        let angle = libm::hypot(x, y);
        let (sin, cos) = libm::sincos(angle);
        let by = if angle > 1e-12 { sin / angle } else { 1.0 };
        let square = if angle > 1e-12 { (1.0 - cos) / (angle * angle) } else { 0.5 };
        [
            [1.0 - square * y * y, square * x * y, by * y],
            [square * x * y, 1.0 - square * x * x, -by * x],
            [-by * y, by * x, cos],
        ]
    }

    /// Where points of the ring are seen, with what is the same for all of them worked out once.
    pub(crate) fn onto_picture(&self) -> impl Fn([f64; 3]) -> [f64; 2] + use<> {
        let (turn, view) = (self.rotation(), *self);
        move |point| {
            let turned = times(&turn, point);
            let by = view.focal_px / (view.place[2] - turned[2]);
            [
                view.middle[0] + by * (turned[0] + view.place[0]),
                view.middle[1] - by * (turned[1] + view.place[1]),
            ]
        }
    }

    /// Where a point of the ring is seen.
    pub fn to_picture(&self, point: [f64; 3]) -> [f64; 2] {
        self.onto_picture()(point)
    }

    /// Where a point in the plane of the tips is seen, by its radius and its angle.
    pub fn polar(&self, radius_mm: f64, angle: f64, height_mm: f64) -> [f64; 2] {
        let (sin, cos) = libm::sincos(angle);
        self.to_picture([radius_mm * cos, radius_mm * sin, height_mm])
    }

    /// The points at a height above the tips that are seen at places of the picture, as [`Self::onto_picture`].
    pub(crate) fn onto_plane(&self, height_mm: f64) -> impl Fn([f64; 2]) -> [f64; 2] + use<> {
        let (back, eye, view) = (transposed(&self.rotation()), self.eye(), *self);
        move |[u, v]| {
            let seen = [(u - view.middle[0]), (view.middle[1] - v), -view.focal_px];
            let ray = times(&back, seen);
            let along = (height_mm - eye[2]) / ray[2];
            [eye[0] + along * ray[0], eye[1] + along * ray[1]]
        }
    }

    /// The point at a height above the tips that is seen at a place of the picture.
    pub fn to_plane(&self, place: [f64; 2], height_mm: f64) -> [f64; 2] {
        self.onto_plane(height_mm)(place)
    }

    /// The lens as the ring sees it, mm.
    pub fn eye(&self) -> [f64; 3] {
        let [x, y, away] = self.place;
        let turn = transposed(&self.rotation());
        turn.map(|row| -dot(row, [x, y, -away]))
    }

    /// Angle between the axis and the line from the ring to the lens, radians.
    pub fn tilt(&self) -> f64 {
        let [x, y, up] = self.eye();
        libm::atan2(libm::hypot(x, y), up)
    }

    /// By how much a flank at a radius is read wrong, at most, if its edge is 1 mm nearer or farther than the plane of the
    /// tips, radians: what is seen there is `h·tan(tilt)` aside.
    pub fn error_per_mm(&self, radius_mm: f64) -> f64 {
        libm::atan(libm::tan(self.tilt()) / radius_mm)
    }

    /// Pixels for each mm of the ring.
    pub fn px_per_mm(&self) -> f64 {
        self.focal_px / self.place[2]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ellipse::Ellipse;

    /// A camera at a distance, with the ring in the middle of its picture and leaning to the right.
    fn leaning(degrees: f64, away_mm: f64) -> View {
        View {
            focal_px: 8.0 * away_mm,
            middle: [600.0, 600.0],
            lean: [0.0, degrees.to_radians()],
            place: [0.0, 0.0, away_mm],
        }
    }

    #[test]
    fn what_is_seen_is_found_again() {
        let view = View { lean: [0.2, -0.3], place: [4.0, -7.0, 300.0], ..leaning(0.0, 300.0) };
        for (x, y, height) in [(20.0, 3.0, 0.0), (-11.0, 25.0, -5.0), (0.0, 0.0, 2.0)] {
            let [a, b] = view.to_plane(view.to_picture([x, y, height]), height);
            assert!((a - x).abs() < 1e-9 && (b - y).abs() < 1e-9, "{a} {b}");
        }
        assert!((leaning(25.0, 500.0).tilt().to_degrees() - 25.0).abs() < 1e-9);
    }

    /// Dogs 5 mm above the plane of the circles, at r 26: atan(5 tan 10° / 26) = 1.94°, and 5.12° at 25°. The worst place
    /// is a little past the square one, where a shift `s` turns by asin(s/r): 5.14° at 25°.
    #[test]
    fn a_height_that_is_not_known_costs_this() {
        for (tilt, expected) in [(10.0, 1.94), (25.0, 5.14)] {
            let view = leaning(tilt, 1e6);
            let worst = (0..3600).map(|i| {
                let at = (f64::from(i) / 10.0).to_radians();
                let [x, y] = view.to_plane(view.polar(26.0, at, 5.0), 0.0);
                let off = libm::atan2(y, x) - at;
                libm::atan2(libm::sin(off), libm::cos(off)).abs().to_degrees()
            });
            let worst = worst.fold(0.0, f64::max);
            assert!((worst - expected).abs() < 6e-3, "{worst}");
        }
        let one = leaning(10.0, 600.0).error_per_mm(26.0).to_degrees();
        assert!((one - 0.3886).abs() < 1e-4, "{one}");
    }

    /// With an outer ellipse alone made round again: 0.574° at 10° from 600 mm, 0.287° from 1,200 mm, 1.131° at 20° from
    /// 600 mm.
    #[test]
    fn an_ellipse_alone_is_not_enough() {
        for (tilt, away, expected) in
            [(10.0, 600.0, 0.574), (10.0, 1200.0, 0.287), (20.0, 600.0, 1.131)]
        {
            let view = leaning(tilt, away);
            let turns = |many: i32| {
                (0..many).map(move |i| std::f64::consts::TAU / f64::from(many) * f64::from(i))
            };
            let rim: Vec<_> = turns(90).map(|at| view.polar(30.0, at, 0.0)).collect();
            let ellipse = Ellipse::through(&rim).expect("an ellipse");
            let (middle, [long, short]) = (ellipse.middle(), ellipse.axes());
            let part = |p: [f64; 2], axis: [f64; 2]| {
                ((p[0] - middle[0]) * axis[0] + (p[1] - middle[1]) * axis[1])
                    / (axis[0] * axis[0] + axis[1] * axis[1])
            };
            // The longer axis is upright here, the shorter one to the side.
            let flip = |axis: [f64; 2], side: usize| {
                if axis[side] * [1.0, -1.0][side] < 0.0 { -1.0 } else { 1.0 }
            };
            let worst = turns(3600).map(|at| {
                let p = view.polar(26.0, at, 0.0);
                let found =
                    libm::atan2(part(p, long) * flip(long, 1), part(p, short) * flip(short, 0));
                let off = found - at;
                libm::atan2(libm::sin(off), libm::cos(off)).abs().to_degrees()
            });
            let worst = worst.fold(0.0, f64::max);
            assert!((worst - expected).abs() < 1.5e-3, "{tilt} {away}: {worst}");
        }
    }
}
