//! The stock that the plan of a ring takes off its flanks, and the unbalance allowed to its gear.

use super::worked::Worked;
use crate::design::SettingField;
use crate::ring::{Dog, FlankSide, Side};
use crate::shop::balance::permissible_g_mm;

/// The most that comes off a flank of a ring, mm, with that dog and flank.
pub(crate) fn most_off_flank(worked: &Worked, side: Side) -> Option<(f64, &Dog, FlankSide)> {
    let (found, cut) = (&worked.found[side], worked.ring(side));
    let dogs = cut.dogs.iter().filter_map(|now| found.at_place(now.place).map(|old| (old, now)));
    let flanks = dogs.flat_map(|(old, now)| {
        FlankSide::BOTH.map(|flank| (cut.flank_stock_mm(old, now, flank), now, flank))
    });
    // The first of equals.
    let cut = flanks.filter(|(off, ..)| *off > 1e-9);
    cut.reduce(|most, next| if next.0 > most.0 + 1e-12 { next } else { most })
}

/// The least depth of case left on a flank that is cut, mm; 0 if it is gone, `None` if no flank is cut or
/// the dogs are hardened through.
pub(crate) fn case_left_mm(worked: &Worked, side: Side) -> Option<f64> {
    let case = worked.design.setting.get(SettingField::CaseDepth);
    let (off, ..) = most_off_flank(worked, side).filter(|_| case > 0.0)?;
    Some((case - off).max(0.0))
}

/// The unbalance allowed to the gear of a ring, g·mm.
pub(crate) fn allowed_unbalance_g_mm(worked: &Worked, side: Side) -> Option<f64> {
    let of = |id| worked.design.setting.get(id);
    let mass = worked.design.ring(side).gear_mass_kg;
    permissible_g_mm(of(SettingField::BalanceGrade), mass, of(SettingField::BalanceSpeed))
}
