//! Prints the report of a design as JSON.
//!
//! `cargo run --example report -- DESIGN.json`; `-` reads standard input. A design whose pair
//! cannot be worked out exits with 1 and all findings on standard error. `--schema` prints the
//! JSON Schema of the report instead, with the meaning and unit of every key.

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::analysis::Analysis;
use crenel::report::{report_json, report_schema};
use shell::Failure;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let [path, ..] = arguments else {
        let usage = "Give a design: report DESIGN.json, or - for standard input; --schema prints the JSON Schema of \
            the report.";
        return Err(Failure::Call(usage.to_owned()));
    };
    if path == "--schema" {
        return Ok(format!("{:#}\n", report_schema()));
    }
    let analysis = Analysis::of(&shell::design(path)?.design);
    if analysis.pair.is_none() {
        return Err(shell::sentences(&analysis.findings).into());
    }
    Ok(format!("{:#}\n", report_json(&analysis)))
}
