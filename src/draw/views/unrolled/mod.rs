//! The dogs at the mean radius, developed onto a flat: B below, A above, as deep in each other as asked.

mod handles;
mod strip;

use std::f64::consts::TAU;

use crenel_words::{Reader, drawing as say};

use self::handles::handles;
use self::strip::Strip;
use crate::analysis::Analysis;
use crate::draw::frame::{Canvas, Frame, drawable, mean_radius};
use crate::draw::options::{RingState, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Role, Scene, clip, words_width};
use crate::draw::view::{Follows, View};
use crate::ring::{Dog, FlankSide, Point, Side};
use crate::units::{Quantity, decimal};

/// The developed view.
pub static UNROLLED: View = View {
    key: "unrolled",
    file_name: "unrolled",
    title: "Developed view",
    caption: "The dogs at the mean radius, laid out flat. Heights are drawn to a larger scale than widths.",
    shape: 0.35,
    follows: Follows::Shift,
    keeps_handles: false,
    shows_states: true,
    frame,
    draw,
    handles,
    ..View::BASE
};

/// From web to web or, for a whole shift, from tip level on.
fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let overlap_mm = analysis.drawn_overlap_mm();
    let overlap_mm = if canvas.whole_shift { overlap_mm.min(0.0) } else { overlap_mm };
    let radius_mm = mean_radius(analysis);
    let width = TAU * radius_mm;
    let [a, b] = Side::BOTH.map(|s| drawable(analysis.ring(s).tallest_mm(), 0.5));
    let text_mm = width * canvas.letter;
    // With room to draw the rings apart; handles and marks lie on the webs.
    let stack = (a + b - overlap_mm).clamp(a.max(b), 3.0 * (a + b));
    let paper = (width * canvas.shape - (5.5 + SCALES) * text_mm).max(width * 0.05);
    let stretch = paper / (stack + 0.15 * (a + b));
    let min = Point::new(0.0, -(2.0 + SCALES) * text_mm);
    let max = Point::new(width, paper + 3.5 * text_mm);
    Frame { stretch, radius_mm, ..Frame::new(Bounds { min, max }, text_mm) }
}

/// Height of the row of scale bars below the strip, in letter heights.
const SCALES: f64 = 2.6;

/// Lengths along the shaft are stretched by the frame.
fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let strip = Strip::at(analysis, frame, options.pose(analysis));
    for side in Side::BOTH {
        strip.web(&mut scene, side);
        if options.state == RingState::Both {
            strip.removed(&mut scene, side);
        }
        strip.dogs(&mut scene, side);
        strip.datum(&mut scene, side);
    }
    scales(&mut scene, frame, options.reader);
    scene.choose(options.chosen);
    scene
}

/// A bar of a round length for each direction, and how much larger heights are drawn than widths.
fn scales(scene: &mut Scene, frame: &Frame, reader: Reader) {
    let (text, units) = (frame.text_mm, reader.units);
    let scale = Quantity::Length.scale(units);
    let y = frame.bounds.min.y + SCALES / 2.0 * text;
    let shown = |mm: f64| Quantity::Length.show(mm, units);
    let wide_mm = round_below(0.16 * frame.bounds.width() / scale) * scale;
    let left = frame.bounds.min.x + 0.6 * text;
    let mut bar = |ends: [Point; 2], across: [f64; 2]| {
        scene.line(Role::Dimension, &ends);
        for end in ends {
            let tick =
                [-1.0, 1.0].map(|by| Point::new(end.x + by * across[0], end.y + by * across[1]));
            scene.line(Role::Dimension, &tick);
        }
    };
    bar([Point::new(left, y), Point::new(left + wide_mm, y)], [0.0, 0.35 * text]);
    let high_mm = round_below(1.9 * text / frame.stretch / scale) * scale;
    let (wide_words, high_words) = (shown(wide_mm), shown(high_mm));
    let at = left + wide_mm + 0.5 * text;
    let x = at + (words_width(&wide_words) + 1.6) * text;
    let beside = Point::new(x + 0.7 * text, y);
    let corner = Point::new(frame.bounds.max.x - 0.4 * text, y);
    let factor = decimal((frame.stretch * 10.0).round() / 10.0, 1);
    let words = say::times_height(factor).show(reader);
    // Without room for both, the factor tells what the bar of heights would.
    let taken = (words_width(&high_words) + words_width(&words) + 0.8) * text;
    if beside.x + taken < corner.x {
        let half = high_mm * frame.stretch / 2.0;
        bar([Point::new(x, y - half), Point::new(x, y + half)], [0.35 * text, 0.0]);
        scene.text(Role::Note, beside, text, Anchor::Start, high_words);
    }
    scene.text(Role::Note, Point::new(at, y), text, Anchor::Start, wide_words);
    scene.text(Role::Note, corner, text, Anchor::End, words);
}

/// The largest of 1, 2 and 5 times a power of ten that is no larger than a number.
fn round_below(number: f64) -> f64 {
    let mut decade = 1e-4;
    while decade * 10.0 <= number {
        decade *= 10.0;
    }
    [5.0, 2.0, 1.0].into_iter().map(|step| step * decade).find(|at| *at <= number).unwrap_or(decade)
}

