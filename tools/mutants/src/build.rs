//! The copies of the tree: written, built, and whose fault it is where that fails.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use crate::embed::{Kind, constant, embed};
use crate::{Mutant, path};

/// The switch: the number of the change that is on.
const SWITCH: &str = "//! Which change is on.\n
use std::sync::OnceLock;

static ON: OnceLock<usize> = OnceLock::new();

/// Whether this one is.
pub(crate) fn on(id: usize) -> bool {
    *ON.get_or_init(|| std::env::var(\"CRENEL_MUTANT\").ok().and_then(|n| n.parse().ok()).unwrap_or(0)) == id
}
";

/// The folders of the crates that the core is made of. Each has a switch of its own.
const CRATES: [&str; 3] = ["src", "src/geometry", "src/words"];

/// A test program: its name and where it lies.
pub type Program = (String, PathBuf);

fn failed(what: &Path, error: &std::io::Error) -> String {
    format!("{}: {error}", what.display())
}

/// Writes only what differs, so that cargo builds only that.
fn write(to: &Path, text: &[u8]) -> Result<(), String> {
    if fs::read(to).is_ok_and(|old| old == text) {
        return Ok(());
    }
    let folder = to.parent().ok_or("a file without a folder")?;
    fs::create_dir_all(folder).and_then(|()| fs::write(to, text)).map_err(|e| failed(to, &e))
}

/// Copies the tree as it is, all that git knows or would take.
///
/// # Errors
/// If a file cannot be read or written.
pub fn copied(root: &Path, copy: &Path) -> Result<(), String> {
    let list = ["ls-files", "-z", "--cached", "--others", "--exclude-standard"];
    let output =
        Command::new("git").args(list).current_dir(root).output().map_err(|e| e.to_string())?;
    let names = String::from_utf8_lossy(&output.stdout).into_owned();
    let names: BTreeSet<&str> = names.split('\0').filter(|name| !name.is_empty()).collect();
    // A test that is gone from the tree must not be run from the copy.
    for file in files(copy) {
        let name =
            file.strip_prefix(copy).expect("below the copy").to_string_lossy().replace('\\', "/");
        if !names.contains(&name[..]) {
            fs::remove_file(&file).map_err(|e| failed(&file, &e))?;
        }
    }
    for name in names {
        let from = path(root, name);
        // The sources of the core are written with their changes.
        if from.is_file() && !is_core(name) {
            write(&path(copy, name), &fs::read(&from).map_err(|e| failed(&from, &e))?)?;
        }
    }
    for file in core(root) {
        if copy.ends_with("one") {
            write(&path(copy, &file), &fs::read(path(root, &file)).map_err(|e| e.to_string())?)?;
        }
    }
    Ok(())
}

fn is_core(name: &str) -> bool {
    name.starts_with("src/") && !name.starts_with("src/app/") && name.ends_with(".rs")
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    entries.flat_map(|p| if p.is_dir() { files(&p) } else { vec![p] }).collect()
}

/// The sources of the core.
fn core(root: &Path) -> Vec<String> {
    let name = |p: PathBuf| Some(p.strip_prefix(root).ok()?.to_string_lossy().replace('\\', "/"));
    let mut names: Vec<_> = files(&root.join("src")).into_iter().filter_map(name).collect();
    names.retain(|name| is_core(name));
    names.sort();
    names
}

/// Writes the sources of the core with all changes behind switches. The answer is what does not go in so.
///
/// # Errors
/// If a file cannot be read or written.
pub fn embedded(root: &Path, copy: &Path, mutants: &[&Mutant]) -> Result<Vec<usize>, String> {
    let files = core(root);
    let read = |file: &String| {
        fs::read_to_string(path(root, file)).map_err(|e| failed(&path(root, file), &e))
    };
    let sources = files.iter().map(read).collect::<Result<Vec<_>, _>>()?;
    let constant = constant(&sources);
    let mut left_out = Vec::new();
    for (file, source) in files.into_iter().zip(sources) {
        let changes: Vec<_> =
            mutants.iter().filter(|m| m.file == file).map(|m| m.change.clone()).collect();
        let mut done = embed(&source, &changes, &constant);
        left_out.extend(done.left_out);
        if CRATES.iter().any(|folder| file == format!("{folder}/lib.rs")) {
            done.text.push_str("\nmod mutant;\n");
        }
        write(&path(copy, &file), done.text.as_bytes())?;
    }
    for folder in CRATES {
        write(&path(copy, folder).join("mutant.rs"), SWITCH.as_bytes())?;
    }
    Ok(left_out)
}

/// Puts one change into a copy.
///
/// # Errors
/// If the file cannot be read or written.
pub fn changed(root: &Path, copy: &Path, mutant: &Mutant) -> Result<(), String> {
    let source = path(root, &mutant.file);
    let mut text = fs::read_to_string(&source).map_err(|e| failed(&source, &e))?;
    text.replace_range(mutant.range.clone(), &mutant.replacement);
    write(&path(copy, &mutant.file), text.as_bytes())
}

/// Takes it out again.
///
/// # Errors
/// If the file cannot be read or written.
pub fn restored(root: &Path, copy: &Path, mutant: &Mutant) -> Result<(), String> {
    let source = path(root, &mutant.file);
    write(&path(copy, &mutant.file), &fs::read(&source).map_err(|e| failed(&source, &e))?)
}

/// Builds the tests of a copy.
///
/// # Errors
/// What the compiler says, as JSON.
pub fn built(copy: &Path, work: &Path) -> Result<Vec<Program>, Vec<Value>> {
    let arguments = ["test", "--no-run", "--message-format=json", "--quiet"];
    let output = Command::new("cargo")
        .args(arguments)
        .current_dir(copy)
        .env("CARGO_TARGET_DIR", work.join("build"))
        .env("CARGO_PROFILE_DEV_DEBUG", "0")
        .env("RUSTFLAGS", "--cap-lints allow")
        .output()
        .map_err(|e| vec![Value::String(e.to_string())])?;
    let messages = String::from_utf8_lossy(&output.stdout).into_owned();
    let messages = messages.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok());
    let mut programs = Vec::new();
    let mut errors = Vec::new();
    for message in messages {
        let target = &message["target"];
        let is_test = message["profile"]["test"] == true && target["kind"][0] != "example";
        match (message["executable"].as_str(), target["name"].as_str()) {
            (Some(program), Some(name)) if is_test => {
                let name = if target["kind"][0] == "test" { name } else { "lib" };
                programs.push((name.to_owned(), PathBuf::from(program)));
            }
            _ if message["message"]["level"] == "error" => errors.push(message["message"].clone()),
            _ => {}
        }
    }
    if output.status.success() {
        Ok(programs)
    } else {
        errors.push(Value::String(String::from_utf8_lossy(&output.stderr).into_owned()));
        Err(errors)
    }
}

/// The changes in whose text the compiler found an error.
///
/// # Errors
/// If it found one elsewhere only.
pub fn blamed(copy: &Path, errors: &[Value]) -> Result<BTreeSet<usize>, String> {
    let mut ids = BTreeSet::new();
    for span in errors.iter().flat_map(|error| error["spans"].as_array()).flatten() {
        if span["is_primary"] == true {
            ids.extend(innermost(copy, span));
        }
    }
    let words = || {
        errors
            .iter()
            .map(|e| e["rendered"].as_str().or(e.as_str()).unwrap_or_default().to_owned())
            .collect::<String>()
    };
    if ids.is_empty() { Err(format!("The copy does not build:\n{}", words())) } else { Ok(ids) }
}

/// The innermost change around a span.
fn innermost(copy: &Path, span: &Value) -> Option<usize> {
    let text = fs::read_to_string(path(copy, span["file_name"].as_str()?)).ok()?;
    let at = usize::try_from(span["byte_start"].as_u64()?).ok()?;
    let mut open = Vec::new();
    for (start, _) in text.get(..at)?.match_indices("/*<") {
        let mark = &text[start + 3..];
        let mark = &mark[..mark.find(">*/")?];
        match mark.strip_prefix('/') {
            Some(_) => drop(open.pop()),
            None => open.push(mark.parse().ok()?),
        }
    }
    open.pop()
}

/// Whether a change that does not compile behind a switch does not compile in its place either: an
/// operator or a value that its types do not have.
pub fn cannot_compile(mutant: &Mutant) -> bool {
    matches!(&mutant.change.kind, Kind::Mutant { genre, .. } if genre == "FnValue" || genre == "BinaryOperator")
}
