//! The whole gearbox as the user gives it: shafts with their wheels, sliders, forks, drum, and a pair of rings for
//! each gear.
//!
//! Places are counted from 0 here and from 1 in files. A gear has the design of one pair for itself, or the same
//! as another gear; ring A is on the slider, ring B on the free wheel. Of that design its rings, its setting and
//! its stack-up to this pair count; teeth, shift speeds, inertias, forks and drum are those of the gearbox.

mod around;
mod layouts;

pub use around::BoxAround;
pub use layouts::{LAYOUTS, PlainLayout};

use std::collections::BTreeMap;

use super::gearbox::GearField;
use super::numbers::{numbered, place};
use super::{Design, GearSpec, GearboxSpec, SelectorSpec};
use crate::fields::{BoxPart, FieldId};
use crate::shift::Shaft;

/// Most gears, shafts, sliders, forks, and wheels on a shaft.
pub const MOST_PARTS: usize = 16;

/// How a wheel sits on its shaft.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum WheelKind {
    /// It turns with the shaft and stays in its place.
    #[default]
    Fixed,
    /// It turns freely until a slider engages it.
    Free,
    /// It turns with the shaft and slides along it: a sliding gear, or a slider without teeth.
    Sliding,
}

/// One wheel of a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelSpec {
    /// How it sits on its shaft.
    pub kind: WheelKind,
    numbers: [f64; WheelField::COUNT],
}

numbered!(
    WheelField of WheelSpec:
    WheelTeeth, FaceWidth, MeshOffset, LeastMesh, HubSpline, SplineBefore, SplineBehind, LeastSpline
);

impl WheelSpec {
    /// A wheel of this kind, with the default number of teeth.
    pub fn of(kind: WheelKind) -> Self {
        Self { kind, numbers: WheelField::defaults() }
    }
}

impl Default for WheelSpec {
    fn default() -> Self {
        Self::of(WheelKind::default())
    }
}

/// A shaft with its wheels in their order.
#[derive(Clone, Debug, PartialEq)]
pub struct ShaftSpec {
    /// Which shaft it is.
    pub is: Shaft,
    /// Its wheels, in the order in which they sit on it. All shafts are listed from the same side.
    pub wheels: Vec<WheelSpec>,
    numbers: [f64; ShaftField::COUNT],
}

numbered!(ShaftField of ShaftSpec: EndFloat, ShaftShim);

impl ShaftSpec {
    /// A shaft with these wheels.
    pub fn with(is: Shaft, wheels: Vec<WheelSpec>) -> Self {
        Self { is, wheels, numbers: ShaftField::defaults() }
    }
}

impl Default for ShaftSpec {
    fn default() -> Self {
        Self::with(Shaft::default(), Vec::new())
    }
}

/// The place of a wheel: its shaft and its number on it, from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// The shaft.
    pub shaft: usize,
    /// The wheel on it.
    pub wheel: usize,
}

/// A fork in its track.
#[derive(Clone, Debug, PartialEq)]
pub struct ForkSpec {
    /// The slider that it moves, from 0.
    pub slider: usize,
    /// The track: drum angle in degrees, and where the slider is, mm from neutral towards its higher gear.
    pub track: Vec<[f64; 2]>,
    /// What was read on it, of [`ForkSpec::SEEN`].
    pub seen: BTreeMap<FieldId, f64>,
    numbers: [f64; ForkField::COUNT],
}

numbered!(ForkField of ForkSpec: ForkOffset, ForkThickness, GrooveWidth, PinDiameter, TrackWidth);

impl ForkSpec {
    /// What can be read on a fork.
    pub const SEEN: [FieldId; 3] =
        [FieldId::SeenForkPlay, FieldId::SeenPinPlay, FieldId::SeenForkBend];

    /// A fork with this track.
    pub fn with(slider: usize, track: Vec<[f64; 2]>) -> Self {
        Self { slider, track, seen: BTreeMap::new(), numbers: ForkField::defaults() }
    }
}

impl Default for ForkSpec {
    fn default() -> Self {
        Self::with(0, Vec::new())
    }
}

/// A position of the detent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PositionSpec {
    /// The gear that is in, from 0; `None` is neutral.
    pub gear: Option<usize>,
    numbers: [f64; PositionField::COUNT],
}

numbered!(PositionField of PositionSpec: PositionAngle);

impl PositionSpec {
    /// A position at a drum angle in degrees.
    pub fn at(deg: f64, gear: Option<usize>) -> Self {
        let mut position = Self { gear, ..Self::default() };
        position.set(PositionField::PositionAngle, deg);
        position
    }
}

