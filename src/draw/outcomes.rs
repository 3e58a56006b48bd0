//! The outcome map, the chances over the speed difference, and curves of several layouts in one.

use std::f64::consts::TAU;

use super::frame::{Frame, ViewKind};
use super::scene::{Anchor, Role, Scene, Shape};
use crate::report::{Analysis, Limits, gear_steps};
use crate::ring::Point;
use crate::shift::{Outcome, OutcomeMap};
use crate::units::{Angle, DisplayUnits, Quantity, rad_per_s, rpm, sort_by_number};

/// Room in letter heights for the last number of the axis with its unit and half of the one before.
const LAST_TWO_LETTERS: f64 = 6.5;

/// The role that an outcome is drawn in.
pub const fn outcome_role(outcome: Outcome) -> Role {
    match outcome {
        Outcome::StraightIn => Role::StraightIn,
        Outcome::AfterRubbing => Role::AfterRubbing,
        Outcome::AfterStrikes => Role::AfterStrikes,
        Outcome::HalfIn => Role::HalfIn,
        Outcome::Locked => Role::Locked,
        Outcome::Ratcheting => Role::Ratcheting,
    }
}

/// What is worked out of a map, as a chart shows it, without anything of the design: as much of the
/// outcome map as there is, or the shares of all phases stacked over the speed difference.
pub fn chart_cells(kind: ViewKind, frame: &Frame, map: &OutcomeMap) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    if kind == ViewKind::Outcome {
        cells(&mut scene, frame, map);
        legend(&mut scene, frame);
    } else if map.rows() > 0 {
        stack(&mut scene, frame, map);
    }
    scene
}

/// The outcome map without its cells: phase runs across, the speed difference upwards.
pub(super) fn outcome_map(analysis: &Analysis, frame: &Frame, units: DisplayUnits) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes { frame, top_y: frame.up(frame.top_rpm), end_x: frame.across(TAU) };
    axes.phases(&mut scene, units);
    axes.speeds_up(&mut scene);
    axes.frame(&mut scene);
    // Words of lines that lie close together stand above each other.
    let mut free = 0.0_f64;
    for (rpm, words) in marks(analysis, frame) {
        let y = frame.up(rpm);
        scene.line(Role::Level, &[Point::new(0.0, y), Point::new(axes.end_x, y)]);
        let at = Point::new(axes.end_x - 0.3 * frame.text_mm, free.max(y + 0.75 * frame.text_mm));
        scene.text(Role::Note, at, frame.text_mm, Anchor::End, words);
        free = at.y + 1.25 * frame.text_mm;
    }
    if let Some(meshed) = &analysis.meshed {
        let x = frame.across(analysis.phase().wrapped().radians());
        let y = frame.up(meshed.offered.slip_rpm.abs()).min(axes.top_y);
        scene.line(Role::State, &[Point::new(x, 0.0), Point::new(x, axes.top_y)]);
        scene.line(Role::State, &[Point::new(0.0, y), Point::new(axes.end_x, y)]);
    }
    scene
}

/// The chart of chances without what is worked out.
pub(super) fn chance_chart(analysis: &Analysis, frame: &Frame) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes { frame, top_y: frame.share_mm, end_x: frame.up(frame.top_rpm) };
    axes.shares(&mut scene);
    axes.speeds_across(&mut scene);
    axes.frame(&mut scene);
    for (level, (rpm, words)) in marks(analysis, frame).into_iter().enumerate() {
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
            words,
        );
    }
    gear_marks(&mut scene, analysis, &axes);
    if let Some(meshed) = &analysis.meshed {
        let x = frame.up(meshed.offered.slip_rpm.abs()).min(axes.end_x);
        scene.line(Role::State, &[Point::new(x, 0.0), Point::new(x, axes.top_y)]);
    }
    scene
}

