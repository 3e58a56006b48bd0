//! Findings about what is cut: what it does that a builder may not have meant.

use super::analysis::{Analysis, Meshed};
use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::pair::{Arc, Edges, Mesh};
use crate::ring::{Dog, FlankSide, Side};
use crate::shop::balance::permissible_g_mm;
use crate::units::Quantity;

/// Overlap that is lost below this is less than the play of any gear on its shaft, mm.
const WORTH_A_SHIM_MM: f64 = 0.05;

/// Windows that differ by more than this are unequal, degrees; what a dividing head leaves is less.
const UNEQUAL_DEG: f64 = 0.5;

/// Everything that the plans of both rings bring about; nothing where nothing is cut.
pub(super) fn findings(analysis: &Analysis, meshed: &Meshed) -> Vec<Finding> {
    if analysis.found == analysis.cut {
        return Vec::new();
    }
    let mut findings: Vec<_> =
        [depth_lost(analysis), windows(analysis, meshed)].into_iter().flatten().collect();
    for flank in FlankSide::BOTH {
        findings.extend(mating_flank(analysis, flank));
    }
    for side in Side::BOTH {
        findings.extend(case_gone(analysis, side));
        findings.extend(core_on_tips(analysis, side));
        findings.extend(unbalanced(analysis, side));
    }
    findings
}

/// What is off the tallest tips is lost from the overlap.
fn depth_lost(analysis: &Analysis) -> Option<Finding> {
    let given = analysis.design.setting.get(SettingField::Overlap);
    let left = analysis.overlap_mm();
    (given - left > WORTH_A_SHIM_MM).then(|| {
        Finding::note("overlap_lost")
            .at(Slot::Setting(FieldId::Overlap))
            .says(
                "The work takes {} off the tallest tips, which leaves {} of the {} overlap.",
                &[given - left, left, given].map(|v| (Quantity::Length, v)),
            )
            .hint("Shim the sliding gear or move its stop to get the overlap back.")
    })
}

/// Windows that get narrower, or unequal.
fn windows(analysis: &Analysis, meshed: &Meshed) -> Option<Finding> {
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    let found = Mesh::new(&analysis.found[0], &analysis.found[1]).ok()?;
    let before = extremes(&found.windows_down_to(hold, Edges::Broken));
    let (narrow, wide) = extremes(&meshed.to_hold)?;
    let (was_narrow, was_wide) = before.unwrap_or_default();
    if wide < was_wide - 1e-9 {
        return Some(
            Finding::warning("windows_shrink")
                .says(
                    "The work makes the widest window narrower: {} as found, {} as cut.",
                    &[was_wide, wide].map(|v| (Quantity::Angle, v)),
                )
                .hint("Look at which dogs are the tallest now: they decide where the windows are."),
        );
    }
    let was_equal = before.is_none() || was_wide - was_narrow < UNEQUAL_DEG;
    (was_equal && wide - narrow > UNEQUAL_DEG).then(|| {
        Finding::warning("windows_unequal")
            .says(
                "The work leaves windows of unequal width, from {} to {}.",
                &[narrow, wide].map(|v| (Quantity::Angle, v)),
            )
            .hint("A shift then depends on which window it meets, and few dogs carry. Treat dogs alike that lie opposite or every second, on both rings.")
    })
}

/// Narrowest and widest, degrees.
fn extremes(windows: &[Arc]) -> Option<(f64, f64)> {
    let widths = || windows.iter().map(|w| w.width.degrees());
    Some((widths().reduce(f64::min)?, widths().reduce(f64::max)?))
}

/// Flanks meet at the smaller of two angles, so that a flank cut on one ring only holds no better.
fn mating_flank(analysis: &Analysis, flank: FlankSide) -> Option<Finding> {
    // Dogs by place, so that one that goes does not look as if the others had changed.
    let grown = |side: Side| {
        let (found, cut) = (&analysis.found[side as usize], analysis.ring(side));
        let more = |now: &&Dog| {
            let old = found.at_place(now.place);
            let angle = |dog: &Dog| dog.back_cut.of(flank).degrees();
            old.is_some_and(|old| angle(now) > angle(old) + 1e-9)
        };
        cut.dogs.iter().filter(more).map(|now| now.back_cut.of(flank).degrees()).reduce(f64::max)
    };
    let (side, this) = match (grown(Side::A), grown(Side::B)) {
        (Some(angle), None) => (Side::A, angle),
        (None, Some(angle)) => (Side::B, angle),
        _ => return None,
    };
    let mates = analysis.ring(side.other()).dogs.iter();
    let other = mates.map(|dog| dog.back_cut.of(flank).degrees()).reduce(f64::min)?;
    (other < this).then(|| {
        Finding::warning("mating_flank_forgotten")
            .says(
                format!(
                    "The {} flanks of {} are cut to {{}}, but those of {} have {{}}: flanks meet at the smaller angle.",
                    flank.name(),
                    side.lower_name(),
                    side.other().lower_name()
                ),
                &[this, other].map(|v| (Quantity::Angle, v)),
            )
            .hint("Re-cut the same flanks of the mating ring too, or they only touch at an edge.")
    })
}

