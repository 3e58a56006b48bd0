//! A sweep as CSV (RFC 4180): a row for each value of the input, a column for each curve or each row of a map.
//!
//! What the columns mean, and under which conditions, is in lines that begin with `#`, above the heading.

use crenel_words::{Label, Message, Reader, export as say};

use super::csv::{remark, text_cell};
use crate::analysis::Analysis;
use crate::compare::conditions;
use crate::sweep::{Input, Sweep};
use crate::units::Quantity;

/// Every point of a sweep in the units of the reader, with twelve digits. Cells are empty where the design has no such
/// figure. The conditions are those of the design that is swept, worked out.
pub fn sweep_csv(sweep: &Sweep, analysis: &Analysis, reader: Reader) -> String {
    let (along, figure) = (&sweep.along, sweep.figure);
    let column = |key: &'static str, quantity: Quantity, name: Label, meaning: Label| {
        let unit = quantity.suffix(reader.units).trim().to_owned();
        let unit = if unit.is_empty() { say::without_unit().show(reader) } else { unit };
        say::column_is(key.to_owned(), unit, name, meaning)
    };
    let of_input =
        |input: &Input| column(input.key(), input.quantity(), input.name(), input.explanation());
    let each = sweep.each.as_ref();
    let said: Vec<Message> = [say::swept(figure.name(), along.input.name())]
        .into_iter()
        .chain([of_input(along.input)])
        .chain([column(figure.key, figure.quantity, figure.name(), figure.what_it_is())])
        .chain(each.map(|each| say::swept_each(each.input.name())))
        .chain(each.map(|each| of_input(each.input)))
        .chain(conditions(analysis))
        .collect();
    let title = remark(&sweep.base.title);
    let said = said.into_iter().map(|line| remark(&line.show(reader)));
    let heads = [along.input.key().to_owned()].into_iter().chain((0..sweep.curves()).map(|nth| {
        let value = each.and_then(|each| Some((each, each.values.get(nth)?)));
        let of = value.map(|(each, value)| {
            let value = each.input.quantity().format_full(*value, reader.units);
            format!(" at {} {value}", each.input.key())
        });
        text_cell(&format!("{}{}", figure.key, of.unwrap_or_default()))
    }));
    let rows = along.values.iter().enumerate().map(|(at, value)| {
        let first = along.input.quantity().format_full(*value, reader.units);
        let cells = (0..sweep.curves()).map(|nth| {
            let value = sweep.curve(nth).get(at).copied().flatten();
            value.map_or(String::new(), |v| figure.quantity.format_full(v, reader.units))
        });
        [first].into_iter().chain(cells).collect::<Vec<_>>().join(",")
    });
    let heads = heads.collect::<Vec<_>>().join(",");
    let lines = [title].into_iter().chain(said).chain([heads]).chain(rows);
    lines.map(|line| line + "\r\n").collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::figures::STRAIGHT_IN_LIMIT;
    use crate::sweep::{Axis, INPUTS};

    #[test]
    fn the_file_says_what_its_columns_are_and_has_every_point() {
        let input = |key: &str| INPUTS.iter().find(|input| input.key() == key).expect("an input");
        let along = Axis::of(input("count"), 2.0, 8.0);
        let each = Axis::few(input("hold_depth_mm"), 0.5, 1.5);
        let mut sweep = Sweep::new(example(), &STRAIGHT_IN_LIMIT, along, Some(each));
        while sweep.work_out_next() {}
        let text = sweep_csv(&sweep, &Analysis::of(&example()), Reader::default());
        let (head, rows): (Vec<&str>, Vec<&str>) =
            text.lines().partition(|line| line.starts_with('#'));
        assert!(head.iter().all(|line| !line.contains(',')), "{head:?}");
        for wanted in ["Hill-climb", "in rpm", "in mm", "Tip friction: 0.1", "Straight-in limit"] {
            assert!(head.iter().any(|line| line.contains(wanted)), "{wanted}: {head:?}");
        }
        assert_eq!(rows.len(), 8);
        assert!(rows.iter().all(|row| row.split(',').count() == 6), "{rows:?}");
        assert!(rows[0].contains("straight_in_limit_rpm at hold_depth_mm 0.5"), "{}", rows[0]);
        let four: Vec<&str> = rows[3].split(',').collect();
        assert_eq!(four[0], "4");
        // At a holding depth of 1 mm, the middle of the five.
        assert!((four[3].parse::<f64>().expect("a number") - 875.26).abs() < 0.01, "{four:?}");
        assert_eq!(rows[7], "8,,,,,");
    }

    /// A map has a row for each value along its edge and a column for each up its side.
    #[test]
    fn a_map_is_a_table_of_both_inputs() {
        let input = |key: &str| INPUTS.iter().find(|input| input.key() == key).expect("an input");
        let (along, up) = (input("count"), input("tip_width_deg"));
        let sides = (Axis::side(along, 2.0, 24.0), Axis::side(up, 4.0, 36.0));
        let mut sweep = Sweep::map(example(), &STRAIGHT_IN_LIMIT, sides.0, sides.1);
        while sweep.work_out_next() {}
        let text = sweep_csv(&sweep, &Analysis::of(&example()), Reader::default());
        let rows: Vec<&str> = text.lines().filter(|line| !line.starts_with('#')).collect();
        assert_eq!(rows.len(), 1 + 23);
        assert!(rows.iter().all(|row| row.split(',').count() == 1 + 33));
        // Four dogs of 24°, in the column of that width.
        let at = rows[0].split(',').position(|head| head.ends_with(" at tip_width_deg 24\""));
        let cell = rows[3].split(',').nth(at.expect("a column")).expect("a cell");
        assert!((cell.parse::<f64>().expect("a number") - 875.26).abs() < 0.01, "{cell}");
    }
}
