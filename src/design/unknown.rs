//! Numbers that nobody knows yet. The default that is in the place of one decides nothing: what needs the
//! number says so.

use super::{Design, GearSpec, GearboxSpec, LoadCase, ShiftFrom};
use crate::fields::{FieldId, Slot};
use crate::shift::{Step, Way};
use crate::units::set_of;

/// What a result can need beside the sizes of the rings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Need {
    /// The speed difference of the shift.
    Speed,
    /// The ratio from the dogs to the wheel.
    Ratio,
    /// The torque at the dogs.
    Torque,
    /// The inertia of both sides about the dogs.
    Inertia,
    /// The friction of the tips.
    TipFriction,
    /// The friction of flanks and splines.
    SlidingFriction,
}

/// Numbers of the setting that are of somebody's own gear and nobody else's: speed, load and friction.
const OWN: [FieldId; 6] = [
    FieldId::SlipSpeed,
    FieldId::ThrottleTorque,
    FieldId::RatioToWheel,
    FieldId::TipFriction,
    FieldId::FlankFriction,
    FieldId::SplineFriction,
];

/// The same of a gearbox.
const OWN_GEARBOX: [FieldId; 5] = [
    FieldId::PrimaryDriving,
    FieldId::PrimaryDriven,
    FieldId::FinalDriving,
    FieldId::FinalDriven,
    FieldId::EngineTorque,
];

/// The same of a gear.
const OWN_GEAR: [FieldId; 4] = GearSpec::FIELDS;

impl Design {
    /// A design to fill in: plausible rings, whose sizes are assumed until somebody gives them, and neither
    /// texts nor speed, load or friction.
    ///
    /// ```
    /// use crenel::design::{Design, Need};
    /// let own = Design::own_gear();
    /// assert!(own.title.is_empty() && own.missing(Need::Speed).is_some());
    /// ```
    pub fn own_gear() -> Self {
        let mut design = Self::default();
        OWN.into_iter().for_each(|id| design.forget(Slot::Setting(id)));
        design
    }

    /// Adds a gearbox. To a design whose speed difference nobody knows it comes with two gears to fill in.
    pub fn add_gearbox(&mut self) {
        if !self.is_unknown(Slot::Setting(FieldId::SlipSpeed)) {
            self.gearbox = Some(GearboxSpec::default());
            return;
        }
        self.gearbox = Some(GearboxSpec::with_gears(vec![GearSpec::default(); 2]));
        OWN_GEARBOX.into_iter().for_each(|id| self.forget(Slot::Gearbox(id)));
        (0..2).for_each(|at| self.forget_gear(at));
        self.setting.from = ShiftFrom::Up;
        self.set(Slot::Setting(FieldId::Gear), 2.0);
    }

    /// Adds a gear at the top. Where that below it is not known, it is not known either.
    pub fn add_gear(&mut self) {
        let Some(gearbox) = &mut self.gearbox else { return };
        let gears = gearbox.gears.len();
        gearbox.add_gear();
        let below = gears.checked_sub(1).filter(|_| gearbox.gears.len() > gears);
        let knows = |at: usize| OWN_GEAR.into_iter().all(|id| !self.is_unknown(Slot::Gear(at, id)));
        if below.is_some_and(|at| !knows(at)) {
            self.forget_gear(gears);
        }
    }

    /// Removes a gear; those above it move down, with what is known of them.
    pub fn remove_gear(&mut self, at: usize) {
        let Some(gearbox) = &mut self.gearbox else { return };
        if at >= gearbox.gears.len() {
            return;
        }
        gearbox.gears.remove(at);
        let moved = |slot: &Slot| match *slot {
            Slot::Gear(gear, _) if gear == at => None,
            Slot::Gear(gear, id) if gear > at => Some(Slot::Gear(gear - 1, id)),
            other => Some(other),
        };
        self.given = set_of(self.given.iter().filter_map(moved));
        self.unknown = set_of(self.unknown.iter().filter_map(moved));
    }

    fn forget_gear(&mut self, at: usize) {
        OWN_GEAR.into_iter().for_each(|id| self.forget(Slot::Gear(at, id)));
    }

    /// Forgets a number that can be unknown: its place gets the default of the table, which decides nothing.
    fn forget(&mut self, slot: Slot) {
        if slot.can_be_unknown() && self.set(slot, slot.field().spec().default) {
            self.given.remove(&slot);
            self.unknown.insert(slot);
        }
    }

    /// Forgets a number that somebody gave, if it is one that can be unknown. Returns whether it is.
    pub fn set_unknown(&mut self, slot: Slot) -> bool {
        self.forget(slot);
        self.unknown.contains(&slot)
    }

    /// Whether nobody knows the number at a slot. One that differs from its default was given.
    pub fn is_unknown(&self, slot: Slot) -> bool {
        self.unknown.contains(&slot) && self.get(slot) == Some(slot.field().spec().default)
    }

