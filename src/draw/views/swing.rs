//! What the foot gives: how far it turns the shaft, and how rod and lever lie meanwhile.

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;
use crate::draw::frame::{Canvas, Frame, Plot, empty_scene};
use crate::draw::linkage_subject::{SUBJECT, sound_linkage, why_absent};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Role, Scene, words_width};
use crate::draw::view::View;
use crate::selector::{CRAMPED, Pedal, PerStroke, Posture, Stroke};
use crate::units::{Angle, DisplayUnits, Quantity};

/// The chart of the shaft's swing.
pub static SWING: View = View {
    key: "swing",
    file_name: "shaft-swing",
    title: "Shaft swing",
    caption: "Across: toe travel, pressing to the left, lifting to the right. \
              Solid: shaft rotation. Dashed: how far rod and lever are from being in line.",
    shape: 0.66,
    screen_shape: [0.66; 2],
    subject: SUBJECT,
    frame,
    draw,
    ..View::BASE
};

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    Frame { axes: axes(analysis), ..Frame::plain(canvas) }
}

/// Least top of the chart, degrees: a right angle between rod and lever.
const TOP_DEG: f64 = 90.0;

/// Numbers up the chart, degrees: every third of a right angle, or every right angle in a tall one.
fn rungs_deg(top: f64) -> impl Iterator<Item = f64> {
    let each = if top > 2.0 * TOP_DEG { TOP_DEG } else { TOP_DEG / 3.0 };
    std::iter::successors(Some(0.0), move |at| Some(at + each)).take_while(move |at| *at <= top)
}

/// What the chart covers.
fn axes(analysis: &Analysis) -> [[f64; 2]; 2] {
    let swing = analysis.selector.swing();
    let foot_mm = swing.map_or(PerStroke::both(1.0), |swing| swing.pedal.foot_mm);
    let farthest = swing.map_or(0.0, |swing| {
        let turns = swing.reach.iter().flat_map(|reach| [reach.farthest, reach.shaft]);
        turns.map(Angle::degrees).fold(0.0, f64::max)
    });
    let top = (farthest / TOP_DEG - 1e-9).ceil().max(1.0) * TOP_DEG;
    [[-foot_mm.press, foot_mm.lift], [0.0, top]]
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
    let pedal = &swing.pedal;
    let PerStroke { lift, press } = pedal.foot_mm;
    let plot = Plot::new(frame);
    let mut scene = Scene::new(frame.bounds);
    plot.outline(&mut scene);
    for deg in rungs_deg(frame.axes[1][1]) {
        plot.beside(&mut scene, deg, format!("{deg:.0}°"));
    }
    travels(&mut scene, &plot, [lift, press], options.reader.units);
    if swing.rest.transmission.is_some() {
        let binds = say::binds_below(CRAMPED[0]).show(options.reader);
        plot.level(&mut scene, CRAMPED[0], [lift, -press], Some(binds));
    }
    needs(&mut scene, analysis, &plot, pedal.foot_mm, options.reader);
    let [lifts, mut places] =
        Stroke::BOTH.map(|stroke| walk(pedal, stroke, swing.reach[stroke].foot_mm));
    places.reverse();
    // Rest is in both.
    places.extend(lifts.into_iter().skip(1));
    let turned = |(foot, deg, _): &(f64, f64, Posture)| plot.at(*foot, deg.abs());
    scene.line(Role::CurveA, &places.iter().map(turned).collect::<Vec<_>>());
    let square = |(foot, _, posture): &(f64, f64, Posture)| {
        let angle = posture.transmission?.degrees();
        Some(plot.at(*foot, angle.min(180.0 - angle)))
    };
    let angles: Vec<_> = places.iter().filter_map(square).collect();
    if !angles.is_empty() {
        scene.line(Role::CurveB, &angles);
    }
    for stroke in Stroke::BOTH {
        let reach = &swing.reach[stroke];
        if reach.locks {
            plot.upright(
                &mut scene,
                stroke.sign() * reach.foot_mm,
                Some(say::locks().show(options.reader)),
            );
        }
        if let Some(at_mm) = reach.turns_back_at_mm {
            plot.upright(
                &mut scene,
                stroke.sign() * at_mm,
                Some(say::turns_back().show(options.reader)),
            );
        }
    }
    scene
}

/// The ends of the foot's travel, and rest where there is room for it between them.
fn travels(scene: &mut Scene, plot: &Plot, [lift, press]: [f64; 2], units: DisplayUnits) {
    let signed = |words: String| words.replace('-', "−");
    let ends = [
        (-press, signed(Quantity::Length.format(-press, units))),
        (lift, signed(Quantity::Length.show(lift, units))),
    ];
    if ends.iter().all(|(foot, words)| plot.letters_across(0.0, *foot) > 1.0 + words_width(words)) {
        plot.below(scene, 0.0, "0".to_owned());
    }
    for (foot, words) in ends {
        plot.below(scene, foot, words);
    }
}

/// The swing that the stop of the claw needs, each way.
fn needs(
    scene: &mut Scene,
    analysis: &Analysis,
    plot: &Plot,
    foot: PerStroke<f64>,
    reader: Reader,
) {
    let Some(claw) = analysis.selector.strokes() else { return };
    for stroke in Stroke::BOTH {
        let deg = claw.claw.swing_to_stop(stroke).degrees();
        if deg < axes(analysis)[1][1] {
            let end = stroke.sign() * foot[stroke];
            let words = say::stop_at(deg).show(reader);
            // Close to the other level there is no room for words: the line is drawn alone.
            let clear = plot.letters_up(deg, CRAMPED[0]) > 1.3;
            plot.level(scene, deg, [0.0, end], clear.then_some(words));
        }
    }
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
    fn rungs_are_thirds_of_a_right_angle_up_to_two_right_angles() {
        assert_eq!(rungs_deg(90.0).collect::<Vec<_>>(), [0.0, 30.0, 60.0, 90.0]);
        assert_eq!(rungs_deg(180.0).count(), 7);
        assert_eq!(rungs_deg(270.0).collect::<Vec<_>>(), [0.0, 90.0, 180.0, 270.0]);
    }

    #[test]
    fn a_swing_beyond_a_right_angle_is_charted_whole() {
        let (analysis, frame, scene) = charted(&DRAGGED_ROUND);
        let swing = analysis.selector.swing().expect("it reaches");
        let deg = swing.reach.press.shaft.degrees();
        assert!(deg > 270.0 && frame.axes[1][1] >= deg, "{deg}");
        let wanted = Plot::new(&frame).at(-swing.reach.press.foot_mm, deg);
        let curve = scene.items.iter().find(|item| item.role == Role::CurveA).expect("the curve");
        let Shape::Path { segments, .. } = &curve.shape else { panic!("{curve:?}") };
        let start = segments[0].from();
        assert!(start.distance(wanted) < 0.1, "{start:?} {wanted:?}");
        assert_eq!(charted(&[]).1.axes[1][1], 90.0);
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
