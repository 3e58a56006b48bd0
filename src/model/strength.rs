//! The load on the dogs and whether they stay in, at full depth, under power and on the overrun.

use crenel_words::{Message, Value, figure as say};

use crate::design::{Design, SettingField};
use crate::load::{Carried, Hold, Root, Stress, forces_from_gaps_n, gap_spread_um, hardest_n};
use crate::pair::{Arc, Block, Mesh};
use crate::ring::{FlankSide, PerSide, Ring, Side};
use crate::units::{Angle, Quantity};

/// If a rule shares the load, dogs within this of the first that meets count as meeting, mm.
pub(crate) const TOGETHER_MM: f64 = 0.01;

/// Depths closer than this are the same, mm.
const SAME_MM: f64 = 1e-9;

/// The dogs under load.
#[derive(Clone, Debug, PartialEq)]
pub struct Strength {
    /// The flank that carries: drive under power, coast on the overrun.
    pub flank: FlankSide,
    /// The phase at which those flanks bear on each other.
    pub phase: Angle,
    /// Torque at the dogs with the load factor, N·m.
    pub torque_nm: f64,
    /// The force of that torque at the mean radius, N.
    pub force_n: f64,
    /// Number of pairs of dogs that meet.
    pub meeting: usize,
    /// Number of pairs that carry, by the rule; otherwise the force over that of the most loaded pair.
    pub carrying: f64,
    /// The pairs that carry anything.
    pub pairs: Vec<Loaded>,
    /// What holds the gear in.
    pub hold: Hold,
}

/// One pair of dogs under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loaded {
    /// Place of the dog of A and of the dog of B.
    pub places: PerSide<usize>,
    /// Force between them, N.
    pub force_n: f64,
    /// Whether they meet by less than the holding depth: then their tip edges bear, and not their flanks. The
    /// pressure among the stresses is that of a flank, and says nothing of an edge.
    pub on_edge: bool,
    /// How deep they overlap, mm.
    pub deep_mm: f64,
    /// The root of the dog of A and of B.
    pub roots: PerSide<Root>,
    /// Stresses in the dog of A and of B.
    pub stresses: PerSide<Stress>,
}

/// How evenly the flanks of each ring must be spaced for the load to be shared as it is counted with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpacingNeed {
    /// How many dogs have to carry.
    pub carrying: usize,
    /// Of how many that meet.
    pub meeting: usize,
    /// How far each flank may be off its place, ± mm of arc at the mean radius of the contact, on either ring.
    pub off_mm: f64,
    /// The same, ± as an angle.
    pub off: Angle,
    /// The force that the first dog to meet then has, N.
    pub hardest_n: f64,
}

impl Loaded {
    /// Whether two pairs have the same force, overlap and stresses, but for rounding of the computer.
    fn carries_like(&self, other: &Self) -> bool {
        let numbers = |pair: &Self| {
            let stresses =
                pair.stresses.iter().flat_map(|s| [s.pressure_mpa, s.shear_mpa, s.bending_mpa]);
            [pair.force_n, pair.deep_mm].into_iter().chain(stresses).collect::<Vec<_>>()
        };
        let same = |(a, b): (f64, f64)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
        self.on_edge == other.on_edge && numbers(self).into_iter().zip(numbers(other)).all(same)
    }
}

