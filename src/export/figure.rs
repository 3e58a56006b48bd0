//! A figure for a paper: a drawing at its printed size, in colour or in black and white, with a caption.

use crenel_words::{Message, Reader, export as say};

use super::letters::Letters;
use super::svg::{SvgSize, svg_file_as};
use crate::analysis::Analysis;
use crate::compare::conditions;
use crate::draw::Scene;

/// With which inks a figure is printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ink {
    /// In the colours of the drawing.
    #[default]
    Colour,
    /// In greys: each colour as light as it was.
    Black,
}

/// How a figure is written.
#[derive(Clone, Copy, Debug, Default)]
pub struct FigureStyle<'a> {
    /// Its inks.
    pub ink: Ink,
    /// The unit of its size.
    pub size: SvgSize,
    /// The outlines that its words are drawn with, if they are not to be text.
    pub letters: Option<&'a Letters>,
}

/// The drawing as a file at true size.
pub fn figure_svg(scene: &Scene, title: &str, style: FigureStyle<'_>) -> String {
    let file = svg_file_as(scene, title, style.size, style.letters);
    match style.ink {
        Ink::Colour => file,
        Ink::Black => in_greys(&file),
    }
}

/// What a caption says: what is shown, of which design, under which conditions, and where it comes from.
pub fn figure_caption(
    what: &str,
    analysis: &Analysis,
    version: &str,
    link: Option<&str>,
    reader: Reader,
) -> Vec<String> {
    let name = analysis.design.name();
    let shown = |message: Message| message.show(reader);
    let given: Vec<String> = conditions(analysis).into_iter().map(shown).collect();
    let given = given.join("; ");
    let first = say::figure_of(what.to_owned(), name.to_owned()).show(reader);
    let made = say::made_with(version.to_owned()).show(reader);
    let link = link.map(str::to_owned);
    [first, given, made].into_iter().chain(link).filter(|l| !l.is_empty()).collect()
}

/// The colours of style sheet and patterns as greys. Words that a user wrote are before and after these, and stay.
fn in_greys(file: &str) -> String {
    let begin = file.find("<style>").unwrap_or(file.len());
    let end = ["</defs>", "</style>"].into_iter().find_map(|end| file.find(end)).unwrap_or(begin);
    let (before, rest) = file.split_at(begin);
    let (styles, after) = rest.split_at(end.saturating_sub(begin));
    [before, &greyed(styles), after].concat()
}

fn greyed(styles: &str) -> String {
    let mut out = String::new();
    let mut rest = styles;
    while let Some(at) = rest.find('#') {
        let (plain, colour) = rest.split_at(at);
        out += plain;
        let digits = colour[1..].chars().take_while(char::is_ascii_hexdigit).count();
        let (own, next) = colour.split_at(1 + digits);
        out += &grey(own).unwrap_or_else(|| own.to_owned());
        rest = next;
    }
    out + rest
}

/// A grey of the same lightness; `None` for what is no colour of six digits.
fn grey(colour: &str) -> Option<String> {
    let digits = colour.strip_prefix('#').filter(|digits| digits.len() == 6)?;
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    let (red, green, blue) = (part(0)?, part(2)?, part(4)?);
    // Weights of ITU-R BT.601, in thousandths.
    let sum = 299 * u32::from(red) + 587 * u32::from(green) + 114 * u32::from(blue);
    let grey = (sum + 500) / 1000;
    Some(format!("#{grey:02x}{grey:02x}{grey:02x}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::draw::views::FACE;
    use crate::draw::{ViewOptions, printed};

    fn scene() -> Scene {
        let analysis = Analysis::of(&example());
        let frame = FACE.frame(&analysis, 1.0, 1.0, 0.03);
        FACE.draw(&analysis, &frame, &ViewOptions::default())
    }

    #[test]
    fn the_file_is_as_wide_as_the_column() {
        let file = figure_svg(&printed(&scene(), 85.0, 8.0, &[]), "Face", FigureStyle::default());
        assert!(file.contains("width=\"85mm\""), "{}", &file[..300]);
    }

    /// A figure 480 px wide has a viewBox in mm still.
    #[test]
    fn a_size_in_pixels_is_that_of_the_screen() {
        let scene = printed(&scene(), 480.0 * 25.4 / 96.0, 8.0, &[]);
        let style = FigureStyle { size: SvgSize::Pixels, ..FigureStyle::default() };
        let file = figure_svg(&scene, "Face", style);
        assert!(file.contains(" width=\"480px\"") && file.contains("viewBox=\"0 0 127 "), "{file}");
    }

    /// With outlines for all letters a file has no text, and what it says stands beside each outline.
    #[test]
    fn words_as_outlines_need_no_font() {
        let letters = Letters::read(include_str!("../../www/letters.txt"));
        let style = FigureStyle { letters: Some(&letters), ..FigureStyle::default() };
        let drawing = printed(&scene(), 85.0, 8.0, &["Ø 52 µm, “60° – 30°”".to_owned()]);
        let file = figure_svg(&drawing, "Face", style);
        assert!(!file.contains("<text"), "words are left");
        assert!(file.contains("aria-label=\"Ø 52 µm, “60° – 30°”\""));
        let foreign = printed(&scene(), 85.0, 8.0, &["歯車".to_owned()]);
        let file = figure_svg(&foreign, "Face", style);
        assert_eq!(file.matches("<text").count(), 1, "only what has no outline is text");
    }

    #[test]
    fn black_and_white_has_no_colour_and_keeps_the_words() {
        let style = FigureStyle { ink: Ink::Black, ..FigureStyle::default() };
        let file = figure_svg(&scene(), "Ring #0b5a9d", style);
        assert!(file.contains("Ring #0b5a9d"));
        let style = &file[file.find("<style>").expect("a style")..];
        let mut colours = style.match_indices('#').filter_map(|(at, _)| style.get(at + 1..at + 7));
        let grey = |c: &str| c[..2] == c[2..4] && c[2..4] == c[4..];
        let is_hex = |c: &&str| c.chars().all(|c| c.is_ascii_hexdigit());
        assert!(colours.by_ref().filter(is_hex).all(grey));
        assert_eq!(grey_of("#ffffff"), "#ffffff");
        assert_eq!(grey_of("#0b5a9d"), "#4a4a4a");
    }

    fn grey_of(colour: &str) -> String {
        grey(colour).expect("a colour")
    }

    #[test]
    fn a_caption_says_design_conditions_version_and_link() {
        let analysis = Analysis::of(&example());
        let link = "https://example.org/#1.x";
        let all = figure_caption("Face view", &analysis, "0.1.0", Some(link), Reader::default());
        let text = all.join(" ");
        for wanted in ["Face view", "Hill-climb", "Tip friction: 0.1", "Crenel 0.1.0", link] {
            assert!(text.contains(wanted), "{wanted}: {text}");
        }
    }
}
