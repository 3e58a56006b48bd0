//! Where the rings and the drum stand at a moment of a shift.

use super::foot::from_home;
use super::{LineMoment, LineStep, TimeLine, TimedShift};
use crate::model::pair::PairAnalysis;
use crate::model::worked::{Pose, Worked};
use crate::pair::{Arc, Edges};
use crate::units::{Angle, rad_per_s};

impl TimeLine {
    /// When something first happens, s.
    pub fn when(&self, what: LineStep) -> Option<f64> {
        self.events.iter().find(|(_, is)| *is == what).map(|(time_s, _)| *time_s)
    }

    /// The rings of the old dogs until they are out, of the new ones from then on, both as if they were those of
    /// `worked`. The new ones turn against each other so that they go in at their first flank; before that they pass as
    /// fast as the speed difference says.
    pub fn pose(&self, shift: &TimedShift, worked: &Worked, time_s: f64) -> Option<Pose> {
        let pair = worked.pair.as_ref()?;
        let now = self.at(time_s)?;
        let overlap_mm = if now.new_mm > 0.0 { now.new_mm } else { now.old_mm };
        let window = window_at(pair, overlap_mm)?;
        let [low, width] = [window.start.radians(), window.width.radians()];
        // Drive flanks meet at the lower end of a window.
        let touching = |torque_nm: f64| match torque_nm {
            nm if nm > 0.0 => low,
            nm if nm < 0.0 => low + width,
            _ => low + width / 2.0,
        };
        let is_in = self.when(LineStep::In)?;
        let holds = time_s <= self.when(LineStep::Out)? || time_s >= is_in;
        let phase = if holds {
            touching(now.torque_nm)
        } else {
            let first = if shift.step.slip_rpm > 0.0 { low } else { low + width };
            // A faster input side turns the phase back.
            first + self.turned(shift, time_s, is_in)
        };
        Some(Pose { phase: Angle::from_radians(phase).wrapped(), overlap_mm })
    }

    /// How far the input side of the new dogs turns against the output side between two times, rad.
    fn turned(&self, shift: &TimedShift, from_s: f64, to_s: f64) -> f64 {
        let between = self.moments.iter().filter(|m| from_s < m.time_s && m.time_s < to_s);
        let ends = [from_s, to_s].map(|time_s| self.at(time_s));
        let [first, last] = ends;
        let course: Vec<LineMoment> =
            first.into_iter().chain(between.copied()).chain(last).collect();
        let slip =
            |m: &LineMoment| rad_per_s((m.engine_rpm - self.target_rpm) / shift.engine_per_dogs);
        let piece = |two: &[LineMoment]| {
            f64::midpoint(slip(&two[0]), slip(&two[1])) * (two[1].time_s - two[0].time_s)
        };
        course.windows(2).map(piece).sum()
    }

    /// How far the drum has turned from its detent while the old dogs are in, degrees, with the track of their gear;
    /// `None` without a track, and once they are out. Before the fork pushes, the drum turns as the foot does.
    pub fn drum_deg(&self, old: &Worked, time_s: f64) -> Option<f64> {
        let (track, home) = (old.selector.sound_track()?, old.selector.step_deg());
        let now = self.at(time_s).filter(|now| now.old_mm > 0.0)?;
        let full_mm = old.pair.as_ref()?.engagement.full_depth_mm;
        let begun = self.when(LineStep::Pushes).filter(|begun| time_s < *begun);
        let Some(begun) = begun else { return Some(from_home(track, home, full_mm - now.old_mm)) };
        let hooks = self.when(LineStep::Hooks).unwrap_or(begun);
        let share = if begun > hooks { (time_s - hooks) / (begun - hooks) } else { 1.0 };
        Some(share.clamp(0.0, 1.0) * from_home(track, home, 0.0))
    }
}

/// The window at an overlap into which that at full depth opens: flanks with undercut meet elsewhere as they come out.
fn window_at(pair: &PairAnalysis, overlap_mm: f64) -> Option<Arc> {
    let held = pair.held?;
    let open = pair.mesh.windows_at(overlap_mm, Edges::Sharp);
    let off = |window: &Arc| window.distance(held.middle()).radians();
    open.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::selector::Track;

    #[test]
    fn the_drum_turns_until_the_fork_has_moved_so_far() {
        let track = Track::flank(12.0, 52.0, 6.0).expect("it rises");
        for (mm, deg) in [(0.0, 8.0), (3.0, 28.0), (6.0, 48.0)] {
            assert!((from_home(&track, 60.0, mm) - deg).abs() < 1e-12, "{mm}");
        }
        assert!((from_home(&track, 60.0, 9.0) - 48.0).abs() < 1e-12);
    }
}
