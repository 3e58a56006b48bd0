//! The results as a table: for a file (CSV, RFC 4180) and for the clipboard (tab-separated), which
//! spreadsheets take as cells.

use crenel_words::{Phrase, Reader, export as say};

use crate::compare::Verdict;
use crate::figures::FigureValue;

const HEAD: [Phrase; 8] = [
    say::heading,
    say::key,
    say::result,
    say::value,
    say::unit,
    say::as_opened,
    say::verdict,
    say::unrounded,
];

/// Every figure in the words and units of a reader, beside its value when the design was opened; last, with twelve
/// digits, angles in degrees. It has only numbers and our own words.
pub fn results_csv(now: &[FigureValue], before: &[FigureValue], reader: Reader) -> String {
    let quoted = |cell: &String| {
        if cell.contains(['"', ',']) {
            format!("\"{}\"", cell.replace('"', "\"\""))
        } else {
            cell.clone()
        }
    };
    let line = |row: Vec<String>| row.iter().map(quoted).collect::<Vec<_>>().join(",") + "\r\n";
    rows(now, before, reader).map(line).collect()
}

/// The same table with tabs between the cells.
pub fn results_tsv(now: &[FigureValue], before: &[FigureValue], reader: Reader) -> String {
    rows(now, before, reader).map(|row| row.join("\t") + "\n").collect()
}

fn rows(
    now: &[FigureValue],
    before: &[FigureValue],
    reader: Reader,
) -> impl Iterator<Item = Vec<String>> {
    let units = reader.units;
    let row = move |value: &FigureValue| {
        let opened = before.iter().find(|opened| opened.figure == value.figure);
        let text = |value: &FigureValue| {
            let number = value.value.map(|v| value.figure.quantity.format_result(v, units));
            let words = value.words.as_ref().map(|words| words.show(reader));
            words.or(number).unwrap_or_default()
        };
        let unit = if value.value.is_some() { value.figure.quantity.suffix(units) } else { "" };
        let verdict = opened.and_then(|opened| Verdict::between(value, opened.value?));
        vec![
            value.figure.group.title().show(reader),
            value.figure.key.to_owned(),
            value.figure.name().show(reader.language).into_owned(),
            text(value),
            unit.to_owned(),
            opened.map(text).unwrap_or_default(),
            verdict.map(|verdict| verdict.word().show(reader)).unwrap_or_default(),
            value.value.map(|v| value.figure.quantity.format_full(v, units)).unwrap_or_default(),
        ]
    };
    let head = HEAD.map(|word| word().show(reader)).to_vec();
    std::iter::once(head).chain(now.iter().map(row).collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::example;
    use crate::fields::{FieldId, Slot};
    use crate::figures::figures;

    #[test]
    fn every_figure_is_a_row_of_as_many_cells_as_the_heading() {
        let reader = Reader::default();
        let before = figures(&Analysis::of(&example()));
        let mut design = example();
        design.set(Slot::Setting(FieldId::Overlap), 2.0);
        let now = figures(&Analysis::of(&design));
        let table = results_tsv(&now, &before, reader);
        assert_eq!(table.lines().count(), now.len() + 1);
        assert!(table.lines().all(|line| line.split('\t').count() == HEAD.len()), "{table}");
        let row =
            table.lines().find(|line| line.contains("\tfree_angle_deg\t")).expect("the free angle");
        assert!(row.ends_with("\tWindow width\t12\t°\t12\t\t12"), "{row}");
        let csv = results_csv(&now, &before, reader);
        assert_eq!(csv.matches("\r\n").count(), now.len() + 1);
        assert!(csv.starts_with("heading,key,result,value,unit,as opened,verdict,unrounded\r\n"));
    }
}
