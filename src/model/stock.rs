//! What the plan of a ring takes off its flanks, and what may be taken off the balance of its gear.

use super::worked::Worked;
use crate::design::SettingField;
use crate::ring::{Dog, FlankSide, Side};
use crate::shop::balance::permissible_g_mm;

/// The most that comes off a flank of a ring, mm, and the dog and flank where it does.
pub(crate) fn most_off_flank(worked: &Worked, side: Side) -> Option<(f64, &Dog, FlankSide)> {
    let (found, cut) = (&worked.found[side], worked.ring(side));
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
pub(crate) fn case_left_mm(worked: &Worked, side: Side) -> Option<f64> {
    let case = worked.design.setting.get(SettingField::CaseDepth);
    let (off, ..) = most_off_flank(worked, side).filter(|_| case > 0.0)?;
    Some((case - off).max(0.0))
}

/// The unbalance that the gear of a ring may have, g·mm.
pub(crate) fn allowed_unbalance_g_mm(worked: &Worked, side: Side) -> Option<f64> {
    let of = |id| worked.design.setting.get(id);
    let mass = worked.design.ring(side).gear_mass_kg;
    permissible_g_mm(of(SettingField::BalanceGrade), mass, of(SettingField::BalanceSpeed))
}
