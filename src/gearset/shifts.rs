//! The table of all shifts, up and down, the worst first.

use crenel_words::{Message, Value, gearset as say};

use super::GearsetAnalysis;
use crate::design::Need;
use crate::drum::Play;
use crate::finding::Class;
use crate::gauge::Gauge;
use crate::limits::{self, STRESSES, StressLimit};
use crate::model::{Chances, GearShift, Strength, Worked, gear_shift, gear_steps};
use crate::ring::FlankSide;
use crate::units::{Quantity, rad_per_s, sort_by_number};

/// How many phases are tried for the chance in the end of phases that are thrown back.
const PHASES: usize = 360;

/// One shift with the rings of the gear that it goes into.
#[derive(Clone, Debug, PartialEq)]
pub struct SetShift {
    /// The shift and what these rings make of it.
    pub shift: GearShift,
    /// Share of phases that go in at last; `None` where the chance at the first pass is not known.
    pub end_chance: Option<f64>,
    /// Retaining force under power and on the overrun, N; `None` where nothing is carried.
    pub hold_n: [Option<f64>; 2],
    /// How much deeper than the holding depth the dogs are in their position at the worst, mm; `None` if the
    /// drum has no position for the gear.
    pub depth_left_mm: Option<f64>,
    /// Lash at the tyre, mm.
    pub tyre_mm: Option<f64>,
    /// By which share what is worst about it is past its limit; 0 if nothing is.
    pub excess: f64,
    /// How grave that is.
    pub class: Class,
    /// What is worst about it.
    pub reason: Message,
}

/// The shifts into a gear from gears whose ratio is known, each with its chance in the end.
pub(super) fn into(
    worked: &Worked,
    gear: usize,
    is_known: impl Fn(usize) -> bool,
) -> Vec<(GearShift, Option<f64>)> {
    let steps = gear_steps(&worked.design).into_iter();
    let own = steps.filter(|step| step.to == gear && is_known(step.from));
    let with_end = |shift: GearShift| {
        let end = shift.chance.and_then(|_| end_chance(worked, &shift));
        (shift, end)
    };
    own.filter_map(|step| gear_shift(worked, step)).map(with_end).collect()
}

/// Every shift of a gearbox, that which is furthest past a limit first, those whose dogs carry too much after those that
/// do not go in or hold, and among those within their limits that with the least chance.
pub fn shift_table(analysis: &GearsetAnalysis) -> Vec<SetShift> {
    let gears = analysis.gears.iter();
    let mut rows: Vec<SetShift> =
        gears.flat_map(|gear| gear.shifts.iter().map(|shift| row(analysis, gear, shift))).collect();
    sort_by_number(&mut rows, |row| row.shift.chance.unwrap_or(1.0));
    sort_by_number(&mut rows, |row| -row.excess);
    // What only carries too much goes in and holds.
    sort_by_number(&mut rows, |row| if row.class >= Class::Stress { 1.0 } else { 0.0 });
    rows
}

fn row(
    analysis: &GearsetAnalysis,
    gear: &super::SetGear,
    (shift, end_chance): &(GearShift, Option<f64>),
) -> SetShift {
    let depth_left_mm = depth_left(analysis, gear.gear);
    let pair = gear.worked.pair.as_ref();
    let force = |flank| {
        let strength = match flank {
            FlankSide::Drive => pair?.strength.as_ref(),
            FlankSide::Coast => pair?.overrun.as_ref(),
        };
        strength.map(|strength| strength.hold.holding_n(strength.torque_nm))
    };
    let hold_n = [FlankSide::Drive, FlankSide::Coast].map(force);
    let (class, excess, own) = worst(&gear.worked, shift, hold_n, depth_left_mm);
    let locks = [shift.step.from, shift.step.to].into_iter().any(|gear| analysis.locks(gear));
    let reason = if class >= Class::Stress && locks { say::can_lock() } else { own };
    SetShift {
        shift: *shift,
        end_chance: *end_chance,
        hold_n,
        depth_left_mm,
        tyre_mm: gear.lash.and_then(|lash| lash.tyre_mm),
        excess,
        class,
        reason,
    }
}

