//! Readings as they are typed, filled down, and pasted from a spreadsheet.

use super::{Column, GaugeKind, Readings};
use crate::finding::Finding;
use crate::units::{DisplayUnits, Quantity, decimal};

/// Decimals of a number that is copied: more than any gauge reads.
const COPIED_DECIMALS: usize = 6;

impl GaugeKind {
    /// Reads what was typed in a cell; `None` if nothing was. Turns of a crank may be written as turns and holes,
    /// `6 + 12/18` or `6 12/18`.
    ///
    /// # Errors
    /// What is wrong with the text. Whether the number can be is for [`Readings::check`].
    pub fn read(&self, text: &str, units: DisplayUnits) -> Result<Option<f64>, Finding> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        let holes = text.trim().split_once('+').filter(|(turns, _)| !turns.trim().is_empty());
        let number = match holes {
            Some((turns, holes)) if self.quantity == Quantity::Ratio && holes.contains('/') => {
                self.quantity.parse(&format!("{} {}", turns.trim(), holes.trim()), units)
            }
            _ => self.quantity.parse(text, units),
        };
        Ok(Some(number?))
    }
}

/// A pasted text that could not be read, for its cell.
#[derive(Clone, Debug, PartialEq)]
pub struct UnreadCell {
    /// The column and the dog.
    pub at: (usize, usize),
    /// The text.
    pub text: String,
    /// What is wrong with it.
    pub why: Finding,
}

/// What came of a pasted block.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pasted {
    /// How many cells were read, empty ones included.
    pub read: usize,
    /// How many texts lie outside the table.
    pub outside: usize,
    /// Whether the first line has headings.
    pub has_headings: bool,
    /// The texts that could not be read. Their cells are as before.
    pub unread: Vec<UnreadCell>,
}

/// The cells of a text from a spreadsheet, by lines. Tabs separate them, else semicolons, else those commas that
/// cannot be the comma of a decimal number.
///
/// ```
/// use crenel::design::sheet_cells;
/// assert_eq!(sheet_cells("12,5\t60\r\n12,4\t\r\n"), [["12,5", "60"], ["12,4", ""]]);
/// assert_eq!(sheet_cells("12,5;60"), [["12,5", "60"]]);
/// assert_eq!(sheet_cells("12.5,60"), [["12.5", "60"]]);
/// assert_eq!(sheet_cells("\"12,5\",60"), [["12,5", "60"]]);
/// assert_eq!(sheet_cells("12,5\n13,25"), [["12,5"], ["13,25"]]);
/// ```
pub fn sheet_cells(text: &str) -> Vec<Vec<String>> {
    let separator = ['\t', ';'].into_iter().find(|mark| text.contains(*mark));
    let separator = separator.or_else(|| text.lines().any(is_separated_by_commas).then_some(','));
    text.lines().map(|line| cells_of(line, separator)).collect()
}

/// Whether a line has a point and a comma, or a comma that is not between two digits.
fn is_separated_by_commas(line: &str) -> bool {
    let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut commas = line.match_indices(',');
    commas.clone().next().is_some() && line.contains('.')
        || commas.any(|(at, _)| {
            !is_digit(line[..at].chars().last()) || !is_digit(line[at + 1..].chars().next())
        })
}

fn cells_of(line: &str, separator: Option<char>) -> Vec<String> {
    let mut cells = Vec::new();
    let mut rest = line;
    loop {
        let (cell, after) = first_cell(rest, separator);
        cells.push(cell);
        match after {
            Some(after) => rest = after,
            None => return cells,
        }
    }
}

/// The first cell of a line, and what comes after its separator. Separators in quotation marks belong to the cell.
fn first_cell(line: &str, separator: Option<char>) -> (String, Option<&str>) {
    let quoted = line.trim_start().strip_prefix('"').and_then(|inside| inside.split_once('"'));
    if let Some((cell, after)) = quoted {
        let after = after.trim_start();
        if after.is_empty() {
            return (cell.trim().to_owned(), None);
        }
        if let Some(after) = separator.and_then(|mark| after.strip_prefix(mark)) {
            return (cell.trim().to_owned(), Some(after));
        }
    }
    let split = separator.and_then(|mark| line.split_once(mark));
    let (cell, after) = split.map_or((line, None), |(cell, after)| (cell, Some(after)));
    (cell.trim().to_owned(), after)
}

/// Whether a line has words in all its cells, and no number.
fn is_heading(cells: &[String]) -> bool {
    let is_word = |cell: &String| cell.chars().next().is_none_or(char::is_alphabetic);
    cells.iter().any(|cell| !cell.is_empty()) && cells.iter().all(is_word)
}

impl Readings {
    /// Puts a block from a spreadsheet into the table, with its first cell at a column and a dog. A first line of
    /// headings is left out; empty cells of the block empty those of the table.
    pub fn paste(&mut self, at: (usize, usize), text: &str, units: DisplayUnits) -> Pasted {
        let mut lines = sheet_cells(text);
        let has_headings = lines.len() > 1 && is_heading(&lines[0]);
        if has_headings {
            lines.remove(0);
        }
        let mut pasted = Pasted { has_headings, ..Pasted::default() };
        for (down, line) in lines.iter().enumerate() {
            for (right, text) in line.iter().enumerate() {
                self.put((at.0 + right, at.1 + down), text, units, &mut pasted);
            }
        }
        pasted
    }

