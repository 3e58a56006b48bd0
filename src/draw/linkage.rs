//! Pedal, rod and lever to scale, and the chart of what the foot gives.

use super::claw::Moment;
use super::frame::{Bounds, Frame};
use super::handle::{Grip, Handle};
use super::plot::{OUTSIDE, Plot, bar, circle, cross, nothing, wide};
use super::scene::{Anchor, Role, Scene};
use crate::design::{Linkage, PedalBy};
use crate::fields::FieldId;
use crate::report::{Analysis, PedalSwing};
use crate::ring::Point;
use crate::selector::{CRAMPED, Joined, Pedal, Posture, Rod, Stroke};
use crate::units::{Angle, DisplayUnits, Quantity};

/// Why there is no linkage to draw.
fn missing(analysis: &Analysis) -> &'static str {
    let given = analysis.design.selector.linkage.is_some();
    if given { OUTSIDE } else { "No linkage is given yet." }
}

/// Front to the left.
const fn seen(p: Point) -> Point {
    Point::new(-p.x, p.y)
}

/// Every point that the drawing has to hold.
pub(super) fn extent(analysis: &Analysis) -> Vec<Point> {
    let Some(linkage) = linkage(analysis) else { return Vec::new() };
    let pedal = linkage.working();
    let mut points = vec![Point::default()];
    if let Joined::ByRod(rod) = &pedal.joined {
        points.extend([rod.shaft, rod.lever_end()]);
    }
    match analysis.selecting.swing() {
        Some(swing) => {
            let ends = postures(&pedal, swing);
            points.extend(ends.iter().flat_map(joints));
            // Room for the word beyond the peg.
            let Point { x, y } = swing.rest.peg;
            points.push(Point::new(1.08 * x, 1.08 * y));
        }
        None => points.extend(circles(&pedal)),
    }
    points.into_iter().map(seen).collect()
}

/// Corners about the circles that show why a rod does not reach.
fn circles(pedal: &Pedal) -> Vec<Point> {
    let Joined::ByRod(rod) = &pedal.joined else { return Vec::new() };
    let about = |middle: Point, radius: f64| {
        [-radius, radius].map(|by| Point::new(middle.x + by, middle.y + by))
    };
    [about(Point::default(), rod.arm_mm), about(rod.lever_end(), rod.rod_mm)].concat()
}

/// The linkage, if its numbers are within their limits.
fn linkage(analysis: &Analysis) -> Option<&Linkage> {
    analysis.selecting.pedal.as_ref()?;
    analysis.design.selector.linkage.as_ref()
}

fn joints(posture: &Posture) -> Vec<Point> {
    let ends = [posture.arm_end, posture.lever_end].into_iter().flatten();
    ends.chain([posture.peg]).collect()
}

/// At rest, at the end of lifting and at the end of pressing.
fn postures(pedal: &Pedal, swing: &PedalSwing) -> Vec<Posture> {
    let ends = Stroke::BOTH.map(|stroke| stroke.sign() * swing.reach[stroke as usize].foot_mm);
    let end = |foot_mm: f64| pedal.posture(foot_mm).ok().flatten();
    [Some(swing.rest), end(ends[0]), end(ends[1])].into_iter().flatten().collect()
}

/// Where pedal and linkage stand at a moment of a stroke; none at rest, or without the claw that says
/// how far a stroke turns the shaft.
fn played(analysis: &Analysis, moment: Moment) -> Option<Posture> {
    let (stroke, share) = moment?;
    let selecting = &analysis.selecting;
    let (swing, strokes) = selecting.swing().zip(selecting.strokes())?;
    let (shaft, _) = strokes.at(stroke, share, selecting.star.as_ref());
    let foot_mm = swing.pedal.foot_for(stroke, shaft).ok()??;
    swing.pedal.posture(stroke.sign() * foot_mm).ok()?
}

