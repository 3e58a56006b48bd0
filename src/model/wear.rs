//! What missed shifts spend on the edges of the dogs, and what rounded edges leave.
//!
//! How fast an edge wears is not predicted: no source says it in millimetres. What is told is which shift spends most, and
//! what is left at a rounding that somebody has measured or fears.

use super::chances::gear_steps;
use super::shift::first_pass;
use super::shift_case::{ShiftCase, ratios};
use super::worked::Worked;
use crate::design::{Need, SettingField};
use crate::pair::{Engagement, Mesh};
use crate::ring::Side;
use crate::shift::Step;
use crate::units::sort_by_number;

/// What a hundred shifts spend on the edges at their first pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeWear {
    /// Which shift.
    pub step: Step,
    /// Share of shifts that are thrown back by a flank.
    pub struck: f64,
    /// Share of shifts that are in.
    pub is_in: f64,
    /// The most that one strike can spend, J: all energy of the speed difference, `½·J·Δω²`, and of the moving mass,
    /// `½·m·v²`.
    pub strike_j: f64,
}

impl EdgeWear {
    /// The most that a hundred shifts spend, J.
    pub fn hundred_j(&self) -> f64 {
        100.0 * self.struck * self.strike_j
    }
}

/// The shifts of the gearbox with the dogs of the design, that which spends most first; empty without a gearbox and where a
/// number is missing.
pub fn edge_wear(worked: &Worked) -> Vec<EdgeWear> {
    let steps = gear_steps(&worked.design).into_iter();
    let mut rows: Vec<_> = steps.filter_map(|step| step_wear(worked, step)).collect();
    sort_by_number(&mut rows, |row| -row.hundred_j());
    rows
}

/// One shift of the gearbox.
pub fn step_wear(worked: &Worked, step: Step) -> Option<EdgeWear> {
    let design = &worked.design;
    let is_known = design.missing(Need::TipFriction).is_none() && design.knows_inertia(step.to);
    let pair = worked.pair.as_ref().filter(|pair| is_known && pair.shift.is_some())?;
    let case = step_case(worked, step)?;
    let shares = first_pass(design, &pair.mesh, pair.engagement.full_depth_mm, &case);
    let (inertia, slip) = (case.sides.reduced_kg_m2(), case.slip());
    let travel = design.setting.travel();
    let speed = travel.start_speed_m_per_s;
    let strike_j = 0.5 * inertia * slip * slip + 0.5 * travel.mass_kg * speed * speed;
    Some(EdgeWear { step, struck: shares.struck, is_in: shares.is_in(), strike_j })
}

fn step_case(worked: &Worked, step: Step) -> Option<ShiftCase> {
    ShiftCase::of_step(worked.design.gearbox.as_ref()?, &ratios(&worked.design)?, step)
}

/// A pair whose edges are rounded, each of both rings by so much or as far as it is broken already.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundedEdges {
    /// What is left of the flanks that carry at full depth, mm; at 0 and below only roundings touch, which push the gears
    /// apart.
    pub flank_mm: f64,
    mesh: Mesh,
    engagement: Engagement,
}

/// The pair at a rounding, mm; `None` without a pair, and where rings with such edges cannot be.
pub fn rounded_edges(worked: &Worked, rounding_mm: f64) -> Option<RoundedEdges> {
    worked.pair.as_ref()?;
    let mut rings = worked.cut.clone();
    for side in Side::BOTH {
        rings[side].break_edges(|_| true, rounding_mm);
    }
    let mesh = Mesh::new(&rings.a, &rings.b).ok()?;
    let engagement = mesh.engage(worked.overlap_mm());
    let broken = |side: Side| {
        let dogs = rings[side].dogs.iter();
        dogs.map(|dog| dog.edge_break_mm).fold(0.0, f64::max)
    };
    let flank_mm = engagement.full_depth_mm - broken(Side::A) - broken(Side::B);
    Some(RoundedEdges { flank_mm, mesh, engagement })
}

