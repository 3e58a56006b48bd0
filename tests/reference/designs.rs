//! Designs as the saved form writes them, and rows for the figures of their reports.

use crenel::analysis::Analysis;
use crenel::design::{Design, open};
use crenel::report::report_json;
use crenel::units::{DisplayUnits, Quantity};
use serde_json::{Value, json};

use super::row::{Row, Source};

/// The saved form of a ring with a mean radius of 25 mm and dogs of 24°, changed by `changes`.
fn ring(changes: &Value) -> Value {
    let mut ring = json!({ "inner_diameter_mm": 42, "outer_diameter_mm": 58, "tip_width_deg": 24 });
    merge(&mut ring, changes);
    ring
}

/// Sets each key of `changes` in `into`.
pub(crate) fn merge(into: &mut Value, changes: &Value) {
    for (key, value) in changes.as_object().expect("changes are given by key") {
        into[key] = value.clone();
    }
}

/// The design with these changes to the usual rings and to the pair.
pub(crate) fn design(a: &Value, b: &Value, setting: &Value) -> Design {
    let mut saved = json!({ "crenel": 1, "a": ring(a), "b": ring(b) });
    merge(&mut saved, setting);
    open(&saved.to_string()).expect("the row's design opens").design
}

/// A figure of the design's report by its key.
pub(crate) fn figure(design: &Design, key: &str) -> Option<f64> {
    let report = report_json(&Analysis::of(design));
    assert!(report["figures"].get(key).is_some(), "no figure {key}: {}", report["findings"]);
    report["figures"][key].as_f64()
}

/// The label of a figure as the page writes it, with the unit of its number.
fn label_with_unit(design: &Design, key: &str) -> String {
    let figures = crenel::figures::figures(&Analysis::of(design));
    let figure = figures.iter().find(|value| value.figure.key == key).expect("the design has it");
    let figure = figure.figure;
    let label = figure.label[..1].to_lowercase() + &figure.label[1..];
    match (figure.quantity, figure.quantity.unit(DisplayUnits::default())) {
        (Quantity::Share, _) => label + ", share of 1",
        (_, "") => label,
        (_, unit) => format!("{label}, {unit}"),
    }
}

/// Rows for figures of one design, each given as key, expected number and tolerance.
pub(crate) fn figures(
    name: &str,
    source: Source,
    design: &Design,
    wanted: &[(&str, f64, f64)],
) -> Vec<Row> {
    let row = |&(key, expected, tolerance): &(&str, f64, f64)| Row {
        name: format!("{name}: {}", label_with_unit(design, key)),
        source,
        computed: figure(design, key),
        expected,
        tolerance,
    };
    wanted.iter().map(row).collect()
}
