//! What the drum moves: forks, gears and the positions of the detent.

use crate::selector::Track;

/// The face of a slider that engages a gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// Towards the gear with the lower number: fork travel is minus where it is in.
    Lower,
    /// Towards the gear with the higher number: fork travel is plus where it is in.
    Higher,
}

impl Face {
    /// Both, the lower one first.
    pub const BOTH: [Self; 2] = [Self::Lower, Self::Higher];

    /// The sign of the fork travel that engages it.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Lower => -1.0,
            Self::Higher => 1.0,
        }
    }
}

/// A fork in its track.
#[derive(Clone, Debug, PartialEq)]
pub struct Fork {
    /// Where the track wants the slider, mm from neutral, towards the higher face.
    pub track: Track,
    /// How far the pads are off the place of the pin, as of a bent fork, mm towards the higher face.
    pub offset_mm: f64,
    /// Width of the groove less thickness of the pad, mm.
    pub groove_play_mm: f64,
    /// Width of the track less diameter of the pin, mm.
    pub pin_play_mm: f64,
    /// Whether the higher face looks against the direction in which the shafts are laid out.
    pub is_turned: bool,
}

impl Fork {
    /// A straight fork without play.
    pub const fn plain(track: Track) -> Self {
        Self { track, offset_mm: 0.0, groove_play_mm: 0.0, pin_play_mm: 0.0, is_turned: false }
    }
}

/// A gear and the face of the slider that engages it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gear {
    /// The fork that moves its slider, from 0.
    pub fork: usize,
    /// The shaft of its free wheel and its slider, from 0.
    pub shaft: usize,
    /// The face of the slider.
    pub face: Face,
    /// Clearance from tip to tip in neutral, mm.
    pub clearance_mm: f64,
    /// How far the clearance can be off either way, mm.
    pub tolerance_mm: f64,
    /// The overlap from which the dogs hold, mm.
    pub hold_mm: f64,
    /// The overlap with the dogs drawn home to their stop, mm.
    pub home_mm: f64,
}

impl Gear {
    /// A gear on the first fork and the first shaft, sized without tolerance, that holds from the touch.
    pub const fn plain(face: Face, clearance_mm: f64) -> Self {
        Self {
            fork: 0,
            shaft: 0,
            face,
            clearance_mm,
            tolerance_mm: 0.0,
            hold_mm: 0.0,
            home_mm: f64::INFINITY,
        }
    }
}

/// A place where the detent holds the drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// The drum angle, degrees.
    pub deg: f64,
    /// The gear that is in, from 0; `None` in neutral.
    pub gear: Option<usize>,
}

/// A drum with all that it moves.
///
/// Gears name their fork and shaft by place; a place that does not exist panics, so whoever builds a drum
/// from what somebody typed checks that first.
#[derive(Clone, Debug, PartialEq)]
pub struct Drum {
    /// The forks.
    pub forks: Vec<Fork>,
    /// The end float of each shaft, from end to end, mm.
    pub shafts_mm: Vec<f64>,
    /// The gears, first gear first.
    pub gears: Vec<Gear>,
    /// The positions of the detent, by rising angle.
    pub positions: Vec<Position>,
    /// The end float of the drum, from end to end, mm.
    pub float_mm: f64,
    /// How far the drum rocks in its detent, from end to end, degrees.
    pub slack_deg: f64,
    /// How far to either side of a crest the roller can rest, degrees.
    pub stand_deg: f64,
}

impl Drum {
    /// The drum angle at which a gear is in; `None` if the detent has no position for it.
    pub fn position_deg(&self, gear: usize) -> Option<f64> {
        self.positions.iter().find(|position| position.gear == Some(gear)).map(|at| at.deg)
    }

    /// The fork of a gear.
    pub(super) fn fork(&self, gear: usize) -> &Fork {
        &self.forks[self.gears[gear].fork]
    }

    /// Half the end float of the shaft of a gear, mm.
    pub(super) fn half_float_mm(&self, gear: usize) -> f64 {
        half(self.shafts_mm[self.gears[gear].shaft])
    }
}

/// Half a play; where parts are too wide there is none.
pub(super) const fn half(play_mm: f64) -> f64 {
    play_mm.max(0.0) / 2.0
}
