//! Which numbers a verdict rests on, so that it can say which of them nobody gave.

use super::stress::LimitedStress;
use crate::analysis::Analysis;
use crate::design::{ClawSpec, DepthSpec, DetentSpec, LinkageSpec, LoadCase, ShiftFrom, TrackSpec};
use crate::fields::FieldId::{self, *};
use crate::fields::Slot;
use crate::figures::{Figure, Group};
use crate::finding::Class;
use crate::load::Carried;
use crate::model::hardest_shift;
use crate::ring::FlankSide;
use crate::shift::{Drive, Step, Way};

/// Sizes of the dogs that set windows and lash.
const LAYOUT: &[FieldId] = &[TipWidth, Gap, Count, EdgeBreak];

/// What sets the speed difference.
const SLIP: &[FieldId] =
    &[SlipSpeed, UpAt, DownAt, GearDriving, GearDriven, PrimaryDriving, PrimaryDriven];

/// What sets the travel time to the holding depth.
const TRAVEL: &[FieldId] = &[DrumSpeed, ShiftForce, MovingMass, StartSpeed, HoldDepth];

/// What brings rubbing tips to a standstill.
const RUBBING: &[FieldId] = &[TipFriction, ShiftForce, Inertia, InputInertia, HoldDepth];

/// What sets the torque at the dogs.
const TORQUE: &[FieldId] =
    &[ThrottleTorque, EngineTorque, PrimaryDriving, PrimaryDriven, GearDriving, GearDriven];

/// What sets the area that carries.
const AREA: &[FieldId] = &[Overlap, Height, InnerDiameter, OuterDiameter, TipWidth, Gap, Count];

/// What sets a shock beside the torque.
const SHOCK: &[FieldId] =
    &[Stiffness, Inertia, EngineInertia, InputInertia, OutputInertia, VehicleMass];

/// The stresses that are allowed.
const ALLOWABLE: &[FieldId] = &[AllowedPressure, AllowedShear, AllowedStress];

/// What sets the unbalance that is allowed.
const BALANCE: &[FieldId] = &[BalanceGrade, BalanceSpeed, GearMass];

/// The inputs that the figures of a class rest on, the most telling first.
static RESTS_ON: [(Class, &[&[FieldId]]); 7] = [
    (Class::Blocked, &[&[Overlap, Height], LAYOUT]),
    (Class::Cut, &[&[CaseDepth]]),
    (Class::Hold, &[&[BackCutDrive, BackCutCoast], TORQUE, &[LoadFactor, OverrunShare]]),
    (Class::Entry, &[TRAVEL, SLIP, LAYOUT]),
    (Class::Stress, &[TORQUE, AREA, &[LoadFactor, OverrunShare, DogStiffness], SHOCK, ALLOWABLE]),
    (Class::Lash, &[SHOCK, TORQUE, LAYOUT, &[Overlap]]),
    (Class::Gain, &[LAYOUT, &[Height, HoldDepth]]),
];

/// The parts between foot and dogs, whose figures rest on their own numbers. The last is the depth.
static PARTS: [&[FieldId]; 5] = [
    &LinkageSpec::FIELDS,
    &ClawSpec::FIELDS,
    &DetentSpec::FIELDS,
    &TrackSpec::FIELDS,
    &DepthSpec::FIELDS,
];

/// The numbers that nobody gave among those that a matter rests on, the most telling first.
pub(super) fn assumed(analysis: &Analysis, class: Class, at: &[Slot]) -> Vec<Slot> {
    let inputs = match (class, at.first()) {
        (_, Some(Slot::Seen(_))) => Vec::new(),
        (_, Some(Slot::Part(id))) => PARTS.into_iter().filter(|part| part.contains(id)).collect(),
        (_, Some(Slot::Setting(BalanceGrade))) => vec![BALANCE],
        (Class::Hold, Some(Slot::Setting(HoldDepth))) => vec![[HoldDepth, EdgeBreak].as_slice()],
        (Class::Hold, Some(Slot::Setting(Overlap))) => {
            vec![[Overlap, EdgeBreak, Height].as_slice()]
        }
        (Class::Entry, Some(Slot::Setting(TipFriction))) => vec![RUBBING, SLIP, LAYOUT],
        _ => of_class(class),
    };
    let fields = || at.iter().map(|slot| slot.field());
    let flank = fields().find_map(|id| match id {
        BackCutDrive => Some(FlankSide::Drive),
        BackCutCoast => Some(FlankSide::Coast),
        _ => None,
    });
    let allowable = fields().find(|id| ALLOWABLE.contains(id));
    let rubs = fields().any(|id| id == TipFriction);
    Basis { analysis, class, flank, allowable, rubs }.assumed(&inputs)
}

