//! How finely a number is written for a reader: one table for the screen, the sheets and the files.
//!
//! A result is written as finely as somebody can use it. A working is one digit finer, so that it can be
//! checked by hand. What was typed is written as it was typed. Inputs in fields, sizes to cut to and index
//! positions are not rounded by this table.

use super::quantity::{AngleStyle, DisplayUnits, LengthUnit, Quantity};
use super::writing::{decimal, dms, rounded};

/// How finely the results of a quantity are written, in the unit that is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fineness {
    /// To a multiple of this.
    Step(f64),
    /// To this many digits, whole numbers at the coarsest.
    Digits(usize),
    /// To this many digits, also before the decimal point.
    OnlyDigits(usize),
    /// To the first below the bound, to the second from there on.
    Below(f64, f64, f64),
}

/// Digits that are tried further where two numbers would look alike.
const MOST_FURTHER: usize = 6;

/// Smaller parts of a number are not written.
const MOST_DECIMALS: i32 = 9;

impl Quantity {
    /// The table.
    const fn fineness(self, units: DisplayUnits) -> Fineness {
        match self {
            Self::Length => match units.length {
                LengthUnit::Millimetre => Fineness::Step(0.01),
                LengthUnit::Inch => Fineness::Step(0.0005),
            },
            Self::RoadLength => match units.length {
                LengthUnit::Millimetre => Fineness::Step(1.0),
                LengthUnit::Inch => Fineness::Step(0.05),
            },
            Self::Angle => match units.angle {
                AngleStyle::Decimal => Fineness::Step(0.1),
                AngleStyle::Dms => Fineness::Step(1.0 / 60.0),
            },
            Self::Speed | Self::Count => Fineness::Step(1.0),
            Self::Time => Fineness::Below(100.0, 0.1, 1.0),
            Self::Torque | Self::Stress => Fineness::Below(10.0, 0.1, 1.0),
            Self::Share => Fineness::Step(1.0),
            Self::Grams => Fineness::Step(0.1),
            Self::Force => Fineness::OnlyDigits(3),
            Self::Velocity
            | Self::Mass
            | Self::Unbalance
            | Self::Area
            | Self::Volume
            | Self::Inertia
            | Self::ShaftInertia
            | Self::FineTorque
            | Self::Stiffness
            | Self::ContactStiffness
            | Self::Energy
            | Self::Rate
            | Self::Dogs
            | Self::Ratio => Fineness::Digits(3),
        }
    }

    /// Writes a result with its unit, as the table asks.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// let result = |quantity: Quantity, value| quantity.show_result(value, Default::default());
    /// assert_eq!(result(Quantity::Angle, 13.039), "13°");
    /// assert_eq!(result(Quantity::Time, 16.408), "16.4 ms");
    /// assert_eq!(result(Quantity::Force, 12_214.0), "12\u{202f}200 N");
    /// assert_eq!(result(Quantity::Share, 0.004), "< 1 %");
    /// assert_eq!(result(Quantity::Torque, -1545.4), "−1545 N·m");
    /// assert_eq!([2.5, 3.0].map(|dogs| result(Quantity::Dogs, dogs)), ["2–3", "3"]);
    /// ```
    pub fn show_result(self, value: f64, units: DisplayUnits) -> String {
        self.show_finer(value, units, 0)
    }

    /// Writes a result without its unit, as a spreadsheet reads it: plain digits and a hyphen for minus.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// assert_eq!(Quantity::Force.format_result(-12_214.0, Default::default()), "-12200");
    /// assert_eq!(Quantity::Share.format_result(0.004, Default::default()), "0");
    /// ```
    pub fn format_result(self, value: f64, units: DisplayUnits) -> String {
        if self == Self::Angle && units.angle == AngleStyle::Dms {
            return self.show_result(value, units).replace('−', "-");
        }
        self.fineness(units).write(value / self.scale(units), 0)
    }

    /// Writes a number with twelve digits, which is all that is left after some hundred roundings, without its
    /// unit, in the unit shown; angles in degrees.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// assert_eq!(Quantity::Share.format_full(0.1234567891, Default::default()), "12.34567891");
    /// ```
    pub fn format_full(self, value: f64, units: DisplayUnits) -> String {
        let shown = value / self.scale(units);
        let twelve = format!("{shown:.11e}").parse().unwrap_or(shown);
        let number = format!("{twelve:?}");
        number.strip_suffix(".0").unwrap_or(&number).to_owned()
    }

