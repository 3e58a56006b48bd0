//! What blocks what: windows, lash, and what cuts and edges change about them.

use serde_json::{Value, json};

use super::designs::{design, figure, figures};
use super::row::{ARITHMETIC, PRACTICE, Row};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [
        pairs(),
        half_heights_of_thin_dogs(),
        back_cuts(),
        cut_down(),
        edge_breaks(),
        parallel_flanks(),
        lash_at_the_wheel(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn pairs() -> Vec<Row> {
    let alternate = json!({ "count": 6, "heights": [1, 0.5] });
    let every_second_off =
        json!({ "count": 6, "cuts": { "2": "remove", "4": "remove", "6": "remove" } });
    let (six, three) = (json!({ "count": 6 }), json!({ "count": 3 }));
    let spline = json!({ "count": 30, "tip_width_deg": 5.6 });
    // Name, ring A, ring B, windows at entry, width of each, lash at full depth.
    let table: [(&str, &Value, &Value, f64, f64, f64); 7] = [
        ("6 dogs of 24° on 6", &six, &six, 6.0, 12.0, 12.0),
        ("3 dogs of 24° on 3", &three, &three, 3.0, 72.0, 72.0),
        (
            "Every second of 6 dogs off both rings",
            &every_second_off,
            &every_second_off,
            3.0,
            72.0,
            72.0,
        ),
        ("3 dogs of 24° on 6", &three, &six, 6.0, 12.0, 12.0),
        ("6 dogs, every second half height, on the same", &alternate, &alternate, 3.0, 72.0, 12.0),
        ("3 dogs on 6, every second half height", &three, &alternate, 3.0, 72.0, 12.0),
        ("Spline of 30 teeth on the same", &spline, &spline, 30.0, 0.8, 0.8),
    ];
    let rows = table.iter().flat_map(|&(name, a, b, windows, free, lash)| {
        let wanted = [
            ("entry_windows", windows, 0.0),
            ("free_angle_deg", free, 1e-9),
            ("free_angle_narrowest_deg", free, 1e-9),
            ("lash_deg", lash, 1e-9),
        ];
        figures(name, PRACTICE, &design(a, b, &json!({})), &wanted)
    });
    rows.collect()
}

/// Half the lash of the plain three as the dogs get thin: (60 − 2w)/(120 − 2w) for w on both rings.
fn half_heights_of_thin_dogs() -> Vec<Row> {
    let ratio = |width: f64| {
        let lash = |count: u32, heights: &[f64]| {
            let ring = json!({ "count": count, "heights": heights, "tip_width_deg": width });
            figure(&design(&ring, &ring, &json!({})), "lash_deg")
        };
        Some(lash(6, &[1.0, 0.5])? / lash(3, &[1.0])?)
    };
    let row = |(width, expected): (f64, f64)| Row {
        name: format!("Lash of 6 half-height dogs over that of 3 plain ones, dogs of {width}°"),
        source: PRACTICE,
        computed: ratio(width),
        expected,
        tolerance: 1e-9,
    };
    [(0.5, 59.0 / 119.0), (24.0, 12.0 / 72.0)].map(row).into()
}

fn back_cuts() -> Vec<Row> {
    let (drive, coast): (&[&str], &[&str]) = (&["back_cut_drive_deg"], &["back_cut_coast_deg"]);
    let both = ["back_cut_drive_deg", "back_cut_coast_deg"];
    // Words for the undercut flanks and their keys, degrees, overlap, mean radius, growth of the lash.
    let table = [
        ("drive flanks", drive, 3.0, 4.0, 20.0, 0.6005),
        ("coast flanks", coast, 3.0, 4.0, 20.0, 0.6005),
        ("all flanks", &both, 3.0, 4.0, 20.0, 2.0 * 0.600_54),
        ("drive flanks", drive, 5.0, 6.0, 22.0, 1.3671),
        ("coast flanks", coast, 5.0, 6.0, 22.0, 1.3671),
    ];
    let rows = table.iter().map(|&(words, flanks, angle, overlap, radius, expected)| {
        let mut ring = json!({
            "inner_diameter_mm": 2.0 * radius - 6.0,
            "outer_diameter_mm": 2.0 * radius + 6.0,
            "height_mm": 8,
        });
        for flank in flanks {
            ring[*flank] = json!(angle);
        }
        let design = design(&ring, &ring, &json!({ "overlap_mm": overlap }));
        let growth = |lash: f64| Some(lash - figure(&design, "free_angle_deg")?);
        Row {
            name: format!(
                "Back-cut of {angle}° on {words}, {overlap} mm deep at a radius of {radius} mm: lash gained, °"
            ),
            source: ARITHMETIC,
            computed: figure(&design, "lash_deg").and_then(growth),
            expected,
            tolerance: 5e-5,
        }
    });
    rows.collect()
}

/// Cutting every second dog down to half height leaves the flanks, and with them the lash, where
/// they were: 12° + 2·x·tan α/rm.
fn cut_down() -> Vec<Row> {
    let back_cut = json!({ "height_mm": 5, "back_cut_drive_deg": 3, "back_cut_coast_deg": 3 });
    let mut cut = back_cut.clone();
    cut["cuts"] = json!({ "2": 2.5, "4": 2.5, "6": 2.5 });
    let grown = 12.0 + 2.0 * f64::to_degrees(4.5 * libm::tan(3_f64.to_radians()) / 25.0);
    let table = [("as found", &back_cut, 12.0), ("every second dog cut to half", &cut, 72.0)];
    let rows = table.into_iter().flat_map(|(state, ring, free)| {
        let wanted = [("free_angle_deg", free, 1e-9), ("lash_deg", grown, 1e-9)];
        let name = format!("6 dogs with a back-cut of 3°, {state}");
        figures(&name, ARITHMETIC, &design(ring, ring, &json!({ "overlap_mm": 4.5 })), &wanted)
    });
    rows.collect()
}

/// Each edge of a window opens by (e_A + e_B)/rm, at the entry alone: the lash keeps its width.
fn edge_breaks() -> Vec<Row> {
    let table = [(0.2, 0.3, 0.5 / 25.0), (0.4, 0.0, 0.4 / 25.0)];
    let rows = table.into_iter().flat_map(|(a, b, per_edge)| {
        let edge = |mm: f64| json!({ "edge_break_mm": mm });
        let opening = 12.0 + 2.0 * f64::to_degrees(per_edge);
        let wanted = [
            ("free_angle_to_hold_deg", opening, 1e-9),
            ("free_angle_deg", 12.0, 1e-9),
            ("lash_deg", 12.0, 1e-9),
        ];
        let name = format!("Edge breaks of {a} and {b} mm");
        figures(&name, ARITHMETIC, &design(&edge(a), &edge(b), &json!({})), &wanted)
    });
    rows.collect()
}

/// Parallel flanks keep the chord W = 2·rm·sin(w/2), and meet at the inner end of the band.
fn parallel_flanks() -> Vec<Row> {
    let parallel = json!({ "flanks": "parallel" });
    let chord: f64 = 2.0 * 25.0 * libm::sin(12_f64.to_radians());
    let at_bore = 2.0 * libm::asin(chord / 42.0).to_degrees();
    let on = |b: &Value| design(&parallel, b, &json!({}));
    let free = |name: &str, b: &Value, expected: f64| {
        figures(name, ARITHMETIC, &on(b), &[("free_angle_deg", expected, 1e-9)])
    };
    let mut rows = free("Parallel flanks on the same", &parallel, 60.0 - 2.0 * at_bore);
    rows.extend(free("Parallel flanks on radial", &json!({}), 60.0 - (at_bore + 24.0)));
    rows
}

fn lash_at_the_wheel() -> Vec<Row> {
    let plain = json!({});
    let setting = json!({ "ratio_to_wheel": 3, "wheel_diameter_mm": 600 });
    let lash = 12_f64.to_radians();
    let wanted = [
        ("lash_mm", lash * 25.0, 1e-9),
        ("lash_wheel_deg", 4.0, 1e-9),
        ("lash_tyre_mm", lash / 3.0 * 300.0, 1e-9),
    ];
    figures(
        "12° of lash, ratio of 3 to a wheel of 600 mm",
        ARITHMETIC,
        &design(&plain, &plain, &setting),
        &wanted,
    )
}
