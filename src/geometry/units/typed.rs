//! Numbers as people type them.

use std::fmt;

use super::quantity::{AngleStyle, DisplayUnits, LengthUnit, Quantity};
use super::quote::sanitize_quote;

/// Why a typed number could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ParseError {
    /// Nothing was typed.
    Empty,
    /// The text is not a number.
    NotANumber(String),
    /// The number has both a point and a comma.
    TwoSeparators(String),
    /// The number is followed by a unit that does not fit.
    WrongUnit {
        /// The unit as typed.
        typed: String,
        /// The quantity that was asked for.
        quantity: Quantity,
        /// The sign of the unit that would fit; empty for a plain number.
        unit: &'static str,
    },
    /// Minutes or seconds of 60 or more, out of order, or a negative part inside.
    BadSexagesimal(String),
    /// A length in feet.
    Feet(String),
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (typed, what) = match self {
            Self::Empty => return f.write_str("nothing is typed"),
            Self::NotANumber(typed) => (typed, "is not a number"),
            Self::TwoSeparators(typed) => (typed, "has both a point and a comma"),
            Self::WrongUnit { typed, .. } => (typed, "is a unit that does not fit"),
            Self::BadSexagesimal(typed) => (typed, "is not degrees, minutes and seconds"),
            Self::Feet(typed) => (typed, "is in feet"),
        };
        write!(f, "“{}” {what}", sanitize_quote(typed))
    }
}

impl std::error::Error for ParseError {}

impl Quantity {
    /// Reads a typed number. The answer is in the core's unit (mm, degrees, …).
    ///
    /// Decimal point or comma, a fraction (`1 1/2`), a unit sign (`0.5 in`, `12 mm`), and for
    /// angles `11°30′`, `30′`, `45″`, `11 30 00` or `11:30` are understood, whichever units are shown.
    ///
    /// # Errors
    /// Why the text could not be read.
    pub fn parse(self, typed: &str, units: DisplayUnits) -> Result<f64, ParseError> {
        let text = plain_marks(typed);
        if text.is_empty() {
            return Err(ParseError::Empty);
        }
        if self == Self::Angle && is_sexagesimal(&text, units) {
            let bad = || ParseError::BadSexagesimal(typed.trim().to_owned());
            return degrees(&text).ok_or_else(bad);
        }
        let (number, unit) = split_unit(&text);
        let value = plain_number(number, typed.trim())?;
        if self == Self::Length && is_feet(unit) {
            return Err(ParseError::Feet(typed.trim().to_owned()));
        }
        let value = value * unit_scale(self, unit, units)?;
        let finite = value.is_finite().then_some(value);
        finite.ok_or_else(|| ParseError::NotANumber(typed.trim().to_owned()))
    }
}

/// The text with one sign each for minus, minutes and seconds, and without the spaces that part thousands.
/// Telephones type curved quotation marks instead of straight ones, and people type two single marks for a double one.
fn plain_marks(typed: &str) -> String {
    let spaces = ['\u{202f}', '\u{2009}', '\u{a0}'];
    let digits = |at: usize, space: char| {
        let [before, after] =
            [typed[..at].chars().last(), typed[at + space.len_utf8()..].chars().next()];
        [before, after].iter().all(|c| c.is_some_and(|c| c.is_ascii_digit()))
    };
    let kept = typed.char_indices().filter(|&(at, c)| !(spaces.contains(&c) && digits(at, c)));
    let typed: String = kept.map(|(_, c)| c).collect();
    let single = typed.trim().replace('−', "-").replace(['′', '’', '‘'], "'");
    single.replace("''", "\"").replace(['″', '”', '“'], "\"")
}

/// Whether a unit is feet, or feet with inches after them.
fn is_feet(unit: &str) -> bool {
    unit.starts_with('\'') || matches!(unit.to_ascii_lowercase().as_str(), "ft" | "foot" | "feet")
}

/// Splits the number from the unit after it.
fn split_unit(text: &str) -> (&str, &str) {
    let is_unit =
        |c: char| c.is_alphabetic() || matches!(c, '°' | '\'' | '"' | '%' | '²' | '³' | '·');
    let start = text
        .char_indices()
        .find(|&(at, c)| is_unit(c) && !is_exponent(text, at))
        .map_or(text.len(), |(at, _)| at);
    (text[..start].trim_end(), text[start..].trim())
}

/// An `e` with a digit before it and a digit or sign after it belongs to the number.
fn is_exponent(text: &str, at: usize) -> bool {
    let bytes = text.as_bytes();
    matches!(bytes[at], b'e' | b'E')
        && at > 0
        && bytes[at - 1].is_ascii_digit()
        && bytes.get(at + 1).is_some_and(|b| b.is_ascii_digit() || matches!(b, b'-' | b'+'))
}