    /// Writes a change with its sign and unit, as the table asks; a share below one percent has no sign.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// let change = |quantity: Quantity, value| quantity.show_change(value, Default::default());
    /// assert_eq!(change(Quantity::Speed, 749.4), "+749 rpm");
    /// assert_eq!(change(Quantity::Share, -0.995), "−100 %");
    /// assert_eq!(change(Quantity::Share, -0.004), "< 1 %");
    /// assert_eq!(change(Quantity::Angle, 0.01), "0°");
    /// ```
    pub fn show_change(self, value: f64, units: DisplayUnits) -> String {
        let whole = value.abs() / self.scale(units);
        if self == Self::Share && whole > 0.0 && whole < 1.0 {
            return self.show_result(value.abs(), units);
        }
        let is_share = self == Self::Share;
        let percent = || self.with_unit(spaced(&self.fineness(units).write(whole, 0)), units);
        let size = if is_share { percent() } else { self.show_result(value.abs(), units) };
        if size == self.show_result(0.0, units) {
            return size;
        }
        (if value < 0.0 { "−" } else { "+" }).to_owned() + &size
    }

    /// Writes a number of a working with its unit: one digit finer than a result, or as it was typed.
    pub fn show_working(self, value: f64, units: DisplayUnits) -> String {
        self.as_typed(value, units).unwrap_or_else(|| self.show_finer(value, units, 1))
    }

    /// Writes a number with its unit: as it was typed if it has few digits, else as a result.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// let show = |value| Quantity::Length.show(value, Default::default());
    /// assert_eq!([3.605, 10.0 / 3.0, -2.5].map(show), ["3.605 mm", "3.33 mm", "−2.5 mm"]);
    /// ```
    pub fn show(self, value: f64, units: DisplayUnits) -> String {
        self.as_typed(value, units).unwrap_or_else(|| self.show_result(value, units))
    }

    /// Writes a limit that must not be exceeded: a result, rounded down.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// assert_eq!(Quantity::Length.show_at_most(12.937, Default::default()), "12.93 mm");
    /// assert_eq!(Quantity::Length.show_at_least(12.931, Default::default()), "12.94 mm");
    /// assert_eq!(Quantity::Length.show_at_least(12.9, Default::default()), "12.9 mm");
    /// ```
    pub fn show_at_most(self, value: f64, units: DisplayUnits) -> String {
        self.show_result(self.whole_step(value, units, libm::floor), units)
    }

    /// Writes a limit that must be reached: a result, rounded up.
    pub fn show_at_least(self, value: f64, units: DisplayUnits) -> String {
        self.show_result(self.whole_step(value, units, libm::ceil), units)
    }

    /// Writes a tolerance that must be kept, without its unit: rounded down, and never finer than a tenth of itself.
    /// One of two digits is written as it is.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// let kept = |value| Quantity::Angle.tolerance_at_most(value, Default::default());
    /// assert_eq!([0.4407, 1.0, 0.15].map(kept), ["0.4", "1", "0.15"]);
    /// ```
    pub fn tolerance_at_most(self, value: f64, units: DisplayUnits) -> String {
        self.tolerance(value, units, libm::floor)
    }

    /// Writes a tolerance that follows from others, without its unit: rounded up, and never finer than a tenth of
    /// itself. One of two digits is written as it is.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// let follows = |value| Quantity::Length.tolerance_at_least(value, Default::default());
    /// assert_eq!([0.07681, 0.13, 0.02449].map(follows), ["0.08", "0.13", "0.025"]);
    /// ```
    pub fn tolerance_at_least(self, value: f64, units: DisplayUnits) -> String {
        self.tolerance(value, units, libm::ceil)
    }

    /// [`Quantity::tolerance_at_least`] with the unit.
    pub fn show_tolerance(self, value: f64, units: DisplayUnits) -> String {
        self.with_unit(self.tolerance_at_least(value, units), units)
    }

    fn tolerance(self, value: f64, units: DisplayUnits, round: fn(f64) -> f64) -> String {
        let in_minutes = self == Self::Angle && units.angle == AngleStyle::Dms;
        let scale = if in_minutes { 1.0 / 60.0 } else { self.scale(units) };
        let kept = within_a_tenth(value / scale, round);
        if in_minutes { minutes_at_least(kept * scale) } else { decimal(kept, 9) }
    }