impl Default for PositionSpec {
    fn default() -> Self {
        Self { gear: None, numbers: PositionField::defaults() }
    }
}

/// The drum apart from its tracks.
#[derive(Clone, Debug, PartialEq)]
pub struct DrumSpec {
    /// The positions of the detent, by rising angle.
    pub positions: Vec<PositionSpec>,
    numbers: [f64; DrumField::COUNT],
}

numbered!(DrumField of DrumSpec: DrumFloat);

impl DrumSpec {
    /// A drum with these positions.
    pub fn with(positions: Vec<PositionSpec>) -> Self {
        Self { positions, numbers: DrumField::defaults() }
    }
}

impl Default for DrumSpec {
    fn default() -> Self {
        Self::with(Vec::new())
    }
}

/// Where a gear has its pair of rings from.
#[derive(Clone, Debug, PartialEq)]
pub enum PairOf {
    /// It has its own.
    Own(Box<Design>),
    /// It is the same as that of another gear, from 0.
    SameAs(usize),
}

impl Default for PairOf {
    fn default() -> Self {
        Self::Own(Box::default())
    }
}

/// A gear: its wheels, the slider that engages it, and its rings.
#[derive(Clone, Debug, PartialEq)]
pub struct SetGearSpec {
    /// The wheel that drives, on the input shaft.
    pub driving: Place,
    /// The wheel that is driven, on the output shaft.
    pub driven: Place,
    /// The slider that engages it, from 0.
    pub slider: usize,
    /// Its rings.
    pub pair: PairOf,
    /// What was read on it, of [`SetGearSpec::SEEN`].
    pub seen: BTreeMap<FieldId, f64>,
    numbers: [f64; SetGearField::COUNT],
}

numbered!(SetGearField of SetGearSpec: NeutralClearance, UpAt, DownAt);

impl Default for SetGearSpec {
    fn default() -> Self {
        Self::with(Place::default(), Place::default(), 0, PairOf::default())
    }
}

impl SetGearSpec {
    /// What can be read on a gear, from the outside in.
    pub const SEEN: [FieldId; 15] = [
        FieldId::SeenGapLift,
        FieldId::SeenGapPress,
        FieldId::SeenRest,
        FieldId::SeenDrumSlack,
        FieldId::SeenMeetsUp,
        FieldId::SeenMeetsDown,
        FieldId::SeenClearanceThis,
        FieldId::SeenOverlap,
        FieldId::SeenRoomFar,
        FieldId::SeenRoomNear,
        FieldId::SeenEdgeA,
        FieldId::SeenEdgeB,
        FieldId::SeenFlankDrive,
        FieldId::SeenFlankCoast,
        FieldId::SeenLash,
    ];

    /// A gear of these parts.
    pub fn with(driving: Place, driven: Place, slider: usize, pair: PairOf) -> Self {
        let seen = BTreeMap::new();
        Self { driving, driven, slider, pair, seen, numbers: SetGearField::defaults() }
    }
}

/// The whole gearbox.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GearsetSpec {
    /// What it is called.
    pub title: String,
    /// Notes for the next reader.
    pub notes: String,
    /// Primary and final drive, inertias, torque and clutch. Its list of gears is not used: teeth and shift
    /// speeds are those of `gears`.
    pub drive: GearboxSpec,
    /// The shafts.
    pub shafts: Vec<ShaftSpec>,
    /// The places of the sliders.
    pub sliders: Vec<Place>,
    /// The forks.
    pub forks: Vec<ForkSpec>,
    /// The drum.
    pub drum: DrumSpec,
    /// The gears, first gear first.
    pub gears: Vec<SetGearSpec>,
    /// Claw and detent, as far as they are known.
    pub selector: SelectorSpec,
}

impl GearsetSpec {
    /// The wheel at a place.
    pub fn wheel(&self, at: Place) -> Option<&WheelSpec> {
        self.shafts.get(at.shaft)?.wheels.get(at.wheel)
    }

    /// The free wheel of a gear; `None` unless exactly one of its two wheels is free.
    pub fn free_wheel(&self, gear: usize) -> Option<Place> {
        let gear = self.gears.get(gear)?;
        let is_free = |at: Place| Some(self.wheel(at)?.kind == WheelKind::Free);
        match (is_free(gear.driving)?, is_free(gear.driven)?) {
            (true, false) => Some(gear.driving),
            (false, true) => Some(gear.driven),
            _ => None,
        }
    }

    /// Turns of the input shaft for one turn of the output shaft; `None` if a wheel is missing.
    pub fn ratio(&self, gear: usize) -> Option<f64> {
        let [driving, driven] = self.teeth(gear)?;
        Some(driven / driving)
    }