fn unit_scale(quantity: Quantity, unit: &str, units: DisplayUnits) -> Result<f64, ParseError> {
    let metric = DisplayUnits { length: LengthUnit::Millimetre, ..units };
    let imperial = DisplayUnits { length: LengthUnit::Inch, ..units };
    let lower = unit.to_ascii_lowercase();
    let wrong = || {
        let (typed, unit) = (unit.to_owned(), quantity.unit(units));
        Err(ParseError::WrongUnit { typed, quantity, unit })
    };
    if unit.is_empty() {
        return Ok(quantity.scale(units));
    }
    match quantity {
        Quantity::Length => match lower.as_str() {
            "mm" => Ok(1.0),
            "cm" => Ok(10.0),
            "in" | "inch" | "inches" | "\"" => Ok(quantity.scale(imperial)),
            _ => wrong(),
        },
        Quantity::Angle => match lower.as_str() {
            "°" | "deg" | "degree" | "degrees" => Ok(1.0),
            _ => wrong(),
        },
        _ if lower == quantity.unit(metric).to_ascii_lowercase() => Ok(quantity.scale(metric)),
        _ if lower == quantity.unit(imperial) => Ok(quantity.scale(imperial)),
        _ => wrong(),
    }
}

/// A decimal number, a fraction, or a whole number and a fraction.
fn plain_number(number: &str, typed: &str) -> Result<f64, ParseError> {
    let bad = || ParseError::NotANumber(typed.to_owned());
    if number.contains(',') && number.contains('.') {
        return Err(ParseError::TwoSeparators(typed.to_owned()));
    }
    let Some((top, bottom)) = number.split_once('/') else {
        return digits(number).ok_or_else(bad);
    };
    let (whole, top) = top.trim().rsplit_once(' ').unwrap_or(("", top));
    let (negative, whole) = match whole.trim().strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, whole),
    };
    // A fraction by itself may have a sign. After a whole number only that number may.
    let (negative, top) = match top.trim().strip_prefix('-') {
        Some(rest) if whole.trim().is_empty() => (true, rest),
        _ => (negative, top),
    };
    let count = |text: &str| text.trim().parse::<u32>().ok().map(f64::from);
    let whole = if whole.trim().is_empty() { Some(0.0) } else { count(whole) };
    let (Some(whole), Some(top), Some(bottom)) = (whole, count(top), count(bottom)) else {
        return Err(bad());
    };
    let size = whole + top / bottom;
    let value = if negative { -size } else { size };
    if value.is_finite() { Ok(value) } else { Err(bad()) }
}

/// Reads plain digits only: `f64::from_str` would also accept “nan” and “infinity”.
fn digits(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let allowed = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E');
    if !text.chars().all(allowed) {
        return None;
    }
    text.parse().ok().filter(|v: &f64| v.is_finite())
}

/// Whether a typed angle has minutes or seconds, by their marks or as numbers one after the other.
fn is_sexagesimal(text: &str, units: DisplayUnits) -> bool {
    let spaced = units.angle == AngleStyle::Dms && text.split_whitespace().count() > 1;
    let degree_then_more =
        text.split_once('°').is_some_and(|(_, rest)| rest.contains(|c: char| c.is_ascii_digit()));
    text.contains(['\'', '"', ':']) || spaced || degree_then_more
}

/// Degrees, minutes and seconds in degrees. The mark after a number gives its unit, so `30'` is half a degree.
/// A number without a mark has the next smaller unit after the number before it, or degrees if it is the
/// first. Only the last number may have decimals.
fn degrees(text: &str) -> Option<f64> {
    let (sign, mut rest) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let (mut sum, mut next) = (0.0, 0);
    loop {
        let end = rest.find(|c: char| !is_of_number(c)).unwrap_or(rest.len());
        let number = digits(&rest[..end])?;
        rest = rest[end..].trim_start();
        let mark = rest.chars().next().filter(|&c| !is_of_number(c));
        let part = match mark {
            Some('°') => 0,
            Some('\'') => 1,
            Some('"') => 2,
            Some(':') | None => next,
            Some(_) => return None,
        };
        rest = mark.map_or(rest, |c| rest[c.len_utf8()..].trim_start());
        let per = [1.0, 60.0, 3600.0].get(part).filter(|_| part >= next)?;
        let is_last = rest.is_empty() && mark != Some(':');
        if (part > 0 && number >= 60.0) || (!is_last && number.fract() != 0.0) {
            return None;
        }
        (sum, next) = (sum + number / per, part + 1);
        if is_last {
            return Some(sign * sum);
        }
    }
}