/// The same for the tightest figure.
pub(super) fn assumed_by_figure(analysis: &Analysis, figure: &'static Figure) -> Vec<Slot> {
    let (class, inputs) = match figure.group {
        Group::Entry | Group::Time | Group::Shift => (Class::Entry, of_class(Class::Entry)),
        Group::Lash | Group::Blow => (Class::Lash, of_class(Class::Lash)),
        Group::Strength => (Class::Stress, of_class(Class::Stress)),
        Group::Metal => (Class::Cut, vec![BALANCE]),
        Group::Selector => (Class::Fit, PARTS[..4].to_vec()),
        Group::Depth => (Class::Fit, PARTS[4..].to_vec()),
    };
    let stress = LimitedStress::of(figure);
    let (flank, allowable) = (stress.map(|row| row.flank), stress.map(|row| row.allowable));
    Basis { analysis, class, flank, allowable, rubs: false }.assumed(&inputs)
}

fn of_class(class: Class) -> Vec<&'static [FieldId]> {
    let row = RESTS_ON.iter().find(|(of, _)| *of == class);
    row.map_or_else(Vec::new, |(_, inputs)| inputs.to_vec())
}

/// What decides whether an input has any effect.
struct Basis<'a> {
    analysis: &'a Analysis,
    class: Class,
    /// The flank that it is about.
    flank: Option<FlankSide>,
    /// The allowable stress that it is compared with; every one if absent.
    allowable: Option<FieldId>,
    /// Whether tips rub to a standstill.
    rubs: bool,
}

impl Basis<'_> {
    /// The numbers of these inputs that nobody gave, each once, in the order of the inputs.
    fn assumed(&self, inputs: &[&[FieldId]]) -> Vec<Slot> {
        let hardest = hardest_shift(self.analysis).and_then(|shift| shift.step);
        let counts = |slot: &Slot| self.has_effect(slot.field()) && self.is_of_gear(hardest, *slot);
        let assumed: Vec<_> = self.analysis.design.assumed().into_iter().filter(counts).collect();
        let ids: Vec<_> = inputs.iter().copied().flatten().copied().collect();
        let firsts = ids.iter().enumerate().filter(|(at, id)| !ids[..*at].contains(id));
        let of = |id: FieldId| assumed.iter().copied().filter(move |slot| slot.field() == id);
        firsts.flat_map(|(_, id)| of(*id)).collect()
    }

    /// Whether the number of a gear belongs to the shift or the gear that counts; true for other numbers.
    fn is_of_gear(&self, hardest: Option<Step>, slot: Slot) -> bool {
        let Slot::Gear(at, id) = slot else { return true };
        let is_teeth = matches!(id, GearDriving | GearDriven);
        match hardest.filter(|_| self.class == Class::Entry) {
            Some(step) => match (step.way, id) {
                (Way::Up, UpAt) | (Way::Down, DownAt) => at == step.from,
                _ => is_teeth && (at == step.from || at == step.to),
            },
            None => is_teeth && Some(at) == self.analysis.design.gear(),
        }
    }

    /// Whether an input has any effect with the choices of the design.
    fn has_effect(&self, id: FieldId) -> bool {
        let setting = &self.analysis.design.setting;
        let is_typed = setting.from == ShiftFrom::Typed;
        let by_shock = self.class == Class::Lash || setting.case == LoadCase::Largest || self.rubs;
        match id {
            DrumSpeed => setting.drive != Drive::Force,
            ShiftForce | MovingMass | StartSpeed => self.rubs || self.is_pushed(),
            SlipSpeed | ThrottleTorque => is_typed,
            UpAt | DownAt | GearDriving | GearDriven | PrimaryDriving | PrimaryDriven
            | EngineTorque => !is_typed,
            Stiffness => by_shock,
            Inertia => by_shock && is_typed,
            EngineInertia | InputInertia | OutputInertia | VehicleMass => by_shock && !is_typed,
            DogStiffness => setting.carried == Carried::Spacing,
            BackCutDrive => self.flank == Some(FlankSide::Drive),
            BackCutCoast | OverrunShare => self.flank == Some(FlankSide::Coast),
            AllowedPressure | AllowedShear | AllowedStress => {
                self.allowable.is_none_or(|own| own == id)
            }
            _ => true,
        }
    }

    /// Whether force and mass decide the travel. A start at the speed of the drum leaves them nothing to do.
    fn is_pushed(&self) -> bool {
        let travel = self.analysis.design.setting.travel();
        match travel.drive {
            Drive::Force => true,
            Drive::Drum => false,
            Drive::Both => travel.start_speed_m_per_s < travel.drum_speed_m_per_s,
        }
    }
}
