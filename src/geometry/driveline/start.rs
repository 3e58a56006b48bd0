//! How a driveline stands as a run begins.

use super::parts::Kind;
use super::system::{Contact, State, Vector};
use super::{Driveline, DrivelineFault, JOINTS, Joint, MASSES};

/// How a driveline stands as a run begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// All of it is sped up together by the torque at the engine, and carries it on the flanks that this closes.
    Steady,
    /// The dogs have just met: everything on their engine's side turns faster by so much, rad/s, and is sped up by the
    /// torque at the engine; nothing carries past the dogs, where flanks touch that this torque would close.
    Met {
        /// Plus where the engine's side is the faster one, and drive flanks meet.
        slip: f64,
    },
}

impl Start {
    pub(super) fn begin(
        self,
        driveline: &Driveline,
        engine_nm: f64,
        dogs: Joint,
    ) -> Result<State, DrivelineFault> {
        let side = if engine_nm < 0.0 { -1 } else { 1 };
        let ahead = match self {
            Self::Steady => MASSES,
            Self::Met { .. } => dogs.place() + 1,
        };
        let torques = steady_nm(&driveline.inertia_kg_m2[..ahead], engine_nm);
        let mut state = State {
            vector: Vector::still(engine_nm),
            contacts: [Contact::Rigid; JOINTS],
            left: [0.0; JOINTS],
        };
        for (joint, kind) in Joint::ALL.into_iter().zip(driveline.kinds()) {
            let at = joint.place();
            state.join(at, kind, torques[at], side);
            let Kind::Slips(most_nm) = kind else { continue };
            if torques[at].abs() > most_nm {
                return Err(DrivelineFault::TorqueBeyond { joint, nm: torques[at], most_nm });
            }
        }
        if let Self::Met { slip } = self {
            if !slip.is_finite() {
                return Err(DrivelineFault::NoCourse);
            }
            // Rigid dogs have no speed difference to meet with.
            if !matches!(driveline.kinds()[dogs.place()], Kind::Elastic(_)) {
                return Err(DrivelineFault::NoStiffness(dogs));
            }
            let side = if slip < 0.0 { -1 } else { 1 };
            state.join(dogs.place(), driveline.kinds()[dogs.place()], 0.0, side);
            for mass in 0..ahead {
                *state.vector.speed_mut(mass) = slip;
            }
        }
        Ok(state)
    }
}

/// The torque at each joint while masses are sped up together by a torque on the first, N·m; none past the last of them.
fn steady_nm(inertia: &[f64], engine_nm: f64) -> [f64; JOINTS] {
    let whole: f64 = inertia.iter().sum();
    let mut torques = [0.0; JOINTS];
    let mut rest = engine_nm;
    for (torque, inertia) in torques.iter_mut().zip(&inertia[..inertia.len() - 1]) {
        rest -= engine_nm * (inertia / whole);
        *torque = rest;
    }
    torques
}

impl State {
    /// Lets a joint carry a torque; the side that touches if there is none is given.
    fn join(&mut self, at: usize, kind: Kind, nm: f64, side: i8) {
        match kind {
            Kind::Rigid => self.contacts[at] = Contact::Rigid,
            Kind::Slips(_) => self.contacts[at] = Contact::Grips,
            Kind::Elastic(elastic) => {
                let side = if nm > 0.0 {
                    1
                } else if nm < 0.0 {
                    -1
                } else {
                    side
                };
                let twist = elastic.twist(nm);
                self.contacts[at] = Contact::Touches { side, zone: elastic.zone(twist) };
                *self.vector.across_mut(at) = twist + Contact::offset(side, elastic.lash);
            }
        }
    }
}
