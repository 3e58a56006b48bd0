//! The outcome map: how a shift ends, over the phase it starts from and the speed difference.

use std::f64::consts::TAU;

use crenel_words::{Message, Reader, drawing as say, outcome};

use crate::analysis::Analysis;

use crate::draw::frame::{
    CHART_ABOVE, CHART_BELOW, Canvas, Frame, SpeedAxes, is_narrow, limit_marks, speed_chart,
};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Role, Scene, Shape, words_width};
use crate::draw::view::{CHART_SHAPES, Chart, View};
use crate::model::chance_top_rpm;
use crate::ring::Point;
use crate::shift::{Outcome, OutcomeMap};
use crate::units::{Angle, rad_per_s, rpm};

/// The outcome map.
pub static OUTCOME: View = View {
    key: "outcome",
    file_name: "outcome-map",
    title: "Outcome map",
    caption: "How a shift ends. Across: the phase it starts from, as in the phase map. \
              Up: speed difference. Drag the cross to try another place.",
    shape: 0.62,
    screen_shape: CHART_SHAPES,
    press_holds_all: true,
    chart: Some(Chart { cells, cross, reading }),
    frame,
    draw,
    handles,
    ..View::BASE
};

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let top_rpm = chance_top_rpm(analysis);
    let legend_rows = if is_narrow(canvas.letter) { 6.0 } else { 2.0 };
    let frame = speed_chart(top_rpm, canvas, CHART_BELOW + 0.2 + 1.5 * legend_rows);
    // Speed differences run upwards.
    let height = frame.bounds.max.y - CHART_ABOVE / 2.0 * frame.text_mm;
    Frame { stretch: height / top_rpm, ..frame }
}

/// The map without its cells.
fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = SpeedAxes { frame, top_y: frame.up(frame.top_rpm), end_x: frame.across(TAU) };
    axes.phases(&mut scene, options.reader.units);
    axes.speeds_up(&mut scene);
    axes.outline(&mut scene);
    // Words of lines that lie close together are stacked.
    let mut free = 0.0_f64;
    for (rpm, says) in limit_marks(analysis, frame) {
        let y = frame.up(rpm);
        scene.line(Role::Level, &[Point::new(0.0, y), Point::new(axes.end_x, y)]);
        let at = Point::new(axes.end_x - 0.3 * frame.text_mm, free.max(y + 0.75 * frame.text_mm));
        scene.text(Role::Note, at, frame.text_mm, Anchor::End, says.show(options.reader));
        free = at.y + 1.25 * frame.text_mm;
    }
    if let Some(pair) = &analysis.pair {
        let x = frame.across(analysis.phase().wrapped().radians());
        let y = frame.up(pair.shift_case.slip_rpm.abs()).min(axes.top_y);
        scene.line(Role::State, &[Point::new(x, 0.0), Point::new(x, axes.top_y)]);
        scene.line(Role::State, &[Point::new(0.0, y), Point::new(axes.end_x, y)]);
    }
    scene
}

/// As much of the map as there is, with its legend.
fn cells(frame: &Frame, map: &OutcomeMap, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    patches(&mut scene, frame, map);
    legend(&mut scene, frame, reader);
    scene
}

fn cross(frame: &Frame, phase: Angle, rpm: f64) -> Point {
    Point::new(frame.across(phase.wrapped().radians()), frame.up(rpm))
}

fn reading(frame: &Frame, p: Point, map: &OutcomeMap) -> Option<Message> {
    let (phase, speed) = (p.x / frame.radius_mm, p.y / frame.stretch);
    let outcome = map.at(phase, rad_per_s(speed)).filter(|_| (0.0..TAU).contains(&phase))?;
    let phase = Angle::from_radians(phase).degrees();
    Some(say::outcome_at(phase, speed, outcome::shift(outcome)))
}

/// Runs of equal cells as one rectangle each, one figure for each outcome.
fn patches(scene: &mut Scene, frame: &Frame, map: &OutcomeMap) {
    let mut patches: [Vec<Vec<Point>>; 6] = Default::default();
    let (across, up) = (frame.across(map.phase(0)), frame.up(rpm(map.slip(0))));
    for row in 0..map.rows() {
        let y = frame.up(rpm(map.slip(row)));
        let (bottom, top) = (y - up, y + up);
        for (outcome, start, end) in runs(map.row(row)) {
            let left = frame.across(map.phase(start)) - across;
            let right = frame.across(map.phase(end)) + across;
            let corners = [(left, bottom), (right, bottom), (right, top), (left, top)];
            patches[outcome as usize].push(corners.map(|(x, y)| Point::new(x, y)).into());
        }
    }
    for (outcome, patches) in Outcome::ALL.into_iter().zip(patches) {
        if !patches.is_empty() {
            scene.add(Role::for_outcome(outcome), Shape::Patches(patches));
        }
    }
}

/// Runs of equal outcomes: which, the first cell and the last.
fn runs(row: &[Outcome]) -> Vec<(Outcome, usize, usize)> {
    let mut runs: Vec<(Outcome, usize, usize)> = Vec::new();
    for (at, &outcome) in row.iter().enumerate() {
        match runs.last_mut() {
            Some((last, _, end)) if *last == outcome => *end = at,
            _ => runs.push((outcome, at, at)),
        }
    }
    runs
}

/// Swatches with words. A column moves to the right where the words before it are long.
fn legend(scene: &mut Scene, frame: &Frame, reader: Reader) {
    let text = frame.text_mm;
    let left = frame.bounds.min.x + 0.5 * text;
    let room = frame.bounds.width() - text;
    let columns: &[f64] = if frame.is_narrow() { &[0.0] } else { &[0.0, 0.31, 0.64] };
    let words = Outcome::ALL.map(|outcome| outcome::shift(outcome).show(reader));
    let mut free = 0.0_f64;
    let begins = columns.iter().enumerate().map(|(column, share)| {
        let begin = free.max(share * room);
        let in_column = words.iter().skip(column).step_by(columns.len());
        let widest = in_column.map(|words| words_width(words)).fold(0.0, f64::max);
        free = begin + (1.9 + widest + 0.6) * text;
        begin
    });
    let begins: Vec<f64> = begins.collect();
    for (at, (outcome, words)) in Outcome::ALL.into_iter().zip(words).enumerate() {
        let row = u8::try_from(at / columns.len()).unwrap_or_default();
        let (x, y) = (left + begins[at % columns.len()], -(2.9 + 1.5 * f64::from(row)) * text);
        let corners = [(0.0, -0.5), (1.4, -0.5), (1.4, 0.5), (0.0, 0.5)];
        let swatch = corners.map(|(dx, dy)| Point::new(x + dx * text, y + dy * text));
        scene.add(Role::for_outcome(outcome), Shape::Patches(vec![swatch.into()]));
        scene.polygon(Role::Dimension, &swatch);
        let at = Point::new(x + 1.9 * text, y);
        scene.text(Role::Note, at, text, Anchor::Start, words);
    }
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let frame = maker.frame;
    let top = frame.up(frame.top_rpm);
    let phase = maker.phase_at_height(top + 0.2 * frame.text_mm);
    let slip = maker.typed_slip().and_then(|(sign, y)| {
        // The handle of a speed difference beyond the chart is at its edge and is dragged on from there.
        let shown = y.min(top);
        let mapping = DragMapping::Along { zero: shown - y, factor: sign / frame.stretch };
        maker.slip(Point::new(0.8 * frame.text_mm, shown), mapping, sign)
    });
    [phase, slip].into_iter().flatten().collect()
}
