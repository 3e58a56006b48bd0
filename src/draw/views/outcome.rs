//! The outcome map: how a shift ends, over the phase it starts from and the speed difference.

use std::f64::consts::TAU;

use crenel_words::{Message, Reader, drawing as say, outcome};

use crate::analysis::Analysis;

use crate::design::Need;
use crate::draw::frame::{
    Around, Axes, AxisNumber, Canvas, Frame, LABEL, angle_ticks_deg, has_label_margin, limit_count,
    limit_labels, margin_labels, plot_of, speed_chart, speeds,
};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::legend::{INSET, LEGEND_ROW, legend, legend_rows};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Role, Scene, Shape, spread};
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
              Up: speed difference. Drag the circle to try another point.",
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
    let labels = has_label_margin(canvas.letter);
    // Without a margin at the right, the limits are listed below.
    let listed = if labels { 0.0 } else { limit_count(analysis, top_rpm) };
    let below = LEGEND_ROW * (legend_rows(canvas.letter) + listed);
    let frame = speed_chart(top_rpm, canvas, Around { above: 0.0, below, labels });
    // Speed differences run upwards.
    Frame { stretch: frame.share_mm / top_rpm, ..frame }
}

/// The map without its cells.
fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes::new(frame, plot_of(frame));
    let known = analysis.pair.as_ref().filter(|_| analysis.design.missing(Need::Speed).is_none());
    let state = known.map(|pair| {
        let rpm = pair.shift_case.slip_rpm.abs();
        (analysis.phase().wrapped().degrees(), rpm, frame.up(rpm).min(frame.share_mm))
    });
    let phase = state.map(|(deg, ..)| (across(frame, deg), tenths(deg).to_string()));
    let speed = state.map(|(_, rpm, y)| (y, format!("{rpm:.0}")));
    axes.below(&mut scene, &phases(frame, axes.room_across(PHASE_LETTERS)), phase);
    axes.beside(&mut scene, &speeds(frame, axes.room_up()), speed);
    axes.title_below(&mut scene, say::start_phase_axis().show(options.reader));
    axes.title_beside(&mut scene, say::speed_axis().show(options.reader), 1.8);
    axes.outline(&mut scene);
    let limits = limit_labels(analysis, frame, options.reader);
    if has_label_margin(frame.letter()) {
        limits.iter().for_each(|(y, _)| axes.across(&mut scene, *y));
        margin_labels(&mut scene, frame, &axes.inside, &limits);
    } else {
        limits_listed(&mut scene, frame, &axes, limits);
    }
    if let Some((deg, _, y)) = state {
        axes.working_point(&mut scene, Point::new(across(frame, deg), y));
    }
    scene
}

/// Most letters of a phase along the axis.
const PHASE_LETTERS: usize = 3;

fn across(frame: &Frame, degrees: f64) -> f64 {
    frame.across(degrees.to_radians())
}

fn phases(frame: &Frame, room: u32) -> Vec<AxisNumber> {
    let all = angle_ticks_deg(360.0, room).into_iter();
    all.map(|deg| (across(frame, deg), format!("{deg:.0}"))).collect()
}

/// To a tenth, without a zero at the end.
fn tenths(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

/// The limits where there is no margin for their words: lines across, each with a number at its end, and a row below
/// the legend for each number.
fn limits_listed(scene: &mut Scene, frame: &Frame, axes: &Axes, limits: Vec<AxisNumber>) {
    let (text, left) = (frame.text_mm, frame.bounds.min.x + INSET * frame.text_mm);
    let wanted: Vec<_> = limits.iter().map(|(at, _)| *at).collect();
    let ends = [axes.inside.min.y, axes.inside.max.y];
    let places = spread(&wanted, &vec![1.2 * text; limits.len()], ends);
    let mut y = frame.bounds.min.y + 0.8 * text;
    for (nth, ((at, words), place)) in (1..).zip(limits.into_iter().zip(places)) {
        axes.across(scene, at);
        let name = |scene: &mut Scene, at: Point| {
            let words = format!("{nth}");
            scene.text(Role::Label, at, text, Anchor::Middle, words);
        };
        name(scene, Point::new(axes.inside.max.x + 0.7 * text, place));
        name(scene, Point::new(left + 0.7 * text, y));
        let words_at = Point::new(left + 1.9 * text, y);
        scene.text(Role::Note, words_at, LABEL * text, Anchor::Start, words);
        y += LEGEND_ROW * text;
    }
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

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let frame = maker.frame;
    let top = frame.up(frame.top_rpm);
    let phase = maker.phase_at_height(top);
    let slip = maker.typed_slip().and_then(|(sign, y)| {
        // The handle of a speed difference beyond the chart is at its edge and is dragged on from there.
        let shown = y.min(top);
        let mapping = DragMapping::Along { zero: shown - y, factor: sign / frame.stretch };
        maker.slip(Point::new(0.0, shown), mapping, sign)
    });
    [phase, slip].into_iter().flatten().collect()
}