    /// The multiple of the step of the table on one side of a number; the number itself where it is that
    /// multiple, or where the table has no steps.
    fn whole_step(self, value: f64, units: DisplayUnits, round: fn(f64) -> f64) -> f64 {
        let Fineness::Step(step) = self.fineness(units) else { return value };
        let step = step * self.scale(units);
        let steps = value / step;
        let whole = steps.round();
        if (steps - whole).abs() < 1e-6 { whole * step } else { round(steps) * step }
    }

    /// The digits beyond the table that tell different numbers apart.
    pub fn further(self, values: &[f64], units: DisplayUnits) -> usize {
        let alike = |further: &usize| {
            let text = |value| match further {
                0 => self.show(value, units),
                _ => self.show_finer(value, units, *further),
            };
            let pairs = values.iter().enumerate();
            pairs.flat_map(|(at, a)| values[at + 1..].iter().map(move |b| (*a, *b))).any(
                |(a, b)| {
                    let tells = (a - b).abs() > 1e-9 * a.abs().max(b.abs());
                    tells && text(a) == text(b)
                },
            )
        };
        (0..MOST_FURTHER).find(|further| !alike(further)).unwrap_or(0)
    }

    /// The number as it was typed, if it can have been typed.
    fn as_typed(self, value: f64, units: DisplayUnits) -> Option<String> {
        if self == Self::Angle && units.angle == AngleStyle::Dms {
            let seconds = value * 3600.0;
            return ((seconds - seconds.round()).abs() < 1e-6).then(|| minutes_at_least(value));
        }
        // A size that was typed in millimetres is also read in inches, and the other way round.
        let is_short = |length| {
            let units = DisplayUnits { length, ..units };
            let value = value / self.scale(units);
            let typed = rounded(value, self.decimals(units));
            (typed - value).abs() <= 1e-9 * value.abs()
        };
        let short = [LengthUnit::Millimetre, LengthUnit::Inch].into_iter().any(is_short);
        short.then(|| self.with_unit(spaced(&self.format(value, units)), units))
    }

    /// The number with so many digits more than the table asks.
    pub fn show_finer(self, value: f64, units: DisplayUnits, further: usize) -> String {
        let shown = value / self.scale(units);
        if self == Self::Angle && units.angle == AngleStyle::Dms {
            let minutes = (value * 60.0).round() / 60.0;
            return minutes_at_least(if further > 0 { value } else { minutes });
        }
        if self == Self::Dogs && further == 0 && (value - value.round()).abs() > 0.05 {
            return format!("{}–{}", decimal(libm::floor(value), 0), decimal(libm::ceil(value), 0));
        }
        if self == Self::Share && further == 0 {
            // Not “0 %” of what happens, nor “100 %” of what does not always.
            if shown > 0.0 && shown < 1.0 {
                return "< 1 %".to_owned();
            }
            if shown > 99.0 && shown < 100.0 {
                return "> 99 %".to_owned();
            }
        }
        self.with_unit(spaced(&self.fineness(units).write(shown, further)), units)
    }
}

impl Fineness {
    fn write(self, value: f64, further: usize) -> String {
        match self {
            Self::Step(step) => to_step(value, step, further),
            Self::Below(bound, fine, coarse) => {
                let is_fine = to_whole(value, fine).abs() < bound;
                to_step(value, if is_fine { fine } else { coarse }, further)
            }
            Self::Digits(digits) => decimal(value, shown(decimals(value, digits + further))),
            Self::OnlyDigits(digits) => {
                let decimals = decimals(value, digits + further);
                let rounded = to_whole(value, ten_to(-decimals.min(0)));
                decimal(if decimals < 0 { rounded } else { value }, shown(decimals))
            }
        }
    }
}

/// Digits after the point that are shown.
fn shown(decimals: i32) -> usize {
    usize::try_from(decimals).unwrap_or(0)
}

/// The decimals that show so many digits; below zero, the digits before the point that are not shown.
fn decimals(value: f64, digits: usize) -> i32 {
    let digits = i32::try_from(digits).unwrap_or(MOST_DECIMALS);
    digits.saturating_sub(first_place(value, digits.unsigned_abs() as usize)).min(MOST_DECIMALS)
}

/// The place of the first digit once the number is rounded to so many digits: 1 for units, 2 for tens, 0 for
/// tenths, −1 for hundredths.
fn first_place(value: f64, digits: usize) -> i32 {
    let size = value.abs();
    if size == 0.0 || !size.is_finite() {
        return 1;
    }
    let place_of = |size: f64| magnitude(size) + 1;
    let place = place_of(size);
    let step = ten_to(place.saturating_sub(as_power(digits)));
    if step == 0.0 || !step.is_finite() {
        return place;
    }
    place_of(to_whole(size, step) * (1.0 + 1e-12))
}

