//! The stresses that have a limit, and whether the load that they are for is all that comes.

use crate::analysis::Analysis;
use crate::design::{LoadCase, Need};
use crate::fields::FieldId::{self, AllowedPressure, AllowedShear, AllowedStress};
use crate::figures::{
    FLANK_PRESSURE, Figure, OVERRUN_COMBINED, OVERRUN_PRESSURE, ROOT_COMBINED, ROOT_SHEAR,
};
use crate::load::Stress;
use crate::model::Strength;
use crate::ring::FlankSide;

/// A stress with a limit.
pub(super) struct LimitedStress {
    pub(super) figure: &'static Figure,
    /// The flank that is loaded.
    pub(super) flank: FlankSide,
    /// The number that is allowed.
    pub(super) allowable: FieldId,
    /// The largest one, MPa; `None` where nothing has it.
    most: fn(&Strength) -> Option<f64>,
}

use FlankSide::{Coast, Drive};

static STRESSES: [LimitedStress; 5] = [
    LimitedStress::row(&FLANK_PRESSURE, Drive, AllowedPressure, Strength::pressure_mpa),
    LimitedStress::row(&ROOT_SHEAR, Drive, AllowedShear, |load| Some(load.most(|s| s.shear_mpa))),
    LimitedStress::row(&ROOT_COMBINED, Drive, AllowedStress, combined_mpa),
    LimitedStress::row(&OVERRUN_PRESSURE, Coast, AllowedPressure, Strength::pressure_mpa),
    LimitedStress::row(&OVERRUN_COMBINED, Coast, AllowedStress, combined_mpa),
];

#[expect(clippy::unnecessary_wraps, reason = "a row of the table")]
fn combined_mpa(load: &Strength) -> Option<f64> {
    Some(load.most(Stress::combined_mpa))
}

/// Whether a stress of the steady throttle stays within its limit under the shock and the clunk too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum UnderShock {
    /// It does.
    Within,
    /// It does not.
    Past,
    /// Nobody knows: the inertias are not given.
    NotRated,
}

impl LimitedStress {
    const fn row(
        figure: &'static Figure,
        flank: FlankSide,
        allowable: FieldId,
        most: fn(&Strength) -> Option<f64>,
    ) -> Self {
        Self { figure, flank, allowable, most }
    }

    pub(super) fn of(figure: &Figure) -> Option<&'static Self> {
        STRESSES.iter().find(|own| own.figure == figure)
    }
}

/// For which load stresses are judged, as the sentences pick it: `steady` where some would be past a limit under shift
/// shock or clunk, or nobody knows; `any` where all that comes is judged.
pub(super) fn load_judged(analysis: &Analysis) -> &'static str {
    let is_unjudged = |row: &LimitedStress| {
        matches!(under_shock(row.figure, analysis), Some(UnderShock::Past | UnderShock::NotRated))
    };
    if STRESSES.iter().any(is_unjudged) { "steady" } else { "any" }
}

/// For a stress that is worked out for the steady throttle though shock or clunk is larger: whether it would stay within
/// its limit under those. `None` for other figures and other loads.
pub(super) fn under_shock(figure: &Figure, analysis: &Analysis) -> Option<UnderShock> {
    let stress = LimitedStress::of(figure)?;
    let pair = analysis.pair.as_ref()?;
    let largest_nm = pair.torques.largest_nm(stress.flank);
    let is_steady = analysis.design.setting.case == LoadCase::Throttle;
    if !is_steady || analysis.design.missing(Need::Torque).is_some() {
        return None;
    }
    if analysis.design.missing(Need::Inertia).is_some() {
        return Some(UnderShock::NotRated);
    }
    if largest_nm <= pair.torques.settled_nm(stress.flank) {
        return None;
    }
    let gauge = analysis
        .strength_under(stress.flank, largest_nm)
        .and_then(|load| figure.gauge((stress.most)(&load)?, analysis));
    Some(match gauge {
        Some(gauge) if gauge.is_past() => UnderShock::Past,
        Some(_) => UnderShock::Within,
        None => UnderShock::NotRated,
    })
}
