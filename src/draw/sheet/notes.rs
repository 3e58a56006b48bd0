//! The words beside a drawing: lines, paragraphs and the list of dogs.

use super::{LETTER_MM, room};
use crate::draw::scene::{Anchor, Role, Scene};
use crate::ring::Point;
use crate::units::decimal;

/// From one line to the next.
pub(super) const LINE_MM: f64 = 1.6 * LETTER_MM;

/// Letters of the title.
const TITLE_MM: f64 = 5.0;

/// Width of a paragraph, about that of a line of the link.
const PARAGRAPH_MM: f64 = 150.0;

/// Letters of the link on a line. It has no blanks to break it at.
const LINK_LETTERS: usize = 60;

/// Further rows of the list are set in blocks side by side; more blocks would make the sheet too wide.
const ROWS: usize = 24;
const BLOCKS_MOST: usize = 3;

/// Between the columns of the list, and between its blocks.
const COLUMN_GAP_MM: f64 = 5.0;
const BLOCK_GAP_MM: f64 = 12.0;

/// A column of words that grows downwards.
pub(super) struct Notes<'a> {
    pub(super) scene: &'a mut Scene,
    pub(super) x: f64,
    pub(super) y: f64,
}

impl Notes<'_> {
    pub(super) fn title(&mut self, words: &str) {
        for line in wrapped(words, TITLE_MM) {
            self.write(&line, TITLE_MM);
            self.y -= 1.6 * TITLE_MM;
        }
    }

    pub(super) fn paragraph(&mut self, words: &str) {
        wrapped(words, LETTER_MM).iter().for_each(|line| self.line(line));
    }

    pub(super) fn line(&mut self, words: &str) {
        self.write(words, LETTER_MM);
        self.y -= LINE_MM;
    }

    pub(super) fn link(&mut self, link: &str) {
        let letters: Vec<char> = link.chars().collect();
        let lines = letters.chunks(LINK_LETTERS);
        lines.for_each(|part| self.line(&part.iter().collect::<String>()));
    }

    pub(super) const fn gap(&mut self) {
        self.y -= LINE_MM / 2.0;
    }

    fn write(&mut self, words: &str, height: f64) {
        let at = Point::new(self.x, self.y);
        self.scene.text(Role::Note, at, height, Anchor::Start, words);
    }

    /// A list in columns; all have the same number of rows.
    pub(super) fn list(&mut self, columns: &[Column]) {
        let rows = columns.first().map_or(0, |column| column.cells.len());
        let blocks = rows.div_ceil(ROWS).clamp(1, BLOCKS_MOST);
        let deep = rows.div_ceil(blocks).max(1);
        let mut x = self.x;
        for first in (0..rows).step_by(deep) {
            let last = rows.min(first + deep);
            x = self.block(x, columns, first..last) + BLOCK_GAP_MM;
        }
        self.y -= LINE_MM * (1 + deep) as f64;
    }

    /// Some rows of the list under their heads. Gives the right end.
    fn block(&mut self, left: f64, columns: &[Column], rows: std::ops::Range<usize>) -> f64 {
        let mut right = left - COLUMN_GAP_MM;
        for column in columns {
            let left = right + COLUMN_GAP_MM;
            right = left + column.width();
            let x = if column.anchor == Anchor::Start { left } else { right };
            let cells = std::iter::once(column.head.as_str())
                .chain(column.cells[rows.clone()].iter().map(String::as_str));
            let mut y = self.y;
            for cell in cells {
                self.scene.text(Role::Note, Point::new(x, y), LETTER_MM, column.anchor, cell);
                y -= LINE_MM;
            }
        }
        right
    }
}

/// A column of the list of dogs.
pub(super) struct Column {
    head: String,
    cells: Vec<String>,
    anchor: Anchor,
}

impl Column {
    /// Words from the left.
    pub(super) const fn words(head: String, cells: Vec<String>) -> Self {
        Self { head, cells, anchor: Anchor::Start }
    }

    /// Numbers from the right, with as many decimals as the longest, so that the points line up.
    pub(super) fn numbers(head: String, values: &[f64], unit: &str) -> Self {
        let decimals = |text: &String| text.split_once('.').map_or(0, |(_, after)| after.len());
        let texts: Vec<String> = values.iter().map(|&v| decimal(v, 3)).collect();
        let places = texts.iter().map(decimals).max().unwrap_or(0);
        let cells = texts.iter().map(|text| filled(text, places) + unit).collect();
        Self { head, cells, anchor: Anchor::End }
    }

    fn width(&self) -> f64 {
        let cells = self.cells.iter().map(String::as_str).chain([self.head.as_str()]);
        cells.map(|cell| room::width(cell, LETTER_MM)).fold(0.0, f64::max)
    }
}

/// A number with zeros up to so many decimals.
fn filled(number: &str, places: usize) -> String {
    let (whole, after) = number.split_once('.').unwrap_or((number, ""));
    if places == 0 { whole.to_owned() } else { format!("{whole}.{after:0<places$}") }
}

/// Words broken into lines at blanks, or inside a word that is longer than a line.
fn wrapped(words: &str, height: f64) -> Vec<String> {
    let fits = |line: &str| room::width(line, height) <= PARAGRAPH_MM;
    let (mut lines, mut line) = (Vec::new(), String::new());
    for word in words.split_whitespace() {
        let mut joint = if line.is_empty() { "" } else { " " };
        for piece in pieces(word, fits(word)) {
            let longer = format!("{line}{joint}{piece}");
            if fits(&longer) {
                line = longer;
            } else {
                lines.push(std::mem::replace(&mut line, piece));
            }
            joint = "";
        }
    }
    lines.push(line);
    lines
}

/// A word in one piece, or letter by letter.
fn pieces(word: &str, whole: bool) -> Vec<String> {
    if whole { vec![word.to_owned()] } else { word.chars().map(String::from).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_at_blanks_and_keep_every_letter() {
        let long = "x".repeat(200);
        for words in ["short", "", &"some words ".repeat(30), &format!("a {long} b"), &long] {
            let lines = wrapped(words, LETTER_MM);
            assert!(lines.iter().all(|l| room::width(l, LETTER_MM) <= PARAGRAPH_MM), "{lines:?}");
            let bare = |text: &str| text.replace(char::is_whitespace, "");
            assert_eq!(bare(&lines.concat()), bare(words));
        }
        assert_eq!(wrapped("two  words\nand", LETTER_MM), ["two words and"]);
    }

    #[test]
    fn numbers_line_up_at_their_points() {
        let column = Column::numbers("centre".to_owned(), &[0.4, 300.125, 60.0], "°");
        assert_eq!(column.cells, ["0.400°", "300.125°", "60.000°"]);
    }
}
