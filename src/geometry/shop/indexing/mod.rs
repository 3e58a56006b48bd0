//! Indexing: turning the work from the datum to each dog, on a dividing head or a rotary table.
//!
//! Positions are counted from the datum, never from the position before, so that errors do not add up from one
//! position to the next.

mod head;
mod plate;
mod sheet;
mod table;

pub use head::{Crank, Dividing, EXACT_MIN, Fit, Job, Step};
pub use plate::{Plate, Plates};
pub use sheet::IndexSheet;
pub use table::{Dial, RotaryTable, TABLES, TableJob, to_the_second};

use crate::units::Angle;

/// An angle that differs from a full turn by less than this differs only by rounding: half of the sixth decimal
/// of a degree, in radians.
const HAIR: f64 = 8.7e-9;

/// The position on the circle, in `[0°, 360°)`. A full turn to within rounding is the datum.
fn on_circle(position: Angle) -> Angle {
    let turned = position.wrapped();
    if (Angle::FULL - turned).radians() < HAIR { Angle::ZERO } else { turned }
}
