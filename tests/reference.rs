//! Numbers that somebody else worked out: every check table the core answers, row by row.
//!
//! A row shows the design as the saved form writes it, the figure, what it must be and how far it
//! may be off – half a unit of the last digit the table prints. All rows are tried and all that
//! fail are listed at once; the count is pinned, so that no row can get lost. The page lists them all
//! from `www/checks.json`, so a name has to tell a reader what is compared, and in which unit.

use std::collections::BTreeSet;
use std::f64::consts::TAU;
use std::path::{Path, PathBuf};

use crenel::design::{Design, open};
use crenel::fields::FieldId;
use crenel::load::{
    CORE_STEELS, Hold, forces_from_gaps_n, spline_compression_mpa, spline_shear_mpa,
};
use crenel::report::{self, Analysis, report_json};
use crenel::ring::{Dog, Flanks, PlanForm, Ring};
use crenel::selector::{CRAMPED, Claw, Detent, FourBar, Star, Stroke};
use crenel::shift::{Blow, disc_kg_m2, rounded_hold_mm, shaft_nm_per_rad};
use crenel::shop::balance::{permissible_g_mm, permissible_um};
use crenel::shop::cutter::{Range, Space, runs_across};
use crenel::shop::grit::GRITS;
use crenel::shop::indexing::{Dividing, Fit, PLATES, TABLES};
use crenel::shop::tolerance::{angular, arc_mm, linear_mm};
use crenel::shop::wheel::most_rpm;
use crenel::stack::{Chain, Link};
use crenel::units::{Angle, DisplayUnits, Quantity};
use serde_json::{Value, json};

const PRACTICE: &str = "common practice, no source; plain arithmetic";
const ARITHMETIC: &str = "plain arithmetic";
const DERIVED: &str = "derived, no source";
const GEOMETRY: &str = "geometry of the circular sector";

/// How many numbers the tables below hold.
const ROWS: usize = 248;

struct Row {
    name: String,
    source: &'static str,
    computed: Option<f64>,
    expected: f64,
    tolerance: f64,
}

impl Row {
    fn fails(&self) -> Option<String> {
        let Self { name, source, computed, expected, tolerance } = self;
        let off = computed.map(|c| (c - expected).abs());
        let right = off.is_some_and(|off| off <= *tolerance);
        (!right).then(|| format!("{name} ({source}): {computed:?} instead of {expected}"))
    }

    /// What it must be, in as few decimals as stay within a tenth of the tolerance.
    fn expected_written(&self) -> f64 {
        let rounded = |decimals: usize| format!("{:.decimals$}", self.expected).parse().ok();
        let near = |value: &f64| (value - self.expected).abs() <= self.tolerance / 10.0;
        (0..=15).filter_map(rounded).find(near).unwrap_or(self.expected)
    }
}

/// Makes rows from one source.
fn rows_of(source: &'static str) -> impl Fn(&str, f64, f64, f64) -> Row {
    move |name, computed, expected, tolerance| Row {
        name: name.to_owned(),
        source,
        computed: Some(computed),
        expected,
        tolerance,
    }
}

/// Every row there is.
fn rows() -> Vec<Row> {
    let tables = [
        pairs(),
        half_heights_of_thin_dogs(),
        back_cuts(),
        cut_down(),
        edge_breaks(),
        parallel_flanks(),
        lash_at_the_wheel(),
        window_times(),
        travel_times(),
        waiting(),
        straight_in(),
        limits_of_slip(),
        rounded_edges(),
        speeds(),
        inertias(),
        seized_shaft(),
        common_speeds(),
        blows(),
        stresses(),
        gaps(),
        allowed(),
        holding(),
        sector(),
        removed_dogs(),
        unbalance_allowed(),
        cutters(),
        cut_off_wheel(),
        grits(),
        general_tolerances(),
        divisions(),
        angles_on_circles(),
        nearest_hole(),
        rotary_tables(),
        chains(),
        depth_of_a_design(),
        four_bar(),
        detents(),
        claws(),
        placed_pedals(),
        feet_on_the_detent(),
        tracks(),
        rules_of_practice(),
    ];
    tables.into_iter().flatten().collect()
}

#[test]
fn every_reference_number_is_met() {
    let rows = rows();
    let failures: Vec<String> = rows.iter().filter_map(Row::fails).collect();
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
    println!("{} reference numbers checked", rows.len());
    assert_eq!(rows.len(), ROWS, "rows were added or lost");
}

