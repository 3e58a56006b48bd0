//! The chances: the share of all phases that has each outcome, stacked over the speed difference.

use crenel_words::{Message, Reader, Value, drawing as say, outcome};

use crate::analysis::Analysis;

use crate::draw::frame::{Canvas, Frame, SpeedAxes, chance_frame, limit_marks};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Role, Scene, Shape};
use crate::draw::view::{CHART_SHAPES, Chart, View};
use crate::model::{chance_top_rpm, gear_steps};
use crate::ring::Point;
use crate::shift::{Outcome, OutcomeMap};
use crate::units::{Angle, Quantity, rad_per_s, rpm, sort_by_number};

/// The chart of chances.
pub static CHANCE: View = View {
    key: "chance",
    file_name: "chances",
    title: "Chances",
    caption: "Share of all phases with each result, over the speed difference. Triangles: the shifts of the gearbox.",
    screen_shape: CHART_SHAPES,
    press_holds_all: true,
    chart: Some(Chart { cells, cross, reading }),
    frame,
    draw,
    handles,
    ..View::BASE
};

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    chance_frame(chance_top_rpm(analysis), canvas.shape, canvas.letter)
}

/// The chart without what is worked out.
fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = SpeedAxes { frame, top_y: frame.share_mm, end_x: frame.up(frame.top_rpm) };
    axes.shares(&mut scene);
    axes.speeds_across(&mut scene);
    axes.outline(&mut scene);
    for (level, (rpm, says)) in limit_marks(analysis, frame).into_iter().enumerate() {
        let x = frame.up(rpm);
        scene.line(Role::Level, &[Point::new(x, 0.0), Point::new(x, axes.top_y)]);
        let y =
            axes.top_y - (1.0 + 1.3 * f64::from(u8::try_from(level).unwrap_or(0))) * frame.text_mm;
        let (anchor, off) =
            if x > 0.6 * axes.end_x { (Anchor::End, -0.4) } else { (Anchor::Start, 0.4) };
        scene.text(
            Role::Note,
            Point::new(x + off * frame.text_mm, y),
            frame.text_mm,
            anchor,
            says.show(options.reader),
        );
    }
    gear_marks(&mut scene, analysis, &axes);
    if let Some(pair) = &analysis.pair {
        let x = frame.up(pair.shift_case.slip_rpm.abs()).min(axes.end_x);
        scene.line(Role::State, &[Point::new(x, 0.0), Point::new(x, axes.top_y)]);
    }
    scene
}

fn cells(frame: &Frame, map: &OutcomeMap, _: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    if map.rows() > 0 {
        stack(&mut scene, frame, map);
    }
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

/// The shifts of the gearbox in the same direction as that of the design, along the top of the chart.
fn gear_marks(scene: &mut Scene, analysis: &Analysis, axes: &SpeedAxes) {
    let Some(pair) = &analysis.pair else { return };
    let frame = axes.frame;
    let sign = pair.shift_case.slip_rpm;
    let mut taken = f64::NEG_INFINITY;
    let mut steps = gear_steps(&analysis.design);
    steps.retain(|s| s.slip_rpm * sign >= 0.0 && s.slip_rpm.abs() <= frame.top_rpm);
    sort_by_number(&mut steps, |step| step.slip_rpm.abs());
    for step in steps {
        let x = frame.up(step.slip_rpm.abs());
        let size = 0.35 * frame.text_mm;
        let mark = [
            (x, axes.top_y),
            (x - size, axes.top_y + 2.0 * size),
            (x + size, axes.top_y + 2.0 * size),
        ];
        scene.polygon(Role::Datum, &mark.map(|(x, y)| Point::new(x, y)));
        // Names that would run into each other are left out; the marks stay.
        if x - taken > 2.6 * frame.text_mm {
            let at = Point::new(x, axes.top_y + 1.3 * frame.text_mm);
            let words = format!("{}→{}", step.from + 1, step.to + 1);
            scene.text(Role::Note, at, frame.text_mm, Anchor::Middle, words);
            taken = x;
        }
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
