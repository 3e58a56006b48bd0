//! Runs the tests on one change.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::Verdict;
use crate::build::Program;

/// Reads the sources themselves, and what is switched on is not in them.
const NOT_OF_NUMBERS: &str = "architecture";

/// Takes a minute: only what all the others let pass.
const SLOW: &str = "properties";

/// A test that takes longer than this hangs.
const HANGS: Duration = Duration::from_secs(400);

/// Memory that a test may take, kB: a loop without an end must not take the machine's.
const MEMORY_KB: usize = 6_000_000;

/// Runs the tests until one finds the change: those of its module first.
pub fn verdict(programs: &[Program], copy: &Path, file: &str, id: usize) -> Verdict {
    let order = |name: &str| match name {
        "lib" => 0,
        SLOW => 2,
        _ => 1,
    };
    let mut programs: Vec<&Program> =
        programs.iter().filter(|(name, _)| name != NOT_OF_NUMBERS).collect();
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

/// `src/ring/plan.rs` as `ring::plan::`.
fn module(file: &str) -> String {
    let inner = file.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod");
    if inner.is_empty() { String::new() } else { format!("{}::", inner.replace('/', "::")) }
}

/// Runs one program. The answer is the first test that fails.
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
    let mut stdout = child.stdout.take()?;
    let reader = std::thread::spawn(move || {
        let mut text = Vec::new();
        let _ = std::io::Read::read_to_end(&mut stdout, &mut text);
        String::from_utf8_lossy(&text).into_owned()
    });
    let begun = Instant::now();
    let status = loop {
        match child.try_wait() {
            Ok(Some(status)) => break status,
            _ if begun.elapsed() > HANGS => {
                let _ = child.kill();
                let _ = child.wait();
                return Some(format!("{name} hangs"));
            }
            _ => std::thread::sleep(Duration::from_millis(5)),
        }
    };
    let text = reader.join().unwrap_or_default();
    (!status.success()).then(|| {
        let failed =
            text.lines().find_map(|line| line.strip_prefix("test ")?.strip_suffix(" ... FAILED"));
        format!("{name} {}", failed.unwrap_or("ends at once"))
    })
}