// ---- the list on the page ----

fn page_list() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("www/checks.json")
}

/// The rows as the page reads them, one to a line, without what the core computes for them.
fn listed(rows: &[Row]) -> String {
    let line = |row: &Row| {
        let [name, source] = [json!(row.name), json!(row.source)];
        let (expected, tolerance) = (row.expected_written(), row.tolerance);
        format!(
            r#"{{"name":{name},"source":{source},"expected":{expected},"tolerance":{tolerance}}}"#
        )
    };
    let lines: Vec<String> = rows.iter().map(line).collect();
    format!("[\n{}\n]\n", lines.join(",\n"))
}

#[test]
fn the_page_lists_these_rows() {
    let kept = std::fs::read_to_string(page_list()).expect("www/checks.json is there");
    let same = kept == listed(&rows());
    assert!(same, "run: cargo test --test reference write_the_page_list -- --ignored");
}

#[test]
#[ignore = "writes www/checks.json"]
fn write_the_page_list() {
    std::fs::write(page_list(), listed(&rows())).expect("it is written");
}

#[test]
fn every_row_has_a_name_of_its_own_and_a_source() {
    let mut seen = BTreeSet::new();
    for Row { name, source, .. } in rows() {
        assert!(!name.contains(['_', '"']), "{name}: a key is no name");
        assert!(!name.starts_with(char::is_lowercase), "{name}");
        assert!((8..=120).contains(&name.chars().count()), "{name}");
        assert!(source.len() > 8, "{name}: {source}");
        assert!(seen.insert(name.clone()), "{name} stands twice");
    }
}

// ---- designs and figures ----

/// A ring with rm 25 and dogs of 24°, but for what `changes` says.
fn ring(changes: &Value) -> Value {
    let mut ring = json!({ "inner_diameter_mm": 42, "outer_diameter_mm": 58, "tip_width_deg": 24 });
    merge(&mut ring, changes);
    ring
}

fn merge(into: &mut Value, changes: &Value) {
    for (key, value) in changes.as_object().expect("changes are given by key") {
        into[key] = value.clone();
    }
}

fn design(a: &Value, b: &Value, setting: &Value) -> Design {
    let mut saved = json!({ "crenel": 1, "a": ring(a), "b": ring(b) });
    merge(&mut saved, setting);
    open(&saved.to_string()).expect("the row's design opens").design
}

fn figure(design: &Design, key: &str) -> Option<f64> {
    let report = report_json(&Analysis::of(design));
    assert!(report["figures"].get(key).is_some(), "no figure {key}: {}", report["findings"]);
    report["figures"][key].as_f64()
}

/// A figure of a design as the page calls it, with the unit of its number.
fn called(design: &Design, key: &str) -> String {
    let figures = report::figures(&Analysis::of(design), DisplayUnits::default());
    let figure = figures.iter().find(|figure| figure.key == key).expect("the design has it");
    let label = figure.label[..1].to_lowercase() + &figure.label[1..];
    match (figure.quantity, figure.quantity.unit(DisplayUnits::default())) {
        (Quantity::Share, _) => label + ", share of 1",
        (_, "") => label,
        (_, unit) => format!("{label}, {unit}"),
    }
}

/// Rows for figures of one design: key, expected, tolerance.
fn figures(
    name: &str,
    source: &'static str,
    design: &Design,
    wanted: &[(&str, f64, f64)],
) -> Vec<Row> {
    let row = |&(key, expected, tolerance): &(&str, f64, f64)| Row {
        name: format!("{name}: {}", called(design, key)),
        source,
        computed: figure(design, key),
        expected,
        tolerance,
    };
    wanted.iter().map(row).collect()
}

// ---- what blocks what ----

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

// ---- time ----

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

// ---- speeds and inertias ----

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
        analysis.meshed.expect("the rings fit").offered.sides
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

// ---- the blow ----

fn two(input_kg_m2: f64, output_kg_m2: f64) -> Blow {
    let (input_nm, output_nm) = (0.0, 0.0);
    Blow { input_kg_m2, output_kg_m2, stiffness_nm_per_rad: 1.0, input_nm, output_nm }
}

