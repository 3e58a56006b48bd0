//! Index positions as a program for a rotary axis, in the word address format of ISO 6983-1.
//!
//! The program turns axis A and stops; the cut is made by hand at each stop. It has no feed, no spindle and no
//! other axis, so that nothing can be cut without a person at the machine.
//!
//! Words are English and in ASCII, because controls show nothing else. A comment is in parentheses and has
//! none inside; it is broken into lines that a control shows whole.

use crenel_words::{Message, Reader, export as say};

use crate::report::cautions_short;
use crate::ring::Side;
use crate::shop::indexing::IndexSheet;
use crate::units::Angle;

/// Most characters of a comment, with its parentheses.
const COMMENT: usize = 72;

/// A program that turns axis A to the datum, then to each position, and stops after each (`M0`).
///
/// Positions are counted as on the set-up sheet: counter-clockwise from the datum, looking at the dogs. With
/// the dogs toward A+ of ISO 841 that is the plus direction of the axis.
pub fn index_nc(sheet: &IndexSheet, side: Side, title: &str) -> String {
    let show = |message: Message| message.show(Reader::default());
    let mut lines = vec!["%".to_owned()];
    let heads = [show(say::nc_head(side)), title.to_owned(), show(say::nc_direction())];
    let stop = show(say::nc_by_hand());
    let cautions = cautions_short(Reader::default());
    for text in heads.iter().chain([&stop]).chain(&cautions) {
        lines.extend(comments(text));
    }
    lines.push("G90".to_owned());
    lines.extend(turn(Angle::ZERO, &show(say::nc_datum())));
    for (name, position) in &sheet.dogs {
        lines.extend(turn(*position, name));
    }
    lines.extend(["M30", "%"].map(str::to_owned));
    lines.join("\r\n") + "\r\n"
}

/// A turn to a position with its name, and the stop after it. The number always has a decimal point: some
/// controls count one without in their least increment.
fn turn(position: Angle, name: &str) -> Vec<String> {
    // A position that would be rounded to a full turn is the datum.
    let degrees = (position.degrees() * 1e4).round() / 1e4 % 360.0;
    let name = comments(name);
    name.into_iter().chain([format!("G0 A{degrees:.4}"), "M0".to_owned()]).collect()
}

/// A text as comments of whole words; empty for an empty text.
fn comments(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in ascii(text).split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.len() + word.len() + 3 <= COMMENT => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.chars().take(COMMENT - 2).collect()),
        }
    }
    lines.into_iter().map(|line| format!("({line})")).collect()
}

/// A text in printable ASCII without signs that a control takes for its own: parentheses end a comment, `%`
/// ends a program, and `;` begins a comment elsewhere.
fn ascii(text: &str) -> String {
    let sign = |sign: char| match sign {
        '(' => "[".to_owned(),
        ')' => "]".to_owned(),
        '%' => " per cent".to_owned(),
        ';' => ",".to_owned(),
        '°' => " deg ".to_owned(),
        '–' | '—' | '−' => "-".to_owned(),
        sign if sign.is_whitespace() || sign.is_control() => " ".to_owned(),
        sign if sign.is_ascii() => sign.to_string(),
        _ => "?".to_owned(),
    };
    text.chars().map(sign).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn program(dogs: &[(&str, f64)], title: &str) -> Vec<String> {
        let dogs = dogs.iter().map(|(name, at)| ((*name).to_owned(), Angle::from_degrees(*at)));
        let sheet = IndexSheet::new(dogs.collect(), None, None);
        index_nc(&sheet, Side::A, title).lines().map(str::to_owned).collect()
    }

    #[test]
    fn every_position_is_a_turn_with_its_name_and_a_stop() {
        let lines = program(&[("A2", 60.0), ("A3 coast", 131.118_61)], "");
        let from = lines.iter().position(|line| line == "G90").expect("absolute positions");
        assert_eq!(
            lines[from + 2..],
            [
                "G0 A0.0000",
                "M0",
                "(A2)",
                "G0 A60.0000",
                "M0",
                "(A3 coast)",
                "G0 A131.1186",
                "M0",
                "M30",
                "%",
            ]
        );
        assert!(lines[..from].iter().all(|line| line == "%" || line.starts_with('(')));
    }

    #[test]
    fn just_short_of_a_full_turn_is_the_datum() {
        assert!(program(&[("A1", 359.999_99)], "").iter().all(|line| !line.contains("A360")));
    }

    /// A name cannot end its comment, nor the program, and holds no line of its own.
    #[test]
    fn no_title_and_no_name_becomes_a_word_of_the_program() {
        let nasty = "x) G1 Z-5 F100 (\r\nM3 S9000\r\n% ; ½ (";
        let lines = program(&[(nasty, 10.0)], &nasty.repeat(20));
        for line in &lines {
            assert!(line.is_ascii() && line.len() <= COMMENT, "{line}");
            let comment = line.starts_with('(') && line.ends_with(')');
            let inside = comment.then(|| &line[1..line.len() - 1]);
            assert!(inside.is_none_or(|text| !text.contains(['(', ')', '%', ';'])), "{line}");
            let word = ["%", "G90", "M0", "M30"].contains(&line.as_str());
            let turn = line.strip_prefix("G0 A").is_some_and(|a| a.parse::<f64>().is_ok());
            assert!(comment || word || turn, "{line}");
        }
        assert_eq!(lines.iter().filter(|line| line.starts_with("G0")).count(), 2);
    }
}
