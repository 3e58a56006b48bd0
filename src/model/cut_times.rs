//! How long the ignition must be cut for an upshift without the clutch: until the old dogs let go, are out, the engine is
//! slow enough for the new ones, and they are in.

use super::pair::PairAnalysis;
use super::shift::{Shares, conditions};
use super::shift_case::ShiftCase;
use super::worked::Worked;
use crate::design::{Clutch, Need, SettingField};
use crate::fields::FieldId;
use crate::shift::{
    Conditions, Drive, Pull, Release, ReleaseStep, Shifter, Step, TorqueCut, TwoMasses, Way,
    phase_sense,
};
use crate::units::{rad_per_s, rpm};

/// The engine speeds of a table of cuts, as shares of the upshift speed of the old gear.
pub const CUT_SPEEDS: [f64; 8] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0];

/// The longest that the dogs are followed while they let go, s.
const LONGEST_S: f64 = 1.0;

/// Force of a drum that nothing holds back, N.
const DRUM_N: f64 = 1e5;

/// What counts as the most, where what is asked for is never reached.
const NEARLY: f64 = 0.98;

/// At how many speed differences the share is looked at.
const LOOKS: u32 = 48;

/// The parts of a cut, in order, s.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CutParts {
    /// Until the next firing is left out, for the share of shifts that must be in.
    pub firing_s: f64,
    /// Until the shift force begins to pull the old dogs apart.
    pub unload_s: f64,
    /// Until they are out.
    pub out_s: f64,
    /// Until the new tips are level.
    pub across_s: f64,
    /// Until the engine is slow enough.
    pub wait_s: f64,
    /// Until the new dogs hold.
    pub in_s: f64,
}

impl CutParts {
    /// All of them, in order.
    pub const fn all(&self) -> [f64; 6] {
        [self.firing_s, self.unload_s, self.out_s, self.across_s, self.wait_s, self.in_s]
    }

    /// The whole cut, s.
    pub fn sum(&self) -> f64 {
        self.all().into_iter().sum()
    }
}

/// Why no cut does it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CutFault {
    /// The shift force does not pull the old dogs out.
    NotOut,
    /// At no speed difference does any shift go in at the first pass.
    NeverIn,
    /// Nothing slows the engine down.
    NeverSlow,
}

/// The cut for one upshift at one engine speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutTime {
    /// Engine speed as the cut begins, rpm.
    pub engine_rpm: f64,
    /// Speed difference at the new dogs as the cut begins, rpm.
    pub slip_rpm: f64,
    /// Speed difference at which so many are in, rpm.
    pub in_at_rpm: f64,
    /// The share of shifts that it is long enough for: the one asked for, or the most that go in at any speed difference.
    pub share: f64,
    /// Its parts.
    pub parts: CutParts,
    /// From here on the engine has fallen below the speed of the new gear, and the coast flanks take it, s.
    pub longest_s: f64,
    /// Whether the coast flanks of the old dogs strike before they are out.
    pub strikes: bool,
}

impl CutTime {
    /// Whether the engine has fallen too far before the new dogs are in.
    pub fn is_too_long(&self) -> bool {
        self.parts.sum() > self.longest_s
    }
}

/// One upshift, ready to be timed at any engine speed.
pub struct CutShift {
    /// Which shift.
    pub step: Step,
    release: Release,
    /// Acceleration across neutral, m/s², and what caps the speed, m/s.
    across: (f64, Option<f64>),
    neutral_m: f64,
    /// How fast the speed difference falls, rad/s².
    slows: f64,
    conditions: Conditions,
    in_s: f64,
    /// The share of shifts that is asked for.
    asked: f64,
    /// The one that is reached.
    share: f64,
    cylinders: f64,
    /// Speed differences that are in often enough, rad/s, as spans from the slowest.
    good: Vec<[f64; 2]>,
}

/// Every upshift of the gearbox that can be timed; empty without a gearbox, and where something is missing.
pub fn cut_shifts(worked: &Worked) -> Vec<CutShift> {
    let steps = super::gear_steps(&worked.design).into_iter();
    steps.filter(|step| step.way == Way::Up).filter_map(|step| cut_shift(worked, step)).collect()
}

