//! What the fills of an outcome map and of a chart of chances mean.

use crenel_words::{Reader, outcome};

use super::frame::{BELOW, Frame};
use super::scene::{Anchor, Role, Scene, Shape, words_width};
use crate::ring::Point;
use crate::shift::Outcome;

/// How far what is written below a chart is from the left edge, in letter heights: 12 px.
pub(crate) const INSET: f64 = 1.0;

/// Height of a row, in letter heights.
pub(crate) const LEGEND_ROW: f64 = 1.5;

/// From this share of a letter in the width on, a legend has three columns, two, or one.
const LETTERS: [f64; 2] = [0.0172, 0.0262];

/// How many columns the legend has, with letters of this share of the width.
fn columns(letter: f64) -> usize {
    3 - LETTERS.iter().filter(|least| letter > **least).count()
}

/// How many rows the legend has, with letters of this share of the width.
pub(crate) fn legend_rows(letter: f64) -> f64 {
    f64::from(u32::try_from(Outcome::ALL.len().div_ceil(columns(letter))).unwrap_or(6))
}

/// Swatches with words below the axis of a chart, from the best outcome to the worst. A column moves to the
/// right where the words before it are long.
pub(crate) fn legend(scene: &mut Scene, frame: &Frame, reader: Reader) {
    let text = frame.text_mm;
    let left = frame.bounds.min.x + INSET * text;
    let room = frame.bounds.width() - (INSET + 0.6) * text;
    let count = columns(frame.letter());
    let words = Outcome::ALL.map(|outcome| outcome::shift(outcome).show(reader));
    let mut free = 0.0_f64;
    let begins: Vec<f64> = (0..count)
        .map(|column| {
            let share = f64::from(u32::try_from(column).unwrap_or(0));
            let begin = free.max(share * room / f64::from(u32::try_from(count).unwrap_or(1)));
            let widest = words.iter().skip(column).step_by(count);
            let widest = widest.map(|words| words_width(words)).fold(0.0, f64::max);
            free = begin + (1.9 + widest + 0.6) * text;
            begin
        })
        .collect();
    for (at, (outcome, words)) in Outcome::ALL.into_iter().zip(words).enumerate() {
        let row = f64::from(u8::try_from(at / count).unwrap_or_default());
        let x = left + begins[at % count];
        let y = -(BELOW + 0.5 + LEGEND_ROW * row) * text;
        let corners = [(0.0, -0.5), (1.4, -0.5), (1.4, 0.5), (0.0, 0.5)];
        let swatch = corners.map(|(dx, dy)| Point::new(x + dx * text, y + dy * text));
        scene.add(Role::for_outcome(outcome), Shape::Patches(vec![swatch.into()]));
        scene.polygon(Role::Border, &swatch);
        scene.text(Role::Note, Point::new(x + 1.9 * text, y), text, Anchor::Start, words);
    }
}
