//! What the chain does for as long as nothing parts, strikes, slips or grips: a linear system.

use std::ops::RangeInclusive;

use super::parts::Kind;
use super::{Driveline, Elastic, JOINTS, MASSES};

/// Numbers in a state: speeds, twists across the joints, and the torque at the engine.
pub(super) const SIZE: usize = MASSES + JOINTS + 1;

const ENGINE: usize = SIZE - 1;

/// Speeds, rad/s, twists across the joints, rad, and the torque at the engine, N·m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Vector(pub(super) [f64; SIZE]);

impl Vector {
    pub(super) const NONE: Self = Self([0.0; SIZE]);

    /// One that does not turn.
    pub(super) fn still(engine_nm: f64) -> Self {
        let mut vector = Self::NONE;
        vector.0[ENGINE] = engine_nm;
        vector
    }

    pub(super) const fn speed(&self, mass: usize) -> f64 {
        self.0[mass]
    }

    pub(super) const fn speed_mut(&mut self, mass: usize) -> &mut f64 {
        &mut self.0[mass]
    }

    pub(super) const fn across(&self, joint: usize) -> f64 {
        self.0[MASSES + joint]
    }

    pub(super) const fn across_mut(&mut self, joint: usize) -> &mut f64 {
        &mut self.0[MASSES + joint]
    }

    pub(super) const fn engine_nm(&self) -> f64 {
        self.0[ENGINE]
    }

    pub(super) const fn engine_nm_mut(&mut self) -> &mut f64 {
        &mut self.0[ENGINE]
    }

    /// How much faster the engine's side of a joint turns, rad/s.
    pub(super) const fn slip(&self, joint: usize) -> f64 {
        self.0[joint] - self.0[joint + 1]
    }
}

/// How a joint stands. A side is 1 for drive and −1 for coast, a zone the stop that the spring is at, or 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Contact {
    Rigid,
    Grips,
    Slips {
        side: i8,
    },
    Touches {
        side: i8,
        zone: i8,
    },
    /// Flanks of this side touched last.
    Apart {
        side: i8,
        zone: i8,
    },
}

impl Contact {
    /// The angle across a joint at which the flanks of a side touch with the spring at rest, rad.
    pub(super) fn offset(side: i8, lash: f64) -> f64 {
        if side < 0 { -lash } else { 0.0 }
    }

    const fn is_one_mass(self) -> bool {
        matches!(self, Self::Rigid | Self::Grips)
    }
}

/// Everything that a run goes on from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct State {
    pub(super) vector: Vector,
    pub(super) contacts: [Contact; JOINTS],
    /// The twist that springs still have since their flanks are apart, rad.
    pub(super) left: [f64; JOINTS],
}

/// Torque of a joint: by the angle across it, by its speed, and what is there without either.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Law {
    stiffness: f64,
    damping: f64,
    constant: f64,
}

impl Law {
    fn of(kind: Kind, contact: Contact) -> Self {
        match (kind, contact) {
            (Kind::Slips(most_nm), Contact::Slips { side }) => {
                Self { constant: f64::from(side) * most_nm, ..Self::default() }
            }
            (Kind::Elastic(elastic), Contact::Touches { side, zone }) => {
                Self::touching(&elastic, side, zone)
            }
            _ => Self::default(),
        }
    }

    fn touching(elastic: &Elastic, side: i8, zone: i8) -> Self {
        let offset = Contact::offset(side, elastic.lash);
        let [stiffness, middle] = stiffness_about(elastic, zone);
        let damping = elastic.damping_nm_s_per_rad;
        Self { stiffness, damping, constant: -stiffness * (offset + middle) }
    }
}

/// The stiffness of a spring at a stop or between them, and the twist at which it would carry nothing.
pub(super) fn stiffness_about(elastic: &Elastic, zone: i8) -> [f64; 2] {
    let soft = elastic.stiffness_nm_per_rad;
    match elastic.stop {
        Some(stop) if zone != 0 => {
            let stiffness = soft + stop.stiffness_nm_per_rad;
            let reaches = f64::from(zone) * stop.travel;
            [stiffness, stop.stiffness_nm_per_rad * reaches / stiffness]
        }
        _ => [soft, 0.0],
    }
}

/// Masses that turn as one: the first, the last, and 1/kg·m².
type Group = (usize, usize, f64);

