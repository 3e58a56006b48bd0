//! The pair of rings worked out.

use super::dog_torques::DogTorques;
use super::shift::ShiftAnalysis;
use super::shift_case::ShiftCase;
use super::strength::Strength;
use crate::design::{Design, Need, SettingField};
use crate::pair::{Arc, Edges, Engagement, Mesh, extremes};
use crate::ring::{FlankSide, PerSide, Ring};
use crate::shift::Passing;
use crate::units::Angle;

/// The pair worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct PairAnalysis {
    /// The blocks between the dogs of both rings.
    pub mesh: Mesh,
    /// Windows between the tallest tips alone, just past tip level, to sharp edges.
    pub at_tips: Vec<Arc>,
    /// Entry windows to sharp tip edges: those between all dogs that come level before the holding depth.
    /// Where tips are equal, or lower by the holding depth or more, these are the windows at tip level.
    pub entry: Vec<Arc>,
    /// Windows that lead down to the holding depth, with the edge breaks.
    pub to_hold: Vec<Arc>,
    /// The rings at full depth.
    pub engagement: Engagement,
    /// The window at full depth that holds the phase, or the nearest one.
    pub held: Option<Arc>,
    /// The windows that lead to the holding depth passing by at the speed difference.
    pub passing: Passing,
    /// Time in seconds from tip level to the holding depth.
    pub travel_s: f64,
    /// The shift of the design: speeds, inertias and torques.
    pub shift_case: ShiftCase,
    /// The shift; `None` if the rings jam or do not reach each other.
    pub shift: Option<ShiftAnalysis>,
    /// The torques that the dogs have to take.
    pub torques: DogTorques,
    /// The dogs under power; `None` if nothing is carried, or if nobody knows the torque.
    pub strength: Option<Strength>,
    /// The dogs on the overrun; `None` if nothing is carried, or if nobody knows the torque.
    pub overrun: Option<Strength>,
}

impl PairAnalysis {
    /// Width of the widest entry window, rad; `None` if no window is open.
    pub fn free_angle(&self) -> Option<f64> {
        extremes(&self.entry).map(|(_, widest)| widest.radians())
    }

    /// A gap of one ring and a dog of the other that differ by the first entry window. `None` where no two do, as the
    /// dogs of measured rings. Dogs that are met only below the holding depth do not count.
    pub fn gap_and_dog(&self, [a, b]: [&Ring; 2], hold_mm: f64) -> Option<(Angle, Angle)> {
        const SAME_DEG: f64 = 0.05;
        let met = |ring: &Ring| {
            let tallest = ring.tallest_mm();
            let mut ring = ring.clone();
            ring.dogs.retain(|dog| tallest - dog.height_mm < hold_mm);
            ring
        };
        let window = self.entry.first()?.width;
        let one = |gap_of: &Ring, dog_of: &Ring| {
            let gap = gap_of.gaps().into_iter().reduce(f64::min)?;
            let width = |dog| {
                let [from, to] = FlankSide::BOTH.map(|flank| dog_of.tip_edge(dog, flank));
                (to - from).wrapped().radians()
            };
            let dog = dog_of.dogs.iter().map(width).reduce(f64::max)?;
            let differ = Angle::from_radians(gap - dog - window.radians()).degrees().abs();
            let parts = (Angle::from_radians(gap), Angle::from_radians(dog));
            (differ < SAME_DEG).then_some(parts)
        };
        let (a, b) = (met(a), met(b));
        one(&b, &a).or_else(|| one(&a, &b))
    }

    pub(super) fn of(
        design: &Design,
        rings: &PerSide<Ring>,
        mesh: Mesh,
        engagement: Engagement,
    ) -> Self {
        let setting = &design.setting;
        let hold = setting.get(SettingField::HoldDepth);
        let phase = Angle::from_degrees(setting.get(SettingField::Phase));
        let shift_case = ShiftCase::of(design);
        let to_hold = mesh.windows_down_to(hold, Edges::Broken);
        let full = engagement.full_depth_mm;
        let held = (full > 0.0).then(|| engagement.window_near(phase).copied()).flatten();
        let shift = (engagement.jam.is_none() && full > 0.0)
            .then(|| ShiftAnalysis::of(design, &mesh, &engagement, &shift_case));
        let torques =
            DogTorques::of(design, &shift_case, shift.as_ref(), &engagement.windows, held.as_ref());
        let is_loaded = design.missing(Need::Torque).is_none();
        let carried = |flank| {
            let torque_nm = is_loaded.then(|| torques.counted_nm(setting.case, flank))?;
            Strength::of(design, rings, &mesh, full, held.as_ref(), flank, torque_nm)
        };
        Self {
            strength: carried(FlankSide::Drive),
            overrun: carried(FlankSide::Coast),
            at_tips: mesh.entry_windows(Edges::Sharp),
            entry: mesh.windows_down_to(hold, Edges::Sharp),
            held,
            passing: Passing::new(&to_hold, shift_case.slip_rpm),
            travel_s: setting.travel().seconds_to(hold),
            torques,
            shift,
            shift_case,
            to_hold,
            engagement,
            mesh,
        }
    }
}
