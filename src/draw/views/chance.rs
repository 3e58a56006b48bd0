//! The chances: the share of all phases that has each outcome, stacked over the speed difference.

use crenel_words::{Message, Reader, Value, drawing as say, outcome};

use crate::analysis::Analysis;

use crate::design::Need;
use crate::draw::frame::{
    Around, Axes, Canvas, Frame, LABEL, LABEL_ROW, cased, labels_above, limit_count, limit_labels,
    plot_of, shares, speed_chart, speeds_across,
};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::legend::{LEGEND_ROW, legend, legend_rows};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Bounds, Role, Scene, Shape, spread, words_width};
use crate::draw::view::{CHART_SHAPES, Chart, View};
use crate::model::{chance_top_rpm, gear_steps};
use crate::ring::Point;
use crate::shift::{Outcome, OutcomeMap, Step};
use crate::units::{Angle, Quantity, rad_per_s, rpm, sort_by_number};

/// The chart of chances.
pub static CHANCE: View = View {
    key: "chance",
    file_name: "chances",
    title: "Chances",
    caption: "Share of all phases with each result, over the speed difference. \
              Triangles: the shifts of the gearbox; the two hardest are named.",
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
    let above = rug_room(analysis) + LABEL_ROW * limit_count(analysis, top_rpm);
    let below = LEGEND_ROW * legend_rows(canvas.letter);
    speed_chart(top_rpm, canvas, Around { above, below, labels: false })
}

/// Room over the chart for the shifts of the gearbox and the names of two, in letter heights.
fn rug_room(analysis: &Analysis) -> f64 {
    if gear_steps(&analysis.design).is_empty() { 0.4 } else { 2.1 }
}

/// The chart without what is worked out.
fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes::new(frame, plot_of(frame));
    let known = analysis.pair.as_ref().filter(|_| analysis.design.missing(Need::Speed).is_none());
    let speed = known.map(|pair| {
        let rpm = pair.shift_case.slip_rpm.abs();
        (frame.up(rpm).min(axes.inside.max.x), format!("{rpm:.0}"))
    });
    axes.below(&mut scene, &speeds_across(frame), speed.clone());
    axes.beside(&mut scene, &shares(frame), None);
    axes.title_below(&mut scene, say::speed_axis().show(options.reader));
    let limits = limit_labels(analysis, frame, options.reader);
    labels_above(&mut scene, frame, &limits, rug_room(analysis));
    let title = frame.bounds.max.y - axes.inside.max.y;
    let above = title / frame.text_mm - 0.8;
    axes.title_beside(&mut scene, say::share_axis().show(options.reader), above);
    axes.outline(&mut scene);
    rug(&mut scene, analysis, &axes, frame);
    if let Some((x, _)) = speed {
        let Bounds { min, max } = axes.inside;
        cased(&mut scene, Role::State, &[Point::new(x, min.y), Point::new(x, max.y)]);
    }
    scene
}

/// As much of the chart as is worked out, with its legend.
fn cells(frame: &Frame, map: &OutcomeMap, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    if map.rows() > 0 {
        stack(&mut scene, frame, map);
    }
    legend(&mut scene, frame, reader);
    scene
}

fn cross(frame: &Frame, _: Angle, rpm: f64) -> Point {
    Point::new(frame.up(rpm), 0.0)
}

fn reading(frame: &Frame, p: Point, map: &OutcomeMap) -> Option<Message> {
    let speed = (p.x / frame.stretch).round();
    let shares = map.shares_at(rad_per_s(speed)).filter(|_| speed >= 0.0)?;
    Some(say::shares_at(speed, told(shares)))
}

/// Shares in words; outcomes that do not occur are left out.
fn told(shares: [f64; 6]) -> Vec<Value> {
    let shares = Outcome::ALL.into_iter().zip(shares).filter(|(_, share)| *share > 0.0);
    let told = shares.map(|(outcome, share)| {
        say::share_of(outcome::shift(outcome), Value::Result(Quantity::Share, share)).into()
    });
    told.collect()
}

fn stack(scene: &mut Scene, frame: &Frame, map: &OutcomeMap) {
    let rows = map.rows();
    let shares: Vec<[f64; 6]> = (0..rows).map(|row| map.shares(row)).collect();
    // The first and the last row are drawn to the ends of the axis.
    let mut xs: Vec<f64> = (0..rows).map(|row| frame.up(rpm(map.slip(row)))).collect();
    xs[0] = 0.0;
    if rows == map.speeds {
        xs[rows - 1] = frame.up(rpm(map.top));
    }
    let mut floor = vec![0.0; rows];
    for outcome in Outcome::ALL {
        let share = |row: usize| shares[row][outcome as usize];
        let ceiling: Vec<f64> = (0..rows).map(|row| floor[row] + share(row)).collect();
        if (0..rows).any(|row| share(row) > 0.0) {
            let point =
                |row: usize, level: &[f64]| Point::new(xs[row], level[row] * frame.share_mm);
            let lower = (0..rows).map(|row| point(row, &floor));
            let upper = (0..rows).rev().map(|row| point(row, &ceiling));
            scene.add(
                Role::for_outcome(outcome),
                Shape::Patches(vec![lower.chain(upper).collect()]),
            );
        }
        floor = ceiling;
    }
}

/// The shifts of the gearbox in the same direction as that of the design, as marks along the top of the chart.
/// The two hardest have their names.
fn rug(scene: &mut Scene, analysis: &Analysis, axes: &Axes, frame: &Frame) {
    let Some(pair) = &analysis.pair else { return };
    let (sign, text, top) = (pair.shift_case.slip_rpm, frame.text_mm, axes.inside.max.y);
    let mut steps = gear_steps(&analysis.design);
    steps.retain(|s| s.slip_rpm * sign >= 0.0 && s.slip_rpm.abs() <= frame.top_rpm);
    sort_by_number(&mut steps, |step| step.slip_rpm.abs());
    let at = |step: &Step| frame.up(step.slip_rpm.abs());
    for step in &steps {
        let (x, size) = (at(step), 0.3 * text);
        let mark = [(x, top), (x - size, top + 2.0 * size), (x + size, top + 2.0 * size)];
        scene.polygon(Role::Datum, &mark.map(|(x, y)| Point::new(x, y)));
    }
    let hardest = &steps[steps.len().saturating_sub(2)..];
    let name = |step: &Step| step.gears();
    let words: Vec<_> = hardest.iter().map(name).collect();
    let room = |words: &String| (words_width(words) * LABEL + 0.6) * text;
    let rooms: Vec<_> = words.iter().map(room).collect();
    let wanted: Vec<_> = hardest.iter().map(at).collect();
    let places = spread(&wanted, &rooms, [axes.inside.min.x, frame.bounds.max.x]);
    for (words, x) in words.into_iter().zip(places) {
        scene.text(
            Role::Note,
            Point::new(x, top + 1.3 * text),
            LABEL * text,
            Anchor::Middle,
            words,
        );
    }
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let frame = maker.frame;
    let slip = maker.typed_slip().and_then(|(sign, x)| {
        let at = Point::new(x, frame.share_mm / 2.0);
        maker.slip(at, DragMapping::Axis { factor: sign / frame.stretch }, sign)
    });
    slip.into_iter().collect()
}