impl Strength {
    /// The load under a torque at the dogs, N·m, before the load factor. `None` if nothing is carried: the
    /// rings jam or do not reach each other, or no dog meets.
    pub(super) fn of(
        design: &Design,
        rings: &PerSide<Ring>,
        mesh: &Mesh,
        depth: f64,
        held: Option<&Arc>,
        flank: FlankSide,
        torque_nm: f64,
    ) -> Option<Self> {
        let setting = &design.setting;
        let torque_nm = torque_nm * setting.get(SettingField::LoadFactor);
        let force_n = torque_nm * 1000.0 / mesh.contact.mean_mm();
        let phase = lying(held?, flank);
        let meeting = Meeting { mesh, flank, phase, depth };
        let shares = meeting.shares(design, force_n);
        let most = shares.iter().map(|(_, force)| *force).fold(0.0, f64::max);
        let undercut = shares.iter().map(|(b, _)| b.undercut(flank, &mesh.contact));
        let hold = Hold {
            undercut: undercut.fold(f64::INFINITY, f64::min),
            flank_friction: setting.get(SettingField::FlankFriction),
            spline_friction: setting.get(SettingField::SplineFriction),
            spline_radius_mm: setting.get(SettingField::SplineDiameter) / 2.0,
            mean_radius_mm: mesh.contact.mean_mm(),
        };
        let hold_mm = setting.get(SettingField::HoldDepth);
        let loaded = |(block, force): &(&Block, f64)| {
            let deep_mm = depth - block.starts_mm;
            let on_edge = deep_mm < hold_mm - SAME_MM;
            Loaded { on_edge, ..loaded(rings, mesh, block, deep_mm, *force) }
        };
        let pairs: Vec<_> = shares.iter().map(loaded).collect();
        (!pairs.is_empty()).then_some(Self {
            flank,
            phase,
            torque_nm,
            force_n,
            meeting: pairs.len(),
            carrying: if most > 0.0 { force_n / most } else { setting.carried.carrying(1.0) },
            pairs,
            hold,
        })
    }

    /// What sharing asks of the spacing of the dogs, with each dog as a spring; `None` if one dog carries alone.
    ///
    /// What the flanks of both rings are off adds up in front of a pair, either way.
    pub fn spacing_need(&self, design: &Design, mesh: &Mesh) -> Option<SpacingNeed> {
        let carrying = (1..=self.meeting).find(|n| as_f64(*n) >= self.carrying - 1e-9)?;
        let stiffness = design.setting.get(SettingField::DogStiffness);
        let spread_um = gap_spread_um(carrying, stiffness, self.force_n);
        let off_mm = spread_um / 1000.0 / 4.0;
        (carrying > 1 && off_mm > 0.0).then(|| SpacingNeed {
            carrying,
            meeting: self.meeting,
            off_mm,
            off: Angle::from_radians(off_mm / mesh.contact.mean_mm()),
            hardest_n: hardest_n(self.meeting, spread_um, stiffness, self.force_n),
        })
    }

    /// The pairs in groups of those that carry alike, in the order of their first.
    pub fn alike(&self) -> Vec<Vec<&Loaded>> {
        let mut groups: Vec<Vec<&Loaded>> = Vec::new();
        for pair in &self.pairs {
            match groups.iter_mut().find(|group| group[0].carries_like(pair)) {
                Some(group) => group.push(pair),
                None => groups.push(vec![pair]),
            }
        }
        groups
    }

    /// The heading of a column of forces.
    ///
    /// By a rule, fewer dogs may carry than meet, and it is not known which. Each row is then the force on a
    /// dog if it is one of them.
    pub fn force_head(&self) -> Message {
        if self.some_are_idle() {
            say::force_if_carrying(self.carrying_shown(), self.meeting)
        } else {
            say::force()
        }
    }

    /// A sentence on the sum of the forces in the table, if not every dog that meets carries.
    pub fn idle_words(&self) -> Option<Message> {
        let each = Value::Result(Quantity::Force, self.pairs.first()?.force_n);
        let all = Value::Result(Quantity::Force, self.force_n);
        let carrying = self.carrying_shown();
        self.some_are_idle().then(|| say::some_carry(self.meeting, all, carrying, each))
    }

    const fn carrying_shown(&self) -> Value {
        Value::Result(Quantity::Dogs, self.carrying)
    }

    /// How many pairs carry and how many meet, if not every pair that meets carries.
    pub fn idle(&self) -> Option<(Value, usize)> {
        self.some_are_idle().then(|| (self.carrying_shown(), self.meeting))
    }

    fn some_are_idle(&self) -> bool {
        let all: f64 = self.pairs.iter().map(|pair| pair.force_n).sum();
        all > self.force_n * (1.0 + 1e-9)
    }

    /// The largest value of a number over all dogs under load.
    pub fn most(&self, read: impl Fn(&Stress) -> f64) -> f64 {
        self.pairs.iter().flat_map(|pair| pair.stresses.iter().map(&read)).fold(0.0, f64::max)
    }

    /// The pair and the ring with the largest value of a number.
    pub fn worst(&self, read: impl Fn(&Stress) -> f64) -> Option<(&Loaded, Side)> {
        worst_of(&self.pairs, read)
    }