/// The power of ten of the first digit of a number above 0.
fn magnitude(size: f64) -> i32 {
    // A float has some three hundred places.
    #[expect(clippy::cast_possible_truncation)]
    let power = libm::floor(libm::log10(size)).clamp(-400.0, 400.0) as i32;
    power
}

/// Ten to a whole power: as near as a float comes up to 22 either way, 0 or infinite where it has none.
fn ten_to(power: i32) -> f64 {
    let size = (0..power.unsigned_abs().min(400)).fold(1.0, |size, _| size * 10.0);
    if power < 0 { 1.0 / size } else { size }
}

fn as_power(digits: usize) -> i32 {
    i32::try_from(digits).unwrap_or(i32::MAX)
}

/// A number of more than two digits as a multiple of 1, 2 or 5 of the decimals that are no finer than a tenth of it.
fn within_a_tenth(value: f64, round: fn(f64) -> f64) -> f64 {
    let tenth = value.abs() / 10.0;
    if tenth == 0.0 || !tenth.is_finite() {
        return value;
    }
    let decade = ten_to(magnitude(tenth));
    let whole = (value / decade).round();
    if (value / decade - whole).abs() < 1e-6 {
        return whole * decade;
    }
    let step = [2.0, 5.0, 10.0].into_iter().find(|step| step * decade >= tenth).unwrap_or(10.0);
    round(value / (step * decade)) * step * decade
}

/// The multiple of `step` nearest to a number.
fn to_whole(value: f64, step: f64) -> f64 {
    if step < 1.0 { (value / step).round() / (1.0 / step) } else { (value / step).round() * step }
}

/// A number as a multiple of a step; each further digit divides the step by ten.
fn to_step(value: f64, step: f64, further: usize) -> String {
    let step = step / ten_to(as_power(further));
    let decimals = (0..9).find(|&places| {
        let scaled = step * ten_to(places);
        (scaled - scaled.round()).abs() < 1e-6 && scaled > 0.5
    });
    if value.abs() < 1e12 {
        decimal(to_whole(value, step), shown(decimals.unwrap_or(9)))
    } else {
        decimal(value, 0)
    }
}

/// Degrees and minutes; seconds where there are any.
fn minutes_at_least(degrees: f64) -> String {
    let text = dms(degrees);
    text.strip_suffix("00″").unwrap_or(&text).replacen('-', "−", 1)
}

