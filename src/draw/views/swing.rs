//! What the foot gives: how far it turns the shaft, and how rod and lever lie meanwhile.

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;
use crate::draw::frame::{
    Axes, AxisNumber, BELOW, Canvas, Frame, LABEL, LEFT, Plot, TITLE, angle_ticks_deg, cased,
    empty_scene, has_label_margin, margin_labels, right_margin, ticks,
};
use crate::draw::linkage_subject::{SUBJECT, sound_linkage, why_absent};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Bounds, Role, Scene};
use crate::draw::view::View;
use crate::ring::Point;
use crate::selector::{CRAMPED, Pedal, PerStroke, Posture, Stroke};
use crate::units::{Angle, Quantity, decimal, sort_by_number};

/// The chart of the shaft's swing.
pub static SWING: View = View {
    key: "swing",
    file_name: "shaft-swing",
    title: "Shaft swing",
    caption: "Across: foot travel, pressing to the left, lifting to the right. \
              Above: shaft rotation. Below: the angle between rod and lever.",
    shape: 0.66,
    screen_shape: [0.66, 0.9],
    subject: SUBJECT,
    frame,
    draw,
    ..View::BASE
};

/// Least height of each of the two charts, in letter heights.
const LEAST: f64 = 7.0;

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let least = (2.0 * (TITLE + LEAST) + BELOW) * canvas.letter;
    let canvas = Canvas { shape: canvas.shape.max(least), ..*canvas };
    Frame { axes: axes(analysis), ..Frame::plain(&canvas) }
}

/// The angle between rod and lever is never farther from their being in line, degrees.
const SQUARE_DEG: f64 = 90.0;

/// What the chart of the swing covers.
fn axes(analysis: &Analysis) -> [[f64; 2]; 2] {
    let swing = analysis.selector.swing();
    let foot_mm = swing.map_or(PerStroke::both(1.0), |swing| swing.pedal.foot_mm);
    let farthest = swing.map_or(0.0, |swing| {
        let turns = swing.reach.iter().flat_map(|reach| [reach.farthest, reach.shaft]);
        turns.map(Angle::degrees).fold(0.0, f64::max)
    });
    let stops = analysis.selector.strokes().map_or([0.0; 2], |claw| {
        Stroke::BOTH.map(|stroke| claw.claw.swing_to_stop(stroke).degrees())
    });
    let farthest = stops.into_iter().fold(farthest, f64::max).clamp(1.0, 720.0);
    let step = angle_ticks_deg(farthest, 5)[1];
    let top = (farthest / step - 1e-9).ceil() * step;
    [[-foot_mm.press, foot_mm.lift], [0.0, top]]
}

/// The two charts, one over the other.
struct Charts<'a> {
    frame: &'a Frame,
    /// Of the swing, and of the angle between rod and lever if there are any.
    parts: [Bounds; 2],
}

impl<'a> Charts<'a> {
    fn on(frame: &'a Frame, both: bool) -> Self {
        let (Bounds { min, max }, text) = (frame.bounds, frame.text_mm);
        let right = right_margin(has_label_margin(frame.letter()));
        let (left, right) = (min.x + LEFT * text, max.x - right * text);
        let (low, high) = (min.y + BELOW * text, max.y - TITLE * text);
        let middle = (low + high) / 2.0;
        let part = |low: f64, high: f64| Bounds {
            min: Point::new(left, low),
            max: Point::new(right, high),
        };
        let upper = if both { middle + TITLE / 2.0 * text } else { low };
        Self { frame, parts: [part(upper, high), part(low, middle - TITLE / 2.0 * text)] }
    }

    fn swing(&self) -> Plot<'a> {
        let [across, up] = self.frame.axes;
        Plot::within(self.frame, self.parts[0], across, up)
    }

    fn rod(&self) -> Plot<'a> {
        Plot::within(self.frame, self.parts[1], self.frame.axes[0], [0.0, SQUARE_DEG])
    }

    fn axes(&self, part: usize) -> Axes {
        Axes::new(self.frame, self.parts[part])
    }

    /// Border, numbers up the left edge and title of a chart.
    fn edge(&self, scene: &mut Scene, part: usize, plot: &Plot, top: f64, title: String) {
        let axes = self.axes(part);
        let degrees = angle_ticks_deg(top, axes.room_up().min(5)).into_iter();
        let numbers: Vec<AxisNumber> =
            degrees.map(|deg| (plot.at(0.0, deg).y, format!("{deg:.0}"))).collect();
        axes.grid(scene, &numbers);
        axes.beside(scene, &numbers, None);
        axes.title_beside(scene, title, 1.0);
        axes.outline(scene);
    }

    /// Levels of a chart with their words: at the right, or at their own ends where there is no margin.
    fn levels(&self, scene: &mut Scene, part: usize, mut levels: Vec<Level>) {
        sort_by_number(&mut levels, |level| level.y);
        for level in &levels {
            scene.line(Role::Level, &level.ends.map(|x| Point::new(x, level.y)));
        }
        let text = self.frame.text_mm;
        if has_label_margin(self.frame.letter()) {
            let labels: Vec<AxisNumber> =
                levels.into_iter().map(|level| (level.y, level.words)).collect();
            return margin_labels(scene, self.frame, &self.parts[part], &labels);
        }
        let last = levels.len().saturating_sub(1);
        for (at, level) in levels.into_iter().enumerate() {
            let [from, to] = level.ends;
            // The lowest is written below its line, the highest above it.
            let up = if at == last { 0.9 } else { -0.9 };
            let (anchor, x) = if to > from {
                (Anchor::End, to - 0.4 * text)
            } else {
                (Anchor::Start, to + 0.4 * text)
            };
            let place = Point::new(x, level.y + up * text);
            scene.text(Role::Note, place, LABEL * text, anchor, level.words);
        }
    }
}

