//! The blow of two inertias that meet.

use std::f64::consts::TAU;

use crenel::shift::{Blow, shaft_nm_per_rad};

use super::row::{DERIVED, Row, Source, row_from};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [seized_shaft(), common_speeds(), blows()].into_iter().flatten().collect()
}

fn two(input_kg_m2: f64, output_kg_m2: f64) -> Blow {
    let (input_nm, output_nm) = (0.0, 0.0);
    Blow { input_kg_m2, output_kg_m2, stiffness_nm_per_rad: 1.0, input_nm, output_nm }
}

/// A disc on the end of a shaft whose bearing seizes.
fn seized_shaft() -> Vec<Row> {
    const IMPACT: Source = Source::derived(
        "flywheel energy stored in the shaft; closed form as in Gere, Mechanics of Materials, problem 3.9-11",
    );
    let stiffness_nm_per_rad = shaft_nm_per_rad(60.0, 1200.0);
    let blow = Blow { stiffness_nm_per_rad, ..two(30.0 * 0.25 * 0.25, f64::INFINITY) };
    let torque = blow.peak_nm(200.0 * TAU / 60.0, 0.0);
    let stress = 16.0 * torque / (TAU / 2.0 * 0.06 * 0.06 * 0.06) / 1e6;
    let row = |name: &str, computed, expected, tolerance| Row {
        name: format!("Disc on a shaft Ø60 mm × 1.2 m whose bearing seizes: {name}"),
        source: IMPACT,
        computed: Some(computed),
        expected,
        tolerance,
    };
    vec![
        row("torque, N·m", torque, 8352.5, 0.05),
        row("stress, MPa", stress, 196.94, 5e-3),
        row("twist, °", (torque / stiffness_nm_per_rad).to_degrees(), 5.642, 5e-4),
    ]
}

fn common_speeds() -> Vec<Row> {
    const MOMENTUM: Source = Source::derived("angular momentum kept, energy by difference");
    let row = row_from(MOMENTUM);
    let (first, second) = (two(4.0, 2.0), two(2.508, 4.092));
    vec![
        row(
            "4 kg·m² at 60 rpm and 2 kg·m² at rest: common speed, rpm",
            first.common_speed(60.0, 0.0),
            40.0,
            1e-9,
        ),
        row(
            "4 kg·m² at 60 rpm and 2 kg·m² at rest: energy lost, J",
            first.energy_j(60.0 * TAU / 60.0),
            26.319,
            5e-4,
        ),
        row(
            "2.508 kg·m² at 621 and 4.092 kg·m² at 684 rpm, same way: common speed, rpm",
            second.common_speed(621.0, 684.0),
            660.06,
            5e-3,
        ),
        row(
            "2.508 kg·m² at 621 and 4.092 kg·m² at 684 rpm, opposite ways: common speed, rpm",
            second.common_speed(621.0, -684.0),
            -188.10,
            5e-3,
        ),
    ]
}

fn blows() -> Vec<Row> {
    let blow = Blow { stiffness_nm_per_rad: 2000.0, input_nm: 20.0, ..two(2e-3, 0.05) };
    let row = row_from(DERIVED);
    let steady = (20.0 * 0.05) / 0.052;
    vec![
        row(
            "Blow of 0.002 and 0.05 kg·m² on 2000 N·m/rad, 20 N·m, 50 rad/s, N·m",
            blow.peak_nm(50.0, 0.0),
            119.157,
            5e-4,
        ),
        row(
            "The same with 12° of lash still to close: hardest on the flank that the speed closes, N·m",
            blow.hardest_nm(50.0, 12_f64.to_radians())[0],
            180.773_143,
            5e-6,
        ),
        row(
            "The same with 20 N·m against the speed: hardest on the flank that it closes, N·m",
            Blow { input_nm: -20.0, ..blow }.hardest_nm(50.0, 12_f64.to_radians())[0],
            80.695_239,
            5e-6,
        ),
        row(
            "The same: hardest on the other flank, across 12° of lash, N·m",
            Blow { input_nm: -20.0, ..blow }.hardest_nm(50.0, 12_f64.to_radians())[1],
            147.607_379,
            5e-6,
        ),
        row(
            "Blow without speed difference and lash, twice the steady torque, N·m",
            blow.peak_nm(0.0, 0.0),
            2.0 * steady,
            1e-12,
        ),
    ]
}
