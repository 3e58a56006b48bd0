//! Plain layouts to start from. All sizes are invented.

use super::{
    DrumSpec, ForkSpec, GearsetSpec, PairOf, Place, PositionSpec, SetGearSpec, ShaftSpec,
    WheelField, WheelKind, WheelSpec,
};
use crate::design::{
    ClawSpec, Design, DetentSpec, GearboxSpec, Layout, SelectorSpec, SettingField,
};
use crate::fields::FieldId;
use crate::shift::Shaft;

/// The step of the drum from one position to the next, degrees.
const STEP_DEG: f64 = 45.0;

/// The drum angle of the first position, degrees.
const FIRST_DEG: f64 = 15.0;

/// How far before and behind the middle of a step the track moves a fork, degrees.
const RAMP_DEG: [f64; 2] = [4.0, 18.0];

/// Travel of a fork from neutral to its gear, mm.
const THROW_MM: f64 = 5.1;

/// A plain gearbox: every gear a pair of wheels, its free wheel on the output shaft, neutral between first and
/// second. Everything about it is invented.
#[derive(Debug)]
pub struct PlainLayout {
    /// Stable name.
    pub key: &'static str,
    /// Teeth of each gear, driving and driven.
    teeth: &'static [[f64; 2]],
    /// The gears of each slider in its order along the shaft, counted from 1: before it and behind it. A
    /// slider between a gear and nothing has 0.
    sliders: &'static [[usize; 2]],
    /// Teeth of the primary drive, where they are not the usual ones.
    primary: Option<[f64; 2]>,
}

/// The layouts: from two to eight gears. Those with a direct top have a layshaft, which is their input shaft here: the
/// primary drive is that of the crank times the pair that drives the layshaft, and top is that pair run the other way
/// round, so that one turn of the engine's shaft is one of the output shaft.
pub static LAYOUTS: &[PlainLayout] = &[
    PlainLayout {
        key: "four-speed",
        teeth: &[[14.0, 36.0], [18.0, 31.0], [22.0, 28.0], [25.0, 25.0]],
        sliders: &[[1, 3], [2, 4]],
        primary: None,
    },
    PlainLayout {
        key: "five-speed",
        teeth: &[[12.0, 35.0], [16.0, 28.0], [20.0, 27.0], [25.0, 28.0], [27.0, 26.0]],
        sliders: &[[1, 3], [2, 4], [5, 0]],
        primary: None,
    },
    PlainLayout {
        key: "six-speed",
        teeth: &[
            [12.0, 34.0],
            [16.0, 31.0],
            [19.0, 29.0],
            [22.0, 28.0],
            [24.0, 26.0],
            [26.0, 25.0],
        ],
        sliders: &[[1, 3], [4, 2], [5, 6]],
        primary: None,
    },
    PlainLayout {
        key: "two-speed",
        teeth: &[[15.0, 34.0], [22.0, 27.0]],
        sliders: &[[1, 2]],
        primary: None,
    },
    PlainLayout {
        key: "eight-speed",
        teeth: &[
            [11.0, 35.0],
            [14.0, 33.0],
            [17.0, 31.0],
            [19.0, 29.0],
            [21.0, 28.0],
            [23.0, 27.0],
            [25.0, 26.0],
            [27.0, 25.0],
        ],
        sliders: &[[1, 3], [2, 4], [5, 7], [6, 8]],
        primary: None,
    },
    // 20 teeth drive 30 of the layshaft.
    PlainLayout {
        key: "four-speed-direct",
        teeth: &[[15.0, 32.0], [20.0, 27.0], [24.0, 23.0], [30.0, 20.0]],
        sliders: &[[1, 2], [3, 4]],
        primary: Some([27.0, 105.0]),
    },
    PlainLayout {
        key: "five-speed-direct",
        teeth: &[[14.0, 33.0], [18.0, 29.0], [22.0, 25.0], [25.0, 21.0], [30.0, 20.0]],
        sliders: &[[1, 2], [3, 4], [5, 0]],
        primary: Some([27.0, 105.0]),
    },
];

impl PlainLayout {
    /// How many gears it has.
    pub const fn gears(&self) -> usize {
        self.teeth.len()
    }

    /// The gearbox with this layout.
    pub fn to_gearset(&self) -> GearsetSpec {
        let gears = self.teeth.len();
        let mut places = vec![Place::default(); gears];
        let mut wheels: [Vec<WheelSpec>; 2] = Default::default();
        let mut sliders = Vec::new();
        for [before, behind] in self.sliders {
            self.put_gear(*before, &mut wheels, &mut places);
            sliders.push(Place { shaft: 1, wheel: wheels[1].len() });
            // The shaft across has room there.
            wheels[1].push(WheelSpec::of(WheelKind::Sliding));
            self.put_gear(*behind, &mut wheels, &mut places);
        }
        let [input, output] = wheels;
        let slider = |gear: usize| self.sliders.iter().position(|own| own.contains(&(gear + 1)));
        let gear = |gear: usize| {
            let driven = places[gear];
            let driving = Place { shaft: 0, wheel: input_place(&output, driven.wheel) };
            let pair = if gear == 0 { PairOf::Own(Box::new(pair())) } else { PairOf::SameAs(0) };
            SetGearSpec::with(driving, driven, slider(gear).unwrap_or_default(), pair)
        };
        let forks = (0..sliders.len()).map(|at| ForkSpec::with(at, self.track(at)));
        let mut drive = GearboxSpec::with_gears(Vec::new());
        let ids = [FieldId::PrimaryDriving, FieldId::PrimaryDriven];
        for (id, teeth) in self.primary.into_iter().flat_map(|both| ids.into_iter().zip(both)) {
            drive.field_mut(id).into_iter().for_each(|number| *number = teeth);
        }
        GearsetSpec {
            drive,
            gears: (0..gears).map(gear).collect(),
            forks: forks.collect(),
            drum: DrumSpec::with(self.positions()),
            selector: SelectorSpec {
                claw: Some(ClawSpec::default()),
                detent: Some(DetentSpec::default()),
                ..SelectorSpec::default()
            },
            shafts: vec![
                ShaftSpec::with(Shaft::Input, input),
                ShaftSpec::with(Shaft::Output, output),
            ],
            sliders,
            ..GearsetSpec::default()
        }
    }

