//! Where sliders, forks and dogs stand at an angle of the drum, every size nominal and every play in its middle.

use super::GearsetAnalysis;
use crate::drum::{Drum, Play};

/// A drum this near to a position of the detent is in it, degrees; with more play in the detent, half of that.
const IN_POSITION_DEG: f64 = 0.5;

/// How the dogs of a gear stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Meeting {
    /// The tips have not met.
    Apart,
    /// The tips have passed each other, but not as far as they have to.
    Touching,
    /// They are as deep as they have to be to hold.
    Holding,
}

impl Meeting {
    /// All of them, from the dogs that are apart on.
    pub const ALL: [Self; 3] = [Self::Apart, Self::Touching, Self::Holding];

    /// Its name, for programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Apart => "apart",
            Self::Touching => "touching",
            Self::Holding => "holding",
        }
    }
}

/// The dogs of one gear at an angle of the drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearStanding {
    /// Which gear of the gearbox, from 0.
    pub gear: usize,
    /// The overlap, mm; minus is the clearance from tip to tip.
    pub overlap_mm: f64,
    /// How the dogs stand.
    pub meeting: Meeting,
    /// Whether the tips are at the bottom of the dogs across.
    pub is_home: bool,
}

/// One slider with its fork at an angle of the drum. Lengths along the shaft are plus towards the gear with the
/// higher number.
#[derive(Clone, Debug, PartialEq)]
pub struct SliderStanding {
    /// Which fork of the gearbox, from 0.
    pub fork: usize,
    /// Where the pin of the fork is, mm from neutral.
    pub pin_mm: f64,
    /// Where the pads are: off the pin with a bent fork, mm.
    pub pad_mm: f64,
    /// Where the slider is, mm: with its pads, or with the dogs drawn home.
    pub slider_mm: f64,
    /// Room between pad and groove towards the gear with the lower number and with the higher one, mm. Below 0 the fork
    /// carries the thrust.
    pub room_mm: [f64; 2],
    /// How far play and tolerance can move the dogs, either way, mm.
    pub play_mm: f64,
    /// The gear that is drawn home in its position of the detent, from 0.
    pub drawn_home: Option<usize>,
    /// The gears that it engages, as they are then.
    pub gears: Vec<GearStanding>,
}

impl GearsetAnalysis {
    /// The drum angle at which a gear of the gearbox is in, degrees; 0 where the detent has no position for it.
    pub fn position_of(&self, gear: Option<usize>) -> f64 {
        let at = self.on_drum.iter().position(|own| Some(*own) == gear);
        at.and_then(|at| self.drum.position_deg(at)).unwrap_or_default()
    }

    /// Where everything that the drum moves stands at an angle. In a position of the detent the dogs that hold there
    /// are drawn home to their stop, as under torque; anywhere else the pads are in the middle of their grooves.
    pub fn standing(&self, deg: f64) -> Vec<SliderStanding> {
        (0..self.drum.forks.len()).map(|fork| self.slider_at(fork, deg)).collect()
    }

    fn slider_at(&self, fork: usize, deg: f64) -> SliderStanding {
        let (drum, own) = (&self.drum, &self.drum.forks[fork]);
        let gears = || (0..drum.gears.len()).filter(|gear| drum.gears[*gear].fork == fork);
        let pad_mm = drum.fork_course(fork).at_mm(deg);
        let home = gears().find_map(|gear| Some((gear, drawn_by_mm(drum, gear, deg)?)));
        let along = |gear: usize| drum.gears[gear].face.sign();
        let drawn_mm = home.map_or(0.0, |(gear, by)| along(gear) * by);
        let standing = |gear: usize| {
            let deep = drum.overlap(gear, Play::Nominal).at_mm(deg) + along(gear) * drawn_mm;
            self.gear_with(gear, deep)
        };
        let half = own.groove_play_mm / 2.0;
        SliderStanding {
            fork: self.forks_on_drum[fork],
            pin_mm: pad_mm - own.offset_mm,
            pad_mm,
            slider_mm: pad_mm + drawn_mm,
            room_mm: [half - drawn_mm, half + drawn_mm],
            play_mm: gears().map(|gear| drum.reach_mm(gear)).fold(0.0, f64::max),
            drawn_home: home.map(|(gear, _)| self.on_drum[gear]),
            gears: gears().map(standing).collect(),
        }
    }

