//! Times and speeds of getting in.

use std::f64::consts::TAU;

use crenel::shift::rounded_hold_mm;
use serde_json::json;

use super::designs::{design, figure, figures};
use super::row::{ARITHMETIC, DERIVED, Row};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [window_times(), travel_times(), waiting(), straight_in(), limits_of_slip(), rounded_edges()]
        .into_iter()
        .flatten()
        .collect()
}

fn window_times() -> Vec<Row> {
    let table = [(6, 3.333, 5e-4), (3, 20.0, 1e-9)];
    let rows = table.into_iter().flat_map(|(count, expected, tolerance)| {
        let ring = json!({ "count": count });
        let design = design(&ring, &ring, &json!({ "slip_rpm": 600 }));
        let name = format!("{count} dogs of 24° at 600 rpm");
        figures(&name, ARITHMETIC, &design, &[("window_time_ms", expected, tolerance)])
    });
    rows.collect()
}

fn travel_times() -> Vec<Row> {
    let push = |by: &str, start: f64, drum: f64| {
        json!({
            "travel_by": by, "shift_force_n": 100, "moving_mass_kg": 0.25, "hold_depth_mm": 1.5,
            "start_speed_m_per_s": start, "drum_speed_m_per_s": drum,
        })
    };
    let table = [
        ("from rest", push("force", 0.0, 0.12), 2.7386, 5e-5),
        ("from 0.15 m/s", push("force", 0.15, 0.12), 2.3892, 5e-5),
        ("by the drum at 0.12 m/s", push("drum", 0.15, 0.12), 12.5, 1e-9),
        // Past the drum's speed from the start, it moves as the drum does.
        ("start cut to the drum’s 0.12 m/s", push("both", 0.15, 0.12), 12.5, 1e-9),
        ("drum of 5 m/s never reached", push("both", 0.15, 5.0), 2.3892, 5e-5),
        // 0.4 m/s after 1 ms and 0.2 mm, the other 1.3 mm in 3.25 ms.
        ("drum of 0.4 m/s reached on the way", push("both", 0.0, 0.4), 4.25, 1e-9),
    ];
    let plain = json!({});
    let rows = table.iter().flat_map(|(name, setting, expected, tolerance)| {
        let wanted = [("travel_time_ms", *expected, *tolerance)];
        let name = format!("100 N on 0.25 kg over 1.5 mm, {name}");
        figures(&name, ARITHMETIC, &design(&plain, &plain, setting), &wanted)
    });
    rows.collect()
}

fn waiting() -> Vec<Row> {
    let ring = json!({ "count": 3, "tip_width_deg": 30 });
    let wanted = [
        ("passes_per_s", 15.0, 1e-9),
        ("window_time_ms", 33.333, 5e-4),
        ("worst_wait_ms", 33.333, 5e-4),
        ("mean_wait_ms", 8.3333, 5e-5),
    ];
    let design = design(&ring, &ring, &json!({ "slip_rpm": 300 }));
    figures("3 windows of 60° at 300 rpm", ARITHMETIC, &design, &wanted)
}

/// The drum at 0.12 m/s to 1.5 mm; chance and limit of going straight in.
fn straight_in() -> Vec<Row> {
    const DRUM: &str = "Drum at 0.12 m/s over 1.5 mm";
    let drum = json!({ "travel_by": "drum", "drum_speed_m_per_s": 0.12, "hold_depth_mm": 1.5 });
    let at = |count: u32, width: f64, rpm: f64| {
        let ring = json!({ "count": count, "tip_width_deg": width });
        let mut setting = drum.clone();
        setting["slip_rpm"] = json!(rpm);
        design(&ring, &ring, &setting)
    };
    let chances = [
        ("3 windows of 60° at 300 rpm", at(3, 30.0, 300.0), 0.312_500, 800.00),
        ("5 windows of 20° at 100 rpm", at(5, 26.0, 100.0), 0.173_611, 266.67),
        ("6 windows of 16° at 100 rpm", at(6, 22.0, 100.0), 0.141_667, 213.33),
    ];
    let mut rows = Vec::new();
    for (name, design, share, limit) in &chances {
        let wanted = [("straight_in_share", *share, 5e-7), ("straight_in_limit_rpm", *limit, 5e-3)];
        rows.extend(figures(&format!("{DRUM}, {name}"), DERIVED, design, &wanted));
    }
    for (count, limit) in [(3, 1120.0), (4, 720.0), (5, 480.0), (6, 320.0)] {
        let wanted = [("straight_in_limit_rpm", limit, 1e-9)];
        rows.extend(figures(
            &format!("{DRUM}, {count} dogs of 18° on the same"),
            DERIVED,
            &at(count, 18.0, 300.0),
            &wanted,
        ));
    }
    rows
}

/// The speeds below which faces lock and up to which a ring drops in, in rad/s.
fn limits_of_slip() -> Vec<Row> {
    let setting = json!({
        "travel_by": "force", "shift_force_n": 100, "moving_mass_kg": 0.25,
        "start_speed_m_per_s": 0.15, "hold_depth_mm": 1.5,
    });
    let ring = json!({ "count": 5, "tip_width_deg": 26, "inner_diameter_mm": 32, "outer_diameter_mm": 48 });
    let design = design(&ring, &ring, &setting);
    let name = "100 N on 0.25 kg over 1.5 mm, 5 windows of 20°, from 0.15 m/s";
    let speed = |key, limit, expected, tolerance| Row {
        name: format!("{name}: {limit}, rad/s"),
        source: DERIVED,
        computed: figure(&design, key).map(|rpm| rpm * TAU / 60.0),
        expected,
        tolerance,
    };
    let mut rows = vec![
        speed("lock_limit_rpm", "faces can rub to a stop below", 19.053, 5e-4),
        speed("drop_in_limit_rpm", "drop-in limit", 127.46, 5e-3),
    ];
    rows.extend(figures(name, DERIVED, &design, &[("travel_time_ms", 2.3892, 5e-5)]));
    rows
}

/// `(R1+R2)(1 − sin ρ)` for radii of 1 mm together.
fn rounded_edges() -> Vec<Row> {
    let table = [(0.05, 0.95006), (0.10, 0.90050), (0.15, 0.85166)];
    let row = |(friction, expected)| Row {
        name: format!("Overlap that rounded edges need at μ {friction}, per mm of their radii"),
        source: DERIVED,
        computed: Some(rounded_hold_mm(1.0, friction)),
        expected,
        tolerance: 5e-6,
    };
    table.map(row).into()
}
