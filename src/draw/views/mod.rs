//! The catalogue of views: each is a row of its own, in a file of its own, and nothing else knows which
//! views there are.

mod chains;
mod chance;
mod claw;
mod drum;
mod face;
mod linkage;
mod map;
mod outcome;
mod shafts;
mod swing;
mod track;
mod unrolled;

use super::view::View;

/// Makes the catalogue of its lines: each hands on the row of a file.
macro_rules! views {
    ($(pub use $file:ident::$row:ident;)+) => {
        $(pub use $file::$row;)+

        /// Every view, in the order of the page.
        pub static VIEWS: [&View; [$(stringify!($row)),+].len()] = [$(&$row),+];
    };
}

views! {
    pub use face::FACE;
    pub use unrolled::UNROLLED;
    pub use map::MAP;
    pub use outcome::OUTCOME;
    pub use chance::CHANCE;
    pub use face::FORCES;
    pub use linkage::LINKAGE;
    pub use swing::SWING;
    pub use claw::CLAW;
    pub use track::TRACK;
    pub use chains::CHAINS;
    pub use drum::DRUM;
    pub use shafts::SHAFTS;
}

#[cfg(test)]
mod tests;
