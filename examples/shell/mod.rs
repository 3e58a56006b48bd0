//! What the examples that answer arguments with a text share.

use std::io::Write as _;
use std::process::ExitCode;

/// Answers the arguments of the program on standard output. What cannot be answered exits with 1 and
/// a sentence on standard error.
pub(crate) fn run(answer: fn(&[String]) -> Result<String, String>) -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match answer(&arguments) {
        Ok(text) => {
            // A reader that stops half way, as `head` does, is no failure.
            let _ = write!(std::io::stdout(), "{text}");
            ExitCode::SUCCESS
        }
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}
