//! A shift in time: how long the ignition must be cut, the throttle be shut or the clutch be pulled before an upshift,
//! and how long and how high the engine must be blipped before a downshift, until the old dogs let go, are out, the
//! engine has the speed for the new ones, and they are in.

mod firing;
mod foot;
mod good;
mod line;
mod manner;
mod pose;
mod spread;
mod whole;

use firing::Firing;
pub use foot::Foot;
use good::GoodSpeeds;
pub use line::{LineMoment, LineStep, TimeLine};
pub use manner::Manner;
pub use spread::{SPREAD_SHARES, Spread};
pub(super) use whole::chain_lash;
pub use whole::{SlipEnd, WholeCatch};

use std::borrow::Cow;

use super::pair::PairAnalysis;
use super::shift::{Shares, conditions};
use super::shift_case::ShiftCase;
use super::worked::Worked;
use crate::design::{Design, Need, Setting, SettingField};
use crate::driveline::Driveline;
use crate::fields::FieldId;
use crate::shift::{
    Conditions, Drive, Gearbox, Pull, Release, ReleaseStep, Shifter, Sides, Step, TorqueCut,
    Travel, TwoMasses, Way, phase_sense,
};
use crate::units::{quantile, rad_per_s, rpm};

/// The engine speeds of a table of times, as shares of the speed at which the gear is shifted.
pub const TIMED_SPEEDS: [f64; 8] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0];

/// The longest that the dogs are followed while they let go, s.
const LONGEST_S: f64 = 1.0;

/// Force of a drum that nothing holds back, N.
const DRUM_N: f64 = 1e5;

/// The parts of a cut or a blip, in order, s.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TimeParts {
    /// Until the next firing is left out, or is the first of the blip, for the share of shifts that must be in.
    pub firing_s: f64,
    /// Until the foot has taken up all dead travel, where the torque falls before.
    pub fork_s: f64,
    /// Until the shift force begins to pull the old dogs apart.
    pub unload_s: f64,
    /// Until they are out.
    pub out_s: f64,
    /// Until the tips of the new dogs are level.
    pub across_s: f64,
    /// Until the engine has a speed at which so many shifts are in.
    pub wait_s: f64,
    /// Until the new dogs hold, for the share of those that go in: what rubs tip on tip first takes longer.
    pub in_s: f64,
}

impl TimeParts {
    /// All of them, in order.
    pub const fn all(&self) -> [f64; 7] {
        let Self { firing_s, fork_s, unload_s, out_s, across_s, wait_s, in_s } = *self;
        [firing_s, fork_s, unload_s, out_s, across_s, wait_s, in_s]
    }

    /// The whole, s.
    pub fn sum(&self) -> f64 {
        self.all().into_iter().sum()
    }
}

/// Why no cut and no blip does it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TimingFault {
    /// The shift force does not pull the old dogs out.
    NotOut,
    /// The old dogs rattle more often than is followed, so that nobody knows when they are out.
    Rattles,
    /// At no speed difference does any shift go in at the first pass.
    NeverIn,
    /// The engine is so near to the speed of the new gear when the tips are level that too few pass one another.
    TooNear,
    /// Nothing brings the engine nearer to the speed of the new gear.
    NeverNearer,
}

/// The cut or the blip for one shift at one engine speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timing {
    /// Engine speed as it begins, rpm.
    pub engine_rpm: f64,
    /// Speed difference at the new dogs as it begins, rpm, without its sign.
    pub slip_rpm: f64,
    /// Speed difference at which so many are in, rpm, without its sign.
    pub in_at_rpm: f64,
    /// Engine speed at that speed difference, rpm.
    pub engine_in_rpm: f64,
    /// The share of shifts that it is long enough for: the one asked for, or the most that go in at any speed difference.
    pub share: f64,
    /// Its parts.
    pub parts: TimeParts,
    /// From here on the engine is past the speed of the new gear, and the other flanks take it, s.
    pub longest_s: f64,
    /// Whether the other flanks of the old dogs strike before they are out.
    pub strikes: bool,
}

impl Timing {
    /// Whether the engine is past the speed of the new gear before its dogs are in.
    pub fn is_too_long(&self) -> bool {
        self.parts.sum() > self.longest_s
    }
}

