//! What a point of a view means to a handle: plain arithmetic from a point to a number.

use crate::ring::Point;
use crate::selector::Pedal;
use crate::units::Angle;

/// What a point of the view means to a handle.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum DragMapping {
    /// Twice the distance from the axis.
    Diameter,
    /// The direction from a zero, `sign·(direction − zero)`, degrees from 0 to 360.
    Direction { zero: f64, sign: f64 },
    /// Twice the angle to a middle, or a pitch less that.
    Width { middle: f64, pitch: Option<f64> },
    /// Distance across, as an angle from one in radians, degrees from 0 to 360.
    Across { from: f64, radius_mm: f64 },
    /// Distance upwards from a level; a negative factor for downwards.
    Along { zero: f64, factor: f64 },
    /// Distance across from the start of an axis.
    Axis { factor: f64 },
    /// Distance across from a zero, so many mm of the drawing for each unit of the number.
    Lever { zero: f64, per_unit: f64 },
    /// Distance from a point.
    Far { from: Point, factor: f64 },
    /// Lean from straight up about a point, degrees to the left.
    Lean { about: Point },
    /// Direction from a point, degrees counter-clockwise from across.
    Bearing { about: Point },
    /// Turn about the origin from a direction, in lengths of arc, within half a turn of the number now.
    Arc { zero: f64, factor: f64 },
    /// The rod that brings the peg of a pedal there, with the front to the left.
    Peg { pedal: Pedal },
}

impl DragMapping {
    /// The number that a point stands for, neither limited nor rounded. `now` is the number of the handle
    /// before the drag, for what a point alone does not say.
    pub(super) fn number_at(&self, p: Point, now: f64) -> f64 {
        match self {
            Self::Diameter => 2.0 * p.radius(),
            Self::Direction { zero, sign } => {
                Angle::from_radians(sign * (p.angle() - zero)).degrees().rem_euclid(360.0)
            }
            Self::Width { middle, pitch } => {
                let half = Angle::from_radians(p.angle() - middle).signed().degrees().abs();
                pitch.map_or(2.0 * half, |pitch| pitch - 2.0 * half)
            }
            Self::Across { from, radius_mm } => {
                (from + p.x / radius_mm).to_degrees().rem_euclid(360.0)
            }
            Self::Along { zero, factor } => (p.y - zero) * factor,
            Self::Axis { factor } => p.x * factor,
            Self::Lever { zero, per_unit } => (p.x - zero) / per_unit,
            Self::Far { from, factor } => factor * from.distance(p),
            Self::Lean { about } => libm::atan2(about.x - p.x, p.y - about.y).to_degrees(),
            Self::Bearing { about } => {
                Point::new(p.x - about.x, p.y - about.y).angle().to_degrees()
            }
            Self::Arc { zero, factor } => {
                let turned = now / factor;
                let moved = Angle::from_radians(p.angle() - zero - turned).signed().radians();
                (turned + moved) * factor
            }
            Self::Peg { pedal } => pedal.rod_for_peg(Point::new(-p.x, p.y)).unwrap_or(now),
        }
    }
}