    fn gear_with(&self, gear: usize, overlap_mm: f64) -> GearStanding {
        /// Rounding, mm.
        const NEAR_MM: f64 = 1e-9;
        let own = &self.drum.gears[gear];
        let meeting = if overlap_mm <= 0.0 {
            Meeting::Apart
        } else if overlap_mm < own.hold_mm {
            Meeting::Touching
        } else {
            Meeting::Holding
        };
        let is_home = overlap_mm >= own.home_mm - NEAR_MM;
        GearStanding { gear: self.on_drum[gear], overlap_mm, meeting, is_home }
    }
}

/// How much deeper than its pads push them the dogs of a gear are drawn, mm; `None` where they are not.
fn drawn_by_mm(drum: &Drum, gear: usize, deg: f64) -> Option<f64> {
    let own = &drum.gears[gear];
    let near = IN_POSITION_DEG.max(drum.slack_deg / 2.0);
    let at = drum.position_deg(gear).filter(|at| (deg - at).abs() <= near)?;
    let pushed = drum.overlap(gear, Play::Nominal).at_mm(deg);
    drum.fork_room(gear).filter(|_| at.is_finite() && pushed > 0.0 && pushed >= own.hold_mm)?;
    Some(own.home_mm - pushed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::LAYOUTS;

    fn six_speed() -> GearsetAnalysis {
        let layout = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        GearsetAnalysis::of(&layout.to_gearset())
    }

    #[test]
    fn in_neutral_every_gear_is_as_far_apart_as_it_is_said_to_be() {
        let of = six_speed();
        let neutral = of.drum.positions.iter().find(|at| at.gear.is_none()).expect("it is there");
        let standing = of.standing(neutral.deg);
        assert_eq!(standing.len(), 3);
        for gear in standing.iter().flat_map(|slider| &slider.gears) {
            let at = of.on_drum.iter().position(|own| *own == gear.gear).expect("it is there");
            assert!((gear.overlap_mm + of.drum.gears[at].clearance_mm).abs() < 1e-12, "{gear:?}");
            assert_eq!(gear.meeting, Meeting::Apart);
        }
    }

    #[test]
    fn in_gear_the_dogs_are_home_and_the_fork_has_the_room_that_is_judged() {
        let of = six_speed();
        for at in 0..of.on_drum.len() {
            let deg = of.drum.position_deg(at).expect("it has a position");
            let standing = of.standing(deg);
            let slider = standing.iter().find(|own| own.drawn_home == Some(of.on_drum[at]));
            let slider = slider.unwrap_or_else(|| panic!("gear {at}: {standing:?}"));
            let room = of.drum.fork_room(at).expect("its dogs have a stop");
            let own = slider.gears.iter().find(|gear| gear.gear == of.on_drum[at]).expect("in");
            assert!((own.overlap_mm - of.drum.gears[at].home_mm).abs() < 1e-12 && own.is_home);
            let least = [room.drawn_mm, room.pushed_mm].into_iter().fold(f64::INFINITY, f64::min);
            let shown = slider.room_mm.into_iter().fold(f64::INFINITY, f64::min);
            assert!((least - shown).abs() < 1e-12, "{room:?} {slider:?}");
            // A degree on they are where the fork puts them.
            assert!(of.standing(deg + 1.0).iter().all(|slider| slider.drawn_home.is_none()));
        }
    }

    #[test]
    fn a_bent_fork_stands_beside_its_pin() {
        let mut set = six_speed().gearset;
        set.forks[1].set(crate::design::ForkField::ForkOffset, 0.75);
        let of = GearsetAnalysis::of(&set);
        let bent = &of.standing(40.0)[1];
        assert!((bent.pad_mm - bent.pin_mm - 0.75).abs() < 1e-12);
        assert_eq!((bent.slider_mm, bent.fork), (bent.pad_mm, 1));
    }
}