pub(super) fn linkage_view(
    analysis: &Analysis,
    frame: &Frame,
    units: DisplayUnits,
    moment: Moment,
) -> Scene {
    let Some(linkage) = linkage(analysis) else { return nothing(frame, missing(analysis)) };
    let pedal = linkage.working();
    let mut scene = Scene::new(frame.bounds);
    let drawn = Drawn { frame, pedal: &pedal, units };
    drawn.pivots(&mut scene);
    match analysis.selecting.swing() {
        Some(swing) => drawn.reaching(&mut scene, swing, played(analysis, moment)),
        None => drawn.not_reaching(&mut scene),
    }
    scene
}

struct Drawn<'a> {
    frame: &'a Frame,
    pedal: &'a Pedal,
    units: DisplayUnits,
}

impl Drawn<'_> {
    fn rod(&self) -> Option<&Rod> {
        match &self.pedal.joined {
            Joined::ByRod(rod) => Some(rod),
            Joined::OnShaft => None,
        }
    }

    fn pivots(&self, scene: &mut Scene) {
        let text = self.frame.text_mm;
        let name = if self.rod().is_some() { "pivot" } else { "shaft" };
        let pivot = Point::default();
        self.pivot(scene, pivot);
        let below = Point::new(pivot.x, pivot.y - 1.8 * text);
        scene.text(Role::Label, below, text, Anchor::Middle, name);
        if let Some(rod) = self.rod() {
            let shaft = seen(rod.shaft);
            self.pivot(scene, shaft);
            // Beside it, because its handles stand below and in front.
            let beside = Point::new(shaft.x + 1.4 * text, shaft.y + 0.9 * text);
            scene.text(Role::Label, beside, text, Anchor::Start, "shaft");
        }
        let Point { x, y } = self.frame.bounds.min;
        let at = Point::new(x + 0.5 * text, y + text);
        scene.text(Role::Note, at, text, Anchor::Start, "← front");
    }

    fn pivot(&self, scene: &mut Scene, at: Point) {
        let text = self.frame.text_mm;
        cross(scene, at, 1.2 * text);
        circle(scene, Role::Tip, at, 0.45 * text);
    }

    /// At rest or, solid, where a stroke has brought it.
    fn reaching(&self, scene: &mut Scene, swing: &PedalSwing, played: Option<Posture>) {
        let all = postures(self.pedal, swing);
        let now = played.unwrap_or(swing.rest);
        for end in &all[usize::from(played.is_none())..] {
            for pair in self.bars(end) {
                scene.line(Role::Removed, &pair);
            }
        }
        self.arc(scene, swing);
        let half = 0.35 * self.frame.text_mm;
        for [from, to] in self.bars(&now) {
            bar(scene, Role::Tip, from, to, half);
        }
        let peg = seen(now.peg);
        circle(scene, Role::Tip, peg, 0.8 * self.frame.text_mm);
        self.word_off(scene, Role::Label, peg, peg.angle(), "peg".to_owned());
        self.angle(scene, &now);
    }

    /// Words beside a joint in this direction, on the sheet.
    fn word_off(&self, scene: &mut Scene, role: Role, joint: Point, way: f64, words: String) {
        let text = self.frame.text_mm;
        let half = (wide(&words) / 2.0 + 0.2) * text;
        let Bounds { min, max } = self.frame.bounds;
        let off = Point::polar(1.3 * text, way);
        let aside = half * libm::cos(way);
        let x = (joint.x + off.x + aside).min(max.x - half).max(min.x + half);
        let y = (joint.y + off.y).min(max.y - text).max(min.y + text);
        scene.text(role, Point::new(x, y), text, Anchor::Middle, words);
    }

    /// The parts of a posture, each from joint to joint.
    fn bars(&self, posture: &Posture) -> Vec<[Point; 2]> {
        let pivot = Point::default();
        let mut bars = vec![[pivot, seen(posture.peg)]];
        if let (Some(rod), Some(arm), Some(lever)) =
            (self.rod(), posture.arm_end, posture.lever_end)
        {
            let (arm, lever) = (seen(arm), seen(lever));
            bars.extend([[pivot, arm], [arm, lever], [seen(rod.shaft), lever]]);
        }
        bars
    }

    /// The way of the peg.
    fn arc(&self, scene: &mut Scene, swing: &PedalSwing) {
        let [lift, press] = Stroke::BOTH.map(|stroke| swing.reach[stroke as usize].foot_mm);
        let at = |step: u8| {
            let foot = -press + (lift + press) * f64::from(step) / 24.0;
            self.pedal.posture(foot).ok().flatten().map(|posture| seen(posture.peg))
        };
        let points: Vec<_> = (0..=24).filter_map(at).collect();
        scene.line(Role::Way, &points);
    }

    /// The angle between rod and lever, with its number on the free side of the joint.
    fn angle(&self, scene: &mut Scene, now: &Posture) {
        let Posture { transmission, arm_end, lever_end, .. } = *now;
        let Some((angle, joint)) = transmission.zip(lever_end) else { return };
        let (Some(rod), Some(arm)) = (self.rod(), arm_end) else { return };
        let joint = seen(joint);
        let way = |to: Point| Point::new(to.x - joint.x, to.y - joint.y).angle();
        let start = way(seen(rod.shaft));
        let sweep = Angle::from_radians(way(seen(arm)) - start).signed().radians();
        let text = self.frame.text_mm;
        let cramped = angle.degrees().min(180.0 - angle.degrees()) < CRAMPED[0];
        let role = if cramped { Role::Level } else { Role::Dimension };
        let on_arc = |step: u8| {
            let p = Point::polar(1.6 * text, start + sweep * f64::from(step) / 12.0);
            Point::new(joint.x + p.x, joint.y + p.y)
        };
        scene.line(role, &(0..=12).map(on_arc).collect::<Vec<_>>());
        if cramped {
            // A narrow arc would be overlooked.
            circle(scene, Role::Level, joint, 1.6 * text);
        }
        let shown = Quantity::Angle.show((angle.degrees() * 10.0).round() / 10.0, self.units);
        let free = start + sweep / 2.0 + std::f64::consts::PI;
        self.word_off(scene, Role::Note, joint, free, shown);
    }

    /// What the arm and the rod can reach: two circles that do not meet.
    fn not_reaching(&self, scene: &mut Scene) {
        let Some(rod) = self.rod() else { return };
        let end = rod.lever_end();
        bar(scene, Role::Tip, seen(rod.shaft), seen(end), 0.35 * self.frame.text_mm);
        circle(scene, Role::Root, Point::default(), rod.arm_mm);
        circle(scene, Role::Root, seen(end), rod.rod_mm);
        let text = self.frame.text_mm;
        let top = self.frame.bounds.max;
        let at = Point::new(top.x - 0.5 * text, top.y - text);
        let words = "The rod does not reach: the circles do not meet.";
        scene.text(Role::Note, at, text, Anchor::End, words);
    }
}

