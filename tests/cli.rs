//! The `report` example as a program: what it prints where, and how it exits.
//!
//! `cargo test` builds the examples before it runs the tests. To run this file alone, build them
//! first with `cargo build --examples`.

use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use crenel::design::open;
use crenel::report::{Analysis, report_json};
use serde_json::Value;

const GOOD: &str = r#"{
    "crenel": 1, "title": "Second gear", "overlap_mm": 4.2,
    "a": { "heights": [1, 0.5], "back_cut_drive_deg": 3, "cuts": { "2": "remove", "4": 2.5 } },
    "b": { "size_by": "gap", "gap_deg": 40 }
}"#;

/// The example beside this test's own folder, `target/*/deps`.
fn program() -> PathBuf {
    let this = std::env::current_exe().expect("a test knows where it is");
    let target = this.parent().and_then(|deps| deps.parent()).expect("it lies in target/*/deps");
    let name = format!("report{}", std::env::consts::EXE_SUFFIX);
    let program = target.join("examples").join(name);
    assert!(program.exists(), "{} is missing: cargo build --examples", program.display());
    program
}

fn run(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(program())
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the example starts");
    let mut stdin = child.stdin.take().expect("its input is piped");
    // One that needs no input is gone before it is written; that is no fault.
    let _ = stdin.write_all(input.as_bytes());
    drop(stdin);
    child.wait_with_output().expect("the example ends")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("the example writes UTF-8")
}

/// Puts a design in a file of its own for as long as `with` runs.
fn with_file<T>(name: &str, content: &str, with: impl FnOnce(&str) -> T) -> T {
    let name = format!("crenel-cli-{}-{name}.json", std::process::id());
    let path = std::env::temp_dir().join(name);
    std::fs::write(&path, content).expect("the temporary folder can be written");
    let result = with(path.to_str().expect("its path is plain"));
    std::fs::remove_file(&path).expect("the file is still there");
    result
}

#[test]
fn a_good_design_is_reported_from_a_file_and_from_standard_input() {
    let expected = report_json(&Analysis::of(&open(GOOD).expect("it is good").design));
    assert_eq!(expected["computed"], true);
    let from_file = with_file("good", GOOD, |path| run(&[path], ""));
    let from_input = run(&["-"], GOOD);
    for output in [from_file, from_input] {
        assert!(output.status.success());
        let report: Value = serde_json::from_slice(&output.stdout).expect("it prints JSON");
        assert_eq!(report, expected);
        assert_eq!(text(&output.stderr), "");
    }
}

/// What is refused: the input, how many errors stand on lines of their own, and what they say.
type Refused<'a> = (&'a str, usize, &'a [&'a str]);

#[test]
fn bad_input_is_refused_with_every_reason_and_nothing_on_standard_output() {
    let cases: &[Refused] = &[
        ("", 1, &["error: This is not JSON"]),
        ("{\"crenel\": 1,", 1, &["error: This is not JSON"]),
        ("[1, 2]", 1, &["error: This is JSON, but not a design"]),
        ("{\"title\": \"x\"}", 1, &["the key “crenel” with the version is missing"]),
        (
            r#"{ "crenel": 2, "a": 5 }"#,
            1,
            &["This design has version 2; this app reads up to version 1", "Reload the page"],
        ),
        (
            r#"{ "crenel": 1, "title": 7, "a": { "count": "six" }, "travel_by": "foot" }"#,
            3,
            &[
                "“title” is not a text",
                "“count” (Ring A: dog places) is not a number",
                "“travel_by” cannot be \"foot\"",
            ],
        ),
        (
            r#"{ "crenel": 1, "a": { "count": 200 }, "b": { "height_mm": -1 }, "slip_rpm": 30000 }"#,
            3,
            &[
                "Ring A: dog places is 200; it must be from 1 to 96.",
                "Ring B: dog height is -1 mm; it must be from 0.2 mm to 50 mm.",
                "Speed difference is 30000 rpm; it must be from -20000 rpm to 20000 rpm.",
            ],
        ),
        (
            r#"{ "crenel": 1, "b": { "inner_diameter_mm": 70, "outer_diameter_mm": 90 } }"#,
            1,
            &["The dogs of Ring B begin at 70 mm, but those of Ring A end at 60 mm"],
        ),
    ];
    for (input, errors, reasons) in cases {
        let output = run(&["-"], input);
        let told = text(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{input}: {told}");
        assert_eq!(text(&output.stdout), "", "{input}");
        for reason in *reasons {
            assert!(told.contains(reason), "{input}: {told}");
        }
        let lines = told.lines().filter(|line| line.starts_with("error: "));
        assert_eq!(lines.count(), *errors, "{input}: {told}");
    }
}

#[test]
fn unknown_keys_are_warned_of_and_left_out() {
    let odd = r#"{ "crenel": 1, "colour": "red", "a": { "dogs": [{ "wdith": 3 }] } }"#;
    let output = run(&["-"], odd);
    assert!(output.status.success());
    let told = text(&output.stderr);
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!(lines.len(), 2, "{told}");
    for (line, key) in lines.iter().zip(["a.dogs[0].wdith", "colour"]) {
        let start = format!("warning: “{key}” is not known here and is left out.");
        assert!(line.starts_with(&start), "{line}");
    }
    let report: Value = serde_json::from_slice(&output.stdout).expect("it prints JSON");
    assert_eq!(report["computed"], true);
}

#[test]
fn a_call_without_a_design_or_with_a_missing_one_says_so() {
    let output = run(&[], "");
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).starts_with("Say which design"));
    let output = run(&["no/such/design.json"], "");
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).starts_with("no/such/design.json cannot be read"));
    assert_eq!(text(&output.stdout), "");
}
