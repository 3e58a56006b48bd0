//! A neutral scene of lines, arcs and text by drawing role, and the views that make one.
//!
//! Nothing here computes a result: views only place what [`crate::report::Analysis`] worked out.
//! Scenes are in mm with y up. Screen and files show the same scenes.

mod chains;
mod claw;
mod face;
mod frame;
mod handle;
mod hatch;
mod linkage;
mod look;
mod map;
mod outcomes;
mod paper;
mod plot;
mod scene;
mod sheet;
mod solid;
mod track;
mod unrolled;
mod zoom;

pub use frame::{Bounds, Frame, ViewKind};
pub use handle::{Handle, handles};
pub use look::{Look, view};
pub use outcomes::{chance_curves, chance_reading, chart_cells, outcome_reading, outcome_role};
pub use paper::{Fit, MARGIN_MM, PaperSize};
pub use scene::{Anchor, Item, Line, Role, Scene, Shape, Text};
pub use sheet::{paper_drawing, ring_drawing};
pub use solid::{LIGHTEST, Turn3, left_out, picture};
pub use zoom::Zoom;
