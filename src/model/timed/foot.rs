//! The foot before the signal: dead travel, the hook that takes hold of its pin, and the empty part of the track.

use crate::design::SettingField;
use crate::model::worked::Worked;
use crate::selector::{Stroke, Track};
use crate::shift::Way;
use crate::units::Angle;

/// When things happen between foot and fork, s from where the foot begins to move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// The sensor signals.
    pub signal_s: f64,
    /// The hook meets its pin; `None` without pedal and claw.
    pub hook_s: Option<f64>,
    /// The fork begins to push; `None` without pedal, claw and track.
    pub fork_s: Option<f64>,
}

impl Foot {
    /// Of the gear that is left: lifted for an upshift, pressed for a downshift.
    pub(super) fn of(old: &Worked, way: Way) -> Self {
        let setting = &old.design.setting;
        let stroke = if way == Way::Up { Stroke::Lift } else { Stroke::Press };
        let seconds = |mm: f64| mm / 1000.0 / setting.get(SettingField::FootSpeed);
        let at = |drum: Angle| foot_mm(old, stroke, drum).map(seconds);
        Self {
            signal_s: seconds(setting.get(SettingField::SensorTravel)),
            hook_s: at(Angle::ZERO),
            fork_s: empty(old).and_then(at),
        }
    }
}

/// Travel of the peg that turns the drum by an angle; `None` where the parts are not known or do not reach so far.
fn foot_mm(old: &Worked, stroke: Stroke, drum: Angle) -> Option<f64> {
    let parts = &old.selector;
    let shaft = parts.strokes()?.claw.shaft_for(stroke, drum);
    parts.swing()?.pedal.foot_for(stroke, shaft).ok().flatten()
}

/// Rotation of the drum from its detent to where the track begins to move the fork.
fn empty(old: &Worked) -> Option<Angle> {
    let parts = &old.selector;
    let home = parts.step_deg();
    parts.sound_track().map(|track| Angle::from_degrees(from_home(track, home, 0.0)))
}

/// How far the drum turns away from its position until the fork has moved so far, degrees; at the end of the track, if
/// the fork does not move so far.
pub(super) fn from_home(track: &Track, home: f64, moved_mm: f64) -> f64 {
    const SAME_MM: f64 = 1e-9;
    let level = track.travel_mm(home);
    let mut above = [home, level];
    for point in track.points().iter().rev().filter(|[deg, _]| *deg < home) {
        let (before, now) = ((level - above[1]).abs(), (level - point[1]).abs());
        if now >= moved_mm && now - before > SAME_MM {
            let share = (moved_mm - before) / (now - before);
            return home - (above[0] + (point[0] - above[0]) * share);
        }
        above = *point;
    }
    home - above[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_track_is_level_from_the_end_of_its_flank() {
        let track = Track::flank(12.0, 40.0, 5.0).expect("it rises");
        assert_eq!(60.0 - from_home(&track, 60.0, 0.0), 40.0);
        assert_eq!(30.0 - from_home(&track, 30.0, 0.0), 30.0);
    }
}