/// One upshift, ready to be timed; `None` without a gearbox or a pair that goes in, and where a number is not given.
pub fn cut_shift(worked: &Worked, step: Step) -> Option<CutShift> {
    let design = &worked.design;
    // The engine stays joined to the dogs, whatever the clutch does in the shift of the design.
    let (pair, mut gearbox) = (worked.pair.as_ref()?, design.gearbox.clone()?);
    gearbox.clutch = Clutch::Gripping;
    let ratios = gearbox.working(design.setting.get(SettingField::WheelDiameter));
    let is_known = design.missing(Need::TipFriction).is_none()
        && design.missing(Need::SlidingFriction).is_none()
        && [step.from, step.to]
            .iter()
            .all(|gear| design.knows_inertia(*gear) && design.knows_torque(*gear));
    pair.shift.as_ref().filter(|_| is_known)?;
    let setting = &design.setting;
    let engine_nm = gearbox.field(FieldId::EngineTorque).unwrap_or_default();
    let at_dogs = |gear, nm| ratios.at_dogs_nm(gear, nm);
    let brake_nm = engine_nm * setting.get(SettingField::OverrunShare);
    let new = ShiftCase::of_step(&gearbox, &ratios, step)?;
    let braked = at_dogs(step.to, brake_nm)?;
    let drag = setting.get(SettingField::Drag);
    let slows = braked / new.sides.input_kg_m2 + drag / new.sides.reduced_kg_m2();
    let full = pair.engagement.full_depth_mm;
    let conditions = Conditions {
        drag_nm: slows * new.sides.reduced_kg_m2(),
        ..conditions(design, &pair.mesh, full, &new)
    };
    let travel = setting.travel();
    let fastest = (travel.drive != Drive::Force).then_some(travel.drum_speed_m_per_s);
    let force_n = if travel.drive == Drive::Drum { DRUM_N } else { travel.force_n };
    let old = ratios.sides(step.from)?;
    let masses = TwoMasses {
        engine_kg_m2: old.input_kg_m2,
        vehicle_kg_m2: old.output_kg_m2,
        stiffness_nm_per_rad: setting.get(SettingField::Stiffness),
        damping: setting.get(SettingField::DrivelineDamping),
    };
    let pull = Pull {
        force_n,
        mass_kg: travel.mass_kg,
        fastest_m_per_s: fastest,
        overlap_m: full / 1000.0,
        hold_per_m: holds(pair)?,
        lash: pair.held?.width.radians(),
    };
    let cut = TorqueCut {
        engine_nm: at_dogs(step.from, engine_nm)?,
        drag_nm: at_dogs(step.from, brake_nm)?,
        ramp_s: 0.0,
    };
    let mut shift = CutShift {
        step,
        release: Release::of(&masses, &pull, &cut, LONGEST_S),
        across: (force_n / travel.mass_kg, fastest),
        neutral_m: setting.get(SettingField::NeutralTravel) / 1000.0,
        slows,
        conditions,
        in_s: pair.travel_s,
        asked: setting.get(SettingField::CutShare),
        share: setting.get(SettingField::CutShare),
        cylinders: setting.get(SettingField::Cylinders),
        good: Vec::new(),
    };
    shift.look(pair, rad_per_s(step.slip_rpm.abs()));
    Some(shift)
}

/// Force along the shaft that a torque of 1 N·m at the dogs resists with, under power and on the overrun, 1/m.
fn holds(pair: &PairAnalysis) -> Option<[f64; 2]> {
    let drive = pair.strength.as_ref()?.hold.pull_out_n(1.0);
    let coast = pair.overrun.as_ref().map_or(drive, |overrun| overrun.hold.pull_out_n(1.0));
    Some([drive, coast])
}

impl CutShift {
    /// Looks for the speed differences, up to one in rad/s, from which so many go in at the first pass. Where so many never
    /// do, it settles for nearly the most that do.
    fn look(&mut self, pair: &PairAnalysis, top: f64) {
        let shifter = Shifter::new(&pair.mesh, self.conditions, phase_sense(self.step.slip_rpm));
        let share = |slip: f64| Shares::of(&shifter, slip).is_in();
        let at = |look: u32| top * f64::from(look) / f64::from(LOOKS);
        let seen: Vec<_> = (1..=LOOKS).map(|look| (at(look), share(at(look)))).collect();
        let most = seen.iter().map(|(_, share)| *share).fold(0.0, f64::max);
        if most < self.share {
            self.share = NEARLY * most;
        }
        if self.share > 0.0 {
            self.good = self.good_spans(&seen, share);
        }
    }

