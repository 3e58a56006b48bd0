//! Pedal, rod and lever to scale, from the side.

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;

use crate::design::PedalBy;
use crate::draw::frame::{Canvas, Frame, empty_scene};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::linkage_subject::{SUBJECT, sound_linkage, why_absent};
use crate::draw::options::{StrokeMoment, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Role, Scene, bar, circle, cross, words_width};
use crate::draw::view::{Follows, View};
use crate::fields::FieldId;
use crate::model::PedalSwing;
use crate::ring::Point;
use crate::selector::{CRAMPED, Joined, Pedal, Posture, Rod, Stroke};
use crate::units::{Angle, Quantity};

/// The drawing of the linkage.
pub static LINKAGE: View = View {
    key: "linkage",
    file_name: "linkage",
    title: "Pedal and linkage",
    caption: "Seen from the left of the bike, front to the left; a pedal on the right is shown mirrored. \
              Thin lines: the linkage at both ends of the foot travel.",
    shape: 0.66,
    screen_shape: [0.66; 2],
    subject: SUBJECT,
    follows: Follows::Stroke,
    keeps_handles: false,
    frame,
    draw,
    handles,
    ..View::BASE
};

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    Frame::around(&extent(analysis), canvas)
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let Some(linkage) = sound_linkage(analysis) else {
        return empty_scene(frame, why_absent(analysis), options.reader);
    };
    let pedal = linkage.working();
    let mut scene = Scene::new(frame.bounds);
    let drawn = Drawn { frame, pedal: &pedal, reader: options.reader };
    drawn.pivots(&mut scene);
    match analysis.selector.swing() {
        Some(swing) => drawn.reaching(&mut scene, swing, played(analysis, options.stroke)),
        None => drawn.not_reaching(&mut scene),
    }
    scene
}

/// As it is seen from the left of the bike: front to the left.
const fn seen(p: Point) -> Point {
    Point::new(-p.x, p.y)
}