/// A disc on the end of a shaft whose bearing seizes.
fn seized_shaft() -> Vec<Row> {
    const IMPACT: &str = "textbook torsional-impact problem; closed form Gere, Mechanics of Materials, problem 3.9-11";
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
    const EXERCISE: &str = "physics exercise";
    let row = rows_of(EXERCISE);
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
    let row = rows_of(DERIVED);
    let steady = (20.0 * 0.05) / 0.052;
    vec![
        row(
            "Blow of 0.002 and 0.05 kg·m² on 2000 N·m/rad, 20 N·m, 50 rad/s, N·m",
            blow.peak_nm(50.0, 0.0),
            119.157,
            5e-4,
        ),
        row(
            "Blow without speed difference and lash, twice the steady torque, N·m",
            blow.peak_nm(0.0, 0.0),
            2.0 * steady,
            1e-12,
        ),
    ]
}

// ---- strength and holding ----

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
        let strength = analysis.meshed.expect("the rings fit").strength.expect("dogs meet");
        let stress = strength.pairs[0].stresses[0];
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
    const DUDLEY: &str =
        "Dudley, When Splines Need Stress Control, 1957, as in Machinery's Handbook";
    const MILL: &str = "former DIN 17210 (21NiCrMo2), mill data";
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
            MILL,
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
    let row = rows_of(DERIVED);
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

// ---- metal ----

/// Ro 30, Ri 22, dogs of 30° and 5 mm, at these places of six.
fn ring_of(places: &[u32]) -> Ring {
    let dog = |&place: &u32| Dog {
        place: 0,
        centre: Angle::from_degrees(60.0 * f64::from(place)),
        tip_width: Angle::from_degrees(30.0),
        height_mm: 5.0,
        cut_down_mm: 0.0,
        narrowed_mm: Default::default(),
        lean_kept_mm: Default::default(),
        back_cut: Flanks::default(),
        edge_break_mm: 0.0,
        root_fillet_mm: 0.0,
    };
    let dogs = places.iter().map(dog).collect();
    Ring { inner_radius_mm: 22.0, outer_radius_mm: 30.0, form: PlanForm::Radial, dogs }
}

fn sector() -> Vec<Row> {
    let ring = ring_of(&[0]);
    let outline = ring.tip_outline(&ring.dogs[0]).expect("a dog has a tip");
    let moments = outline.moments();
    let row = |name: &str, computed: f64, expected: f64, tolerance: f64| Row {
        name: format!("Dog of 30° between radii of 22 and 30 mm: {name}"),
        source: GEOMETRY,
        computed: Some(computed),
        expected,
        tolerance,
    };
    vec![
        row("area, mm²", moments.area, 108.9085, 5e-5),
        row("centroid radius, mm", libm::hypot(moments.x, moments.y) / moments.area, 25.9068, 5e-5),
        row("polar moment, mm⁴", moments.polar, 75_364.71, 5e-3),
    ]
}

fn removed_dogs() -> Vec<Row> {
    let one = ring_of(&[0]).metal();
    let every_second = ring_of(&[0, 2, 4]).metal();
    let five_left = ring_of(&[0, 1, 2, 3, 4]).metal();
    let row = |name: &str, computed: f64, expected: f64, tolerance: f64| Row {
        name: format!("Dogs of 30° between radii of 22 and 30 mm, 5 mm high: {name}"),
        source: DERIVED,
        computed: Some(computed),
        expected,
        tolerance,
    };
    let taller = design(&json!({ "cuts": { "2": 7, "4": 5 } }), &json!({}), &json!({}));
    let off = figure(&taller, "a_cut_off_mass_g").unwrap_or(f64::NAN);
    vec![
        row("cut down to more than their height, metal off, g", off, 0.0, 0.0),
        row("mass of one, g", one.mass_g(), 4.2747, 5e-5),
        row("unbalance with one of six removed, g·mm", five_left.unbalance_g_mm(), 110.74, 5e-3),
        row(
            "unbalance with every second of six removed, g·mm",
            every_second.unbalance_g_mm(),
            0.0,
            1e-9,
        ),
    ]
}

// ---- the workshop ----

const HANDBOOK: &str = "Machinery's Handbook, 1916, indexing for angles";
const ARMY: &str = "US Army OD1644, plain and angular indexing";

/// A row whose number may be missing.
fn row_of(source: &'static str, name: &str, computed: Option<f64>, wanted: (f64, f64)) -> Row {
    let (expected, tolerance) = wanted;
    Row { name: name.to_owned(), source, computed, expected, tolerance }
}