/// The handles of the linkage.
pub(super) fn linkage_handles(analysis: &Analysis, frame: &Frame) -> Vec<Handle> {
    let Some(linkage) = linkage(analysis) else { return Vec::new() };
    let pedal = linkage.working();
    let maker = |id: FieldId, at: Point, grip: Grip| {
        Handle::on_part(analysis, super::ViewKind::Linkage, id, at, grip)
    };
    let pivot = Point::default();
    let half = |from: Point, to: Point| Point::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
    let far = |from: Point| Grip::Far { from, factor: 2.0 };
    let rest = analysis.selecting.swing().map(|swing| swing.rest);
    let mut handles = Vec::new();
    if let Joined::ByRod(rod) = &pedal.joined {
        let (shaft, end) = (seen(rod.shaft), seen(rod.lever_end()));
        let text = frame.text_mm;
        handles.extend([
            maker(FieldId::ShaftLeverAt, end, Grip::Lean { about: shaft }),
            maker(FieldId::ShaftLever, half(shaft, end), far(shaft)),
            maker(
                FieldId::ShaftAhead,
                Point::new(shaft.x, shaft.y - 3.0 * text),
                Grip::Axis { factor: -1.0 },
            ),
            maker(
                FieldId::ShaftAbove,
                Point::new(shaft.x - 3.0 * text, shaft.y),
                Grip::Along { zero: 0.0, factor: 1.0 },
            ),
        ]);
        // While the rod does not reach, the arm is taken for upright, so that it can be drawn back.
        let arm = rest.and_then(|rest| rest.arm_end).map_or(Point::new(0.0, rod.arm_mm), seen);
        handles.push(maker(FieldId::PedalArm, half(pivot, arm), far(pivot)));
    }
    if let Some(rest) = rest {
        let peg = seen(rest.peg);
        let (id, grip) = match linkage.by {
            PedalBy::OnShaft => (FieldId::FootBend, Grip::Lean { about: pivot }),
            PedalBy::RodAbove | PedalBy::RodBelow => (FieldId::RodLength, Grip::Peg { pedal }),
        };
        handles.push(maker(id, peg, grip));
        handles.push(maker(FieldId::FootArm, half(pivot, peg), far(pivot)));
        for (stroke, id) in Stroke::BOTH.into_iter().zip([FieldId::FootLift, FieldId::FootPress]) {
            handles.push(foot_end(analysis, &pedal, peg, stroke, id));
        }
    }
    handles.into_iter().flatten().collect()
}

