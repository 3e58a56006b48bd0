//! The limits of every input, and the findings about numbers outside them.

use crenel_words::{Value as Shown, finding as say};

use crate::fields::Slot;
use crate::finding::Finding;
use crate::units::{DisplayUnits, Quantity};

impl Slot {
    /// Reads a number that was typed, in a unit of its own or in that of the page.
    ///
    /// # Errors
    /// A finding, if the text is not a number or the number is outside the limits of its field.
    pub fn read(self, text: &str, units: DisplayUnits) -> Result<f64, Finding> {
        let read = self.field().spec().quantity.parse(text, units);
        let value = read.map_err(|wrong| Finding::from(wrong).at(self))?;
        self.check(value).map_or(Ok(value), Err)
    }

    /// A finding if the value is outside the limits of its field.
    pub fn check(self, value: f64) -> Option<Finding> {
        let field = self.field().spec();
        let whole = field.quantity != Quantity::Count || value == value.round();
        if (field.min..=field.max).contains(&value) && whole {
            return None;
        }
        let [min, max] = [field.min, field.max].map(|v| Shown::Number(field.quantity, v));
        let place = self.words();
        let explain = field.explanation();
        let says = if !value.is_finite() {
            say::not_a_number(place, min, max, explain)
        } else if !whole {
            say::not_whole(place, format!("{value:?}"), min, max)
        } else {
            // A rounded value would seem to be within the limits.
            let hidden =
                [0.0, field.min, field.max].iter().any(|v| field.quantity.looks_like(value, *v));
            let kind = if hidden { Shown::Exact } else { Shown::Number };
            say::out_of_limits(place, kind(field.quantity, value), min, max, explain)
        };
        Some(Finding::error(says).at(self))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::FieldId;
    use crate::ring::Side;
    use crenel_words::Reader;

    #[test]
    fn a_value_outside_is_told_with_numbers_and_a_hint() {
        let slot = Slot::Ring(Side::B, FieldId::Height);
        let finding = slot.check(60.0).expect("60 mm is too high");
        let text = finding.text(Reader::default());
        assert_eq!(text, "Ring B, dog height: 60 mm is outside the range 0.2 mm to 50 mm.");
        assert!(!finding.hint(Reader::default()).is_empty());
        let count = Slot::Ring(Side::A, FieldId::Count);
        let share = Slot::Setting(FieldId::StrikeLoss);
        for (slot, value, want) in [
            (slot, f64::NAN, "Ring B, dog height: enter a number from 0.2 mm to 50 mm."),
            (slot, f64::INFINITY, "Ring B, dog height: enter a number from 0.2 mm to 50 mm."),
            (
                slot,
                50.000_01,
                "Ring B, dog height: 50.00001 mm is outside the range 0.2 mm to 50 mm.",
            ),
            (slot, 1e-12, "Ring B, dog height: 1e-12 mm is outside the range 0.2 mm to 50 mm."),
            (slot, -1e300, "Ring B, dog height: −1e300 mm is outside the range 0.2 mm to 50 mm."),
            (
                share,
                1.000_01,
                "Speed lost when thrown back: 100.001 % is outside the range 0 % to 100 %.",
            ),
            (count, 2.5, "Ring A, dog positions: 2.5 is not a whole number from 1 to 96."),
            (count, 1e-320, "Ring A, dog positions: 1e-320 is not a whole number from 1 to 96."),
            (count, 97.0, "Ring A, dog positions: 97 is outside the range 1 to 96."),
        ] {
            let text = slot.check(value).map(|found| found.text(Reader::default()));
            assert_eq!(text.as_deref(), Some(want));
        }
    }
}
