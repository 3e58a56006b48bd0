//! The manners of a shift: what takes the torque off the old dogs, and what brings it back.

use super::Torques;
use crate::design::{Clutch, Setting, SettingField};
use crate::shift::{TorqueCut, Way};

/// What takes the torque off the dogs before a shift.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Manner {
    /// Up, with the ignition cut.
    Cut,
    /// Up, with the throttle shut by hand.
    Throttle,
    /// Up, with the clutch pulled.
    ClutchUp,
    /// Down, with a blip of the throttle.
    Blip,
    /// Down, with the clutch pulled.
    ClutchDown,
}

impl Manner {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::Cut, Self::Throttle, Self::ClutchUp, Self::Blip, Self::ClutchDown];

    /// Its stable name, in files and for the words of a language.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Throttle => "throttle",
            Self::ClutchUp => "clutch_up",
            Self::Blip => "blip",
            Self::ClutchDown => "clutch_down",
        }
    }

    /// Up or down.
    pub const fn way(self) -> Way {
        match self {
            Self::Cut | Self::Throttle | Self::ClutchUp => Way::Up,
            Self::Blip | Self::ClutchDown => Way::Down,
        }
    }

    /// Whether the engine is taken off the input shaft.
    pub const fn has_clutch(self) -> bool {
        matches!(self, Self::ClutchUp | Self::ClutchDown)
    }

    /// Whether a sensor at the pedal sets it off, and it acts from the next firing on.
    pub const fn is_signalled(self) -> bool {
        matches!(self, Self::Cut | Self::Blip)
    }

    pub(super) const fn clutch(self) -> Clutch {
        if self.has_clutch() { Clutch::Pulled } else { Clutch::Gripping }
    }

    /// The time that the torque takes to change, s.
    fn ramp_s(self, setting: &Setting) -> f64 {
        let field = match self {
            Self::Cut | Self::Blip => SettingField::TorqueFall,
            Self::Throttle => SettingField::ThrottleTime,
            Self::ClutchUp | Self::ClutchDown => SettingField::ClutchTime,
        };
        setting.get(field) / 1000.0
    }

    /// From what carries before the shift to what frees the dogs. A pulled clutch still drags the input shaft after the
    /// engine, the way that it drove it.
    pub(super) fn freeing(self, at: &Torques, setting: &Setting) -> TorqueCut {
        let [engine_nm, drag_nm] = match self {
            Self::Cut | Self::Throttle => [at.pull_nm, at.brake_nm],
            Self::ClutchUp => [at.pull_nm, -at.clutch_nm],
            Self::Blip => [-at.brake_nm, -at.blip_nm],
            Self::ClutchDown => [-at.brake_nm, at.clutch_nm],
        };
        TorqueCut { engine_nm, drag_nm, ramp_s: self.ramp_s(setting) }
    }

    /// From what frees the dogs to what carries after the shift.
    pub(super) fn returning(self, at: &Torques, setting: &Setting) -> TorqueCut {
        let [engine_nm, drag_nm] = match self {
            Self::Cut | Self::Throttle => [-at.brake_nm, -at.pull_nm],
            Self::ClutchUp => [0.0, -at.pull_nm],
            Self::Blip => [at.blip_nm, at.brake_nm],
            Self::ClutchDown => [0.0, at.brake_nm],
        };
        TorqueCut { engine_nm, drag_nm, ramp_s: self.ramp_s(setting) }
    }

    /// What brings the input side nearer to the speed of the new gear, N·m; minus is what holds it away from it.
    pub(super) const fn nearing_nm(self, at: &Torques) -> f64 {
        match self {
            Self::Cut | Self::Throttle => at.brake_nm,
            Self::Blip => at.blip_nm,
            Self::ClutchUp | Self::ClutchDown => -at.clutch_nm,
        }
    }
}