fn unbalance_allowed() -> Vec<Row> {
    const CATALOGUE: &str = "worked example of a balancing catalogue";
    const ISO: &str = "ISO 21940-11, formula";
    let (allowed, eccentric) = (permissible_g_mm(6.3, 2.0, 10_000.0), permissible_um(6.3, 3000.0));
    vec![
        row_of(
            CATALOGUE,
            "Unbalance allowed, 2 kg, G 6.3, 10 000 rpm, g·mm",
            allowed,
            (12.03, 5e-3),
        ),
        row_of(
            CATALOGUE,
            "Unbalance allowed, 2 kg, G 6.3, 10 000 rpm, rounded as printed, g·mm",
            allowed.map(f64::round),
            (12.0, 0.0),
        ),
        row_of(ISO, "Offset of the mass allowed, G 6.3, 3000 rpm, µm", eccentric, (20.05, 5e-3)),
    ]
}

/// Spaces of a ring with as much space as tooth.
fn equal_spaces(count: u32) -> Vec<Space> {
    let step = Angle::FULL / f64::from(count);
    (0..count).map(|at| Space::radial(step * f64::from(at), step / 2.0)).collect()
}

/// N 6, Ri 22, Ro 30, tooth and space equal; and which counts can be cut right across.
fn cutters() -> Vec<Row> {
    const CLUTCH: &str = "Machinery's Handbook, cutting clutch teeth";
    let range = Range::of(&equal_spaces(6), 22.0, 30.0);
    let mut rows = vec![
        row_of(
            DERIVED,
            "6 equal teeth and spaces, radii 22 and 30 mm: narrowest cutter in two passes, mm",
            range.narrowest_mm,
            (7.765, 5e-4),
        ),
        row_of(
            DERIVED,
            "6 equal teeth and spaces, radii 22 and 30 mm: widest cutter past the next dog, mm",
            range.widest_mm,
            (11.0, 1e-9),
        ),
    ];
    for count in 3..=8 {
        let across = runs_across(&equal_spaces(count), 7.0, 22.0, 30.0);
        let expected = f64::from(count % 2);
        let name = format!("{count} equal teeth and spaces: cutter can run right across, 1 is yes");
        rows.push(row_of(CLUTCH, &name, Some(f64::from(across)), (expected, 0.0)));
    }
    rows
}

fn cut_off_wheel() -> Vec<Row> {
    const WHEELS: &str = "tables of cut-off wheels";
    vec![
        row_of(
            WHEELS,
            "Cut-off wheel of 125 mm for 80 m/s: most, rpm",
            most_rpm(80.0, 125.0),
            (12_200.0, 0.0),
        ),
        // 12 200 rpm of 125 mm are 79.85 m/s at the rim.
        row_of(
            ARITHMETIC,
            "Cut-off wheel of 125 mm for 79.85 m/s: most, rpm",
            most_rpm(79.85, 125.0),
            (12_200.0, 0.0),
        ),
        row_of(
            ARITHMETIC,
            "Cut-off wheel of 125 mm for 79.84 m/s: most, rpm",
            most_rpm(79.84, 125.0),
            (12_100.0, 0.0),
        ),
    ]
}

fn grits() -> Vec<Row> {
    let row = |(name, expected): (&str, f64)| {
        let grit = GRITS.iter().find(|grit| grit.name == name).map(|grit| grit.median_um);
        row_of(
            "FEPA, ISO 6344",
            &format!("Grit {name}: middle size of grain, µm"),
            grit,
            (expected, 0.0),
        )
    };
    [("P220", 68.0), ("P400", 35.0), ("P800", 21.8)].map(row).into()
}

fn general_tolerances() -> Vec<Row> {
    const ISO: &str = "ISO 2768-1, class m";
    let linear = [(2.0, 0.1), (5.0, 0.1), (22.0, 0.2), (60.0, 0.3), (200.0, 0.5)];
    let angles = [(8.0, 60.0), (22.0, 30.0), (60.0, 20.0), (200.0, 10.0)];
    let mut rows: Vec<Row> = linear
        .iter()
        .map(|&(size, tolerance)| {
            row_of(
                ISO,
                &format!("General tolerance of a length of {size} mm, ± mm"),
                linear_mm(size),
                (tolerance, 0.0),
            )
        })
        .collect();
    rows.extend(angles.iter().map(|&(leg, minutes)| {
        let computed = angular(leg).map(|angle| angle.degrees() * 60.0);
        row_of(
            ISO,
            &format!("General tolerance of an angle with a leg of {leg} mm, ± minutes"),
            computed,
            (minutes, 1e-9),
        )
    }));
    let flank = angular(22.0).map(|angle| arc_mm(angle, 26.0));
    rows.push(row_of(
        ISO,
        "General tolerance of a flank of 22 mm at a radius of 26 mm, ± mm",
        flank,
        (0.23, 5e-3),
    ));
    rows
}

