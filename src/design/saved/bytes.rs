//! From the bytes of a file to its text, for the browser and for the command line.

use std::borrow::Cow;

use crenel_words::finding as say;

use super::read::{Opened, open};
use crate::finding::Finding;

/// The largest file that is read, bytes. A design is about a thousandth of that.
pub const FILE_LIMIT: usize = 4_000_000;

/// The byte-order mark with which editors mark a text as UTF-8 (Unicode standard, 23.8).
const UTF8_MARK: &[u8] = &[0xef, 0xbb, 0xbf];
const UTF16_LITTLE_MARK: &[u8] = &[0xff, 0xfe];
const UTF16_BIG_MARK: &[u8] = &[0xfe, 0xff];

/// Opens the bytes of a file that holds a saved form: UTF-8 or UTF-16, with a byte-order mark or
/// without.
///
/// # Errors
/// As [`open`], and if there are more than [`FILE_LIMIT`] bytes.
pub fn read(bytes: &[u8]) -> Result<Opened, Vec<Finding>> {
    check_size(bytes.len())?;
    let (text, damaged) = text_of(bytes);
    let warning = damaged.then(|| Finding::warning(say::damaged_text()));
    match open(&text) {
        Ok(mut opened) => {
            opened.findings.extend(warning);
            Ok(opened)
        }
        Err(findings) => Err(findings.into_iter().chain(warning).collect()),
    }
}

/// Checks the size of a file before it is read.
///
/// # Errors
/// The finding that the file is too large.
pub fn check_size(bytes: usize) -> Result<(), Vec<Finding>> {
    if bytes <= FILE_LIMIT {
        return Ok(());
    }
    Err(vec![Finding::error(say::too_large(bytes, FILE_LIMIT))])
}

/// The text in some bytes, and whether a part of it could not be read. A text without a mark is UTF-16 if one
/// of its first two bytes is zero, because a saved form begins with ASCII characters.
pub fn text_of(bytes: &[u8]) -> (Cow<'_, str>, bool) {
    if let Some(rest) = bytes.strip_prefix(UTF8_MARK) {
        return utf8(rest);
    }
    match bytes {
        [0, second, ..] if *second != 0 => utf16(bytes, u16::from_be_bytes),
        [first, 0, ..] if *first != 0 => utf16(bytes, u16::from_le_bytes),
        _ => match (bytes.strip_prefix(UTF16_LITTLE_MARK), bytes.strip_prefix(UTF16_BIG_MARK)) {
            (Some(rest), _) => utf16(rest, u16::from_le_bytes),
            (_, Some(rest)) => utf16(rest, u16::from_be_bytes),
            _ => utf8(bytes),
        },
    }
}

fn utf8(bytes: &[u8]) -> (Cow<'_, str>, bool) {
    let text = String::from_utf8_lossy(bytes);
    let damaged = matches!(text, Cow::Owned(_));
    (text, damaged)
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> (Cow<'_, str>, bool) {
    const REPLACEMENT: u16 = char::REPLACEMENT_CHARACTER as u16;
    let (pairs, odd) = bytes.as_chunks::<2>();
    let units: Vec<u16> = pairs.iter().map(|&pair| unit(pair)).collect();
    let text = String::from_utf16_lossy(&units);
    let replaced = text.contains(char::REPLACEMENT_CHARACTER) && !units.contains(&REPLACEMENT);
    (Cow::Owned(text), replaced || !odd.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r#"{ "crenel": 1, "title": "Höhe ½ 😀", "overlap_mm": 3.5 }"#;

    fn utf16_bytes(mark: &[u8], bytes_of: fn(u16) -> [u8; 2]) -> Vec<u8> {
        mark.iter().copied().chain(TEXT.encode_utf16().flat_map(bytes_of)).collect()
    }

    #[test]
    fn a_design_opens_however_its_text_is_coded() {
        let want = open(TEXT).expect("it opens");
        let files = [
            TEXT.as_bytes().to_vec(),
            [UTF8_MARK, TEXT.as_bytes()].concat(),
            utf16_bytes(UTF16_LITTLE_MARK, u16::to_le_bytes),
            utf16_bytes(UTF16_BIG_MARK, u16::to_be_bytes),
            utf16_bytes(&[], u16::to_le_bytes),
            utf16_bytes(&[], u16::to_be_bytes),
        ];
        for bytes in files {
            assert_eq!(read(&bytes).as_ref(), Ok(&want), "{:x?}", &bytes[..4]);
        }
    }

    #[test]
    fn letters_that_cannot_be_read_are_told_and_cost_no_number() {
        let latin = TEXT.replace("½ 😀", "").chars().map(|c| c as u8).collect::<Vec<_>>();
        let mut half_pair = utf16_bytes(&[], u16::to_le_bytes);
        let low = half_pair.iter().position(|&byte| byte == 0xd8).expect("a pair of units");
        half_pair[low] = 0xdc;
        for bytes in [latin, half_pair] {
            let opened = read(&bytes).expect("it opens");
            assert_eq!(opened.design.setting, open(TEXT).expect("it opens").design.setting);
            assert!(opened.design.title.contains('�'), "{}", opened.design.title);
            let codes: Vec<_> = opened.findings.iter().map(|finding| finding.code).collect();
            assert_eq!(codes, ["damaged_text"]);
        }
        assert!(read(&[0xff, 0xfe, 0x7b]).is_err(), "half a unit is no design");
    }

    #[test]
    fn what_is_too_large_is_not_read() {
        let padded =
            |bytes: usize| format!("{TEXT}{}", " ".repeat(bytes - TEXT.len())).into_bytes();
        assert!(read(&padded(FILE_LIMIT)).is_ok());
        let refused = read(&padded(FILE_LIMIT + 1)).expect_err("it is too large");
        let told = refused[0].text(crenel_words::Reader::default());
        assert!(
            told.contains(
                "4\u{202f}000\u{202f}001 bytes or more, and the limit is 4\u{202f}000\u{202f}000"
            ),
            "{told}"
        );
    }
}
