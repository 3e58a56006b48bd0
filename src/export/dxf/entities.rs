//! What is drawn.

use std::f64::consts::{PI, TAU};
use std::fmt::Write as _;

use super::layers::{Layer, pen};
use super::{CAPITALS, MODEL, PAPER, Writer};
use crate::draw::{Anchor, Item, Shape, Text};
use crate::ring::{Point, Segment};

/// Most characters of one text. Escaped they stay below the 2049 bytes that R2000 allows.
const TEXT_LIMIT: usize = 250;

/// One corner of a polyline, with the bulge of the piece that leaves it.
struct Vertex {
    at: Point,
    bulge: f64,
}

/// The corners at which a piece begins or is parted. An arc of more than half a turn is parted, so
/// that no bulge is above 1; at a full turn it would have no limit.
fn vertices(segment: &Segment) -> Vec<Vertex> {
    let Segment::Arc { radius, start, sweep } = *segment else {
        return vec![Vertex { at: segment.from(), bulge: 0.0 }];
    };
    let parts = if sweep.abs() > PI { 2 } else { 1 };
    let share = sweep / f64::from(parts);
    let bulge = libm::tan(share / 4.0);
    let at = |part| Point::polar(radius, start + share * f64::from(part));
    (0..parts).map(|part| Vertex { at: at(part), bulge }).collect()
}

impl Writer {
    pub(super) fn item(&mut self, item: &Item) {
        match &*item.placed() {
            Shape::Path { segments, closed } => self.path(item, segments, *closed),
            Shape::Patches(patches) => patches.iter().for_each(|patch| self.patch(item, patch)),
            Shape::Strokes(strokes) => strokes.iter().for_each(|[from, to]| {
                let stroke = Segment::Line { from: *from, to: *to };
                self.path(item, &[stroke], false);
            }),
            Shape::Circle { radius } => self.circle(item, *radius),
            Shape::Text(text) => self.words(item, text),
        }
    }

    /// The head of what is drawn: its layer, and line type and width where they are not the layer's.
    fn drawn(&mut self, kind: &str, item: &Item, class: &str) {
        let layer = Layer::of(item);
        let ((usual, ..), usual_width) = pen(layer.line());
        let ((line_type, ..), width) = pen(item.role.line());
        self.entity_on(kind, MODEL, layer.name());
        if line_type != usual {
            self.pair(6, line_type);
        }
        if width != usual_width {
            self.pair(370, width);
        }
        self.pair(100, class);
    }

    /// The head of an entity of a block, which is on no layer of its own.
    pub(super) fn entity(&mut self, kind: &str, owner: u32, class: &str) {
        self.entity_on(kind, owner, "0");
        self.pair(100, class);
    }

    /// What all entities begin with.
    fn entity_on(&mut self, kind: &str, owner: u32, layer: &str) {
        let handle = self.handle();
        self.pair(0, kind);
        self.owned(handle, owner);
        self.pair(100, "AcDbEntity");
        if owner == PAPER {
            self.pair(67, 1);
        }
        self.pair(8, layer);
    }

    fn path(&mut self, item: &Item, segments: &[Segment], closed: bool) {
        match segments {
            [Segment::Line { from, to }] => self.line(item, *from, *to),
            [Segment::Arc { radius, start, sweep }] if !closed => {
                self.arc(item, *radius, *start, *sweep);
            }
            _ => {
                let mut corners: Vec<_> = segments.iter().flat_map(vertices).collect();
                let end = segments.last().filter(|_| !closed);
                corners.extend(end.map(|last| Vertex { at: last.to(), bulge: 0.0 }));
                self.polyline(item, &corners, closed);
            }
        }
    }

    fn line(&mut self, item: &Item, from: Point, to: Point) {
        self.drawn("LINE", item, "AcDbLine");
        self.point(10, from);
        self.point(11, to);
    }

    /// An arc about the axis. DXF knows counter-clockwise arcs only: a clockwise one changes ends.
    fn arc(&mut self, item: &Item, radius: f64, start: f64, sweep: f64) {
        if sweep.abs() >= TAU {
            return self.circle(item, radius);
        }
        let degrees = |angle: f64| angle.to_degrees().rem_euclid(360.0);
        let (from, to) = if sweep < 0.0 { (start + sweep, start) } else { (start, start + sweep) };
        self.circle_of("ARC", item, radius);
        self.pair(100, "AcDbArc");
        self.reals([(50, degrees(from)), (51, degrees(to))]);
    }

    fn circle(&mut self, item: &Item, radius: f64) {
        self.circle_of("CIRCLE", item, radius);
    }

    fn circle_of(&mut self, kind: &str, item: &Item, radius: f64) {
        self.drawn(kind, item, "AcDbCircle");
        self.point(10, Point::default());
        self.real(40, radius);
    }

    fn patch(&mut self, item: &Item, corners: &[Point]) {
        let corners: Vec<_> = corners.iter().map(|&at| Vertex { at, bulge: 0.0 }).collect();
        self.polyline(item, &corners, true);
    }

    fn polyline(&mut self, item: &Item, corners: &[Vertex], closed: bool) {
        if corners.len() < 2 {
            return;
        }
        self.drawn("LWPOLYLINE", item, "AcDbPolyline");
        self.pair(90, corners.len());
        self.pair(70, u8::from(closed));
        // Its elevation.
        item.cut_to_mm.into_iter().for_each(|level| self.real(38, level));
        for Vertex { at, bulge } in corners {
            self.reals([(10, at.x), (20, at.y), (42, *bulge)]);
        }
    }

    fn words(&mut self, item: &Item, text: &Text) {
        let words = escaped(&text.words);
        if words.is_empty() {
            return;
        }
        let height = CAPITALS * text.height;
        let foot = Point::new(text.at.x, text.at.y - height / 2.0);
        self.drawn("TEXT", item, "AcDbText");
        self.point(10, foot);
        self.real(40, height);
        self.pair(1, words);
        // With an alignment it is the second point that counts, here at half the height: 73 = 2.
        let across = match text.anchor {
            Anchor::Start => 0,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        self.pair(72, across);
        self.point(11, text.at);
        self.pair(100, "AcDbText");
        self.pair(73, 2);
    }
}

/// Words as a value: one line of ASCII without anything that a reader would take for a code.
///
/// R2000 files are in a code page; other characters stand as `\U+` and four hexadecimal digits.
/// What needs more digits becomes a question mark: as two halves it would not survive readers that
/// take each half for a character.
fn escaped(words: &str) -> String {
    let mut out = String::new();
    for c in words.chars().filter(|c| !c.is_control()).take(TEXT_LIMIT) {
        // Two percent signs begin a code; so those in the words are kept apart.
        if out.ends_with('%') && matches!(c, '%' | '°' | 'Ø' | '±') {
            out.push(' ');
        }
        match c {
            // Signs that every reader knows by these codes, even those that do not know `\U+`.
            '°' => out += "%%d",
            'Ø' => out += "%%c",
            '±' => out += "%%p",
            // `^` and a letter is a control character, `^` and a blank the sign itself.
            '^' => out += "^ ",
            ' '..='~' if c != '\\' => out.push(c),
            // Writing to a String cannot fail.
            '\\' | '\u{a0}'..='\u{ffff}' => drop(write!(out, "\\U+{:04X}", u32::from(c))),
            _ => out.push('?'),
        }
    }
    out
}
