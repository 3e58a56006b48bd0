//! Crenel: geometry and mechanics of motorcycle gearbox dogs.
//!
//! The core knows nothing of a browser, the clock or files. Data flows one way:
//! [`design`] → working geometry ([`ring`], [`solid`], [`pair`], [`shift`]) → [`report`] → [`draw`] → [`export`].

pub use crenel_geometry::{load, pair, ring, selector, shift, shop, solid, stack, units};

pub mod design;
pub mod draw;
pub mod export;
pub mod fields;
pub mod finding;
pub mod report;
pub mod trace;
pub mod words;
