//! A photograph of the dogs of a gear, looking at their tips, made into measured flanks with their uncertainty.
//!
//! | step | see |
//! |---|---|
//! | grey pixels, light between them, noise | [`Grey`] |
//! | an ellipse through edge points, broken arcs and outliers | [`Ellipse`] |
//! | centre and vanishing line from two concentric circles | [`concentric()`] |
//! | where the camera stood: tilt, heights, error of a height that is not known | [`View`], [`pose()`] |
//! | what the first bytes of a file say of its picture | [`header()`] |
//! | where the ring may be | [`propose()`] |
//! | handles by which circles are laid over a picture | [`Handle`] |
//! | the flanks along circles in the plane of the tips | [`measure()`] |
//!
//! The crate knows no files and decodes nothing: it takes grey pixels. Pixels are counted from the top left corner of the
//! picture, so that the first one has its middle at (0.5, 0.5). Angles run counter-clockwise as one sees the dogs, and
//! lengths are mm.
//!
//! Heights and back-cut are not in a picture of the tips. A straight-line lens is assumed; what one that bends by 1 %
//! would change is part of the uncertainty.

mod concentric;
mod edge;
mod ellipse;
mod handles;
mod header;
mod measure;
mod picture;
mod pose;
mod propose;
mod saved;
mod sectors;
mod small;
mod view;

pub use concentric::{Concentric, concentric};
pub use ellipse::Ellipse;
pub use handles::Handle;
pub use header::{HEADER_BYTES, Header, header};
pub use measure::{
    Circle, Doubt, Flank, Hints, LEAST_RADIUS_PX, Lowered, MOST_ERROR, Measured, NotMeasured,
    PhotoDog, measure,
};
pub use picture::Grey;
pub use pose::{Posed, Traced, pose};
pub use propose::propose;
pub use saved::{hints_from_json, hints_to_json, measured_from_json, measured_to_json};
pub use view::View;
