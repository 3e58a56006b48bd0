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

    pub(super) fn times(&self, share: f64) -> Self {
        Self(self.0.map(|number| number * share))
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

/// Places in a row of torques along the chain: at the engine, at the joints, and past the last mass, where there is
/// none.
const ROW: usize = JOINTS + 2;

/// A mass, or several that turn as one: what is onto them and what they pass on have these places in the row.
#[derive(Clone, Copy, Debug, Default)]
struct Group {
    into: usize,
    out: usize,
    /// 1/kg·m².
    per_inertia: f64,
}

impl Group {
    /// What is left of the torque onto the masses for themselves, N·m.
    fn net(self, row: &[f64; ROW]) -> f64 {
        // The mask tells the compiler that no place is past the row.
        row[self.into % ROW] - row[self.out % ROW]
    }
}

/// The chain while its contacts stay as they are.
#[derive(Clone, Debug)]
pub(super) struct System {
    laws: [Law; JOINTS],
    /// 1 at a joint whose sides turn on their own, 0 at one whose sides are one.
    free: [f64; JOINTS],
    /// How much of what is left for a group goes into the masses up to a joint between them.
    share: [f64; JOINTS],
    /// The group that each mass is in.
    groups: [Group; MASSES],
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
        let mut laws = [Law::default(); JOINTS];
        for (law, (kind, contact)) in laws.iter_mut().zip(kinds.iter().zip(contacts)) {
            *law = Law::of(*kind, *contact);
        }
        let free = contacts.map(|contact| if contact.is_one_mass() { 0.0 } else { 1.0 });
        let (mut groups, mut share) = ([Group::default(); MASSES], [0.0; JOINTS]);
        let mut first = 0;
        for last in 0..MASSES {
            if last < JOINTS && contacts[last].is_one_mass() {
                continue;
            }
            let per_inertia = 1.0 / inertia[first..=last].iter().sum::<f64>();
            groups[first..=last].fill(Group { into: first, out: last + 1, per_inertia });
            let mut before = 0.0;
            for joint in first..last {
                before += inertia[joint];
                share[joint] = before * per_inertia;
            }
            first = last + 1;
        }
        Self { laws, free, share, groups, engine_slope }
    }

    /// Torque at each joint, N·m. `one` is 1 for a state, and 0 for a difference of states or how fast one changes.
    pub(super) fn torques(&self, vector: &Vector, one: f64) -> [f64; JOINTS] {
        let mut torques = [0.0; JOINTS];
        for (at, (torque, law)) in torques.iter_mut().zip(&self.laws).enumerate() {
            *torque = law.stiffness * vector.across(at)
                + law.damping * vector.slip(at)
                + law.constant * one;
        }
        let row = row(vector, &torques);
        for (at, torque) in torques.iter_mut().enumerate() {
            if self.free[at] == 0.0 {
                let group = self.groups[at];
                *torque = row[group.into % ROW] - self.share[at] * group.net(&row);
            }
        }
        torques
    }

    /// How fast everything changes, with the torques at the joints.
    pub(super) fn change(&self, vector: &Vector, torques: &[f64; JOINTS], one: f64) -> Vector {
        let mut change = Vector::NONE;
        let row = row(vector, torques);
        for (mass, group) in self.groups.iter().enumerate() {
            *change.speed_mut(mass) = group.net(&row) * group.per_inertia;
        }
        for (joint, free) in self.free.iter().enumerate() {
            *change.across_mut(joint) = free * vector.slip(joint);
        }
        *change.engine_nm_mut() = self.engine_slope * one;
        change
    }

    /// The masses that turn as one.
    pub(super) fn groups(&self) -> impl Iterator<Item = RangeInclusive<usize>> {
        let ends = self.groups.iter().enumerate().filter(|(mass, group)| group.out == mass + 1);
        ends.map(|(last, group)| group.into..=last)
    }

    /// Torque in the dampers of the joints, by the speed across each.
    pub(super) fn damping(&self, joint: usize) -> f64 {
        self.laws[joint].damping
    }

    /// No rate of the system is greater, 1/s: from rows of its stiffness and damping over its inertia.
    pub(super) fn fastest(&self) -> f64 {
        let (mut stiffest, mut most_damped) = (0.0_f64, 0.0_f64);
        for masses in self.groups() {
            let (first, last) = masses.into_inner();
            let per = self.groups[first].per_inertia;
            let row = |of: fn(&Law) -> f64| {
                let side = |joint: usize, mass: usize| {
                    let other = self.groups[mass].per_inertia;
                    of(&self.laws[joint]) * (per + (per * other).sqrt())
                };
                let left = first.checked_sub(1).map_or(0.0, |before| side(before, before));
                left + if last < JOINTS { side(last, last + 1) } else { 0.0 }
            };
            stiffest = stiffest.max(row(|law| law.stiffness));
            most_damped = most_damped.max(row(|law| law.damping));
        }
        let half = 0.5 * most_damped;
        half + (half * half + stiffest).sqrt()
    }
}

/// Torques along the chain, from that at the engine to none past the last mass, N·m.
fn row(vector: &Vector, torques: &[f64; JOINTS]) -> [f64; ROW] {
    let mut row = [0.0; ROW];
    row[0] = vector.engine_nm();
    row[1..=JOINTS].copy_from_slice(torques);
    row
}
