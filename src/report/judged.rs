//! A size as it came out beside the one that was planned.

use crenel_words::{Message, Value, inspection as say};

use super::papers::{INSPECTED, Inspected};
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::ring::Side;
use crate::units::{DisplayUnits, Quantity};

/// Sizes that differ by less are the same but for rounding.
const HAIR: f64 = 1e-9;

/// How a size came out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Judged {
    /// Within its limits.
    Good,
    /// So much metal is left above the planned size, in the unit of the field: it can still come off.
    Over(f64),
    /// So much is off beyond the planned size: it cannot be put back.
    Under(f64),
    /// So far off to one side, which no cut puts right by itself; plus is counter-clockwise.
    Aside(f64),
}

impl Judged {
    /// How a size of a dog came out, in the units of its field. A size without a tolerance is good only where
    /// it is met.
    pub fn of(dog: &Inspected, at: usize, got: f64) -> Self {
        let allowed = dog.allowed[at].map_or((0.0, 0.0), |allowed| (allowed.plus, allowed.minus));
        let mut off = got - dog.nominal[at];
        if INSPECTED[at] == FieldId::Centre {
            off = (off + 180.0).rem_euclid(360.0) - 180.0;
        }
        if (-allowed.1 - HAIR..=allowed.0 + HAIR).contains(&off) {
            return Self::Good;
        }
        match metal(INSPECTED[at]) {
            Metal::Grows if off > 0.0 => Self::Over(off),
            Metal::Shrinks if off < 0.0 => Self::Over(-off),
            Metal::Moves => Self::Aside(off),
            Metal::Grows | Metal::Shrinks => Self::Under(off.abs()),
        }
    }

    /// Its name in style sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Over(_) => "over",
            Self::Under(_) | Self::Aside(_) => "under",
        }
    }

    /// What to do about a size of a dog.
    pub fn words(self, side: Side, dog: &Inspected, at: usize) -> Message {
        let value = |by| Value::Number(INSPECTED[at].spec().quantity, by);
        match self {
            Self::Good => say::good(),
            Self::Over(by) => match dog.along_rim_mm(at, by) {
                Some(mm) => say::take_another_angle(value(by), mm, side, dog.place),
                None => say::take_another(value(by), side, dog.place),
            },
            Self::Under(by) => say::under(value(by)),
            Self::Aside(by) => say::aside(value(by.abs()), if by > 0.0 { "plus" } else { "minus" }),
        }
    }
}

/// What becomes of the metal of a dog as a size grows.
#[derive(Clone, Copy)]
enum Metal {
    Grows,
    Shrinks,
    Moves,
}

/// The metal of a dog as one of its sizes grows: an undercut and an edge break take metal off.
const fn metal(size: FieldId) -> Metal {
    match size {
        FieldId::Centre => Metal::Moves,
        FieldId::BackCutDrive | FieldId::BackCutCoast | FieldId::EdgeBreak => Metal::Shrinks,
        _ => Metal::Grows,
    }
}

/// What a text typed for a size of a dog says: how the size came out; `None` for an empty text.
///
/// # Errors
/// A finding if the text is not a number or is outside the limits of its field.
pub fn judged(
    side: Side,
    dog: &Inspected,
    at: usize,
    text: &str,
    units: DisplayUnits,
) -> Option<Result<Judged, Finding>> {
    let slot = Slot::Dog(side, dog.place, INSPECTED[at]);
    let got = (!text.trim().is_empty()).then(|| super::papers::read(slot, text, units))?;
    Some(got.map(|got| Judged::of(dog, at, got)))
}

impl Inspected {
    /// What an angle of a width amounts to at the mean diameter, mm; `None` for other sizes.
    fn along_rim_mm(&self, at: usize, by: f64) -> Option<f64> {
        let spec = INSPECTED[at].spec();
        let is_width = spec.quantity == Quantity::Angle && INSPECTED[at] == FieldId::TipWidth;
        is_width.then(|| by.to_radians() * self.mean_radius_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Allowed;
    use crenel_words::Reader;

    fn dog() -> Inspected {
        let both = |by| Some(Allowed { plus: by, minus: by });
        Inspected {
            place: 1,
            nominal: [0.1, 24.0, 2.5, 3.0, 0.0, 0.2],
            allowed: [
                both(0.5),
                both(0.4),
                Some(Allowed { plus: 0.0, minus: 0.1 }),
                both(1.0),
                None,
                None,
            ],
            mean_radius_mm: 26.0,
        }
    }

    #[test]
    fn metal_that_is_left_is_over_and_metal_that_is_gone_is_under() {
        let of = |at: usize, got: f64| Judged::of(&dog(), at, got);
        assert_eq!(of(2, 2.5), Judged::Good);
        assert_eq!(of(2, 2.4), Judged::Good, "the limit itself is within");
        assert!(matches!(of(2, 2.54), Judged::Over(by) if (by - 0.04).abs() < 1e-9));
        assert!(matches!(of(2, 2.3), Judged::Under(by) if (by - 0.2).abs() < 1e-9));
        assert!(matches!(of(1, 24.5), Judged::Over(_)) && matches!(of(1, 23.5), Judged::Under(_)));
        assert!(
            matches!(of(3, 1.5), Judged::Over(by) if (by - 1.5).abs() < 1e-9),
            "too little undercut"
        );
        assert!(matches!(of(3, 4.5), Judged::Under(_)));
        assert!(matches!(of(5, 0.1), Judged::Over(_)) && matches!(of(5, 0.3), Judged::Under(_)));
        assert_eq!((of(4, 0.0), of(5, 0.2)), (Judged::Good, Judged::Good));
    }

    #[test]
    fn a_centre_is_off_to_one_side_across_the_datum_too() {
        assert_eq!(Judged::of(&dog(), 0, 359.8), Judged::Good);
        assert!(
            matches!(Judged::of(&dog(), 0, 359.0), Judged::Aside(by) if (by + 1.1).abs() < 1e-9)
        );
    }

    #[test]
    fn a_text_says_what_to_do_or_what_is_wrong_with_it() {
        let told = |at: usize, text: &str| {
            let judged = judged(Side::A, &dog(), at, text, DisplayUnits::default())?;
            Some(match judged {
                Ok(judged) => judged.words(Side::A, &dog(), at).show(Reader::default()),
                Err(finding) => finding.text(Reader::default()),
            })
        };
        assert_eq!(told(2, "  "), None);
        assert_eq!(told(2, "2.54 mm").as_deref(), Some("over: take another 0.04 mm off A2"));
        assert_eq!(
            told(1, "24.5").as_deref(),
            Some("over: take another 0.5° off A2, 0.23 mm at the mean diameter")
        );
        assert_eq!(told(2, "0.1 in").as_deref(), Some("over: take another 0.04 mm off A2"));
        assert_eq!(told(2, "2.3").as_deref(), Some("under by 0.2 mm"));
        assert_eq!(told(0, "359").as_deref(), Some("1.1° too far clockwise"));
        assert!(told(2, "high").is_some_and(|text| text.starts_with("Ring A, dog 2")));
        assert!(told(2, "800").is_some_and(|text| text.contains("outside")));
    }
}
