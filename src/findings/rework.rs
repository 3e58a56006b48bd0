//! Findings about planned work: effects that a builder may not have intended.

use crenel_words::finding as say;

use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::gauge::Gauge;
use crate::limits;
use crate::model::{PairAnalysis, Worked, most_off_flank};
use crate::pair::{Edges, Mesh, extremes};
use crate::ring::{Dog, FlankSide, Side};
use crate::units::Angle;

/// A loss of overlap below this is smaller than the play of any gear on its shaft, mm.
const WORTH_A_SHIM_MM: f64 = 0.05;

/// Windows that differ by more than this are unequal, degrees. The errors of a dividing head are
/// smaller.
const UNEQUAL_DEG: f64 = 0.5;

/// Every finding about the planned work on both rings; empty where no work is planned.
pub(super) fn findings(worked: &Worked) -> Vec<Finding> {
    let Some(pair) = worked.pair.as_ref().filter(|_| worked.found != worked.cut) else {
        return Vec::new();
    };
    let mut findings: Vec<_> =
        [depth_lost(worked), windows(worked, pair)].into_iter().flatten().collect();
    for flank in FlankSide::BOTH {
        findings.extend(mating_flank(worked, flank));
    }
    for side in Side::BOTH {
        findings.extend(case_gone(worked, side));
        findings.extend(core_on_tips(worked, side));
        findings.extend(unbalanced(worked, side));
    }
    findings
}

/// Metal that comes off the tallest tips reduces the overlap by as much.
fn depth_lost(worked: &Worked) -> Option<Finding> {
    let given = worked.design.setting.get(SettingField::Overlap);
    let left = worked.overlap_mm();
    let finding = || Finding::note(say::overlap_lost(given - left, left, given));
    (given - left > WORTH_A_SHIM_MM).then(|| finding().at(Slot::Setting(FieldId::Overlap)))
}

/// Work that makes the windows narrower, or unequal.
fn windows(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    let found = Mesh::new(&worked.found.a, &worked.found.b).ok()?;
    let degrees = |(narrow, wide): (Angle, Angle)| (narrow.degrees(), wide.degrees());
    let before = extremes(&found.windows_down_to(hold, Edges::Broken)).map(degrees);
    let (narrow, wide) = extremes(&pair.to_hold).map(degrees)?;
    let (was_narrow, was_wide) = before.unwrap_or_default();
    if wide < was_wide - 1e-9 {
        let gauge = Gauge::at_least(was_wide, wide);
        return Some(Finding::warning(say::windows_shrink(was_wide, wide)).past(gauge));
    }
    let was_equal = before.is_none() || was_wide - was_narrow < UNEQUAL_DEG;
    let is_unequal = was_equal && wide - narrow > UNEQUAL_DEG;
    is_unequal.then(|| Finding::warning(say::windows_unequal(narrow, wide)))
}

/// A flank cut to a larger angle on one ring only: flanks meet at the smaller of their two angles, so
/// that it holds no better than before.
fn mating_flank(worked: &Worked, flank: FlankSide) -> Option<Finding> {
    // Dogs are matched by place, so that a removed dog does not make the others look changed.
    let grown = |side: Side| {
        let (found, cut) = (&worked.found[side], worked.ring(side));
        let more = |now: &&Dog| {
            let old = found.at_place(now.place);
            let angle = |dog: &Dog| dog.back_cut[flank].degrees();
            old.is_some_and(|old| angle(now) > angle(old) + 1e-9)
        };
        cut.dogs.iter().filter(more).map(|now| now.back_cut[flank].degrees()).reduce(f64::max)
    };
    let (side, this) = match (grown(Side::A), grown(Side::B)) {
        (Some(angle), None) => (Side::A, angle),
        (None, Some(angle)) => (Side::B, angle),
        _ => return None,
    };
    let mates = worked.ring(side.other()).dogs.iter();
    let other = mates.map(|dog| dog.back_cut[flank].degrees()).reduce(f64::min)?;
    let finding = || say::mating_flank_forgotten(flank, side, this, side.other(), other);
    (other < this).then(|| Finding::warning(finding()))
}

/// More unbalance than the grade of the gear allows.
fn unbalanced(worked: &Worked, side: Side) -> Option<Finding> {
    let off = worked.found[side].metal().without(worked.ring(side).metal());
    let gauge = limits::unbalance(worked, side, off.unbalance_g_mm())?;
    let says = || say::unbalance_over_grade(side, gauge.value, gauge.limit);
    let finding = || Finding::warning(says()).past(gauge);
    gauge.is_past().then(|| finding().at(Slot::Setting(FieldId::BalanceGrade)))
}

/// A flank cut through its case.
fn case_gone(worked: &Worked, side: Side) -> Option<Finding> {
    let case = worked.design.setting.get(SettingField::CaseDepth);
    let (off, dog, flank) = most_off_flank(worked, side)?;
    let says = || say::case_gone(side, off, flank, dog.place, case);
    let finding = || Finding::warning(says()).past(Gauge::at_most(case, off));
    (case > 0.0 && off >= case).then(|| finding().at(Slot::Setting(FieldId::CaseDepth)))
}

/// Tips cut down through their case.
fn core_on_tips(worked: &Worked, side: Side) -> Option<Finding> {
    let case = worked.design.setting.get(SettingField::CaseDepth);
    let dogs = &worked.ring(side).dogs;
    let off = dogs.iter().map(|dog| dog.cut_down_mm).fold(0.0, f64::max);
    let count = dogs.iter().filter(|dog| dog.cut_down_mm >= case).count();
    let finding = || Finding::note(say::core_on_tips(side, count, off, case));
    (case > 0.0 && off >= case).then(|| finding().at(Slot::Setting(FieldId::CaseDepth)))
}