/// Every point that the drawing has to hold.
fn extent(analysis: &Analysis) -> Vec<Point> {
    let Some(linkage) = sound_linkage(analysis) else { return Vec::new() };
    let pedal = linkage.working();
    let mut points = vec![Point::default()];
    if let Joined::ByRod(rod) = &pedal.joined {
        points.extend([rod.shaft, rod.lever_end()]);
    }
    match analysis.selector.swing() {
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

fn joints(posture: &Posture) -> Vec<Point> {
    let ends = [posture.arm_end, posture.lever_end].into_iter().flatten();
    ends.chain([posture.peg]).collect()
}

/// At rest, at the end of lifting and at the end of pressing.
fn postures(pedal: &Pedal, swing: &PedalSwing) -> Vec<Posture> {
    let ends = Stroke::BOTH.map(|stroke| stroke.sign() * swing.reach[stroke].foot_mm);
    let end = |foot_mm: f64| pedal.posture(foot_mm).ok().flatten();
    [Some(swing.rest), end(ends[0]), end(ends[1])].into_iter().flatten().collect()
}

/// How pedal and linkage lie at a moment of a stroke. `None` at rest, and without the claw, which says
/// how far a stroke turns the shaft.
fn played(analysis: &Analysis, moment: Option<StrokeMoment>) -> Option<Posture> {
    let (stroke, share) = moment?;
    let selector = &analysis.selector;
    let (swing, strokes) = selector.swing().zip(selector.strokes())?;
    let (shaft, _) = strokes.at(stroke, share, selector.star.as_ref());
    let foot_mm = swing.pedal.foot_for(stroke, shaft).ok()??;
    swing.pedal.posture(stroke.sign() * foot_mm).ok()?
}

struct Drawn<'a> {
    frame: &'a Frame,
    pedal: &'a Pedal,
    reader: Reader,
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
        let name = if self.rod().is_some() { say::pivot() } else { say::shaft() };
        let pivot = Point::default();
        self.pivot(scene, pivot);
        let below = Point::new(pivot.x, pivot.y - 1.8 * text);
        scene.text(Role::Label, below, text, Anchor::Middle, name.show(self.reader));
        if let Some(rod) = self.rod() {
            let shaft = seen(rod.shaft);
            self.pivot(scene, shaft);
            // Beside it, because its handles are below and in front.
            let beside = Point::new(shaft.x + 1.4 * text, shaft.y + 0.9 * text);
            let shaft = say::shaft().show(self.reader);
            scene.text(Role::Label, beside, text, Anchor::Start, shaft);
        }
        let Point { x, y } = self.frame.bounds.min;
        let at = Point::new(x + 0.5 * text, y + text);
        scene.text(Role::Note, at, text, Anchor::Start, say::front().show(self.reader));
    }

    fn pivot(&self, scene: &mut Scene, at: Point) {
        let text = self.frame.text_mm;
        cross(scene, at, 1.2 * text);
        circle(scene, Role::Tip, at, 0.45 * text);
    }

    /// The linkage where the rod reaches: at rest or, while a stroke is played, where that has brought it.
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
        self.word_off(scene, Role::Label, peg, peg.angle(), say::peg().show(self.reader));
        self.angle(scene, &now);
    }

    /// Words beside a joint in this direction, on the sheet.
    fn word_off(&self, scene: &mut Scene, role: Role, joint: Point, way: f64, words: String) {
        let text = self.frame.text_mm;
        let half = (words_width(&words) / 2.0 + 0.2) * text;
        let Bounds { min, max } = self.frame.bounds;
        let off = Point::polar(1.3 * text, way);
        let aside = half * libm::cos(way);
        let x = (joint.x + off.x + aside).min(max.x - half).max(min.x + half);
        let y = (joint.y + off.y).min(max.y - text).max(min.y + text);
        scene.text(role, Point::new(x, y), text, Anchor::Middle, words);
    }

    /// The pedal, the arm, the rod and the lever, each from joint to joint.
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

    /// The arc that the peg moves on.
    fn arc(&self, scene: &mut Scene, swing: &PedalSwing) {
        let [lift, press] = Stroke::BOTH.map(|stroke| swing.reach[stroke].foot_mm);
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
        let shown = Quantity::Angle.show(angle.degrees(), self.reader.units);
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
        let words = say::rod_out_of_reach().show(self.reader);
        scene.text(Role::Note, at, text, Anchor::End, words);
    }
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let Some(linkage) = sound_linkage(maker.analysis) else { return Vec::new() };
    let pedal = linkage.working();
    let pivot = Point::default();
    let half = |from: Point, to: Point| Point::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
    let far = |from: Point| DragMapping::Far { from, factor: 2.0 };
    let rest = maker.analysis.selector.swing().map(|swing| swing.rest);
    let mut handles = Vec::new();
    if let Joined::ByRod(rod) = &pedal.joined {
        let (shaft, end) = (seen(rod.shaft), seen(rod.lever_end()));
        let text = maker.frame.text_mm;
        handles.extend([
            maker.part(FieldId::ShaftLeverAt, end, DragMapping::Lean { about: shaft }),
            maker.part(FieldId::ShaftLever, half(shaft, end), far(shaft)),
            maker.part(
                FieldId::ShaftAhead,
                Point::new(shaft.x, shaft.y - 3.0 * text),
                DragMapping::Axis { factor: -1.0 },
            ),
            maker.part(
                FieldId::ShaftAbove,
                Point::new(shaft.x - 3.0 * text, shaft.y),
                DragMapping::Along { zero: 0.0, factor: 1.0 },
            ),
        ]);
        // While the rod does not reach, the arm is taken for upright, so that it can be drawn back.
        let arm = rest.and_then(|rest| rest.arm_end).map_or(Point::new(0.0, rod.arm_mm), seen);
        handles.push(maker.part(FieldId::PedalArm, half(pivot, arm), far(pivot)));
    }
    if let Some(rest) = rest {
        let peg = seen(rest.peg);
        let (id, mapping) = match linkage.by {
            PedalBy::OnShaft => (FieldId::FootBend, DragMapping::Lean { about: pivot }),
            PedalBy::RodAbove | PedalBy::RodBelow => {
                (FieldId::RodLength, DragMapping::Peg { pedal })
            }
        };
        handles.push(maker.part(id, peg, mapping));
        handles.push(maker.part(FieldId::FootArm, half(pivot, peg), far(pivot)));
        for (stroke, id) in Stroke::BOTH.into_iter().zip([FieldId::FootLift, FieldId::FootPress]) {
            handles.push(foot_end(maker, &pedal, peg, stroke, id));
        }
    }
    handles.into_iter().flatten().collect()
}

