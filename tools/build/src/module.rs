//! The module and the script that loads it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result, ensure};
use wasm_bindgen_cli_support::Bindgen;

use crate::parts::hash;
use crate::split::{self, Parts};
use crate::{Tools, run};

const TARGET: &str = "wasm32-unknown-unknown";

/// The script that makes modules small.
const OPTIMISE: &str = "tools/build/optimise.mjs";
const ORDER: &str = "tools/build/order.mjs";

/// The standard library is built with the app: for size, and with panics that are only a trap. A browser shows
/// nothing else of a panic, and the page says that the app has stopped.
const STANDARD_LIBRARY: [&str; 4] = [
    "-Zbuild-std=std,panic_abort",
    "-Zbuild-std-features=optimize_for_size",
    "--config",
    "target.wasm32-unknown-unknown.rustflags=[\"-Zunstable-options\",\"-Cpanic=immediate-abort\"]",
];

/// What a page says of its module.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Module {
    pub(crate) manifest: PathBuf,
    pub(crate) bin: Option<String>,
    /// How far the module is optimised, such as `z`.
    pub(crate) level: Option<String>,
    /// The parts for which somebody waits: some visits need them at once.
    pub(crate) ahead: Vec<String>,
}

/// A built module: the part of the names of its files that is their own.
pub(crate) struct Built {
    pub(crate) name: String,
    pub(crate) script: Vec<u8>,
    /// The files of the parts that some visits need at once.
    pub(crate) ahead: BTreeMap<String, Vec<String>>,
}

impl Module {
    /// Compiles the module and writes it and its script into a folder.
    pub(crate) fn build(&self, folder: &Path, tools: &Tools) -> Result<Built> {
        let bin = self.bin()?;
        let compiled = self.compile(&bin)?;
        let work = self.bound(&bin, &compiled, tools)?;
        let wasm = fs::read(work.join(format!("{bin}_bg.wasm")))?;
        let script = fs::read_to_string(work.join(format!("{bin}.js")))?;
        let parts = split::made(&work)?;
        // One hash for all: a part fits no module but its own.
        let contents = parts.iter().map(|part| part.content.as_slice());
        let hash =
            hash(&[&wasm, script.as_bytes()].into_iter().chain(contents).collect::<Vec<_>>());
        let name = format!("{bin}-{hash}");
        // The script names the module that it loads where nobody tells it another.
        let script = script.replace(&format!("{bin}_bg.wasm"), &format!("{name}_bg.wasm"));
        let script = split::with_served_loader(&script, &hash);
        fs::write(folder.join(format!("{name}_bg.wasm")), wasm)?;
        fs::write(folder.join(format!("{name}.js")), &script)?;
        let mut needed = split::serve(parts, &work, folder, &bin, &hash, &self.ahead)?;
        let files_of = |part: &String| {
            let files = needed.remove(part).with_context(|| format!("no part is named {part}"))?;
            Ok((part.clone(), files))
        };
        let ahead = self.ahead.iter().map(files_of).collect::<Result<_>>()?;
        Ok(Built { name, script: script.into_bytes(), ahead })
    }

    /// The folder with the module as a browser takes it and its script: made anew where what was
    /// compiled is not what it was made from.
    fn bound(&self, bin: &str, compiled: &Path, tools: &Tools) -> Result<PathBuf> {
        let work = compiled.with_extension("parts");
        let level = self.level.as_deref().unwrap_or_default();
        let scripts = [fs::read(OPTIMISE)?, fs::read(ORDER)?];
        let from = hash(&[&fs::read(compiled)?, level.as_bytes(), &scripts[0], &scripts[1]]);
        let note = work.join("made-from");
        if fs::read_to_string(&note).is_ok_and(|noted| noted == from) {
            return Ok(work);
        }
        crate::clear(&work)?;
        fs::create_dir_all(&work)?;
        let parts = Parts::split_off(compiled, bin, &work)?;
        let mut bindgen = Bindgen::new();
        bindgen.input_path(parts.as_ref().map_or(compiled, |parts| &parts.main));
        bindgen.out_name(bin).web(true)?.typescript(false);
        // The parts are linked to the exports and names that the linker gave.
        bindgen.keep_lld_exports(parts.is_some()).demangle(parts.is_none());
        bindgen.generate(&work).context("wasm-bindgen cannot make the module's script")?;
        let main = work.join(format!("{bin}_bg.wasm"));
        let chunks = parts.as_ref().map(|parts| parts.chunks.as_slice()).unwrap_or_default();
        if !level.is_empty() {
            // Debian's wasm-opt breaks the app without a word: `node_modules` has the one that works.
            run(Command::new("node").arg(OPTIMISE).arg(level).args(chunks).arg(&main))?;
        }
        minify(&work.join(format!("{bin}.js")), tools)?;
        if let Some(parts) = parts {
            minify(&parts.loader, tools)?;
            fs::remove_file(parts.main)?;
        }
        fs::write(&note, from)?;
        Ok(work)
    }

    /// The name of the program: as the page says, or that of the package.
    fn bin(&self) -> Result<String> {
        if let Some(bin) = &self.bin {
            return Ok(bin.clone());
        }
        let manifest = fs::read_to_string(&self.manifest)?;
        let name = manifest.lines().find_map(|line| line.strip_prefix("name = \""));
        let name = name.and_then(|rest| rest.split('"').next());
        Ok(name
            .with_context(|| format!("{} names no package", self.manifest.display()))?
            .to_owned())
    }

    fn compile(&self, bin: &str) -> Result<PathBuf> {
        let mut cargo = Command::new("cargo");
        cargo.args(["build", "--locked", "--release", "--target", TARGET, "--bin", bin]);
        cargo.arg("--manifest-path").arg(&self.manifest);
        cargo.args(STANDARD_LIBRARY).env("RUSTC_BOOTSTRAP", "1");
        run(&mut cargo)?;
        let target =
            std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| "target".into(), PathBuf::from);
        let compiled = target.join(TARGET).join("release").join(format!("{bin}.wasm"));
        ensure!(compiled.exists(), "cargo left no {}", compiled.display());
        Ok(compiled)
    }
}

/// Writes a script or a style sheet anew without what only people read.
pub(crate) fn minify(file: &Path, tools: &Tools) -> Result<()> {
    let out = format!("--outfile={}", file.display());
    let quiet = ["--minify", "--allow-overwrite", "--log-level=error", "--legal-comments=none"];
    run(Command::new(&tools.esbuild).arg(file).args(quiet).arg(out))
}
