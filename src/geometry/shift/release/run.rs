//! Follows the dogs from event to event while they let go. Between two events everything is known in closed form.

use std::f64::consts::TAU;

use super::course::{Complex, Course};
use super::{Catch, Pull, Release, ReleaseEvent, ReleaseMoment, ReleaseStep, TorqueCut, TwoMasses};

/// Which flanks touch, or touched last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Flanks {
    Drive,
    Coast,
}

impl Flanks {
    const fn sign(self) -> f64 {
        match self {
            Self::Drive => 1.0,
            Self::Coast => -1.0,
        }
    }

    const fn other(self) -> Self {
        match self {
            Self::Drive => Self::Coast,
            Self::Coast => Self::Drive,
        }
    }
}

/// How the ring moves along the shaft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Motion {
    Held,
    Free,
    /// As fast as the drum lets it.
    Capped,
}

/// What ends a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    RampOver,
    PullBegins,
    LetsGo,
    Grips,
    Fastest,
    Slows,
    Out,
    Parts,
    Meets(Flanks),
    TimeOver,
}

/// Moments in each period of the swing.
const LOOKS: f64 = 32.0;

/// Most moments, however stiff the spring is.
const MOST_LOOKS: f64 = 4000.0;

/// Force that moves anything, N.
const LEAST_N: f64 = 1e-9;

/// Flanks that are nearer than this have not parted, rad.
const LEAST_GAP: f64 = 1e-12;

/// Most events that are followed.
const MOST_EVENTS: usize = 400;

pub(super) struct Run<'a> {
    masses: &'a TwoMasses,
    pull: &'a Pull,
    cut: &'a TorqueCut,
    longest_s: f64,
    swing_s: f64,
    step_s: f64,
    /// The flanks that carry before the cut.
    carried: Flanks,
    time_s: f64,
    flanks: Flanks,
    touch: bool,
    /// Twist of the spring, and how fast it changes, rad and rad/s.
    twist: [f64; 2],
    /// How far the masses have moved apart since the flanks parted and how fast they do, rad and rad/s.
    apart: [f64; 2],
    /// The twist that was left when the flanks parted, rad.
    left_twist: f64,
    motion: Motion,
    overlap_m: f64,
    speed_m_per_s: f64,
    events: Vec<ReleaseEvent>,
    moments: Vec<ReleaseMoment>,
    /// Greatest torque on the drive flanks and on the coast flanks, N·m.
    peak_nm: [f64; 2],
}

/// What is known of a piece, each by the time since it began.
struct Piece {
    twist: Course,
    torque: Course,
    /// Force that is left to pull.
    pulls: Course,
    speed: Course,
    overlap: Course,
    /// How far the flanks are apart, where none touch, and how far the masses are.
    gap: Option<[Course; 2]>,
}

impl<'a> Run<'a> {
    pub(super) fn new(
        masses: &'a TwoMasses,
        pull: &'a Pull,
        cut: &'a TorqueCut,
        longest_s: f64,
    ) -> Self {
        let steady = masses.steady_nm(cut.engine_nm);
        let swing_s = TAU / masses.frequency();
        let step_s = (swing_s / LOOKS).max(longest_s / MOST_LOOKS);
        let carried = if steady < 0.0 { Flanks::Coast } else { Flanks::Drive };
        Self {
            masses,
            pull,
            cut,
            longest_s,
            swing_s,
            step_s,
            carried,
            time_s: 0.0,
            flanks: carried,
            touch: true,
            twist: [steady / masses.stiffness_nm_per_rad, 0.0],
            apart: [0.0; 2],
            left_twist: 0.0,
            motion: Motion::Held,
            overlap_m: pull.overlap_m,
            speed_m_per_s: 0.0,
            events: Vec::new(),
            moments: Vec::new(),
            peak_nm: [0.0; 2],
        }
    }

    /// With the flanks that a speed difference closes just met, rad/s, and no torque on them yet.
    pub(super) fn just_met(mut self, slip: f64) -> Self {
        self.flanks = if slip < 0.0 { Flanks::Coast } else { Flanks::Drive };
        self.carried = self.flanks;
        self.twist = [0.0, slip];
        self
    }

    /// Until the dogs are out.
    pub(super) fn release(mut self) -> Release {
        let is_cut_short = !self.run();
        let coast_peak_nm = self.peak_nm[1];
        Release { events: self.events, moments: self.moments, coast_peak_nm, is_cut_short }
    }

