//! The shifts, lash and load of every gear, as if each had the dogs of the design.

use crenel_words::{Message, outcome as say};

use super::chances::gear_steps;
use super::dog_torques::DogTorques;
use super::shift::first_pass;
use super::shift_case::{ShiftCase, ratios};
use super::worked::Worked;
use crate::design::{Need, SettingField};
use crate::fields::{FieldId, Slot};
use crate::load::Stress;
use crate::ring::FlankSide;
use crate::shift::{Passing, Step, Way, flank_met, straight_in_limit_rpm};
use crate::units::sort_by_number;

/// One shift of the gearbox, with these dogs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearShift {
    /// Which shift, and its speeds.
    pub step: Step,
    /// The flank that takes the blow.
    pub flank: FlankSide,
    /// Time for which the widest window is open, ms; `None` if no window is open, or if the speeds are
    /// equal.
    pub window_ms: Option<f64>,
    /// Largest speed difference at which the widest window can be entered straight, rpm.
    pub limit_rpm: Option<f64>,
    /// Share of phases that go in at the first pass; `None` if the rings jam or do not reach each other, or if
    /// nobody knows the tip friction.
    pub chance: Option<f64>,
    /// Peak torque of the hardest blow, which takes the whole speed difference across the whole lash, N·m; `None` if
    /// nobody knows the inertia.
    pub blow_nm: Option<f64>,
}

/// The share of first passes below which a shift is marked: our own bound.
const MOST: f64 = 0.5;

impl GearShift {
    /// Whether less than half of all first passes go in; where their share is not known, whether the speed
    /// difference is over the straight-in limit.
    pub fn is_mostly_missed(&self) -> bool {
        let over = || self.limit_rpm.is_some_and(|limit| self.step.slip_rpm.abs() > limit);
        self.chance.map_or_else(over, |chance| chance < MOST)
    }
}

/// The lash in one gear, with these dogs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearLash {
    /// The gear; first gear is 0.
    pub gear: usize,
    /// Turns of the input shaft for one turn of the output shaft.
    pub ratio: f64,
    /// Turns of the shaft that carries the dogs for one turn of the wheel.
    pub ratio_to_wheel: f64,
    /// Lash at the wheel, degrees; `None` without a window at full depth.
    pub wheel_deg: Option<f64>,
    /// Lash at the tyre, mm.
    pub tyre_mm: Option<f64>,
}

/// The hardest shift that the dogs of a design are judged by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HardestShift {
    /// The speed difference, rpm, without its sign.
    pub slip_rpm: f64,
    /// The shift of the gearbox; `None` if the speed difference is typed.
    pub step: Option<Step>,
}

/// The shift with the largest speed difference that these dogs meet: of all shifts of the gearbox, in a whole gearbox
/// of those into their own gear, or the typed one. `None` without a pair, and if nobody knows the speed difference.
pub fn hardest_shift(worked: &Worked) -> Option<HardestShift> {
    if worked.design.missing(Need::Speed).is_some() {
        return None;
    }
    let shift_case = &worked.pair.as_ref()?.shift_case;
    let slip = |step: &Step| step.slip_rpm.abs();
    let from_gearbox = shift_case.step.map(|own| {
        // In a whole gearbox the other gears have dogs of their own.
        let meets = |step: &Step| worked.design.around.is_none() || step.to == own.to;
        let steps = gear_steps(&worked.design).into_iter().filter(meets);
        // The shift of the design among equals.
        let harder = steps.filter(|step| slip(step) > slip(&own));
        harder.max_by(|a, b| slip(a).total_cmp(&slip(b))).unwrap_or(own)
    });
    let slip_rpm = from_gearbox.as_ref().map_or(shift_case.slip_rpm.abs(), slip);
    Some(HardestShift { slip_rpm, step: from_gearbox })
}

/// Every shift of the gearbox whose speed difference is known, upshifts first; empty without a gearbox or a pair.
pub fn gear_shifts(worked: &Worked) -> Vec<GearShift> {
    gear_steps(&worked.design).into_iter().filter_map(|step| gear_shift(worked, step)).collect()
}

/// One shift of the gearbox; `None` without a gearbox or a pair.
pub fn gear_shift(worked: &Worked, step: Step) -> Option<GearShift> {
    let pair = worked.pair.as_ref()?;
    let (gearbox, ratios) = worked.design.gearbox.as_ref().zip(ratios(&worked.design))?;
    let shift_case = ShiftCase::of_step(gearbox, &ratios, step)?;
    let passing = Passing::new(&pair.to_hold, step.slip_rpm);
    let widest = passing.extremes().map(|(_, widest)| widest);
    let engagement = &pair.engagement;
    let knows_inertia = worked.design.knows_inertia(step.to);
    let knows_rubbing = worked.design.missing(Need::TipFriction).is_none() && knows_inertia;
    let can_tell = pair.shift.is_some() && knows_rubbing;
    let full = engagement.full_depth_mm;
    let chance =
        can_tell.then(|| first_pass(&worked.design, &pair.mesh, full, &shift_case).is_in());
    Some(GearShift {
        step,
        flank: flank_met(step.slip_rpm),
        window_ms: widest.map(|w| passing.seconds_open(w) * 1000.0).filter(|t| t.is_finite()),
        limit_rpm: widest.map(|w| straight_in_limit_rpm(w, pair.travel_s)),
        chance,
        blow_nm: knows_inertia
            .then(|| DogTorques::hardest_nm(&worked.design, &shift_case, &engagement.windows)),
    })
}

