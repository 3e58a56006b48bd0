//! Cautions before and after a gear is cut: the whole list for paper, a short form for files.

use crenel_words::{Phrase, Reader, caution as say};

/// The whole list, printed with every sheet. Common practice, no source, except for the standards named.
pub const CAUTIONS: [Phrase; 9] = [
    say::sizes_only,
    say::can_lock,
    say::hardened,
    say::wheel,
    say::temper,
    say::cracks,
    say::edges,
    say::grit,
    say::other_face,
];

/// The short form. It has no commas or quotation marks, so that every reader of tables takes a sentence as
/// one cell.
const SHORT: [Phrase; 7] = [
    say::sizes_only_short,
    say::can_lock,
    say::hardened_short,
    say::wheel_short,
    say::temper_short,
    say::cracks_short,
    say::rest_short,
];

/// The short form, for every file that somebody may cut metal from.
pub fn cautions_short(reader: Reader) -> [String; 7] {
    SHORT.map(|caution| caution().show(reader))
}

/// The shortest form, for formats with room for half a line of ASCII.
pub const CAUTION_LINE: &str = "Grind if hardened; crack-test; can lock wheel.";

#[cfg(test)]
mod tests {
    use super::*;

    /// Every subject of the list has its word in the short form too.
    #[test]
    fn the_short_form_leaves_no_subject_out() {
        let long = CAUTIONS.map(|caution| caution().show(Reader::default())).join(" ");
        let lines = cautions_short(Reader::default());
        let short = lines.join(" ");
        for word in [
            "maker's limits",
            "lock the rear wheel",
            "hardened",
            "spindle",
            "side load",
            "temper",
            "burn",
            "cracks",
            "sharp root",
            "sharp edge",
            "grit",
            "mating ring",
        ] {
            assert!(long.contains(word), "{word}");
            assert!(short.contains(word), "{word}");
        }
        for line in lines {
            assert!(!line.contains([',', '"', '\n']) && line.chars().count() < 240, "{line}");
        }
        assert!(CAUTION_LINE.is_ascii() && CAUTION_LINE.len() < 50);
    }
}
