//! Follows dogs while they let go after a cut, or while they catch, given as plain numbers.
//!
//! `cargo run --example release -- CASES.json`; `-` reads standard input.
//!
//! The file is a list of objects. Each has `longest_s`, for how long to look, and three parts:
//!
//! - `masses`: `engine_kg_m2`, `vehicle_kg_m2` (left out for one so heavy that it keeps its speed),
//!   `stiffness_nm_per_rad`, and `damping`, 0 if left out;
//! - `pull`: `force_n`, `mass_kg`, `fastest_m_per_s` (left out where nothing limits the speed), `overlap_m`,
//!   `hold_per_m` (under power, on the overrun), `lash` in rad, and `begins_s`, from when on it pulls, 0 if left out;
//! - `cut`: `engine_nm` before, `drag_nm` after, and `ramp_s`, 0 if left out.
//!
//! A case with `slip`, in rad/s, begins with dogs that are in and have just met with that speed difference; nothing pulls
//! them out.
//!
//! Each line of the answer is a JSON object for one case.
//!
//! - `events`: each with `time_s`, `what`, `overlap_m` and `slip` in rad/s. `what` is `moves`, `stops`,
//!   `unloaded`, `coast_strikes`, `drive_strikes` or `out`.
//! - `coast_peak_nm`: the greatest torque on the coast flanks; for dogs that catch, `peak_nm` has that on the drive flanks
//!   and that on the coast flanks.
//!
//! What cannot be read exits with 1 and a sentence on standard error.

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::shift::{Catch, Pull, Release, ReleaseEvent, ReleaseStep, TorqueCut, TwoMasses};
use serde_json::{Value, json};
use shell::Failure;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    shell::each_case("release", arguments, told)
}

/// What a number may be.
#[derive(Clone, Copy)]
enum Takes {
    Any,
    FromZero,
    AboveZero,
}

impl Takes {
    fn has(self, value: f64) -> bool {
        match self {
            Self::Any => true,
            Self::FromZero => value >= 0.0,
            Self::AboveZero => value > 0.0,
        }
    }
}

/// A number of one part of a case.
fn number(part: &Value, key: &str, takes: Takes) -> Result<f64, String> {
    let found = part[key].as_f64().filter(|value| takes.has(*value));
    found.ok_or_else(|| {
        let takes = match takes {
            Takes::Any => "a number",
            Takes::FromZero => "a number from 0 on",
            Takes::AboveZero => "a number above 0",
        };
        format!("“{key}” is {}, and must be {takes}.", part[key])
    })
}

/// A number that can be left out.
fn if_given(part: &Value, key: &str, takes: Takes) -> Result<Option<f64>, String> {
    (!part[key].is_null()).then(|| number(part, key, takes)).transpose()
}

fn told(case: &Value) -> Result<Value, String> {
    let longest_s = number(case, "longest_s", Takes::FromZero)?;
    let (masses, cut) = (masses(&case["masses"])?, cut(&case["cut"])?);
    Ok(if let Some(slip) = if_given(case, "slip", Takes::Any)? {
        let lash = number(&case["pull"], "lash", Takes::FromZero)?;
        let Catch { events, peak_nm, .. } = Catch::of(&masses, lash, slip, &cut, longest_s);
        json!({ "events": shown(&events), "peak_nm": peak_nm })
    } else {
        let release = Release::of(&masses, &pull(&case["pull"])?, &cut, longest_s);
        let events = shown(&release.events);
        json!({ "events": events, "coast_peak_nm": release.coast_peak_nm })
    })
}

fn masses(part: &Value) -> Result<TwoMasses, String> {
    let damping = if_given(part, "damping", Takes::FromZero)?.unwrap_or(0.0);
    if damping >= 1.0 {
        return Err(format!("“damping” is {damping}, and must be below 1."));
    }
    let vehicle = if_given(part, "vehicle_kg_m2", Takes::AboveZero)?;
    Ok(TwoMasses {
        engine_kg_m2: number(part, "engine_kg_m2", Takes::AboveZero)?,
        vehicle_kg_m2: vehicle.unwrap_or(f64::INFINITY),
        stiffness_nm_per_rad: number(part, "stiffness_nm_per_rad", Takes::AboveZero)?,
        damping,
    })
}

fn pull(part: &Value) -> Result<Pull, String> {
    let hold = part["hold_per_m"].as_array().map(Vec::as_slice);
    let hold = hold.map(|hold| hold.iter().map(Value::as_f64).collect::<Vec<_>>());
    let Some(&[Some(drive), Some(coast)]) = hold.as_deref() else {
        return Err("“hold_per_m” must be two numbers.".to_owned());
    };
    Ok(Pull {
        force_n: number(part, "force_n", Takes::FromZero)?,
        mass_kg: number(part, "mass_kg", Takes::AboveZero)?,
        fastest_m_per_s: if_given(part, "fastest_m_per_s", Takes::AboveZero)?,
        overlap_m: number(part, "overlap_m", Takes::AboveZero)?,
        hold_per_m: [drive, coast],
        lash: number(part, "lash", Takes::FromZero)?,
        begins_s: if_given(part, "begins_s", Takes::FromZero)?.unwrap_or(0.0),
    })
}

fn cut(part: &Value) -> Result<TorqueCut, String> {
    Ok(TorqueCut {
        engine_nm: number(part, "engine_nm", Takes::Any)?,
        drag_nm: number(part, "drag_nm", Takes::Any)?,
        ramp_s: if_given(part, "ramp_s", Takes::FromZero)?.unwrap_or(0.0),
    })
}

fn shown(events: &[ReleaseEvent]) -> Vec<Value> {
    events.iter().map(event).collect()
}

fn event(event: &ReleaseEvent) -> Value {
    let what = match event.what {
        ReleaseStep::Moves => "moves",
        ReleaseStep::Stops => "stops",
        ReleaseStep::Unloaded => "unloaded",
        ReleaseStep::CoastStrikes => "coast_strikes",
        ReleaseStep::DriveStrikes => "drive_strikes",
        ReleaseStep::Out => "out",
    };
    json!({
        "time_s": event.time_s, "what": what, "overlap_m": event.overlap_m, "slip": event.slip,
    })
}