impl RoundedEdges {
    /// The share of one shift of the gearbox that is in at the first pass; `None` where the rings jam or do not reach each
    /// other.
    pub fn is_in(&self, worked: &Worked, step: Step) -> Option<f64> {
        let full = self.engagement.full_depth_mm;
        if self.engagement.jam.is_some() || full <= 0.0 {
            return None;
        }
        Some(first_pass(&worked.design, &self.mesh, full, &step_case(worked, step)?).is_in())
    }
}

/// The rounding of every edge from which the flanks that are left are shorter than the depth from which the dogs hold, and
/// from which only roundings touch, mm; edges that are broken further already are not looked at.
pub fn edges_give_way_mm(worked: &Worked) -> Option<[f64; 2]> {
    let full = worked.pair.as_ref()?.engagement.full_depth_mm;
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    Some([(full - hold).max(0.0) / 2.0, full.max(0.0) / 2.0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::{Design, example};

    #[test]
    fn the_shift_that_spends_most_comes_first() {
        let worked = Analysis::of(&example());
        let rows = edge_wear(&worked);
        assert!(rows.len() >= 6, "{}", rows.len());
        assert!(rows.windows(2).all(|two| two[0].hundred_j() >= two[1].hundred_j()));
        for row in &rows {
            // All energy of the speed difference and of the sliding gear, by hand.
            let wheel_mm = worked.design.setting.get(SettingField::WheelDiameter);
            let gearbox = worked.design.gearbox.as_ref().expect("a gearbox").working(wheel_mm);
            let sides = gearbox.sides(row.step.to).expect("a gear");
            let slip = row.step.slip_rpm * std::f64::consts::TAU / 60.0;
            let travel = worked.design.setting.travel();
            let speed = travel.start_speed_m_per_s;
            let along = travel.mass_kg * speed * speed;
            let want = 0.5 * (sides.reduced_kg_m2() * slip * slip + along);
            assert!((row.strike_j / want - 1.0).abs() < 1e-9, "{} {want}", row.strike_j);
            assert!((0.0..=1.0).contains(&row.struck));
        }
        // Wider windows strike less.
        let mut few = example();
        few.set(crate::fields::Slot::Ring(Side::A, crate::fields::FieldId::Count), 3.0);
        few.set(crate::fields::Slot::Ring(Side::B, crate::fields::FieldId::Count), 3.0);
        let spent = |design: &Design| -> f64 {
            edge_wear(&Analysis::of(design)).iter().map(EdgeWear::hundred_j).sum()
        };
        assert!(spent(&few) < spent(&example()));
    }

    #[test]
    fn rounded_edges_leave_less_flank_and_let_more_in() {
        let worked = Analysis::of(&example());
        let [holds, touches] = edges_give_way_mm(&worked).expect("a pair");
        let full = worked.pair.as_ref().expect("a pair").engagement.full_depth_mm;
        assert!((touches - full / 2.0).abs() < 1e-12 && holds < touches);
        let at = |mm| rounded_edges(&worked, mm).expect("they can be");
        let edge = worked.cut.a.dogs[0].edge_break_mm;
        assert!((at(0.0).flank_mm - (full - 2.0 * edge)).abs() < 1e-9, "{}", at(0.0).flank_mm);
        let hold = worked.design.setting.get(SettingField::HoldDepth);
        assert!((at(holds).flank_mm - hold).abs() < 1e-9);
        assert!((at(0.6).flank_mm - (full - 1.2)).abs() < 1e-9);
        // Edges that are met late throw back what would have rubbed its way in; over all shifts more go in.
        let rows = edge_wear(&worked);
        let rounded = |mm: f64| -> Vec<f64> {
            let edges = at(mm);
            rows.iter().map(|row| edges.is_in(&worked, row.step).expect("they go in")).collect()
        };
        let now: Vec<f64> = rows.iter().map(|row| row.is_in).collect();
        let sum = |shares: &[f64]| shares.iter().sum::<f64>();
        assert!(rows.len() >= 6 && sum(&rounded(0.6)) > sum(&now), "{now:?}");
        // As drawn, nothing changes.
        assert!(rounded(0.0).iter().zip(&now).all(|(then, now)| (then - now).abs() < 1e-12));
    }
}