/// Whether a character belongs to a number without a sign.
const fn is_of_number(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',')
}

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC: DisplayUnits =
        DisplayUnits { length: LengthUnit::Millimetre, angle: AngleStyle::Decimal };
    const SHOP: DisplayUnits = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };

    #[test]
    fn reads_what_people_type() {
        let cases: &[(Quantity, DisplayUnits, &str, f64)] = &[
            (Quantity::Length, METRIC, "12.5", 12.5),
            (Quantity::Length, METRIC, " 12,5 mm ", 12.5),
            (Quantity::Length, METRIC, "1.2cm", 12.0),
            (Quantity::Length, METRIC, "1/2 in", 12.7),
            (Quantity::Length, METRIC, "1 1/2\"", 38.1),
            (Quantity::Length, METRIC, "-1 1/2", -1.5),
            (Quantity::Length, METRIC, "−0.2", -0.2),
            (Quantity::Length, METRIC, "-0 1/2", -0.5),
            (Quantity::Length, METRIC, "-1/2", -0.5),
            (Quantity::Length, METRIC, "1e1", 10.0),
            (Quantity::Length, SHOP, "0.5", 12.7),
            (Quantity::Length, SHOP, "3 mm", 3.0),
            (Quantity::Angle, METRIC, "11°30'", 11.5),
            (Quantity::Angle, METRIC, "11:30:36", 11.51),
            (Quantity::Angle, METRIC, "-0°30′", -0.5),
            // A mark gives the unit of the number before it, even of the first.
            (Quantity::Angle, METRIC, "30'", 0.5),
            (Quantity::Angle, METRIC, "30′", 0.5),
            (Quantity::Angle, METRIC, "-30’", -0.5),
            (Quantity::Angle, METRIC, "45\"", 0.0125),
            (Quantity::Angle, METRIC, "45″", 0.0125),
            (Quantity::Angle, METRIC, "45''", 0.0125),
            (Quantity::Angle, METRIC, "45”", 0.0125),
            (Quantity::Angle, METRIC, "0.75\"", 0.75 / 3600.0),
            (Quantity::Angle, METRIC, "7,5'", 0.125),
            (Quantity::Angle, METRIC, "30' 45\"", 0.5125),
            (Quantity::Angle, METRIC, "11° 36\"", 11.01),
            (Quantity::Angle, SHOP, "30'", 0.5),
            (Quantity::Angle, SHOP, "11 30'", 11.5),
            (Quantity::Angle, SHOP, "+11°30 36", 11.51),
            (Quantity::Length, METRIC, "0.75\"", 19.05),
            (Quantity::Length, METRIC, "0.75”", 19.05),
            (Quantity::Angle, METRIC, "24deg", 24.0),
            (Quantity::Angle, METRIC, "24 deg", 24.0),
            (Quantity::Angle, METRIC, "11 1/2", 11.5),
            (Quantity::Angle, SHOP, "11 30", 11.5),
            (Quantity::Angle, SHOP, "11.5", 11.5),
            (Quantity::Share, METRIC, "50 %", 0.5),
            (Quantity::Speed, METRIC, "300 RPM", 300.0),
            (Quantity::Velocity, METRIC, "0.12 m/s", 0.12),
        ];
        for &(quantity, units, typed, want) in cases {
            let got = quantity.parse(typed, units).unwrap_or_else(|e| panic!("{typed}: {e}"));
            assert!((got - want).abs() < 1e-9, "{typed}: {got} instead of {want}");
        }
    }

    #[test]
    fn refuses_what_is_no_number() {
        let cases: &[(Quantity, &str, &str)] = &[
            (Quantity::Length, "", "Empty"),
            (Quantity::Length, "nan", "NotANumber"),
            (Quantity::Length, "inf", "NotANumber"),
            (Quantity::Length, "1e999", "NotANumber"),
            (Quantity::Length, "1e308 in", "NotANumber"),
            (Quantity::Length, "1/0", "NotANumber"),
            (Quantity::Length, "--3", "NotANumber"),
            (Quantity::Length, "1 -1/2", "NotANumber"),
            (Quantity::Length, "1.5 1/2", "NotANumber"),
            // A space for the mark of degrees is for those who work in minutes.
            (Quantity::Angle, "11 30", "NotANumber"),
            (Quantity::Angle, "11.5°30′", "BadSexagesimal"),
            (Quantity::Length, "1.234,5", "TwoSeparators"),
            (Quantity::Length, "12 kg", "WrongUnit"),
            (Quantity::Angle, "11°75′", "BadSexagesimal"),
            (Quantity::Angle, "1:2:3:4", "BadSexagesimal"),
            (Quantity::Angle, "75'", "BadSexagesimal"),
            (Quantity::Angle, "60\"", "BadSexagesimal"),
            (Quantity::Angle, "30'11°", "BadSexagesimal"),
            (Quantity::Angle, "30' 30'", "BadSexagesimal"),
            (Quantity::Angle, "11°30.5'20\"", "BadSexagesimal"),
            (Quantity::Angle, "11:", "BadSexagesimal"),
            (Quantity::Angle, "'", "BadSexagesimal"),
            (Quantity::Length, "1'", "Feet"),
            (Quantity::Length, "5′ 6″", "Feet"),
            (Quantity::Length, "1 1/2 ft", "Feet"),
            (Quantity::Speed, "300'", "WrongUnit"),
            (Quantity::Count, "6 mm", "WrongUnit"),
            (Quantity::Length, "<b>5</b>", "NotANumber"),
        ];
        for &(quantity, typed, want) in cases {
            let got = quantity.parse(typed, METRIC).expect_err(typed);
            assert!(format!("{got:?}").starts_with(want), "{typed}: {got:?}");
        }
    }
}
