//! The faults that `make mutants` puts into the core follow the code.

use std::fs;
use std::path::Path;

use serde_json::Value;

#[test]
fn every_fault_has_its_place_in_the_code() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let read = |file: &str| fs::read_to_string(root.join(file)).unwrap_or_default();
    let list: Vec<Value> =
        serde_json::from_str(&read("tools/mutants/faults.json")).expect("the list is JSON");
    assert!(list.len() > 30, "{} faults", list.len());
    for fault in &list {
        let [file, text, instead, what] =
            ["file", "text", "fault", "what"].map(|key| fault[key].as_str().expect(key));
        let found = read(file).matches(text).count();
        assert_eq!(found, 1, "“{text}” in {file}, of the fault “{what}”");
        assert_ne!(text, instead, "{what}");
    }
}
