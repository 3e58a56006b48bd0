//! A whole shift on one time axis: the old dogs, the engine on its own, the new dogs, and what they catch.

use super::{Spread, TimedShift, Timing, TimingFault, WholeCatch};
use crate::driveline::DrivelineFault;
use crate::shift::{Catch, ReleaseStep};
use crate::units::{rad_per_s, rpm, sort_by_number};

/// How many swings of the driveline are shown once the new dogs hold.
const SWINGS: f64 = 6.0;

/// The longest that they are shown, s.
const LONGEST_S: f64 = 0.25;

/// Moments over a travel along the shaft.
const STEPS: u32 = 12;

/// Everything at one moment of a shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineMoment {
    /// Since the cut or the blip began, s; minus before it.
    pub time_s: f64,
    /// Engine speed, rpm; where dogs hold, that of the gear without the swing of the driveline.
    pub engine_rpm: f64,
    /// Torque at the dogs that hold, N·m; minus on the coast flanks.
    pub torque_nm: f64,
    /// Overlap of the old dogs, mm.
    pub old_mm: f64,
    /// Overlap of the new dogs, mm.
    pub new_mm: f64,
}

/// What happens in a shift.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineStep {
    /// The hook meets its pin.
    Hooks,
    /// The sensor signals.
    Signals,
    /// The fork begins to push.
    Pushes,
    /// The firing that is left out, or the first of the blip.
    Acts,
    /// The old dogs begin to move.
    Moves,
    /// The other flanks of the old dogs strike.
    Strikes,
    /// The old dogs are out.
    Out,
    /// The tips of the new dogs are level.
    Level,
    /// The engine has the speed for the new dogs.
    Ready,
    /// The new dogs hold, and torque returns.
    In,
    /// The torque at the new dogs is greatest.
    Peak,
}

/// A whole shift in time.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeLine {
    /// How long everything takes.
    pub timing: Timing,
    /// Everything over the time, in order, from where the foot begins to move.
    pub moments: Vec<LineMoment>,
    /// What happens when, s, in order.
    pub events: Vec<(f64, LineStep)>,
    /// How far the times differ from shift to shift.
    pub spread: Spread,
    /// Engine speed of the new gear, rpm.
    pub target_rpm: f64,
    /// Greatest torque at the new dogs, N·m, without its sign.
    pub peak_nm: f64,
    /// The same without a swing: what the engine gives there, N·m.
    pub steady_nm: f64,
    /// The greatest torque as a force at the tyre that does not slip, N.
    pub tyre_n: f64,
    /// The same catch with all masses and joints of the driveline; `None` while the inertia between dogs and cush drive is
    /// not known.
    pub whole: Option<Result<WholeCatch, DrivelineFault>>,
}

impl TimeLine {
    /// The shift at an engine speed.
    pub fn of(shift: &TimedShift, engine_rpm: f64) -> Result<Self, TimingFault> {
        let timing = shift.at(engine_rpm)?;
        let caught = shift.catch(&timing);
        let peak_nm = caught.peak_nm[0].max(caught.peak_nm[1]);
        let mut line = Self {
            timing,
            moments: Vec::new(),
            events: shift.before(),
            spread: Spread::of(shift, &timing),
            target_rpm: shift.target_rpm(engine_rpm),
            peak_nm,
            steady_nm: shift.masses.steady_nm(shift.returns.drag_nm).abs(),
            tyre_n: peak_nm * shift.tyre_n_per_nm,
            whole: None,
        };
        line.lets_go(shift);
        line.goes_across(shift);
        line.goes_in(shift);
        let caught_s = line.lasts_s();
        line.catches(shift, &caught);
        line.whole = shift.whole(&timing, caught_s);
        sort_by_number(&mut line.events, |(time_s, _)| *time_s);
        Ok(line)
    }

    /// Until the old dogs are out: the torque falls once the cut acts.
    fn lets_go(&mut self, shift: &TimedShift) {
        let (acts, release) = (self.timing.parts.firing_s, shift.release(self.timing.parts.fork_s));
        let engine_rpm = self.timing.engine_rpm;
        let moment = |time_s: f64, torque_nm: f64, overlap_m: f64| LineMoment {
            time_s,
            engine_rpm,
            torque_nm,
            old_mm: overlap_m * 1000.0,
            new_mm: 0.0,
        };
        let first = release.moments.first();
        self.moments.extend(first.map(|m| moment(-shift.lead_s(), m.torque_nm, m.overlap_m)));
        let seen = release.moments.iter();
        self.moments.extend(seen.map(|m| moment(acts + m.time_s, m.torque_nm, m.overlap_m)));
        self.events.push((acts, LineStep::Acts));
        let named = [
            (ReleaseStep::Moves, LineStep::Moves),
            (shift.struck(), LineStep::Strikes),
            (ReleaseStep::Out, LineStep::Out),
        ];
        let told = named.into_iter();
        let told = told.filter_map(|(what, is)| Some((acts + release.first_s(what)?, is)));
        self.events.extend(told);
    }

    /// Until the engine has the speed for the new dogs: it turns on its own, and the tips of the new dogs become level.
    fn goes_across(&mut self, shift: &TimedShift) {
        let (parts, out) = (self.timing.parts, self.lasts_s());
        let level = out + parts.across_s;
        let ready = level + parts.wait_s;
        for time_s in [out, level, ready] {
            let slip = self.timing.slip_rpm - rpm(shift.nears * (time_s - out));
            let engine_rpm = shift.engine_at(self.timing.engine_rpm, slip.max(0.0));
            self.moments.push(LineMoment {
                time_s,
                engine_rpm,
                torque_nm: 0.0,
                old_mm: 0.0,
                new_mm: 0.0,
            });
        }
        self.events.extend([(level, LineStep::Level), (ready, LineStep::Ready)]);
    }

