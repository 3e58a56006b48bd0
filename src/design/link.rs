//! The link that holds a design: `1.` and the saved form, deflated, in the URL's own base 64.
//!
//! It is the fragment of the page's address, which browsers do not send to a server. A design ends where its
//! deflate stream ends, so whatever a mail or a messenger appended is ignored. Characters that were inserted
//! in between (line breaks, spaces, quote marks) are not in the alphabet of the link and are left out.
//!
//! In a QR code the same bytes are `1` and digits, because a code holds digits in fewer modules: see [`digits`].

mod digits;

use std::fmt;

use base64::alphabet::URL_SAFE;
use base64::engine::general_purpose::{GeneralPurpose, GeneralPurposeConfig};
use base64::engine::{DecodePaddingMode, Engine as _};
use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_with_limit};

use crenel_words::{Message, Reader, link as say};

use super::{Design, Opened, open, to_json};
use crate::finding::Finding;

/// The longest link that is read, in characters after the `#`.
pub const LINK_LIMIT: usize = 32_768;

/// The largest size that a link may unpack to, bytes, so that a small link cannot fill the memory.
pub const UNPACKED_LIMIT: usize = 262_144;

/// The version of the coding. The saved form inside has its own version.
const PREFIX: &str = "1.";

/// The start of the design in a link that is more than its fragment.
const MARK: &str = "#1.";

/// The version of the coding in digits, and the start of such a design in a link.
const DIGITS_PREFIX: char = '1';
const DIGITS_MARK: &str = "#1";

/// The best compression of the packer.
const LEVEL: u8 = 10;

/// Writes no padding, and reads text that was cut in the middle of a byte.
const LETTERS: GeneralPurpose = GeneralPurpose::new(
    &URL_SAFE,
    GeneralPurposeConfig::new()
        .with_encode_padding(false)
        .with_decode_padding_mode(DecodePaddingMode::RequireNone)
        .with_decode_allow_trailing_bits(true),
);

/// Why a link could not be read.
#[derive(Clone, Debug, PartialEq)]
pub enum LinkError {
    /// It does not begin as our links do.
    NotALink,
    /// It is longer than any link of ours.
    TooLong(usize),
    /// Only this many characters arrived, and the design does not end within them.
    CutShort(usize),
    /// The packed part was changed on the way.
    Damaged,
    /// It unpacks to more than is allowed.
    TooLarge,
    /// It unpacks, but the content is not a design.
    Unreadable(Vec<Finding>),
}

impl LinkError {
    /// What is wrong, and what to do: one sentence or more.
    pub fn says(&self) -> Vec<Message> {
        vec![match self {
            Self::NotALink => say::no_link(PREFIX.to_owned()),
            Self::TooLong(length) => say::too_long(*length, LINK_LIMIT),
            Self::CutShort(length) => say::cut_short(*length),
            Self::Damaged => say::damaged(),
            Self::TooLarge => say::unpacks_too_large(UNPACKED_LIMIT),
            Self::Unreadable(findings) => {
                let found = findings.iter().flat_map(|f| [f.says.clone(), f.next.clone()]);
                return [say::no_design()].into_iter().chain(found).collect();
            }
        }]
    }
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let says: Vec<_> = self.says().iter().map(|one| one.show(Reader::default())).collect();
        f.write_str(&says.join(" "))
    }
}

impl std::error::Error for LinkError {}

/// Packs a design into what follows the `#` of a link.
///
/// ```
/// use crenel::design::{Design, decode, encode};
/// let design = Design { title: "Second gear".to_owned(), ..Design::default() };
/// assert_eq!(decode(&encode(&design)).expect("our own link").design, design);
/// ```
pub fn encode(design: &Design) -> String {
    PREFIX.to_owned() + &LETTERS.encode(packed(design))
}

/// Packs a design into what follows the `#` of the link in a QR code: digits only, which make the text longer and
/// the code smaller.
///
/// ```
/// use crenel::design::{decode, encode_digits, example};
/// let digits = encode_digits(&example());
/// assert!(digits.bytes().all(|byte| byte.is_ascii_digit()));
/// assert_eq!(decode(&digits).expect("our own link").design, example());
/// ```
pub fn encode_digits(design: &Design) -> String {
    DIGITS_PREFIX.to_string() + &digits::write(&packed(design))
}

