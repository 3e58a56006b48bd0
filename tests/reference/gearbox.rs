//! Speed differences and inertias that a gearbox gives.

use crenel::analysis::Analysis;
use crenel::report::report_json;
use crenel::shift::disc_kg_m2;
use serde_json::{Value, json};

use super::designs::{design, merge};
use super::row::{ARITHMETIC, Row};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [speeds(), inertias()].into_iter().flatten().collect()
}

/// A gearbox of 2.6 and 1.9 with nothing before it.
fn gearbox(changes: &Value) -> Value {
    let mut gearbox = json!({
        "primary_driving_teeth": 30, "primary_driven_teeth": 30,
        "gears": [
            { "driving_teeth": 10, "driven_teeth": 26, "shift_up_rpm": 6000 },
            { "driving_teeth": 10, "driven_teeth": 19, "shift_down_rpm": 6000 },
        ],
    });
    merge(&mut gearbox, changes);
    gearbox
}

fn speeds() -> Vec<Row> {
    let mut rows = Vec::new();
    for (shaft, expected) in [("output", 850.20), ("input", 1615.38)] {
        let mut gears = gearbox(&json!({}));
        gears["gears"][1]["free_on"] = json!(shaft);
        let plain = json!({});
        let design = design(&plain, &plain, &json!({ "gearbox": gears, "shift": "up" }));
        let report = report_json(&Analysis::of(&design));
        rows.push(Row {
            name: format!(
                "6000 rpm in 2.6, up to 1.9, dogs on the {shaft} shaft: speed difference, rpm"
            ),
            source: ARITHMETIC,
            computed: report["gearbox"]["shifts"][0]["slip_rpm"].as_f64(),
            expected,
            tolerance: 5e-3,
        });
        // Down again at 6000: the other way round, and slower than on the way up.
        let back = if shaft == "output" { -6000.0 / 1.9 * (1.0 - 1.9 / 2.6) } else { f64::NAN };
        if back.is_finite() {
            rows.push(Row {
                name:
                    "6000 rpm in 1.9, down to 2.6, dogs on the output shaft: speed difference, rpm"
                        .to_owned(),
                source: ARITHMETIC,
                computed: report["gearbox"]["shifts"][1]["slip_rpm"].as_f64(),
                expected: back,
                tolerance: 1e-9,
            });
        }
    }
    rows
}

/// What is referred to the shaft of the dogs by the square of the ratio, and a disc.
fn inertias() -> Vec<Row> {
    let whole = json!({
        "primary_driving_teeth": 20, "primary_driven_teeth": 50,
        "final_driving_teeth": 10, "final_driven_teeth": 30,
        "engine_inertia_kg_m2": 0.008, "input_inertia_kg_m2": 0.001,
        "output_inertia_kg_m2": 0.002, "vehicle_mass_kg": 200,
    });
    let row = |name: &str, computed: f64, expected: f64| Row {
        name: name.to_owned(),
        source: ARITHMETIC,
        computed: Some(computed),
        expected,
        tolerance: 1e-12,
    };
    // m·r²/ratio² = 200·0.3²/9 = 2 on the output shaft.
    let sides = |clutch: &str, shaft: &str| {
        let mut gears = gearbox(&whole);
        gears["clutch"] = json!(clutch);
        gears["gears"][1]["free_on"] = json!(shaft);
        let setting = json!({ "gearbox": gears, "shift": "up", "wheel_diameter_mm": 600 });
        let plain = json!({});
        let analysis = Analysis::of(&design(&plain, &plain, &setting));
        analysis.worked.pair.expect("the rings fit").shift_case.sides
    };
    let (pulled, gripping) = (sides("pulled", "output"), sides("gripping", "output"));
    let on_input = sides("gripping", "input");
    vec![
        row(
            "Inertia of the input side at the output shaft, clutch pulled, kg·m²",
            pulled.input_kg_m2,
            0.001 * 1.9 * 1.9,
        ),
        row(
            "Inertia of the input side at the output shaft, clutch gripping, kg·m²",
            gripping.input_kg_m2,
            (0.001 + 0.008 * 6.25) * 1.9 * 1.9,
        ),
        row(
            "Inertia of the output side with a machine of 200 kg, kg·m²",
            pulled.output_kg_m2,
            2.002,
        ),
        row(
            "Inertia of the input side at the input shaft, clutch gripping, kg·m²",
            on_input.input_kg_m2,
            0.051,
        ),
        row(
            "Inertia of the output side at the input shaft, kg·m²",
            on_input.output_kg_m2,
            2.002 / 3.61,
        ),
        row(
            "Inertia of both sides together, J₁·J₂/(J₁ + J₂), kg·m²",
            pulled.reduced_kg_m2(),
            0.00361 * 2.002 / 2.00561,
        ),
        row("Inertia of a disc of 12 kg, Ø 400 mm, kg·m²", disc_kg_m2(12.0, 400.0), 0.24),
    ]
}
