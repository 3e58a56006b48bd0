//! Puts faults into a copy of the core, one at a time, and sees whether the tests find them.
//!
//! `crenel-mutants [faults] [sample] [FROM..TO]`, from the top of the tree: our own faults
//! (`faults.rs`), and 200 mutants drawn from the list of cargo-mutants. One build serves all: every
//! change stands beside what it replaces, behind a switch that a variable of the environment turns.
//! What does not go in so (constants, functions that return `impl Trait`) is built one by one.

mod build;
mod embed;
mod faults;
mod sample;
mod tests;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use embed::{Change, Kind};

/// A change to the core, and how it is named in what is printed.
#[derive(Clone, Debug)]
pub struct Mutant {
    pub file: String,
    pub name: String,
    pub change: Change,
    /// The bytes that are replaced, for a build of its own.
    pub range: std::ops::Range<usize>,
    pub replacement: String,
    pub is_ours: bool,
}

/// Share of the sample that the tests have to find.
const LEAST_CAUGHT: f64 = 0.95;

/// Survivors by name, each with the reason why it is let live.
const REASONS: &str = include_str!("../survivors.md");

/// How many mutants of the sample count: those that compile.
const SAMPLE: usize = 200;

#[derive(Clone, Debug, PartialEq)]
enum Verdict {
    Caught(String),
    Survived,
    /// Does not compile: says nothing about the tests.
    Unviable,
}

fn main() -> ExitCode {
    match run() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<bool, String> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let part = |word: &str| words.iter().any(|w| w == word);
    let both = !part("faults") && !part("sample");
    let root = std::env::current_dir().map_err(|e| e.to_string())?;
    let mut mutants = Vec::new();
    if both || part("faults") {
        mutants.extend(faults::listed(&root)?);
    }
    if both || part("sample") {
        mutants.extend(sample::drawn(&root)?);
    }
    let chosen = |m: &Mutant| {
        words.iter().all(|w| matches!(&w[..], "faults" | "sample") || m.name.contains(&w[..]))
    };
    mutants.retain(chosen);
    for (id, mutant) in mutants.iter_mut().enumerate() {
        // 0 switches nothing on.
        mutant.change.id = id + 1;
    }
    let verdicts = tried(&root, &mutants)?;
    Ok(told(&mutants, &verdicts))
}

/// What the tests say to each.
fn tried(root: &Path, mutants: &[Mutant]) -> Result<Vec<Verdict>, String> {
    let work = root.join("target/mutants");
    let copy = work.join("all");
    let mut apart: BTreeSet<usize> = BTreeSet::new();
    let mut unviable: BTreeSet<usize> = BTreeSet::new();
    build::copied(root, &copy)?;
    let programs = loop {
        let inside: Vec<&Mutant> = mutants
            .iter()
            .filter(|m| !apart.contains(&m.change.id) && !unviable.contains(&m.change.id))
            .collect();
        apart.extend(build::embedded(root, &copy, &inside)?);
        match build::built(&copy, &work) {
            Ok(programs) => break programs,
            Err(errors) => {
                for id in build::blamed(&copy, &errors)? {
                    if build::cannot_compile(&mutants[id - 1]) {
                        unviable.insert(id);
                    } else {
                        apart.insert(id);
                    }
                }
            }
        }
    };
    println!(
        "{} in one build, {} one by one, {} do not compile",
        mutants.len() - apart.len() - unviable.len(),
        apart.len(),
        unviable.len()
    );
    // Of those drawn so many that 200 are left, whatever does not compile on its own.
    let mut left = SAMPLE + apart.len();
    let mut is_tried = |m: &&Mutant| {
        let is = !unviable.contains(&m.change.id) && (m.is_ours || left > 0);
        left -= usize::from(is && !m.is_ours);
        is
    };
    let wanted: Vec<&Mutant> = mutants.iter().filter(&mut is_tried).collect();
    if let Verdict::Caught(by) = tests::verdict(&programs, &copy, "", 0) {
        return Err(format!("The tests fail with nothing switched on: {by}."));
    }
    let verdicts: Vec<Mutex<Verdict>> =
        mutants.iter().map(|_| Mutex::new(Verdict::Unviable)).collect();
    let (next, jobs) = (AtomicUsize::new(0), jobs());
    std::thread::scope(|scope| {
        for _ in 0..jobs {
            scope.spawn(|| {
                while let Some(mutant) = wanted.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let id = mutant.change.id;
                    if apart.contains(&id) {
                        continue;
                    }
                    let verdict = tests::verdict(&programs, &copy, &mutant.file, id);
                    line(mutant, &verdict);
                    *verdicts[id - 1].lock().expect("no thread panics") = verdict;
                }
            });
        }
    });
    let mut verdicts: Vec<Verdict> =
        verdicts.into_iter().map(|v| v.into_inner().expect("no thread panics")).collect();
    let alone = work.join("one");
    if !apart.is_empty() {
        build::copied(root, &alone)?;
    }
    for mutant in wanted.into_iter().filter(|m| apart.contains(&m.change.id)) {
        let id = mutant.change.id;
        build::changed(root, &alone, mutant)?;
        let verdict = match build::built(&alone, &work) {
            Ok(programs) => tests::verdict(&programs, &alone, &mutant.file, 0),
            Err(_) => Verdict::Unviable,
        };
        build::restored(root, &alone, mutant)?;
        line(mutant, &verdict);
        verdicts[id - 1] = verdict;
    }
    Ok(verdicts)
}

