//! Files: each a leaf on a [`crate::draw::Scene`] or a report. Nothing here computes a result.

mod csv;
mod dxf;
mod name;
mod step;
mod stl;
mod svg;

pub use csv::{chances_csv, dogs_csv, index_csv};
pub use dxf::dxf;
pub use name::file_name;
pub use step::step;
pub use stl::stl;
pub use svg::{svg_file, svg_markup};