    /// The spans of speed differences from which so many go in at the first pass, rad/s, of shares that were seen from
    /// the slowest on.
    fn good_spans(&self, seen: &[(f64, f64)], share: impl Fn(f64) -> f64) -> Vec<[f64; 2]> {
        let is_good = |share: f64| share >= self.share;
        let first = seen.first().filter(|(_, share)| is_good(*share));
        let mut open = first.map(|(slip, _)| *slip);
        let mut spans: Vec<[f64; 2]> = Vec::new();
        for two in seen.windows(2) {
            let [(low, before), (high, now)] = [two[0], two[1]];
            if is_good(before) == is_good(now) {
                continue;
            }
            let edge = edge(low, high, is_good(before), |slip| is_good(share(slip)));
            match open.take() {
                Some(from) => spans.push([from, edge]),
                None => open = Some(edge),
            }
        }
        spans.extend(open.zip(seen.last()).map(|(from, (top, _))| [from, *top]));
        spans
    }

    /// The cut at an engine speed.
    pub fn at(&self, engine_rpm: f64) -> Result<CutTime, CutFault> {
        let release = &self.release;
        let unload_s = release.first_s(ReleaseStep::Moves).ok_or(CutFault::NotOut)?;
        let out = release.events.iter().find(|event| event.what == ReleaseStep::Out);
        let out = out.ok_or(CutFault::NotOut)?;
        let across_s = self.across_s(out.speed_m_per_s);
        let slip_rpm = self.step.slip_rpm.abs() * engine_rpm / self.step.engine_rpm;
        // The engine slows once the dogs are out.
        let level = rad_per_s(slip_rpm) - self.slows * across_s;
        let below = self.good.iter().filter(|[from, _]| *from <= level.max(0.0));
        let slow = below.map(|[_, to]| to.min(level)).fold(f64::NEG_INFINITY, f64::max);
        if !slow.is_finite() && level > 0.0 {
            return Err(CutFault::NeverIn);
        }
        let wait = level - slow.max(0.0);
        if wait > 0.0 && self.slows <= 0.0 {
            return Err(CutFault::NeverSlow);
        }
        let wait_s = if wait > 0.0 { wait / self.slows } else { 0.0 };
        let most_s = 120.0 / (engine_rpm * self.cylinders);
        let parts = CutParts {
            firing_s: self.asked * most_s,
            unload_s,
            out_s: out.time_s - unload_s,
            across_s,
            wait_s,
            in_s: self.in_s,
        };
        let at_one_speed =
            if self.slows > 0.0 { level.max(0.0) / self.slows } else { f64::INFINITY };
        Ok(CutTime {
            engine_rpm,
            slip_rpm,
            in_at_rpm: rpm(slow.max(0.0)),
            share: self.share,
            parts,
            // The soonest that the cut acts is at once.
            longest_s: out.time_s + across_s + at_one_speed,
            strikes: release.first_s(ReleaseStep::CoastStrikes).is_some_and(|at| at < out.time_s),
        })
    }

    /// How the old dogs let go.
    pub const fn release(&self) -> &Release {
        &self.release
    }

    /// Time over the travel between the gears, from a speed, s.
    fn across_s(&self, speed: f64) -> f64 {
        let (pulls, fastest) = self.across;
        let free = |way: f64| ((speed * speed + 2.0 * pulls * way).sqrt() - speed) / pulls;
        let Some(fastest) = fastest else { return free(self.neutral_m) };
        if speed >= fastest {
            return self.neutral_m / fastest;
        }
        let gathers = (fastest * fastest - speed * speed) / (2.0 * pulls);
        if gathers >= self.neutral_m {
            free(self.neutral_m)
        } else {
            free(gathers) + (self.neutral_m - gathers) / fastest
        }
    }
}