/// What a head of 40:1 with all plates does for an angle, on one circle.
fn on_circle(degrees: f64, circle: u16) -> Option<Fit> {
    let fits = Dividing::default().fits(Angle::from_degrees(degrees));
    fits.into_iter().find(|fit| fit.crank.circle == circle)
}

/// Turns and holes on one circle, and that they are exact.
fn exact_rows(source: &'static str, name: &str, degrees: f64, crank: (u32, u16, u16)) -> Vec<Row> {
    let (turns, holes, circle) = crank;
    let fit = on_circle(degrees, circle);
    let name = |what| format!("{name} on a head of 40:1, circle of {circle} holes: {what}");
    let turns_got = fit.map(|fit| f64::from(fit.crank.turns));
    let holes_got = fit.map(|fit| f64::from(fit.crank.holes));
    let error = fit.map(|fit| fit.error_min);
    vec![
        row_of(source, &name("whole turns"), turns_got, (turns.into(), 0.0)),
        row_of(source, &name("holes on"), holes_got, (holes.into(), 0.0)),
        row_of(source, &name("error, minutes"), error, (0.0, 1e-9)),
    ]
}

fn divisions() -> Vec<Row> {
    let table = [
        (6, (6, 12, 18)),
        (6, (6, 26, 39)),
        (8, (5, 0, 15)),
        (14, (2, 18, 21)), // 2 6/7
        (42, (0, 20, 21)),
    ];
    let row = |(count, crank)| {
        exact_rows(ARMY, &format!("{count} divisions"), 360.0 / f64::from(count), crank)
    };
    table.into_iter().flat_map(row).collect()
}

fn angles_on_circles() -> Vec<Row> {
    let mut rows = exact_rows(HANDBOOK, "35°", 35.0, (3, 16, 18));
    rows.extend(exact_rows(HANDBOOK, "11°30′", 11.5, (1, 5, 18)));
    rows.extend(exact_rows(ARMY, "54′", 0.9, (0, 2, 20)));
    rows
}

/// 24′: no circle has it; and the circle chosen for it by the set of three plates and by all.
fn nearest_hole() -> Vec<Row> {
    let three = Dividing { ratio: 40, plates: PLATES[..3].to_vec() };
    let mut rows = Vec::new();
    for (name, head) in [("three plates", three), ("all plates", Dividing::default())] {
        let fit = head.nearest(Angle::from_degrees(0.4));
        let circle = fit.map(|fit| f64::from(fit.crank.circle));
        let holes = fit.map(|fit| f64::from(fit.crank.holes));
        let error = fit.map(|fit| fit.error_min);
        let name = |what| format!("24′ on a head of 40:1 with {name}: {what}");
        rows.push(row_of(ARMY, &name("holes of the nearest circle"), circle, (23.0, 0.0)));
        rows.push(row_of(ARMY, &name("holes on"), holes, (1.0, 0.0)));
        rows.push(row_of(ARITHMETIC, &name("error, minutes"), error, (-0.522, 5e-4)));
    }
    rows
}

/// 60° by handle and dial.
fn rotary_tables() -> Vec<Row> {
    let table =
        [(40, 6.0, 6.0), (60, 10.0, 0.0), (72, 12.0, 0.0), (80, 13.0, 1.5), (90, 15.0, 0.0)];
    let rows = table.into_iter().flat_map(|(ratio, turns, rest)| {
        let usual = TABLES.into_iter().find(|table| table.ratio == ratio);
        let dial = usual.and_then(|table| table.dial(Angle::from_degrees(60.0)));
        let name = |what| format!("60° on a rotary table of {ratio}:1: {what}");
        [
            row_of(
                ARITHMETIC,
                &name("turns of the handle"),
                dial.map(|d| f64::from(d.turns)),
                (turns, 0.0),
            ),
            row_of(
                ARITHMETIC,
                &name("rest on the dial, °"),
                dial.map(|d| d.rest.degrees()),
                (rest, 1e-12),
            ),
        ]
    });
    rows.collect()
}

// ---- section 10: chains along the shaft ----

const TOLERANCES: &str = "published tolerance example: three parts in a housing";

