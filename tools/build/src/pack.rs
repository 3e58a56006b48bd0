//! Packs the files of a build with gzip, for hosts that send a file's `.gz` in its place.
//!
//! Zopfli packs a twentieth smaller than other programs that write gzip, and takes many times as long. What was packed
//! once is kept under the hash of its content.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::thread;

use anyhow::{Context as _, Result, anyhow};
use zopfli::{Format, Options};

use crate::parts::hash;

/// Where packed files are kept.
const KEPT: &str = "target/packed";

/// Writes a `.gz` beside each file of a folder that a `.br` lies beside: what one packing gains by, the other does.
pub(crate) fn gzip(folder: &Path) -> Result<()> {
    gzip_keeping(folder, Path::new(KEPT))
}

fn gzip_keeping(folder: &Path, kept: &Path) -> Result<()> {
    fs::create_dir_all(kept)?;
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "br") {
            files.push(path.with_extension(""));
        }
    }
    // The largest last in the list, as they are taken from its end.
    files.sort_by_key(|file| fs::metadata(file).map_or(0, |about| about.len()));
    let files = Mutex::new(files);
    let next = || files.lock().ok()?.pop();
    let work = || std::iter::from_fn(next).try_for_each(|file| gzip_one(&file, kept));
    let workers = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        let running: Vec<_> = (0..workers).map(|_| scope.spawn(work)).collect();
        running.into_iter().try_for_each(|worker| {
            worker.join().map_err(|_| anyhow!("a file could not be packed"))?
        })
    })
}

fn gzip_one(file: &Path, kept: &Path) -> Result<()> {
    let content = fs::read(file).with_context(|| format!("cannot read {}", file.display()))?;
    let kept = kept.join(format!("{}.zopfli.gz", hash(&[&content])));
    let packed = match fs::read(&kept) {
        Ok(packed) => packed,
        Err(_) => {
            let packed = packed(&content)?;
            fs::write(&kept, &packed)?;
            packed
        }
    };
    let beside = PathBuf::from(format!("{}.gz", file.display()));
    fs::write(&beside, packed).with_context(|| format!("cannot write {}", beside.display()))
}

fn packed(content: &[u8]) -> Result<Vec<u8>> {
    let mut packed = Vec::new();
    zopfli::compress(Options::default(), Format::Gzip, content, &mut packed)?;
    Ok(packed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_gains_is_packed_and_each_by_its_own_content() {
        let folder = std::env::temp_dir().join("crenel-build-packed");
        fs::create_dir_all(&folder).unwrap();
        let text = "gear ".repeat(400);
        for (name, content) in [("page.html", text.as_str()), ("page.html.br", "-"), ("a.png", "-")]
        {
            fs::write(folder.join(name), content).unwrap();
        }
        for _ in ["packed now", "kept"] {
            gzip_keeping(&folder, &folder.join("kept")).unwrap();
            let packed = fs::read(folder.join("page.html.gz")).unwrap();
            // RFC 1952: two bytes by which gzip is known, deflate, and at the end the length.
            assert_eq!(packed[..3], [0x1f, 0x8b, 8]);
            assert_eq!(packed[packed.len() - 4..], 2000_u32.to_le_bytes());
            assert!(packed.len() < 60, "{}", packed.len());
            assert!(!folder.join("a.png.gz").exists());
        }
        fs::remove_dir_all(folder).unwrap();
    }
}