/// The saved form, deflated.
fn packed(design: &Design) -> Vec<u8> {
    compress_to_vec(to_json(design).as_bytes(), LEVEL)
}

/// Unpacks a link of either form, or the part after its `#`. Text before and after the link, and characters that a mail or a
/// messenger inserted, are left out. Codes such as `%23` are decoded.
///
/// ```
/// use crenel::design::{decode, encode, example};
/// let sent = format!("<https://crenel.example/%23{}>, he said.", encode(&example()));
/// assert_eq!(decode(&sent).expect("it is whole").design, example());
/// ```
///
/// # Errors
/// Why the link cannot be read. Never panics, whatever it is given, and never unpacks more than
/// [`UNPACKED_LIMIT`].
pub fn decode(link: &str) -> Result<Opened, LinkError> {
    let link = without_foreign(link);
    let (arrived, packed) = match body_of(&link)? {
        Body::Letters(letters) => (PREFIX.len() + letters.len(), of_letters(&letters)),
        Body::Digits(read) => (DIGITS_PREFIX.len_utf8() + read.len(), digits::read(read)),
    };
    if arrived > LINK_LIMIT {
        return Err(LinkError::TooLong(arrived));
    }
    let packed = packed.ok_or(LinkError::Damaged)?;
    let json =
        decompress_to_vec_with_limit(&packed, UNPACKED_LIMIT).map_err(|e| match e.status {
            TINFLStatus::HasMoreOutput => LinkError::TooLarge,
            TINFLStatus::FailedCannotMakeProgress => LinkError::CutShort(arrived),
            _ => LinkError::Damaged,
        })?;
    let text = String::from_utf8(json).map_err(|_| LinkError::Damaged)?;
    open(&text).map_err(LinkError::Unreadable)
}

/// The letters of a link, and the signs that mark the start of its design.
fn without_foreign(text: &str) -> String {
    let mut plain = Vec::with_capacity(text.len());
    for byte in text.bytes() {
        plain.push(byte);
        // A sign that was coded twice is `%25` and the rest of a code.
        while let Some(meant) = code_at_end(&plain) {
            plain.truncate(plain.len() - 3);
            plain.push(meant);
        }
    }
    let ours = |c: &char| c.is_ascii_alphanumeric() || "-_.#".contains(*c);
    plain.into_iter().map(char::from).filter(ours).collect()
}

/// The sign that a code such as `%23` at the end of a text represents.
fn code_at_end(text: &[u8]) -> Option<u8> {
    let &[.., b'%', high, low] = text else { return None };
    let digit = |byte: u8| char::from(byte).to_digit(16);
    u8::try_from(16 * digit(high)? + digit(low)?).ok()
}

/// The bytes of a text in the alphabet of the link. A single letter left over at the end is less than a byte.
fn of_letters(letters: &str) -> Option<Vec<u8>> {
    let whole = letters.len() - usize::from(letters.len() % 4 == 1);
    LETTERS.decode(&letters[..whole]).ok()
}

/// The packed part of a link.
enum Body<'a> {
    /// In the alphabet of the link.
    Letters(String),
    /// In digits, from a QR code.
    Digits(&'a str),
}

fn body_of(link: &str) -> Result<Body<'_>, LinkError> {
    let bare = link.trim_start_matches(['#', '.', '-', '_']);
    let in_address = || link.split_once(MARK).map(|(_, body)| body);
    if let Some(letters) = bare.strip_prefix(PREFIX).or_else(in_address) {
        return Ok(Body::Letters(letters.chars().filter(|c| !".#".contains(*c)).collect()));
    }
    if link == "1" {
        return Err(LinkError::CutShort(1));
    }
    let in_address = || link.split_once(DIGITS_MARK).map(|(_, body)| body);
    let digits = bare.strip_prefix(DIGITS_PREFIX).or_else(in_address).map(leading_digits);
    digits.filter(|digits| !digits.is_empty()).map(Body::Digits).ok_or(LinkError::NotALink)
}

