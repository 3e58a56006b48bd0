//! The catalogue of faults: what each does to a gearbox, and how much of it is too much.

use crenel_words::{Advice, Value, gearset as say};

use super::condition::Condition;
use crate::drum::Face;
use crate::gearset::{GearsetAnalysis, Part};
use crate::units::Quantity;

/// A part that can be at fault. Gears, forks and shafts are those of the gearbox, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FaultPart {
    /// The shims of one gear, or the place of its free wheel.
    Shim(usize),
    /// The shims of a whole shaft.
    Shaft(usize),
    /// A fork, bent.
    Fork(usize),
    /// The pads of a fork, or the groove that they run in.
    Pads(usize),
    /// The pin of a fork, or the width of its track.
    Pin(usize),
    /// The ramps of a track to and from one gear.
    Track(usize),
    /// Claw and stop.
    Claw,
    /// The detent: star and roller.
    Detent,
    /// The notch of one gear.
    Notch(usize),
    /// The dogs of one gear.
    Dogs(usize),
}

impl FaultPart {
    /// Its word and its number from 1, for programs.
    pub const fn key(self) -> (&'static str, usize) {
        match self {
            Self::Shim(at) => ("shim", at + 1),
            Self::Shaft(at) => ("shaft", at + 1),
            Self::Fork(at) => ("fork", at + 1),
            Self::Pads(at) => ("pads", at + 1),
            Self::Pin(at) => ("pin", at + 1),
            Self::Track(at) => ("track", at + 1),
            Self::Claw => ("claw", 1),
            Self::Detent => ("detent", 1),
            Self::Notch(at) => ("notch", at + 1),
            Self::Dogs(at) => ("dogs", at + 1),
        }
    }

    /// The gears that it disturbs: one, those of a fork or a shaft, or all of them.
    pub fn gears(self, analysis: &GearsetAnalysis) -> Vec<usize> {
        let (drum, on) = (&analysis.drum, &analysis.on_drum);
        let of = |is: &dyn Fn(usize) -> bool| {
            (0..on.len()).filter(|at| is(*at)).map(|at| on[at]).collect()
        };
        match self {
            Self::Shim(gear) | Self::Track(gear) | Self::Notch(gear) | Self::Dogs(gear) => {
                vec![gear]
            }
            Self::Shaft(shaft) => of(&|at| drum.gears[at].shaft == shaft),
            Self::Fork(fork) | Self::Pads(fork) | Self::Pin(fork) => {
                of(&|at| analysis.forks_on_drum[drum.gears[at].fork] == fork)
            }
            Self::Claw | Self::Detent => of(&|_| true),
        }
    }

    /// Where its sizes are; `None` for a shaft.
    pub const fn place(self) -> Option<Part> {
        match self {
            Self::Shim(gear) | Self::Dogs(gear) | Self::Track(gear) | Self::Notch(gear) => {
                Some(Part::Gear(gear))
            }
            Self::Fork(fork) | Self::Pads(fork) | Self::Pin(fork) => Some(Part::Fork(fork)),
            Self::Claw | Self::Detent => Some(Part::Selector),
            Self::Shaft(_) => None,
        }
    }

    /// Which part it is, in words.
    pub fn name(self) -> crenel_words::Message {
        match self {
            Self::Shim(at) => say::fault_in_shim(at),
            Self::Shaft(at) => say::fault_in_shaft(at),
            Self::Fork(at) => say::fault_in_fork(at),
            Self::Pads(at) => say::fault_in_pads(at),
            Self::Pin(at) => say::fault_in_pin(at),
            Self::Track(at) => say::fault_in_track(at),
            Self::Claw => say::fault_in_claw(),
            Self::Detent => say::fault_in_detent(),
            Self::Notch(at) => say::fault_in_notch(at),
            Self::Dogs(at) => say::fault_in_dogs(at),
        }
    }
}

/// What a fault is counted over: the gears, forks or shafts of the drum, or once for all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Over {
    Gears,
    Forks,
    Shafts,
    All,
}