fn chain_of(sizes: &[(f64, f64, bool)]) -> Chain {
    let link = |&(size_mm, tolerance_mm, opens)| Link { size_mm, tolerance_mm, opens };
    Chain { links: sizes.iter().map(link).collect() }
}

fn chains() -> Vec<Row> {
    let row = rows_of(TOLERANCES);
    let chain = chain_of(&[
        (4.020, 0.005, true),
        (2.000, 0.005, false),
        (1.500, 0.003, false),
        (0.500, 0.002, false),
    ]);
    vec![
        row("Three parts in a housing of 4.02 mm: gap, mm", chain.gap_mm(), 0.020, 1e-12),
        row(
            "Three parts in a housing of 4.02 mm: gap at worst, ± mm",
            chain.worst_mm(),
            0.015,
            1e-12,
        ),
        row("Three parts in a housing of 4.02 mm: gap by RSS, ± mm", chain.rss_mm(), 0.00794, 5e-6),
    ]
}

/// The same sizes through a design: clearance, and the overlap that a throw of 5 with a play of 0.2 gives.
fn depth_of_a_design() -> Vec<Row> {
    let wanted = [
        ("clearance_this_mm", 0.020, 1e-12),
        ("least_clearance_this_mm", 0.020 - 0.015 - 0.1, 1e-12),
        ("pushed_in_this_mm", 5.0 - 0.020 - 0.1, 1e-12),
        ("drawn_in_this_mm", 5.0 - 0.020 + 0.1, 1e-12),
        ("clearance_other_mm", 0.27, 1e-12),
        ("shim_mm", 0.1, 1e-12),
    ];
    figures("Sliding gear between two pairs", DERIVED, &stacked(), &wanted)
}

fn stacked() -> Design {
    let text = r#"{ "crenel": 1, "depth": {
        "throw_this_mm": 5, "fork_thickness_mm": 5.8, "groove_width_mm": 6, "shim_step_mm": 0.05,
        "this": [
            { "size_mm": 4.02, "tolerance_mm": 0.005, "way": "opens" }, { "size_mm": 2, "tolerance_mm": 0.005 },
            { "size_mm": 1.5, "tolerance_mm": 0.003 }, { "size_mm": 0.5, "tolerance_mm": 0.002 }
        ],
        "other": [{ "size_mm": 0.27, "tolerance_mm": 0, "way": "opens" }]
    } }"#;
    open(text).expect("it opens").design
}

// ---- section 11: linkage, claw and detent ----

const UICKER: &str =
    "solved problem in Uicker, Pennock, Shigley, Theory of Machines and Mechanisms";

/// Frame 154.34, crank 63.5, coupler 165.5, rocker 114.0: the extremes of the transmission angle stand
/// where the crank lies along the frame.
fn four_bar() -> Vec<Row> {
    let bars = FourBar { arm_mm: 63.5, rod_mm: 165.5, lever_mm: 114.0, apart_mm: 154.34 };
    let at = |deg: f64| bars.transmission(deg.to_radians()).map(f64::to_degrees);
    let worst = |from: f64, turn: f64| {
        let angle = bars.worst_transmission(from.to_radians(), turn.to_radians());
        angle.map(f64::to_degrees)
    };
    vec![
        row_of(
            UICKER,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: least transmission angle, °",
            at(0.0),
            (31.61, 5e-3),
        ),
        row_of(
            UICKER,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: largest transmission angle, °",
            at(180.0),
            (100.80, 5e-3),
        ),
        row_of(
            UICKER,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: worst over a whole turn, °",
            worst(10.0, 360.0),
            (31.61, 5e-3),
        ),
        row_of(
            UICKER,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: worst over a whole turn backwards, °",
            worst(10.0, -360.0),
            (31.61, 5e-3),
        ),
        row_of(
            "machine design, as in Uicker, Pennock, Shigley",
            "Transmission angle, at least, °",
            Some(CRAMPED[0]),
            (40.0, 0.0),
        ),
        row_of(
            "machine design, as in Uicker, Pennock, Shigley",
            "Transmission angle, better at least, °",
            Some(CRAMPED[1]),
            (45.0, 0.0),
        ),
        // A right triangle of 3, 4, 5: arm 0, so that the diagonal is the frame.
        row_of(
            ARITHMETIC,
            "Rod of 3, lever of 4, diagonal of 5: transmission angle, °",
            square_corner(),
            (90.0, 1e-9),
        ),
    ]
}