    /// The dogs stay in.
    pub(super) fn catch(mut self) -> Catch {
        let is_cut_short = !self.run();
        let peak_nm = self.peak_nm;
        Catch { events: self.events, moments: self.moments, peak_nm, is_cut_short }
    }

    /// Whether it came to its end.
    fn run(&mut self) -> bool {
        for _ in 0..MOST_EVENTS {
            let piece = self.piece();
            let (end, lasts_s) = self.first_end(&piece);
            self.look(&piece, lasts_s);
            self.go(&piece, lasts_s);
            self.end(end);
            if matches!(end, End::Out | End::TimeOver) {
                return true;
            }
        }
        false
    }

    /// The torque on the engine side now, N·m, and how fast it changes.
    fn engine_nm(&self) -> [f64; 2] {
        let TorqueCut { engine_nm, drag_nm, ramp_s } = *self.cut;
        let fall = engine_nm + drag_nm;
        if self.time_s < ramp_s {
            [engine_nm - fall * self.time_s / ramp_s, -fall / ramp_s]
        } else {
            [-drag_nm, 0.0]
        }
    }

    fn piece(&self) -> Piece {
        let Self { masses, pull, flanks, .. } = *self;
        let (twist, torque) = if self.touch { self.touching() } else { self.relaxing() };
        let hold = pull.hold_per_m[usize::from(flanks == Flanks::Coast)];
        let pulls = torque.scaled(-flanks.sign() * hold, pull.force_n);
        let speed = match self.motion {
            Motion::Free => pulls.scaled(1.0 / pull.mass_kg, 0.0).integral(self.speed_m_per_s),
            Motion::Held | Motion::Capped => Course::steady(self.speed_m_per_s),
        };
        let overlap = speed.scaled(-1.0, 0.0).integral(self.overlap_m);
        let gap = (!self.touch).then(|| {
            let slows = self.engine_nm().map(|nm| -flanks.sign() * nm / masses.engine_kg_m2);
            let [apart, parts] = self.apart;
            let apart =
                Course::steady(slows[0]).plus(0.0, slows[1], 0.0).integral(parts).integral(apart);
            // What the spring gives back brings the flanks after the masses.
            let given = twist.scaled(flanks.sign(), -flanks.sign() * self.left_twist);
            [given.plus_polynomial(&apart), apart]
        });
        Piece { twist, torque, pulls, speed, overlap, gap }
    }

    /// Twist and torque while flanks touch.
    fn touching(&self) -> (Course, Course) {
        let per_nm = self.masses.steady_nm(1.0) / self.masses.stiffness_nm_per_rad;
        let twist = self.masses.twist(self.twist, self.engine_nm().map(|nm| nm * per_nm));
        let torque = self.masses.torque(&twist);
        (twist, torque)
    }

    /// Spring and damper relax on their own while no flanks touch.
    fn relaxing(&self) -> (Course, Course) {
        let rate = -1.0 / self.masses.relaxes_s();
        let twist = if rate.is_finite() {
            let wave = Complex::new(self.twist[0], 0.0);
            Course::new(0.0, 0.0, wave, Complex::new(rate, 0.0))
        } else {
            Course::steady(self.twist[0])
        };
        (twist, Course::steady(0.0))
    }

    /// The first of all that can end a piece, and how long the piece lasts, s.
    fn first_end(&self, piece: &Piece) -> (End, f64) {
        let from_now = |time_s: f64| time_s - self.time_s;
        let mut first = (End::TimeOver, from_now(self.longest_s));
        let known = [(End::RampOver, self.cut.ramp_s), (End::PullBegins, self.pull.begins_s)];
        for (end, time_s) in known {
            if 0.0 < from_now(time_s) && from_now(time_s) < first.1 {
                first = (end, from_now(time_s));
            }
        }
        let mut look = |end: End, course: &Course| {
            if let Some(at) = course.falls_to_zero(first.1, self.swing_s)
                && at < first.1
            {
                first = (end, at);
            }
        };
        match &piece.gap {
            Some([gap, _]) => {
                look(End::Meets(self.flanks.other()), &gap.scaled(-1.0, self.pull.lash));
                look(End::Meets(self.flanks), &gap.scaled(1.0, LEAST_GAP));
            }
            None => look(End::Parts, &piece.torque.scaled(self.flanks.sign(), 0.0)),
        }
        match self.motion {
            Motion::Held if self.time_s < self.pull.begins_s => {}
            Motion::Held => look(End::LetsGo, &piece.pulls.scaled(-1.0, LEAST_N)),
            Motion::Capped => {
                look(End::Out, &piece.overlap);
                look(End::Slows, &piece.pulls);
            }
            Motion::Free => {
                look(End::Out, &piece.overlap);
                look(End::Grips, &piece.speed);
                if let Some(fastest) = self.pull.fastest_m_per_s {
                    look(End::Fastest, &piece.speed.scaled(-1.0, fastest));
                }
            }
        }
        first
    }