/// One way in which a part can be at fault. Its row in [`FAULTS`] defines all of it.
pub struct FaultKind {
    /// Stable name.
    pub key: &'static str,
    /// What its size measures.
    pub quantity: Quantity,
    /// How much of it a gearbox takes: our own bounds, after common practice, no source.
    pub limit: f64,
    pub(super) over: Over,
    /// Whether it only grows one way, as wear does.
    pub(super) is_wear: bool,
    pub(super) part: fn(usize) -> FaultPart,
    /// Puts so much of it into a gear, fork or shaft of the drum. Returns whether that can be.
    pub(super) put: fn(&mut Condition, usize, f64) -> bool,
    /// What it is in words, with the next thing to do.
    pub(super) says: fn(usize, f64, Value) -> Advice,
}

impl PartialEq for FaultKind {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

impl std::fmt::Debug for FaultKind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.key)
    }
}

const fn way<'a>(size: f64, plus: &'a str, minus: &'a str) -> &'a str {
    if size >= 0.0 { plus } else { minus }
}

/// Wear of a pad on the side that looks to one face: more play, and the slider comes back to that face by half of it.
fn wear_pad(condition: &mut Condition, fork: usize, size: f64, face: Face) -> bool {
    let own = &mut condition.drum.forks[fork];
    own.groove_play_mm += size;
    own.offset_mm -= face.sign() * size / 2.0;
    true
}

