//! A link as a QR code (ISO/IEC 18004), by the `qrcodegen` crate.

use qrcodegen::{DataTooLong, QrCode, QrCodeEcc, QrSegment};

/// Modules of white that a reader needs on every side (ISO/IEC 18004: four).
const QUIET: i32 = 4;

/// A QR code as one SVG path of unit squares.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Qr {
    /// Modules from edge to edge, white border included.
    pub side: u16,
    /// The `d` of a path over the dark modules, from (0, 0) down to (`side`, `side`).
    pub path: String,
}

/// The code of a text, as small as possible, with as much error correction as fits that size. Digits at the end of
/// the text are a segment of their own, in which three digits take the modules of ten bits. `None` if the text is
/// longer than a QR code can hold: 2,953 bytes, or 7,089 digits.
///
/// ```
/// let qr = crenel::export::qr("https://example.org/#1.abc").expect("a short text");
/// assert_eq!(qr.side, 25 + 8);
/// assert!(crenel::export::qr(&"a".repeat(2954)).is_none());
/// assert!(crenel::export::qr(&"1".repeat(7089)).is_some());
/// ```
pub fn qr(text: &str) -> Option<Qr> {
    let code = encode(text).ok()?;
    let modules = code.size();
    let mut path = String::new();
    for y in 0..modules {
        let mut x = 0;
        while x < modules {
            let run = (x..modules).take_while(|&x| code.get_module(x, y)).count();
            let length = i32::try_from(run).unwrap_or_default();
            if length > 0 {
                path += &format!("M{} {}h{length}v1h-{length}z", x + QUIET, y + QUIET);
            }
            x += length.max(1);
        }
    }
    Some(Qr { side: u16::try_from(modules + 2 * QUIET).unwrap_or_default(), path })
}

fn encode(text: &str) -> Result<QrCode, DataTooLong> {
    let bytes = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &text[bytes.len()..];
    let bytes = (!bytes.is_empty()).then(|| QrSegment::make_bytes(bytes.as_bytes()));
    let digits = (!digits.is_empty()).then(|| QrSegment::make_numeric(digits));
    let segments: Vec<_> = bytes.into_iter().chain(digits).collect();
    QrCode::encode_segments(&segments, QrCodeEcc::Low)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, encode_digits, gallery};

    #[test]
    fn dark_modules_are_all_in_the_path_and_none_lies_in_the_border() {
        let text = "https://example.org/#1.".to_owned() + &"aZ09-_".repeat(150);
        let code = encode(&text).expect("923 characters");
        let dark = |x, y| code.get_module(x, y);
        let all = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| (x, y)));
        let wanted = all.filter(|&(x, y)| dark(x, y)).count();
        let qr = qr(&text).expect("923 characters");
        let runs = qr.path.split('M').skip(1).map(|run| {
            let (at, rest) = run.split_once('h').expect("a width");
            let (x, y) = at.split_once(' ').expect("two numbers");
            let length: i32 = rest.split_once('v').expect("a height").0.parse().expect("a number");
            let [x, y]: [i32; 2] = [x, y].map(|number| number.parse().expect("a number"));
            assert!(x >= QUIET && y >= QUIET && x + length <= i32::from(qr.side) - QUIET);
            usize::try_from(length).expect("a width")
        });
        assert_eq!(runs.sum::<usize>(), wanted);
    }

    /// Modules from edge to edge of the code of each invented design, in letters and in digits.
    fn sides(form: fn(&Design) -> String) -> Vec<u16> {
        let text = |design| format!("https://crenel.example/#{}", form(&design));
        let code = |design| qr(&text(design)).expect("it fits").side - 8;
        gallery().iter().map(|example| code(example.design())).collect()
    }

    #[test]
    fn digits_need_fewer_modules() {
        let (letters, digits) = (sides(crate::design::encode), sides(encode_digits));
        let area = |sides: &[u16]| {
            sides.iter().map(|side| f64::from(*side) * f64::from(*side)).sum::<f64>()
        };
        assert!(
            letters.iter().zip(&digits).all(|(before, now)| now < before),
            "{letters:?} {digits:?}"
        );
        let share = area(&digits) / area(&letters);
        assert!(share < 0.8, "{share}: {letters:?} {digits:?}");
    }
}
