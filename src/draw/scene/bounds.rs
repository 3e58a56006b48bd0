//! A rectangle in scene coordinates.

use crate::ring::Point;

/// A rectangle in scene coordinates, mm with y up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lower left corner.
    pub min: Point,
    /// Upper right corner.
    pub max: Point,
}

impl Bounds {
    /// Width, mm.
    pub const fn width(&self) -> f64 {
        self.max.x - self.min.x
    }

    /// Height, mm.
    pub const fn height(&self) -> f64 {
        self.max.y - self.min.y
    }
}
