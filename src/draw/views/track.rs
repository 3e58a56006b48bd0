//! The drum track: fork travel over the drum's angle.

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;
use crate::design::{Design, TrackSpec};
use crate::draw::frame::{Axes, Canvas, Frame, Plot, empty_scene};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::{StrokeMoment, ViewOptions};
use crate::draw::scene::{Anchor, Role, Scene, Shape, circle, wrapped};
use crate::draw::view::{Follows, Subject, View};
use crate::fields::{FieldId, Slot};
use crate::ring::Point;
use crate::units::Quantity;

/// The chart of the drum track.
pub static TRACK: View = View {
    key: "track",
    file_name: "drum-track",
    title: "Drum track",
    caption: "Across: drum angle from the position being left. Up: fork travel. \
              [Grey|Gray]: free play of the drum in its detent.",
    screen_shape: [0.5; 2],
    subject: Subject::Part { is_given, absent: say::no_track },
    follows: Follows::Stroke,
    frame,
    draw,
    handles,
    ..View::BASE
};

const fn is_given(design: &Design) -> bool {
    design.selector.track.is_some()
}

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    Frame { axes: axes(analysis), ..Frame::plain(canvas) }
}

/// How much of a step is shown beyond home.
const BEYOND: f64 = 0.2;

/// The track, if its numbers are within their limits.
fn sound_track(analysis: &Analysis) -> Option<&TrackSpec> {
    analysis.selector.track.as_ref()?;
    analysis.design.selector.track.as_ref()
}

/// What the chart covers.
fn axes(analysis: &Analysis) -> [[f64; 2]; 2] {
    let points = sound_track(analysis).map_or_else(Vec::new, TrackSpec::shape);
    let home = analysis.selector.step_deg();
    let last = points.iter().map(|[deg, _]| *deg).fold(home * (1.0 + BEYOND), f64::max);
    let travel = || points.iter().map(|[_, mm]| *mm);
    let (low, high) = (travel().fold(0.0, f64::min), travel().fold(0.0, f64::max));
    let room = 0.12 * (high - low).max(0.5);
    [[0.0, last], [low - room, high + room]]
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let Some(track) = sound_track(analysis) else {
        let given = is_given(&analysis.design);
        let why = if given { say::outside_limits } else { say::no_track };
        return empty_scene(frame, why, options.reader);
    };
    let (reader, units) = (options.reader, options.reader.units);
    let plot = Plot::new(frame);
    let mut scene = Scene::new(frame.bounds);
    let selector = &analysis.selector;
    let home = selector.step_deg();
    rocking(&mut scene, analysis, &plot);
    let axes = Axes::new(frame, plot.inside);
    axes.outline(&mut scene);
    axes.title_below(&mut scene, say::drum_axis().show(reader));
    let unit = Quantity::Length.unit(units).to_owned();
    axes.title_beside(&mut scene, say::fork_axis(unit).show(reader), 2.2);
    // A long track leaves a step too little room for three words.
    let roomy = plot.letters_across(0.0, home / 2.0) > 4.6;
    for (deg, says) in [(0.0, say::left()), (home / 2.0, say::halfway()), (home, say::home())] {
        let named = roomy || deg == home;
        plot.upright(&mut scene, deg, named.then(|| says.show(reader)));
        if named {
            plot.below(&mut scene, deg, Quantity::Angle.show(deg, units));
        }
    }
    let all = track.shape();
    let levels = [all[0][1], all[all.len() - 1][1]];
    let distinct = plot.letters_up(levels[0], levels[1]) > 1.2;
    for mm in levels.into_iter().skip(usize::from(!distinct)) {
        plot.beside(&mut scene, mm, Quantity::Length.format(mm, units));
    }
    let last = all[all.len() - 1];
    let start = plot.at(0.0, all[0][1]);
    let end = plot.at((home * (1.0 + BEYOND)).max(last[0]), last[1]);
    let line = all.iter().map(|[deg, mm]| plot.at(*deg, *mm));
    let line: Vec<_> = [start].into_iter().chain(line).chain([end]).collect();
    scene.line(Role::Section, &line);
    cost(&mut scene, analysis, frame, &plot, reader);
    if let Some([deg, mm]) = fork(analysis, options.stroke) {
        circle(&mut scene, Role::Tip, plot.at(deg, mm), 0.5 * frame.text_mm);
    }
    scene
}