impl Strip<'_> {
    fn outline(&self, side: Side, dog: &Dog) -> Vec<Point> {
        let (edge, height) = (dog.edge_break_mm, dog.height_mm);
        let at = |flank: FlankSide, across: f64, from_tip: f64| {
            let inward = self.flank(side, dog, flank, from_tip);
            let inward = inward - inward.signum() * across;
            Point::new(inward, self.level(side, height - from_tip))
        };
        let mut points = vec![at(FlankSide::Drive, 0.0, height)];
        for flank in FlankSide::BOTH {
            let mut corner = vec![at(flank, 0.0, edge), at(flank, edge, 0.0)];
            if edge == 0.0 {
                corner.truncate(1);
            }
            if flank == FlankSide::Coast {
                corner.reverse();
            }
            points.extend(corner);
        }
        points.push(at(FlankSide::Coast, 0.0, height));
        points
    }

    fn dogs(&self, scene: &mut Scene, side: Side) {
        let ring = self.ring(side);
        let named = ring.dogs.len() <= 16;
        for dog in &ring.dogs {
            let outline = self.outline(side, dog);
            self.repeat(self.middle(side, dog), |shift| {
                let points = clip(&outline, shift, self.frame.across(TAU));
                if points.len() > 2 {
                    scene.polygon(Role::Section, &points).dog(side, dog.place);
                }
            });
            if named {
                self.name(scene, side, dog);
            }
        }
    }

    fn name(&self, scene: &mut Scene, side: Side, dog: &Dog) {
        let room = self.frame.text_mm;
        // Where the strip is narrower than the name, the left end holds.
        let x = self.middle(side, dog).min(self.frame.across(TAU) - room).max(room);
        let at = Point::new(x, self.level(side, dog.height_mm * 0.45));
        let words = format!("{}{}", side.letter(), dog.place + 1);
        scene.text(Role::Label, at, self.frame.text_mm, Anchor::Middle, words).dog(side, dog.place);
    }

    /// What was cut off, in phantom lines and hatched both ways.
    fn removed(&self, scene: &mut Scene, side: Side) {
        for found in &self.analysis.found[side].dogs {
            let now = self.ring(side).at_place(found.place);
            for part in self.cut_parts(side, found, now) {
                self.repeat(self.middle(side, found), |shift| {
                    let points = clip(&part, shift, self.frame.across(TAU));
                    if points.len() > 2 {
                        let apart = 0.45 * self.frame.text_mm;
                        scene.cross_hatch(&points, apart).on_ring(side);
                        scene.polygon(Role::Removed, &points).dog(side, found.place);
                    }
                });
            }
        }
    }

    /// The top of a dog that was cut down, or all of it, and strips along flanks that were moved.
    fn cut_parts(&self, side: Side, found: &Dog, now: Option<&Dog>) -> Vec<[Point; 4]> {
        let left = now.map_or(0.0, |d| d.height_mm);
        let corner = |dog: &Dog, flank, from_web: f64| {
            let x = self.flank(side, dog, flank, dog.height_mm - from_web);
            Point::new(x, self.level(side, from_web))
        };
        let mut parts = Vec::new();
        if found.height_mm - left > 1e-9 {
            let [drive, coast] = FlankSide::BOTH;
            let (top, foot) = (found.height_mm, left);
            parts.push(
                [(drive, foot), (drive, top), (coast, top), (coast, foot)]
                    .map(|(flank, level)| corner(found, flank, level)),
            );
        }
        let strips = now.into_iter().flat_map(|now| {
            FlankSide::BOTH.map(|flank| {
                [(found, 0.0), (found, left), (now, left), (now, 0.0)]
                    .map(|(dog, level)| corner(dog, flank, level))
            })
        });
        parts.extend(strips.filter(|[a, b, c, d]| (b.x - c.x).abs().max((a.x - d.x).abs()) > 1e-9));
        parts
    }

    /// The web is drawn up to the edge of the paper.
    fn web(&self, scene: &mut Scene, side: Side) {
        let bounds = &self.frame.bounds;
        let level = self.level(side, 0.0);
        let edge = match side {
            Side::A => bounds.max.y.max(level),
            Side::B => bounds.min.y + SCALES * self.frame.text_mm,
        };
        let corners = [
            (bounds.min.x, level),
            (bounds.max.x, level),
            (bounds.max.x, edge),
            (bounds.min.x, edge),
        ];
        scene.polygon(Role::Web, &corners.map(|(x, y)| Point::new(x, y))).on_ring(side);
        scene.line(Role::Rim, &corners.map(|(x, y)| Point::new(x, y))[..2]).on_ring(side);
    }

    fn datum(&self, scene: &mut Scene, side: Side) {
        let direction = self.turn.direction(side, crate::units::Angle::ZERO);
        let x = self.frame.across(direction.rem_euclid(TAU));
        let (size, out) = (self.frame.text_mm, if side == Side::A { 1.0 } else { -1.0 });
        let level = self.level(side, 0.0);
        let points = [(0.0, 0.0), (-0.5, 1.1), (0.5, 1.1)];
        let points = points.map(|(dx, dy)| Point::new(x + dx * size, level + out * dy * size));
        scene.polygon(Role::Datum, &points).on_ring(side);
    }

    /// Draws at the place itself and once more on either end of the turn.
    fn repeat(&self, middle: f64, mut draw: impl FnMut(f64)) {
        let turn = self.frame.across(TAU);
        [middle - turn, middle, middle + turn].into_iter().for_each(&mut draw);
    }
}
