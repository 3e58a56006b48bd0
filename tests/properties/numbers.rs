//! Typed numbers: nothing typed panics, and what is shown is read back.

use crenel::fields::FIELDS;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit, Quantity};
use proptest::prelude::*;
use proptest::sample::select;

use crate::cases;

fn quantity() -> impl Strategy<Value = Quantity> {
    select(FIELDS.iter().map(|field| field.quantity).collect::<Vec<_>>())
}

fn units() -> impl Strategy<Value = DisplayUnits> {
    let length = select(vec![LengthUnit::Millimetre, LengthUnit::Inch]);
    let angle = select(vec![AngleStyle::Decimal, AngleStyle::Dms]);
    (length, angle).prop_map(|(length, angle)| DisplayUnits { length, angle })
}

/// Half of the last digit shown, in the core's unit, with a little for rounding.
fn resolution(quantity: Quantity, units: DisplayUnits) -> f64 {
    let inch = units.length == LengthUnit::Inch;
    let last_digit = match quantity {
        Quantity::Length if inch => 25.4e-4,
        Quantity::Angle if units.angle == AngleStyle::Dms => 1.0 / 3600.0,
        Quantity::Length | Quantity::Angle | Quantity::Time => 1e-3,
        Quantity::Mass => 1e-3,
        Quantity::Speed | Quantity::Force | Quantity::Torque | Quantity::Stress => 1e-2,
        Quantity::Velocity | Quantity::Ratio => 1e-4,
        Quantity::ShaftInertia => 1e-6,
        Quantity::Share => 1e-3,
        Quantity::Stiffness | Quantity::ContactStiffness | Quantity::FineTorque => 1e-1,
        Quantity::Count => 1.0,
        other => panic!("{other:?} was the quantity of no field: put its last digit here"),
    };
    last_digit * 0.5001
}

/// Half of the last digit with which a sentence shows a number.
fn shown_resolution(quantity: Quantity, units: DisplayUnits, value: f64) -> f64 {
    let size = value.abs();
    let last_digit = match quantity {
        Quantity::Length if units.length == LengthUnit::Inch => 25.4 * 5e-4,
        Quantity::Length => 1e-2,
        Quantity::Angle if units.angle == AngleStyle::Dms => 1.0 / 60.0,
        Quantity::Angle => 1e-1,
        Quantity::Time if size < 100.0 => 1e-1,
        Quantity::Torque | Quantity::Stress if size < 10.0 => 1e-1,
        Quantity::Time | Quantity::Torque | Quantity::Stress => 1.0,
        Quantity::Speed | Quantity::Count => 1.0,
        Quantity::Share => 1e-2,
        // Three digits.
        _ => 1e-2 * size,
    };
    last_digit * 0.5001
}

/// Pieces that numbers are typed from, in any order.
fn typed() -> impl Strategy<Value = String> {
    let piece = select(vec![
        "0", "1", "12", "59.5", "60", "1e308", "9e9", ".", ",", "-", "−", "+", "/", " ", ":", "°",
        "′", "″", "'", "\"", "’", "”", "ft", "e", "E", "mm", "in", "deg", "rpm", "m/s", "kg", "%",
        "nan", "inf", "\u{a0}", "é", "½",
    ]);
    let pieces = proptest::collection::vec(piece, 0..8);
    prop_oneof![4 => pieces.prop_map(|p| p.concat()), 1 => any::<String>()]
}

proptest! {
    #![proptest_config(cases(8000))]

    #[test]
    fn whatever_is_typed_is_a_finite_number_or_a_sentence(
        typed in typed(),
        quantity in quantity(),
        units in units(),
    ) {
        match quantity.parse(&typed, units) {
            Ok(value) => prop_assert!(value.is_finite(), "“{typed}” is read as {value}"),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }

    #[test]
    fn what_is_shown_is_read_back(
        value in prop_oneof![-1e4..1e4, -1.0..1.0, (-360_i32..360).prop_map(f64::from)],
        quantity in quantity(),
        shown_in in units(),
        typed_in in units(),
    ) {
        let read = |text: &str, units| quantity.parse(text, units).map_err(|e| e.to_string());
        let number = quantity.format(value, shown_in);
        let back = read(&number, shown_in);
        let near = |back: f64| (back - value).abs() <= resolution(quantity, shown_in);
        prop_assert!(back.clone().is_ok_and(near), "“{number}” is read as {back:?}");
        // The unit that stands beside it holds, whichever units are chosen when it is typed.
        let with_unit = quantity.show(value, shown_in);
        // “< 1 %” says what is worth saying of a share, and is no number.
        if !with_unit.starts_with(['<', '>']) {
            let back = read(&with_unit, typed_in);
            let near = |back: f64| {
                (back - value).abs() <= shown_resolution(quantity, shown_in, value)
            };
            prop_assert!(back.clone().is_ok_and(near), "“{with_unit}” is read as {back:?}");
            prop_assert_eq!(back.map(|back| quantity.show(back, shown_in)), Ok(with_unit));
        }
    }

    /// The mark decides, whatever stands before it, however it is typed and whichever style is shown.
    #[test]
    fn marks_say_what_is_minutes_and_what_is_seconds(
        parts in (0_u16..360, 0_u16..60, 0_u16..60),
        given in 1_u8..8,
        negative in any::<bool>(),
        marks in select(vec![["°", "'", "\""], ["°", "′", "″"], ["° ", "’ ", "”"], ["°", "'", "''"]]),
        units in units(),
    ) {
        let sign = if negative { "-" } else { "" };
        let (mut typed, mut want) = (sign.to_owned(), 0.0);
        let parts = [(parts.0, 1.0), (parts.1, 60.0), (parts.2, 3600.0)];
        for (at, ((number, per), mark)) in parts.into_iter().zip(marks).enumerate() {
            if given >> at & 1 == 1 {
                typed += &format!("{number}{mark}");
                want += f64::from(number) / per;
            }
        }
        let want = if negative { -want } else { want };
        let read = Quantity::Angle.parse(&typed, units).map_err(|e| e.to_string());
        let near = |read: f64| (read - want).abs() < 1e-9;
        prop_assert!(read.clone().is_ok_and(near), "“{typed}” is read as {read:?}, not {want}");
    }

    #[test]
    fn any_float_can_be_written(value in any::<f64>(), quantity in quantity(), units in units()) {
        prop_assert!(!quantity.show(value, units).is_empty());
    }
}