    /// The pair and the ring with the most flank pressure; `None` if all pairs meet on their edges.
    pub fn worst_pressure(&self) -> Option<(&Loaded, Side)> {
        let on_flanks = self.pairs.iter().filter(|pair| !pair.on_edge);
        worst_of(on_flanks, |stress| stress.pressure_mpa)
    }

    /// The most flank pressure, MPa; `None` if all pairs meet on their edges.
    pub fn pressure_mpa(&self) -> Option<f64> {
        self.worst_pressure().map(|(pair, side)| pair.stresses[side].pressure_mpa)
    }
}

#[expect(clippy::cast_precision_loss, reason = "dogs are few")]
const fn as_f64(dogs: usize) -> f64 {
    dogs as f64
}

fn worst_of<'a>(
    pairs: impl IntoIterator<Item = &'a Loaded>,
    read: impl Fn(&Stress) -> f64,
) -> Option<(&'a Loaded, Side)> {
    let dogs = pairs.into_iter().flat_map(|pair| Side::BOTH.map(|side| (pair, side)));
    dogs.max_by(|a, b| {
        let value = |(pair, side): &(&Loaded, Side)| read(&pair.stresses[*side]);
        value(a).total_cmp(&value(b))
    })
}

/// The phase of ring A under load: the start of its window under power, drive flank on drive flank; the
/// end on the overrun.
fn lying(held: &Arc, flank: FlankSide) -> Angle {
    match flank {
        FlankSide::Drive => held.start,
        FlankSide::Coast => held.start + held.width,
    }
}

/// Where flanks lie on each other.
struct Meeting<'a> {
    mesh: &'a Mesh,
    flank: FlankSide,
    phase: Angle,
    depth: f64,
}

impl<'a> Meeting<'a> {
    /// The pairs that carry, each with its force.
    fn shares(&self, design: &Design, force_n: f64) -> Vec<(&'a Block, f64)> {
        let setting = &design.setting;
        if setting.carried == Carried::Spacing {
            let gaps = self.mesh.gaps_at(self.flank, self.phase, self.depth);
            let near: Vec<_> = gaps.filter(|(_, gap)| *gap > -TOGETHER_MM).collect();
            let microns: Vec<f64> = near.iter().map(|(_, gap)| gap.max(0.0) * 1000.0).collect();
            let forces =
                forces_from_gaps_n(&microns, setting.get(SettingField::DogStiffness), force_n);
            let pairs = near.into_iter().map(|(block, _)| block).zip(forces);
            return pairs.filter(|(_, force)| *force > 0.0).collect();
        }
        let meeting = self.mesh.meeting_at(self.flank, self.phase, self.depth, TOGETHER_MM);
        let count = f64::from(u32::try_from(meeting.len()).unwrap_or(u32::MAX));
        let each = force_n / setting.carried.carrying(count).max(1.0);
        meeting.into_iter().map(|block| (block, each)).collect()
    }
}

fn loaded(rings: &PerSide<Ring>, mesh: &Mesh, block: &Block, deep_mm: f64, force_n: f64) -> Loaded {
    let dogs = PerSide { a: &rings.a.dogs[block.dog_a], b: &rings.b.dogs[block.dog_b] };
    let edges: f64 = dogs.iter().map(|dog| dog.edge_break_mm).sum();
    let root = |ring: &Ring, dog: &crate::ring::Dog| {
        // Flanks lie on each other from the end of both edge breaks down to the depth.
        let middle = (deep_mm + dog.edge_break_mm - (edges - dog.edge_break_mm)) / 2.0;
        Root {
            length_mm: mesh.contact.outer_mm - mesh.contact.inner_mm,
            thickness_mm: ring.thickness_mm(dog, dog.height_mm),
            area_mm2: ring.root_outline(dog).map_or(0.0, |outline| outline.moments().area),
            arm_mm: dog.height_mm - middle,
            engaged_mm: deep_mm - edges,
        }
    };
    let roots = PerSide::from_fn(|side| root(&rings[side], dogs[side]));
    Loaded {
        places: dogs.map(|dog| dog.place),
        force_n,
        on_edge: false,
        deep_mm,
        roots,
        stresses: roots.map(|root| root.under(force_n)),
    }
}
