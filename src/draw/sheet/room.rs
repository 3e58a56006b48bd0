//! How much room words take, and whether it is free.

use std::f64::consts::TAU;

use crate::draw::scene::Bounds;
use crate::draw::scene::{Role, Scene, Shape, Text};
use crate::ring::{Point, Segment};

/// Height of capitals in parts of the type size.
const CAPITALS: f64 = 0.75;

/// Free paper wanted round words, mm.
const CLEAR_MM: f64 = 0.7;

/// Lines are felt for at points this far apart, mm; words are at least three times as high.
const STEP_MM: f64 = 0.4;

/// Most points on one line, whatever its length.
const STEPS_MOST: f64 = 4000.0;

/// What is longer than a kilometre, or no number, is no line on any paper and is not felt along, mm.
const NO_LINE_MM: f64 = 1e6;

/// Width of words, on the wide side: every reader has its own font.
pub(super) fn width(words: &str, height: f64) -> f64 {
    words.chars().map(letter).sum::<f64>() * height
}

/// Width of one letter in parts of the type size, after the wider of the usual fonts.
fn letter(c: char) -> f64 {
    match c {
        'M' | 'W' | 'm' | 'w' | '@' | '%' => 1.05,
        'A'..='Z' => 0.76,
        ' ' | '.' | ',' | ':' | ';' | '\'' | 'i' | 'j' | 'l' | '|' => 0.42,
        'a'..='z' => 0.64,
        _ if c.is_ascii() => 0.68,
        _ if c < '\u{1100}' => 0.9,
        _ => 1.4,
    }
}

/// The rectangle that a text covers.
pub(super) fn cover(text: &Text) -> Bounds {
    let (across, up) = (width(&text.words, text.height), CAPITALS * text.height / 2.0);
    let left = text.anchor.left(text.at.x, across);
    Bounds { min: Point::new(left, text.at.y - up), max: Point::new(left + across, text.at.y + up) }
}

/// Writes words at the first of some places that is free, or at the last where all are taken.
pub(super) fn place(scene: &mut Scene, role: Role, places: &[Text]) {
    let free = places.iter().find(|text| is_free(scene, text));
    if let Some(text) = free.or(places.last()) {
        scene.add(role, Shape::Text(text.clone()));
    }
}

/// Whether no line and no other words come near a text.
pub(super) fn is_free(scene: &Scene, text: &Text) -> bool {
    let room = grown(cover(text), CLEAR_MM);
    scene.items.iter().all(|item| is_outside(&item.shape, &room))
}

fn is_outside(shape: &Shape, room: &Bounds) -> bool {
    match shape {
        Shape::Path { segments, .. } => segments.iter().all(|segment| passes(segment, room)),
        // Hatching leaves words out; see there.
        Shape::Patches(_) | Shape::Strokes(_) => true,
        Shape::Circle { radius } => {
            let full = Segment::Arc { radius: *radius, start: 0.0, sweep: TAU };
            passes(&full, room)
        }
        Shape::Text(other) => is_apart(&cover(other), room),
    }
}

/// Whether a piece stays out of a rectangle. Most are far from it, and are not felt along.
fn passes(segment: &Segment, room: &Bounds) -> bool {
    let far = match *segment {
        Segment::Line { from, to } => {
            from.x.max(to.x) < room.min.x
                || from.x.min(to.x) > room.max.x
                || from.y.max(to.y) < room.min.y
                || from.y.min(to.y) > room.max.y
        }
        Segment::Arc { radius, .. } => {
            let near = |low: f64, high: f64| low.max(-high).max(0.0);
            let wide = |low: f64, high: f64| low.abs().max(high.abs());
            let (x, y) = ((room.min.x, room.max.x), (room.min.y, room.max.y));
            let nearest = Point::new(near(x.0, x.1), near(y.0, y.1)).radius();
            let farthest = Point::new(wide(x.0, x.1), wide(y.0, y.1)).radius();
            radius < nearest || radius > farthest
        }
    };
    far || points(segment).all(|p| !contains(room, p))
}

/// Points along a piece, close enough together that no word slips between them.
fn points(segment: &Segment) -> impl Iterator<Item = Point> + use<> {
    // More than a full turn goes over the same places again.
    let segment = match *segment {
        Segment::Arc { radius, start, sweep } => {
            Segment::Arc { radius, start, sweep: sweep.clamp(-TAU, TAU) }
        }
        line @ Segment::Line { .. } => line,
    };
    let length = match segment {
        Segment::Line { from, to } => from.distance(to),
        Segment::Arc { radius, sweep, .. } => (radius * sweep).abs(),
    };
    let steps =
        if length < NO_LINE_MM { (length / STEP_MM).ceil().clamp(1.0, STEPS_MOST) } else { 1.0 };
    let share = move |step: u16| f64::from(step) / steps;
    (0..).map(share).take_while(|share| *share <= 1.0).map(move |share| match segment {
        Segment::Line { from, to } => {
            Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y))
        }
        Segment::Arc { radius, start, sweep } => Point::polar(radius, start + share * sweep),
    })
}

/// What a scene covers, words included; nothing else may be on the paper.
pub(super) fn extent(scene: &Scene) -> Bounds {
    let far = Point::new(f64::INFINITY, f64::INFINITY);
    let none = Bounds { min: far, max: Point::new(-far.x, -far.y) };
    scene.items.iter().map(|item| shape_extent(&item.shape)).fold(none, union)
}

fn shape_extent(shape: &Shape) -> Bounds {
    let around = |p: Point| Bounds { min: p, max: p };
    let none = around(Point::default());
    match shape {
        Shape::Path { segments, .. } => {
            segments.iter().flat_map(points).map(around).reduce(union).unwrap_or(none)
        }
        Shape::Patches(patches) => {
            patches.iter().flatten().copied().map(around).reduce(union).unwrap_or(none)
        }
        Shape::Strokes(strokes) => {
            strokes.iter().flatten().copied().map(around).reduce(union).unwrap_or(none)
        }
        Shape::Circle { radius } => grown(none, *radius),
        Shape::Text(text) => cover(text),
    }
}

fn union(a: Bounds, b: Bounds) -> Bounds {
    Bounds {
        min: Point::new(a.min.x.min(b.min.x), a.min.y.min(b.min.y)),
        max: Point::new(a.max.x.max(b.max.x), a.max.y.max(b.max.y)),
    }
}

/// A rectangle with a margin all round.
pub(super) const fn grown(b: Bounds, by: f64) -> Bounds {
    Bounds {
        min: Point::new(b.min.x - by, b.min.y - by),
        max: Point::new(b.max.x + by, b.max.y + by),
    }
}

fn contains(b: &Bounds, p: Point) -> bool {
    (b.min.x..=b.max.x).contains(&p.x) && (b.min.y..=b.max.y).contains(&p.y)
}

fn is_apart(a: &Bounds, b: &Bounds) -> bool {
    a.max.x < b.min.x || b.max.x < a.min.x || a.max.y < b.min.y || b.max.y < a.min.y
}
