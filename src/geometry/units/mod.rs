//! Units of the trade: mm, degrees, rpm, ms, N, kg at every boundary; radians only inside formulas.
//!
//! Lengths are `f64` in millimetres and say so in their names (`height_mm`). Angles are the type
//! [`Angle`], so that degrees and radians cannot be mixed up. [`Quantity`] knows how each kind of
//! number is written and read, in the units the user chose.

mod angle;
mod collected;
mod order;
mod quantity;
mod quote;
mod rounding;
mod seeded;
mod speed;
mod typed;
mod writing;

pub use angle::Angle;
pub use collected::{map_of, set_of};
pub use order::{quantile, sort_by_number};
pub use quantity::{AngleStyle, DisplayUnits, LengthUnit, Quantity};
pub use quote::sanitize_quote;
pub use seeded::Seeded;
pub use speed::{rad_per_s, rpm};
pub use typed::ParseError;
pub use writing::{ABSENT, decimal, push_decimal, with_capital};
