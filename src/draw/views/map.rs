//! The phase map: blocked phases over overlap. Phase runs across, overlap downwards.

use std::collections::HashSet;
use std::f64::consts::TAU;

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;

use crate::design::SettingField;
use crate::draw::frame::{
    Axes, AxisNumber, BELOW, Canvas, Frame, LABEL, LEFT, TITLE, angle_ticks_deg, chart_width,
    drawable, has_label_margin, margin_labels, right_margin, ticks,
};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::{RingState, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Role, Scene, Shape, clip};
use crate::draw::view::{Follows, View};
use crate::fields::{FieldId, Slot};
use crate::model::{PairAnalysis, Pose};
use crate::pair::{Arc, Block, Edges};
use crate::ring::{FlankSide, Point, Side};
use crate::shift::Leg;
use crate::units::{Quantity, decimal};

/// The phase map with the state of the rings and the way of the shift.
pub static MAP: View = View {
    key: "map",
    file_name: "phase-map",
    title: "Phase map",
    caption: "Hatched: blocked by a dog. Across: phase. Down: overlap. \
              Drag the circle to try another point; the curve is one shift from its phase.",
    shape: 0.5,
    screen_shape: [0.5, 0.7],
    follows: Follows::Shift,
    press_holds_all: true,
    shows_states: true,
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

/// Height of the web below the deepest overlap, in letter heights.
const WEB: f64 = 0.9;

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let right = right_margin(has_label_margin(canvas.letter));
    let (text_mm, plot) = chart_width(canvas.letter, right);
    let (min_x, max_x) = (-LEFT * text_mm, plot + right * text_mm);
    let radius_mm = plot / TAU;
    let deepest = map_depth(analysis);
    // An overlap asked for outside the map is shown as far as it still leaves room for the map.
    let clearance = (0.2 * deepest - analysis.overlap_mm()).clamp(0.15 * deepest, deepest);
    let around = (WEB + BELOW + TITLE) * text_mm;
    let paper = ((max_x - min_x) * canvas.shape - around).max(LEAST * text_mm);
    let stretch = paper / (deepest + clearance);
    let min = Point::new(min_x, -deepest * stretch - (WEB + BELOW) * text_mm);
    let max = Point::new(max_x, clearance * stretch + TITLE * text_mm);
    Frame { stretch, radius_mm, ..Frame::new(Bounds { min, max }, text_mm) }
}

/// Least height of the map, in letter heights.
const LEAST: f64 = 8.0;

/// The map without what is written round it.
fn inside(frame: &Frame) -> Bounds {
    let Bounds { min, max } = frame.bounds;
    Bounds {
        min: Point::new(0.0, min.y + BELOW * frame.text_mm),
        max: Point::new(frame.across(TAU), max.y - TITLE * frame.text_mm),
    }
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Some(pair) = &analysis.pair else { return scene };
    let deepest = map_depth(analysis);
    let axes = Axes::new(frame, inside(frame));
    let state = state(analysis, frame, options.pose);
    numbers(&mut scene, frame, &axes, deepest, &state, options.reader);
    web(&mut scene, frame, &axes.inside, deepest);
    scene.add(Role::Blocked, Shape::Patches(patches(pair, frame, deepest)));
    if let Some(found) = was_blocked(options) {
        for patch in patches(found, frame, deepest) {
            scene.polygon(Role::Removed, &patch);
        }
    }
    axes.outline(&mut scene);
    levels(&mut scene, pair, frame, &axes, options.reader);
    windows(&mut scene, pair, frame);
    if let Some(shift) = &pair.shift {
        way(&mut scene, &shift.attempt.legs, frame);
    }
    axes.working_point(&mut scene, state.at);
    scene
}

/// The phase and overlap of the rings, and where they lie on the map.
struct State {
    phase_deg: f64,
    overlap_mm: f64,
    at: Point,
}

/// While a shift is played it moves along its way, and the point of the design is left out.
fn state(analysis: &Analysis, frame: &Frame, played: Option<Pose>) -> State {
    let (phase, overlap_mm) =
        played.map_or((analysis.phase(), analysis.overlap_mm()), |p| (p.phase, p.overlap_mm));
    let Bounds { min, max } = inside(frame);
    let phase = phase.wrapped();
    let at = Point::new(frame.across(phase.radians()), frame.down(overlap_mm).clamp(min.y, max.y));
    State { phase_deg: phase.degrees(), overlap_mm, at }
}

