//! Prints the report of a design as JSON.
//!
//! `cargo run --example report -- DESIGN.json`; `-` reads standard input. A design whose pair
//! cannot be worked out exits with 1 and all findings on standard error. The keys are documented in `crenel::report`.

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::analysis::Analysis;
use crenel::report::report_json;
use shell::Failure;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let [path, ..] = arguments else {
        let usage = "Say which design: report DESIGN.json, or - for standard input.";
        return Err(Failure::Call(usage.to_owned()));
    };
    let analysis = Analysis::of(&shell::design(path)?.design);
    if analysis.pair.is_none() {
        return Err(shell::sentences(&analysis.findings).into());
    }
    Ok(format!("{:#}\n", report_json(&analysis)))
}