/// The end of the foot's travel; it stands where the foot would be even where the rod locks before.
fn foot_end(
    analysis: &Analysis,
    pedal: &Pedal,
    peg: Point,
    stroke: Stroke,
    id: FieldId,
) -> Option<Handle> {
    // With the front to the left, lifting turns a peg ahead of the pivot clockwise.
    let way = if peg.x <= 1e-9 { -stroke.sign() } else { stroke.sign() };
    let zero = peg.angle();
    let radius = pedal.foot_arm_mm;
    let at = Point::polar(radius, zero + way * pedal.foot_mm[stroke as usize] / radius);
    let grip = Grip::Arc { zero, factor: way * radius };
    Handle::on_part(analysis, super::ViewKind::Linkage, id, at, grip)
}

// ---- the chart ----

/// Least top of the chart, degrees: a right angle between rod and lever.
const TOP_DEG: f64 = 90.0;

/// Numbers up the chart, degrees: every third of a right angle, or every right angle in a tall one.
fn rungs_deg(top: f64) -> impl Iterator<Item = f64> {
    let each = if top > 2.0 * TOP_DEG { TOP_DEG } else { TOP_DEG / 3.0 };
    std::iter::successors(Some(0.0), move |at| Some(at + each)).take_while(move |at| *at <= top)
}