/// Chances at the first pass of several layouts over the speed difference, each with its letter and a
/// line of its own.
pub fn chance_curves(frame: &Frame, curves: &[(usize, &OutcomeMap)]) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes { frame, top_y: frame.share_mm, end_x: frame.up(frame.top_rpm) };
    axes.shares(&mut scene);
    axes.speeds_across(&mut scene);
    axes.frame(&mut scene);
    for ((at, (number, map)), role) in curves.iter().enumerate().zip(Role::CURVES) {
        let points: Vec<_> = (0..map.rows())
            .map(|row| {
                let [straight, rubbed, ..] = map.shares(row);
                Point::new(frame.up(rpm(map.slip(row))), (straight + rubbed) * frame.share_mm)
            })
            .collect();
        scene.line(role, &points);
        // Numbers along the curves, at a different place on each, tell them apart without colour.
        #[expect(clippy::cast_precision_loss, reason = "as many as there are colours")]
        let share = 0.12 + 0.2 * at as f64;
        if let Some(at) = points.iter().find(|p| p.x > share * axes.end_x) {
            let above = Point::new(at.x, at.y + 0.8 * frame.text_mm);
            scene.text(Role::Note, above, frame.text_mm, Anchor::Middle, number.to_string());
        }
    }
    scene
}

/// What the outcome map shows at a point, in words; `None` off the map.
pub fn outcome_reading(
    frame: &Frame,
    p: Point,
    map: &OutcomeMap,
    units: DisplayUnits,
) -> Option<String> {
    let (phase, speed) = (p.x / frame.radius_mm, p.y / frame.stretch);
    let outcome = map.at(phase, rad_per_s(speed)).filter(|_| (0.0..TAU).contains(&phase))?;
    let phase = Angle::from_radians(phase).degrees();
    let phase = Quantity::Angle.show((phase * 10.0).round() / 10.0, units);
    Some(format!("Phase {phase}, {}: {}", whole(speed), outcome.words()))
}

/// What the chances are at a point across the chart, in words; `None` off the chart.
pub fn chance_reading(frame: &Frame, p: Point, map: &OutcomeMap) -> Option<String> {
    let speed = rad_per_s(p.x / frame.stretch);
    let row = (0..map.rows())
        .find(|&row| map.slip(row) >= speed - map.slip(0))
        .filter(|_| speed >= 0.0)?;
    Some(format!("{}: {}", whole(rpm(map.slip(row))), shares_words(map, row)))
}

/// The shares of a row in words, those that are none left out.
fn shares_words(map: &OutcomeMap, row: usize) -> String {
    let shares = Outcome::ALL.into_iter().zip(map.shares(row)).filter(|(_, share)| *share > 0.0);
    let words =
        shares.map(|(outcome, share)| format!("{} {:.0} %", outcome.words(), share * 100.0));
    words.collect::<Vec<_>>().join(", ")
}

fn whole(rpm: f64) -> String {
    format!("{rpm:.0} rpm")
}

// ---- parts ----

/// Runs of equal cells as one rectangle each, one figure for each outcome.
fn cells(scene: &mut Scene, frame: &Frame, map: &OutcomeMap) {
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
            scene.add(outcome_role(outcome), Shape::Patches(patches));
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

fn stack(scene: &mut Scene, frame: &Frame, map: &OutcomeMap) {
    let rows = map.rows();
    let shares: Vec<[f64; 6]> = (0..rows).map(|row| map.shares(row)).collect();
    // The first and the last row stand for the ends of the axis too.
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
            scene.add(outcome_role(outcome), Shape::Patches(vec![lower.chain(upper).collect()]));
        }
        floor = ceiling;
    }
}

/// The limits that lie on the chart, with their words.
fn marks(analysis: &Analysis, frame: &Frame) -> Vec<(f64, String)> {
    let Some(limits) = analysis.meshed.as_ref().and_then(Limits::of) else { return Vec::new() };
    let marks = [
        (limits.lock_rpm, "faces can rub to a stop below"),
        (limits.drop_in_rpm, "drop-in limit"),
        (limits.straight_in_rpm, "straight-in limit"),
    ];
    let mut on: Vec<_> =
        marks.into_iter().filter(|(rpm, _)| *rpm > 0.0 && *rpm < frame.top_rpm).collect();
    sort_by_number(&mut on, |mark| mark.0);
    on.into_iter().map(|(rpm, words)| (rpm, format!("{words} {}", whole(rpm)))).collect()
}

/// The shifts of the gearbox the way the one on the board goes, along the top of the chart.
fn gear_marks(scene: &mut Scene, analysis: &Analysis, axes: &Axes) {
    let Some(meshed) = &analysis.meshed else { return };
    let frame = axes.frame;
    let sign = meshed.offered.slip_rpm;
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
        // Names that would run into each other are left out; the marks stand.
        if x - taken > 2.6 * frame.text_mm {
            let at = Point::new(x, axes.top_y + 1.3 * frame.text_mm);
            let words = format!("{}→{}", step.from + 1, step.to + 1);
            scene.text(Role::Note, at, frame.text_mm, Anchor::Middle, words);
            taken = x;
        }
    }
}

