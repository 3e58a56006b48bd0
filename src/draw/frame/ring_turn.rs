//! How the rings' own angles lie in a view from the dog side of A.

use crate::draw::scene::Shape;
use crate::ring::{Outline, Point, Segment, Side};
use crate::units::Angle;

/// How a ring's own angles lie in the view.
#[derive(Clone, Copy)]
pub(crate) struct RingTurn {
    a: Angle,
}

impl RingTurn {
    pub(crate) fn at(phase: Angle) -> Self {
        Self { a: phase }
    }

    /// Direction in the view of an angle measured on the dogs of a ring.
    pub(crate) fn direction(self, side: Side, angle: Angle) -> f64 {
        match side {
            Side::A => (angle + self.a).radians(),
            Side::B => (-angle).radians(),
        }
    }

    pub(crate) fn point(self, side: Side, p: Point) -> Point {
        Point::polar(p.radius(), self.direction(side, Angle::from_radians(p.angle())))
    }

    fn segment(self, side: Side, segment: &Segment) -> Segment {
        match *segment {
            Segment::Line { from, to } => {
                Segment::Line { from: self.point(side, from), to: self.point(side, to) }
            }
            Segment::Arc { radius, start, sweep } => Segment::Arc {
                radius,
                start: self.direction(side, Angle::from_radians(start)),
                sweep: if side == Side::A { sweep } else { -sweep },
            },
        }
    }

    pub(crate) fn outline(self, side: Side, outline: &Outline) -> Shape {
        let segments = outline.segments.iter().map(|s| self.segment(side, s)).collect();
        Shape::Path { segments, closed: true }
    }
}
