//! The kept schema of the report is the one that the catalogues make.
//!
//! `CRENEL_ACCEPT=1 cargo test --test report_schema` writes it anew.

use std::fs;
use std::path::Path;

use crenel::report::report_schema;

#[test]
fn the_kept_schema_is_up_to_date() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/report/report.schema.json");
    let now = format!("{:#}\n", report_schema());
    if std::env::var_os("CRENEL_ACCEPT").is_some() {
        fs::write(&file, &now).expect("the file can be written");
    }
    let kept = fs::read_to_string(&file).unwrap_or_default().replace('\r', "");
    assert!(kept == now, "CRENEL_ACCEPT=1 cargo test --test report_schema writes it anew");
}
