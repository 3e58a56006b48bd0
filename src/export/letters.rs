//! Outlines of letters, for figures whose words are to look alike wherever they are opened.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::draw::Anchor;
use crate::units::decimal;

/// Outlines by letter, as read from `letters.txt`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Letters {
    known: BTreeMap<char, Letter>,
}

/// A letter: how far the next one is from it, and its outline, in thousandths of the type size, y up.
#[derive(Clone, Debug, PartialEq)]
struct Letter {
    advance: f64,
    steps: Vec<Step>,
}

/// A step of an outline: `m`, `l` or `q` of SVG, and its points, all from where the step before ended.
#[derive(Clone, Debug, PartialEq)]
struct Step {
    command: char,
    by: Vec<[f64; 2]>,
}

/// Decimals of a millimetre: a micrometre.
const DECIMALS: usize = 3;

/// Thousandths of the type size.
const EM: f64 = 1000.0;

impl Letters {
    /// Reads the file: its licence, an empty line, and a letter on each line. Lines that are none are left out.
    pub fn read(file: &str) -> Self {
        let letters = file.split_once("\n\n").map_or("", |(_, letters)| letters);
        Self { known: letters.lines().filter_map(letter).collect() }
    }

    /// Words as one path from their place on the base line; `None` where a letter of them is not known.
    pub(super) fn path(
        &self,
        words: &str,
        [x, y]: [f64; 2],
        size: f64,
        anchor: Anchor,
    ) -> Option<String> {
        let letters: Vec<&Letter> =
            words.chars().map(|c| self.known.get(&c)).collect::<Option<_>>()?;
        let by = size / EM;
        let wide: f64 = letters.iter().map(|letter| letter.advance * by).sum();
        let mut left = anchor.left(x, wide);
        let mut path = String::new();
        for letter in letters {
            letter.write(&mut path, [left, y], by);
            left += letter.advance * by;
        }
        Some(path)
    }
}

impl Letter {
    fn write(&self, path: &mut String, [x, y]: [f64; 2], by: f64) {
        let mut at = [0.0, 0.0];
        for Step { command, by: steps } in &self.steps {
            if *command == 'm' && at != [0.0, 0.0] {
                path.push('Z');
            }
            path.push(command.to_ascii_uppercase());
            let from = at;
            for (nth, step) in steps.iter().enumerate() {
                at = [from[0] + step[0], from[1] + step[1]];
                let gap = if nth == 0 { "" } else { " " };
                // Writing to a string cannot fail.
                let [x, y] = [x + at[0] * by, y - at[1] * by].map(|mm| decimal(mm, DECIMALS));
                let _ = write!(path, "{gap}{x} {y}");
            }
        }
        if !self.steps.is_empty() {
            path.push('Z');
        }
    }
}

/// A line of the file: a letter, its advance and its outline.
fn letter(line: &str) -> Option<(char, Letter)> {
    let mut letters = line.chars();
    let own = letters.next()?;
    let rest = letters.as_str().strip_prefix(' ')?;
    let (advance, outline) = rest.split_once(' ').unwrap_or((rest, ""));
    Some((own, Letter { advance: advance.parse().ok()?, steps: steps(outline)? }))
}

fn steps(outline: &str) -> Option<Vec<Step>> {
    let begins = outline.match_indices(char::is_alphabetic).map(|(at, _)| at);
    let ends = begins.clone().skip(1).chain([outline.len()]);
    begins.zip(ends).map(|(from, to)| step(&outline[from..to])).collect()
}

fn step(text: &str) -> Option<Step> {
    let command = text.chars().next().filter(|command| "mlq".contains(*command))?;
    let numbers = text[1..].replace('-', " -");
    let numbers: Vec<f64> =
        numbers.split_whitespace().map(|number| number.parse().ok()).collect::<Option<_>>()?;
    let wanted = if command == 'q' { 4 } else { 2 };
    (numbers.len() == wanted).then(|| Step { command, by: numbers.as_chunks::<2>().0.to_vec() })
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str =
        "A licence.\n.\nIts end.\n\n  278\nI 500 m100 0l0 700l-50-700\nbroken\nQ x m0 0\n";

    #[test]
    fn words_are_set_letter_by_letter_from_their_anchor() {
        let letters = Letters::read(FILE);
        let path = |anchor| letters.path("I I", [10.0, 20.0], 10.0, anchor);
        // Two letters of half the type size and a space of 0.278 of it are 12.78 wide.
        let start = "M11 20L11 13L10.5 20ZM18.78 20L18.78 13L18.28 20Z";
        assert_eq!(path(Anchor::Start).as_deref(), Some(start));
        assert!(path(Anchor::End).is_some_and(|path| path.starts_with("M-1.78 20")));
        assert!(path(Anchor::Middle).is_some_and(|path| path.starts_with("M4.61 20")));
    }

    /// Both points of a curve count from its start, as in SVG.
    #[test]
    fn a_curve_has_its_control_point_where_svg_has_it() {
        let letters = Letters::read("A licence.\n\nD 600 m100 0q400 0 400 350l-400 350\n");
        let path = letters.path("D", [0.0, 0.0], 1000.0, Anchor::Start);
        assert_eq!(path.as_deref(), Some("M100 0Q500 0 500 -350L100 -700Z"));
    }

    #[test]
    fn words_with_a_letter_that_is_not_known_stay_words() {
        let letters = Letters::read(FILE);
        assert_eq!(letters.path("I Q", [0.0; 2], 1.0, Anchor::Start), None);
        assert_eq!(Letters::read("").path("I", [0.0; 2], 1.0, Anchor::Start), None);
    }

    /// Every letter of every sentence that a drawing can have is in the file of the page.
    #[test]
    fn the_file_has_every_letter_of_the_catalogue_of_drawings() {
        let letters = Letters::read(include_str!("../../www/letters.txt"));
        assert!(letters.known.len() > 350, "{}", letters.known.len());
        let subjects = [crenel_words::drawing::ENTRIES, crenel_words::export::ENTRIES];
        for entry in subjects.into_iter().flatten() {
            let missing: Vec<char> =
                entry.text.english.chars().filter(|c| !letters.known.contains_key(c)).collect();
            assert!(missing.is_empty(), "{missing:?} of {}", entry.text.key);
        }
    }
}
