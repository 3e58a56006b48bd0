//! Follows a driveline from event to event.

use std::cell::OnceCell;
use std::rc::Rc;

use super::guard::{End, Guard, Point, Relaxing, Step, crossing, joint};
use super::parts::Kind;
use super::system::{Contact, State, System, Vector};
use super::taylor::{Rates, Series, Stepper, slope, value};
use super::{
    Driveline, DrivelineEvent, DrivelineFault, DrivelineMoment, DrivelineRun, EnergyBalance,
    JOINTS, JointStep, MASSES, MOST_EVENTS, RunEnd, TorqueCourse,
};

/// Most steps that one run may take.
const MOST_STEPS: f64 = 400_000.0;

/// Lengths of steps, each twice the one before.
const LEVELS: usize = 6;

/// Short steps before a longer one is tried again.
const PATIENCE: usize = 8;

/// Steppers of all lengths.
type Ladder = Rc<[Stepper; LEVELS]>;

/// Moments that are kept of a run, besides those of its events.
const MOMENTS: f64 = 1500.0;

pub(super) struct Run<'a> {
    driveline: &'a Driveline,
    kinds: [Kind; JOINTS],
    course: &'a TorqueCourse,
    longest_s: f64,
    state: State,
    time_s: f64,
    /// Steppers of the contacts that were met so far.
    steppers: Vec<([Contact; JOINTS], Ladder)>,
    ends: usize,
    told: DrivelineRun,
    begun_j: f64,
    /// When the last moment was kept, s.
    kept_s: f64,
}

impl<'a> Run<'a> {
    pub(super) fn new(
        driveline: &'a Driveline,
        course: &'a TorqueCourse,
        state: State,
        longest_s: f64,
    ) -> Result<Self, DrivelineFault> {
        let told = DrivelineRun {
            events: Vec::new(),
            moments: Vec::new(),
            peaks_nm: [[0.0; 2]; JOINTS],
            energy: EnergyBalance::default(),
            end: RunEnd::TimeOver,
        };
        let kinds = driveline.kinds();
        let mut run = Self {
            driveline,
            kinds,
            course,
            longest_s,
            state,
            time_s: 0.0,
            steppers: Vec::new(),
            ends: 0,
            told,
            begun_j: 0.0,
            kept_s: f64::NEG_INFINITY,
        };
        run.begun_j = run.stored_j();
        Ok(run)
    }

    pub(super) fn followed(mut self) -> Result<DrivelineRun, DrivelineFault> {
        while self.time_s < self.longest_s {
            if self.ends >= MOST_EVENTS {
                self.told.end = RunEnd::TooManyEvents;
                break;
            }
            self.piece()?;
        }
        self.told.energy.stored_j = self.stored_j() - self.begun_j;
        Ok(self.told)
    }

    /// Goes on to the next event, or to the next corner of the engine's torque.
    fn piece(&mut self) -> Result<(), DrivelineFault> {
        let [nm, slope, until_s] = self.course.from(self.time_s);
        *self.state.vector.engine_nm_mut() = nm;
        let contacts = self.state.contacts;
        let system = System::of(self.driveline, &self.kinds, &contacts, slope);
        let guards = Guard::all(&self.kinds, &contacts);
        let relaxing = Relaxing::all(&self.kinds, &self.state);
        let here = Point::of(&system, self.state.vector, &relaxing, 0.0);
        if let Some(past) = guards.iter().find(|guard| guard.is_past(&here)) {
            // A strike can ask more of a clutch or a tyre than it holds, for no time.
            self.end(*past);
            return Ok(());
        }
        self.look(&here, true);
        let steppers = self.steppers(&system)?;
        let drifts = drifts(&steppers, &system);
        let piece = Piece { system, steppers, drifts, guards, relaxing };
        let until_s = until_s.min(self.longest_s);
        self.walk(&piece, here, until_s);
        Ok(())
    }

