//! The driveline as a chain of masses: engine, gearbox shafts, gear, sprocket, carrier, wheel and vehicle, joined by a
//! clutch and a tyre that slip, and by mesh, dogs, chain and cush drive that are springs with dampers and lash.
//!
//! Everything is referred to the shaft of the dogs. Between two events the chain is linear and followed exactly; what
//! ends a piece is a flank that parts or strikes, a cush drive at its stop, a clutch or a tyre that slips or grips.
//! Contact is as stiff as its joint: there is no coefficient of restitution.
//!
//! ```
//! use crenel_geometry::driveline::{Driveline, Elastic, Joint, Start, TorqueCourse};
//! // Engine 4e-3 kg·m² and vehicle 0.4 kg·m² on a driveline of 3000 N·m/rad; dogs that meet at 30 rad/s.
//! let driveline = Driveline {
//!     inertia_kg_m2: [4e-3, 0.0, 0.0, 0.0, 0.0, 0.0, 0.4],
//!     dogs: Some(Elastic { lash: 0.2, ..Elastic::of(3000.0, 0.0) }),
//!     ..Driveline::default()
//! };
//! let run = driveline.run(&TorqueCourse::steady(0.0), Start::Met { slip: 30.0 }, 0.002)?;
//! // The closed form of a blow: √(k·J)·Δω.
//! let want = (3000.0_f64 * 4e-3 * 0.4 / 0.404).sqrt() * 30.0;
//! assert!((run.peak_nm(Joint::Dogs) - want).abs() < 1e-3 * want);
//! # Ok::<(), crenel_geometry::driveline::DrivelineFault>(())
//! ```

mod course;
mod guard;
mod parts;
mod run;
mod start;
mod system;
mod taylor;

pub use course::TorqueCourse;
pub use parts::{DrivelineFault, Elastic, Joint, Mass, Stop};
pub use start::Start;

use parts::Kind;
use run::Run;

/// Masses in the chain.
pub const MASSES: usize = 7;

/// Joints between them.
pub const JOINTS: usize = MASSES - 1;

/// A driveline, all of it referred to the shaft of the dogs. A joint that is left out is rigid, and what it joins is one
/// mass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Driveline {
    /// Inertia of each [`Mass`] in its order, kg·m². One may be 0 if it is rigidly joined to one that is not; that of the
    /// vehicle may be infinite, and it then keeps its speed.
    pub inertia_kg_m2: [f64; MASSES],
    /// Torque at which the clutch slips, N·m.
    pub clutch_nm: Option<f64>,
    /// Teeth of the gear.
    pub mesh: Option<Elastic>,
    /// Dogs, with the shaft that they stand on.
    pub dogs: Option<Elastic>,
    /// Chain, or shaft, of the final drive.
    pub chain: Option<Elastic>,
    /// Cush drive.
    pub cush: Option<Elastic>,
    /// Torque at which the tyre slips, `μ·N·r`, N·m.
    pub tyre_nm: Option<f64>,
    /// Whether the dogs stand between shafts and gear, and the mesh between gear and sprocket: a free gear on the input
    /// shaft. Otherwise the mesh comes first.
    pub dogs_first: bool,
}

/// Something that happens in a driveline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrivelineEvent {
    /// When, s.
    pub time_s: f64,
    /// Where.
    pub joint: Joint,
    /// What.
    pub what: JointStep,
    /// Speed of the engine's side of the joint less that of the other, rad/s.
    pub slip: f64,
}

/// What happens at a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum JointStep {
    /// The flanks that carried part.
    Parts,
    /// The drive flanks strike.
    DriveStrikes,
    /// The coast flanks strike.
    CoastStrikes,
    /// It is twisted as far as its stop.
    Stops,
    /// It leaves its stop.
    LeavesStop,
    /// It begins to slip.
    Slips,
    /// It grips again.
    Grips,
}

/// One moment of a driveline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrivelineMoment {
    /// When, s.
    pub time_s: f64,
    /// Speed of each [`Mass`] in its order, less that of the vehicle at the start, rad/s.
    pub speeds: [f64; MASSES],
    /// Torque at each [`Joint`] in its order, N·m; minus on coast flanks.
    pub torques_nm: [f64; JOINTS],
}

/// Energy over a run, J. What came in is what is stored more, and what was lost.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EnergyBalance {
    /// From the engine's torque.
    pub in_j: f64,
    /// In motion and in springs at the end, less that at the start. Motion is that against the vehicle at the start.
    pub stored_j: f64,
    /// In dampers.
    pub damped_j: f64,
    /// In clutch and tyre while they slip.
    pub slipped_j: f64,
}

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RunEnd {
    /// It was followed for as long as was asked.
    TimeOver,
    /// More flanks struck and parted than are followed ([`MOST_EVENTS`]). What is told is true up to the last moment.
    TooManyEvents,
}

/// Most events that are followed.
pub const MOST_EVENTS: usize = 2000;

