//! The link that holds a design: `1.` and the saved form, deflated, in the URL's own base 64.
//!
//! It stands in the fragment of the page's address, which browsers do not send to a server.

use std::fmt;

use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use base64::{DecodeError, Engine as _};
use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_with_limit};

use super::{Design, Opened, open, to_json};
use crate::finding::Finding;

/// Longest link that is read, characters after the `#`.
pub const LINK_LIMIT: usize = 32_768;

/// Most that a link may unpack to, bytes, so that a small link cannot fill the memory.
pub const UNPACKED_LIMIT: usize = 262_144;

/// Marks the coding; the saved form inside has its own version.
const PREFIX: &str = "1.";

/// The best compression the packer has.
const LEVEL: u8 = 10;

/// Why a link could not be read.
#[derive(Clone, Debug, PartialEq)]
pub enum LinkError {
    /// It does not begin as a link of ours does.
    NotALink,
    /// It is longer than any link of ours.
    TooLong(usize),
    /// A character in it cannot be part of a link.
    BadCharacters,
    /// The packed part is damaged or cut short.
    Damaged,
    /// It unpacks to more than is allowed.
    TooLarge,
    /// It unpacks, but what it holds is not a design.
    Unreadable(Vec<Finding>),
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotALink => write!(
                f,
                "The link holds no design: after the # it must begin with “{PREFIX}”. Copy the whole link again."
            ),
            Self::TooLong(length) => write!(
                f,
                "The link has {length} characters after the #; at most {LINK_LIMIT} are read. Ask for the design as a file."
            ),
            Self::BadCharacters => write!(
                f,
                "The link has characters that no link of ours has. It was changed on the way: copy it again."
            ),
            Self::Damaged => write!(
                f,
                "The link is damaged or cut short. Copy the whole link again, or ask for the design as a file."
            ),
            Self::TooLarge => write!(
                f,
                "The link unpacks to more than {UNPACKED_LIMIT} bytes, which no design of ours does. It is not opened."
            ),
            Self::Unreadable(findings) => {
                write!(f, "The link unpacks, but what it holds is not a design:")?;
                findings.iter().try_for_each(|found| {
                    write!(f, " {} {}", found.text(Default::default()), found.hint)
                })
            }
        }
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
    let packed = compress_to_vec(to_json(design).as_bytes(), LEVEL);
    PREFIX.to_owned() + &URL_SAFE_NO_PAD.encode(packed)
}

/// Unpacks what follows the `#` of a link.
///
/// # Errors
/// Says why the link cannot be read. Never panics, whatever it is given, and never unpacks more
/// than [`UNPACKED_LIMIT`].
pub fn decode(fragment: &str) -> Result<Opened, LinkError> {
    if fragment.len() > LINK_LIMIT {
        return Err(LinkError::TooLong(fragment.chars().count()));
    }
    let body = fragment.strip_prefix(PREFIX).ok_or(LinkError::NotALink)?;
    let packed = URL_SAFE_NO_PAD.decode(body).map_err(|e| match e {
        DecodeError::InvalidByte(..) => LinkError::BadCharacters,
        _ => LinkError::Damaged,
    })?;
    let json =
        decompress_to_vec_with_limit(&packed, UNPACKED_LIMIT).map_err(|e| match e.status {
            TINFLStatus::HasMoreOutput => LinkError::TooLarge,
            _ => LinkError::Damaged,
        })?;
    let text = String::from_utf8(json).map_err(|_| LinkError::Damaged)?;
    open(&text).map_err(LinkError::Unreadable)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;

    #[test]
    fn a_bad_link_says_why() {
        let good = encode(&example());
        let bomb = compress_to_vec(&vec![b' '; 4 * UNPACKED_LIMIT], LEVEL);
        let wrap = |bytes: &[u8]| PREFIX.to_owned() + &URL_SAFE_NO_PAD.encode(bytes);
        let cases = [
            (String::new(), "begin with"),
            ("2.abc".to_owned(), "begin with"),
            (format!("1.{}", "A".repeat(LINK_LIMIT)), "at most"),
            ("1.a b".to_owned(), "characters"),
            (good[..good.len() / 2].to_owned(), "damaged"),
            (wrap(&bomb), "bytes"),
            (wrap(&compress_to_vec(b"{\"crenel\":9}", LEVEL)), "newer"),
            (wrap(&compress_to_vec(b"[]", LEVEL)), "not a design"),
        ];
        for (link, want) in cases {
            let got = decode(&link).map_err(|e| e.to_string());
            assert!(got.as_ref().is_err_and(|e| e.contains(want)), "{link}: {got:?}");
        }
    }

    #[test]
    fn the_example_makes_a_short_link() {
        let length = encode(&example()).len();
        assert!(length < 700, "{length}");
    }
}