/// Torque at the dogs of a gear: with the throttle open, of the engine brake, of a blip, and of a clutch that drags,
/// N·m.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Torques {
    pull_nm: f64,
    brake_nm: f64,
    blip_nm: f64,
    clutch_nm: f64,
}

impl Torques {
    fn of(ratios: &Gearbox, gear: usize, engine_nm: f64, setting: &Setting) -> Option<Self> {
        let at_dogs = |share: f64| ratios.at_dogs_nm(gear, engine_nm * share);
        Some(Self {
            pull_nm: at_dogs(1.0)?,
            brake_nm: at_dogs(setting.get(SettingField::OverrunShare))?,
            blip_nm: at_dogs(setting.get(SettingField::BlipShare))?,
            clutch_nm: clutch_drag_nm(ratios, gear, setting)?,
        })
    }
}

/// What a pulled clutch carries to the dogs of a gear, N·m.
pub(super) fn clutch_drag_nm(ratios: &Gearbox, gear: usize, setting: &Setting) -> Option<f64> {
    let engine_nm = setting.get(SettingField::ClutchDrag) / ratios.primary;
    ratios.at_dogs_nm(gear, engine_nm)
}

/// One shift, ready to be timed at any engine speed.
#[derive(Clone, Debug, PartialEq)]
pub struct TimedShift {
    /// Which shift.
    pub step: Step,
    /// What takes the torque off the old dogs.
    pub manner: Manner,
    /// The foot before the signal; `None` where no sensor sets the shift off.
    pub foot: Option<Foot>,
    /// The delay of the ignition unit, s.
    delay_s: f64,
    /// How the old dogs let go with the foot on the fork as the torque falls.
    release: Release,
    /// Engine and vehicle at the old dogs, and the torque that frees them.
    old_masses: TwoMasses,
    frees: TorqueCut,
    /// What pulls the old dogs out and carries on across neutral.
    pull: Pull,
    neutral_m: f64,
    /// Engine and vehicle at the new dogs, and their lash, rad.
    masses: TwoMasses,
    lash: f64,
    /// The torque after the shift.
    returns: TorqueCut,
    /// How fast the speed difference falls, rad/s².
    nears: f64,
    travel: Travel,
    /// Overlap of the new dogs at which they hold, and at full depth, mm.
    depths_mm: [f64; 2],
    /// From level tips until dogs hold that go straight in, s.
    straight_s: f64,
    firing: Option<Firing>,
    good: GoodSpeeds,
    /// How the new dogs meet, from any phase.
    shifter: Shifter,
    /// The share of shifts that is asked for.
    asked: f64,
    /// Engine speed for each rpm of the input side at the new dogs.
    engine_per_dogs: f64,
    /// Force at the tyre for each N·m at the new dogs, N.
    tyre_n_per_nm: f64,
    /// All masses and joints at the new dogs; `None` while the inertia between dogs and cush drive is not known.
    driveline: Option<Driveline>,
}

/// Every shift of the gearbox in one manner that can be timed, as if each gear had the dogs of the design; empty
/// without a gearbox, and where something is missing.
pub fn timed_shifts(worked: &Worked, manner: Manner) -> Vec<TimedShift> {
    let steps = super::gear_steps(&worked.design).into_iter();
    let steps = steps.filter(|step| step.way == manner.way());
    steps.filter_map(|step| timed_shift(worked, worked, step, manner)).collect()
}