/// The lash in every gear whose ratio is known; empty without a gearbox or a pair.
pub fn gear_lashes(worked: &Worked) -> Vec<GearLash> {
    let design = &worked.design;
    let Some((pair, ratios)) = worked.pair.as_ref().zip(ratios(design)) else {
        return Vec::new();
    };
    let lash = pair.held.map(|held| held.width);
    let tyre = design.setting.get(SettingField::WheelDiameter) / 2.0;
    let gear = |gear: usize| {
        let ratio_to_wheel = ratios.ratio_to_wheel(gear)?;
        Some(GearLash {
            gear,
            ratio: ratios.gears.get(gear)?.ratio,
            ratio_to_wheel,
            wheel_deg: lash.map(|l| l.degrees() / ratio_to_wheel),
            tyre_mm: lash.map(|l| l.radians() / ratio_to_wheel * tyre),
        })
    };
    (0..ratios.gears.len()).filter(|at| design.knows_ratio(*at)).filter_map(gear).collect()
}

/// The load on these dogs in one gear with the throttle open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearLoad {
    /// Which gear, first gear is 0.
    pub gear: usize,
    /// Torque at the dogs with the load factor, N·m.
    pub torque_nm: f64,
    /// Most force on one dog, N.
    pub dog_force_n: f64,
    /// Most flank pressure, MPa.
    pub pressure_mpa: Option<f64>,
    /// Most bending and shear together at a root, MPa.
    pub combined_mpa: f64,
    /// The same on the overrun; `None` where no coast flanks meet.
    pub overrun_combined_mpa: Option<f64>,
}

/// The load in every gear; empty without a gearbox or if no dog carries. Forces and stresses are
/// proportional to the torque, so those of the design are scaled. For measured spacing this is an
/// approximation: the share of each dog is that at the torque of the design.
pub fn gear_loads(worked: &Worked) -> Vec<GearLoad> {
    let design = &worked.design;
    let carried = worked.pair.as_ref().and_then(|m| Some((m, m.strength.as_ref()?)));
    let Some(((pair, strength), gearbox)) = carried.zip(design.gearbox.as_ref()) else {
        return Vec::new();
    };
    let Some(ratios) = ratios(design).filter(|_| strength.torque_nm > 0.0) else {
        return Vec::new();
    };
    let engine_nm = gearbox.field(FieldId::EngineTorque).unwrap_or_default();
    let factor = design.setting.get(SettingField::LoadFactor);
    let share = design.setting.get(SettingField::OverrunShare);
    let gear = |gear: usize| {
        let torque_nm = ratios.at_dogs_nm(gear, engine_nm)? * factor;
        let by = torque_nm / strength.torque_nm;
        let force = strength.pairs.iter().map(|pair| pair.force_n).fold(0.0, f64::max);
        let overrun = pair.overrun.as_ref().filter(|s| s.torque_nm > 0.0).map(|overrun| {
            overrun.most(Stress::combined_mpa) * torque_nm * share / overrun.torque_nm
        });
        Some(GearLoad {
            gear,
            torque_nm,
            dog_force_n: force * by,
            pressure_mpa: strength.pressure_mpa().map(|mpa| mpa * by),
            combined_mpa: strength.most(Stress::combined_mpa) * by,
            overrun_combined_mpa: overrun,
        })
    };
    (0..ratios.gears.len()).filter(|at| design.knows_torque(*at)).filter_map(gear).collect()
}

/// Sentences on the hardest upshift or downshift, and why it is: in a whole gearbox of those into the dogs of the
/// design, else of all, as if every gear had these dogs. Empty if there is no such shift, or if a number of the gearbox is
/// outside its limits.
pub fn hardest_words(worked: &Worked, way: Way) -> Vec<Message> {
    let design = &worked.design;
    let wrong = |slot: &Slot| design.get(*slot).is_none_or(|value| slot.check(value).is_some());
    let sound = !design.gearbox_slots().iter().any(wrong);
    let Some(ratios) = ratios(design).filter(|_| sound) else { return Vec::new() };
    let own = design.gear().filter(|_| design.around.is_some());
    let counts = |step: &Step| step.way == way && own.is_none_or(|own| step.to == own);
    let mut steps: Vec<_> = gear_steps(design).into_iter().filter(counts).collect();
    sort_by_number(&mut steps, |step| -step.slip_rpm.abs());
    let Some(step) = steps.first() else { return Vec::new() };
    let [old, new] = [step.from, step.to].map(|gear| ratios.gears[gear].ratio);
    let jump = (old / new).max(new / old);
    let rpm = |step: &Step| step.slip_rpm.abs();
    let word = if way == Way::Up { "up" } else { "down" };
    let whose = if own.is_some() { "own" } else { "every" };
    let hardest = say::hardest(word, whose, step.from, step.to, jump, step.engine_rpm, rpm(step));
    let mut told = vec![hardest];
    told.extend(steps.get(1).map(|next| say::next_hardest(next.from, next.to, rpm(next))));
    let limit = worked.pair.as_ref().and_then(|pair| {
        let (_, widest) = pair.passing.extremes()?;
        Some(straight_in_limit_rpm(widest, pair.travel_s))
    });
    let over = limit.filter(|limit| *limit < step.slip_rpm.abs());
    told.extend(over.map(|limit| say::over_straight_in(step.from, step.to, limit)));
    told
}