    /// Puts the wheels of a gear, counted from 1, on both shafts.
    fn put_gear(&self, number: usize, wheels: &mut [Vec<WheelSpec>; 2], places: &mut [Place]) {
        let Some(gear) = number.checked_sub(1) else { return };
        places[gear] = Place { shaft: 1, wheel: wheels[1].len() };
        for (at, kind) in [WheelKind::Fixed, WheelKind::Free].into_iter().enumerate() {
            let mut wheel = WheelSpec::of(kind);
            wheel.set(WheelField::WheelTeeth, self.teeth[gear][at]);
            wheels[at].push(wheel);
        }
    }

    /// First gear, neutral half a step on, then a step for each further gear.
    fn positions(&self) -> Vec<PositionSpec> {
        let mut positions = vec![
            PositionSpec::at(FIRST_DEG, Some(0)),
            PositionSpec::at(FIRST_DEG + STEP_DEG / 2.0, None),
        ];
        let gears =
            (1..self.teeth.len()).map(|gear| PositionSpec::at(position_deg(gear), Some(gear)));
        positions.extend(gears);
        positions
    }

    /// The track of a slider: in neutral but for its own gears, each reached and left about the middle of a
    /// step.
    fn track(&self, slider: usize) -> Vec<[f64; 2]> {
        let mut own: Vec<usize> =
            self.sliders[slider].iter().filter_map(|number| number.checked_sub(1)).collect();
        own.sort_unstable();
        let [near, far] = RAMP_DEG;
        let last = position_deg(self.teeth.len() - 1);
        let mut points = vec![[0.0, 0.0]];
        for gear in &own {
            let is_lower = own.len() > 1 && gear == &own[0];
            let throw = if is_lower { -THROW_MM } else { THROW_MM };
            let at = position_deg(*gear);
            let [before, behind] = [at - STEP_DEG / 2.0, at + STEP_DEG / 2.0];
            if *gear == 0 {
                points[0][1] = throw;
            } else {
                points.extend([[before + near, 0.0], [before + far, throw]]);
            }
            if at < last {
                points.extend([[behind - far, throw], [behind - near, 0.0]]);
            }
        }
        let end = points[points.len() - 1][1];
        points.push([last + STEP_DEG / 2.0, end]);
        points
    }
}

/// The drum angle of a gear, degrees.
fn position_deg(gear: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "few")]
    let steps = gear as f64;
    FIRST_DEG + STEP_DEG * steps
}

/// The number of a wheel on the input shaft across a wheel of the output shaft: sliders have no partner.
fn input_place(output: &[WheelSpec], wheel: usize) -> usize {
    output[..wheel].iter().filter(|own| own.kind != WheelKind::Sliding).count()
}

/// Five dogs of 20° with 3° of undercut against the same: an invented pair.
fn pair() -> Design {
    let mut design = Design::default();
    for ring in [&mut design.a, &mut design.b] {
        if let Layout::Even(even) = &mut ring.layout {
            (even.count, even.tip_width_deg) = (5.0, 20.0);
            (even.back_cut_drive_deg, even.back_cut_coast_deg) = (3.0, 3.0);
        }
    }
    design.setting.set(SettingField::Overlap, 4.5);
    design
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::selector::Track;

    #[test]
    fn a_direct_top_is_one_turn_for_one() {
        let direct: Vec<_> =
            LAYOUTS.iter().filter(|layout| layout.key.ends_with("direct")).collect();
        assert_eq!(direct.len(), 2);
        for layout in direct {
            let set = layout.to_gearset();
            let of = |id| set.drive.field(id).expect("it has one");
            let primary = of(FieldId::PrimaryDriven) / of(FieldId::PrimaryDriving);
            let usual = |id: FieldId| id.spec().default;
            let crank = usual(FieldId::PrimaryDriven) / usual(FieldId::PrimaryDriving);
            let top = set.ratio(set.gears.len() - 1).expect("it has one");
            assert!((primary * top - crank).abs() < 1e-12, "{}", layout.key);
        }
    }

    #[test]
    fn every_layout_is_whole() {
        for layout in LAYOUTS {
            let set = layout.to_gearset();
            assert!((2..=8).contains(&set.gears.len()));
            for gear in 0..set.gears.len() {
                let free = set.free_wheel(gear).expect(layout.key);
                let slider = set.sliders[set.gears[gear].slider];
                assert_eq!((free.shaft, free.wheel.abs_diff(slider.wheel)), (slider.shaft, 1));
                let [driving, driven] = layout.teeth[gear];
                assert_eq!(set.ratio(gear), Some(driven / driving), "{} {gear}", layout.key);
                assert!(set.pair(gear).is_some());
            }
            for fork in &set.forks {
                let track = Track::through(fork.track.clone());
                assert!(track.is_ok(), "{} {:?}", layout.key, fork.track);
            }
        }
    }
}
