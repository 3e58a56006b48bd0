//! Numbers as they are written.

/// What is written where there is no number.
pub const ABSENT: &str = "–";

/// Writes a number with at most `decimals` decimals, without trailing zeros and never as `-0`.
/// Numbers beyond 10¹⁵, where decimals have no meaning, are written with a power of ten. Infinity is written
/// ∞, and NaN is a dash.
///
/// ```
/// use crenel_geometry::units::decimal;
/// assert_eq!(decimal(2.5000, 3), "2.5");
/// assert_eq!(decimal(-0.0001, 3), "0");
/// assert_eq!(decimal(1.5e300, 3), "1.5e300");
/// assert_eq!(decimal(f64::NAN, 3), "–");
/// ```
pub fn decimal(value: f64, decimals: usize) -> String {
    let mut text = String::with_capacity(12);
    push_decimal(&mut text, value, decimals);
    text
}

/// The number that [`decimal`] writes. To read it from the text would bring a table of 10 kB into the first download.
pub(super) fn rounded(value: f64, decimals: usize) -> f64 {
    match TENS.get(decimals).filter(|_| value.abs() < WRITTEN_WHOLE) {
        Some(scale) => (value * scale).round() / scale,
        None => value,
    }
}

/// Adds a number to a text, written as by [`decimal`].
pub fn push_decimal(text: &mut String, value: f64, decimals: usize) {
    if value.is_nan() || value.abs() >= WRITTEN_OUT {
        return text.push_str(&beyond(value));
    }
    match TENS.get(decimals).filter(|_| value.abs() < WRITTEN_WHOLE) {
        Some(scale) => push_from_whole(text, value, *scale, decimals),
        None => text.push_str(&written_out(value, decimals)),
    }
}

/// A number by the exact method of the standard library.
fn written_out(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// A number that has no decimals.
fn beyond(value: f64) -> String {
    if value.is_nan() {
        ABSENT.to_owned()
    } else if value.is_infinite() {
        if value > 0.0 { "∞" } else { "-∞" }.to_owned()
    } else {
        format!("{value:e}")
    }
}

/// A text with its first letter upper-case, as a sentence begins.
///
/// ```
/// use crenel_geometry::units::with_capital;
/// assert_eq!(with_capital("lifting the pedal"), "Lifting the pedal");
/// assert_eq!(with_capital(""), "");
/// ```
pub fn with_capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// From this number on a float cannot represent tenths.
const WRITTEN_OUT: f64 = 1e15;

/// Powers of ten, up to the largest number of decimals that is written by way of whole numbers.
const TENS: [f64; 8] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7];

/// Numbers below this and their decimals fit a whole number that a float holds exactly.
const WRITTEN_WHOLE: f64 = 1e8;

/// Adds a number by way of the whole number `value·scale`. Drawings have thousands of coordinates, and the
/// exact method of the standard library would take most of their time.
fn push_from_whole(text: &mut String, value: f64, scale: f64, mut decimals: usize) {
    // Bounded by the caller, so the conversion is exact.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let mut whole = (value.abs() * scale).round() as u64;
    if value < 0.0 && whole > 0 {
        text.push('-');
    }
    while decimals > 0 && whole.is_multiple_of(10) {
        (whole, decimals) = (whole / 10, decimals - 1);
    }
    push_digits(text, whole, decimals);
}

/// Adds the digits of a whole number with a point before so many of them, and a digit before the point.
fn push_digits(text: &mut String, mut whole: u64, decimals: usize) {
    // The largest whole number has twenty digits.
    let mut digits = [b'0'; 21];
    let mut from = digits.len();
    let mut place = 0;
    while whole > 0 || place <= decimals {
        if place == decimals && decimals > 0 {
            from -= 1;
            digits[from] = b'.';
        }
        from -= 1;
        digits[from] += u8::try_from(whole % 10).unwrap_or_default();
        (whole, place) = (whole / 10, place + 1);
    }
    text.extend(digits[from..].iter().map(|digit| char::from(*digit)));
}

/// Writes degrees as degrees, minutes and seconds, rounded to the second.
pub(super) fn dms(degrees: f64) -> String {
    if !degrees.is_finite() || degrees.abs() > 1e9 {
        return decimal(degrees, 0);
    }
    // Bounded above, so the conversion is exact.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let seconds = (degrees.abs() * 3600.0).round() as u64;
    let sign = if degrees < 0.0 && seconds > 0 { "-" } else { "" };
    let (d, m, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    format!("{sign}{d}°{m:02}′{s:02}″")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn writes_decimals_as_the_standard_library_does() {
        let mut seen = 0;
        for step in -2000..2000 {
            let value = f64::from(step) * 0.123_456_7;
            for places in 0..9 {
                let exact: f64 = format!("{value:.places$}").parse().expect("a number");
                let got: f64 = decimal(value, places).parse().expect("a number");
                // Where the value lies half-way to within a float's own error, either will do.
                let ulp = libm::pow(10.0, -f64::from(u32::try_from(places).expect("few")));
                let tie = ((value / ulp).fract().abs() - 0.5).abs() < 1e-6;
                assert!(
                    got == exact || tie && (got - exact).abs() < 1.01 * ulp,
                    "{value} {places}: {got}"
                );
                assert!((rounded(value, places) - got).abs() < 1e-9, "{value} {places}: {got}");
                seen += 1;
            }
        }
        assert_eq!(seen, 36_000);
        assert!(rounded(f64::NAN, 3).is_nan() && rounded(1e12, 3) == 1e12);
        let odd = [
            (f64::NAN, "–"),
            (f64::INFINITY, "∞"),
            (f64::NEG_INFINITY, "-∞"),
            (-1e300, "-1e300"),
            (-1e-9, "0"),
            (1e12, "1000000000000"),
            (100.0, "100"),
            (-0.05, "-0.05"),
        ];
        for (value, want) in odd {
            assert_eq!(decimal(value, 3), want);
        }
    }

    #[test]
    fn writes_degrees_minutes_seconds() {
        let cases = [
            (11.5, "11°30′00″"),
            (59.999_999, "60°00′00″"),
            (-0.5, "-0°30′00″"),
            (-0.000_01, "0°00′00″"),
            (f64::NAN, "–"),
        ];
        for (value, want) in cases {
            assert_eq!(dms(value), want);
        }
    }
}