    /// The first number that is missing for what a result needs; `None` if all of them are known.
    pub fn missing(&self, need: Need) -> Option<Slot> {
        let unknown = |slot: &Slot| self.is_unknown(*slot);
        // Most designs know everything.
        (!self.unknown.is_empty()).then(|| self.sources(need).into_iter().find(unknown))?
    }

    /// The first number that is missing for any of these.
    pub fn missing_of(&self, needs: &[Need]) -> Option<Slot> {
        needs.iter().find_map(|need| self.missing(*need))
    }

    /// Whether every number that a shift of the gearbox takes its speed difference from is known.
    pub fn knows_step(&self, step: Step) -> bool {
        !step_sources(step.from, step.to, step.way).iter().any(|slot| self.is_unknown(*slot))
    }

    /// Whether every number from which the torque at the dogs of a gear is worked out is known.
    pub fn knows_torque(&self, gear: usize) -> bool {
        !torque_sources(gear).iter().any(|slot| self.is_unknown(*slot))
    }

    /// Whether every number from which the inertia about the dogs of a gear is worked out is known.
    pub fn knows_inertia(&self, gear: usize) -> bool {
        !inertia_sources(gear).iter().any(|slot| self.is_unknown(*slot))
    }

    /// Whether every number from which the ratio of a gear to the wheel is worked out is known.
    pub fn knows_ratio(&self, gear: usize) -> bool {
        !ratio_sources(gear).iter().any(|slot| self.is_unknown(*slot))
    }

    fn sources(&self, need: Need) -> Vec<Slot> {
        let of = |ids: &[FieldId]| ids.iter().copied().map(Slot::Setting).collect::<Vec<_>>();
        let of_gearbox = self.gearbox.as_ref().and(self.way()).zip(self.gear());
        match (need, of_gearbox) {
            (Need::TipFriction, _) => of(&[FieldId::TipFriction]),
            (Need::SlidingFriction, _) => of(&[FieldId::FlankFriction, FieldId::SplineFriction]),
            (Need::Speed, None) => of(&[FieldId::SlipSpeed]),
            (Need::Inertia, None) => Vec::new(),
            (Need::Ratio, None) => of(&[FieldId::RatioToWheel]),
            (Need::Torque, None) => self.with_shock(of(&[FieldId::ThrottleTorque])),
            (Need::Speed, Some((way, to))) => {
                let from = if way == Way::Up { to.saturating_sub(1) } else { to + 1 };
                step_sources(from, to, way)
            }
            (Need::Ratio, Some((_, gear))) => ratio_sources(gear),
            (Need::Inertia, Some((_, gear))) => inertia_sources(gear),
            (Need::Torque, Some((_, gear))) => self.with_shock(torque_sources(gear)),
        }
    }

    /// The largest torque is that of a shock too, which takes the speed difference and the inertia.
    fn with_shock(&self, mut torque: Vec<Slot>) -> Vec<Slot> {
        if self.setting.case == LoadCase::Largest {
            torque.extend([Need::Speed, Need::Inertia].map(|need| self.sources(need)).concat());
        }
        torque
    }
}

fn step_sources(from: usize, to: usize, way: Way) -> Vec<Slot> {
    let at = if way == Way::Up { FieldId::UpAt } else { FieldId::DownAt };
    let primary = [FieldId::PrimaryDriving, FieldId::PrimaryDriven].map(Slot::Gearbox);
    let gears = [teeth(from), teeth(to)];
    gears.into_iter().flatten().chain(primary).chain([Slot::Gear(from, at)]).collect()
}

fn ratio_sources(gear: usize) -> Vec<Slot> {
    let last = [FieldId::FinalDriving, FieldId::FinalDriven].map(Slot::Gearbox);
    teeth(gear).into_iter().chain(last).collect()
}

/// The inertia of the wheel comes through the final drive, that of the engine through the primary.
fn inertia_sources(gear: usize) -> Vec<Slot> {
    let primary = [FieldId::PrimaryDriving, FieldId::PrimaryDriven].map(Slot::Gearbox);
    ratio_sources(gear).into_iter().chain(primary).collect()
}

fn torque_sources(gear: usize) -> Vec<Slot> {
    let engine = [FieldId::EngineTorque, FieldId::PrimaryDriving, FieldId::PrimaryDriven];
    teeth(gear).into_iter().chain(engine.map(Slot::Gearbox)).collect()
}

fn teeth(gear: usize) -> [Slot; 2] {
    [FieldId::GearDriving, FieldId::GearDriven].map(|id| Slot::Gear(gear, id))
}

impl Slot {
    /// Whether a design can do without the number at this slot.
    pub fn can_be_unknown(self) -> bool {
        match self {
            Self::Setting(id) => OWN.contains(&id),
            Self::Gearbox(id) => OWN_GEARBOX.contains(&id),
            Self::Gear(_, id) => OWN_GEAR.contains(&id),
            _ => false,
        }
    }
}
