//! Shifts in time and gears selected at rest, for a report.

use serde_json::{Value, json};

use crate::model::{
    Idling, Manner, Standing, TimeLine, TimedShift, TimingFault, Worked, standing, timed_shifts,
};

/// Every manner of every shift at its own speed, with the peaks that the new dogs and the tyre take.
pub(super) fn timed(worked: &Worked) -> Vec<Value> {
    let shifts = Manner::ALL.into_iter().flat_map(|manner| timed_shifts(worked, manner));
    shifts.map(|shift| one(&shift)).collect()
}

fn one(shift: &TimedShift) -> Value {
    let line = TimeLine::of(shift, shift.step.engine_rpm);
    let mut told = json!({
        "manner": shift.manner.key(),
        "from": shift.step.from + 1,
        "to": shift.step.to + 1,
        "engine_rpm": shift.step.engine_rpm,
        "fault": line.as_ref().err().map(|fault| fault_key(*fault)),
        "times": line.as_ref().ok().map(times),
        "peaks": line.as_ref().ok().map(peaks),
    });
    if let Some(foot) = shift.foot {
        let ms = |seconds: f64| seconds * 1000.0;
        told["foot"] = json!({
            "signal_ms": ms(foot.signal_s),
            "hook_ms": foot.hook_s.map(ms),
            "fork_ms": foot.fork_s.map(ms),
        });
    }
    told
}

/// The stable name of a fault.
pub(super) const fn fault_key(fault: TimingFault) -> &'static str {
    match fault {
        TimingFault::NotOut => "not_out",
        TimingFault::Rattles => "rattles",
        TimingFault::NeverIn => "never_in",
        TimingFault::TooNear => "too_near",
        TimingFault::NeverNearer => "never_nearer",
    }
}

/// Their keys in the report, in order.
pub(super) const PART_KEYS: [&str; 7] =
    ["firing_ms", "fork_ms", "unload_ms", "out_ms", "across_ms", "wait_ms", "in_ms"];

fn times(line: &TimeLine) -> Value {
    let timing = &line.timing;
    let ms = |seconds: f64| json!(seconds.is_finite().then_some(seconds * 1000.0));
    let spread = |times: [f64; 3]| times.map(ms);
    let mut told = json!({
        "length_ms": ms(timing.parts.sum()),
        "not_longer_than_ms": ms(timing.longest_s),
        "in_at_engine_rpm": timing.engine_in_rpm,
        "share": timing.share,
        "other_flanks_strike": timing.strikes,
        "out_spread_ms": spread(line.spread.out_s),
        "in_spread_ms": spread(line.spread.in_s),
    });
    for (key, part) in PART_KEYS.into_iter().zip(timing.parts.all()) {
        told[key] = ms(part);
    }
    told
}

fn peaks(line: &TimeLine) -> Value {
    let whole = line.whole.as_ref().and_then(|whole| whole.as_ref().ok());
    json!({
        "rigid_nm": line.peak_nm,
        "rigid_tyre_n": line.tyre_n,
        "dogs_nm": whole.map(|whole| whole.dogs_nm),
        "tyre_nm": whole.map(|whole| whole.tyre_nm),
        "tyre_n": whole.map(|whole| whole.tyre_n),
    })
}

/// Every gear selected at rest.
pub(super) fn at_rest(worked: &Worked) -> Vec<Value> {
    let gears = worked.design.gearbox.as_ref().map_or(0, |gearbox| gearbox.gears.len());
    (0..gears).filter_map(|gear| standing(worked, gear)).map(|one| rest(&one)).collect()
}

fn rest(told: &Standing) -> Value {
    json!({
        "gear": told.gear + 1,
        "at_once": told.at_once,
        "rolled": told.rolled,
        "rolled_from_tips": told.rolled_from_tips,
        "sure_mm": told.sure_mm,
        "idling": told.idling.as_ref().map(idling),
    })
}

fn idling(told: &Idling) -> Value {
    json!({
        "slip_rpm": told.slip_rpm,
        "first_pass": told.first.is_in(),
        "locked": told.first.locked,
        "clutch_nm": told.clutch_nm,
        "tips_nm": told.tips_nm,
    })
}
