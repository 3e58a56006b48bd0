//! The parts of a module that are fetched when they are wanted.
//!
//! Whoever marks a function with `wasm_split` takes it, and what only it needs, out of the main module. The splitter
//! writes the main module, a chunk for each part and each set of parts that shares code, and a script that fetches
//! them. All are served under the hash of the build: a chunk fits no main module but its own. Small chunks lie in one
//! file: to fetch one takes longer than to fetch them all.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, ensure};
use wasm_split_cli_support::{Options, transform};

/// The script that fetches the chunks, as the splitter names it.
const LOADER: &str = "__wasm_split.js";

/// Part of the name of every function that is split off.
const MARK: &[u8] = b"__wasm_split_00";

/// Chunks of fewer bytes lie together in one file.
const SMALL: usize = 4000;

/// Where it is noted which chunks each part needs, as lines of names.
const NEEDS: &str = "needs.txt";

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
        let needs = split.prefetch_map.iter();
        let needs = needs.map(|(part, chunks)| format!("{part} {}\n", chunks.join(" ")));
        fs::write(work.join(NEEDS), needs.collect::<String>())?;
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

/// Where a chunk is served from.
#[derive(Debug, PartialEq, Eq)]
enum Place {
    /// A file of its own.
    Alone,
    /// So many bytes of the file of small chunks, from a byte on.
    Small { at: usize, size: usize },
}

/// The chunks by their names, each with its place.
type Chunks = BTreeMap<String, Place>;

/// Writes loader and chunks where they are served from; gives the names of the files that each part needs.
pub(crate) fn serve(
    parts: Vec<Made>,
    work: &Path,
    folder: &Path,
    bin: &str,
    hash: &str,
) -> Result<BTreeMap<String, Vec<String>>> {
    let mut chunks = Chunks::new();
    let mut small = Vec::new();
    let mut loader = None;
    for part in parts {
        let Some(stem) = part.name.strip_suffix(".wasm") else {
            loader = Some(String::from_utf8(part.content)?);
            continue;
        };
        let size = part.content.len();
        let place = if size < SMALL {
            small.extend(part.content);
            Place::Small { at: small.len() - size, size }
        } else {
            fs::write(folder.join(served_chunk(stem, hash)), part.content)?;
            Place::Alone
        };
        chunks.insert(stem.to_owned(), place);
    }
    let Some(loader) = loader else { return Ok(BTreeMap::new()) };
    fs::write(folder.join(served_small(hash)), small)?;
    fs::write(folder.join(served_loader(hash)), relinked(&loader, bin, hash, &chunks)?)?;
    let needs = fs::read_to_string(work.join(NEEDS))?;
    Ok(needs.lines().filter_map(|line| needed(line, hash, &chunks)).collect())
}

/// A part and the files that it needs, of a line of its chunks.
fn needed(line: &str, hash: &str, chunks: &Chunks) -> Option<(String, Vec<String>)> {
    let mut names = line.split(' ');
    let part = names.next()?.to_owned();
    let mut files: Vec<_> = names
        .filter_map(|stem| match chunks.get(stem.trim_end_matches(".wasm"))? {
            Place::Alone => Some(served_chunk(stem.trim_end_matches(".wasm"), hash)),
            Place::Small { .. } => Some(served_small(hash)),
        })
        .collect();
    files.sort();
    files.dedup();
    Some((part, files))
}

fn served_chunk(stem: &str, hash: &str) -> String {
    format!("part-{stem}-{hash}.wasm")
}

fn served_small(hash: &str) -> String {
    format!("part-small-{hash}.bin")
}

/// The loader, fetching chunks and the main script under the names that they are served by.
fn relinked(script: &str, bin: &str, hash: &str, chunks: &Chunks) -> Result<String> {
    let mut script = script.replace(&format!("\"./{bin}.js\""), &format!("\"./{bin}-{hash}.js\""));
    for (stem, place) in chunks {
        let address = |name: &str| format!("fetch(new URL(\"./{name}\",import.meta.url))");
        let as_written = address(&format!("{stem}.wasm"));
        ensure!(script.contains(&as_written), "the loader does not fetch {stem} as it used to");
        let served = match place {
            Place::Alone => address(&served_chunk(stem, hash)),
            Place::Small { at, size } => format!("smallChunk({at},{size})"),
        };
        script = script.replace(&as_written, &served);
    }
    let small = SMALL_CHUNK.replace("FILE", &served_small(hash));
    Ok(script + small.trim_end())
}

/// Gives a small chunk as if it had been fetched by itself. A file that cannot be fetched is tried again.
const SMALL_CHUNK: &str = r#"
let smallChunks;
function smallChunk(at, size) {
  const file = (smallChunks ??= fetch(new URL("./FILE", import.meta.url)).then((answer) => {
    if (!answer.ok) throw new Error(`${answer.status} ${answer.url}`);
    return answer.arrayBuffer();
  }));
  file.catch(() => { if (smallChunks === file) smallChunks = undefined; });
  const headers = { "content-type": "application/wasm" };
  return file.then((bytes) => new Response(bytes.slice(at, at + size), { headers }));
}
"#;

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
        let script = r#"import{initSync as i}from"./app.js";a(fetch(new URL("./chunk_1.wasm",import.meta.url)));"#;
        let alone = Chunks::from([("chunk_1".to_owned(), Place::Alone)]);
        let script_of = |chunks| relinked(script, "app", "0a", chunks);
        assert!(script_of(&alone).unwrap().starts_with(
            r#"import{initSync as i}from"./app-0a.js";a(fetch(new URL("./part-chunk_1-0a.wasm",import.meta.url)));"#
        ));
        let small = Chunks::from([("chunk_1".to_owned(), Place::Small { at: 7, size: 5 })]);
        let with_small = script_of(&small).unwrap();
        assert!(
            with_small.contains("a(smallChunk(7,5))") && with_small.contains("./part-small-0a.bin")
        );
        let strange = Chunks::from([("chunk_2".to_owned(), Place::Alone)]);
        assert!(script_of(&strange).is_err(), "a chunk that nothing fetches");
    }

    #[test]
    fn a_part_needs_its_chunks_and_the_small_ones_once() {
        let small = |at| Place::Small { at, size: 1 };
        let chunks =
            [("a", Place::Alone), ("b", small(0)), ("c", small(1)), ("split_x", Place::Alone)];
        let chunks = chunks.map(|(stem, place)| (stem.to_owned(), place)).into();
        let files = ["part-a-0a.wasm", "part-small-0a.bin", "part-split_x-0a.wasm"];
        assert_eq!(
            needed("x b split_x.wasm c a", "0a", &chunks),
            Some(("x".to_owned(), files.map(str::to_owned).to_vec()))
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
