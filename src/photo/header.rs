//! What the first bytes of a file say of the picture in it. Nothing is decoded.

/// A picture file by its first bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Header {
    /// No bytes at all.
    Empty,
    /// Pictures of phones in HEIF, which most browsers cannot read.
    Heif,
    /// A kind of picture that browsers read, with width and height as stored.
    Sized(u32, u32),
    /// Something else. It may be a picture.
    Unknown,
}

/// So many bytes are enough, but for JPEG files with a long preface.
pub const HEADER_BYTES: usize = 256 * 1024;

/// Reads the first bytes of a file.
pub fn header(bytes: &[u8]) -> Header {
    if bytes.is_empty() {
        return Header::Empty;
    }
    let brand = bytes.get(8..12).unwrap_or_default();
    let heif: [&[u8]; 6] = [b"heic", b"heix", b"hevc", b"heim", b"mif1", b"msf1"];
    if bytes.get(4..8) == Some(b"ftyp") && heif.contains(&brand) {
        return Header::Heif;
    }
    let size = png(bytes).or_else(|| gif(bytes)).or_else(|| webp(bytes)).or_else(|| jpeg(bytes));
    size.filter(|(width, height)| *width > 0 && *height > 0)
        .map_or(Header::Unknown, |(width, height)| Header::Sized(width, height))
}

fn big(bytes: &[u8], at: usize, many: usize) -> Option<u32> {
    Some(bytes.get(at..at + many)?.iter().fold(0, |sum, byte| sum << 8 | u32::from(*byte)))
}

fn little(bytes: &[u8], at: usize, many: usize) -> Option<u32> {
    Some(bytes.get(at..at + many)?.iter().rev().fold(0, |sum, byte| sum << 8 | u32::from(*byte)))
}

/// PNG (ISO/IEC 15948): the first chunk.
fn png(bytes: &[u8]) -> Option<(u32, u32)> {
    (bytes.starts_with(b"\x89PNG\r\n\x1a\n") && bytes.get(12..16) == Some(b"IHDR")).then_some(())?;
    Some((big(bytes, 16, 4)?, big(bytes, 20, 4)?))
}

fn gif(bytes: &[u8]) -> Option<(u32, u32)> {
    bytes.starts_with(b"GIF8").then_some(())?;
    Some((little(bytes, 6, 2)?, little(bytes, 8, 2)?))
}

/// WebP (RFC 9649): extended, without loss, with loss.
fn webp(bytes: &[u8]) -> Option<(u32, u32)> {
    (bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP")).then_some(())?;
    match bytes.get(12..16)? {
        b"VP8X" => Some((little(bytes, 24, 3)? + 1, little(bytes, 27, 3)? + 1)),
        b"VP8L" => {
            let bits = little(bytes, 21, 4)?;
            Some(((bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1))
        }
        b"VP8 " => Some((little(bytes, 26, 2)? & 0x3FFF, little(bytes, 28, 2)? & 0x3FFF)),
        _ => None,
    }
}

/// JPEG (ITU-T T.81): the first start of a frame.
fn jpeg(bytes: &[u8]) -> Option<(u32, u32)> {
    bytes.starts_with(&[0xFF, 0xD8]).then_some(())?;
    let mut at = 2;
    loop {
        let (mark, code) = (*bytes.get(at)?, *bytes.get(at + 1)?);
        if mark != 0xFF {
            return None;
        }
        match code {
            0xFF => at += 1,
            0x01 | 0xD0..=0xD8 => at += 2,
            0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF => {
                return Some((big(bytes, at + 7, 2)?, big(bytes, at + 5, 2)?));
            }
            0xD9 | 0xDA => return None,
            _ => at += 2 + usize::try_from(big(bytes, at + 2, 2)?).ok()?.max(2),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const JPEG: &[u8] = &[
        0xFF, 0xD8, 0xFF, 0xE0, 0, 4, 1, 2, 0xFF, 0xFF, 0xC2, 0, 17, 8, 0x0B, 0xB8, 0x0F, 0xA0, 4,
        0,
    ];
    const PNG: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x75\x30\0\0\0\x09\x10\x02";

    #[test]
    fn sizes_stand_in_the_first_bytes() {
        assert_eq!(header(JPEG), Header::Sized(4000, 3000));
        assert_eq!(header(PNG), Header::Sized(30_000, 9));
        assert_eq!(header(b"GIF89a\x40\x01\xF0\0rest"), Header::Sized(320, 240));
        assert_eq!(
            header(b"RIFF....WEBPVP8X\x0a\0\0\0\x02\0\0\0\x3f\x01\0\xef\0\0"),
            Header::Sized(320, 240)
        );
        assert_eq!(header(b"\0\0\0\x18ftypheic\0\0\0\0mif1"), Header::Heif);
        assert_eq!(header(b""), Header::Empty);
        assert_eq!(header(b"%PDF-1.7"), Header::Unknown);
    }

    /// Each file cut short at each byte, and with each byte spoiled.
    #[test]
    fn damaged_files_do_no_harm() {
        for whole in [JPEG, PNG, b"RIFF....WEBPVP8L\0\0\0\0\x2f\xff\xff\xff\xff", b"GIF89a\0\0\0\0"]
        {
            for at in 0..whole.len() {
                let _ = header(&whole[..at]);
                for byte in [0, 0xFF, 0x7F] {
                    let mut spoiled = whole.to_vec();
                    spoiled[at] = byte;
                    let _ = header(&spoiled);
                }
            }
        }
        assert_eq!(header(b"GIF89a\0\0\0\0"), Header::Unknown);
        assert_eq!(header(&[0xFF, 0xD8, 0xFF, 0xE0, 0, 0]), Header::Unknown);
    }
}
