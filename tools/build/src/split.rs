//! The parts of a module that are fetched when they are wanted.
//!
//! Whoever marks a function with `wasm_split` takes it, and what only it needs, out of the main module. The splitter
//! writes the main module, a chunk for each part and each set of parts that shares code, and a script that fetches
//! them. All are served under the hash of the build: a chunk fits no main module but its own.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow};
use wasm_split_cli_support::{Options, transform};

/// The script that fetches the chunks, as the splitter names it.
const LOADER: &str = "__wasm_split.js";

/// Part of the name of every function that is split off.
const MARK: &[u8] = b"__wasm_split_00";

/// What the splitter wrote.
pub(crate) struct Parts {
    pub(crate) main: PathBuf,
    pub(crate) loader: PathBuf,
    pub(crate) chunks: Vec<PathBuf>,
}

impl Parts {
    /// Splits a compiled module; `None` where nothing in it is marked.
    pub(crate) fn split_off(compiled: &Path, bin: &str, work: &Path) -> Result<Option<Self>> {
        let input = fs::read(compiled)?;
        if !input.windows(MARK.len()).any(|bytes| bytes == MARK) {
            return Ok(None);
        }
        let main = work.join(format!("{bin}.wasm"));
        let script = format!("./{bin}.js");
        let mut options = Options::new(&input);
        options.output_dir = work;
        options.main_out_path = &main;
        options.main_module = &script;
        options.target.web();
        let split = transform(options).map_err(|e| anyhow!("the module cannot be split: {e:#}"))?;
        let chunks = split.split_modules.into_iter().filter(|path| *path != main).collect();
        Ok(Some(Self { main, loader: work.join(LOADER), chunks }))
    }
}

/// A file of the parts, as it was made.
pub(crate) struct Made {
    name: String,
    pub(crate) content: Vec<u8>,
}

/// The loader and the chunks in a folder, in the order of their names.
pub(crate) fn made(work: &Path) -> Result<Vec<Made>> {
    let mut all = Vec::new();
    for entry in fs::read_dir(work)? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        let chunk = name.strip_suffix(".wasm").is_some_and(|stem| !stem.ends_with("_bg"));
        if chunk || name == LOADER {
            all.push(Made { content: fs::read(work.join(&name))?, name });
        }
    }
    all.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(all)
}

/// The name under which the loader is served.
fn served_loader(hash: &str) -> String {
    format!("parts-{hash}.js")
}

/// The main script, importing the loader under the name that it is served by. The name stays as it is where it is
/// the key of an import of the module.
pub(crate) fn with_served_loader(script: &str, hash: &str) -> String {
    let loader = served_loader(hash);
    ["from\"", "from \""].iter().fold(script.to_owned(), |script, from| {
        script.replace(&format!("{from}./{LOADER}\""), &format!("{from}./{loader}\""))
    })
}

/// Writes loader and chunks where they are served from.
pub(crate) fn serve(parts: Vec<Made>, folder: &Path, bin: &str, hash: &str) -> Result<()> {
    let chunks: Vec<_> = parts
        .iter()
        .filter_map(|part| part.name.strip_suffix(".wasm"))
        .map(str::to_owned)
        .collect();
    for part in parts {
        if part.name == LOADER {
            let script = String::from_utf8(part.content)?;
            fs::write(folder.join(served_loader(hash)), relinked(&script, bin, hash, &chunks))?;
        } else {
            let stem = part.name.trim_end_matches(".wasm");
            fs::write(folder.join(format!("part-{stem}-{hash}.wasm")), part.content)?;
        }
    }
    Ok(())
}

/// The loader, fetching chunks and the main script under the names that they are served by.
fn relinked(script: &str, bin: &str, hash: &str, chunks: &[String]) -> String {
    let script = script.replace(&format!("\"./{bin}.js\""), &format!("\"./{bin}-{hash}.js\""));
    chunks.iter().fold(script, |script, stem| {
        script.replace(&format!("\"./{stem}.wasm\""), &format!("\"./part-{stem}-{hash}.wasm\""))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_place_of_the_loader_is_renamed() {
        let script = r#"import*as a from"./__wasm_split.js";const b={"./__wasm_split.js":a};"#;
        assert_eq!(
            with_served_loader(script, "0a"),
            r#"import*as a from"./parts-0a.js";const b={"./__wasm_split.js":a};"#
        );
    }

    #[test]
    fn a_loader_fetches_what_is_served() {
        let script = r#"import{initSync as i}from"./app.js";fetch(new URL("./chunk_1.wasm",x));"#;
        assert_eq!(
            relinked(script, "app", "0a", &["chunk_1".to_owned()]),
            r#"import{initSync as i}from"./app-0a.js";fetch(new URL("./part-chunk_1-0a.wasm",x));"#
        );
    }

    #[test]
    fn a_module_without_marks_is_left_whole() {
        let folder = std::env::temp_dir().join("crenel-build-unmarked");
        fs::create_dir_all(&folder).unwrap();
        let module = folder.join("app.wasm");
        fs::write(&module, b"\0asm\x01\0\0\0").unwrap();
        assert!(Parts::split_off(&module, "app", &folder).unwrap().is_none());
        fs::remove_dir_all(folder).unwrap();
    }
}
