//! What missed shifts spend on the edges of the dogs, and what rounded edges leave.
//!
//! How fast an edge wears is not predicted: no source says it in millimetres. What is told is which shift spends most, and
//! what is left at a rounding that somebody has measured or fears.

use super::chances::gear_steps;
use super::pair::PairAnalysis;
use super::shift::{Shares, conditions};
use super::shift_case::{ShiftCase, ratios};
use super::worked::Worked;
use crate::design::{Need, SettingField};
use crate::pair::Mesh;
use crate::ring::Side;
use crate::shift::{Shifter, Step, phase_sense};
use crate::units::sort_by_number;

/// What a hundred shifts spend on the edges at their first pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeWear {
    /// Which shift.
    pub step: Step,
    /// Share of shifts that are thrown back by a flank.
    pub struck: f64,
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
    let pair = worked.pair.as_ref().filter(|_| is_known)?;
    let shares = step_shares(worked, pair, step)?;
    let case = ShiftCase::of_step(design.gearbox.as_ref()?, &ratios(design)?, step)?;
    let (inertia, slip) = (case.sides.reduced_kg_m2(), case.slip());
    let travel = design.setting.travel();
    let speed = travel.start_speed_m_per_s;
    let strike_j = 0.5 * inertia * slip * slip + 0.5 * travel.mass_kg * speed * speed;
    Some(EdgeWear { step, struck: shares.struck, strike_j })
}

/// Shares of the first pass of one shift with a pair.
fn step_shares(worked: &Worked, pair: &PairAnalysis, step: Step) -> Option<Shares> {
    let design = &worked.design;
    pair.shift.as_ref()?;
    let case = ShiftCase::of_step(design.gearbox.as_ref()?, &ratios(design)?, step)?;
    let given = conditions(design, &pair.mesh, pair.engagement.full_depth_mm, &case);
    let shifter = Shifter::new(&pair.mesh, given, phase_sense(case.slip()));
    Some(Shares::of(&shifter, case.slip()))
}

/// What edges leave that are rounded, each of both rings by so much or as far as it is broken already.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundedEdges {
    /// The rounding, mm.
    pub rounding_mm: f64,
    /// What is left of the flanks that carry at full depth, mm; at 0 and below only roundings touch, which push the gears
    /// apart.
    pub flank_mm: f64,
    /// Each shift of the gearbox with the share that is in at the first pass: with the edges as they are, and rounded.
    pub first_pass: Vec<(Step, [f64; 2])>,
}

/// What is left at a rounding, mm; `None` without a pair, and where rings with such edges cannot be.
pub fn rounded_edges(worked: &Worked, rounding_mm: f64) -> Option<RoundedEdges> {
    let pair = worked.pair.as_ref()?;
    let mut rings = worked.cut.clone();
    for side in Side::BOTH {
        rings[side].break_edges(|_| true, rounding_mm);
    }
    let mesh = Mesh::new(&rings.a, &rings.b).ok()?;
    let engagement = mesh.engage(worked.overlap_mm());
    let full = engagement.full_depth_mm;
    let broken = |side: Side| {
        let dogs = rings[side].dogs.iter();
        dogs.map(|dog| dog.edge_break_mm).fold(0.0, f64::max)
    };
    let flank_mm = full - broken(Side::A) - broken(Side::B);
    let rounded = PairAnalysis::of(&worked.design, &rings, mesh, engagement);
    let steps = gear_steps(&worked.design).into_iter();
    let both = |step| {
        Some([
            step_shares(worked, pair, step)?.is_in(),
            step_shares(worked, &rounded, step)?.is_in(),
        ])
    };
    let first_pass = steps.filter_map(|step| Some((step, both(step)?))).collect();
    Some(RoundedEdges { rounding_mm, flank_mm, first_pass })
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

    fn design() -> Design {
        let mut design = example();
        if design.gearbox.is_none() {
            design.add_gearbox();
        }
        design
    }

    #[test]
    fn the_shift_that_spends_most_comes_first() {
        let worked = Analysis::of(&design());
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
        let mut few = design();
        few.set(crate::fields::Slot::Ring(Side::A, crate::fields::FieldId::Count), 3.0);
        few.set(crate::fields::Slot::Ring(Side::B, crate::fields::FieldId::Count), 3.0);
        let spent = |design: &Design| -> f64 {
            edge_wear(&Analysis::of(design)).iter().map(EdgeWear::hundred_j).sum()
        };
        assert!(spent(&few) < spent(&design()));
    }

    #[test]
    fn rounded_edges_leave_less_flank_and_let_more_in() {
        let worked = Analysis::of(&design());
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
        let sum = |now: usize| -> f64 { at(0.6).first_pass.iter().map(|(_, two)| two[now]).sum() };
        assert!(sum(1) > sum(0), "{} {}", sum(1), sum(0));
        // As drawn, nothing changes.
        assert!(
            at(0.0).first_pass.iter().all(|(_, [before, after])| (before - after).abs() < 1e-12)
        );
    }
}