/// The chance over all passes, from one row of the outcome map at the speed difference of the shift.
fn end_chance(worked: &Worked, shift: &GearShift) -> Option<f64> {
    // The one row of a map stands for the middle of its speeds.
    let chances = Chances::of(worked)?.up_to(2.0 * shift.step.slip_rpm.abs());
    let map = chances.map(PHASES, 1);
    debug_assert!((map.slip(0) - rad_per_s(shift.step.slip_rpm.abs())).abs() < 1e-6);
    let ends = crate::shift::Outcome::ALL.into_iter().zip(map.shares(0));
    Some(ends.filter(|(outcome, _)| outcome.is_in()).map(|(_, share)| share).sum())
}

fn depth_left(analysis: &GearsetAnalysis, gear: usize) -> Option<f64> {
    let at = analysis.on_drum.iter().position(|own| *own == gear)?;
    let drum = &analysis.drum;
    let least = drum.overlap(at, Play::Least);
    let [least, _] = least.range_near(drum.position_deg(at)?, drum.slack_deg.max(0.0) / 2.0);
    Some(least - drum.gears[at].hold_mm)
}

/// What of a shift is furthest past its limit, how grave that is, and by which share.
fn worst(
    worked: &Worked,
    shift: &GearShift,
    hold_n: [Option<f64>; 2],
    depth_left_mm: Option<f64>,
) -> (Class, f64, Message) {
    let result = |quantity, value| Value::Result(quantity, value);
    let slip = shift.step.slip_rpm.abs();
    let limit = shift.limit_rpm.unwrap_or(0.0);
    let speed = |rpm| result(Quantity::Speed, rpm);
    let too_fast = say::too_fast(speed(slip), speed(limit));
    let mut told = vec![(Class::Entry, Gauge::at_least(slip, limit), too_fast)];
    for (flank, force) in [FlankSide::Drive, FlankSide::Coast].into_iter().zip(hold_n) {
        let gauge = force.and_then(|force| limits::holds(worked, flank, force));
        told.extend(gauge.map(|gauge| {
            (Class::Hold, gauge, say::pushed_out(flank, result(Quantity::Force, gauge.value)))
        }));
    }
    told.extend(depth_left_mm.map(|left| {
        (Class::Hold, Gauge::at_least(0.0, left), say::too_shallow(result(Quantity::Length, -left)))
    }));
    // What the dogs carry is told where they go in and hold.
    let worst = most_past(told).or_else(|| most_past(stresses(worked)));
    worst.map_or_else(
        || (Class::Within, 0.0, say::within()),
        |(class, gauge, says)| (class, gauge.excess(), says),
    )
}

/// A limit of a shift, how grave it is to be past it, and what is then told.
type Told = (Class, Gauge, Message);

/// What is furthest past its limit.
fn most_past(told: Vec<Told>) -> Option<Told> {
    let past = told.into_iter().filter(|(_, gauge, _)| gauge.is_past());
    past.max_by(|(_, a, _), (_, b, _)| a.excess().total_cmp(&b.excess()))
}

/// The stresses of the dogs of a gear, under power and on the overrun, beside what is allowed.
fn stresses(worked: &Worked) -> Vec<Told> {
    let Some(pair) = worked.pair.as_ref() else { return Vec::new() };
    if worked.design.missing_of(&[Need::Torque]).is_some() {
        return Vec::new();
    }
    let loads = [&pair.strength, &pair.overrun].into_iter().flatten();
    let told = |load: &Strength, (stress, field, read): StressLimit| {
        let gauge = limits::allowed(worked, field, read(load).filter(|mpa| mpa.is_finite())?)?;
        let [value, allowed] =
            [gauge.value, gauge.limit].map(|mpa| Value::Result(Quantity::Stress, mpa));
        Some((Class::Stress, gauge, say::stressed(stress, value, allowed)))
    };
    loads.flat_map(|load| STRESSES.into_iter().filter_map(move |limit| told(load, limit))).collect()
}
