//! Prints the position of a four-bar linkage for each angle of its arm.
//!
//! `cargo run --example linkage -- ARM ROD LEVER APART ANGLE…`
//!
//! ARM, ROD and LEVER are the lengths of arm, rod and lever, APART the distance between the pivots, all
//! in mm. ANGLE is that of the arm from the line to the lever's pivot, in degrees, counter-clockwise.
//!
//! Each line is a JSON object for one angle: `arm_deg`; `left` and `right`, the direction of the
//! lever in degrees in both assemblies, and `ratio_left` and `ratio_right`, how fast it turns against
//! the arm; `transmission_deg` between rod and lever; and `lock_deg`, how far the arm can go on
//! counter-clockwise and clockwise until rod and lever are in line. A position out of reach is
//! `null`. Input that cannot be read exits with 1 and a sentence on standard error.

mod shell;

use std::process::ExitCode;

use crenel::selector::{Assembly, FourBar};
use crenel::units::Quantity;
use serde_json::{Value, json};

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(arguments: &[String]) -> Result<String, String> {
    let [arm, rod, lever, apart, angles @ ..] = arguments else {
        return Err("Give four lengths and some angles: linkage 35 126 32 127 0 10".to_owned());
    };
    let bars = FourBar {
        arm_mm: length(arm)?,
        rod_mm: length(rod)?,
        lever_mm: length(lever)?,
        apart_mm: length(apart)?,
    };
    let line = |typed: &String| Ok(format!("{}\n", stands(&bars, number(Quantity::Angle, typed)?)));
    angles.iter().map(line).collect()
}

fn number(quantity: Quantity, typed: &str) -> Result<f64, String> {
    quantity.parse(typed, Default::default()).map_err(|e| format!("“{typed}”: {e}"))
}

fn length(typed: &str) -> Result<f64, String> {
    let mm = number(Quantity::Length, typed)?;
    if mm > 0.0 { Ok(mm) } else { Err(format!("“{typed}”: a length must be above 0.")) }
}

fn stands(bars: &FourBar, deg: f64) -> Value {
    let arm = deg.to_radians();
    let lever = |assembly| bars.lever(arm, assembly).map(f64::to_degrees);
    let ratio = |assembly| bars.ratio(arm, assembly);
    let lock = |way| bars.turn_to_lock(arm, way).map(f64::to_degrees);
    json!({
        "arm_deg": deg,
        "left": lever(Assembly::Left),
        "right": lever(Assembly::Right),
        "ratio_left": ratio(Assembly::Left),
        "ratio_right": ratio(Assembly::Right),
        "transmission_deg": bars.transmission(arm).map(f64::to_degrees),
        "lock_deg": [lock(1.0), lock(-1.0)],
    })
}
