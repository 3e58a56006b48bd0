//! A size with its tolerance, as people type both into one field.

use crenel_words::{Value, finding as say};

use super::{Design, Layout, MOST_TOLERANCE, TOLERANCED};
use crate::fields::Slot;
use crate::finding::Finding;
use crate::shop::tolerance::Limits;
use crate::units::{DisplayUnits, Quantity};

/// Splits a typed size from its tolerance: `24 ±0.1`, `24 +/-0.1`, `24 +0/-0.12`, `3.62 +0 -0.12`, or the tolerance
/// alone. The tolerance is `None` where none is typed. A sign begins a tolerance after a space or at the start, where
/// another follows; so `-5` is a size, and `-5 +0.1` one with a tolerance.
///
/// ```
/// use crenel::design::{split_limits, read_limits};
/// use crenel::units::{DisplayUnits, Quantity};
/// let (size, limits) = split_limits("3.62 +0/−0.12");
/// assert_eq!(size, "3.62");
/// let limits = read_limits(limits.unwrap(), Quantity::Length, DisplayUnits::default()).unwrap();
/// assert_eq!((limits.minus, limits.plus), (0.12, 0.0));
/// ```
pub fn split_limits(text: &str) -> (&str, Option<&str>) {
    let at = text.find(['±']).or_else(|| text.find("+/")).or_else(|| signed(text));
    match at {
        Some(at) => (text[..at].trim(), Some(text[at..].trim())),
        None => (text.trim(), None),
    }
}

/// Where a tolerance of two signs begins.
fn signed(text: &str) -> Option<usize> {
    let after_space = |at: usize| text[..at].ends_with(char::is_whitespace);
    let first = text.trim_start().starts_with('+').then(|| text.len() - text.trim_start().len());
    let later = text.char_indices().find(|(at, sign)| is_sign(*sign) && after_space(*at));
    first.or(later.map(|(at, _)| at).filter(|at| !text[..*at].trim().is_empty()))
}

const fn is_sign(letter: char) -> bool {
    matches!(letter, '+' | '-' | '−')
}

/// Reads a tolerance: `0.1` and `±0.1` to both sides, `+0.1/-0.2` to each; a side that is not named has none.
///
/// # Errors
/// Why a number in it cannot be read, or that it is more than [`MOST_TOLERANCE`].
pub fn read_limits(text: &str, quantity: Quantity, units: DisplayUnits) -> Result<Limits, Finding> {
    let number = |text: &str| {
        let text = text.trim().trim_end_matches('/').trim();
        quantity.parse(text, units).map(f64::abs)
    };
    let wrong = || {
        let most = Value::Size(quantity, MOST_TOLERANCE);
        Finding::error(say::typed_no_tolerance(text.to_owned(), most))
    };
    let fits = |limits: Limits| limits.minus.max(limits.plus) <= MOST_TOLERANCE;
    let both = text.trim().trim_start_matches(['±']);
    let both = both.strip_prefix("+/-").or_else(|| both.strip_prefix("+/−")).unwrap_or(both);
    if !both.contains(is_sign) {
        let limits = Limits::both(number(both)?);
        return if fits(limits) { Ok(limits) } else { Err(wrong()) };
    }
    let mut limits = Limits::default();
    let signs: Vec<_> = text.char_indices().filter(|(_, letter)| is_sign(*letter)).collect();
    if signs.len() > 2 || signs[0].0 != 0 || signs.len() == 2 && signs[0].1 == signs[1].1 {
        return Err(wrong());
    }
    for (nth, (at, sign)) in signs.iter().enumerate() {
        let end = signs.get(nth + 1).map_or(text.len(), |(next, _)| *next);
        let value = number(&text[at + sign.len_utf8()..end])?;
        if *sign == '+' { limits.plus = value } else { limits.minus = value }
    }
    if fits(limits) { Ok(limits) } else { Err(wrong()) }
}

/// A tolerance as it is typed, without a unit: `±0.1`, or `+0/−0.12`.
pub fn show_limits(limits: Limits, quantity: Quantity, units: DisplayUnits) -> String {
    let shown = |number: f64| quantity.format_kept(number, units);
    if limits.minus == limits.plus {
        format!("±{}", shown(limits.plus))
    } else {
        format!("+{}/−{}", shown(limits.plus), shown(limits.minus))
    }
}

impl Design {
    /// Whether a size can have a tolerance.
    pub fn can_have_limits(&self, slot: Slot) -> bool {
        matches!(slot, Slot::Ring(..) | Slot::Dog(..)) && TOLERANCED.contains(&slot.field())
    }

