//! Handles: where on a view a number can be taken hold of, and what a drag makes of it.
//!
//! A drag is plain arithmetic: [`Handle::value_at`] turns a point of the view into a number, with
//! no state, so that it is tested without a browser.

mod apart;
mod drag_mapping;
mod maker;
mod shape;

pub(crate) use apart::keep_apart;
pub(crate) use drag_mapping::DragMapping;
pub(crate) use maker::HandleMaker;
pub use shape::HandleShape;

use crate::fields::{FieldId, Slot};
use crate::ring::Point;

/// One handle on one view.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// The number it holds.
    pub slot: Slot,
    /// Where its number is on the view.
    pub at: Point,
    /// Where it is shown: there, or aside where others are too near.
    pub shown: Point,
    /// How it looks.
    pub shape: HandleShape,
    /// Where its leader line comes from, if it has one.
    pub from: Option<Point>,
    /// Its number now.
    pub value: f64,
    /// Smallest number it can be dragged or stepped to.
    pub min: f64,
    /// Largest number it can be dragged or stepped to.
    pub max: f64,
    pub(crate) mapping: DragMapping,
}

impl Handle {
    /// The number that dragging the handle to a point gives, within its limits and rounded to
    /// what the drawing can resolve.
    pub fn value_at(&self, p: Point) -> f64 {
        let step = self.slot.field().spec().fine;
        let number = self.mapping.number_at(p, self.value);
        self.clamp(in_steps((number / step).round(), step))
    }

    /// Whether its place and all its numbers are finite.
    pub(crate) fn is_finite(&self) -> bool {
        let ends = [Some(self.at), self.from].into_iter().flatten();
        ends.flat_map(|p| [p.x, p.y]).chain([self.value, self.min, self.max]).all(f64::is_finite)
            && self.value_at(self.at).is_finite()
    }

    /// A number brought within the handle's limits.
    pub const fn clamp(&self, value: f64) -> f64 {
        // Where the limits cross, the lower one holds.
        value.min(self.max).max(self.min)
    }

    /// The number after an arrow key: up or down by a fine or a coarse step. Phase runs round.
    pub fn stepped(&self, steps: f64, coarse: bool) -> f64 {
        let field = self.slot.field().spec();
        let step = if coarse { field.coarse } else { field.fine };
        // Rounded to a hundredth of a step, so that rounding errors of many steps do not add up.
        let value = in_steps(((self.value + steps * step) / (step / 100.0)).round(), step / 100.0);
        if self.slot == Slot::Setting(FieldId::Phase) {
            return value.rem_euclid(360.0);
        }
        self.clamp(value)
    }
}

/// A whole number of steps. Steps below one are divided by, because 299 / 10 is 29.9 and 299 × 0.1
/// is not; round numbers keep links short.
fn in_steps(count: f64, step: f64) -> f64 {
    if step < 1.0 { count / (1.0 / step).round() } else { count * step }
}