    /// Until the new dogs hold.
    fn goes_in(&mut self, shift: &TimedShift) {
        let Some(last) = self.moments.last().copied() else { return };
        let [hold, _] = shift.depths_mm;
        // Until then the tips rub on each other.
        let falls_s = last.time_s + (self.timing.parts.in_s - shift.straight_s).max(0.0);
        self.moments.push(LineMoment { time_s: falls_s, ..last });
        for step in 1..=STEPS {
            let new_mm = hold * f64::from(step) / f64::from(STEPS);
            let time_s = falls_s + shift.travel.seconds_to(new_mm);
            self.moments.push(LineMoment { time_s, new_mm, ..last });
        }
        self.events.push((falls_s + shift.straight_s, LineStep::In));
    }

    /// The torque comes back while the new dogs go on to their full depth.
    fn catches(&mut self, shift: &TimedShift, caught: &Catch) {
        let Some(last) = self.moments.last().copied() else { return };
        let [hold, full] = shift.depths_mm;
        let speed = shift.travel.speed_after(shift.travel.start_speed_m_per_s, hold);
        let to = |mm: f64| shift.travel.seconds_from(speed, mm - hold);
        let depth = |time_s: f64| {
            let whole = to(full);
            if time_s >= whole || whole <= 0.0 { full } else { between(hold, full, to, time_s) }
        };
        let moments = caught.moments.iter().map(|m| LineMoment {
            time_s: last.time_s + m.time_s,
            engine_rpm: self.target_rpm,
            torque_nm: m.torque_nm,
            old_mm: 0.0,
            new_mm: depth(m.time_s),
        });
        self.moments.extend(moments);
        let hardest =
            caught.moments.iter().max_by(|a, b| a.torque_nm.abs().total_cmp(&b.torque_nm.abs()));
        self.events.extend(hardest.map(|m| (last.time_s + m.time_s, LineStep::Peak)));
    }

    /// The first moment, s: 0, or before it where a foot moves first.
    pub fn begins_s(&self) -> f64 {
        self.moments.first().map_or(0.0, |first| first.time_s)
    }

    /// The last moment, s.
    pub fn lasts_s(&self) -> f64 {
        self.moments.last().map_or(0.0, |last| last.time_s)
    }

    /// Everything at a time, between the two moments beside it.
    pub fn at(&self, time_s: f64) -> Option<LineMoment> {
        let after = self.moments.partition_point(|moment| moment.time_s <= time_s);
        let low = self.moments.get(after.saturating_sub(1))?;
        let Some(high) = self.moments.get(after) else { return Some(*low) };
        let lasts = high.time_s - low.time_s;
        let share = if lasts > 0.0 { ((time_s - low.time_s) / lasts).clamp(0.0, 1.0) } else { 0.0 };
        let mix = |of: fn(&LineMoment) -> f64| of(low) + (of(high) - of(low)) * share;
        Some(LineMoment {
            time_s,
            engine_rpm: mix(|m| m.engine_rpm),
            torque_nm: mix(|m| m.torque_nm),
            old_mm: mix(|m| m.old_mm),
            new_mm: mix(|m| m.new_mm),
        })
    }
}

/// The overlap between two at which a travel has taken a time.
fn between(mut low: f64, mut high: f64, to: impl Fn(f64) -> f64, time_s: f64) -> f64 {
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if to(middle) < time_s {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

impl TimedShift {
    /// What happens from the foot to the fork, s since the cut.
    fn before(&self) -> Vec<(f64, LineStep)> {
        let Some(foot) = self.foot else { return Vec::new() };
        let known = [
            (Some(foot.signal_s), LineStep::Signals),
            (foot.hook_s, LineStep::Hooks),
            (foot.fork_s, LineStep::Pushes),
        ];
        known.into_iter().filter_map(|(at, what)| Some((at? - self.lead_s(), what))).collect()
    }

    /// What the new dogs catch: the speed difference that is left, and the torque after the shift.
    fn catch(&self, timing: &Timing) -> Catch {
        let slip = self.slip_caught(timing);
        Catch::of(&self.masses, self.lash, slip, &self.returns, self.caught_for_s())
    }

    /// The speed difference that the new dogs catch, rad/s.
    pub(super) fn slip_caught(&self, timing: &Timing) -> f64 {
        rad_per_s(timing.in_at_rpm * self.step.slip_rpm.signum())
    }

    /// How long the new dogs are followed, s.
    pub(super) fn caught_for_s(&self) -> f64 {
        let swing_s = std::f64::consts::TAU / self.masses.frequency();
        let swings = SWINGS * swing_s;
        (swings.max(self.slow_swing_s()) + self.returns.ramp_s).min(LONGEST_S)
    }

    /// Engine speed of the new gear at the road speed of an engine speed before the shift, rpm.
    fn target_rpm(&self, engine_rpm: f64) -> f64 {
        self.engine_at(engine_rpm, 0.0)
    }

    /// Engine speed with so much speed difference at the new dogs, rpm, at the road speed of one before the shift.
    fn engine_at(&self, engine_rpm: f64, slip_rpm: f64) -> f64 {
        self.engine_rpm(self.step.dogs_rpm * engine_rpm / self.step.engine_rpm, slip_rpm)
    }
}
