//! What is between two gears: where one lets go, where the next meets and holds, and where the drum can stop.

use super::course::{Course, Level, Span};
use super::layout::{Drum, Position};
use super::overlap::Play;

/// From a gear to the next one on the drum, by rising angle. Downwards the same angles are passed the other way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The gear with the smaller drum angle, from 0.
    pub from: usize,
    /// The gear with the larger drum angle, from 0.
    pub to: usize,
    /// Where the first no longer holds, degrees; `None` if it does not hold in its position.
    pub unloads_deg: Option<f64>,
    /// Where the first lets go, degrees; `None` if it does not touch in its position.
    pub lets_go_deg: Option<f64>,
    /// Where the second meets, degrees; `None` if it does not touch in its position.
    pub meets_deg: Option<f64>,
    /// Where the second holds, degrees; `None` if it does not hold in its position.
    pub holds_deg: Option<f64>,
}

impl Change {
    /// Over how much of the drum neither touches, degrees; minus is over how much both do.
    pub fn free_of_touch_deg(&self) -> Option<f64> {
        Some(self.meets_deg? - self.lets_go_deg?)
    }

    /// Over how much of the drum neither holds, degrees; minus is over how much both do.
    pub fn free_of_load_deg(&self) -> Option<f64> {
        Some(self.holds_deg? - self.unloads_deg?)
    }
}

/// Where the roller can rest on the crest between two positions, and what is in there.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// The positions on either side, from 0.
    pub between: [usize; 2],
    /// The drum angles.
    pub span: Span,
    /// Gears that touch somewhere there with the play that takes them deepest: the gear from 0, and how deep at
    /// most, mm.
    pub touching: Vec<(usize, f64)>,
}

impl Drum {
    /// Every change from a gear to the next one on the drum; neutral between them is passed over. With
    /// [`Play::Most`] the angle between is the least, with [`Play::Least`] the greatest that play and tolerance
    /// allow.
    pub fn changes(&self, play: Play) -> Vec<Change> {
        let gears: Vec<(f64, usize)> =
            self.positions.iter().filter_map(|at| Some((at.deg, at.gear?))).collect();
        gears.windows(2).map(|pair| self.change(pair[0], pair[1], play)).collect()
    }

    fn change(
        &self,
        (from_deg, from): (f64, usize),
        (to_deg, to): (f64, usize),
        play: Play,
    ) -> Change {
        let [old, new] = [from, to].map(|gear| self.overlap(gear, play));
        let last = |level| around(&old, level, from_deg).map(|span| span.to_deg);
        let first = |level| around(&new, level, to_deg).map(|span| span.from_deg);
        let [old_hold, new_hold] = [from, to].map(|gear| Level::From(self.gears[gear].hold_mm));
        Change {
            from,
            to,
            unloads_deg: last(old_hold),
            lets_go_deg: last(Level::Above(0.0)),
            meets_deg: first(Level::Above(0.0)),
            holds_deg: first(new_hold),
        }
    }

    /// Where the drum can stop on the crests of the detent.
    pub fn rests(&self) -> Vec<Rest> {
        let between = self.positions.windows(2).enumerate();
        between.map(|(at, pair)| self.rest([at, at + 1], pair[0], pair[1])).collect()
    }

    fn rest(&self, between: [usize; 2], one: Position, other: Position) -> Rest {
        let (middle, half) = ((one.deg + other.deg) / 2.0, self.stand_deg.max(0.0));
        let span = Span { from_deg: middle - half, to_deg: middle + half };
        Rest { between, span, touching: self.touching(middle, half) }
    }

    /// The gears that touch so far to either side of an angle, each with its greatest depth there, mm.
    pub fn touching(&self, deg: f64, half_deg: f64) -> Vec<(usize, f64)> {
        let depth =
            |gear: usize| (gear, self.overlap(gear, Play::Most).range_near(deg, half_deg)[1]);
        (0..self.gears.len()).map(depth).filter(|(_, mm)| *mm > 0.0).collect()
    }
}

/// The span beyond a level that has an angle in it.
fn around(course: &Course, level: Level, deg: f64) -> Option<Span> {
    course.spans(level).into_iter().find(|span| span.contains(deg))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drum::{Face, Fork, Gear};
    use crate::selector::Track;

    /// One slider between two gears, with neutral between them.
    fn drum() -> Drum {
        let points = vec![[10.0, -5.0], [30.0, 0.0], [50.0, 0.0], [70.0, 5.0]];
        let gear = |face| Gear { hold_mm: 1.0, home_mm: 4.4, ..Gear::plain(face, 0.6) };
        Drum {
            forks: vec![Fork::plain(Track::through(points).expect("it rises"))],
            shafts_mm: vec![0.0],
            gears: vec![gear(Face::Lower), gear(Face::Higher)],
            positions: [(5.0, Some(0)), (40.0, None), (75.0, Some(1))]
                .map(|(deg, gear)| Position { deg, gear })
                .to_vec(),
            float_mm: 0.0,
            slack_deg: 0.0,
            stand_deg: 3.0,
        }
    }

    #[test]
    fn touch_ends_after_load_and_begins_before_it() {
        let [change] = drum().changes(Play::Nominal)[..] else { panic!() };
        // 4 degrees for each mm: 0.6 mm before the ends of the dwell, and 1 mm deeper.
        assert_eq!((change.from, change.to), (0, 1));
        let angles = [change.unloads_deg, change.lets_go_deg, change.meets_deg, change.holds_deg];
        for (got, want) in angles.into_iter().zip([23.6, 27.6, 52.4, 56.4]) {
            assert!((got.unwrap() - want).abs() < 1e-9, "{change:?}");
        }
        assert!((change.free_of_touch_deg().unwrap() - 24.8).abs() < 1e-9);
        assert!((change.free_of_load_deg().unwrap() - 32.8).abs() < 1e-9);
    }

    #[test]
    fn play_makes_the_angle_between_smaller_and_larger() {
        let mut drum = drum();
        drum.forks[0].groove_play_mm = 0.5;
        let between = |play| drum.changes(play)[0].free_of_touch_deg().unwrap();
        assert!((between(Play::Most) - 22.8).abs() < 1e-9);
        assert!((between(Play::Least) - 26.8).abs() < 1e-9);
        drum.gears[1].clearance_mm = 9.0;
        assert_eq!(drum.changes(Play::Nominal)[0].free_of_touch_deg(), None);
    }

    #[test]
    fn a_drum_that_stops_on_a_crest_has_what_touches_there_listed() {
        let rests = drum().rests();
        assert_eq!(rests.len(), 2);
        // Half way from 5° to 40°, 3° to either side: the deepest at 19.5°, 2.025 mm.
        let [(gear, mm)] = rests[0].touching[..] else { panic!("{rests:?}") };
        assert_eq!((gear, rests[0].between), (0, [0, 1]));
        assert!((mm - (5.0 - 9.5 / 4.0 - 0.6)).abs() < 1e-9, "{mm}");
    }
}