    fn walk(&mut self, piece: &Piece, mut here: Point, until_s: f64) {
        let begun_s = self.time_s;
        let lasts_s = until_s - begun_s;
        let (mut gone_s, mut ended, mut short) = (0.0, None, 0_usize);
        while ended.is_none() && gone_s < lasts_s {
            if short == 0 {
                let level = piece.level(&here, lasts_s - gone_s);
                if let Some(there) = self.stride(piece, &here, gone_s, level) {
                    gone_s += piece.steppers[level].step_s;
                    self.time_s = begun_s + gone_s;
                    self.look(&there, gone_s >= lasts_s);
                    here = there;
                    continue;
                }
                short = PATIENCE.max(1 << level);
            }
            short -= 1;
            let stepper = &piece.steppers[0];
            let mut step_s = stepper.step_s.min(lasts_s - gone_s);
            let is_whole = step_s == stepper.step_s;
            let course = Course::of(piece, &here);
            let next = if is_whole {
                stepper.next(&here.vector, &piece.drifts[0])
            } else {
                course.series().at(step_s)
            };
            let mut there = Point::of(&piece.system, next, &piece.relaxing, gone_s + step_s);
            if let Some((at, guard)) = course.first_end(&there, gone_s, step_s) {
                let next = course.series().at(at);
                there = Point::of(&piece.system, next, &piece.relaxing, gone_s + at);
                (step_s, ended) = (at, Some(guard));
            }
            self.account(&course, &there, step_s);
            gone_s = if is_whole || ended.is_some() { gone_s + step_s } else { lasts_s };
            self.time_s = begun_s + gone_s;
            self.look(&there, ended.is_some() || gone_s >= lasts_s);
            here = there;
        }
        self.state.vector = here.vector;
        self.relax(&piece.relaxing, gone_s);
        match ended {
            Some(guard) => self.end(guard),
            None => self.time_s = until_s,
        }
    }

    /// A long step, if there is one in which nothing ends and no torque has a peak that counts.
    fn stride(&mut self, piece: &Piece, here: &Point, gone_s: f64, level: usize) -> Option<Point> {
        let step_s = piece.steppers.get(level).filter(|_| level > 0)?.step_s;
        let next = piece.steppers[level].next(&here.vector, &piece.drifts[level]);
        let there = Point::of(&piece.system, next, &piece.relaxing, gone_s + step_s);
        let ends = [here, &there];
        let ended = piece.guards.iter().any(|guard| guard.may_fall(ends, step_s));
        if ended || (0..JOINTS).any(|at| self.may_peak(ends, at, step_s)) {
            return None;
        }
        self.spend(piece, ends, step_s);
        Some(there)
    }

    /// Whether the torque at a joint may have a peak between two points that is greater than what was seen.
    fn may_peak(&self, [here, there]: [&Point; 2], at: usize, step_s: f64) -> bool {
        let turns = here.torques_change[at] * there.torques_change[at] < 0.0;
        turns && may_be_greater(self.told.peaks_nm[at], [here, there], at, step_s)
    }

    /// Springs that are on their own have relaxed for so long, on their dampers.
    fn relax(&mut self, relaxing: &[Relaxing; JOINTS], gone_s: f64) {
        for (at, relaxing) in relaxing.iter().enumerate() {
            let (Kind::Elastic(elastic), Contact::Apart { .. }) =
                (self.kinds[at], self.state.contacts[at])
            else {
                continue;
            };
            let relaxed = relaxing.at(gone_s)[0];
            let lost_j = elastic.energy_j(self.state.left[at]) - elastic.energy_j(relaxed);
            self.told.energy.damped_j += lost_j;
            self.state.left[at] = relaxed;
        }
    }

    fn steppers(&mut self, system: &System) -> Result<Ladder, DrivelineFault> {
        let contacts = self.state.contacts;
        if let Some((_, steppers)) = self.steppers.iter().find(|(known, _)| *known == contacts) {
            return Ok(Rc::clone(steppers));
        }
        let first = Stepper::of(system, self.longest_s);
        let steps = self.longest_s / first.step_s;
        if steps.is_nan() || steps > MOST_STEPS {
            return Err(DrivelineFault::TooStiff);
        }
        let mut steppers: [Stepper; LEVELS] = std::array::from_fn(|_| first.clone());
        for level in 1..LEVELS {
            steppers[level] = steppers[level - 1].doubled();
        }
        let steppers = Rc::new(steppers);
        self.steppers.push((contacts, Rc::clone(&steppers)));
        Ok(steppers)
    }

    /// Notes torques, and keeps a moment if it is time for one or has to be.
    fn look(&mut self, point: &Point, must: bool) {
        for (peaks, nm) in self.told.peaks_nm.iter_mut().zip(point.torques) {
            note(peaks, nm);
        }
        if must || self.time_s - self.kept_s >= self.longest_s / MOMENTS {
            self.kept_s = self.time_s;
            let mut speeds = [0.0; MASSES];
            for (mass, speed) in speeds.iter_mut().enumerate() {
                *speed = point.vector.speed(mass);
            }
            let torques_nm = point.torques;
            self.told.moments.push(DrivelineMoment { time_s: self.time_s, speeds, torques_nm });
        }
    }

    /// Notes peaks between two points, and the energy that goes by.
    fn account(&mut self, course: &Course, there: &Point, step_s: f64) {
        let ends = [course.from, there];
        for at in 0..JOINTS {
            if self.may_peak(ends, at, step_s) {
                let torque = course.series().torque(at);
                let sense = course.from.torques_change[at].signum();
                let top = crossing(step_s, |time_s| sense * slope(&torque, time_s));
                note(&mut self.told.peaks_nm[at], value(&torque, top));
            }
        }
        self.spend(course.piece, ends, step_s);
    }

