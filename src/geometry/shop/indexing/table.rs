//! A rotary table: turns of the handle and the reading of its dial.

use super::on_circle;
use crate::units::{Angle, AngleStyle, DisplayUnits, Quantity};

/// Seconds of arc in a full turn.
const SECONDS: u32 = 1_296_000;

/// A rotary table whose dial reads degrees, minutes and seconds of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RotaryTable {
    /// Turns of the handle for one turn of the table.
    pub ratio: u16,
}

/// The usual tables; one turn of the handle is 9°, 6°, 5°, 4°30′ and 4°. Common practice, no source.
pub const TABLES: [RotaryTable; 5] = [
    RotaryTable { ratio: 40 },
    RotaryTable { ratio: 60 },
    RotaryTable { ratio: 72 },
    RotaryTable { ratio: 80 },
    RotaryTable { ratio: 90 },
];

/// The handle at one position, counted from the datum with the dial at 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dial {
    /// The position as asked for, counter-clockwise from the datum, in `[0°, 360°)`.
    pub position: Angle,
    /// Whole turns of the handle.
    pub turns: u32,
    /// The reading of the dial after those turns, to the second. It is less than one turn of the handle.
    pub rest: Angle,
}

impl Dial {
    /// The dial as degrees, minutes and seconds: `3°59′30″`.
    pub fn reading(&self) -> String {
        let dms = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
        Quantity::Angle.format(self.rest.degrees(), dms)
    }
}

/// All positions of one ring on one table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableJob {
    /// Turns of the handle for one turn of the table.
    pub ratio: u16,
    /// The positions in the order they were given.
    pub dials: Vec<Dial>,
}

impl RotaryTable {
    /// Handle and dial for a position, any number of turns on or back from the datum.
    ///
    /// The position is rounded to the second before it is divided into turns and dial, so that the dial never
    /// shows 60″ and a full turn of the handle counts as one. `None` for NaN and for a ratio of 0.
    pub fn dial(self, position: Angle) -> Option<Dial> {
        if self.ratio == 0 || !position.radians().is_finite() {
            return None;
        }
        let (seconds, ratio) = (u64::from(whole_seconds(position)), u64::from(self.ratio));
        let passed = seconds * ratio;
        // Counted in fractions 1/ratio of a second, so that no ratio causes a rounding error.
        let rest = whole(passed % u64::from(SECONDS)) / f64::from(self.ratio);
        let turns = u32::try_from(passed / u64::from(SECONDS)).ok()?;
        let rest = Angle::from_degrees(rest / 3600.0);
        Some(Dial { position: on_circle(position), turns, rest })
    }

    /// Every position in turn; `None` if there is no answer for one of them.
    pub fn job(self, positions: &[Angle]) -> Option<TableJob> {
        let dials = positions.iter().map(|&position| self.dial(position)).collect::<Option<_>>()?;
        (self.ratio > 0).then_some(TableJob { ratio: self.ratio, dials })
    }
}

/// A position rounded to the second, in `[0°, 360°)`: 359°59′59.6″ is the datum again. NaN and infinity are
/// returned unchanged.
pub fn to_the_second(position: Angle) -> Angle {
    if !position.radians().is_finite() {
        return position;
    }
    Angle::from_degrees(f64::from(whole_seconds(position)) / 3600.0)
}

fn whole_seconds(position: Angle) -> u32 {
    // From 0 to a full turn, so the conversion is exact.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let seconds = (position.wrapped().degrees() * 3600.0).round() as u32;
    seconds % SECONDS
}

/// Numbers below a full turn's seconds are far below what a float holds exactly.
#[expect(clippy::cast_precision_loss, reason = "below 1 296 000")]
fn whole(number: u64) -> f64 {
    number as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dial(ratio: u16, degrees: f64) -> (u32, String) {
        let dial = RotaryTable { ratio }.dial(Angle::from_degrees(degrees)).unwrap();
        (dial.turns, dial.reading())
    }

    fn shown(turns: u32, reading: &str) -> (u32, String) {
        (turns, reading.to_owned())
    }

    #[test]
    fn sixty_degrees_on_the_usual_tables() {
        let want = [
            (6, "6°00′00″"),
            (10, "0°00′00″"),
            (12, "0°00′00″"),
            (13, "1°30′00″"),
            (15, "0°00′00″"),
        ];
        for (table, (turns, reading)) in TABLES.into_iter().zip(want) {
            assert_eq!(dial(table.ratio, 60.0), shown(turns, reading), "{table:?}");
        }
    }

    #[test]
    fn rounding_is_carried_into_minutes_degrees_and_turns() {
        let second = 1.0 / 3600.0;
        assert_eq!(dial(40, 59.9996 * second), shown(0, "0°01′00″"));
        assert_eq!(dial(40, 59.4996 * second), shown(0, "0°00′59″"));
        assert_eq!(dial(40, 1.0 - 0.0004 * second), shown(0, "1°00′00″"));
        assert_eq!(dial(40, 9.0 - 0.0004 * second), shown(1, "0°00′00″"));
        assert_eq!(dial(80, 4.5 - 0.0004 * second), shown(1, "0°00′00″"));
        assert_eq!(dial(90, 360.0 - 0.0004 * second), shown(0, "0°00′00″"));
        assert_eq!(dial(90, 360.0 - 0.6 * second), shown(89, "3°59′59″"));
        assert_eq!(dial(60, -60.0), shown(50, "0°00′00″"));
    }

    #[test]
    fn a_ratio_that_does_not_divide_the_circle_loses_nothing() {
        for degrees in [51.428_571, 102.857_143, 51.428, 359.9] {
            let position = Angle::from_degrees(degrees);
            let dial = RotaryTable { ratio: 7 }.dial(position).unwrap();
            let back = f64::from(dial.turns) * 360.0 / 7.0 + dial.rest.degrees();
            assert!((back - to_the_second(position).degrees()).abs() < 1e-9, "{degrees}: {dial:?}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_none() {
        assert_eq!(RotaryTable { ratio: 0 }.dial(Angle::ZERO), None);
        assert_eq!(RotaryTable { ratio: 0 }.job(&[]), None);
        assert_eq!(RotaryTable { ratio: 40 }.dial(Angle::from_degrees(f64::NAN)), None);
        assert!(to_the_second(Angle::from_degrees(f64::NAN)).radians().is_nan());
    }
}