/// A level of a chart from one place to another, with its words.
struct Level {
    y: f64,
    ends: [f64; 2],
    words: String,
}

/// Places of a stroke from rest to its end: the foot, how far the shaft has turned with all its turns,
/// and the posture.
fn walk(pedal: &Pedal, stroke: Stroke, foot_mm: f64) -> Vec<(f64, f64, Posture)> {
    let (mut turned, mut last) = (0.0, 0.0);
    let place = |step: u8| {
        let foot = stroke.sign() * foot_mm * f64::from(step) / 60.0;
        let posture = pedal.posture(foot).ok().flatten()?;
        let shaft = posture.shaft.radians();
        turned += Angle::from_radians(shaft - last).signed().degrees();
        last = shaft;
        Some((foot, turned, posture))
    };
    (0..=60).filter_map(place).collect()
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let Some(swing) = analysis.selector.swing() else {
        let why = match sound_linkage(analysis) {
            Some(_) => say::no_swing,
            None => why_absent(analysis),
        };
        return empty_scene(frame, why, options.reader);
    };
    let reader = options.reader;
    let foot = swing.pedal.foot_mm;
    let has_rod = swing.rest.transmission.is_some();
    let charts = Charts::on(frame, has_rod);
    let (plot, rod) = (charts.swing(), charts.rod());
    let mut scene = Scene::new(frame.bounds);
    charts.edge(&mut scene, 0, &plot, frame.axes[1][1], say::shaft_axis().show(reader));
    if has_rod {
        charts.edge(&mut scene, 1, &rod, SQUARE_DEG, say::rod_axis().show(reader));
        let ends = [-foot.press, foot.lift].map(|x| rod.at(x, 0.0).x);
        let words = say::binds_below(CRAMPED[0]).show(reader);
        let binds = Level { y: rod.at(0.0, CRAMPED[0]).y, ends, words };
        charts.levels(&mut scene, 1, vec![binds]);
    }
    travels(&mut scene, &charts.axes(usize::from(has_rod)), &plot, foot, reader);
    charts.levels(&mut scene, 0, needs(analysis, &plot, foot, reader));
    let [lifts, mut places] =
        Stroke::BOTH.map(|stroke| walk(&swing.pedal, stroke, swing.reach[stroke].foot_mm));
    places.reverse();
    // Rest is in both.
    places.extend(lifts.into_iter().skip(1));
    let turned = |(foot, deg, _): &(f64, f64, Posture)| plot.at(*foot, deg.abs());
    cased(&mut scene, Role::CurveA, &places.iter().map(turned).collect::<Vec<_>>());
    let square = |(foot, _, posture): &(f64, f64, Posture)| {
        let angle = posture.transmission?.degrees();
        Some(rod.at(*foot, angle.min(180.0 - angle)))
    };
    let angles: Vec<_> = places.iter().filter_map(square).collect();
    if !angles.is_empty() {
        cased(&mut scene, Role::CurveA, &angles);
    }
    for (stroke, row) in Stroke::BOTH.into_iter().zip([1.0, 2.4]) {
        let reach = &swing.reach[stroke];
        if reach.locks {
            let x = stroke.sign() * reach.foot_mm;
            ends(&mut scene, frame, &plot, x, row, say::locks().show(reader));
        }
        if let Some(at_mm) = reach.turns_back_at_mm {
            let x = stroke.sign() * at_mm;
            ends(&mut scene, frame, &plot, x, row, say::turns_back().show(reader));
        }
    }
    scene
}

/// An upright mark through the chart of the swing, with its words towards the middle, so many letter heights
/// over its foot.
fn ends(scene: &mut Scene, frame: &Frame, plot: &Plot, foot_mm: f64, row: f64, words: String) {
    let [low, high] = frame.axes[1];
    let (from, to) = (plot.at(foot_mm, low), plot.at(foot_mm, high));
    cased(scene, Role::Level, &[from, to]);
    let text = frame.text_mm;
    let (anchor, off) = if foot_mm < 0.0 { (Anchor::Start, 0.4) } else { (Anchor::End, -0.4) };
    let at = Point::new(from.x + off * text, from.y + row * text);
    scene.text(Role::Note, at, LABEL * text, anchor, words);
}