    fn put(&mut self, at: (usize, usize), text: &str, units: DisplayUnits, pasted: &mut Pasted) {
        let column = self.columns.get_mut(at.0);
        let Some((kind, cell)) = column.and_then(|c| Some((c.kind, c.cells.get_mut(at.1)?))) else {
            pasted.outside += usize::from(!text.is_empty());
            return;
        };
        match kind.read(text, units) {
            Ok(read) => {
                *cell = read;
                pasted.read += 1;
            }
            Err(why) => pasted.unread.push(UnreadCell { at, text: text.to_owned(), why }),
        }
    }

    /// Puts the reading of a cell into the empty cells below it, and returns how many there were.
    pub fn fill_down(&mut self, column: usize, dog: usize) -> usize {
        let cells = self.columns.get_mut(column).map(|c| &mut c.cells[..]).unwrap_or_default();
        let Some(read) = cells.get(dog).copied().flatten() else { return 0 };
        let empty = cells.iter_mut().skip(dog).filter(|cell| cell.is_none());
        empty.map(|cell| *cell = Some(read)).count()
    }

    /// The readings for a spreadsheet: a line for each dog, with tabs between the columns.
    pub fn to_sheet(&self, units: DisplayUnits) -> String {
        let of_dog = |dog: usize| {
            let cells = self.columns.iter().map(|column| column.copied(dog, units));
            cells.collect::<Vec<_>>().join("\t")
        };
        (0..self.dogs).map(of_dog).collect::<Vec<_>>().join("\n")
    }
}

impl Column {
    fn copied(&self, dog: usize, units: DisplayUnits) -> String {
        let read = self.cells.get(dog).copied().flatten();
        let scale = self.kind.quantity.scale(units);
        read.map(|read| decimal(read / scale, COPIED_DECIMALS)).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::GAUGES;

    fn table() -> Readings {
        let mut table = Readings::new(3);
        for key in ["chord", "drive_table", "drive_crank"] {
            let kind = GAUGES.iter().find(|kind| kind.key == key).expect("a gauge");
            table.columns.push(Column::of(kind, 3));
        }
        table
    }

    fn cells(table: &Readings) -> Vec<Vec<Option<f64>>> {
        table.columns.iter().map(|column| column.cells.clone()).collect()
    }

    #[test]
    fn cells_are_read_in_the_unit_of_their_gauge() {
        let table = table();
        let read = |column: usize, text: &str| {
            table.columns[column].kind.read(text, DisplayUnits::default()).ok().flatten()
        };
        assert_eq!(read(0, "1/2 in"), Some(12.7));
        assert_eq!(read(1, "11°30′"), Some(11.5));
        for turns in ["6 + 12/18", "6 12/18", "6+12/18", "6,6666666666666666"] {
            assert!((read(2, turns).expect(turns) - 20.0 / 3.0).abs() < 1e-12, "{turns}");
        }
        assert_eq!(read(0, " "), None);
        assert!(table.columns[0].kind.read("12 + 1/2", DisplayUnits::default()).is_err());
    }

    #[test]
    fn a_pasted_block_keeps_what_cannot_be_read_for_its_cell() {
        let mut table = table();
        table.columns[0].cells[2] = Some(9.0);
        let block = "chord\tdrive flank\n12,4\t0°\n\tsixty\n12,5\t120\t20\tmore\n1\t2";
        let pasted = table.paste((0, 0), block, DisplayUnits::default());
        assert_eq!((pasted.read, pasted.outside, pasted.has_headings), (6, 3, true));
        let [unread] = &pasted.unread[..] else { panic!("{pasted:?}") };
        assert_eq!((unread.at, unread.text.as_str()), ((1, 1), "sixty"));
        let expected = vec![
            vec![Some(12.4), None, Some(12.5)],
            vec![Some(0.0), None, Some(120.0)],
            vec![None, None, Some(20.0)],
        ];
        assert_eq!(cells(&table), expected);
        // What is copied can be pasted again.
        let mut again = super::tests::table();
        again.paste((0, 0), &table.to_sheet(DisplayUnits::default()), DisplayUnits::default());
        assert_eq!(cells(&again), expected);
    }

    #[test]
    fn commas_separate_only_where_they_cannot_be_decimal() {
        for (text, cells) in [
            ("12.5,13.5", &["12.5", "13.5"][..]),
            ("12.5, 13", &["12.5", "13"]),
            ("12, 13", &["12", "13"]),
            ("12,,13", &["12", "", "13"]),
            ("1′,2′", &["1′", "2′"]),
            ("12,13", &["12,13"]),
            ("12,13,14", &["12,13,14"]),
            ("\"12,5\";\"13\"", &["12,5", "13"]),
            ("0.5\"\t0.6\"", &["0.5\"", "0.6\""]),
            ("", &[]),
        ] {
            let lines = sheet_cells(text);
            let found: Vec<&str> = lines.iter().flatten().map(String::as_str).collect();
            assert_eq!(found, cells, "{text}");
        }
    }

    #[test]
    fn filling_down_keeps_what_is_there() {
        let mut table = table();
        table.columns[0].cells = vec![None, Some(12.0), None];
        assert_eq!(table.fill_down(0, 0), 0, "an empty cell fills nothing");
        assert_eq!(table.fill_down(0, 1), 1);
        assert_eq!(table.columns[0].cells, [None, Some(12.0), Some(12.0)]);
        table.columns[0].cells = vec![Some(11.0), Some(12.0), None];
        assert_eq!(table.fill_down(0, 0), 1);
        assert_eq!(table.columns[0].cells, [Some(11.0), Some(12.0), Some(11.0)]);
        assert_eq!((table.fill_down(7, 0), table.fill_down(0, 7)), (0, 0));
    }
}
