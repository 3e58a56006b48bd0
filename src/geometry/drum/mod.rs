//! The drum of a whole gearbox: what every fork does over a turn, which gears are in, and what is between them.
//!
//! Drum angles are degrees from 0 to 360, lengths mm. The travel of a fork is plus towards the gear on the
//! higher face of its slider; the overlap of a gear is `x = ±p − c`, plus once its tips have passed each
//! other. Everything is piecewise straight over the drum angle, so that each crossing is solved in closed
//! form. Nothing is sampled.
//!
//! ```
//! use crenel_geometry::drum::{Drum, Face, Fork, Gear, Play, Position};
//! use crenel_geometry::selector::Track;
//! // Two forks move 5 mm, one after the other; the first leaves an overlap of 4.4, the second has 0.6 to go.
//! let fork = |points: [[f64; 2]; 2]| Fork::plain(Track::through(points.to_vec()).expect("it rises"));
//! let gear = |fork| Gear { fork, ..Gear::plain(Face::Higher, 0.6) };
//! let drum = Drum {
//!     forks: vec![fork([[4.0, 5.0], [26.0, 0.0]]), fork([[34.0, 0.0], [56.0, 5.0]])],
//!     shafts_mm: vec![0.0],
//!     gears: vec![gear(0), gear(1)],
//!     positions: vec![Position { deg: 0.0, gear: Some(0) }, Position { deg: 60.0, gear: Some(1) }],
//!     float_mm: 0.0,
//!     slack_deg: 0.0,
//!     stand_deg: 0.0,
//! };
//! let change = drum.changes(Play::Nominal)[0];
//! assert!((change.free_of_touch_deg().expect("both are in") - 13.28).abs() < 1e-9);
//! ```

mod between;
mod course;
mod fork_room;
mod layout;
mod overlap;
mod together;

pub use between::{Change, Rest};
pub use course::{Course, Level, Span, TURN_DEG};
pub use fork_room::ForkRoom;
pub use layout::{Drum, Face, Fork, Gear, Position};
pub use overlap::Play;
pub use together::{Held, Together};