/// One shift from a gear with its dogs to another, ready to be timed; `None` without a gearbox or a pair that goes in, and
/// where a number is not given. Both stand in the same gearbox. `manner` goes the way of the step.
pub fn timed_shift(old: &Worked, new: &Worked, step: Step, manner: Manner) -> Option<TimedShift> {
    let (leaves, enters) = (old.pair.as_ref()?, new.pair.as_ref()?);
    enters.shift.as_ref().filter(|_| is_known(old, step) && is_known(new, step))?;
    let meeting = Meeting::of(new, enters, step, manner)?;
    let Meeting { ratios, case, nears, conditions } = &meeting;
    let setting = &new.design.setting;
    let torques = |gear| meeting.torques(&new.design, gear);
    let frees = manner.freeing(&torques(step.from)?, setting);
    let pull = pull(old, leaves)?;
    let (asked, travel) = (setting.get(SettingField::CutShare), setting.travel());
    let full = enters.engagement.full_depth_mm;
    let hold = setting.get(SettingField::HoldDepth).min(full);
    let masses = |gear| masses(ratios, gear, setting);
    let (old_masses, caught) = (masses(step.from)?, masses(step.to)?);
    let lash = enters.held?.width.radians();
    let shifter = Shifter::new(&enters.mesh, *conditions, phase_sense(step.slip_rpm));
    let whole = || whole::driveline(&new.design, ratios, step.to, lash);
    Some(TimedShift {
        step,
        manner,
        foot: manner.is_signalled().then(|| Foot::of(old, step.way)),
        delay_s: setting.get(SettingField::CutDelay) / 1000.0,
        release: Release::of(&old_masses, &pull, &frees, LONGEST_S + frees.ramp_s),
        old_masses,
        frees,
        pull,
        neutral_m: setting.get(SettingField::NeutralTravel) / 1000.0,
        driveline: if manner.has_clutch() { None } else { whole() },
        masses: caught,
        lash,
        returns: manner.returning(&torques(step.to)?, setting),
        nears: *nears,
        travel,
        depths_mm: [hold, full],
        straight_s: travel.seconds_to(hold),
        firing: manner.is_signalled().then(|| Firing::of(setting)),
        good: good_speeds(&shifter, &step, asked),
        shifter,
        asked,
        engine_per_dogs: ratios.at_dogs_nm(step.to, 1.0)?,
        tyre_n_per_nm: 2000.0 * case.ratio_to_wheel / setting.get(SettingField::WheelDiameter),
    })
}

/// How the new dogs meet.
struct Meeting {
    ratios: Gearbox,
    case: ShiftCase,
    /// How fast the speed difference falls, rad/s².
    nears: f64,
    conditions: Conditions,
}

impl Meeting {
    fn of(new: &Worked, enters: &PairAnalysis, step: Step, manner: Manner) -> Option<Self> {
        let design = &new.design;
        let mut gearbox = design.gearbox.clone()?;
        gearbox.clutch = manner.clutch();
        let ratios = gearbox.working(design.setting.get(SettingField::WheelDiameter));
        let case = ShiftCase::of_step(&gearbox, &ratios, step)?;
        let full = enters.engagement.full_depth_mm;
        let conditions = conditions(design, &enters.mesh, full, &case);
        let mut meeting = Self { ratios, case, nears: 0.0, conditions };
        let nearing = manner.nearing_nm(&meeting.torques(design, step.to)?);
        let (sides, drag) = (case.sides, design.setting.get(SettingField::Drag));
        let nears = nearing / sides.input_kg_m2 + drag / sides.reduced_kg_m2();
        meeting.nears = nears.max(0.0);
        meeting.conditions.drag_nm = held_back_nm(&meeting.conditions, sides, nears);
        Some(meeting)
    }

    fn torques(&self, design: &Design, gear: usize) -> Option<Torques> {
        let engine_nm = design.gearbox.as_ref()?.field(FieldId::EngineTorque).unwrap_or_default();
        Torques::of(&self.ratios, gear, engine_nm, &design.setting)
    }
}

/// The drag that makes the speed difference fall so fast, rad/s², beside the friction of the tips, N·m. A drag that is
/// stronger than this friction keeps the difference as it is.
pub(super) fn held_back_nm(given: &Conditions, sides: Sides, nears: f64) -> f64 {
    (nears * sides.reduced_kg_m2()).max(-given.rubbing_nm())
}

/// Whether everything that a time hangs on was given.
fn is_known(worked: &Worked, step: Step) -> bool {
    let design = &worked.design;
    let gears = [step.from, step.to];
    design.missing(Need::TipFriction).is_none()
        && design.missing(Need::SlidingFriction).is_none()
        && gears.iter().all(|gear| design.knows_inertia(*gear) && design.knows_torque(*gear))
}

fn masses(ratios: &Gearbox, gear: usize, setting: &Setting) -> Option<TwoMasses> {
    let sides = ratios.sides(gear)?;
    Some(TwoMasses {
        engine_kg_m2: sides.input_kg_m2,
        vehicle_kg_m2: sides.output_kg_m2,
        stiffness_nm_per_rad: setting.get(SettingField::Stiffness),
        damping: setting.get(SettingField::DrivelineDamping),
    })
}