/// Swatches with words.
fn legend(scene: &mut Scene, frame: &Frame) {
    let text = frame.text_mm;
    let left = frame.bounds.min.x + 0.5 * text;
    let room = frame.bounds.width() - text;
    let columns: &[f64] = if frame.is_narrow() { &[0.0, 0.47] } else { &[0.0, 0.31, 0.64] };
    for (at, outcome) in Outcome::ALL.into_iter().enumerate() {
        let row = u8::try_from(at / columns.len()).unwrap_or_default();
        let (x, y) =
            (left + columns[at % columns.len()] * room, -(2.9 + 1.5 * f64::from(row)) * text);
        let corners = [(0.0, -0.5), (1.4, -0.5), (1.4, 0.5), (0.0, 0.5)];
        let swatch = corners.map(|(dx, dy)| Point::new(x + dx * text, y + dy * text));
        scene.add(outcome_role(outcome), Shape::Patches(vec![swatch.into()]));
        scene.polygon(Role::Dimension, &swatch);
        let at = Point::new(x + 1.9 * text, y);
        scene.text(Role::Note, at, text, Anchor::Start, outcome.words());
    }
}

/// The axes of a chart.
struct Axes<'a> {
    frame: &'a Frame,
    top_y: f64,
    end_x: f64,
}

impl Axes<'_> {
    fn frame(&self, scene: &mut Scene) {
        let corners = [(0.0, 0.0), (self.end_x, 0.0), (self.end_x, self.top_y), (0.0, self.top_y)];
        scene.polygon(Role::Dimension, &corners.map(|(x, y)| Point::new(x, y)));
    }

    fn below(&self, scene: &mut Scene, x: f64, anchor: Anchor, words: String) {
        let text = self.frame.text_mm;
        scene.line(Role::Dimension, &[Point::new(x, 0.0), Point::new(x, -0.4 * text)]);
        scene.text(Role::Note, Point::new(x, -1.2 * text), text, anchor, words);
    }

    fn beside(&self, scene: &mut Scene, y: f64, words: String) {
        let text = self.frame.text_mm;
        scene.line(Role::Dimension, &[Point::new(-0.4 * text, y), Point::new(0.0, y)]);
        scene.text(Role::Note, Point::new(-0.7 * text, y), text, Anchor::End, words);
    }

    fn phases(&self, scene: &mut Scene, units: DisplayUnits) {
        for quarter in 0..=4_u8 {
            let degrees = 90.0 * f64::from(quarter);
            let anchor = if quarter == 4 { Anchor::End } else { Anchor::Middle };
            let words =
                Quantity::Angle.show(degrees, DisplayUnits { angle: Default::default(), ..units });
            self.below(scene, self.frame.across(degrees.to_radians()), anchor, words);
        }
    }

    fn speeds_up(&self, scene: &mut Scene) {
        let text = self.frame.text_mm;
        let above = Point::new(-0.7 * text, self.top_y - 1.2 * text);
        scene.text(Role::Note, above, text, Anchor::End, "rpm");
        for quarter in 0..=4_u8 {
            let rpm = self.frame.top_rpm * f64::from(quarter) / 4.0;
            self.beside(scene, self.frame.up(rpm), format!("{rpm:.0}"));
        }
    }

    fn speeds_across(&self, scene: &mut Scene) {
        for quarter in 0..=4_u8 {
            let rpm = self.frame.top_rpm * f64::from(quarter) / 4.0;
            let (unit, anchor) =
                if quarter == 4 { (" rpm", Anchor::End) } else { ("", Anchor::Middle) };
            // On narrow paper the number before the last stands where the unit does.
            let room = self.frame.up(self.frame.top_rpm) / 4.0;
            if quarter == 3 && room < LAST_TWO_LETTERS * self.frame.text_mm {
                continue;
            }
            self.below(scene, self.frame.up(rpm), anchor, format!("{rpm:.0}{unit}"));
        }
    }

    fn shares(&self, scene: &mut Scene) {
        for quarter in 0..=4_u8 {
            let share = f64::from(quarter) / 4.0;
            self.beside(scene, share * self.top_y, format!("{:.0} %", share * 100.0));
        }
    }
}
