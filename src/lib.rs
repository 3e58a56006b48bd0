//! Geometry and mechanics of motorcycle gearbox dogs, from a design to numbers, drawings and files.
//!
//! A [`design::Design`] is what the user gave. [`analysis::Analysis`] works it out, whatever the design
//! holds. Figures and findings are read off it, scenes are drawn from it, and files are written from
//! these. Nothing here knows a browser, a clock or files.
//!
//! ```
//! use crenel::analysis::Analysis;
//! use crenel::design::open;
//! use crenel::draw::ViewOptions;
//! use crenel::draw::views::FACE;
//! use crenel::export::svg_file;
//! use crenel::figures::{FREE_ANGLE, figures};
//! use crenel_words::Reader;
//!
//! // Open: six dogs of 22° on each ring, an invented pair.
//! let opened = open(r#"{ "crenel": 1, "a": { "tip_width_deg": 22 }, "b": { "tip_width_deg": 22 } }"#)
//!     .expect("it is a design");
//!
//! // Analyse, and read figures.
//! let analysis = Analysis::of(&opened.design);
//! let reader = Reader::default();
//! let figures = figures(&analysis);
//! let of = |row| figures.iter().find(|value| value.figure == row).expect("the rings mesh");
//! assert_eq!(of(&FREE_ANGLE).shown(reader), "16°");
//! for finding in &analysis.findings {
//!     println!("{}", finding.whole(reader));
//! }
//!
//! // Draw, and export.
//! let frame = FACE.frame(&analysis, 600.0, 1.0, 12.0);
//! let scene = FACE.draw(&analysis, &frame, &ViewOptions::default());
//! let file = svg_file(&scene, "Six on six");
//! assert!(file.contains("<svg"));
//! ```
//!
//! # By task
//!
//! | to | use |
//! |---|---|
//! | open or save a file | [`design::open`], [`design::save`] |
//! | read or write a link | [`design::decode`], [`design::encode`] |
//! | change one number by the name of its input | [`design::Design::set`] with a [`fields::Slot`] |
//! | check a number that somebody typed | [`fields::Slot::read`] |
//! | work a design out | [`analysis::Analysis::of`] |
//! | list its numbers with formula, working and source | [`figures::figures`], [`figures::catalogue`] |
//! | see what is wrong or worth knowing | [`finding::Finding`] |
//! | say in one sentence how a design stands | [`verdict`] |
//! | compare layouts under the same conditions | [`compare`] |
//! | find the smallest cut for a goal | [`suggest`] |
//! | see how far figures range over the tolerances | [`tolerance`] |
//! | go from a symptom to its cause | [`diagnosis`] |
//! | tell one of the six stories, and answer its question | [`story::STORIES`] |
//! | sweep a figure over one or two inputs | [`sweep::Sweep`] |
//! | draw a view, or drag in it | [`draw::views`], [`draw::View`] |
//! | write a file | [`export::EXPORTS`] |
//! | list the sources that it follows | [`references::REFERENCES`] |
//! | translate every text | [`texts::all`], `crenel_words::Dictionary` |
//! | work a whole gearbox out, its drum and all its shifts | [`gearset::GearsetAnalysis::of`] |
//! | use the geometry without a design | the modules of `crenel-geometry`: [`ring`], [`pair`], [`shift`] … |
//!
//! # Units and signs
//!
//! Lengths are millimetres, forces newtons, times milliseconds in designs and seconds inside; a name that
//! ends in a unit says so. Angles are degrees where somebody gave them and [`units::Angle`] elsewhere. Each
//! ring is described looking at its own dogs: angles run counter-clockwise, and the drive flank is on the
//! clockwise side. A speed difference is plus where the input side is the faster one.

pub use crenel_geometry::{
    driveline, drum, gauging, load, pair, ring, selector, shift, shop, solid, stack, units,
};

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
pub mod find;
pub mod finding;
pub mod findings;
pub mod gauge;
pub mod gearset;
pub mod glossary;
pub mod limits;
pub mod measure;
pub mod model;
pub mod references;
pub mod report;
pub mod rework;
pub mod story;
pub mod suggest;
pub mod sweep;
pub mod texts;
pub mod tolerance;
pub mod verdict;
