//! The words beside a drawing: lines, paragraphs and the list of dogs.

use super::{LETTER_MM, room};
use crate::draw::scene::{Anchor, Role, Scene};
use crate::ring::Point;
use crate::units::decimal;

/// From one line to the next.
pub(super) const LINE_MM: f64 = 1.6 * LETTER_MM;

/// Letters of the title.
const TITLE_MM: f64 = 5.0;

/// Width of a paragraph: a comfortable line of about 60 letters.
const PARAGRAPH_MM: f64 = 135.0;

/// Letters of the link on a line. It has no blanks to break it at.
const LINK_LETTERS: usize = 60;

/// More dogs are listed in two blocks side by side.
const ROWS_MOST: usize = 32;

/// Between the columns of the list, and between its blocks.
const COLUMN_GAP_MM: f64 = 4.0;
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
        self.line("Design:");
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
        let blocks = if rows > ROWS_MOST { 2 } else { 1 };
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
            let cells = std::iter::once(column.head).chain(column.cells[rows.clone()].iter().map(String::as_str));
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
    head: &'static str,
    cells: Vec<String>,
    anchor: Anchor,
}

impl Column {
    /// Words from the left.
    pub(super) const fn words(head: &'static str, cells: Vec<String>) -> Self {
        Self { head, cells, anchor: Anchor::Start }
    }

    /// Numbers from the right, with as many decimals as the longest, so that the points line up.
    pub(super) fn numbers(head: &'static str, values: &[f64], unit: &str) -> Self {
        let decimals = |v: &f64| decimal(*v, 3).split_once('.').map_or(0, |(_, after)| after.len());
        let places = values.iter().map(decimals).max().unwrap_or(0);
        let cells = values.iter().map(|v| format!("{v:.places$}{unit}")).collect();
        Self { head, cells, anchor: Anchor::End }
    }

    fn width(&self) -> f64 {
        let cells = self.cells.iter().map(String::as_str).chain([self.head]);
        cells.map(|cell| room::width(cell, LETTER_MM)).fold(0.0, f64::max)
    }
}

/// Words broken into lines at blanks, or inside a word that is longer than a line.
fn wrapped(words: &str, height: f64) -> Vec<String> {
    let fits = |line: &str| room::width(line, height) <= PARAGRAPH_MM;
    let mut lines = vec![String::new()];
    let mut push = |lines: &mut Vec<String>, joint: &str, piece: &str| {
        let last = lines.last_mut().filter(|last| fits(&format!("{last}{joint}{piece}")));
        match last {
            Some(line) if line.is_empty() => line.push_str(piece),
            Some(line) => *line += &format!("{joint}{piece}"),
            None => lines.push(piece.to_owned()),
        }
    };
    for word in words.split_whitespace() {
        if fits(word) {
            push(&mut lines, " ", word);
        } else {
            word.chars().for_each(|c| push(&mut lines, "", &c.to_string()));
        }
    }
    lines
}
