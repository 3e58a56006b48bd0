//! The drum track: fork travel over the drum's angle.

use super::claw::Moment;
use super::frame::Frame;
use super::handle::{Grip, Handle};
use super::plot::{OUTSIDE, Plot, circle, nothing, wide};
use super::scene::{Anchor, Role, Scene, Shape};
use crate::design::Track;
use crate::fields::{FieldId, Slot};
use crate::report::Analysis;
use crate::ring::Point;
use crate::units::{DisplayUnits, Quantity};

/// How much of a step is shown beyond home.
const BEYOND: f64 = 0.2;

/// The track, if its numbers are within their limits.
fn given(analysis: &Analysis) -> Option<&Track> {
    analysis.selecting.track.as_ref()?;
    analysis.design.selector.track.as_ref()
}

/// What the chart covers.
pub(super) fn axes(analysis: &Analysis) -> [[f64; 2]; 2] {
    let points = given(analysis).map_or_else(Vec::new, Track::shape);
    let home = analysis.selecting.step_deg();
    let last = points.iter().map(|[deg, _]| *deg).fold(home * (1.0 + BEYOND), f64::max);
    let travel = || points.iter().map(|[_, mm]| *mm);
    let (low, high) = (travel().fold(0.0, f64::min), travel().fold(0.0, f64::max));
    let room = 0.12 * (high - low).max(0.5);
    [[0.0, last], [low - room, high + room]]
}

pub(super) fn track_view(
    analysis: &Analysis,
    frame: &Frame,
    units: DisplayUnits,
    moment: Moment,
) -> Scene {
    let Some(track) = given(analysis) else {
        let given = analysis.design.selector.track.is_some();
        return nothing(frame, if given { OUTSIDE } else { "No drum track is given yet." });
    };
    let plot = Plot::new(frame);
    let mut scene = Scene::new(frame.bounds);
    let selecting = &analysis.selecting;
    let home = selecting.step_deg();
    rocking(&mut scene, analysis, frame, &plot);
    plot.outline(&mut scene);
    // A long track leaves a step too little room for three words.
    let roomy = plot.letters_across(0.0, home / 2.0) > 4.6;
    for (deg, words) in [(0.0, "left"), (home / 2.0, "half way"), (home, "home")] {
        let named = roomy || deg == home;
        plot.upright(&mut scene, deg, named.then_some(words));
        if named {
            let shown = Quantity::Angle.show((deg * 10.0).round() / 10.0, units);
            plot.below(&mut scene, deg, shown);
        }
    }
    let all = track.shape();
    let levels = [all[0][1], all[all.len() - 1][1]];
    let distinct = plot.letters_up(levels[0], levels[1]) > 1.2;
    for mm in levels.into_iter().skip(usize::from(!distinct)) {
        plot.beside(&mut scene, mm, Quantity::Length.format((mm * 100.0).round() / 100.0, units));
    }
    let last = all[all.len() - 1];
    let start = plot.at(0.0, all[0][1]);
    let end = plot.at((home * (1.0 + BEYOND)).max(last[0]), last[1]);
    let line = all.iter().map(|[deg, mm]| plot.at(*deg, *mm));
    let line: Vec<_> = [start].into_iter().chain(line).chain([end]).collect();
    scene.line(Role::Section, &line);
    cost(&mut scene, analysis, frame, &plot, units);
    if let Some([deg, mm]) = fork(analysis, moment) {
        circle(&mut scene, Role::Tip, plot.at(deg, mm), 0.5 * frame.text_mm);
    }
    scene
}

/// Drum angle, degrees, and fork travel, mm, at a moment of a stroke; none at rest.
fn fork(analysis: &Analysis, moment: Moment) -> Option<[f64; 2]> {
    let (stroke, share) = moment?;
    let selecting = &analysis.selecting;
    let (strokes, track) = selecting.strokes().zip(selecting.sound_track())?;
    let drum = strokes.at(stroke, share, selecting.star.as_ref()).1.degrees();
    Some([drum, track.travel_mm(drum)])
}

/// How far the drum rocks about home.
fn rocking(scene: &mut Scene, analysis: &Analysis, frame: &Frame, plot: &Plot) {
    let Some(slack) = analysis.selecting.slack else { return };
    let half = slack.degrees() / 2.0;
    let home = analysis.selecting.step_deg();
    let [foot, top] =
        [frame.bounds.min.y + 2.4 * frame.text_mm, frame.bounds.max.y - 1.6 * frame.text_mm];
    let (left, right) = (plot.at(home - half, 0.0).x, plot.at(home + half, 0.0).x);
    let corners = [(left, foot), (right, foot), (right, top), (left, top)];
    let band = corners.map(|(x, y)| Point::new(x, y)).to_vec();
    scene.add(Role::Blocked, Shape::Patches(vec![band]));
}

fn cost(scene: &mut Scene, analysis: &Analysis, frame: &Frame, plot: &Plot, units: DisplayUnits) {
    let selecting = &analysis.selecting;
    let Some(cost) = selecting.rocks_mm() else { return };
    let home = selecting.step_deg();
    let text = frame.text_mm;
    let shown = Quantity::Length.show((cost * 100.0).round() / 100.0, units);
    let words = format!("rocking costs {shown}");
    // On the side of home that has room for it.
    let left = plot.letters_across(0.0, home) > 1.0 + wide(&words);
    let (anchor, off) = if left { (Anchor::End, -0.8) } else { (Anchor::Start, 0.8) };
    let at = Point::new(plot.at(home, 0.0).x + off * text, plot.at(0.0, 0.0).y + 1.4 * text);
    scene.text(Role::Note, at, text, anchor, words);
}

/// The handles of the track.
pub(super) fn track_handles(analysis: &Analysis, frame: &Frame) -> Vec<Handle> {
    let Some(track) = given(analysis) else { return Vec::new() };
    let plot = Plot::new(frame);
    let [wide, high] = plot.scale();
    let zero = plot.at(0.0, 0.0);
    let across = || Grip::Lever { zero: zero.x, per_degree: wide };
    let up = || Grip::Along { zero: zero.y, factor: 1.0 / high };
    let maker = |slot: Slot, at: Point, grip: Grip| {
        Handle::at(&analysis.design, super::ViewKind::Track, slot, at, grip)
    };
    let all = track.shape();
    let mut handles = Vec::new();
    if track.points.is_empty() {
        let [[start, low], [end, throw]] = [all[0], all[1]];
        let right = analysis.selecting.step_deg() * (1.0 + BEYOND / 2.0);
        handles.extend([
            maker(Slot::Part(FieldId::TrackStart), plot.at(start, low), across()),
            maker(Slot::Part(FieldId::TrackEnd), plot.at(end, throw), across()),
            maker(Slot::Part(FieldId::ForkThrow), plot.at(right.max(end), throw), up()),
        ]);
    }
    for (at, [deg, mm]) in track.points.iter().copied().enumerate() {
        let foot = Point::new(plot.at(deg, mm).x, frame.bounds.min.y + 2.4 * frame.text_mm);
        handles.extend([
            maker(Slot::TrackPoint(at, FieldId::TrackAngle), foot, across()),
            maker(Slot::TrackPoint(at, FieldId::TrackTravel), plot.at(deg, mm), up()),
        ]);
    }
    handles.into_iter().flatten().collect()
}
