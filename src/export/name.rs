//! Names of files.

/// The most bytes of the title in a file name. Systems allow 255 for the whole name.
const MOST_BYTES: usize = 120;

/// A file name that every system takes: letters and digits of the title joined by hyphens, then the
/// ending. If the title has no letters or digits, the name of the app takes its place.
///
/// ```
/// use crenel::export::file_name;
/// assert_eq!(file_name("Second gear", "dogs.csv"), "second-gear-dogs.csv");
/// assert_eq!(file_name("../..", "dogs.csv"), "crenel-dogs.csv");
/// ```
pub fn file_name(title: &str, ending: &str) -> String {
    let plain: String =
        title.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).take(60).collect();
    let mut stem = plain.split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    stem.truncate(stem.floor_char_boundary(MOST_BYTES));
    if stem.is_empty() { format!("crenel-{ending}") } else { format!("{stem}-{ending}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_title_leaves_its_folder_or_hides_its_ending() {
        let cases = [
            ("../../etc/passwd\u{0}.dxf", "etc-passwd-dxf-x.stl"),
            ("C:\\con|<a>?*\"", "c-con-a-x.stl"),
            ("\u{202e}lts.x\u{feff}", "lts-x-x.stl"),
            (".hidden\r\n-rf ~", "hidden-rf-x.stl"),
            ("Zähne 歯", "zähne-歯-x.stl"),
            (" 😀 ", "crenel-x.stl"),
        ];
        for (title, want) in cases {
            assert_eq!(file_name(title, "x.stl"), want);
        }
        for letter in ["W", "é", "歯", "𝔊"] {
            let name = file_name(&letter.repeat(999), "ring-a-index.csv");
            assert!(name.len() < 255 && name.ends_with("-ring-a-index.csv"), "{name}");
        }
    }
}