/// What pulls the old dogs out, and what holds them.
fn pull(worked: &Worked, pair: &PairAnalysis) -> Option<Pull> {
    let travel = worked.design.setting.travel();
    let drive = pair.strength.as_ref()?.hold.pull_out_n(1.0);
    let coast = pair.overrun.as_ref().map_or(drive, |overrun| overrun.hold.pull_out_n(1.0));
    Some(Pull {
        force_n: if travel.drive == Drive::Drum { DRUM_N } else { travel.force_n },
        mass_kg: travel.mass_kg,
        fastest_m_per_s: (travel.drive != Drive::Force).then_some(travel.drum_speed_m_per_s),
        overlap_m: pair.engagement.full_depth_mm / 1000.0,
        hold_per_m: [drive, coast],
        lash: pair.held?.width.radians(),
        begins_s: 0.0,
    })
}

fn good_speeds(shifter: &Shifter, step: &Step, asked: f64) -> GoodSpeeds {
    let share = |slip: f64| Shares::of(shifter, slip).is_in();
    GoodSpeeds::of(share, asked, rad_per_s(step.slip_rpm.abs()))
}

/// How the new dogs meet.
struct Meets {
    /// The speed difference at which they do, rad/s.
    slip: f64,
    /// The share that is in.
    share: f64,
    /// Until the engine has it, s.
    wait_s: f64,
    /// From then on until they hold, s.
    in_s: f64,
}

/// How the old dogs come out.
struct Out {
    moves_s: f64,
    time_s: f64,
    speed_m_per_s: f64,
}

impl Out {
    fn of(release: &Release) -> Result<Self, TimingFault> {
        let stays = if release.is_cut_short { TimingFault::Rattles } else { TimingFault::NotOut };
        let moves_s = release.first_s(ReleaseStep::Moves).ok_or(stays)?;
        let out = release.events.iter().find(|event| event.what == ReleaseStep::Out);
        let out = out.ok_or(stays)?;
        Ok(Self { moves_s, time_s: out.time_s, speed_m_per_s: out.speed_m_per_s })
    }
}

impl TimedShift {
    /// The cut or the blip at an engine speed.
    pub fn at(&self, engine_rpm: f64) -> Result<Timing, TimingFault> {
        let firing_s = self.firing_s(self.asked, engine_rpm);
        let fork_s = self.fork_s(firing_s);
        let release = self.release(fork_s);
        let out = Out::of(&release)?;
        // The soonest that it acts is at once.
        let soonest = Out::of(&self.release(self.foot_late_s()))?;
        let across_s = self.across_s(out.speed_m_per_s);
        let share_of_speed = engine_rpm / self.step.engine_rpm;
        let slip_rpm = self.step.slip_rpm.abs() * share_of_speed;
        // The engine turns on its own once the dogs are out.
        let level = rad_per_s(slip_rpm) - self.nears * across_s;
        let none = if self.good.is_empty() { TimingFault::NeverIn } else { TimingFault::TooNear };
        let meets = self.meeting(level, none)?;
        let parts = TimeParts {
            firing_s,
            fork_s,
            unload_s: out.moves_s - fork_s,
            out_s: out.time_s - out.moves_s,
            across_s,
            wait_s: meets.wait_s,
            in_s: meets.in_s,
        };
        let at_one_speed =
            if self.nears > 0.0 { level.max(0.0) / self.nears } else { f64::INFINITY };
        let in_at_rpm = rpm(meets.slip);
        let dogs_rpm = self.step.dogs_rpm * share_of_speed;
        Ok(Timing {
            engine_rpm,
            slip_rpm,
            in_at_rpm,
            engine_in_rpm: self.engine_rpm(dogs_rpm, in_at_rpm),
            share: meets.share,
            parts,
            longest_s: soonest.time_s + across_s + at_one_speed,
            strikes: release.first_s(self.struck()).is_some_and(|at| at < out.time_s),
        })
    }

