//! A comparison as CSV (RFC 4180): the table of results, and the curves of the first pass.
//!
//! What all layouts have in common is in lines that begin with `#`, above the heading; many readers skip them with
//! an option such as `comment="#"`.

use crenel_words::{Reader, export as say};

use super::csv::{remark, text_cell};
use crate::compare::{Column, CompareRow, Comparison};
use crate::model::{Chances, chance_top_rpm};
use crate::units::decimal;

/// How many steps the curves have from standstill to their highest speed difference.
const STEPS: u32 = 120;

/// Every result of every layout: its key, name and unit, then a column for each layout in the units of the reader,
/// with twelve digits. Titles of layouts are text of a user: they are in quotation marks, with an apostrophe before
/// one that would begin a formula.
pub fn comparison_csv(comparison: &Comparison, reader: Reader) -> String {
    let heads = [say::key(), say::result(), say::unit()].map(|head| text_cell(&head.show(reader)));
    let heads = heads.into_iter().chain(titles(comparison, reader)).collect::<Vec<_>>().join(",");
    let rows = comparison.rows.iter().map(|row| line(row, &comparison.columns, reader));
    file(head(comparison, reader).chain([heads]).chain(rows))
}

/// The share of all phases, 0 to 1, from which each layout goes in at the first pass, over the speed difference in
/// rpm. Cells of a layout without chances are empty.
pub fn curves_csv(comparison: &Comparison, reader: Reader) -> String {
    let heads = ["speed_difference_rpm".to_owned()].into_iter().chain(titles(comparison, reader));
    let heads = heads.collect::<Vec<_>>().join(",");
    let columns = &comparison.columns;
    let top = columns.iter().map(|c| chance_top_rpm(&c.analysis)).fold(1.0, f64::max);
    let chances: Vec<_> = columns.iter().map(|c| Chances::of(&c.analysis)).collect();
    let row = |step: u32| {
        let speed = top * f64::from(step) / f64::from(STEPS);
        let share = |of: &Option<Chances>| {
            of.as_ref().map_or(String::new(), |of| decimal(of.first_pass(speed).is_in(), 6))
        };
        let cells = chances.iter().map(share);
        [decimal(speed, 3)].into_iter().chain(cells).collect::<Vec<_>>().join(",")
    };
    let columns = [say::curves_speed(), say::curves_share()].map(|says| remark(&says.show(reader)));
    file(head(comparison, reader).chain(columns).chain([heads]).chain((1..=STEPS).map(row)))
}

fn file(lines: impl Iterator<Item = String>) -> String {
    lines.map(|line| line + "\r\n").collect()
}

/// What was compared and under which conditions, a line each.
fn head(comparison: &Comparison, reader: Reader) -> impl Iterator<Item = String> {
    let said = [say::compared()].into_iter().chain(comparison.conditions());
    said.map(move |line| remark(&line.show(reader)))
}

fn titles(comparison: &Comparison, reader: Reader) -> impl Iterator<Item = String> {
    let title = move |column: &Column| {
        text_cell(&format!("{} {}", column.number, column.name().show(reader)))
    };
    comparison.columns.iter().map(title)
}

fn line(row: &CompareRow, columns: &[Column], reader: Reader) -> String {
    let (figure, units) = (row.figure, reader.units);
    let cell = |column: &Column| {
        let Some(value) = column.figures.iter().find(|value| value.figure == figure) else {
            return String::new();
        };
        let number = value.value.map(|number| figure.quantity.format_full(number, units));
        let words = value.words.as_ref().map(|words| text_cell(&words.show(reader)));
        number.or(words).unwrap_or_default()
    };
    let name = text_cell(&figure.name().show(reader.language));
    let unit = text_cell(figure.quantity.suffix(units));
    let cells = columns.iter().map(cell);
    [figure.key.to_owned(), name, unit].into_iter().chain(cells).collect::<Vec<_>>().join(",")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, RingPair, START_RINGS, example};

    fn compared() -> Comparison {
        let three = START_RINGS.iter().find(|start| start.key == "three").expect("a start");
        let title = "=three, \"big\"".to_owned();
        let pair = RingPair { title, a: three.ring(), b: three.ring() };
        Comparison::of(&Design { alternatives: vec![pair], ..example() })
    }

    /// The lines that begin with #, and the rest.
    fn parts(text: &str) -> (Vec<&str>, Vec<&str>) {
        text.lines().partition(|line| line.starts_with('#'))
    }

    #[test]
    fn the_table_has_a_row_for_each_result_and_says_its_conditions() {
        let comparison = compared();
        let text = comparison_csv(&comparison, Reader::default());
        let (head, rows) = parts(&text);
        assert_eq!(rows.len(), comparison.rows.len() + 1);
        assert!(head.iter().all(|line| !line.contains([',', '"'])), "{head:?}");
        for wanted in
            ["Speed difference: 749", "Overlap in gear: 4.5 mm", "Tip friction: 0.1", "as drawn"]
        {
            assert!(head.iter().any(|line| line.contains(wanted)), "{wanted}: {head:?}");
        }
        assert!(rows[0].ends_with(",\"2 =three, \"\"big\"\"\""), "{}", rows[0]);
        let free = rows.iter().find(|row| row.starts_with("free_angle_deg,")).expect("a row");
        assert_eq!(*free, "free_angle_deg,\"Window width\",\"°\",12,72");
    }

    #[test]
    fn the_curves_are_the_chances_of_each_layout() {
        let comparison = compared();
        let text = curves_csv(&comparison, Reader::default());
        let (head, rows) = parts(&text);
        assert!(
            head.iter().any(|line| line.starts_with("# speed_difference_rpm in rpm")),
            "{head:?}"
        );
        assert_eq!(rows.len(), usize::try_from(STEPS).expect("few") + 1);
        let chances = Chances::of(&comparison.columns[1].analysis).expect("it goes in");
        let cells: Vec<f64> =
            rows[60].split(',').map(|cell| cell.parse().expect("a number")).collect();
        assert_eq!(cells.len(), 3);
        assert!((cells[2] - chances.first_pass(cells[0]).is_in()).abs() < 1e-5, "{cells:?}");
    }
}
