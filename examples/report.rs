//! Prints the report of a design as JSON.
//!
//! `cargo run --example report -- DESIGN.json`; `-` reads standard input. A design whose pair
//! cannot be worked out exits with 1 and all findings on standard error. The keys are documented in `crenel::report`.

use std::io::{Read as _, Write as _};
use std::process::ExitCode;

use crenel::design::open;
use crenel::finding::Finding;
use crenel::report::{Analysis, report_json};

fn main() -> ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        eprintln!("Say which design: report DESIGN.json, or - for standard input.");
        return ExitCode::from(2);
    };
    let text = match read(&path) {
        Ok(text) => text,
        Err(e) => {
            eprintln!("{path} cannot be read: {e}.");
            return ExitCode::FAILURE;
        }
    };
    let opened = match open(&text) {
        Ok(opened) => opened,
        Err(findings) => return refuse(&findings),
    };
    let analysis = Analysis::of(&opened.design);
    tell(&opened.findings);
    if analysis.meshed.is_none() {
        return refuse(&analysis.findings);
    }
    // A reader that stops half way, as `head` does, is no failure.
    let _ = writeln!(std::io::stdout(), "{:#}", report_json(&analysis));
    ExitCode::SUCCESS
}

fn read(path: &str) -> std::io::Result<String> {
    if path == "-" {
        let mut text = String::new();
        std::io::stdin().read_to_string(&mut text)?;
        return Ok(text);
    }
    std::fs::read_to_string(path)
}

fn refuse(findings: &[Finding]) -> ExitCode {
    tell(findings);
    ExitCode::FAILURE
}

fn tell(findings: &[Finding]) {
    for finding in findings {
        let text = finding.text(Default::default());
        eprintln!("{}: {text} {}", finding.severity.name(), finding.hint);
    }
}