    /// How the new dogs meet, with a speed difference left as their tips become level, rad/s. `none` is told where it
    /// is too small.
    fn meeting(&self, level: f64, none: TimingFault) -> Result<Meets, TimingFault> {
        let found = self.good.below(level);
        let waits = |slip: f64| (level.max(0.0) - slip).max(0.0);
        let meets = |slip: f64, wait_s: f64| {
            let times = self.times_to_hold(slip);
            let in_s = quantile(&times, self.asked).unwrap_or(self.straight_s);
            Ok(Meets { slip, share: self.good.share, wait_s, in_s })
        };
        match found {
            Some(slip) if waits(slip) <= 0.0 => meets(slip, 0.0),
            Some(slip) if self.nears > 0.0 => meets(slip, waits(slip) / self.nears),
            _ if self.manner.has_clutch() => self.rubbed(level.max(0.0)),
            Some(_) => Err(TimingFault::NeverNearer),
            None => Err(none),
        }
    }

    /// Behind a pulled clutch it is rubbing and striking tips that slow the input shaft, until most of those that go in
    /// are.
    fn rubbed(&self, slip: f64) -> Result<Meets, TimingFault> {
        let (share, times) = self.rub(slip);
        let longest_s = quantile(&times, self.asked).ok_or(TimingFault::NeverNearer)?;
        Ok(Meets { slip, share, wait_s: 0.0, in_s: longest_s })
    }

    /// The wait for the next firing that is not exceeded in a share of all shifts, s.
    fn firing_s(&self, share: f64, engine_rpm: f64) -> f64 {
        self.firing.map_or(0.0, |firing| firing.wait_s(share, engine_rpm))
    }

    /// From the signal to the unit's cut or blip, with the travel of the foot before it, s.
    pub fn lead_s(&self) -> f64 {
        self.foot.map_or(0.0, |foot| foot.signal_s + self.delay_s)
    }

    /// How much later than the cut the fork begins to push, s.
    fn foot_late_s(&self) -> f64 {
        let fork_s = self.foot.and_then(|foot| foot.fork_s).unwrap_or_default();
        (fork_s - self.lead_s()).max(0.0)
    }

    /// How much later than the firing that is left out, so long after the cut, the fork begins to push, s.
    fn fork_s(&self, firing_s: f64) -> f64 {
        (self.foot_late_s() - firing_s).max(0.0)
    }

    /// How the old dogs let go with a foot that pulls so long after the torque begins to fall, s.
    pub(super) fn release(&self, begins_s: f64) -> Cow<'_, Release> {
        if begins_s <= 0.0 {
            return Cow::Borrowed(&self.release);
        }
        let pull = Pull { begins_s, ..self.pull };
        let longest_s = LONGEST_S + self.frees.ramp_s + begins_s;
        Cow::Owned(Release::of(&self.old_masses, &pull, &self.frees, longest_s))
    }

    /// Engine speed with so much speed difference left at the new dogs, whose output side turns at `dogs_rpm`, rpm.
    fn engine_rpm(&self, dogs_rpm: f64, slip_rpm: f64) -> f64 {
        (dogs_rpm + slip_rpm * self.step.slip_rpm.signum()) * self.engine_per_dogs
    }

    /// What happens where the old dogs are not out in time.
    const fn struck(&self) -> ReleaseStep {
        match self.step.way {
            Way::Up => ReleaseStep::CoastStrikes,
            Way::Down => ReleaseStep::DriveStrikes,
        }
    }

    /// How the old dogs let go at an engine speed.
    pub fn lets_go(&self, engine_rpm: f64) -> Cow<'_, Release> {
        self.release(self.fork_s(self.firing_s(self.asked, engine_rpm)))
    }

    /// Time over the travel between the gears, from a speed, s.
    fn across_s(&self, speed: f64) -> f64 {
        self.seconds_across(speed, self.neutral_m)
    }

    /// Time over a part of that travel, from a speed, s.
    fn seconds_across(&self, speed: f64, way: f64) -> f64 {
        let pulls = self.pull.force_n / self.pull.mass_kg;
        let free = |way: f64| ((speed * speed + 2.0 * pulls * way).sqrt() - speed) / pulls;
        let Some(fastest) = self.pull.fastest_m_per_s else { return free(way) };
        if speed >= fastest {
            return way / fastest;
        }
        let gathers = (fastest * fastest - speed * speed) / (2.0 * pulls);
        if gathers >= way { free(way) } else { free(gathers) + (way - gathers) / fastest }
    }
}

#[cfg(test)]
mod tests;
