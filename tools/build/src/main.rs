//! Puts the app together, as trunk does from the same page, in a tenth of the time that it takes to
//! compile trunk.
//!
//! ```text
//! crenel-build [PAGE] [FOLDER]      www/index.html and dist, where none is named
//! ```
//!
//! The page says what it is made of in its `<link data-trunk …>` lines: the module (`rust`), a style
//! sheet (`css`), files that are copied (`copy-file`). Module, script and style sheet get names with a
//! hash of their content, so that a host may let browsers keep them. A `seal.mjs` beside the page runs
//! when all is there and packs what gains by it with brotli; then the same files are packed with gzip.
//! The old folder stays until the new one is whole.
//!
//! `binaryen` and `esbuild` are those of `node_modules`.

mod module;
mod pack;
mod page;
mod parts;
mod split;

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};

use anyhow::{Context as _, Result, bail, ensure};

use page::Page;

fn main() -> ExitCode {
    match build() {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("The app was not built: {e:#}");
            ExitCode::FAILURE
        }
    }
}

fn build() -> Result<()> {
    let mut named = env::args_os().skip(1).map(PathBuf::from);
    let page = named.next().unwrap_or_else(|| PathBuf::from("www/index.html"));
    let folder = named.next().unwrap_or_else(|| PathBuf::from("dist"));
    // What is missing is said before the module takes its minute.
    let tools = Tools::find()?;
    let page = Page::read(&page)?;

    let staging = folder.with_extension("new");
    clear(&staging)?;
    fs::create_dir_all(&staging).with_context(|| format!("cannot make {}", staging.display()))?;
    let html = page.put_together(&staging, &tools)?;
    fs::write(staging.join("index.html"), html)?;
    seal(&page.folder, &staging)?;
    pack::gzip(&staging)?;

    clear(&folder)?;
    fs::rename(&staging, &folder)
        .with_context(|| format!("cannot put the build at {}", folder.display()))
}

/// The programs that npm brings.
struct Tools {
    esbuild: PathBuf,
}

impl Tools {
    fn find() -> Result<Self> {
        let is_there = |path: PathBuf| {
            let found = path.exists() || path.with_extension("cmd").exists();
            ensure!(found, "{} is missing. Run `npm ci` first, or `make build`.", path.display());
            Ok(path)
        };
        is_there("node_modules/binaryen".into())?;
        Ok(Self { esbuild: is_there("node_modules/.bin/esbuild".into())? })
    }
}

/// Lets the page's own script write what depends on the names and the content of the built files.
fn seal(page_folder: &Path, staging: &Path) -> Result<()> {
    let script = page_folder.join("seal.mjs");
    if !script.exists() {
        return Ok(());
    }
    run(Command::new("node").arg(script).env("TRUNK_STAGING_DIR", fs::canonicalize(staging)?))
}

/// Runs a program to its end.
fn run(command: &mut Command) -> Result<()> {
    let name = command.get_program().to_string_lossy().into_owned();
    let status = command.status().with_context(|| format!("cannot start {name}"))?;
    if !status.success() {
        bail!("{name} ended with {status}");
    }
    Ok(())
}

/// Takes a folder away with all that is in it.
fn clear(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("cannot clear {}", folder.display()))?;
    }
    Ok(())
}
