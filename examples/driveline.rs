//! Follows drivelines of several masses from event to event, given as plain numbers.
//!
//! `cargo run --example driveline -- CASES.json`; `-` reads standard input.
//!
//! The file is a list of objects, each with everything at the shaft of the dogs:
//!
//! - `inertia_kg_m2`: of engine, shafts, gear, sprocket, carrier, wheel and vehicle; `null` for one without end;
//! - `clutch_nm` and `tyre_nm`: the torque at which they slip; left out where they do not;
//! - `mesh`, `dogs`, `chain` and `cush`: left out where rigid, or `stiffness` in N·m/rad, `damping` in N·m·s/rad, `lash` in
//!   rad, and `stop` with `travel` in rad and `stiffness`;
//! - `dogs_first`: whether the dogs stand before the mesh;
//! - `course`: corners of the engine's torque, each a time in s and a torque in N·m;
//! - `slip`: where the dogs have just met with that speed difference, in rad/s; left out where all is sped up together;
//! - `longest_s`: for how long to look.
//!
//! Each line of the answer is a JSON object for one case: `events`, each with `time_s`, `joint`, `what` and `slip` in
//! rad/s; `peaks_nm`, for each joint on its drive side and on its coast side; `energy` in J; and `end`. Where a case cannot
//! be worked out it has `fault` alone.
//!
//! What cannot be read exits with 1 and a sentence on standard error.

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::driveline::{
    Driveline, DrivelineEvent, DrivelineRun, Elastic, Joint, JointStep, Start, Stop, TorqueCourse,
};
use serde_json::{Value, json};
use shell::Failure;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    shell::each_case("driveline", arguments, told)
}

fn number(part: &Value, key: &str) -> Result<f64, String> {
    part[key].as_f64().ok_or_else(|| format!("“{key}” is {}, and must be a number.", part[key]))
}

/// A number that can be left out.
fn if_given(part: &Value, key: &str) -> Result<Option<f64>, String> {
    (!part[key].is_null()).then(|| number(part, key)).transpose()
}

fn told(case: &Value) -> Result<Value, String> {
    let start = if_given(case, "slip")?.map_or(Start::Steady, |slip| Start::Met { slip });
    let run = driveline(case)?.run(&course(&case["course"])?, start, number(case, "longest_s")?);
    Ok(run.map_or_else(|fault| json!({ "fault": format!("{fault:?}") }), |run| shown(&run)))
}

fn driveline(case: &Value) -> Result<Driveline, String> {
    let inertia: Vec<_> = case["inertia_kg_m2"].as_array().into_iter().flatten().collect();
    let inertia = inertia.into_iter().map(|of| of.as_f64().unwrap_or(f64::INFINITY));
    let inertia: Vec<f64> = inertia.collect();
    Ok(Driveline {
        inertia_kg_m2: inertia
            .try_into()
            .map_err(|_| "“inertia_kg_m2” must be seven numbers.".to_owned())?,
        clutch_nm: if_given(case, "clutch_nm")?,
        mesh: elastic(&case["mesh"])?,
        dogs: elastic(&case["dogs"])?,
        chain: elastic(&case["chain"])?,
        cush: elastic(&case["cush"])?,
        tyre_nm: if_given(case, "tyre_nm")?,
        dogs_first: case["dogs_first"].as_bool().unwrap_or_default(),
    })
}

fn elastic(part: &Value) -> Result<Option<Elastic>, String> {
    if part.is_null() {
        return Ok(None);
    }
    let stop = &part["stop"];
    let stop = (!stop.is_null()).then(|| {
        let (travel, stiffness_nm_per_rad) = (number(stop, "travel")?, number(stop, "stiffness")?);
        Ok::<_, String>(Stop { travel, stiffness_nm_per_rad })
    });
    Ok(Some(Elastic {
        stiffness_nm_per_rad: number(part, "stiffness")?,
        damping_nm_s_per_rad: number(part, "damping")?,
        lash: number(part, "lash")?,
        stop: stop.transpose()?,
    }))
}

fn course(part: &Value) -> Result<TorqueCourse, String> {
    let corners = part.as_array().ok_or_else(|| "“course” must be a list.".to_owned())?;
    let corners = corners.iter().map(|corner| {
        let [time, nm] = [&corner[0], &corner[1]].map(Value::as_f64);
        Some([time?, nm?])
    });
    let corners = corners.collect::<Option<Vec<_>>>();
    corners
        .map(TorqueCourse::through)
        .ok_or_else(|| "each corner of “course” must be a time and a torque.".to_owned())
}

fn shown(run: &DrivelineRun) -> Value {
    let energy = run.energy;
    json!({
        "events": run.events.iter().map(event).collect::<Vec<_>>(),
        "peaks_nm": run.peaks_nm,
        "energy": {
            "in_j": energy.in_j, "stored_j": energy.stored_j,
            "damped_j": energy.damped_j, "slipped_j": energy.slipped_j,
        },
        "end": format!("{:?}", run.end),
    })
}

fn event(event: &DrivelineEvent) -> Value {
    let joint = match event.joint {
        Joint::Clutch => "clutch",
        Joint::Mesh => "mesh",
        Joint::Dogs => "dogs",
        Joint::Chain => "chain",
        Joint::Cush => "cush",
        Joint::Tyre => "tyre",
    };
    let what = match event.what {
        JointStep::Parts => "parts",
        JointStep::DriveStrikes => "drive_strikes",
        JointStep::CoastStrikes => "coast_strikes",
        JointStep::Stops => "stops",
        JointStep::LeavesStop => "leaves_stop",
        JointStep::Slips => "slips",
        JointStep::Grips => "grips",
    };
    json!({ "time_s": event.time_s, "joint": joint, "what": what, "slip": event.slip })
}
