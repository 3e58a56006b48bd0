//! The phase map: blocked phases over overlap. Phase runs across, overlap downwards.

use std::collections::HashSet;
use std::f64::consts::TAU;

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;

use crate::design::SettingField;
use crate::draw::frame::{Canvas, Frame, drawable, mean_radius};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Bounds, Role, Scene, Shape, clip};
use crate::draw::view::{Follows, View};
use crate::fields::{FieldId, Slot};
use crate::model::{PairAnalysis, Pose};
use crate::pair::{Arc, Block, Edges};
use crate::ring::{FlankSide, Point, Side};
use crate::shift::Leg;
use crate::units::{DisplayUnits, Quantity};

/// The phase map with the state of the rings and the way of the shift.
pub static MAP: View = View {
    key: "map",
    file_name: "phase-map",
    title: "Phase map",
    caption: "[Grey|Gray]: blocked by a dog. Across: phase. Down: overlap. \
              Drag the cross to try another place; the curve is one shift from its phase.",
    shape: 0.4,
    follows: Follows::Shift,
    press_holds_all: true,
    frame,
    draw,
    handles,
    ..View::BASE
};

/// How deep the map goes: until a tip meets a web.
fn map_depth(analysis: &Analysis) -> f64 {
    let [a, b] = Side::BOTH.map(|s| analysis.ring(s).tallest_mm());
    drawable(a.min(b), 0.5)
}

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let radius_mm = mean_radius(analysis);
    let width = TAU * radius_mm;
    let text_mm = width * canvas.letter;
    let deepest = map_depth(analysis);
    // An overlap asked for outside the map is shown as far as it still leaves room for the map.
    let clearance = (0.2 * deepest - analysis.overlap_mm()).clamp(0.2 * deepest, deepest);
    let paper = (width * canvas.shape - 3.0 * text_mm).max(width * 0.05);
    let stretch = paper / (deepest + clearance);
    let min = Point::new(0.0, -deepest * stretch - 1.5 * text_mm);
    let max = Point::new(width, clearance * stretch + 1.5 * text_mm);
    Frame { stretch, radius_mm, ..Frame::new(Bounds { min, max }, text_mm) }
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Some(pair) = &analysis.pair else { return scene };
    let deepest = map_depth(analysis);
    web(&mut scene, frame, deepest);
    blocked(&mut scene, pair, frame, deepest);
    levels(&mut scene, pair, frame, options.reader);
    windows(&mut scene, pair, frame);
    if let Some(shift) = &pair.shift {
        way(&mut scene, &shift.attempt.legs, frame);
    }
    state(&mut scene, analysis, frame, options.pose);
    held(&mut scene, pair, frame, options.reader.units);
    scene
}

/// Below this depth the tips would be in the web.
fn web(scene: &mut Scene, frame: &Frame, deepest: f64) {
    let bounds = &frame.bounds;
    let top = frame.down(deepest);
    let corners = [
        (bounds.min.x, top),
        (bounds.max.x, top),
        (bounds.max.x, bounds.min.y),
        (bounds.min.x, bounds.min.y),
    ];
    scene.polygon(Role::Web, &corners.map(|(x, y)| Point::new(x, y)));
}

fn blocked(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame, deepest: f64) {
    let turn = frame.across(TAU);
    let mut seen = HashSet::new();
    let mut patches = Vec::new();
    for block in pair.mesh.blocks.iter().filter(|b| b.starts_mm < deepest) {
        let outline = region(block, frame, deepest);
        // Equal rings block the same phases many times over; one drawing of it is enough.
        if !seen.insert(fingerprint(&outline, frame.across(block.phase.radians()))) {
            continue;
        }
        let middle = frame.across(block.phase.radians());
        for shift in [middle - turn, middle, middle + turn] {
            let points = clip(&outline, shift, turn);
            if points.len() > 2 {
                patches.push(points);
            }
        }
    }
    scene.add(Role::Blocked, Shape::Patches(patches));
}

/// A region's outline to a thousandth of a millimetre of paper.
fn fingerprint(outline: &[Point], middle: f64) -> Vec<i64> {
    #[expect(clippy::cast_possible_truncation, reason = "saturates, which only costs a drawing")]
    let round = |v: f64| (v * 1000.0).round() as i64;
    let ends = outline.iter().flat_map(|p| [round(p.x), round(p.y)]);
    std::iter::once(round(middle)).chain(ends).collect()
}

/// The phases and overlaps one pair of dogs blocks, about its middle, counter-clockwise.
fn region(block: &Block, frame: &Frame, deepest: f64) -> Vec<Point> {
    let mut depths = vec![block.starts_mm, block.edge_ends_mm().min(deepest), deepest];
    depths.dedup();
    let at = |side: FlankSide, x: f64| {
        let reach = block.reach(side, x, Edges::Broken).max(0.0);
        Point::new(-side.sign() * frame.across(reach), frame.down(x))
    };
    let left = depths.iter().map(|&x| at(FlankSide::Coast, x));
    let right = depths.iter().rev().map(|&x| at(FlankSide::Drive, x));
    left.chain(right).collect()
}

