//! A user's text inside a sentence of the program.

/// The largest number of characters that are kept.
const MOST: usize = 120;

/// A user's text in a form that fits into a sentence: on one line, cut to 120 characters, without control
/// characters and without characters that change the direction of writing.
///
/// ```
/// use crenel_geometry::units::sanitize_quote;
/// assert_eq!(sanitize_quote("two\nlines"), "two lines");
/// assert_eq!(sanitize_quote("\u{202e}sdrawkcab"), "sdrawkcab");
/// ```
pub fn sanitize_quote(words: &str) -> String {
    let turns = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let breaks = |c: char| c.is_control() || matches!(c, '\u{2028}' | '\u{2029}');
    let kept = words.chars().filter(|c| !turns(*c)).map(|c| if breaks(c) { ' ' } else { c });
    let mut text: String = kept.take(MOST + 1).collect();
    if let Some((at, _)) = text.char_indices().nth(MOST) {
        text.truncate(at);
        text.push('…');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_on_one_line_and_are_cut_short() {
        let cases = [
            ("a\r\n\u{0}\u{85}\u{2028}b", "a     b"),
            ("\u{202a}\u{202b}\u{202c}\u{202d}\u{202e}\u{2066}\u{2067}\u{2068}\u{2069}x", "x"),
            ("שיניים \u{200f}😀", "שיניים \u{200f}😀"),
            ("", ""),
        ];
        for (words, want) in cases {
            assert_eq!(sanitize_quote(words), want);
        }
        assert_eq!(sanitize_quote(&"é".repeat(MOST)), "é".repeat(MOST));
        assert_eq!(sanitize_quote(&"é".repeat(9999)), "é".repeat(MOST) + "…");
    }
}