    /// The tolerance that was given for this very size; of a ring that is measured, its uncertainty.
    pub fn limits_given(&self, slot: Slot) -> Option<Limits> {
        if self.is_measured(slot) {
            let mut all = self.tolerances.all_measured();
            return all.find(|(of, _)| *of == slot).map(|(_, number)| Limits::both(number));
        }
        self.tolerances.all_planned().find(|(of, _)| *of == slot).map(|(_, limits)| limits)
    }

    /// Gives a size a tolerance, or of a ring that is measured an uncertainty: the larger side. `None` removes it.
    /// Returns whether the size can have that one.
    pub fn give_limits(&mut self, slot: Slot, limits: Option<Limits>) -> bool {
        if self.is_measured(slot) {
            let larger = limits.map(|limits| limits.minus.max(limits.plus));
            self.tolerances.set_measured(slot, larger)
        } else {
            self.tolerances.set_planned(slot, limits)
        }
    }

    fn is_measured(&self, slot: Slot) -> bool {
        match slot {
            Slot::Ring(side, _) | Slot::Dog(side, ..) => {
                matches!(self.ring(side).layout, Layout::Measured(_))
            }
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::FieldId;
    use crate::ring::Side;
    use crate::units::LengthUnit;

    #[test]
    fn tolerances_are_read_as_they_are_written_on_drawings() {
        let mm = DisplayUnits::default();
        let read = |text: &str| {
            let (size, limits) = split_limits(text);
            let limits = limits.map(|limits| {
                let Limits { minus, plus } =
                    read_limits(limits, Quantity::Length, mm).expect("it is a tolerance");
                [minus, plus]
            });
            (size.to_owned(), limits)
        };
        for (text, size, limits) in [
            ("24", "24", None),
            ("-5", "-5", None),
            ("1 1/2", "1 1/2", None),
            ("24 ±0.1", "24", Some([0.1, 0.1])),
            ("24±0,1", "24", Some([0.1, 0.1])),
            ("24 +/-0.1", "24", Some([0.1, 0.1])),
            ("24 +0/-0.12", "24", Some([0.12, 0.0])),
            ("3.62 +0.05 −0.12", "3.62", Some([0.12, 0.05])),
            ("24 -0.2", "24", Some([0.2, 0.0])),
            ("±0.1", "", Some([0.1, 0.1])),
            ("+0.2/-0", "", Some([0.0, 0.2])),
        ] {
            assert_eq!(read(text), (size.to_owned(), limits), "{text}");
        }
    }

    #[test]
    fn a_tolerance_is_shown_as_it_is_read() {
        let mm = DisplayUnits::default();
        for text in ["±0.1", "+0/−0.12", "+0.05/−0"] {
            let limits = read_limits(text, Quantity::Length, mm).expect("it is a tolerance");
            assert_eq!(show_limits(limits, Quantity::Length, mm), text);
        }
    }

    /// A size that is yet to be made has a tolerance, and one that is measured an uncertainty to both sides.
    #[test]
    fn limits_go_where_the_size_is() {
        let mut design = Design::default();
        let (height, one) =
            (Slot::Ring(Side::A, FieldId::Height), Limits { minus: 0.12, plus: 0.0 });
        assert!(design.give_limits(height, Some(one)));
        assert_eq!(design.limits_given(height), Some(one));
        assert_eq!(design.tolerances.planned(Side::A, 0, FieldId::Height), Some(one));
        design.list_dogs(Side::A);
        assert_eq!(design.limits_given(height), None, "what is measured has no tolerance");
        assert!(design.give_limits(height, Some(one)));
        assert_eq!(design.tolerances.measured(Side::A, 0, FieldId::Height), Some(0.12));
        assert!(design.give_limits(height, None));
        assert_eq!(design.limits_given(height), None);
        assert!(!design.can_have_limits(Slot::Setting(FieldId::Phase)));
        assert!(!design.give_limits(height, Some(Limits::both(99.0))), "that is no tolerance");
    }

    #[test]
    fn a_tolerance_is_in_the_units_shown_and_nonsense_is_refused() {
        let inch = DisplayUnits { length: LengthUnit::Inch, ..DisplayUnits::default() };
        let read = |text: &str| read_limits(text, Quantity::Length, inch);
        assert_eq!(read("±0.001"), Ok(Limits::both(0.0254)));
        assert_eq!(read("0.001"), Ok(Limits::both(0.0254)));
        for text in ["+0.1 +0.2", "±a bit", "", "+", "+0.1-0.2-0.3", "±0.3"] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}
