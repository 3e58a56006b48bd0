//! The parts of a module that are fetched when they are wanted.
//!
//! Whoever marks a function with `wasm_split` takes it, and what only it needs, out of the main module. The splitter
//! writes the main module, a chunk for each part and each set of parts that shares code, and a script that fetches
//! them. All are served under the hash of the build: a chunk fits no main module but its own. Chunks that the same of
//! the parts ahead need lie in one file, and so do all other small ones: to fetch one takes longer than to fetch all.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, anyhow, ensure};
use wasm_split_cli_support::{Options, transform};

/// The script that fetches the chunks, as the splitter names it.
const LOADER: &str = "__wasm_split.js";

/// Part of the name of every function that is split off.
const MARK: &[u8] = b"__wasm_split_00";

/// Chunks of fewer bytes that no part ahead needs lie together in one file.
const SMALL: usize = 4000;

/// The name of that file.
const SMALL_ONES: &str = "small";

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
    /// So many bytes of a file with several, from a byte on.
    Piece { of: String, at: usize, size: usize },
}

/// The chunks by their names, each with its place.
type Chunks = BTreeMap<String, Place>;

/// The chunks that each part needs.
type Needs = BTreeMap<String, BTreeSet<String>>;

/// Writes loader and chunks where they are served from; gives the names of the files that each part needs. The parts
/// ahead are those for which somebody waits: their chunks are put together.
pub(crate) fn serve(
    parts: Vec<Made>,
    work: &Path,
    folder: &Path,
    bin: &str,
    hash: &str,
    ahead: &[String],
) -> Result<BTreeMap<String, Vec<String>>> {
    let mut chunks = Chunks::new();
    let mut together: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let mut loader = None;
    if parts.is_empty() {
        return Ok(BTreeMap::new());
    }
    let needs = needs_of(&fs::read_to_string(work.join(NEEDS))?);
    for part in parts {
        let Some(stem) = part.name.strip_suffix(".wasm") else {
            loader = Some(String::from_utf8(part.content)?);
            continue;
        };
        let size = part.content.len();
        let place = match with_others(stem, size, &needs, ahead) {
            Some(of) => {
                let file = together.entry(of.clone()).or_default();
                file.extend(part.content);
                Place::Piece { of, at: file.len() - size, size }
            }
            None => {
                fs::write(folder.join(served_chunk(stem, hash)), part.content)?;
                Place::Alone
            }
        };
        chunks.insert(stem.to_owned(), place);
    }
    let loader = loader.context("the splitter left no loader")?;
    for (name, content) in together {
        fs::write(folder.join(served_together(&name, hash)), content)?;
    }
    fs::write(folder.join(served_loader(hash)), relinked(&loader, bin, hash, &chunks)?)?;
    Ok(needs.iter().map(|(part, own)| (part.clone(), files_of(own, hash, &chunks))).collect())
}

/// The chunks that each part needs, from lines of a part and its chunks.
fn needs_of(text: &str) -> Needs {
    let of_line = |line: &str| {
        let mut names = line.split(' ').map(|name| name.trim_end_matches(".wasm").to_owned());
        Some((names.next()?, names.collect()))
    };
    text.lines().filter_map(of_line).collect()
}

/// The name of the file that a chunk shares with others, if it does.
fn with_others(stem: &str, size: usize, needs: &Needs, ahead: &[String]) -> Option<String> {
    let needed = |part: &&String| needs.get(*part).is_some_and(|own| own.contains(stem));
    let needed: Vec<_> = ahead.iter().filter(needed).map(String::as_str).collect();
    match needed.as_slice() {
        [] => (size < SMALL).then(|| SMALL_ONES.to_owned()),
        parts => Some(parts.join("-")),
    }
}

/// The files that hold some chunks.
fn files_of(own: &BTreeSet<String>, hash: &str, chunks: &Chunks) -> Vec<String> {
    let file = |stem: &String| match chunks.get(stem)? {
        Place::Alone => Some(served_chunk(stem, hash)),
        Place::Piece { of, .. } => Some(served_together(of, hash)),
    };
    own.iter().filter_map(file).collect::<BTreeSet<_>>().into_iter().collect()
}

fn served_chunk(stem: &str, hash: &str) -> String {
    format!("part-{stem}-{hash}.wasm")
}

fn served_together(name: &str, hash: &str) -> String {
    format!("part-{name}-{hash}.bin")
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
            Place::Piece { of, at, size } => {
                format!("piece(\"./{}\",{at},{size})", served_together(of, hash))
            }
        };
        script = script.replace(&as_written, &served);
    }
    Ok(script + PIECE.trim_end())
}

/// Gives a chunk of a file with several as if it had been fetched by itself. A file that cannot be fetched is tried
/// again.
const PIECE: &str = r#"
const files = new Map();
function piece(name, at, size) {
  if (!files.has(name)) {
    files.set(name, fetch(new URL(name, import.meta.url)).then((answer) => {
      if (!answer.ok) throw new Error(`${answer.status} ${answer.url}`);
      return answer.arrayBuffer();
    }));
  }
  const file = files.get(name);
  file.catch(() => { if (files.get(name) === file) files.delete(name); });
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
        let of = "small".to_owned();
        let piece = Chunks::from([("chunk_1".to_owned(), Place::Piece { of, at: 7, size: 5 })]);
        let with_piece = script_of(&piece).unwrap();
        assert!(with_piece.contains(r#"a(piece("./part-small-0a.bin",7,5))"#), "{with_piece}");
        let strange = Chunks::from([("chunk_2".to_owned(), Place::Alone)]);
        assert!(script_of(&strange).is_err(), "a chunk that nothing fetches");
    }

    #[test]
    fn chunks_of_the_same_parts_ahead_lie_together() {
        let needs = needs_of("first a b.wasm c\nsecond b c d\nthird d e\n");
        let ahead = ["first", "second"].map(str::to_owned);
        let with = |stem, size| with_others(stem, size, &needs, &ahead);
        assert_eq!(with("a", 90_000).as_deref(), Some("first"));
        assert_eq!(with("b", 1).as_deref(), Some("first-second"));
        assert_eq!(with("d", 1).as_deref(), Some("second"));
        assert_eq!(with("e", 3999).as_deref(), Some("small"));
        assert_eq!(with("e", 4000), None);
    }

    #[test]
    fn a_part_needs_each_file_once() {
        let piece = |of: &str| Place::Piece { of: of.to_owned(), at: 0, size: 1 };
        let chunks = [("a", Place::Alone), ("b", piece("x")), ("c", piece("x")), ("d", piece("y"))];
        let chunks = chunks.map(|(stem, place)| (stem.to_owned(), place)).into();
        let own = ["a", "b", "c"].map(str::to_owned).into();
        assert_eq!(files_of(&own, "0a", &chunks), ["part-a-0a.wasm", "part-x-0a.bin"]);
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
