//! The limits of the numbers of a design: figures, findings and checks are judged by these and no others.
//!
//! Each function puts a value beside its limit, in the unit of the figure. `None` where the design sets no
//! limit.

use crate::design::SettingField;
use crate::fields::FieldId;
use crate::gauge::Gauge;
use crate::load::Stress;
use crate::model::{Strength, Worked, allowed_unbalance_g_mm, hardest_shift};
use crate::ring::{FlankSide, Side};
use crate::selector::{CRAMPED, Claw};

/// The share of the height of the dogs that should be engaged: common practice, no source.
pub(crate) const ENGAGED_SHARE: f64 = 0.75;

/// How far the gap at the stop may be off the target gap, as a share of it: our own bounds around the 1 mm
/// of common practice.
pub(crate) const GAP_SHARE: f64 = 0.5;

/// How far the gaps of the two strokes may differ, mm: our own bound for "the same".
pub(crate) const GAPS_APART_MM: f64 = 0.3;

/// A clearance has the limit 0, so a shortfall is divided by this usual size: a clear millimetre (common
/// practice, no source).
pub(crate) const USUAL_CLEARANCE_MM: f64 = 1.0;

/// An undercut has the limit 0, so a shortfall is divided by this usual angle: the middle of the usual range
/// (common practice, no source).
pub(crate) const USUAL_UNDERCUT_DEG: f64 = 5.0;

/// The limit of a figure: a value of it beside the limit that a design sets.
pub type Limit = fn(&Worked, f64) -> Option<Gauge>;

/// The window time: at least the travel time to the holding depth, ms.
pub(crate) fn window_time(worked: &Worked, ms: f64) -> Option<Gauge> {
    Some(Gauge::at_least(worked.pair.as_ref()?.travel_s * 1000.0, ms))
}

/// The straight-in limit: at least the largest speed difference of the shifts, rpm.
pub(crate) fn straight_in(worked: &Worked, rpm: f64) -> Option<Gauge> {
    Some(Gauge::at_least(hardest_shift(worked)?.slip_rpm, rpm))
}

/// Flank pressure, MPa.
pub fn pressure(worked: &Worked, mpa: f64) -> Option<Gauge> {
    allowed(worked, SettingField::AllowedPressure, mpa)
}

/// Shear at the root, MPa.
pub fn shear(worked: &Worked, mpa: f64) -> Option<Gauge> {
    allowed(worked, SettingField::AllowedShear, mpa)
}

/// Combined stress at the root, MPa.
pub fn combined(worked: &Worked, mpa: f64) -> Option<Gauge> {
    allowed(worked, SettingField::AllowedStress, mpa)
}

