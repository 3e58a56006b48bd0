//! Geometry and mechanics of dog engagement, on plain numbers.
//!
//! This crate knows neither user input nor saved designs nor reports. A ring is given as working geometry, and
//! impossible geometry is an error with its numbers.
//!
//! | for | see |
//! |---|---|
//! | lengths, angles, numbers as people type and read them | [`units`] |
//! | one ring: dogs, outlines, metal, work on the dogs | [`ring`] |
//! | two rings: what blocks what, windows, full depth, jams | [`pair`] |
//! | one shift event by event, maps of many shifts, the blow | [`shift`] |
//! | the driveline as a chain of masses, event by event | [`driveline`] |
//! | sharing among the dogs, stresses, holding in | [`load`] |
//! | a ring on its web as exact faces, facets and visible lines | [`solid`] |
//! | pedal, linkage, claw, detent, drum track | [`selector`] |
//! | forks over the whole turn of the drum, two gears at once, empty angles | [`drum`] |
//! | dimension chains along the shaft, clearance, shims | [`stack`] |
//! | sizes from the readings of calliper, pin, table and dial | [`gauging`] |
//! | index plates, cutters, grit, tolerances, unbalance | [`shop`] |
//!
//! Angles are radians inside formulas and [`units::Angle`] at every boundary; lengths are millimetres,
//! times seconds, forces newtons, and a name that ends in a unit says so.
//!
//! ```
//! use crenel_geometry::pair::{Edges, Mesh};
//! use crenel_geometry::ring::EvenRing;
//! // Six dogs of 24° against six: windows of 60° − 2 · 24° = 12° between the tips.
//! let ring = EvenRing::default().to_ring();
//! let mesh = Mesh::new(&ring, &ring)?;
//! let windows = mesh.entry_windows(Edges::Sharp);
//! assert_eq!(windows.len(), 6);
//! assert!((windows[0].width.degrees() - 12.0).abs() < 1e-9);
//! # Ok::<(), crenel_geometry::pair::NoCommonBand>(())
//! ```

mod per;

pub mod driveline;
pub mod drum;
pub mod gauging;
pub mod load;
pub mod pair;
pub mod ring;
pub mod selector;
pub mod shift;
pub mod shop;
pub mod solid;
pub mod stack;
pub mod units;