/// What the chart covers.
pub(super) fn axes(analysis: &Analysis) -> [[f64; 2]; 2] {
    let swing = analysis.selecting.swing();
    let foot_mm = swing.map_or([1.0; 2], |swing| swing.pedal.foot_mm);
    let farthest = swing.map_or(0.0, |swing| {
        let turns = swing.reach.iter().flat_map(|reach| [reach.farthest, reach.shaft]);
        turns.map(Angle::degrees).fold(0.0, f64::max)
    });
    let top = (farthest / TOP_DEG - 1e-9).ceil().max(1.0) * TOP_DEG;
    [[-foot_mm[1], foot_mm[0]], [0.0, top]]
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

pub(super) fn swing_chart(analysis: &Analysis, frame: &Frame, units: DisplayUnits) -> Scene {
    let Some(swing) = analysis.selecting.swing() else {
        let given = linkage(analysis).is_some();
        let words =
            if given { "The rod does not reach: nothing to show." } else { missing(analysis) };
        return nothing(frame, words);
    };
    let pedal = &swing.pedal;
    let [lift, press] = pedal.foot_mm;
    let plot = Plot::new(frame);
    let mut scene = Scene::new(frame.bounds);
    plot.outline(&mut scene);
    for deg in rungs_deg(frame.axes[1][1]) {
        plot.beside(&mut scene, deg, format!("{deg:.0}°"));
    }
    travels(&mut scene, &plot, [lift, press], units);
    if swing.rest.transmission.is_some() {
        plot.level(&mut scene, CRAMPED[0], [lift, -press], Some("cramps below 40°"));
    }
    needs(&mut scene, analysis, &plot, [lift, press]);
    let [lifts, mut places] =
        Stroke::BOTH.map(|stroke| walk(pedal, stroke, swing.reach[stroke as usize].foot_mm));
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
        let reach = &swing.reach[stroke as usize];
        if reach.locks {
            plot.upright(&mut scene, stroke.sign() * reach.foot_mm, Some("locks"));
        }
        if let Some(at_mm) = reach.turns_back_at_mm {
            plot.upright(&mut scene, stroke.sign() * at_mm, Some("turns back"));
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
    if ends.iter().all(|(foot, words)| plot.letters_across(0.0, *foot) > 1.0 + wide(words)) {
        plot.below(scene, 0.0, "0".to_owned());
    }
    for (foot, words) in ends {
        plot.below(scene, foot, words);
    }
}

/// The swing that the stop of the claw needs, each way.
fn needs(scene: &mut Scene, analysis: &Analysis, plot: &Plot, foot: [f64; 2]) {
    let Some(claw) = analysis.selecting.strokes() else { return };
    for stroke in Stroke::BOTH {
        let deg = claw.claw.swing_to_stop(stroke).degrees();
        if deg < axes(analysis)[1][1] {
            let end = stroke.sign() * foot[stroke as usize];
            let words = format!("stop at {deg:.1}°");
            // Beside the other level the line stands for itself.
            let clear = plot.letters_up(deg, CRAMPED[0]) > 1.3;
            plot.level(scene, deg, [0.0, end], clear.then_some(words.as_str()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::ViewKind;
    use crate::draw::scene::Shape;
    use crate::fields::Slot;

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
        design.selector.linkage = Some(Linkage::default());
        for (id, value) in set {
            assert!(design.set(Slot::Part(*id), *value));
        }
        let analysis = Analysis::of(&design);
        let frame = Frame::of(ViewKind::Swing, &analysis, 600.0, 0.4, 12.0);
        let scene = swing_chart(&analysis, &frame, DisplayUnits::default());
        (analysis, frame, scene)
    }

    #[test]
    fn the_linkage_follows_a_stroke_to_the_stop() {
        let mut design = crate::design::example();
        design.selector.linkage = Some(Linkage::default());
        design.selector.claw = Some(crate::design::Claw::default());
        let analysis = Analysis::of(&design);
        let strokes = analysis.selecting.strokes().expect("the claw turns the drum").strokes;
        for stroke in Stroke::BOTH {
            let there = played(&analysis, Some((stroke, 1.0))).expect("it gets there");
            let turned = there.shaft.radians().abs() - strokes[stroke as usize].shaft.radians();
            assert!(turned.abs() < 1e-9, "{stroke:?}: {turned}");
            let begun = played(&analysis, Some((stroke, 0.0))).expect("it is at rest");
            assert!(begun.shaft.radians().abs() < 1e-9);
        }
        assert_eq!(played(&analysis, None), None);
    }

    #[test]
    fn a_swing_beyond_a_right_angle_is_charted_whole() {
        let (analysis, frame, scene) = charted(&DRAGGED_ROUND);
        let swing = analysis.selecting.swing().expect("it reaches");
        let deg = swing.reach[1].shaft.degrees();
        assert!(deg > 270.0 && frame.axes[1][1] >= deg, "{deg}");
        let wanted = Plot::new(&frame).at(-swing.reach[1].foot_mm, deg);
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
        let reach = analysis.selecting.swing().expect("it reaches").reach;
        assert_eq!(marked(&scene), reach.iter().any(|reach| reach.turns_back_at_mm.is_some()));
        assert!(marked(&scene) && !marked(&charted(&[]).2));
    }
}
