//! Crenel: geometry and mechanics of motorcycle gearbox dogs.
//!
//! The core knows nothing of a browser, the clock or files. Data flows one way:
//! [`design`] → working geometry ([`ring`], [`solid`], [`pair`], [`shift`]) → [`report`] → [`draw`] → [`export`].

pub mod design;
pub mod draw;
pub mod export;
pub mod fields;
pub mod finding;
pub mod load;
pub mod pair;
pub mod report;
pub mod ring;
pub mod selector;
pub mod shift;
pub mod shop;
pub mod solid;
pub mod stack;
pub mod trace;
pub mod units;
pub mod words;
