//! Stresses, what a steel allows, and what holds a gear in.

use crenel::analysis::Analysis;
use crenel::load::{
    CORE_STEELS, Hold, forces_from_gaps_n, spline_compression_mpa, spline_shear_mpa,
};
use crenel::units::Angle;
use serde_json::json;

use super::designs::design;
use super::row::{DERIVED, Row, Source, row_from};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [stresses(), gaps(), allowed(), holding()].into_iter().flatten().collect()
}

/// Ro 30, Ri 22, six dogs of 30° and 5 mm on narrower ones, overlap 4, T 100 N·m: the dogs of 30°.
fn stresses() -> Vec<Row> {
    let ring = json!({ "inner_diameter_mm": 44, "outer_diameter_mm": 60, "tip_width_deg": 30 });
    let narrower = json!({ "inner_diameter_mm": 44, "outer_diameter_mm": 60, "tip_width_deg": 24 });
    let table = [
        ("all", "all six carry", [20.03, 5.886, 7.782, 17.16]),
        ("half", "half of them carry", [40.06, 11.772, 15.565, 34.32]),
        ("third", "a third carries", [60.10, 17.658, 23.347, 51.48]),
    ];
    let mut rows = Vec::new();
    for (rule, words, expected) in table {
        let setting = json!({ "carried_by": rule, "throttle_torque_nm": 100, "overlap_mm": 4 });
        let analysis = Analysis::of(&design(&ring, &narrower, &setting));
        let strength = analysis.worked.pair.expect("the rings fit").strength.expect("dogs meet");
        let stress = strength.pairs[0].stresses.a;
        let computed =
            [stress.pressure_mpa, stress.shear_mpa, stress.bending_mpa, stress.combined_mpa()];
        let tolerances = [5e-3, 5e-4, 5e-4, 5e-3];
        let names = ["flank pressure", "shear at the root", "bending at the root", "both together"];
        for (at, name) in names.into_iter().enumerate() {
            rows.push(Row {
                name: format!("100 N·m on six dogs of 30°, 4 mm deep, {words}: {name}, MPa"),
                source: DERIVED,
                computed: Some(computed[at]),
                expected: expected[at],
                tolerance: tolerances[at],
            });
        }
    }
    rows
}

fn gaps() -> Vec<Row> {
    let forces = forces_from_gaps_n(&[0.0, 5.0, 10.0], 100.0, 1500.0);
    let row = |(at, expected): (usize, f64)| Row {
        name: format!("Gaps of 0, 5, 10 µm, 100 N/µm, 1500 N: force on dog {}, N", at + 1),
        source: DERIVED,
        computed: Some(forces[at]),
        expected,
        tolerance: 1e-9,
    };
    [(0, 1000.0), (1, 500.0), (2, 0.0)].map(row).into()
}

fn allowed() -> Vec<Row> {
    const DUDLEY: Source = Source::published(
        "Dudley, When Splines Need Stress Control, 1957, as in Machinery's Handbook",
    );
    const CORE: Source = Source::from_memory("former DIN 17210, 21NiCrMo2, from memory");
    let row = |name: &str, source, computed, expected, tolerance| Row {
        name: name.to_owned(),
        source,
        computed: Some(computed),
        expected,
        tolerance,
    };
    let mut rows = vec![
        row(
            "Spline, application factor 2, 100 000 cycles: compression allowed, MPa",
            DUDLEY,
            spline_compression_mpa(2.0, 1e5),
            77.6,
            0.05,
        ),
        row(
            "Spline, application factor 2, 100 000 cycles: shear allowed, MPa",
            DUDLEY,
            spline_shear_mpa(2.0, 1e5),
            86.2,
            0.051,
        ),
        row(
            "Spline, application factor 1, 10 000 cycles: shear allowed, MPa",
            DUDLEY,
            spline_shear_mpa(1.0, 1e4),
            345.0,
            1e-9,
        ),
        row(
            "Spline that does not slide, application factor 1, 10 000 cycles: compression allowed, MPa",
            DUDLEY,
            spline_compression_mpa(1.0, 1e4),
            9.0 * 34.5,
            1e-9,
        ),
    ];
    for (section, expected) in [(11.0, 785.0), (30.0, 590.0), (63.0, 490.0)] {
        let core = CORE_STEELS[0].yields.into_iter().find(|(most, _)| *most == section);
        let (_, core) = core.expect("a listed section");
        rows.push(row(
            &format!("Yield of the core of a section of Ø{section} mm, MPa"),
            CORE,
            core,
            expected,
            0.0,
        ));
    }
    rows
}

/// Per 1000 N at the dogs, and the worked case.
fn holding() -> Vec<Row> {
    let hold = |degrees: f64, spline_friction: f64, mean_radius_mm: f64| Hold {
        undercut: Angle::from_degrees(degrees).tan(),
        flank_friction: 0.10,
        spline_friction,
        spline_radius_mm: 14.0,
        mean_radius_mm,
    };
    let row = row_from(DERIVED);
    // 1 N·m at 1 mm is 1000 N.
    let per_1000 = |degrees| hold(degrees, 0.0, 1.0);
    let mut rows = vec![
        row(
            "Back-cut of 5°, μ 0.1: draws in, N for 1000 N at the dogs",
            per_1000(5.0).pull_in_n(1.0),
            -12.40,
            5e-3,
        ),
        // The table prints 189.15; (tan 5° + 0.1)/(1 − 0.1·tan 5°) is 0.189143.
        row(
            "Back-cut of 5°, μ 0.1: to shift out, N for 1000 N at the dogs",
            per_1000(5.0).pull_out_n(1.0),
            189.15,
            7e-3,
        ),
        row(
            "Back-cut of 3°, 80 N·m at 22 mm: to shift out, N",
            hold(3.0, 0.0, 22.0).pull_out_n(80.0),
            557.1,
            0.05,
        ),
        row(
            "Back-cut of 3°, 80 N·m at 22 mm, with friction of the spline: to shift out, N",
            hold(3.0, 0.1, 22.0).pull_out_n(80.0),
            1128.6,
            0.06,
        ),
    ];
    for (degrees, expected) in [(3.0, 0.1532), (5.0, 0.1891), (7.0, 0.2256)] {
        let computed = per_1000(degrees).pull_out_n(1.0) / 1000.0;
        rows.push(row(
            &format!("Back-cut of {degrees}°, μ 0.1: to shift out, share of the force at the dogs"),
            computed,
            expected,
            6e-5,
        ));
    }
    // Worn to β: out against friction when β is more than ρ, 5.7106° at μ 0.10.
    for (beta, out) in [(5.70, 0.0), (5.72, 1.0)] {
        let computed = f64::from(u8::from(per_1000(-beta).kicks_out()));
        rows.push(row(
            &format!("Flank worn to lean {beta}° the wrong way, μ 0.1: comes out, 1 is yes"),
            computed,
            out,
            0.0,
        ));
    }
    rows
}