/// A stress of the dogs by its word, with the number of the design that it must not exceed, and how it is read.
pub(crate) type StressLimit = (&'static str, SettingField, fn(&Strength) -> Option<f64>);

/// The stresses that have a limit, MPa.
pub(crate) const STRESSES: [StressLimit; 3] = [
    ("pressure", SettingField::AllowedPressure, Strength::pressure_mpa),
    ("shear", SettingField::AllowedShear, |load| Some(load.most(|s| s.shear_mpa))),
    ("combined", SettingField::AllowedStress, |load| Some(load.most(Stress::combined_mpa))),
];

/// A number that must not exceed one of the design.
pub(crate) fn allowed(worked: &Worked, field: SettingField, value: f64) -> Option<Gauge> {
    Some(Gauge::at_most(worked.design.setting.get(field), value))
}

/// The retaining force under power: at least 0 N, by the force of a usual undercut.
pub(crate) fn holding(worked: &Worked, newton: f64) -> Option<Gauge> {
    holds(worked, FlankSide::Drive, newton)
}

/// The retaining force on the overrun.
pub(crate) fn overrun_holding(worked: &Worked, newton: f64) -> Option<Gauge> {
    holds(worked, FlankSide::Coast, newton)
}

/// The retaining force on one flank.
pub(crate) fn holds(worked: &Worked, flank: FlankSide, newton: f64) -> Option<Gauge> {
    let pair = worked.pair.as_ref()?;
    let strength = match flank {
        FlankSide::Drive => pair.strength.as_ref(),
        FlankSide::Coast => pair.overrun.as_ref(),
    }?;
    let usual = strength.force_n * libm::tan(USUAL_UNDERCUT_DEG.to_radians());
    Some(Gauge::at_least(0.0, newton).by(usual))
}

/// The lash at the dogs: at most that which the user sets, degrees.
pub(crate) fn lash(worked: &Worked, degrees: f64) -> Option<Gauge> {
    Some(Gauge::at_most(worked.design.limits.get(FieldId::MostLash)?, degrees))
}

/// The clunk as the throttle opens: at most that which the user sets, N·m.
pub(crate) fn clunk(worked: &Worked, newton_metres: f64) -> Option<Gauge> {
    Some(Gauge::at_most(worked.design.limits.get(FieldId::MostClunk)?, newton_metres))
}

/// The unbalance of what is cut off ring A: at most that of its grade, g·mm.
pub(crate) fn unbalance_a(worked: &Worked, g_mm: f64) -> Option<Gauge> {
    unbalance(worked, Side::A, g_mm)
}

/// The same for ring B.
pub(crate) fn unbalance_b(worked: &Worked, g_mm: f64) -> Option<Gauge> {
    unbalance(worked, Side::B, g_mm)
}

/// The unbalance of what is cut off a ring.
pub(crate) fn unbalance(worked: &Worked, side: Side, g_mm: f64) -> Option<Gauge> {
    Some(Gauge::at_most(allowed_unbalance_g_mm(worked, side)?, g_mm))
}

/// The case that is left on a flank: more than nothing, mm.
pub(crate) fn case_left(worked: &Worked, mm: f64) -> Option<Gauge> {
    let case = worked.design.setting.get(SettingField::CaseDepth);
    (case > 0.0).then(|| Gauge::more_than_zero(mm).by(case))
}

/// The overlap to which the fork pushes the dogs: three quarters of their height, mm.
pub(crate) fn engaged(worked: &Worked, mm: f64) -> Option<Gauge> {
    Some(Gauge::at_least(wanted_depth_mm(worked), mm))
}

/// The overlap that is wanted, mm.
pub(crate) fn wanted_depth_mm(worked: &Worked) -> f64 {
    ENGAGED_SHARE * worked.lowest_tall_mm()
}

/// The least clearance in neutral: more than nothing, mm.
pub(crate) fn clearance(_: &Worked, mm: f64) -> Option<Gauge> {
    Some(Gauge::more_than_zero(mm).by(USUAL_CLEARANCE_MM))
}

/// The gap at the stop, mm.
pub(crate) fn stop_gap(worked: &Worked, mm: f64) -> Option<Gauge> {
    Some(gap(&worked.selector.strokes()?.claw, mm))
}

/// The least and the greatest gap at the stop that is good, mm.
pub(crate) fn gap_bounds_mm(wanted: f64) -> [f64; 2] {
    [1.0 - GAP_SHARE, 1.0 + GAP_SHARE].map(|share| share * wanted)
}

/// A gap at the stop beside the nearer bound about the target of its claw, mm.
pub(crate) fn gap(claw: &Claw, mm: f64) -> Gauge {
    gap_about(claw.wanted_mm, mm)
}

/// The same about a target, mm.
pub(crate) fn gap_about(wanted: f64, mm: f64) -> Gauge {
    let [least, most] = gap_bounds_mm(wanted);
    if mm > wanted { Gauge::at_most(most, mm) } else { Gauge::at_least(least, mm).by(wanted) }
}

/// The angle between rod and lever: at least so far from both lines, degrees.
pub(crate) fn rod_angle(_: &Worked, degrees: f64) -> Option<Gauge> {
    let least = CRAMPED[0];
    Some(if degrees > 90.0 {
        Gauge::at_most(180.0 - least, degrees)
    } else {
        Gauge::at_least(least, degrees)
    })
}

/// The torque with which the roller brings the drum home: more than nothing, by that without friction, N·mm.
pub(crate) fn detent_return(worked: &Worked, nmm: f64) -> Option<Gauge> {
    let detent = worked.selector.detent.as_ref()?;
    let smooth = detent.force_n * detent.radius_mm * libm::tan(detent.flank.radians());
    Some(Gauge::more_than_zero(nmm).by(smooth))
}