/// From five digits before the point on, a thin space parts thousands; the minus is a minus and no hyphen.
fn spaced(number: &str) -> String {
    let (sign, plain) = number.strip_prefix('-').map_or(("", number), |plain| ("−", plain));
    let whole = plain.find('.').unwrap_or(plain.len());
    let is_plain = plain[..whole].bytes().all(|b| b.is_ascii_digit());
    if whole < 5 || !is_plain {
        return sign.to_owned() + plain;
    }
    let mut text = sign.to_owned();
    for (at, digit) in plain[..whole].char_indices() {
        if at > 0 && (whole - at) % 3 == 0 {
            text.push('\u{202f}');
        }
        text.push(digit);
    }
    text + &plain[whole..]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn result(quantity: Quantity, value: f64) -> String {
        quantity.show_result(value, DisplayUnits::default())
    }

    #[test]
    fn results_follow_the_table() {
        let rows = [
            (Quantity::Angle, 6.978, "7°"),
            (Quantity::Length, 0.405, "0.41 mm"),
            (Quantity::RoadLength, 26.41, "26 mm"),
            (Quantity::Time, 99.96, "100 ms"),
            (Quantity::Time, 99.94, "99.9 ms"),
            (Quantity::Time, 627.2, "627 ms"),
            (Quantity::Speed, 749.39, "749 rpm"),
            (Quantity::Force, 2213.0, "2210 N"),
            (Quantity::Force, 0.1234, "0.123 N"),
            (Quantity::Torque, 8.479, "8.5 N·m"),
            (Quantity::Torque, 9.97, "10 N·m"),
            (Quantity::Stress, 77.61, "78 MPa"),
            (Quantity::Share, 0.204, "20 %"),
            (Quantity::Share, 0.0, "0 %"),
            (Quantity::Share, 0.996, "> 99 %"),
            (Quantity::Share, 1.0, "100 %"),
            (Quantity::Grams, 15.84, "15.8 g"),
            (Quantity::Volume, 12_345.6, "12\u{202f}346 mm³"),
            (Quantity::Ratio, 1.23456, "1.23"),
            (Quantity::ShaftInertia, 0.001_234_5, "0.00123"),
            (Quantity::Ratio, 9.999, "10"),
        ];
        for (quantity, value, want) in rows {
            let got = result(quantity, value);
            assert!(got.starts_with(want), "{value}: {got}, not {want}");
        }
        let inch = DisplayUnits { length: LengthUnit::Inch, ..DisplayUnits::default() };
        assert_eq!(Quantity::Length.show_result(3.62, inch), "0.1425 in");
        let dms = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
        assert_eq!(Quantity::Angle.show_result(13.039, dms), "13°02′");
        assert_eq!(Quantity::Angle.show_result(-0.999_9, dms), "−1°00′");
        assert_eq!(Quantity::Angle.show(13.5, dms), "13°30′");
        assert_eq!(Quantity::Angle.show(-13.504_166_666_666_666, dms), "−13°30′15″");
    }

    #[test]
    fn numbers_that_differ_are_told_apart() {
        let units = DisplayUnits::default();
        let together = |quantity: Quantity, values: [f64; 2]| {
            let further = quantity.further(&values, units);
            values.map(|value| match further {
                0 => quantity.show(value, units),
                further => quantity.show_finer(value, units, further),
            })
        };
        assert_eq!(together(Quantity::Stress, [77.58, 77.61]), ["77.58 MPa", "77.61 MPa"]);
        assert_eq!(together(Quantity::Length, [1.4312, 1.4277]), ["1.431 mm", "1.428 mm"]);
        assert_eq!(together(Quantity::Speed, [749.4, 749.4])[0], "749.4 rpm");
        assert_eq!(together(Quantity::Share, [0.0041, 0.0043])[1], "0.43 %");
        assert_eq!(together(Quantity::Angle, [f64::NAN, 1.0])[1], "1°");
    }

    /// Over six decades: no digit finer than a tenth, unless two digits are all there are; never on the wrong side,
    /// and never off by more than a quarter.
    #[test]
    fn tolerances_are_no_finer_than_a_tenth_of_themselves() {
        for units in [LengthUnit::Millimetre, LengthUnit::Inch]
            .map(|length| DisplayUnits { length, ..DisplayUnits::default() })
        {
            for at in 0..600 {
                let size = 1e-4 * libm::exp10(f64::from(at) / 100.0);
                let value = size * Quantity::Length.scale(units);
                let down = Quantity::Length.tolerance_at_most(value, units);
                let up = Quantity::Length.tolerance_at_least(value, units);
                for (text, least, most) in [(down, 0.75, 1.0), (up, 1.0, 1.25)] {
                    let digits = text.trim_start_matches(['0', '.']).trim_end_matches('0');
                    assert!(digits.replace('.', "").len() <= 2, "{size}: {text}");
                    let written: f64 = text.parse().expect("a number");
                    let share = written / size;
                    assert!((least - 1e-9..=most + 1e-9).contains(&share), "{size}: {text}");
                }
            }
        }
        let minutes = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
        let kept = |value| Quantity::Angle.tolerance_at_most(value, minutes);
        assert_eq!([1.0, 0.5, 0.4407].map(kept), ["1°00′", "0°30′", "0°25′"]);
        assert_eq!(Quantity::Length.show_tolerance(0.0, DisplayUnits::default()), "0 mm");
    }

    #[test]
    fn workings_are_one_digit_finer_and_typed_numbers_are_kept() {
        let units = DisplayUnits::default();
        assert_eq!(Quantity::Angle.show_working(13.0394, units), "13.04°");
        assert_eq!(Quantity::Angle.show_working(24.125, units), "24.125°");
        assert_eq!(Quantity::Time.show_working(5.9174, units), "5.92 ms");
    }

    #[test]
    fn numbers_that_are_none_are_written() {
        assert_eq!(result(Quantity::Length, f64::NAN), "– mm");
        assert_eq!(result(Quantity::Force, f64::INFINITY), "∞ N");
        assert_eq!(result(Quantity::Speed, -1e300), "−1e300 rpm");
        assert_eq!(result(Quantity::Angle, -0.01), "0°");
    }
}