/// The most that comes off a flank of a ring, mm, and the dog and flank where it does.
pub(super) fn most_off_flank(analysis: &Analysis, side: Side) -> Option<(f64, &Dog, FlankSide)> {
    let (found, cut) = (&analysis.found[side as usize], analysis.ring(side));
    let dogs = cut.dogs.iter().filter_map(|now| found.at_place(now.place).map(|old| (old, now)));
    let flanks = dogs.flat_map(|(old, now)| {
        FlankSide::BOTH.map(|flank| (cut.flank_stock_mm(old, now, flank), now, flank))
    });
    // Of equals the first.
    let cut = flanks.filter(|(off, ..)| *off > 1e-9);
    cut.reduce(|most, next| if next.0 > most.0 + 1e-12 { next } else { most })
}

/// The least case that is left on a flank that is cut, mm; 0 where it is gone, `None` where no flank is
/// cut or the dogs are hardened through.
pub(super) fn case_left_mm(analysis: &Analysis, side: Side) -> Option<f64> {
    let case = analysis.design.setting.get(SettingField::CaseDepth);
    let (off, ..) = most_off_flank(analysis, side).filter(|_| case > 0.0)?;
    Some((case - off).max(0.0))
}

/// The unbalance that the gear of a ring may have, g·mm.
pub(super) fn allowed_unbalance_g_mm(analysis: &Analysis, side: Side) -> Option<f64> {
    let of = |field| analysis.design.setting.get(field);
    let mass = analysis.design.ring(side).gear_mass_kg;
    permissible_g_mm(of(SettingField::BalanceGrade), mass, of(SettingField::BalanceSpeed))
}

/// More unbalance than the grade of the gear allows.
fn unbalanced(analysis: &Analysis, side: Side) -> Option<Finding> {
    let off = analysis.found[side as usize].metal().without(analysis.ring(side).metal());
    let (unbalance, allowed) = (off.unbalance_g_mm(), allowed_unbalance_g_mm(analysis, side)?);
    (unbalance > allowed).then(|| {
        Finding::warning("unbalance_over_grade")
            .at(Slot::Setting(FieldId::BalanceGrade))
            .says(
                format!("{}: what is cut off leaves an unbalance of {{}}, over the {{}} of its grade.", side.name()),
                &[unbalance, allowed].map(|v| (Quantity::Unbalance, v)),
            )
            .hint("Cut dogs that lie opposite or evenly round the ring, or have the gear balanced after the work.")
    })
}

/// A flank cut through its case.
fn case_gone(analysis: &Analysis, side: Side) -> Option<Finding> {
    let case = analysis.design.setting.get(SettingField::CaseDepth);
    let (off, dog, flank) = most_off_flank(analysis, side)?;
    (case > 0.0 && off >= case).then(|| {
        Finding::warning("case_gone")
            .at(Slot::Setting(FieldId::CaseDepth))
            .says(
                format!(
                    "{}: up to {{}} comes off the {} flank of dog {}, and the case is only {{}} deep. The core lies bare there.",
                    side.name(),
                    flank.name(),
                    dog.place + 1
                ),
                &[off, case].map(|v| (Quantity::Length, v)),
            )
            .hint("Check that flank as core, with the pressure that soft steel takes, or have the gear hardened anew by a qualified shop.")
    })
}

/// Tips cut down through their case.
fn core_on_tips(analysis: &Analysis, side: Side) -> Option<Finding> {
    let case = analysis.design.setting.get(SettingField::CaseDepth);
    let dogs = &analysis.ring(side).dogs;
    let off = dogs.iter().map(|dog| dog.cut_down_mm).fold(0.0, f64::max);
    let count = dogs.iter().filter(|dog| dog.cut_down_mm >= case).count();
    let tips = match count {
        1 => "the tip of 1 dog is".to_owned(),
        count => format!("the tips of {count} dogs are"),
    };
    (case > 0.0 && off >= case).then(|| {
        Finding::note("core_on_tips")
            .at(Slot::Setting(FieldId::CaseDepth))
            .says(
                format!(
                    "{}: {tips} cut down by up to {{}}, through a case of {{}}. Their new faces are core.",
                    side.name()
                ),
                &[off, case].map(|v| (Quantity::Length, v)),
            )
            .hint("Soft tips wear and burr sooner. Where they are landed on often, keep them short enough not to be, or have them hardened.")
    })
}