    /// Notes the energy that goes by between two points.
    fn spend(&mut self, piece: &Piece, ends: [&Point; 2], step_s: f64) {
        let energy = &mut self.told.energy;
        energy.in_j += over_step(ends.map(engine_power), step_s);
        for (at, kind) in self.kinds.iter().enumerate() {
            let slips = ends.map(|point| slipping(point, at));
            if let (Kind::Slips(most_nm), Contact::Slips { side }) = (kind, self.state.contacts[at])
            {
                let holds = most_nm * f64::from(side);
                energy.slipped_j += holds * over_step(slips, step_s);
            }
            let damping = piece.system.damping(at);
            if damping > 0.0 {
                energy.damped_j += damping * over_step(slips.map(squared), step_s);
            }
        }
    }

    /// Energy in motion and in springs, J. A vehicle without end keeps its speed, against which all speeds are.
    fn stored_j(&self) -> f64 {
        let inertia = self.driveline.inertia_kg_m2.into_iter().enumerate();
        let moving = inertia.filter(|(_, inertia)| inertia.is_finite()).map(|(mass, inertia)| {
            let speed = self.state.vector.speed(mass);
            0.5 * inertia * speed * speed
        });
        let twisted = self.kinds.iter().enumerate().map(|(at, kind)| match kind {
            Kind::Elastic(elastic) => elastic.energy_j(self.twist(at, elastic.lash)),
            Kind::Rigid | Kind::Slips(_) => 0.0,
        });
        moving.chain(twisted).sum()
    }

    /// The twist of a spring, rad.
    fn twist(&self, at: usize, lash: f64) -> f64 {
        match self.state.contacts[at] {
            Contact::Touches { side, .. } => {
                self.state.vector.across(at) - Contact::offset(side, lash)
            }
            Contact::Apart { .. } => self.state.left[at],
            Contact::Rigid | Contact::Grips | Contact::Slips { .. } => 0.0,
        }
    }

    /// What follows from what ended a piece.
    fn end(&mut self, guard: Guard) {
        self.ends += 1;
        let at = guard.joint;
        let contact = self.state.contacts[at];
        match (guard.end, contact, self.kinds[at]) {
            (End::Parts, Contact::Touches { side, zone }, Kind::Elastic(elastic)) => {
                self.lose(at, elastic.damping_nm_s_per_rad, self.twist(at, elastic.lash));
                self.state.contacts[at] = Contact::Apart { side, zone };
                self.tell(at, JointStep::Parts);
            }
            (End::Crosses, Contact::Apart { side, zone }, _) => self.strike(at, -side, zone),
            (End::Returns, Contact::Apart { side, zone }, _) => self.strike(at, side, zone),
            (End::Stops(zone), Contact::Touches { side, .. }, _) => {
                self.state.contacts[at] = Contact::Touches { side, zone };
                self.tell(at, JointStep::Stops);
            }
            (End::LeavesStop, Contact::Touches { side, .. }, _) => {
                self.state.contacts[at] = Contact::Touches { side, zone: 0 };
                self.tell(at, JointStep::LeavesStop);
            }
            (End::Relaxes, Contact::Apart { side, .. }, _) => {
                self.state.contacts[at] = Contact::Apart { side, zone: 0 };
            }
            (End::Slips(side), _, _) => {
                self.state.contacts[at] = Contact::Slips { side };
                self.tell(at, JointStep::Slips);
            }
            (End::SlipOver, _, Kind::Slips(most_nm)) => self.grip(at, most_nm),
            _ => {}
        }
    }

    /// The spring keeps its twist as its flanks part.
    fn lose(&mut self, at: usize, damping: f64, twist: f64) {
        self.state.left[at] = if damping > 0.0 { twist } else { 0.0 };
    }

    fn strike(&mut self, at: usize, side: i8, zone: i8) {
        self.state.contacts[at] = Contact::Touches { side, zone };
        self.tell(at, if side > 0 { JointStep::DriveStrikes } else { JointStep::CoastStrikes });
    }

    /// A joint that slips comes to rest: it grips if it can hold what it then carries, and slips the other way if not.
    fn grip(&mut self, at: usize, most_nm: f64) {
        self.state.contacts[at] = Contact::Grips;
        let system = System::of(self.driveline, &self.kinds, &self.state.contacts, 0.0);
        let nm = system.torques(&self.state.vector, 1.0)[at];
        if nm.abs() > most_nm {
            self.state.contacts[at] = Contact::Slips { side: if nm > 0.0 { 1 } else { -1 } };
            return self.tell(at, JointStep::Slips);
        }
        self.tell(at, JointStep::Grips);
        self.turn_as_one(&system);
    }