/// Between two speed differences of which one is in often enough, the one at which that changes.
fn edge(mut low: f64, mut high: f64, low_is_good: bool, is_good: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..24 {
        let middle = f64::midpoint(low, high);
        if is_good(middle) == low_is_good {
            low = middle;
        } else {
            high = middle;
        }
    }
    if low_is_good { low } else { high }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::{Design, ShiftFrom, example};
    use crate::fields::Slot;

    fn design() -> Design {
        let mut design = example();
        if design.gearbox.is_none() {
            design.add_gearbox();
        }
        design.setting.from = ShiftFrom::Up;
        design.setting.set(SettingField::CutShare, 0.5);
        design
    }

    fn shifts(design: &Design) -> Vec<CutShift> {
        cut_shifts(&Analysis::of(design))
    }

    #[test]
    fn every_up_shift_has_a_cut_whose_parts_make_it_up() {
        let design = design();
        let shifts = shifts(&design);
        assert!(!shifts.is_empty());
        for shift in &shifts {
            assert_eq!(shift.step.way, Way::Up);
            let cut = shift.at(shift.step.engine_rpm).expect("there is one");
            let parts = cut.parts;
            assert!(parts.all().iter().all(|part| *part >= 0.0 && part.is_finite()), "{cut:?}");
            assert!((parts.sum() - parts.all().iter().sum::<f64>()).abs() < 1e-15);
            assert!(cut.in_at_rpm < cut.slip_rpm);
            // What is waited for is what the engine loses.
            let lost = rad_per_s(cut.slip_rpm - cut.in_at_rpm);
            let slowed = shift.slows * (parts.wait_s + parts.across_s);
            assert!((lost - slowed).abs() < 1e-9 * lost, "{lost} {slowed}");
        }
    }

    #[test]
    fn the_speed_waited_for_is_the_last_at_which_so_many_go_in() {
        let design = design();
        let worked = Analysis::of(&design);
        let pair = worked.pair.as_ref().expect("a pair");
        for shift in shifts(&design) {
            let cut = shift.at(shift.step.engine_rpm).expect("there is one");
            let shifter =
                Shifter::new(&pair.mesh, shift.conditions, phase_sense(shift.step.slip_rpm));
            let share = |rpm: f64| Shares::of(&shifter, rad_per_s(rpm)).is_in();
            assert!(share(cut.in_at_rpm) >= 0.5, "{}", share(cut.in_at_rpm));
            assert!(share(cut.in_at_rpm * 1.02) < 0.5, "{}", share(cut.in_at_rpm * 1.02));
        }
    }

    #[test]
    fn more_cylinders_and_less_speed_change_the_wait_for_a_firing() {
        let mut design = design();
        let one = shifts(&design)[0].at(6000.0).expect("there is one").parts.firing_s;
        // One cylinder of a four-stroke fires every 20 ms at 6000 rpm.
        assert!((one - 0.5 * 20e-3).abs() < 1e-12);
        design.setting.set(SettingField::Cylinders, 4.0);
        let four = shifts(&design)[0].at(6000.0).expect("there is one").parts.firing_s;
        assert!((four - 0.5 * 5e-3).abs() < 1e-12);
    }

    #[test]
    fn little_force_comes_out_late_and_an_engine_that_does_not_slow_is_told() {
        // Of most shifts that is asked for, as many as can be are timed.
        let mut most = design();
        most.setting.set(SettingField::CutShare, 0.99);
        let cut = shifts(&most)[0].at(8500.0).expect("some go in");
        assert!(cut.share < 0.99 && cut.share > 0.5, "{}", cut.share);
        // So little force that the dogs come out only while no torque is on them.
        let mut weak = design();
        weak.set(Slot::Setting(FieldId::ShiftForce), 1.0);
        let (weak, strong) = (shifts(&weak)[0].at(8500.0), shifts(&design())[0].at(8500.0));
        let [weak, strong] = [weak, strong].map(|cut| cut.expect("they come out"));
        assert!(weak.strikes && weak.parts.out_s > 1.5 * strong.parts.out_s, "{weak:?} {strong:?}");
        let mut free = design();
        free.setting.set(SettingField::OverrunShare, 0.0);
        free.setting.set(SettingField::Drag, 0.0);
        assert_eq!(shifts(&free)[0].at(8500.0), Err(CutFault::NeverSlow));
    }

    #[test]
    fn a_cut_never_ends_before_the_engine_is_slow_enough_nor_does_it_fall_with_speed() {
        let design = design();
        for shift in shifts(&design) {
            let waits: Vec<f64> = CUT_SPEEDS
                .iter()
                .filter_map(|share| shift.at(share * shift.step.engine_rpm).ok())
                .map(|cut| cut.parts.wait_s)
                .collect();
            assert!(waits.is_sorted(), "{waits:?}");
        }
    }
}