/// The digits that a text begins with.
fn leading_digits(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    &text[..end]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;

    #[test]
    fn a_link_survives_the_road() {
        let good = encode(&example());
        let cases = [
            "{}.",
            "{}>",
            "{})",
            "{},",
            "{};",
            "{}\"",
            "{}!",
            "{}*",
            "{}_",
            "{}-",
            "{}…",
            "{} ",
            "<{}>",
            "“{}”",
            "*{}*",
            "{}&utm_source=mail&utm_medium=a.b",
            "{}?fbclid=IwAR0",
            "{}#results",
            "{}%2E",
            "#{}",
            "%23{}",
            "%2523{}",
            "https://x.example/folder/#{}",
            "https://x.example/folder/%23{}, it says",
            "http://1.1.1.1/index.html?a=b%23{}>",
            "Look: https://x.example/#{} and https://x.example/#1.abc",
        ];
        for case in cases {
            let link = case.replace("{}", &good);
            assert_eq!(decode(&link).map(|opened| opened.design), Ok(example()), "{case}");
        }
        for put_in in [" ", "\n", "\r\n", "=\r\n", "%20", "%0D%0A", "\n> ", "\u{200b}", "="] {
            for at in 0..=good.len() {
                let link = good[..at].to_owned() + put_in + &good[at..];
                let opened = decode(&link).map(|opened| opened.design);
                assert_eq!(opened, Ok(example()), "{put_in:?} at {at}");
            }
        }
        let coded: String = good.bytes().map(|byte| format!("%{byte:02x}")).collect();
        assert_eq!(decode(&coded).map(|opened| opened.design), Ok(example()));
    }

    #[test]
    fn every_cut_says_how_much_arrived() {
        let good = encode(&example());
        assert_eq!(decode("1"), Err(LinkError::CutShort(1)));
        for at in 2..good.len() {
            for behind in ["", ".", "…", "\n"] {
                let cut = decode(&(good[..at].to_owned() + behind));
                assert_eq!(cut, Err(LinkError::CutShort(at)), "{behind:?}");
            }
        }
        let words = LinkError::CutShort(412).to_string();
        assert!(words.starts_with("The link is cut short: only 412 characters arrived"), "{words}");
    }

    #[test]
    fn digits_survive_the_road_and_every_cut_says_how_much_arrived() {
        let good = encode_digits(&example());
        let cases = [
            "{}.",
            "{}>",
            "{}#results",
            "{} 2026",
            "{}&utm_source=mail",
            "#{}",
            "%23{}",
            "https://x.example/folder/#{}, it says",
            "http://1.1.1.1/index.html?a=b%23{}>",
        ];
        for case in cases {
            let link = case.replace("{}", &good);
            assert_eq!(decode(&link).map(|opened| opened.design), Ok(example()), "{case}");
        }
        for at in 2..good.len() {
            assert_eq!(decode(&good[..at]), Err(LinkError::CutShort(at)));
        }
        let too_long = format!("1{}", "0".repeat(LINK_LIMIT));
        assert_eq!(decode(&too_long), Err(LinkError::TooLong(LINK_LIMIT + 1)));
        assert_eq!(decode(&format!("1{}", "9".repeat(17))), Err(LinkError::Damaged));
    }

    #[test]
    fn a_bad_link_says_why() {
        let good = encode(&example());
        let bomb = compress_to_vec(&vec![b' '; 4 * UNPACKED_LIMIT], LEVEL);
        let wrap = |bytes: &[u8]| PREFIX.to_owned() + &LETTERS.encode(bytes);
        let cases = [
            (String::new(), "begin with"),
            ("2.abc".to_owned(), "begin with"),
            (format!("1.{}", "A".repeat(LINK_LIMIT)), "at most"),
            ("https://x.example/#results".to_owned(), "begin with"),
            (good[..good.len() / 2].to_owned(), "cut short"),
            (good.replace('a', "b"), "damaged"),
            (wrap(&compress_to_vec(b"\xff", LEVEL)), "damaged"),
            (wrap(&bomb), "bytes"),
            (wrap(&compress_to_vec(b"{\"crenel\":9}", LEVEL)), "newer"),
            (wrap(&compress_to_vec(b"[]", LEVEL)), "not a design"),
        ];
        for (link, want) in cases {
            let got = decode(&link).map_err(|e| e.to_string());
            assert!(got.as_ref().is_err_and(|e| e.contains(want)), "{want}: {got:?}");
        }
    }

    #[test]
    fn the_example_makes_a_short_link() {
        let length = encode(&example()).len();
        assert!(length < 700, "{length}");
    }
}
