//! The dogs at the mean radius, developed onto a flat: B below, A above, as deep in each other as asked.

mod depth;
mod handles;
mod strip;

use std::f64::consts::TAU;

use crenel_words::{Reader, drawing as say};

use self::handles::handles;
use self::strip::Strip;
use crate::analysis::Analysis;
use crate::draw::frame::{Canvas, Frame, drawable, mean_radius};
use crate::draw::options::{RingState, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Item, Role, Scene, Shape, clip, words_width};
use crate::draw::view::{Follows, View};
use crate::ring::{Dog, FlankSide, Point, Side};
use crate::units::Quantity;

/// The developed view.
pub static UNROLLED: View = View {
    key: "unrolled",
    file_name: "unrolled",
    title: "Developed view",
    caption: "The dogs at the mean radius, laid out flat, with heights and widths to one scale.",
    shape: 0.35,
    follows: Follows::Shift,
    keeps_handles: false,
    shows_states: true,
    frame,
    draw,
    handles,
    ..View::BASE
};

/// From web to web or, for a whole shift, from tip level on. Heights have the scale of widths, so that a flank leans as
/// it does on the part, wherever the view is drawn. Where that needs more height than there is, all is drawn smaller.
fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let overlap_mm = analysis.drawn_overlap_mm();
    let overlap_mm = if canvas.whole_shift { overlap_mm.min(0.0) } else { overlap_mm };
    let radius_mm = mean_radius(analysis);
    let turn = TAU * radius_mm;
    let [a, b] = Side::BOTH.map(|s| drawable(analysis.ring(s).tallest_mm(), 0.5));
    // With room to draw the rings apart.
    let stack = (a + b - overlap_mm).clamp(a.max(b), 3.0 * (a + b));
    let least = 0.15 * canvas.shape;
    let width = turn.max(stack / (canvas.shape - AROUND * canvas.letter).max(least));
    let text_mm = width * canvas.letter;
    let spare = (width * canvas.shape - stack - AROUND * text_mm).max(0.0) / 2.0;
    let aside = (width - turn) / 2.0;
    let min = Point::new(-aside, -(WEB + SCALES) * text_mm - spare);
    let max = Point::new(turn + aside, stack + WEB * text_mm + spare);
    Frame { radius_mm, ..Frame::new(Bounds { min, max }, text_mm) }
}

/// Thickness of a web, for the marks and the handles on it, in letter heights.
const WEB: f64 = 1.9;

/// Height of the row with the scale bar below the strip, in letter heights.
const SCALES: f64 = 1.8;

/// All that is above and below the dogs, in letter heights.
const AROUND: f64 = 2.0 * WEB + SCALES;

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
    scale_bar(&mut scene, frame, options.reader);
    strip.depth(&mut scene, options.reader);
    scene.choose(options.chosen);
    scene
}

/// The level of the row with the scale bar.
fn scale_level(frame: &Frame) -> f64 {
    -(WEB + SCALES / 2.0) * frame.text_mm
}

/// A bar of a round length, and that it counts for heights, too.
fn scale_bar(scene: &mut Scene, frame: &Frame, reader: Reader) {
    let (text, turn) = (frame.text_mm, frame.across(TAU));
    let scale = Quantity::Length.scale(reader.units);
    let y = scale_level(frame);
    let long = round_below(0.16 * turn / scale) * scale;
    let [from, to] = [Point::new(0.6 * text, y), Point::new(0.6 * text + long, y)];
    scene.line(Role::Dimension, &[from, to]);
    for end in [from, to] {
        let tick = [-0.35, 0.35].map(|by| Point::new(end.x, end.y + by * text));
        scene.line(Role::Dimension, &tick);
    }
    let words = Quantity::Length.show(long, reader.units);
    scene.text(Role::Note, Point::new(to.x + 0.5 * text, y), text, Anchor::Start, words);
    let words = say::true_proportions().show(reader);
    scene.text(Role::Note, Point::new(turn - 0.4 * text, y), text, Anchor::End, words);
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

    /// The name of a dog, near its web and so away from those of the other ring. Where one is there already, it is left
    /// out.
    fn name(&self, scene: &mut Scene, side: Side, dog: &Dog) {
        let text = self.frame.text_mm;
        let words = format!("{}{}", side.letter(), dog.place + 1);
        let half = words_width(&words) / 2.0 * text;
        // Where the strip is narrower than the name, the left end holds.
        let x = self.middle(side, dog).min(self.frame.across(TAU) - half).max(half);
        let level = self.level(side, (dog.height_mm * 0.45).min(0.6 * text));
        let is_near = |item: &Item| match &item.shape {
            Shape::Text(other) => {
                let apart = half + words_width(&other.words) / 2.0 * text;
                (other.at.x - x).abs() < apart && (other.at.y - level).abs() < 0.95 * text
            }
            _ => false,
        };
        if !scene.items.iter().any(is_near) {
            let name = scene.text(Role::Label, Point::new(x, level), text, Anchor::Middle, words);
            name.dog(side, dog.place);
        }
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

    /// As much of the web as its marks need.
    fn web(&self, scene: &mut Scene, side: Side) {
        let (level, turn) = (self.level(side, 0.0), self.frame.across(TAU));
        let away = if side == Side::A { WEB } else { -WEB };
        let edge = level + away * self.frame.text_mm;
        let corners = [(0.0, level), (turn, level), (turn, edge), (0.0, edge)];
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;

    #[test]
    fn heights_and_widths_have_one_scale_wherever_the_view_is_drawn() {
        let analysis = Analysis::of(&example());
        let turn = TAU * mean_radius(&analysis);
        let tall: f64 = Side::BOTH.iter().map(|side| analysis.ring(*side).tallest_mm()).sum();
        for (px, shape) in [(370.0, 0.41), (500.0, 0.6), (684.0, 0.16), (1052.0, 0.5)] {
            for frame_of in [View::frame, View::frame_of_shift] {
                let frame = frame_of(&UNROLLED, &analysis, px, shape, 12.0);
                let strip = Strip::at(&analysis, &frame, analysis.pose());
                let apart = strip.level(Side::A, 0.0) - strip.level(Side::B, 0.0);
                assert!((apart - (tall - analysis.overlap_mm())).abs() < 1e-9, "{px}");
                assert!((frame.across(TAU) - turn).abs() < 1e-9, "{px}");
                // It fits the room that it has.
                let Bounds { min, max } = frame.bounds;
                assert!(
                    (frame.bounds.height() / frame.bounds.width() - shape).abs() < 1e-6,
                    "{px}"
                );
                assert!(min.x <= 1e-9 && max.x >= turn - 1e-9, "{px}");
            }
        }
    }
}