/// Numbers of the foot's travel, the same both ways.
fn travels(scene: &mut Scene, axes: &Axes, plot: &Plot, foot: PerStroke<f64>, reader: Reader) {
    let scale = Quantity::Length.scale(reader.units);
    let room = axes.room_across(5).clamp(3, 7).div_ceil(2);
    let each = ticks(foot.lift.max(foot.press) / scale, room);
    let signed = |end: f64, sign: f64| {
        let minus = if sign < 0.0 { "−" } else { "" };
        let number = move |at: &f64| {
            (plot.at(sign * at * scale, 0.0).x, format!("{minus}{}", decimal(*at, 6)))
        };
        let within = each.iter().skip(1).filter(move |at| **at * scale <= end * (1.0 + 1e-9));
        within.map(number).collect::<Vec<AxisNumber>>()
    };
    let mut numbers = signed(foot.press, -1.0);
    numbers.push((plot.at(0.0, 0.0).x, "0".to_owned()));
    numbers.extend(signed(foot.lift, 1.0));
    axes.below(scene, &numbers, None);
    let unit = Quantity::Length.unit(reader.units).to_owned();
    axes.title_below(scene, say::toe_axis(unit).show(reader));
}

/// The swing that the stop of the claw needs, each way.
fn needs(analysis: &Analysis, plot: &Plot, foot: PerStroke<f64>, reader: Reader) -> Vec<Level> {
    let Some(claw) = analysis.selector.strokes() else { return Vec::new() };
    let level = |stroke: Stroke| {
        let deg = claw.claw.swing_to_stop(stroke).degrees();
        let says = match stroke {
            Stroke::Lift => say::stop_lifting,
            Stroke::Press => say::stop_pressing,
        };
        let ends = [0.0, stroke.sign() * foot[stroke]].map(|x| plot.at(x, 0.0).x);
        Level { y: plot.at(0.0, deg).y, ends, words: says(deg).show(reader) }
    };
    Stroke::BOTH.map(level).into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::LinkageSpec;
    use crate::draw::scene::Shape;
    use crate::fields::{FieldId, Slot};

    /// A lever shorter than the arm, dragged round by a pedal that turns most of a turn.
    const DRAGGED_ROUND: [(FieldId, f64); 9] = [
        (FieldId::ShaftAhead, 30.0),
        (FieldId::ShaftAbove, 0.0),
        (FieldId::PedalArm, 60.0),
        (FieldId::RodLength, 60.0),
        (FieldId::ShaftLever, 55.0),
        (FieldId::FootArm, 20.0),
        (FieldId::FootBend, 100.0),
        (FieldId::FootLift, 80.0),
        (FieldId::FootPress, 80.0),
    ];

    fn charted(set: &[(FieldId, f64)]) -> (Analysis, Frame, Scene) {
        let mut design = crate::design::example();
        design.selector.linkage = Some(LinkageSpec::default());
        for (id, value) in set {
            assert!(design.set(Slot::Part(*id), *value));
        }
        let analysis = Analysis::of(&design);
        let frame = SWING.frame(&analysis, 600.0, 0.4, 12.0);
        let scene = SWING.draw(&analysis, &frame, &ViewOptions::default());
        (analysis, frame, scene)
    }

    #[test]
    fn a_swing_beyond_a_right_angle_is_charted_whole() {
        let (analysis, frame, scene) = charted(&DRAGGED_ROUND);
        let swing = analysis.selector.swing().expect("it reaches");
        let deg = swing.reach.press.shaft.degrees();
        assert!(deg > 270.0 && frame.axes[1][1] >= deg, "{deg}");
        let wanted = Charts::on(&frame, true).swing().at(-swing.reach.press.foot_mm, deg);
        let curve = scene.items.iter().find(|item| item.role == Role::CurveA).expect("the curve");
        let Shape::Path { segments, .. } = &curve.shape else { panic!("{curve:?}") };
        let start = segments[0].from();
        assert!(start.distance(wanted) < 0.1, "{start:?} {wanted:?}");
        assert_eq!(charted(&[]).1.axes[1][1], 20.0);
    }

    #[test]
    fn the_chart_marks_where_the_shaft_turns_back() {
        let through = [
            (FieldId::ShaftAhead, 150.0),
            (FieldId::ShaftAbove, 0.0),
            (FieldId::RodLength, 118.45),
            (FieldId::FootBend, 60.0),
        ];
        let marked = |scene: &Scene| format!("{:?}", scene.items).contains("turns back");
        let (analysis, _, scene) = charted(&through);
        let reach = analysis.selector.swing().expect("it reaches").reach;
        assert_eq!(marked(&scene), reach.iter().any(|reach| reach.turns_back_at_mm.is_some()));
        assert!(marked(&scene) && !marked(&charted(&[]).2));
    }
}
