//! Crenel: geometry and mechanics of motorcycle gearbox dogs.
//!
//! The core knows nothing of a browser, the clock or files. Data flows one way:
//! [`design`] → working geometry ([`ring`], [`solid`], [`pair`], [`shift`]) → [`analysis`] → [`figures`] and [`findings`] →
//! [`report`], [`draw`] → [`export`].

pub use crenel_geometry::{load, pair, ring, selector, shift, shop, solid, stack, units};

pub mod analysis;
pub mod compare;
pub mod design;
pub mod diagnosis;
pub mod draw;
pub mod export;
pub mod fields;
#[cfg(test)]
mod figure_surfaces;
pub mod figures;
pub mod finding;
pub mod findings;
pub mod glossary;
pub mod report;
pub mod rework;
pub mod suggest;