/// Every fault, from the outside in.
pub static FAULTS: &[FaultKind] = &[
    FaultKind {
        key: "stop_off_centre",
        quantity: Quantity::Length,
        limit: 0.4,
        over: Over::All,
        is_wear: false,
        part: |_| FaultPart::Claw,
        put: |condition, _, size| {
            condition.gaps_mm.as_mut().is_some_and(|gaps| {
                gaps.lift += size;
                gaps.press -= size;
                true
            })
        },
        says: |_, size, by| say::stop_off_centre(by, way(size, "lift", "press")),
    },
    FaultKind {
        key: "claw_off",
        quantity: Quantity::Length,
        limit: 0.4,
        over: Over::All,
        is_wear: false,
        part: |_| FaultPart::Claw,
        put: |condition, _, size| {
            condition.gaps_mm.as_mut().is_some_and(|gaps| {
                gaps.lift += size;
                gaps.press += size;
                true
            })
        },
        says: |_, size, by| say::claw_off(by, way(size, "short", "long")),
    },
    FaultKind {
        key: "star_turned",
        quantity: Quantity::Angle,
        limit: 1.5,
        over: Over::All,
        is_wear: false,
        part: |_| FaultPart::Detent,
        put: |condition, _, size| {
            for position in &mut condition.drum.positions {
                position.deg += size;
            }
            true
        },
        says: |_, size, by| say::star_turned(by, way(size, "up", "down")),
    },
    FaultKind {
        key: "detent_worn",
        quantity: Quantity::Angle,
        limit: 1.0,
        over: Over::All,
        is_wear: true,
        part: |_| FaultPart::Detent,
        put: |condition, _, size| {
            for slack in &mut condition.slack_deg {
                *slack += size;
            }
            true
        },
        says: |_, _, by| say::detent_worn(by),
    },
    FaultKind {
        key: "notch_worn",
        quantity: Quantity::Angle,
        limit: 1.0,
        over: Over::Gears,
        is_wear: true,
        part: FaultPart::Notch,
        put: |condition, gear, size| {
            condition.slack_deg[gear] += size;
            true
        },
        says: |gear, _, by| say::notch_worn(gear, by),
    },
    FaultKind {
        key: "fork_bent",
        quantity: Quantity::Length,
        limit: 0.2,
        over: Over::Forks,
        is_wear: false,
        part: FaultPart::Fork,
        put: |condition, fork, size| {
            condition.drum.forks[fork].offset_mm += size;
            true
        },
        says: |fork, size, by| say::fork_bent(fork, by, way(size, "higher", "lower")),
    },
    FaultKind {
        key: "pad_worn_higher",
        quantity: Quantity::Length,
        limit: 0.2,
        over: Over::Forks,
        is_wear: true,
        part: FaultPart::Pads,
        put: |condition, fork, size| wear_pad(condition, fork, size, Face::Higher),
        says: |fork, _, by| say::pad_worn(fork, by, "higher"),
    },
    FaultKind {
        key: "pad_worn_lower",
        quantity: Quantity::Length,
        limit: 0.2,
        over: Over::Forks,
        is_wear: true,
        part: FaultPart::Pads,
        put: |condition, fork, size| wear_pad(condition, fork, size, Face::Lower),
        says: |fork, _, by| say::pad_worn(fork, by, "lower"),
    },
    FaultKind {
        key: "groove_worn",
        quantity: Quantity::Length,
        limit: 0.2,
        over: Over::Forks,
        is_wear: true,
        part: FaultPart::Pads,
        put: |condition, fork, size| {
            condition.drum.forks[fork].groove_play_mm += size;
            true
        },
        says: |fork, _, by| say::groove_worn(fork, by),
    },
    FaultKind {
        key: "pin_worn",
        quantity: Quantity::Length,
        limit: 0.15,
        over: Over::Forks,
        is_wear: true,
        part: FaultPart::Pin,
        put: |condition, fork, size| {
            condition.drum.forks[fork].pin_play_mm += size;
            true
        },
        says: |fork, _, by| say::pin_worn(fork, by),
    },
    FaultKind {
        key: "track_off",
        quantity: Quantity::Angle,
        limit: 1.5,
        over: Over::Gears,
        is_wear: false,
        part: FaultPart::Track,
        put: Condition::move_ramps,
        says: |gear, size, by| say::track_off(gear, by, way(size, "late", "early")),
    },
    FaultKind {
        key: "shaft_off",
        quantity: Quantity::Length,
        limit: 0.2,
        over: Over::Shafts,
        is_wear: false,
        part: FaultPart::Shaft,
        put: |condition, shaft, size| {
            let drum = &mut condition.drum;
            for gear in drum.gears.iter_mut().filter(|gear| gear.shaft == shaft) {
                let turned = if drum.forks[gear.fork].is_turned { -1.0 } else { 1.0 };
                gear.clearance_mm += gear.face.sign() * turned * size;
            }
            true
        },
        says: |shaft, size, by| say::shaft_off(shaft, by, way(size, "end", "beginning")),
    },
    FaultKind {
        key: "wheel_off",
        quantity: Quantity::Length,
        limit: 0.2,
        over: Over::Gears,
        is_wear: false,
        part: FaultPart::Shim,
        put: |condition, gear, size| {
            condition.drum.gears[gear].clearance_mm += size;
            true
        },
        says: |gear, size, by| say::wheel_off(gear, by, way(size, "far", "near")),
    },
    FaultKind {
        key: "edges_worn_a",
        quantity: Quantity::Length,
        limit: 0.3,
        over: Over::Gears,
        is_wear: true,
        part: FaultPart::Dogs,
        put: |condition, gear, size| {
            condition.dogs[gear].edges_mm[0] += size;
            true
        },
        says: |gear, _, by| say::edges_worn(gear, by, crate::ring::Side::A),
    },
    FaultKind {
        key: "edges_worn_b",
        quantity: Quantity::Length,
        limit: 0.3,
        over: Over::Gears,
        is_wear: true,
        part: FaultPart::Dogs,
        put: |condition, gear, size| {
            condition.dogs[gear].edges_mm[1] += size;
            true
        },
        says: |gear, _, by| say::edges_worn(gear, by, crate::ring::Side::B),
    },
    FaultKind {
        key: "drive_flanks_worn",
        quantity: Quantity::Angle,
        limit: 1.5,
        over: Over::Gears,
        is_wear: true,
        part: FaultPart::Dogs,
        put: |condition, gear, size| {
            condition.dogs[gear].flanks_deg[0] -= size;
            true
        },
        says: |gear, _, by| say::flanks_worn(gear, by, crate::ring::FlankSide::Drive),
    },
    FaultKind {
        key: "coast_flanks_worn",
        quantity: Quantity::Angle,
        limit: 1.5,
        over: Over::Gears,
        is_wear: true,
        part: FaultPart::Dogs,
        put: |condition, gear, size| {
            condition.dogs[gear].flanks_deg[1] -= size;
            true
        },
        says: |gear, _, by| say::flanks_worn(gear, by, crate::ring::FlankSide::Coast),
    },
    FaultKind {
        key: "lash_grown",
        quantity: Quantity::Angle,
        limit: 1.5,
        over: Over::Gears,
        is_wear: true,
        part: FaultPart::Dogs,
        put: |condition, gear, size| {
            condition.dogs[gear].lash_deg.as_mut().is_some_and(|lash| {
                *lash += size;
                true
            })
        },
        says: |gear, _, by| say::lash_grown(gear, by),
    },
];