    /// Notes torque and overlap over a piece.
    fn look(&mut self, piece: &Piece, lasts_s: f64) {
        let (mut at, mut hardest) = (0.0, [0.0; 2]);
        loop {
            let torque_nm = piece.torque.at(at);
            if self.flanks.sign() * torque_nm > hardest[1] {
                hardest = [at, self.flanks.sign() * torque_nm];
            }
            let overlap_m = piece.overlap.at(at).max(0.0);
            let time_s = self.time_s + at;
            self.moments.push(ReleaseMoment { time_s, torque_nm, overlap_m });
            if at >= lasts_s {
                break;
            }
            at = (at + self.step_s).min(lasts_s);
        }
        if hardest[1] > 0.0 {
            self.peak(piece, hardest[0], lasts_s);
        }
    }

    /// Notes the greatest torque on the flanks that touch, near the moment at which it was greatest.
    fn peak(&mut self, piece: &Piece, near: f64, lasts_s: f64) {
        let between = [(near - self.step_s).max(0.0), (near + self.step_s).min(lasts_s)];
        let peak_nm = piece.torque.scaled(self.flanks.sign(), 0.0).greatest_near(near, between);
        let greatest = &mut self.peak_nm[usize::from(self.flanks == Flanks::Coast)];
        *greatest = greatest.max(peak_nm);
    }

    /// Everything as it is at the end of a piece.
    fn go(&mut self, piece: &Piece, lasts_s: f64) {
        self.time_s += lasts_s;
        self.twist = [piece.twist.at(lasts_s), piece.twist.slope().at(lasts_s)];
        if let Some([_, apart]) = &piece.gap {
            self.apart = [apart.at(lasts_s), apart.slope().at(lasts_s)];
        }
        self.overlap_m = piece.overlap.at(lasts_s);
        self.speed_m_per_s = piece.speed.at(lasts_s);
    }

    /// What follows from what ended a piece.
    fn end(&mut self, end: End) {
        match end {
            End::RampOver => self.time_s = self.time_s.max(self.cut.ramp_s),
            End::PullBegins => self.time_s = self.time_s.max(self.pull.begins_s),
            End::TimeOver => {}
            End::LetsGo => {
                self.motion = Motion::Free;
                self.tell(ReleaseStep::Moves);
            }
            End::Grips => {
                // An undercut that draws the dogs in again is left out: they stay where they stop.
                self.motion = Motion::Held;
                self.speed_m_per_s = 0.0;
                self.tell(ReleaseStep::Stops);
            }
            End::Fastest => {
                self.motion = Motion::Capped;
                self.speed_m_per_s = self.pull.fastest_m_per_s.unwrap_or(self.speed_m_per_s);
            }
            End::Slows => self.motion = Motion::Free,
            End::Out => self.tell(ReleaseStep::Out),
            End::Parts => self.part(),
            End::Meets(flanks) => self.meet(flanks),
        }
    }

    /// The masses part as fast as the spring gives way.
    fn part(&mut self) {
        let [_, speed] = self.twist;
        self.touch = false;
        // No torque is left: what the spring still has is what the damper takes.
        self.left_twist = -self.masses.relaxes_s() * speed;
        self.twist[0] = self.left_twist;
        self.apart = [0.0, -self.flanks.sign() * speed];
        if self.flanks == self.carried {
            self.tell(ReleaseStep::Unloaded);
        }
    }

    fn meet(&mut self, flanks: Flanks) {
        let [_, parts] = self.apart;
        self.twist[1] = -self.flanks.sign() * parts;
        self.flanks = flanks;
        self.touch = true;
        self.tell(match flanks {
            Flanks::Coast => ReleaseStep::CoastStrikes,
            Flanks::Drive => ReleaseStep::DriveStrikes,
        });
    }

    fn tell(&mut self, what: ReleaseStep) {
        let slip = if self.touch { self.twist[1] } else { -self.flanks.sign() * self.apart[1] };
        self.events.push(ReleaseEvent {
            time_s: self.time_s,
            what,
            overlap_m: self.overlap_m,
            speed_m_per_s: self.speed_m_per_s,
            slip,
        });
    }
}