/// Drum angle, degrees, and fork travel, mm, at a moment of a stroke; `None` at rest.
fn fork(analysis: &Analysis, moment: Option<StrokeMoment>) -> Option<[f64; 2]> {
    let (stroke, share) = moment?;
    let selector = &analysis.selector;
    let (strokes, track) = selector.strokes().zip(selector.sound_track())?;
    let drum = strokes.at(stroke, share, selector.star.as_ref()).1.degrees();
    Some([drum, track.travel_mm(drum)])
}

/// How far the drum rocks about home.
fn rocking(scene: &mut Scene, analysis: &Analysis, plot: &Plot) {
    let Some(slack) = analysis.selector.slack else { return };
    let half = slack.degrees() / 2.0;
    let home = analysis.selector.step_deg();
    let [foot, top] = [plot.inside.min.y, plot.inside.max.y];
    let (left, right) = (plot.at(home - half, 0.0).x, plot.at(home + half, 0.0).x);
    let corners = [(left, foot), (right, foot), (right, top), (left, top)];
    let band = corners.map(|(x, y)| Point::new(x, y)).to_vec();
    scene.add(Role::Blocked, Shape::Patches(vec![band]));
}

fn cost(scene: &mut Scene, analysis: &Analysis, frame: &Frame, plot: &Plot, reader: Reader) {
    let selector = &analysis.selector;
    let Some(cost) = selector.rocks_mm() else { return };
    let home = selector.step_deg();
    let text = frame.text_mm;
    let words = say::play_costs(cost).show(reader);
    // On the side of home that has room for it.
    let left = plot.at(home, 0.0).x - plot.inside.min.x > frame.bounds.max.x - plot.at(home, 0.0).x;
    let (anchor, off) = if left { (Anchor::End, -0.8) } else { (Anchor::Start, 0.8) };
    let x = plot.at(home, 0.0).x + off * text;
    let room = if left { x - plot.inside.min.x } else { frame.bounds.max.x - x };
    let lines = wrapped(&words, room / text);
    let mut y =
        plot.at(0.0, 0.0).y + 1.4 * text * f64::from(u32::try_from(lines.len()).unwrap_or(1));
    for line in lines {
        scene.text(Role::Note, Point::new(x, y), text, anchor, line);
        y -= 1.4 * text;
    }
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let Some(track) = sound_track(maker.analysis) else { return Vec::new() };
    let plot = Plot::new(maker.frame);
    let [wide, high] = plot.scale();
    let zero = plot.at(0.0, 0.0);
    let across = || DragMapping::Lever { zero: zero.x, per_unit: wide };
    let up = || DragMapping::Along { zero: zero.y, factor: 1.0 / high };
    let all = track.shape();
    let mut handles = Vec::new();
    if track.points.is_empty() {
        let [[start, low], [end, throw]] = [all[0], all[1]];
        let right = maker.analysis.selector.step_deg() * (1.0 + BEYOND / 2.0);
        handles.extend([
            maker.handle(Slot::Part(FieldId::TrackStart), plot.at(start, low), across()),
            maker.handle(Slot::Part(FieldId::TrackEnd), plot.at(end, throw), across()),
            maker.handle(Slot::Part(FieldId::ForkThrow), plot.at(right.max(end), throw), up()),
        ]);
    }
    for (at, [deg, mm]) in track.points.iter().copied().enumerate() {
        let foot = Point::new(plot.at(deg, mm).x, plot.inside.min.y);
        handles.extend([
            maker.handle(Slot::TrackPoint(at, FieldId::TrackAngle), foot, across()),
            maker.handle(Slot::TrackPoint(at, FieldId::TrackTravel), plot.at(deg, mm), up()),
        ]);
    }
    handles.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scene::words_width;

    #[test]
    fn what_rocking_costs_is_told_on_the_side_of_home_that_has_room() {
        let mut design = crate::design::example();
        design.selector.detent = Some(crate::design::DetentSpec::default());
        design.selector.track = Some(TrackSpec::default());
        let analysis = Analysis::of(&design);
        for wide in 120..400 {
            let frame = TRACK.frame(&analysis, f64::from(wide), 0.5, 12.0);
            let plot = Plot::new(&frame);
            let mut scene = Scene::new(frame.bounds);
            cost(&mut scene, &analysis, &frame, &plot, Reader::default());
            for item in &scene.items {
                let Shape::Text(text) = &item.shape else { panic!("words") };
                let start = text.at.x - words_width(&text.words) * frame.text_mm;
                assert_eq!(text.anchor, Anchor::End, "{wide}");
                let room = text.words.contains(' ') || wide > 200;
                assert!(!room || start > plot.inside.min.x, "{wide}: {} over the axis", text.words);
            }
        }
    }
}
