//! From the readings of calliper, pin, table and dial to the sizes of a ring, with their uncertainties.
//!
//! A gauge is a function that says what it would read on a given [`Shape`]. [`fit`] looks for the shape on
//! which all gauges read what was read, by least squares weighted with the uncertainties of the readings. A new
//! gauge is therefore one function; no formula is ever inverted.
//!
//! ```
//! use crenel_geometry::gauging::{Reading, Shape, Size, Spread, fit, gauges};
//! // Six dogs, a chord of 12.4 mm across the first one at a diameter of 60 mm.
//! let start = Shape::even(6, 26.0);
//! let chord = Reading::new(gauges::chord_mm, 0, 60.0, 12.4, 0.02);
//! let fitted = fit(&start, &[chord])?;
//! let width = fitted.size(Size::Width, 0, Spread::Equally);
//! assert!((width.value.to_degrees() - 23.854163).abs() < 1e-6);
//! # Ok::<(), crenel_geometry::gauging::NoFit>(())
//! ```

mod contact;
mod fit;
pub mod gauges;
mod shape;
mod solve;
mod unknowns;

pub use contact::{Contact, contact, contact_by_spacing};
pub use fit::{Checked, Fit, Fitted, NoFit, Origin, Reading, Spread, fit};
pub use shape::{Shape, Size};
