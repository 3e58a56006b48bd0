//! The words of the saved form, and its version.

use crate::design::{Clutch, LoadCase, Normalize, PedalBy, ShiftFrom, SizeBy, WheelKind};
use crate::load::Carried;
use crate::ring::PlanForm;
use crate::shift::{Drive, Shaft};
use crate::shop::tolerance::Grade;
use crate::stack::Facing;

/// The version that is written.
pub const VERSION: u64 = 1;

/// The key that a saved gearbox is known by.
pub(super) const GEARBOX: &str = "crenel_gearbox";

// What each word of the saved form means.

pub(super) const FORMS: [(&str, PlanForm); 2] =
    [("radial", PlanForm::Radial), ("parallel", PlanForm::Parallel)];
pub(super) const SIZES: [(&str, SizeBy); 2] = [("dog", SizeBy::Dog), ("gap", SizeBy::Gap)];
pub(super) const DRIVES: [(&str, Drive); 3] =
    [("force", Drive::Force), ("drum", Drive::Drum), ("both", Drive::Both)];
pub(super) const SHIFTS: [(&str, ShiftFrom); 3] =
    [("typed", ShiftFrom::Typed), ("up", ShiftFrom::Up), ("down", ShiftFrom::Down)];
pub(super) const CARRIED: [(&str, Carried); 4] = [
    ("half", Carried::HalfAboveThree),
    ("all", Carried::All),
    ("third", Carried::Third),
    ("spacing", Carried::Spacing),
];
pub(super) const LOADS: [(&str, LoadCase); 2] =
    [("throttle", LoadCase::Throttle), ("largest", LoadCase::Largest)];
pub(super) const GRADES: [(&str, Grade); 4] =
    [("m", Grade::Medium), ("f", Grade::Fine), ("c", Grade::Coarse), ("v", Grade::VeryCoarse)];
pub(super) const CLUTCHES: [(&str, Clutch); 2] =
    [("pulled", Clutch::Pulled), ("gripping", Clutch::Gripping)];
pub(super) const NORMALIZED: [(&str, Normalize); 3] = [
    ("as_drawn", Normalize::AsDrawn),
    ("dog_width", Normalize::DogWidth),
    ("free_angle", Normalize::FreeAngle),
];
pub(super) const SHAFTS: [(&str, Shaft); 2] = [("output", Shaft::Output), ("input", Shaft::Input)];
pub(super) const PEDALS: [(&str, PedalBy); 3] = [
    ("rod_above", PedalBy::RodAbove),
    ("rod_below", PedalBy::RodBelow),
    ("on_shaft", PedalBy::OnShaft),
];
/// The words for a dimension that takes from the clearance and for one that opens it.
pub(super) const WAYS: [(&str, bool); 2] = [("takes", false), ("opens", true)];
pub(super) const CHAINS: [(&str, Facing); 2] = [("this", Facing::This), ("other", Facing::Other)];
pub(super) const WHEELS: [(&str, WheelKind); 3] =
    [("fixed", WheelKind::Fixed), ("free", WheelKind::Free), ("sliding", WheelKind::Sliding)];
