//! What a handle looks like: by what it moves.

use super::DragMapping;
use crate::fields::{FieldId, Slot};
use crate::ring::Point;

/// What a handle looks like. Directions are in degrees, counter-clockwise from across.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HandleShape {
    /// A ring: a radius, or the distance from a point.
    Ring,
    /// A bar along the edge that moves.
    Bar(f64),
    /// An arc with two arrows, on the side in this direction of what it turns about.
    Arc(f64),
    /// A triangle: an undercut.
    Triangle,
}

impl HandleShape {
    pub(super) fn of(slot: Slot, at: Point, mapping: &DragMapping) -> Self {
        if is_undercut(slot) {
            return Self::Triangle;
        }
        let seen_from =
            |about: &Point| Point::new(at.x - about.x, at.y - about.y).angle().to_degrees();
        match mapping {
            DragMapping::Diameter | DragMapping::Far { .. } => Self::Ring,
            DragMapping::Width { .. } => Self::Bar(at.angle().to_degrees()),
            DragMapping::Direction { .. } | DragMapping::Arc { .. } => {
                Self::Arc(at.angle().to_degrees())
            }
            DragMapping::Bearing { about } | DragMapping::Lean { about } => {
                Self::Arc(seen_from(about))
            }
            DragMapping::Peg { .. } => Self::Arc(90.0),
            DragMapping::Along { .. } => Self::Bar(0.0),
            DragMapping::Across { .. } | DragMapping::Axis { .. } | DragMapping::Lever { .. } => {
                Self::Bar(90.0)
            }
        }
    }
}

const fn is_undercut(slot: Slot) -> bool {
    use FieldId::{BackCutCoast, BackCutDrive};
    matches!(
        slot,
        Slot::Ring(_, BackCutDrive | BackCutCoast) | Slot::Dog(_, _, BackCutDrive | BackCutCoast)
    )
}
