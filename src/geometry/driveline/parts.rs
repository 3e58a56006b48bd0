//! The masses of a driveline, its joints, and what can be wrong with them.

/// A mass of the chain, in order from the engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mass {
    /// Crankshaft and primary drive.
    Engine,
    /// Shafts and gears between clutch and the mesh of the gear that carries.
    Shafts,
    /// The gear between mesh and dogs.
    Gear,
    /// Everything between dogs and chain: slider, shaft and front sprocket.
    Sprocket,
    /// Everything between chain and cush drive: rear sprocket and its carrier.
    Carrier,
    /// Wheel with its tyre.
    Wheel,
    /// The vehicle, as the wheel feels it.
    Vehicle,
}

impl Mass {
    /// All, in order.
    pub const ALL: [Self; 7] = [
        Self::Engine,
        Self::Shafts,
        Self::Gear,
        Self::Sprocket,
        Self::Carrier,
        Self::Wheel,
        Self::Vehicle,
    ];
}

/// A joint between two masses, in order from the engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Joint {
    /// Slips at a torque.
    Clutch,
    /// Teeth with their lash.
    Mesh,
    /// Dogs with their lash.
    Dogs,
    /// A chain with its slack, or a shaft.
    Chain,
    /// Rubber between two stops, with its play.
    Cush,
    /// Slips at a torque.
    Tyre,
}

impl Joint {
    /// All, in order.
    pub const ALL: [Self; 6] =
        [Self::Clutch, Self::Mesh, Self::Dogs, Self::Chain, Self::Cush, Self::Tyre];

    /// Mesh and dogs as each other.
    pub(super) const fn renamed(self) -> Self {
        match self {
            Self::Mesh => Self::Dogs,
            Self::Dogs => Self::Mesh,
            other => other,
        }
    }

    /// Its place in the order, from 0.
    pub const fn place(self) -> usize {
        match self {
            Self::Clutch => 0,
            Self::Mesh => 1,
            Self::Dogs => 2,
            Self::Chain => 3,
            Self::Cush => 4,
            Self::Tyre => 5,
        }
    }
}

/// A spring with its damper, in series with a lash. While its flanks are apart, spring and damper relax on their own.
/// Without lash it pulls both ways and never parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    /// Torsional stiffness, N·m/rad.
    pub stiffness_nm_per_rad: f64,
    /// Damping, N·m for each rad/s.
    pub damping_nm_s_per_rad: f64,
    /// Lash, rad.
    pub lash: f64,
    /// Where the spring ends, if it does.
    pub stop: Option<Stop>,
}

impl Elastic {
    /// One without lash or stop.
    pub const fn of(stiffness_nm_per_rad: f64, damping_nm_s_per_rad: f64) -> Self {
        Self { stiffness_nm_per_rad, damping_nm_s_per_rad, lash: 0.0, stop: None }
    }

    /// Twist of the spring that carries a torque, rad.
    pub(super) fn twist(&self, nm: f64) -> f64 {
        let soft = nm / self.stiffness_nm_per_rad;
        match self.stop {
            Some(stop) if soft.abs() > stop.travel => {
                let reaches = stop.travel * nm.signum();
                let rest = nm - self.stiffness_nm_per_rad * reaches;
                reaches + rest / (self.stiffness_nm_per_rad + stop.stiffness_nm_per_rad)
            }
            _ => soft,
        }
    }

    /// Energy in the spring at a twist, J.
    pub(super) fn energy_j(&self, twist: f64) -> f64 {
        let soft = 0.5 * self.stiffness_nm_per_rad * twist * twist;
        self.stop.map_or(soft, |stop| {
            let past = (twist.abs() - stop.travel).max(0.0);
            soft + 0.5 * stop.stiffness_nm_per_rad * past * past
        })
    }

    /// The stop that a twist is at: 1 or −1, or 0 between them.
    pub(super) fn zone(&self, twist: f64) -> i8 {
        match self.stop {
            Some(stop) if twist >= stop.travel => 1,
            Some(stop) if twist <= -stop.travel => -1,
            _ => 0,
        }
    }
}

/// A stop at both ends of a spring's travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Twist from the middle to it, rad.
    pub travel: f64,
    /// What it adds to the stiffness, N·m/rad.
    pub stiffness_nm_per_rad: f64,
}

/// Why a driveline cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DrivelineFault {
    /// A mass is nothing, less than nothing, or no number.
    NoInertia(Mass),
    /// A joint has no stiffness.
    NoStiffness(Joint),
    /// Damping, lash or travel of a joint is less than nothing, or no number.
    NoSize(Joint),
    /// A clutch or a tyre that holds nothing.
    HoldsNothing(Joint),
    /// The torque at the start is more than clutch or tyre hold: at the joint, and what it holds, N·m.
    TorqueBeyond {
        /// Where.
        joint: Joint,
        /// The torque there.
        nm: f64,
        /// The most that it holds.
        most_nm: f64,
    },
    /// The torque over the time is no course: a number that is none, or a time before the one before it.
    NoCourse,
    /// The time to follow it is less than nothing, or no number.
    NoTime,
    /// So stiff beside the time that it would take too many steps.
    TooStiff,
}

impl DrivelineFault {
    /// With mesh and dogs told as each other.
    pub(super) const fn renamed(self) -> Self {
        match self {
            Self::NoStiffness(joint) => Self::NoStiffness(joint.renamed()),
            Self::NoSize(joint) => Self::NoSize(joint.renamed()),
            other => other,
        }
    }
}

/// What a joint is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Kind {
    Rigid,
    Slips(f64),
    Elastic(Elastic),
}

impl Kind {
    pub(super) fn check(&self) -> Result<(), fn(Joint) -> DrivelineFault> {
        let is_size = |size: f64| size.is_finite() && size >= 0.0;
        match *self {
            Self::Rigid => Ok(()),
            Self::Slips(most_nm) if most_nm.is_finite() && most_nm > 0.0 => Ok(()),
            Self::Slips(_) => Err(DrivelineFault::HoldsNothing),
            Self::Elastic(elastic) => {
                let Elastic { stiffness_nm_per_rad, damping_nm_s_per_rad, lash, stop } = elastic;
                if !(stiffness_nm_per_rad.is_finite() && stiffness_nm_per_rad > 0.0) {
                    return Err(DrivelineFault::NoStiffness);
                }
                let stops = stop.is_none_or(|stop| {
                    stop.travel > 0.0 && is_size(stop.travel) && is_size(stop.stiffness_nm_per_rad)
                });
                let sized = is_size(damping_nm_s_per_rad) && is_size(lash) && stops;
                if sized { Ok(()) } else { Err(DrivelineFault::NoSize) }
            }
        }
    }
}
