//! The metal of one ring.

use crenel::ring::{Dog, PerFlank, PlanForm, Ring};
use crenel::units::Angle;
use serde_json::json;

use super::designs::{design, figure};
use super::row::{DERIVED, Row, Source};

const GEOMETRY: Source = Source::derived("geometry of the circular sector");

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [sector(), removed_dogs()].into_iter().flatten().collect()
}

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
        back_cut: PerFlank::default(),
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
