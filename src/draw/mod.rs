//! A neutral scene of lines, arcs and text by drawing role, and the views that make one.
//!
//! Nothing here computes a result: views only place what [`crate::analysis::Analysis`] worked out.
//! Scenes are in mm with y up. Screen and files show the same scenes.
//!
//! [`views::VIEWS`] lists every view. A view gives its frame, its drawing and its handles; what none of
//! them can be is beside it: the machining drawing, the picture of the solids, several layouts in
//! one chart, drum and shafts of a whole gearbox.

mod contour;
mod curves;
mod drum;
mod frame;
mod handle;
mod legend;
mod linkage_subject;
mod options;
mod paper;
mod printed;
mod release;
mod scene;
mod series;
mod shafts;
mod sheet;
mod solid;
mod sweep_chart;
mod sweep_map;
mod time_line;
mod tracks;
mod trade;
mod view;
pub mod views;

pub use curves::{Curve, chance_curves};
pub use drum::DrumChart;
pub use frame::{Frame, Zoom, chance_frame};
pub use handle::{Handle, HandleShape};
pub use options::{RingState, StrokeMoment, ViewOptions};
pub use paper::{Fit, MARGIN_MM, PaperSize};
pub use printed::{MM_PER_POINT, printed};
pub use release::{release_chart, release_frame};
pub use scene::{Anchor, Bounds, Item, ItemKey, Line, Role, Scene, Shape, Text};
pub use shafts::ShaftSection;
pub use sheet::{paper_drawing, ring_drawing};
pub use solid::{LIGHTEST, Turn3, left_out, picture};
pub use sweep_chart::{sweep_chart, sweep_frame};
pub use sweep_map::{sweep_map, sweep_map_frame};
pub use time_line::{TimeLines, time_line_chart, time_line_frame};
pub use tracks::tracks_developed;
pub use trade::{Trade, top_of, trade_chart};
pub use view::{Chart, Follows, Subject, View};