/// Phases below and depths at the left.
fn numbers(
    scene: &mut Scene,
    frame: &Frame,
    axes: &Axes,
    deepest: f64,
    state: &State,
    reader: Reader,
) {
    let units = reader.units;
    let phases = angle_ticks_deg(360.0, axes.room_across(3)).into_iter();
    let phases: Vec<AxisNumber> =
        phases.map(|deg| (frame.across(deg.to_radians()), format!("{deg:.0}"))).collect();
    let tenth = (state.phase_deg * 10.0).round() / 10.0;
    axes.below(scene, &phases, Some((state.at.x, tenth.to_string())));
    let scale = Quantity::Length.scale(units);
    let depths = ticks(deepest / scale, axes.room_up()).into_iter();
    let depths: Vec<AxisNumber> =
        depths.map(|depth| (frame.down(depth * scale), decimal(depth, 6))).collect();
    let own = Quantity::Length.format(state.overlap_mm, units).replace('-', "−");
    axes.beside(scene, &depths, Some((state.at.y, own)));
    axes.title_below(scene, say::phase_axis().show(reader));
    let unit = Quantity::Length.unit(units).to_owned();
    axes.title_beside(scene, say::depth_axis(unit).show(reader), 1.8);
}

/// Below this depth the tips would be in the web.
fn web(scene: &mut Scene, frame: &Frame, bounds: &Bounds, deepest: f64) {
    let top = frame.down(deepest);
    let corners = [
        (bounds.min.x, top),
        (bounds.max.x, top),
        (bounds.max.x, bounds.min.y),
        (bounds.min.x, bounds.min.y),
    ];
    scene.polygon(Role::Web, &corners.map(|(x, y)| Point::new(x, y)));
}

/// The pair as found, where its outline is drawn beside the pair as cut.
fn was_blocked<'a>(options: &ViewOptions<'a>) -> Option<&'a PairAnalysis> {
    options.found.filter(|_| options.state == RingState::Both)?.pair.as_ref()
}

/// What the dogs block, one patch for each region.
fn patches(pair: &PairAnalysis, frame: &Frame, deepest: f64) -> Vec<Vec<Point>> {
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
    patches
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

/// Tip level and full depth, and how wide the windows are there: in the margin or, where there is none, at the
/// ends of the lines.
fn levels(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame, axes: &Axes, reader: Reader) {
    let full = pair.engagement.full_depth_mm;
    let opens = pair.entry.first().map(|window| say::opens(window.width.degrees()).show(reader));
    let lash = pair.held.map(|held| say::lash(held.width.degrees()).show(reader));
    let levels = [
        (frame.down(full), lash, say::full_depth(full).show(reader)),
        (frame.down(0.0), opens, say::tips_level().show(reader)),
    ];
    for (y, ..) in &levels {
        let Bounds { min, max } = axes.inside;
        scene.line(Role::Level, &[Point::new(min.x, *y), Point::new(max.x, *y)]);
    }
    if has_label_margin(frame.letter()) {
        let labels = levels.into_iter().flat_map(|(y, width, level)| {
            [width, Some(level)].into_iter().flatten().map(move |words| (y, words))
        });
        return margin_labels(scene, frame, &axes.inside, &labels.collect::<Vec<_>>());
    }
    let (text, Bounds { max, .. }) = (frame.text_mm, axes.inside);
    let mut write = |x: f64, y: f64, anchor, words: String| {
        scene.text(Role::Note, Point::new(x, y), LABEL * text, anchor, words);
    };
    let right = max.x - 0.4 * text;
    let [(deep, lash, full_depth), (shallow, opens, tips_level)] = levels;
    write(right, shallow + 0.9 * text, Anchor::End, opens.unwrap_or(tips_level));
    write(right, deep + 0.9 * text, Anchor::End, full_depth);
    if let Some(words) = lash {
        write(right, deep - 1.0 * text, Anchor::End, words);
    }
}

/// Marks the windows at tip level and at full depth.
fn windows(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame) {
    let engagement = &pair.engagement;
    strips(scene, Role::OpenEntry, &pair.entry, frame, 0.0);
    strips(scene, Role::OpenDeep, &engagement.windows, frame, engagement.full_depth_mm);
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
        scene.add(Role::Casing, Shape::Strokes(strokes.clone()));
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

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let (frame, bounds) = (maker.frame, inside(maker.frame));
    let y = frame.down(maker.analysis.overlap_mm()).clamp(bounds.min.y, bounds.max.y);
    // The handle of an overlap beyond the paper is at its edge and is dragged on from its own number.
    let zero = y + maker.design().setting.get(SettingField::Overlap) * frame.stretch;
    let phase = maker.phase_at_height(bounds.max.y);
    let overlap = maker.handle(
        Slot::Setting(FieldId::Overlap),
        Point::new(bounds.min.x, y),
        DragMapping::Along { zero, factor: -1.0 / frame.stretch },
    );
    [phase, overlap].into_iter().flatten().collect()
}