fn levels(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame, reader: Reader) {
    let bounds = frame.bounds;
    let full = pair.engagement.full_depth_mm;
    for (overlap, says) in [(0.0, say::tips_level()), (full, say::full_depth(full))] {
        let y = frame.down(overlap);
        scene.line(Role::Level, &[Point::new(bounds.min.x, y), Point::new(bounds.max.x, y)]);
        let at = Point::new(bounds.max.x - 0.5 * frame.text_mm, y + 0.8 * frame.text_mm);
        scene.text(Role::Note, at, frame.text_mm, Anchor::End, says.show(reader));
    }
}

/// Marks the windows at tip level and at full depth.
fn windows(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame) {
    let engagement = &pair.engagement;
    strips(scene, Role::OpenEntry, &pair.entry, frame, 0.0);
    strips(scene, Role::OpenDeep, &engagement.windows, frame, engagement.full_depth_mm);
}

/// The width of the window that the rings are held in, written under it.
fn held(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame, units: DisplayUnits) {
    let Some(held) = pair.held else { return };
    let middle = frame.across(held.middle().radians());
    let room = 2.0 * frame.text_mm;
    // On paper narrower than the words, the left end holds.
    let x = middle.min(frame.bounds.max.x - room).max(frame.bounds.min.x + room);
    let at = Point::new(x, frame.down(pair.engagement.full_depth_mm) - 0.9 * frame.text_mm);
    let words = Quantity::Angle.show(held.width.degrees(), units);
    scene.text(Role::Note, at, frame.text_mm, Anchor::Middle, words);
}

fn strips(scene: &mut Scene, role: Role, windows: &[Arc], frame: &Frame, overlap_mm: f64) {
    let (y, turn) = (frame.down(overlap_mm), frame.across(TAU));
    for window in windows {
        let from = frame.across(window.start.radians());
        let to = from + frame.across(window.width.radians());
        for (from, to) in [(from, to.min(turn)), (0.0, to - turn)] {
            if to > from {
                scene.line(role, &[Point::new(from, y), Point::new(to, y)]);
            }
        }
    }
}

/// The course of one shift, leg by leg; it may run round the circle several times.
fn way(scene: &mut Scene, legs: &[Leg], frame: &Frame) {
    /// Legs drawn; a shift that ratchets on would only blacken the map.
    const DRAWN: usize = 60;
    /// Straight pieces for the curve of a fall.
    const PIECES: u32 = 12;
    let mut strokes = Vec::new();
    for leg in legs.iter().take(DRAWN) {
        let points = (0..=PIECES).map(|at| leg.at(f64::from(at) / f64::from(PIECES)));
        let points: Vec<_> = points.collect();
        for pair in points.windows(2) {
            piece(&mut strokes, pair[0], pair[1], frame);
        }
    }
    if !strokes.is_empty() {
        scene.add(Role::Way, Shape::Strokes(strokes));
    }
}

/// One straight piece of the way, cut where it leaves the turn.
fn piece(strokes: &mut Vec<[Point; 2]>, from: (f64, f64), to: (f64, f64), frame: &Frame) {
    let first = (from.0.min(to.0) / TAU).floor();
    for back in [first * TAU, (first + 1.0) * TAU] {
        // The share of the piece that lies inside this turn.
        let [start, end] = [from.0 - back, to.0 - back];
        let share = |edge: f64| if end == start { 0.0 } else { (edge - start) / (end - start) };
        let inside = |s: f64| (0.0..=TAU).contains(&(start + s * (end - start)));
        let mut ends = [0.0, 1.0, share(0.0), share(TAU)].map(|s: f64| s.clamp(0.0, 1.0));
        ends.sort_by(f64::total_cmp);
        for pair in ends.windows(2).filter(|p| p[1] > p[0] && inside(f64::midpoint(p[0], p[1]))) {
            let point = |s: f64| {
                let overlap = from.1 + s * (to.1 - from.1);
                Point::new(frame.across(start + s * (end - start)), frame.down(overlap))
            };
            strokes.push([point(pair[0]), point(pair[1])]);
        }
    }
}

/// A cross at the phase and overlap of the rings. While a shift is played it moves along its way, and the cross of
/// the design is left out.
fn state(scene: &mut Scene, analysis: &Analysis, frame: &Frame, played: Option<Pose>) {
    let bounds = frame.bounds;
    let (phase, overlap) =
        played.map_or((analysis.phase(), analysis.overlap_mm()), |p| (p.phase, p.overlap_mm));
    let x = frame.across(phase.wrapped().radians());
    let y = frame.down(overlap).clamp(bounds.min.y, bounds.max.y);
    scene.line(Role::State, &[Point::new(x, bounds.min.y), Point::new(x, bounds.max.y)]);
    scene.line(Role::State, &[Point::new(bounds.min.x, y), Point::new(bounds.max.x, y)]);
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let (frame, bounds) = (maker.frame, maker.frame.bounds);
    let y = frame.down(maker.analysis.overlap_mm()).clamp(bounds.min.y, bounds.max.y);
    // The handle of an overlap beyond the paper is at its edge and is dragged on from its own number.
    let zero = y + maker.design().setting.get(SettingField::Overlap) * frame.stretch;
    let phase = maker.phase_at_height(bounds.max.y - 0.7 * frame.text_mm);
    let overlap = maker.handle(
        Slot::Setting(FieldId::Overlap),
        Point::new(bounds.min.x + 0.8 * frame.text_mm, y),
        DragMapping::Along { zero, factor: -1.0 / frame.stretch },
    );
    [phase, overlap].into_iter().flatten().collect()
}
