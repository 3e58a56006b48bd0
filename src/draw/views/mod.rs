//! The catalogue of views: each is a row of its own, in a file of its own, and nothing else knows which
//! views there are.

mod chains;
mod chance;
mod claw;
mod face;
mod linkage;
mod map;
mod outcome;
mod swing;
mod track;
mod unrolled;

pub use chains::CHAINS;
pub use chance::CHANCE;
pub use claw::CLAW;
pub use face::FACE;
pub use linkage::LINKAGE;
pub use map::MAP;
pub use outcome::OUTCOME;
pub use swing::SWING;
pub use track::TRACK;
pub use unrolled::UNROLLED;

use super::view::View;

/// Every view, in the order of the page.
pub static VIEWS: [&View; 10] =
    [&FACE, &UNROLLED, &MAP, &OUTCOME, &CHANCE, &LINKAGE, &SWING, &CLAW, &TRACK, &CHAINS];

#[cfg(test)]
mod tests;
