//! Which file leans on which: paths followed to the file that defines what they name.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use super::imports::{Named, named};
use super::tokens::{test_modules, tokens};

/// The crates, each with its folder below the root and the name by which others call it. A folder that
/// is listed first is not part of one that is listed later.
const CRATES: [(&str, &str); 5] = [
    ("src/geometry", "crenel_geometry"),
    ("src/photo", "crenel_photo"),
    ("src/words", "crenel_words"),
    ("src/app", "crenel_app"),
    ("src", "crenel"),
];

/// A file as crate and path of its module.
type Module = (usize, Vec<String>);

/// One source file.
struct Source {
    /// Its path below the root, `/` between folders.
    file: String,
    named: Named,
}

/// Every source file with what it leans on.
pub(crate) struct Graph {
    sources: BTreeMap<Module, Source>,
}

impl Graph {
    /// Reads the sources of all crates.
    pub(crate) fn read() -> Self {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let (mut sources, mut for_tests) = (BTreeMap::new(), BTreeSet::new());
        for path in files(&root.join("src")) {
            let file = path.strip_prefix(root).expect("it is below the root");
            let file = file.to_string_lossy().replace('\\', "/");
            let text = fs::read_to_string(&path).expect("a source is text");
            let at = module(&file);
            for name in test_modules(&text) {
                let mut tests = at.clone();
                tests.1.push(name);
                for_tests.insert(tests);
            }
            sources.insert(at, Source { named: named(&tokens(&text)), file });
        }
        sources.retain(|at, _| !for_tests.contains(at));
        Self { sources }
    }

    /// Every file.
    pub(crate) fn files(&self) -> impl Iterator<Item = &str> {
        self.sources.values().map(|source| source.file.as_str())
    }

    /// Each pair of files of which the first leans on the second.
    pub(crate) fn edges(&self) -> BTreeSet<(&str, &str)> {
        let mut edges = BTreeSet::new();
        for (at, source) in &self.sources {
            let imports = source.named.imports.iter().map(|import| &import.path);
            for path in imports.chain(&source.named.paths) {
                let target = self.resolve(at, path, 0).map(|at| &self.sources[&at].file);
                edges.extend(
                    target.filter(|to| **to != source.file).map(|to| (&*source.file, &**to)),
                );
            }
        }
        edges
    }

    /// The module that defines what a path names in another; `None` for what no crate of ours has.
    fn resolve(&self, from: &Module, path: &[String], depth: usize) -> Option<Module> {
        // An import may go round in a circle, as two globs do.
        if depth > 12 {
            return None;
        }
        let (krate, here) = from;
        let (first, rest) = path.split_first()?;
        match first.as_str() {
            "crate" => self.walk((*krate, Vec::new()), rest, depth),
            "self" => self.walk(from.clone(), rest, depth),
            "super" => {
                let up = here.len().checked_sub(1)?;
                let parent = (*krate, here[..up].to_vec());
                match rest.first().map(String::as_str) {
                    Some("super") => self.resolve(&parent, rest, depth),
                    _ => self.walk(parent, rest, depth),
                }
            }
            name => {
                if let Some(other) = CRATES.iter().position(|(_, known)| *known == name) {
                    return self.walk((other, Vec::new()), rest, depth);
                }
                let known = self.child(from, name).is_some() || self.import(from, name).is_some();
                known.then(|| self.walk(from.clone(), path, depth))?
            }
        }
    }

    /// Follows a path from a module that it is known to start in.
    fn walk(&self, at: Module, path: &[String], depth: usize) -> Option<Module> {
        let Some((name, rest)) = path.split_first() else { return Some(at) };
        if let Some(child) = self.child(&at, name) {
            return self.walk(child, rest, depth);
        }
        if let Some(import) = self.import(&at, name) {
            let whole: Vec<String> = import.iter().chain(rest).cloned().collect();
            return self.resolve(&at, &whole, depth + 1);
        }
        Some(at)
    }

    fn child(&self, at: &Module, name: &str) -> Option<Module> {
        let mut path = at.1.clone();
        path.push(name.to_owned());
        let child = (at.0, path);
        self.sources.contains_key(&child).then_some(child)
    }

    /// The path by which a module has a name from elsewhere.
    fn import(&self, at: &Module, name: &str) -> Option<&[String]> {
        let imports = &self.sources.get(at)?.named.imports;
        let import = imports.iter().find(|import| import.alias == name)?;
        // `use self::name` and the like would go round.
        let same = matches!(import.path.as_slice(), [one] if one == name);
        (!same).then_some(&import.path)
    }
}

/// Crate and module of a file.
fn module(file: &str) -> Module {
    let inside = |(folder, _): &(&str, &str)| file.starts_with(&format!("{folder}/"));
    let krate = CRATES.iter().position(inside).expect("a file of one of the crates");
    let below = &file[CRATES[krate].0.len() + 1..file.len() - ".rs".len()];
    let below = below.strip_suffix("/mod").unwrap_or(below);
    let is_root = matches!(below, "lib" | "main");
    let path = if is_root { Vec::new() } else { below.split('/').map(str::to_owned).collect() };
    (krate, path)
}

/// Every Rust file below a folder.
pub(crate) fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the folder is there");
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("it can be read").path()).collect();
    paths.sort();
    let files = |path: PathBuf| if path.is_dir() { files(&path) } else { vec![path] };
    let all = paths.into_iter().flat_map(files);
    all.filter(|path| path.extension().is_some_and(|ending| ending == "rs")).collect()
}

/// The files that lie on a circle, circle by circle.
pub(crate) fn circles<'a>(edges: &BTreeSet<(&'a str, &'a str)>) -> Vec<Vec<&'a str>> {
    let mut onwards: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    edges.iter().for_each(|(from, to)| onwards.entry(from).or_default().push(to));
    let reach = |start: &'a str| {
        let (mut seen, mut open) = (BTreeSet::new(), vec![start]);
        while let Some(file) = open.pop() {
            let next = onwards.get(file).into_iter().flatten();
            open.extend(next.copied().filter(|to| seen.insert(*to)));
        }
        seen
    };
    let reached: BTreeMap<&str, BTreeSet<&str>> =
        onwards.keys().map(|file| (*file, reach(file))).collect();
    let mut circles: Vec<Vec<&str>> = Vec::new();
    for (file, onwards) in &reached {
        let there = |other: &&&str| reached.get(**other).is_some_and(|back| back.contains(file));
        let circle: Vec<&str> = onwards.iter().filter(there).copied().collect();
        // The first of its files stands for a circle.
        if circle.first() == Some(file) {
            circles.push(circle);
        }
    }
    circles
}
