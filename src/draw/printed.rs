//! A drawing at the size at which it is printed, with a caption below it.

use super::scene::{Anchor, Bounds, Item, Role, Scene, Shape, Text, words_width, wrapped};
use crate::ring::{Point, Segment};

/// Millimetres in a typographic point of a desktop program.
pub const MM_PER_POINT: f64 = 25.4 / 72.0;

/// From one line of a caption to the next, in letter heights.
const LINE: f64 = 1.35;

/// The drawing made so wide, in mm, with lines of caption below it in letters of so many points. It should have been laid
/// out for letters of that share of its width. Its height is a whole number of points, as that of a page of a PDF is.
pub fn printed(scene: &Scene, width_mm: f64, letter_pt: f64, caption: &[String]) -> Scene {
    let by = width_mm / scene.bounds.width();
    let text = letter_pt * MM_PER_POINT;
    let point = |p: Point| Point::new(p.x * by, p.y * by);
    let bounds = Bounds { min: point(scene.bounds.min), max: point(scene.bounds.max) };
    let room = width_mm / text - 1.0;
    let lines: Vec<String> = caption
        .iter()
        .flat_map(|words| wrapped(words, room))
        .flat_map(|l| broken(l, room))
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "lines are few")]
    let deep = if lines.is_empty() { 0.0 } else { (lines.len() as f64 + 0.5) * LINE * text };
    let high = bounds.height() + deep;
    let spare = (high / MM_PER_POINT - 1e-6).ceil() * MM_PER_POINT - high;
    let min = Point::new(bounds.min.x, bounds.min.y - deep - spare);
    let mut out = Scene::new(Bounds { min, max: bounds.max });
    out.items = scene.items.iter().map(|item| scaled(item, by)).collect();
    let mut y = bounds.min.y - LINE * text;
    for line in lines {
        out.text(Role::Note, Point::new(min.x + text / 2.0, y), text, Anchor::Start, line);
        y -= LINE * text;
    }
    out
}

/// A line that is too long for its room, as a link is, in several.
fn broken(line: String, room: f64) -> Vec<String> {
    if words_width(&line) <= room {
        return vec![line];
    }
    let mut lines = vec![String::new()];
    for letter in line.chars() {
        let full = lines.last().is_some_and(|last| words_width(last) + words_width("m") > room);
        if full {
            lines.push(String::new());
        }
        if let Some(last) = lines.last_mut() {
            last.push(letter);
        }
    }
    lines
}

/// An item that is so many times as large, about the origin.
fn scaled(item: &Item, by: f64) -> Item {
    let point = |p: &Point| Point::new(p.x * by, p.y * by);
    let segment = |segment: &Segment| match *segment {
        Segment::Line { from, to } => Segment::Line { from: point(&from), to: point(&to) },
        Segment::Arc { radius, start, sweep } => Segment::Arc { radius: radius * by, start, sweep },
    };
    let shape = match &item.shape {
        Shape::Path { segments, closed } => {
            Shape::Path { segments: segments.iter().map(segment).collect(), closed: *closed }
        }
        Shape::Patches(all) => {
            Shape::Patches(all.iter().map(|patch| patch.iter().map(point).collect()).collect())
        }
        Shape::Strokes(all) => {
            Shape::Strokes(all.iter().map(|[from, to]| [point(from), point(to)]).collect())
        }
        Shape::Circle { radius } => Shape::Circle { radius: radius * by },
        Shape::Text(text) => {
            Shape::Text(Text { at: point(&text.at), height: text.height * by, ..text.clone() })
        }
    };
    Item { shape, ..item.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::example;
    use crate::draw::ViewOptions;
    use crate::draw::views::VIEWS;

    /// The letters of a drawing have the points asked for, and the drawing its width.
    #[test]
    fn every_view_has_the_width_and_the_letters_asked_for() {
        let analysis = Analysis::of(&example());
        for (width, points) in [(85.0, 7.0), (120.0, 9.0), (175.0, 12.0)] {
            let letter = points * MM_PER_POINT / width;
            for view in VIEWS.iter().filter(|view| view.is_of_pair()) {
                let frame = view.frame(&analysis, 1.0, view.shape, letter);
                let scene = view.draw(&analysis, &frame, &ViewOptions::default());
                let out = printed(&scene, width, points, &["A caption.".to_owned()]);
                assert!((out.bounds.width() - width).abs() < 1e-9, "{view:?}");
                let high = out.bounds.height() / MM_PER_POINT;
                assert!((high - high.round()).abs() < 1e-6, "{view:?}: {high} points");
                let heights = out.items.iter().filter_map(|item| match &item.shape {
                    Shape::Text(text) => Some(text.height),
                    _ => None,
                });
                let least = heights.fold(f64::INFINITY, f64::min);
                assert!(least > 0.8 * points * MM_PER_POINT, "{view:?}: {least}");
            }
        }
    }

    #[test]
    fn a_caption_stays_within_the_width() {
        let scene = Scene::new(Bounds { min: Point::new(0.0, 0.0), max: Point::new(10.0, 5.0) });
        let link = format!("https://example.org/#1.{}", "x7".repeat(150));
        let out = printed(&scene, 85.0, 7.0, &["Some words of a caption ".repeat(9), link]);
        let texts: Vec<_> = out
            .items
            .iter()
            .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text) } else { None })
            .collect();
        assert!(texts.len() > 6);
        for text in texts {
            assert!(words_width(&text.words) * text.height <= 85.0, "{}", text.words);
            assert!(text.at.y > out.bounds.min.y && text.at.y < 0.0);
        }
    }
}