/// The end of the foot's travel: where the foot would be, even where the rod locks before.
fn foot_end(
    maker: &HandleMaker,
    pedal: &Pedal,
    peg: Point,
    stroke: Stroke,
    id: FieldId,
) -> Option<Handle> {
    // With the front to the left, lifting turns a peg ahead of the pivot clockwise.
    let way = if peg.x <= 1e-9 { -stroke.sign() } else { stroke.sign() };
    let zero = peg.angle();
    let radius = pedal.foot_arm_mm;
    let at = Point::polar(radius, zero + way * pedal.foot_mm[stroke] / radius);
    let mapping = DragMapping::Arc { zero, factor: way * radius };
    maker.part(id, at, mapping)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::LinkageSpec;
    use crate::draw::scene::Shape;

    /// The example with a linkage of default sizes.
    fn with_linkage() -> Analysis {
        let mut design = crate::design::example();
        design.selector.linkage = Some(LinkageSpec::default());
        Analysis::of(&design)
    }

    #[test]
    fn the_linkage_follows_a_stroke_to_the_stop() {
        let mut design = crate::design::example();
        design.selector.linkage = Some(LinkageSpec::default());
        design.selector.claw = Some(crate::design::ClawSpec::default());
        let analysis = Analysis::of(&design);
        let strokes = analysis.selector.strokes().expect("the claw turns the drum").strokes;
        for stroke in Stroke::BOTH {
            let there = played(&analysis, Some((stroke, 1.0))).expect("it gets there");
            let turned = there.shaft.radians().abs() - strokes[stroke].shaft.radians();
            assert!(turned.abs() < 1e-9, "{stroke:?}: {turned}");
            let begun = played(&analysis, Some((stroke, 0.0))).expect("it is at rest");
            assert!(begun.shaft.radians().abs() < 1e-9);
        }
        assert_eq!(played(&analysis, None), None);
    }

    #[test]
    fn words_beside_a_joint_stay_on_the_drawing() {
        let analysis = with_linkage();
        let frame = LINKAGE.frame(&analysis, 300.0, 0.66, 12.0);
        let pedal = sound_linkage(&analysis).expect("it is sound").working();
        let drawn = Drawn { frame: &frame, pedal: &pedal, reader: Reader::default() };
        let Bounds { min, max } = frame.bounds;
        let words = "splined lever";
        let half = words_width(words) / 2.0 * frame.text_mm;
        for joint in [min, max, Point::new(min.x, max.y), Point::new(max.x, min.y)] {
            let mut scene = Scene::new(frame.bounds);
            let out = Point::new(joint.x - (min.x + max.x) / 2.0, joint.y - (min.y + max.y) / 2.0);
            let out = out.angle();
            drawn.word_off(&mut scene, Role::Label, joint, out, words.to_owned());
            let Shape::Text(text) = &scene.items[0].shape else { panic!("words") };
            let (x, y) = (text.at.x, text.at.y);
            assert!(min.x + half < x && x < max.x - half, "{joint:?}: {x}");
            assert!(min.y < y && y < max.y - 0.9 * frame.text_mm, "{joint:?}: {y}");
        }
    }

    #[test]
    fn an_angle_near_to_locking_is_ringed() {
        let analysis = with_linkage();
        let frame = LINKAGE.frame(&analysis, 300.0, 0.66, 12.0);
        let pedal = sound_linkage(&analysis).expect("it is sound").working();
        let drawn = Drawn { frame: &frame, pedal: &pedal, reader: Reader::default() };
        let rest = pedal.posture(0.0).expect("it is sound").expect("within reach");
        for (deg, cramped) in [(39.0, true), (41.0, false), (139.0, false), (141.0, true)] {
            let mut scene = Scene::new(frame.bounds);
            let transmission = Some(Angle::from_degrees(deg));
            drawn.angle(&mut scene, &Posture { transmission, ..rest });
            let is_ring = |item: &crate::draw::scene::Item| {
                matches!(item.shape, Shape::Path { closed: true, .. })
            };
            let roles: Vec<_> = scene.items.iter().map(|item| item.role).collect();
            assert_eq!(scene.items.iter().any(is_ring), cramped, "{deg}°");
            assert_eq!(roles.contains(&Role::Level), cramped, "{deg}°: {roles:?}");
        }
    }
}