fn square_corner() -> Option<f64> {
    let bars = FourBar { arm_mm: 1.0, rod_mm: 3.0, lever_mm: 4.0, apart_mm: 6.0 };
    // With the arm along the frame the diagonal is 5.
    bars.transmission(0.0).map(f64::to_degrees)
}

fn detents() -> Vec<Row> {
    let row = rows_of(DERIVED);
    let detent =
        Detent { force_n: 30.0, radius_mm: 18.0, flank: Angle::from_degrees(35.0), friction: 0.12 };
    let smooth = Detent { friction: 0.0, ..detent };
    // tan(45° ± ρ) = (1 ± μ)/(1 ∓ μ): with μ = 0.5 three times and a third of 30 · 18.
    let half = Detent { flank: Angle::from_degrees(45.0), friction: 0.5, ..detent };
    // A flank as steep as its angle of friction, atan 0.2.
    let even = Detent { flank: Angle::from_degrees(11.309_932_474), friction: 0.2, ..detent };
    let star = Star { positions: 6.0, radius_mm: 18.0, crest_mm: 1.0, holds: false };
    vec![
        row(
            "Detent of 30 N at 18 mm, 35°, μ 0.12: lifts, N·mm",
            detent.hold_nmm().unwrap_or(f64::NAN),
            483.54,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 35°, μ 0.12: brings home, N·mm",
            detent.return_nmm(),
            289.03,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 35°, no friction: lifts, N·mm",
            smooth.hold_nmm().unwrap_or(f64::NAN),
            378.11,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 35°, no friction: brings home, N·mm",
            smooth.return_nmm(),
            378.11,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 45°, μ 0.5: lifts, N·mm",
            half.hold_nmm().unwrap_or(f64::NAN),
            1620.0,
            1e-9,
        ),
        row(
            "Detent of 30 N at 18 mm, 45°, μ 0.5: brings home, N·mm",
            half.return_nmm(),
            180.0,
            1e-9,
        ),
        row(
            "Detent as steep as its angle of friction: brings home, N·mm",
            even.return_nmm(),
            0.0,
            1e-6,
        ),
        row(
            "Star with a crest of 1 mm at 18 mm: roller can stand to either side, °",
            star.stand().degrees(),
            1.5915,
            5e-5,
        ),
    ]
}

/// Six pins on a radius of 10, shaft at 46: half a step is seen from the shaft under
/// atan(5/(46 − 8.66025)) = 7.6270°, at a distance of 37.6730.
fn claws() -> Vec<Row> {
    let row = rows_of(DERIVED);
    let claw = Claw {
        positions: 6.0,
        pin_radius_mm: 10.0,
        apart_mm: 46.0,
        play_mm: [1.0, 1.0],
        travel_mm: [9.6, 10.4],
        stop_radius_mm: 30.0,
        eccentric_mm: 0.8,
        eccentric_at: Angle::ZERO,
        wanted_mm: 1.0,
    };
    let [lift, press] = claw.gaps_mm();
    let centred = claw.centred().map_or(f64::NAN, Angle::degrees);
    let straight = Claw { apart_mm: 1e7, ..claw };
    let home =
        claw.pushed(Stroke::Lift, Angle::from_degrees(15.2540 + 1.0_f64.to_degrees() / 37.6730));
    vec![
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: swing for a step, °",
            claw.swing().degrees(),
            15.2540,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: radius of the hook, mm",
            claw.hook_radius_mm(),
            37.6730,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: gap at the stop, lifting, mm",
            lift,
            10.0297 + 1.0 - 9.6,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: gap at the stop, pressing, mm",
            press,
            10.0297 + 1.0 - 10.4,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: drum after swing and play, °",
            home.degrees(),
            60.0,
            5e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: eccentric for equal gaps, °",
            centred,
            23.4634,
            5e-4,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: stop thinner for a gap of 1 mm, mm",
            claw.stop_thinner_mm(),
            0.0471,
            5e-5,
        ),
        row(
            "Claw, six pins at 10 mm, shaft very far off: pull for a step, mm",
            straight.swing_mm(),
            10.0,
            1e-5,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: one step of the drum, °",
            claw.step().degrees(),
            60.0,
            1e-12,
        ),
    ]
}

/// Rows of the report of a design, by the figure's key.
fn figure_rows(
    source: &'static str,
    name: &str,
    text: &str,
    rows: &[(&str, f64, f64)],
) -> Vec<Row> {
    figures(name, source, &open(text).expect("it opens").design, rows)
}