/// What a driveline did.
#[derive(Clone, Debug, PartialEq)]
pub struct DrivelineRun {
    /// What happened, in order.
    pub events: Vec<DrivelineEvent>,
    /// Speeds and torques over the time, in order.
    pub moments: Vec<DrivelineMoment>,
    /// Greatest torque at each joint on its drive side and on its coast side, N·m, both without a sign.
    pub peaks_nm: [[f64; 2]; JOINTS],
    /// Where the energy went.
    pub energy: EnergyBalance,
    /// Why it ended.
    pub end: RunEnd,
}

impl Driveline {
    /// Follows the driveline for so long under a torque at the engine.
    ///
    /// # Errors
    ///
    /// What cannot be worked out: a mass that is missing, a number that is none, a torque at the start that clutch or tyre
    /// cannot hold, or joints so stiff beside the time that it would take too many steps.
    pub fn run(
        &self,
        torque: &TorqueCourse,
        start: Start,
        longest_s: f64,
    ) -> Result<DrivelineRun, DrivelineFault> {
        if self.dogs_first {
            let swapped = Self { mesh: self.dogs, dogs: self.mesh, dogs_first: false, ..*self };
            let run = swapped.follow(torque, start, longest_s, Joint::Mesh);
            return run.map(DrivelineRun::renamed).map_err(DrivelineFault::renamed);
        }
        self.follow(torque, start, longest_s, Joint::Dogs)
    }

    /// The same with the mesh first in any case; `dogs` is where the dogs stand.
    fn follow(
        &self,
        torque: &TorqueCourse,
        start: Start,
        longest_s: f64,
        dogs: Joint,
    ) -> Result<DrivelineRun, DrivelineFault> {
        self.check()?;
        torque.check()?;
        if !(longest_s.is_finite() && longest_s >= 0.0) {
            return Err(DrivelineFault::NoTime);
        }
        let begun = start.begin(self, torque.at(0.0), dogs)?;
        Run::new(self, torque, begun, longest_s)?.followed()
    }

    /// The torque above which a joint slips, N·m, where it is one that can.
    pub const fn slips_at_nm(&self, joint: Joint) -> Option<f64> {
        match joint {
            Joint::Clutch => self.clutch_nm,
            Joint::Tyre => self.tyre_nm,
            Joint::Mesh | Joint::Dogs | Joint::Chain | Joint::Cush => None,
        }
    }

    /// The spring of a joint, where it has one.
    pub const fn elastic(&self, joint: Joint) -> Option<Elastic> {
        match joint {
            Joint::Mesh => self.mesh,
            Joint::Dogs => self.dogs,
            Joint::Chain => self.chain,
            Joint::Cush => self.cush,
            Joint::Clutch | Joint::Tyre => None,
        }
    }

    fn kinds(&self) -> [Kind; JOINTS] {
        Joint::ALL.map(|joint| match (self.elastic(joint), self.slips_at_nm(joint)) {
            (Some(elastic), _) => Kind::Elastic(elastic),
            (None, Some(most_nm)) => Kind::Slips(most_nm),
            (None, None) => Kind::Rigid,
        })
    }

    fn check(&self) -> Result<(), DrivelineFault> {
        for (mass, inertia) in Mass::ALL.into_iter().zip(self.inertia_kg_m2) {
            let may_be = inertia >= 0.0 && (inertia.is_finite() || mass == Mass::Vehicle);
            if !may_be {
                return Err(DrivelineFault::NoInertia(mass));
            }
        }
        for (joint, kind) in Joint::ALL.into_iter().zip(self.kinds()) {
            kind.check().map_err(|wrong| wrong(joint))?;
        }
        self.each_mass_has_inertia()
    }

    /// Masses that nothing but rigid joints join are one, which must not be 0.
    fn each_mass_has_inertia(&self) -> Result<(), DrivelineFault> {
        let mut sum = 0.0;
        for (at, mass) in Mass::ALL.into_iter().enumerate() {
            sum += self.inertia_kg_m2[at];
            let is_last = self.kinds().get(at).is_none_or(|kind| !matches!(kind, Kind::Rigid));
            if is_last && sum <= 0.0 {
                return Err(DrivelineFault::NoInertia(mass));
            }
            sum = if is_last { 0.0 } else { sum };
        }
        Ok(())
    }
}

impl DrivelineRun {
    /// With mesh and dogs told as each other.
    fn renamed(mut self) -> Self {
        let [mesh, dogs] = [Joint::Mesh, Joint::Dogs].map(Joint::place);
        self.events.iter_mut().for_each(|event| event.joint = event.joint.renamed());
        self.moments.iter_mut().for_each(|moment| moment.torques_nm.swap(mesh, dogs));
        self.peaks_nm.swap(mesh, dogs);
        self
    }

    /// The greatest torque at a joint, N·m, without its sign.
    pub fn peak_nm(&self, joint: Joint) -> f64 {
        let [drive, coast] = self.peaks_nm[joint.place()];
        drive.max(coast)
    }

    /// Whether something happens at a joint.
    pub fn has(&self, joint: Joint, what: JointStep) -> bool {
        self.first_s(joint, what).is_some()
    }

    /// When something first happens at a joint, s.
    pub fn first_s(&self, joint: Joint, what: JointStep) -> Option<f64> {
        let mut events = self.events.iter();
        events.find(|event| event.joint == joint && event.what == what).map(|event| event.time_s)
    }
}

#[cfg(test)]
mod tests;
