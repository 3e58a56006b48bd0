//! Runs the tests on one change.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;

use crate::Verdict;
use crate::build::Program;

/// Read the sources themselves, and what is switched on is not in them.
const NOT_OF_NUMBERS: [&str; 2] = ["architecture", "faults"];

/// How a line on a test that fails ends.
const FAILED: &str = " ... FAILED";

/// Takes a minute: only what all the others let pass.
const SLOW: &str = "properties";

/// A test program that takes longer than this hangs: the longest takes 8 s.
const HANGS: Duration = Duration::from_secs(60);

/// The same for the slow ones.
const SLOW_HANGS: Duration = Duration::from_secs(400);

/// Memory that a test may take, kB: a loop without an end must not take the machine's.
const MEMORY_KB: usize = 6_000_000;

/// Runs the tests until one finds the change: those of its module first, then the quick programs.
pub fn verdict(programs: &[Program], copy: &Path, file: &str, id: usize) -> Verdict {
    let order = |name: &str| match name {
        SLOW => 3,
        "lib" => 2,
        "shift" => 1,
        _ => 0,
    };
    let mut programs: Vec<&Program> =
        programs.iter().filter(|(name, _)| !NOT_OF_NUMBERS.contains(&&name[..])).collect();
    programs.sort_by_key(|(name, _)| order(name));
    let module = module(file);
    let near = programs
        .iter()
        .filter(|(name, _)| name == "lib" && !module.is_empty())
        .map(|p| (*p, &module[..]));
    let all = programs.iter().map(|p| (*p, ""));
    let slow_too = std::env::var_os("CRENEL_QUICK").is_none();
    for ((name, program), filter) in near.chain(all) {
        if name == SLOW && !slow_too {
            continue;
        }
        if let Some(found) = run(name, program, copy, filter, id) {
            return Verdict::Caught(found);
        }
    }
    Verdict::Survived
}

/// `src/design/plan.rs` as `design::plan::`, `src/geometry/ring/dog.rs` as `ring::dog::`.
fn module(file: &str) -> String {
    let inner = file.trim_start_matches("src/").trim_start_matches("geometry/").trim_start_matches("words/");
    let inner = inner.trim_end_matches(".rs").trim_end_matches("/mod");
    if inner.is_empty() { String::new() } else { format!("{}::", inner.replace('/', "::")) }
}

/// Runs one program, up to the first test that fails: that is the answer.
fn run(name: &str, program: &Path, copy: &Path, filter: &str, id: usize) -> Option<String> {
    let limited = format!("ulimit -v {MEMORY_KB} 2>/dev/null; exec \"$0\" \"$@\"");
    let mut command = Command::new("sh");
    command
        .args(["-c", &limited])
        .arg(program)
        .current_dir(copy)
        .env("CRENEL_MUTANT", id.to_string());
    command
        .env("RUST_TEST_THREADS", "1")
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .stdout(Stdio::piped());
    if !filter.is_empty() {
        command.arg(filter);
    }
    let mut child = command.spawn().ok()?;
    let stdout = child.stdout.take()?;
    let (sender, failures) = mpsc::channel();
    std::thread::spawn(move || {
        let lines = BufReader::new(stdout).lines().map_while(Result::ok);
        let failed =
            |line: String| Some(line.strip_prefix("test ")?.strip_suffix(FAILED)?.to_owned());
        if let Some(failed) = lines.filter_map(failed).next() {
            let _ = sender.send(failed);
        }
    });
    let hangs = if name == SLOW { SLOW_HANGS } else { HANGS };
    let found = match failures.recv_timeout(hangs) {
        Ok(failed) => Some(failed),
        Err(RecvTimeoutError::Timeout) => Some("hangs".to_owned()),
        // Nothing more is printed: it is at its end.
        Err(RecvTimeoutError::Disconnected) => {
            let status = child.wait().ok()?;
            (!status.success()).then(|| "ends at once".to_owned())
        }
    };
    let _ = child.kill();
    let _ = child.wait();
    found.map(|test| format!("{name} {test}"))
}
