//! In gear the fork must be free: the clearance between its pads and the groove.

use super::layout::Drum;
use super::overlap::Play;

/// The room of a fork in its groove with its gear in and the dogs drawn home to their stop, mm. Below 0 the
/// fork carries the thrust.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForkRoom {
    /// Between pad and the flank of the groove that keeps the dogs from going deeper, sizes nominal.
    pub drawn_mm: f64,
    /// Between pad and the flank that pushes the dogs in, sizes nominal.
    pub pushed_mm: f64,
    /// How much smaller both can be with all play and tolerance and the drum anywhere in its detent.
    pub worst_by_mm: [f64; 2],
}

impl ForkRoom {
    /// The worst case on either side: drawn, pushed, mm.
    pub fn worst_mm(&self) -> [f64; 2] {
        [self.drawn_mm - self.worst_by_mm[0], self.pushed_mm - self.worst_by_mm[1]]
    }

    /// How much deeper the fork has to go for the same room at the worst on either side, mm; minus is less deep.
    /// A shim below the free wheel or the throw of the track gives it.
    pub fn deeper_mm(&self) -> f64 {
        let [drawn, pushed] = self.worst_mm();
        (pushed - drawn) / 2.0
    }

    /// The least room that is left at the worst once the fork has gone so much deeper, mm.
    pub fn centred_mm(&self) -> f64 {
        self.worst_mm().iter().sum::<f64>() / 2.0
    }
}

impl Drum {
    /// The room of the fork in gear. `None` if the detent has no position for the gear, or if nobody knows where
    /// the dogs stop.
    pub fn fork_room(&self, gear: usize) -> Option<ForkRoom> {
        let own = self.gears[gear];
        let at = self.position_deg(gear).filter(|_| own.home_mm.is_finite())?;
        let pad = self.overlap(gear, Play::Nominal);
        let half = self.fork(gear).groove_play_mm / 2.0;
        let nominal = pad.at_mm(at);
        let [least, most] = pad.range_near(at, self.slack_deg.max(0.0) / 2.0);
        let reach = self.reach_of_fork_mm(gear);
        Some(ForkRoom {
            drawn_mm: half - (own.home_mm - nominal),
            pushed_mm: half + (own.home_mm - nominal),
            worst_by_mm: [reach + nominal - least, reach + most - nominal],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drum::{Face, Fork, Gear, Position};
    use crate::selector::Track;

    fn drum(home_mm: f64) -> Drum {
        let track = Track::through(vec![[34.0, 0.0], [56.0, 5.0]]).expect("it rises");
        Drum {
            forks: vec![Fork { groove_play_mm: 0.4, pin_play_mm: 0.1, ..Fork::plain(track) }],
            shafts_mm: vec![0.1],
            gears: vec![Gear { home_mm, tolerance_mm: 0.05, ..Gear::plain(Face::Higher, 0.6) }],
            positions: vec![Position { deg: 60.0, gear: Some(0) }],
            float_mm: 0.0,
            slack_deg: 2.0,
            stand_deg: 0.0,
        }
    }

    #[test]
    fn a_fork_in_the_middle_has_half_the_play_on_either_side() {
        let room = drum(4.4).fork_room(0).unwrap();
        assert!((room.drawn_mm - 0.2).abs() < 1e-12 && (room.pushed_mm - 0.2).abs() < 1e-12);
        // Half of pin and shaft float, and the tolerance; the drum rocks on the dwell.
        for worst in room.worst_mm() {
            assert!((worst - 0.05).abs() < 1e-12, "{room:?}");
        }
        assert!(room.deeper_mm().abs() < 1e-12 && (room.centred_mm() - 0.05).abs() < 1e-12);
    }

    #[test]
    fn dogs_that_go_deeper_than_the_track_takes_them_burn_the_fork() {
        let room = drum(4.7).fork_room(0).unwrap();
        let [drawn, pushed] = room.worst_mm();
        assert!((drawn + 0.25).abs() < 1e-12 && (pushed - 0.35).abs() < 1e-12, "{room:?}");
        assert!((room.deeper_mm() - 0.3).abs() < 1e-12);
        assert_eq!(drum(f64::INFINITY).fork_room(0), None);
    }

    #[test]
    fn a_drum_that_rocks_on_to_the_ramp_takes_the_fork_back() {
        let mut rocking = drum(4.4);
        rocking.positions[0].deg = 56.0;
        rocking.slack_deg = 4.4;
        let room = rocking.fork_room(0).unwrap();
        assert!((room.worst_by_mm[0] - (0.15 + 0.5)).abs() < 1e-12, "{room:?}");
        assert!((room.worst_by_mm[1] - 0.15).abs() < 1e-12, "{room:?}");
    }
}