fn jobs() -> usize {
    let given = std::env::var("CRENEL_JOBS").ok().and_then(|n| n.parse().ok());
    given.unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from))
}

fn line(mutant: &Mutant, verdict: &Verdict) {
    match verdict {
        Verdict::Caught(by) => println!("caught    {} ({by})", mutant.name),
        Verdict::Survived => println!("SURVIVED  {}", mutant.name),
        Verdict::Unviable => println!("no build  {}", mutant.name),
    }
}

/// Prints what came of it. True if the tests find enough.
fn told(mutants: &[Mutant], verdicts: &[Verdict]) -> bool {
    let all = || mutants.iter().zip(verdicts);
    let built =
        |ours: bool| all().filter(move |(m, v)| m.is_ours == ours && **v != Verdict::Unviable);
    let lost = |ours: bool| built(ours).filter(|(_, v)| **v == Verdict::Survived).map(|(m, _)| m);
    let unbuilt = all().filter(|(m, v)| m.is_ours && **v == Verdict::Unviable).count();
    println!();
    for mutant in lost(true).chain(lost(false)) {
        let known = if named(REASONS, &unplaced(&mutant.name)) {
            ""
        } else {
            " (no reason in survivors.md)"
        };
        println!("survived: {}{known}", mutant.name);
    }
    let ours = built(true).count();
    let ours_lost = lost(true).count();
    if ours > 0 {
        println!("faults of our own: {} of {ours} found", ours - ours_lost);
    }
    if unbuilt > 0 {
        println!("{unbuilt} faults of our own do not compile: mend tools/mutants/faults.json");
    }
    let drawn = built(false).count().min(SAMPLE);
    let survivors: Vec<_> = built(false)
        .take(SAMPLE)
        .filter(|(_, v)| **v == Verdict::Survived)
        .map(|(m, _)| unplaced(&m.name))
        .collect();
    let found = drawn - survivors.len();
    // What no test can find is no fault of the tests, but neither is it found.
    let same = survivors.iter().filter(|name| named(same_program(), name)).count();
    if drawn > 0 {
        println!("mutants drawn: {found} of {drawn} found, {:.1} %", share(found, drawn) * 100.0);
        let others = drawn - same;
        println!(
            "without the {same} that are the same program: {found} of {others}, {:.1} %",
            share(found, others) * 100.0
        );
    }
    unbuilt == 0 && ours_lost == 0 && (drawn == 0 || share(found, drawn) >= LEAST_CAUGHT)
}

/// A share of a whole, 0 of nothing.
fn share(part: usize, whole: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
    let share = part as f64 / whole.max(1) as f64;
    share
}

/// Whether a list of names has this one.
fn named(list: &str, name: &str) -> bool {
    list.contains(&format!("`{name}`"))
}

/// What survivors.md says of changes that make no difference.
fn same_program() -> &'static str {
    let from = REASONS.split_once("\n## The same program").map_or("", |(_, after)| after);
    from.split_once("\n## ").map_or(from, |(same, _)| same)
}

/// A name without line and column, which change with every line above.
fn unplaced(name: &str) -> String {
    let is_number = |part: &&str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    name.split(':').filter(|part| !is_number(part)).collect::<Vec<_>>().join(":")
}

/// Where a file of the tree lies.
fn path(root: &Path, file: &str) -> PathBuf {
    file.split('/').fold(root.to_path_buf(), |path, part| path.join(part))
}

/// The byte at which a line (from 1) and a column (from 1, in characters) begin.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let start: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let inside =
        text[start..].char_indices().nth(column - 1).map_or(text.len() - start, |(at, _)| at);
    start + inside
}

fn mutant_kind(genre: &str, line: usize, column: usize, replacement: &str) -> Kind {
    let start = proc_macro2::LineColumn { line, column: column - 1 };
    Kind::Mutant { genre: genre.to_owned(), start, replacement: replacement.to_owned() }
}

#[cfg(test)]
mod checks {
    use super::*;

    #[test]
    fn a_name_loses_its_place_and_nothing_else() {
        let name = "src/a.rs:12:7: replace a::b -> bool with true in c::d";
        assert_eq!(unplaced(name), "src/a.rs: replace a::b -> bool with true in c::d");
    }

    #[test]
    fn only_the_changes_of_one_chapter_are_the_same_program() {
        let chapters = REASONS.matches("\n## ").count();
        assert!(chapters > 1 && !same_program().is_empty() && !same_program().contains("## "));
    }

    #[test]
    fn a_place_is_found_in_characters() {
        assert_eq!(offset("äb\nçd", 2, 2), 6);
    }
}
