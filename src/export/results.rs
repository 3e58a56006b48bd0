//! The results as a table: for a file (CSV, RFC 4180) and for the clipboard (tab-separated), which
//! spreadsheets take as cells.

use crenel_words::Language;

use crate::compare::Verdict;
use crate::figures::FigureValue;
use crate::units::DisplayUnits;

const HEAD: [&str; 7] = ["heading", "key", "result", "value", "unit", "as opened", "verdict"];

/// Every figure in the units shown, beside its value when the design was opened. It has only numbers and our
/// own words.
pub fn results_csv(now: &[FigureValue], before: &[FigureValue], units: DisplayUnits) -> String {
    let quoted = |cell: &String| {
        if cell.contains(['"', ',']) {
            format!("\"{}\"", cell.replace('"', "\"\""))
        } else {
            cell.clone()
        }
    };
    let line = |row: Vec<String>| row.iter().map(quoted).collect::<Vec<_>>().join(",") + "\r\n";
    rows(now, before, units).map(line).collect()
}

/// The same table with tabs between the cells.
pub fn results_tsv(now: &[FigureValue], before: &[FigureValue], units: DisplayUnits) -> String {
    rows(now, before, units).map(|row| row.join("\t") + "\n").collect()
}

fn rows(
    now: &[FigureValue],
    before: &[FigureValue],
    units: DisplayUnits,
) -> impl Iterator<Item = Vec<String>> {
    let row = move |value: &FigureValue| {
        let opened = before.iter().find(|opened| opened.figure == value.figure);
        let text = |value: &FigureValue| {
            let number = value.value.map(|v| value.figure.quantity.format(v, units));
            value.words.map(str::to_owned).or(number).unwrap_or_default()
        };
        let unit = if value.value.is_some() { value.figure.quantity.suffix(units) } else { "" };
        let verdict = opened.and_then(|opened| Verdict::between(value, opened.value?));
        vec![
            value.figure.group.title().to_owned(),
            value.figure.key.to_owned(),
            value.figure.name().show(Language::British).into_owned(),
            text(value),
            unit.to_owned(),
            opened.map(text).unwrap_or_default(),
            verdict.map(|v| v.word().to_owned()).unwrap_or_default(),
        ]
    };
    std::iter::once(HEAD.map(str::to_owned).to_vec()).chain(now.iter().map(row).collect::<Vec<_>>())
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
        let units = DisplayUnits::default();
        let before = figures(&Analysis::of(&example()), units);
        let mut design = example();
        design.set(Slot::Setting(FieldId::Overlap), 2.0);
        let now = figures(&Analysis::of(&design), units);
        let table = results_tsv(&now, &before, units);
        assert_eq!(table.lines().count(), now.len() + 1);
        assert!(table.lines().all(|line| line.split('\t').count() == HEAD.len()), "{table}");
        let row =
            table.lines().find(|line| line.contains("\tfree_angle_deg\t")).expect("the free angle");
        assert!(row.ends_with("\tFree angle\t12\t°\t12\t"), "{row}");
        let csv = results_csv(&now, &before, units);
        assert_eq!(csv.matches("\r\n").count(), now.len() + 1);
        assert!(csv.starts_with("heading,key,result,value,unit,as opened,verdict\r\n"));
    }
}