    /// Teeth of the driving and of the driven wheel.
    fn teeth(&self, gear: usize) -> Option<[f64; 2]> {
        let gear = self.gears.get(gear)?;
        let teeth = |at| Some(self.wheel(at)?.get(WheelField::WheelTeeth));
        Some([teeth(gear.driving)?, teeth(gear.driven)?])
    }

    /// The gear that has the rings of a gear: itself, or that which it is the same as. `None` if that leads
    /// nowhere or round in a circle.
    pub fn owner(&self, gear: usize) -> Option<usize> {
        let mut at = gear;
        for _ in 0..=self.gears.len() {
            match self.gears.get(at)?.pair {
                PairOf::Own(_) => return Some(at),
                PairOf::SameAs(other) => at = other,
            }
        }
        None
    }

    /// The design of the rings of a gear.
    pub fn pair(&self, gear: usize) -> Option<&Design> {
        match &self.gears[self.owner(gear)?].pair {
            PairOf::Own(design) => Some(design),
            PairOf::SameAs(_) => None,
        }
    }

    /// What was read on a part; `None` if nothing can be read on it, or if it is not there.
    pub fn seen(&self, part: BoxPart) -> Option<&BTreeMap<FieldId, f64>> {
        match part {
            BoxPart::SeenGear(at) => Some(&self.gears.get(at)?.seen),
            BoxPart::SeenFork(at) => Some(&self.forks.get(at)?.seen),
            _ => None,
        }
    }

    /// The gearbox of ratios and shift speeds that this one is. A gear that lacks a wheel has default teeth there, so
    /// that the numbers of the others stay; its ratio is not known.
    pub fn to_gearbox(&self) -> GearboxSpec {
        let mut gearbox = self.drive.clone();
        let gears = 0..self.gears.len();
        gearbox.gears = gears.map(|gear| self.ratio_of(gear).unwrap_or_default()).collect();
        gearbox
    }

    fn ratio_of(&self, gear: usize) -> Option<GearSpec> {
        let own = &self.gears[gear];
        let shaft = self.free_wheel(gear).map_or(own.driven.shaft, |at| at.shaft);
        let mut ratio = GearSpec::on(self.shafts.get(shaft)?.is);
        let [driving, driven] = self.teeth(gear)?;
        ratio.set(GearField::GearDriving, driving);
        ratio.set(GearField::GearDriven, driven);
        ratio.set(GearField::UpAt, own.get(SetGearField::UpAt));
        ratio.set(GearField::DownAt, own.get(SetGearField::DownAt));
        Some(ratio)
    }
}

/// Whether an input is one of a whole gearbox, which a design of one pair does not have.
pub fn is_of_gearset(id: FieldId) -> bool {
    let own: [&[FieldId]; 8] = [
        &WheelSpec::FIELDS,
        &ShaftSpec::FIELDS,
        &[FieldId::ForkOffset, FieldId::PinDiameter, FieldId::TrackWidth],
        &PositionSpec::FIELDS,
        &DrumSpec::FIELDS,
        &[FieldId::NeutralClearance],
        &[FieldId::SeenPinPlay, FieldId::SeenForkBend],
        &[
            FieldId::SeenRest,
            FieldId::SeenMeetsUp,
            FieldId::SeenMeetsDown,
            FieldId::SeenRoomFar,
            FieldId::SeenRoomNear,
        ],
    ];
    own.iter().any(|ids| ids.contains(&id))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gears_that_are_the_same_as_each_other_have_no_rings() {
        let mut set = LAYOUTS[0].to_gearset();
        set.gears[1].pair = PairOf::SameAs(0);
        set.gears[2].pair = PairOf::SameAs(1);
        assert_eq!([0, 1, 2].map(|gear| set.owner(gear)), [Some(0); 3]);
        set.gears[0].pair = PairOf::SameAs(2);
        assert_eq!(set.pair(1), None);
        set.gears[0].pair = PairOf::SameAs(40);
        assert_eq!(set.owner(2), None);
    }

    #[test]
    fn a_gear_with_two_free_wheels_or_none_has_no_free_wheel() {
        let mut set = LAYOUTS[0].to_gearset();
        let free = set.free_wheel(0).expect("it has one");
        set.shafts[free.shaft].wheels[free.wheel].kind = WheelKind::Fixed;
        assert_eq!(set.free_wheel(0), None);
        assert!(set.ratio(0).is_some(), "its ratio is known all the same");
        set.gears[0].driven.wheel = 99;
        assert_eq!((set.ratio(0), set.to_gearbox().gears.len()), (None, set.gears.len()));
    }
}