/// A parallelogram turns the shaft as far as the pedal: 36 mm on an arm of 130 are 15.8665°, which rod
/// and lever are off square then. On the shaft itself the pedal does the same without a rod.
fn placed_pedals() -> Vec<Row> {
    let parallel = r#"{ "crenel": 1, "linkage": {
        "shaft_ahead_mm": 125, "shaft_above_mm": 0, "pedal_arm_mm": 35, "rod_mm": 125, "shaft_lever_mm": 35
    } }"#;
    let on_shaft = r#"{ "crenel": 1, "linkage": { "pedal_by": "on_shaft" } }"#;
    let mut rows = figure_rows(
        DERIVED,
        "Pedal and lever of 35 mm on a parallelogram",
        parallel,
        &[
            ("shaft_swing_lift_deg", 15.8665, 5e-5),
            ("shaft_swing_press_deg", 15.8665, 5e-5),
            ("shaft_per_foot_deg", 0.440_737, 5e-7),
        ],
    );
    let worst = figure_rows(DERIVED, "", parallel, &[("transmission_worst_deg", 0.0, 0.0)]);
    let off = worst[0].computed.map(|angle| (angle - 90.0).abs());
    rows.push(row_of(
        DERIVED,
        "Pedal and lever of 35 mm on a parallelogram: rod off square at worst, °",
        off,
        (15.8665, 5e-5),
    ));
    rows.extend(figure_rows(
        DERIVED,
        "Pedal on the selector shaft",
        on_shaft,
        &[("shaft_swing_lift_deg", 15.8665, 5e-5), ("shaft_per_foot_deg", 0.440_737, 5e-7)],
    ));
    rows
}

/// The pin half a step off moves at 30° + 7.6270° to the square of the hook's line, so that the drum
/// turns 37.6730/(10·cos 37.6270°) = 4.7567 for the shaft; 483.54 N·mm times that on 130 mm.
fn feet_on_the_detent() -> Vec<Row> {
    let text =
        r#"{ "crenel": 1, "linkage": { "pedal_by": "on_shaft" }, "claw": {}, "detent": {} }"#;
    figure_rows(
        DERIVED,
        "Pedal on the selector shaft, usual claw and detent",
        text,
        &[("foot_over_detent_n", 17.693, 5e-3)],
    )
}

/// A flank of 5.8 mm from 12° to 54°, 0.1381 mm for a degree: rocking by 20° takes the drum from 60° back
/// to 50°, 4° before the end of the flank; one of seven positions stands at 51.43°, 2.57° before it.
fn tracks() -> Vec<Row> {
    let track = r#""track": { "track_start_deg": 12, "track_end_deg": 54, "fork_throw_mm": 5.8 }"#;
    let six = format!(r#"{{ "crenel": 1, {track}, "detent": {{ "drum_slack_deg": 20 }} }}"#);
    let seven = format!(r#"{{ "crenel": 1, {track}, "claw": {{ "drum_positions": 7 }} }}"#);
    let mut rows = figure_rows(
        ARITHMETIC,
        "Track of 5.8 mm over 42°, six positions",
        &six,
        &[("fork_at_home_mm", 5.8, 1e-12), ("rocking_costs_mm", 0.5524, 5e-5)],
    );
    rows.extend(figure_rows(
        ARITHMETIC,
        "Track of 5.8 mm over 42°, seven positions",
        &seven,
        &[("fork_at_home_mm", 5.4449, 5e-5), ("overlap_per_degree_mm", 0.1381, 5e-5)],
    ));
    rows
}

/// The gap left at the stop where a design does not say, and the share of the dogs that ought to be
/// engaged: three quarters of 5 mm.
fn rules_of_practice() -> Vec<Row> {
    let text = r#"{ "crenel": 1, "depth": { "throw_this_mm": 3, "this": [{ "size_mm": 1, "way": "opens" }] } }"#;
    let findings = Analysis::of(&open(text).expect("it opens").design).findings;
    let shallow = findings.iter().find(|finding| finding.code == "engaged_too_little");
    let wanted = shallow.and_then(|finding| finding.numbers.get(2)).map(|(_, mm)| *mm);
    let gap = FieldId::GapWanted.spec().default;
    vec![
        row_of(PRACTICE, "Gap left at the stop of the claw, mm", Some(gap), (1.0, 0.0)),
        row_of(PRACTICE, "Dogs of 5 mm ought to be engaged, at least, mm", wanted, (3.75, 1e-12)),
    ]
}