/// The chain while its contacts stay as they are.
#[derive(Clone, Debug)]
pub(super) struct System {
    inertia: [f64; MASSES],
    laws: [Law; JOINTS],
    joined: [bool; JOINTS],
    groups: Vec<Group>,
    /// How fast the torque at the engine changes, N·m/s.
    engine_slope: f64,
}

impl System {
    pub(super) fn of(
        driveline: &Driveline,
        kinds: &[Kind; JOINTS],
        contacts: &[Contact; JOINTS],
        engine_slope: f64,
    ) -> Self {
        let inertia = driveline.inertia_kg_m2;
        let joined = contacts.map(Contact::is_one_mass);
        let mut laws = [Law::default(); JOINTS];
        for (law, (kind, contact)) in laws.iter_mut().zip(kinds.iter().zip(contacts)) {
            *law = Law::of(*kind, *contact);
        }
        let mut groups = Vec::with_capacity(MASSES);
        let mut first = 0;
        for last in 0..MASSES {
            if last < JOINTS && joined[last] {
                continue;
            }
            let sum: f64 = inertia[first..=last].iter().sum();
            groups.push((first, last, 1.0 / sum));
            first = last + 1;
        }
        Self { inertia, laws, joined, groups, engine_slope }
    }

    /// Torque at each joint, N·m. `one` is 1 for a state, and 0 for a difference of states or how fast one changes.
    pub(super) fn torques(&self, vector: &Vector, one: f64) -> [f64; JOINTS] {
        let mut torques = [0.0; JOINTS];
        for (at, (torque, law)) in torques.iter_mut().zip(&self.laws).enumerate() {
            *torque = law.stiffness * vector.across(at)
                + law.damping * vector.slip(at)
                + law.constant * one;
        }
        for &(first, last, per_inertia) in &self.groups {
            let mut rest = self.onto(first, &torques, vector);
            let gains = (rest - torques.get(last).copied().unwrap_or(0.0)) * per_inertia;
            for (torque, inertia) in torques[first..last].iter_mut().zip(&self.inertia[first..]) {
                rest -= inertia * gains;
                *torque = rest;
            }
        }
        torques
    }

    /// Torque onto a mass from the side of the engine.
    fn onto(&self, mass: usize, torques: &[f64; JOINTS], vector: &Vector) -> f64 {
        mass.checked_sub(1).map_or_else(|| vector.engine_nm(), |before| torques[before])
    }

    /// How fast everything changes, with the torques at the joints.
    pub(super) fn change(&self, vector: &Vector, torques: &[f64; JOINTS], one: f64) -> Vector {
        let mut change = Vector::NONE;
        for &(first, last, per_inertia) in &self.groups {
            let out = torques.get(last).copied().unwrap_or(0.0);
            let gains = (self.onto(first, torques, vector) - out) * per_inertia;
            change.0[first..=last].fill(gains);
        }
        for (joint, joined) in self.joined.iter().enumerate() {
            if !joined {
                *change.across_mut(joint) = vector.slip(joint);
            }
        }
        *change.engine_nm_mut() = self.engine_slope * one;
        change
    }

    /// The masses that turn as one.
    pub(super) fn groups(&self) -> impl Iterator<Item = RangeInclusive<usize>> {
        self.groups.iter().map(|&(first, last, _)| first..=last)
    }

    /// Torque in the dampers of the joints, by the speed across each.
    pub(super) fn damping(&self, joint: usize) -> f64 {
        self.laws[joint].damping
    }

    /// No rate of the system is greater, 1/s: from rows of its stiffness and damping over its inertia.
    pub(super) fn fastest(&self) -> f64 {
        let (mut stiffest, mut most_damped) = (0.0_f64, 0.0_f64);
        for (at, &(_, last, per)) in self.groups.iter().enumerate() {
            let before = at.checked_sub(1).map(|before| self.groups[before]);
            let after = self.groups.get(at + 1);
            let row = |of: fn(&Law) -> f64| {
                let side =
                    |joint: usize, other: f64| of(&self.laws[joint]) * (per + (per * other).sqrt());
                let left = before.map_or(0.0, |(_, joint, other)| side(joint, other));
                left + after.map_or(0.0, |(_, _, other)| side(last, *other))
            };
            stiffest = stiffest.max(row(|law| law.stiffness));
            most_damped = most_damped.max(row(|law| law.damping));
        }
        let half = 0.5 * most_damped;
        half + (half * half + stiffest).sqrt()
    }
}
