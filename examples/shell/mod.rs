//! What the examples share: arguments, designs from files, and answers that arrive whole or not at all.

// Each example is a program of its own and takes what it needs.
#![allow(dead_code)]

use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::Path;
use std::process::ExitCode;

use crenel::design::{FILE_LIMIT, Opened, read};
use crenel::finding::Finding;
use crenel_words::Reader;
use serde_json::Value;

/// Why there is no answer.
pub(crate) enum Failure {
    /// The program was called the wrong way; exits with 2.
    Call(String),
    /// What was asked for cannot be done; exits with 1.
    Work(String),
}

impl From<String> for Failure {
    fn from(message: String) -> Self {
        Self::Work(message)
    }
}

/// Answers the arguments of the program on standard output. What cannot be answered exits with 1 or 2
/// and a sentence on standard error, and so does an answer that cannot be written.
pub(crate) fn run(answer: impl FnOnce(&[OsString]) -> Result<String, Failure>) -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    let (message, code) = match answer(&arguments).and_then(|text| print(&text)) {
        Ok(()) => return ExitCode::SUCCESS,
        Err(Failure::Call(message)) => (message, 2),
        Err(Failure::Work(message)) => (message, 1),
    };
    eprintln!("{}", message.trim_end());
    ExitCode::from(code)
}

/// The same for arguments that are words and numbers.
pub(crate) fn run_on_words(answer: fn(&[String]) -> Result<String, String>) -> ExitCode {
    run(|arguments| Ok(answer(&words(arguments)?)?))
}

fn words(arguments: &[OsString]) -> Result<Vec<String>, Failure> {
    let word = |argument: &OsString| match argument.to_str() {
        Some(word) => Ok(word.to_owned()),
        None => Err(format!("“{}” is not text. Type it again.", argument.display()).into()),
    };
    arguments.iter().map(word).collect()
}

/// Writes the answer. A reader that stops half way, as `head` does, is no failure.
fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(format!("Standard output cannot be written: {e}.").into())
        }
        _ => Ok(()),
    }
}

/// The design in a file, or on standard input where the path is `-`. What is odd about it goes to
/// standard error.
pub(crate) fn design(path: &OsStr) -> Result<Opened, Failure> {
    let bytes = bytes(path);
    let bytes = bytes.map_err(|e| format!("{} cannot be read: {e}.", path.display()))?;
    let opened = read(&bytes).map_err(|findings| sentences(&findings))?;
    eprint!("{}", sentences(&opened.findings));
    Ok(opened)
}

/// Answers each case of a list in a file, or on standard input where the path is `-`, with a line.
pub(crate) fn each_case(
    program: &str,
    arguments: &[OsString],
    told: impl Fn(&Value) -> Result<Value, String>,
) -> Result<String, Failure> {
    let [path] = arguments else {
        let call = format!("Give a list of cases: {program} CASES.json, or - for standard input.");
        return Err(Failure::Call(call));
    };
    let bytes = bytes(path).map_err(|e| format!("{} cannot be read: {e}.", path.display()))?;
    let cases: Vec<Value> = serde_json::from_slice(&bytes)
        .map_err(|e| format!("{} is not a list of cases: {e}.", path.display()))?;
    let line = |(number, case)| {
        let told = told(case).map_err(|e| format!("case {number}: {e}"))?;
        Ok(format!("{told}\n"))
    };
    (1..).zip(&cases).map(line).collect::<Result<String, String>>().map_err(Failure::from)
}

/// The bytes of a file, no more than one over what is read of a design.
pub(crate) fn bytes(path: &OsStr) -> io::Result<Vec<u8>> {
    let most = FILE_LIMIT as u64 + 1;
    let mut bytes = Vec::new();
    if path == "-" {
        io::stdin().lock().take(most).read_to_end(&mut bytes)?;
    } else {
        File::open(path)?.take(most).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}

/// A line for each finding.
pub(crate) fn sentences(findings: &[Finding]) -> String {
    let line = |finding: &Finding| {
        format!("{}: {}\n", finding.severity.name(), finding.whole(Reader::default()))
    };
    findings.iter().map(line).collect()
}

/// Writes a file under another name and gives it its own once it is whole, so that a failure leaves
/// what was there before, or nothing.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut name = path.as_os_str().to_owned();
    name.push(".part");
    let written = fs::write(&name, bytes).and_then(|()| fs::rename(&name, path));
    written.map_err(|e| {
        // Where nothing was begun there is nothing to clear away.
        let _ = fs::remove_file(&name);
        format!("{} cannot be written: {e}.", path.display()).into()
    })
}
