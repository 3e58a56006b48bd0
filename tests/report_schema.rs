//! The kept schemas of the reports are those that the catalogues make.
//!
//! `CRENEL_ACCEPT=1 cargo test --test report_schema` writes it anew.

use std::fs;
use std::path::Path;

use crenel::report::{gearset_schema, report_schema};
use serde_json::Value;

#[test]
fn the_kept_schemas_are_up_to_date() {
    check("src/report/report.schema.json", &report_schema());
    check("src/report/gearset.schema.json", &gearset_schema());
}

fn check(file: &str, schema: &Value) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
    let now = format!("{schema:#}\n");
    if std::env::var_os("CRENEL_ACCEPT").is_some() {
        fs::write(&file, &now).expect("the file can be written");
    }
    let kept = fs::read_to_string(&file).unwrap_or_default().replace('\r', "");
    assert!(kept == now, "CRENEL_ACCEPT=1 cargo test --test report_schema writes it anew");
}