    /// Masses that are one have one speed, to the last digit.
    fn turn_as_one(&mut self, system: &System) {
        let inertia = self.driveline.inertia_kg_m2;
        for masses in system.groups() {
            let whole: f64 = inertia[masses.clone()].iter().sum();
            let last = *masses.end();
            let speed = if whole.is_finite() {
                masses
                    .clone()
                    .map(|mass| inertia[mass] * self.state.vector.speed(mass))
                    .sum::<f64>()
                    / whole
            } else {
                self.state.vector.speed(last)
            };
            for mass in masses {
                *self.state.vector.speed_mut(mass) = speed;
            }
        }
    }

    fn tell(&mut self, at: usize, what: JointStep) {
        let slip = self.state.vector.slip(at);
        self.told.events.push(DrivelineEvent { time_s: self.time_s, joint: joint(at), what, slip });
    }
}

/// A time in which contacts stay as they are.
struct Piece {
    system: System,
    steppers: Ladder,
    /// What the constants of the system do in a step of each length.
    drifts: [Vector; LEVELS],
    guards: Vec<Guard>,
    relaxing: [Relaxing; JOINTS],
}

impl Piece {
    /// The longest step that may be taken from a point, of those no longer than so long.
    fn level(&self, here: &Point, longest_s: f64) -> usize {
        let rates = Rates::of(&self.system, &here.bends);
        let may = |step_s: f64| step_s <= longest_s && rates.allow(step_s);
        self.steppers.iter().rposition(|stepper| may(stepper.step_s)).unwrap_or(0)
    }
}

/// What a piece does from a point on, with the series only where it is asked for.
struct Course<'a> {
    piece: &'a Piece,
    from: &'a Point,
    series: OnceCell<Series>,
}

impl<'a> Course<'a> {
    const fn of(piece: &'a Piece, from: &'a Point) -> Self {
        Self { piece, from, series: OnceCell::new() }
    }

    fn series(&self) -> &Series {
        self.series.get_or_init(|| Series::of(&self.piece.system, &self.from.vector, 1.0))
    }

    /// What first ends a step up to a point, and when in it, s.
    fn first_end(&self, there: &Point, begins_s: f64, lasts_s: f64) -> Option<(f64, Guard)> {
        let ends = [self.from, there];
        let may = self.piece.guards.iter().filter(|guard| guard.may_fall(ends, lasts_s));
        let found = may.filter_map(|guard| {
            let relaxing = &self.piece.relaxing;
            let step = Step { series: self.series(), relaxing, begins_s, lasts_s };
            Some((guard.falls(&step)?, *guard))
        });
        found.min_by(|(a, _), (b, _)| a.total_cmp(b))
    }
}

fn drifts(steppers: &[Stepper; LEVELS], system: &System) -> [Vector; LEVELS] {
    let mut next = steppers[0].drift(system);
    std::array::from_fn(|level| {
        let drift = next;
        next = steppers[level].next(&drift, &drift);
        drift
    })
}

fn note([drive, coast]: &mut [f64; 2], nm: f64) {
    *drive = drive.max(nm);
    *coast = coast.max(-nm);
}

/// Whether the torque between two points, where it turns, may be greater than what was seen: no parabola that leaves
/// either point as it does is farther out.
fn may_be_greater(seen: [f64; 2], points: [&Point; 2], at: usize, step_s: f64) -> bool {
    let [drive, coast] = seen;
    points.into_iter().any(|point| {
        let out = point.torques[at].abs() + point.torques_change[at].abs() * step_s;
        if point.torques[at] > 0.0 { out > drive } else { out > coast }
    })
}

/// A number, how fast it changes, and how fast that changes.
type Jet = [f64; 3];

/// The power of the engine's torque, W.
fn engine_power(point: &Point) -> Jet {
    let nm = [point.vector.engine_nm(), point.changes.engine_nm()];
    let speed = [point.vector.speed(0), point.changes.speed(0), point.bends.speed(0)];
    [
        nm[0] * speed[0],
        nm[1] * speed[0] + nm[0] * speed[1],
        2.0 * nm[1] * speed[1] + nm[0] * speed[2],
    ]
}

fn slipping(point: &Point, at: usize) -> Jet {
    [point.vector.slip(at), point.changes.slip(at), point.bends.slip(at)]
}

fn squared([value, change, bend]: Jet) -> Jet {
    [value * value, 2.0 * value * change, 2.0 * (change * change + value * bend)]
}

/// What a number comes to over a step, from its jets at both ends; the error is of seventh order.
fn over_step([from, to]: [Jet; 2], step_s: f64) -> f64 {
    let [even, slopes, bends] = [from[0] + to[0], from[1] - to[1], from[2] + to[2]];
    step_s * (even / 2.0 + step_s * (slopes / 10.0 + step_s * bends / 120.0))
}
