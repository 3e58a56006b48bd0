//! How large a drawing comes out on a sheet of paper.

use crenel_words::{Language, Message, drawing as say};

use super::sheet::paper_drawing;
use crate::analysis::Analysis;
use crate::ring::Side;

/// Margin all round, mm; what most printers can reach.
pub const MARGIN_MM: f64 = 12.0;

/// Room that the drawing leaves for title and caption, mm.
const WORDS_MM: f64 = 45.0;

/// Scales of ISO 5455 for reduction, as they are written.
const SCALES: [(f64, &str); 4] = [(1.0, "1:1"), (0.5, "1:2"), (0.2, "1:5"), (0.1, "1:10")];

/// Sizes of paper, upright.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperSize {
    /// ISO 216 A4.
    A4,
    /// ANSI A, US letter.
    Letter,
}

impl PaperSize {
    /// Width and height, mm.
    pub const fn mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// The scale of a drawing on a sheet of paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Paper mm for one mm of the ring.
    pub scale: f64,
    written: &'static str,
}

impl Fit {
    /// The largest scale of ISO 5455, 1:1 at most, at which the drawing of a ring fits.
    pub fn of(analysis: &Analysis, side: Side, size: PaperSize, language: Language) -> Self {
        let (wide, high) = size.mm();
        let room = (wide - 2.0 * MARGIN_MM, high - 2.0 * MARGIN_MM - WORDS_MM);
        let fits = |scale: f64| {
            let bounds = paper_drawing(analysis, side, scale, language).bounds;
            bounds.width() <= room.0 && bounds.height() <= room.1
        };
        let (scale, written) =
            SCALES.into_iter().find(|(scale, _)| fits(*scale)).unwrap_or(SCALES[SCALES.len() - 1]);
        Self { scale, written }
    }

    /// The scale in words, for the caption.
    pub fn words(&self) -> Message {
        match self.scale {
            1.0 => say::true_size(),
            _ => say::reduced(self.written.to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Design;

    #[test]
    fn what_fits_is_drawn_at_true_size_and_what_does_not_is_reduced() {
        let mut design = Design::default();
        let fit = |design: &Design, size| {
            Fit::of(&Analysis::of(design), Side::A, size, Language::British).scale
        };
        assert_eq!(fit(&design, PaperSize::A4), 1.0);
        assert_eq!(fit(&design, PaperSize::Letter), 1.0);
        (design.a.inner_diameter_mm, design.a.outer_diameter_mm) = (150.0, 180.0);
        assert_eq!(fit(&design, PaperSize::A4), 0.5);
        (design.a.inner_diameter_mm, design.a.outer_diameter_mm) = (400.0, 500.0);
        assert_eq!(fit(&design, PaperSize::Letter), 0.2);
    }
}
