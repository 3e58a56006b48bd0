//! Both rings looking along the shaft at the dogs of A; B is seen from its back, through its web.

use super::frame::Frame;
use super::look::Look;
use super::scene::{Anchor, Role, Scene, Shape};
use crate::design::SettingField;
use crate::pair::Arc;
use crate::report::Analysis;
use crate::ring::{Dog, Outline, Point, Ring, Segment, Side};
use crate::units::Angle;

/// The face view.
pub(super) fn face_view(analysis: &Analysis, frame: &Frame, look: &Look) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let phase = look.pose(analysis).phase;
    let turn = Turn::at(phase);
    for side in Side::BOTH {
        rims(&mut scene, analysis.ring(side), side);
    }
    centre_lines(&mut scene, frame);
    // B lies towards the reader, so it is drawn last and hatched to let A be seen.
    for side in Side::BOTH {
        removed(&mut scene, analysis, turn, side, frame);
        dogs(&mut scene, analysis, turn, side, frame);
    }
    dial(&mut scene, analysis, frame, phase);
    scene.choose(look.chosen);
    scene
}

/// How a ring's own angles lie in the view.
#[derive(Clone, Copy)]
pub(super) struct Turn {
    a: Angle,
}

impl Turn {
    pub(super) fn at(phase: Angle) -> Self {
        Self { a: phase }
    }

    /// Direction in the view of an angle measured on the dogs of a ring.
    pub(super) fn direction(self, side: Side, angle: Angle) -> f64 {
        match side {
            Side::A => (angle + self.a).radians(),
            Side::B => (-angle).radians(),
        }
    }

    fn point(self, side: Side, p: Point) -> Point {
        Point::polar(p.radius(), self.direction(side, Angle::from_radians(p.angle())))
    }

    fn segment(self, side: Side, segment: &Segment) -> Segment {
        match *segment {
            Segment::Line { from, to } => {
                Segment::Line { from: self.point(side, from), to: self.point(side, to) }
            }
            Segment::Arc { radius, start, sweep } => Segment::Arc {
                radius,
                start: self.direction(side, Angle::from_radians(start)),
                sweep: if side == Side::A { sweep } else { -sweep },
            },
        }
    }

    fn outline(self, side: Side, outline: &Outline) -> Shape {
        let segments = outline.segments.iter().map(|s| self.segment(side, s)).collect();
        Shape::Path { segments, closed: true }
    }
}

fn rims(scene: &mut Scene, ring: &Ring, side: Side) {
    for radius in [ring.inner_radius_mm, ring.outer_radius_mm] {
        scene.add(Role::Rim, Shape::Circle { radius }).of(side);
    }
}

fn centre_lines(scene: &mut Scene, frame: &Frame) {
    let reach = frame.bounds.max.x - 2.0 * frame.text_mm;
    for (x, y) in [(reach, 0.0), (0.0, reach)] {
        scene.line(Role::Centre, &[Point::new(-x, -y), Point::new(x, y)]);
    }
}

/// What was cut off, hatched: whole dogs, in phantom lines, and strips along the flanks. Dogs that
/// were cut down are drawn pale instead.
fn removed(scene: &mut Scene, analysis: &Analysis, turn: Turn, side: Side, frame: &Frame) {
    let standing = analysis.ring(side);
    let found = &analysis.found[side as usize];
    for dog in &found.dogs {
        let now = standing.at_place(dog.place);
        if now.is_some_and(Dog::is_cut_down) {
            continue;
        }
        for part in found.cut_away(standing, dog.place) {
            let points: Vec<_> = part.points().iter().map(|p| turn.point(side, *p)).collect();
            scene.hatch(&points, 0.3 * frame.text_mm, &[]).of(side);
            scene.add(Role::Removed, turn.outline(side, &part)).dog(side, dog.place);
        }
    }
}

fn dogs(scene: &mut Scene, analysis: &Analysis, turn: Turn, side: Side, frame: &Frame) {
    let ring = analysis.ring(side);
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    // Names of many dogs would only be a grey smear.
    let named = ring.dogs.len() <= 24;
    for dog in &ring.dogs {
        if let Some(outline) = ring.tip_outline(dog) {
            let role = if is_short(ring, dog, hold) { Role::Section } else { Role::Tip };
            scene.add(role, turn.outline(side, &outline)).dog(side, dog.place);
        }
        let undercut = dog.back_cut.drive.radians() != 0.0 || dog.back_cut.coast.radians() != 0.0;
        if let Some(outline) = ring.root_outline(dog).filter(|_| undercut) {
            scene.add(Role::Root, turn.outline(side, &outline)).dog(side, dog.place);
        }
        if named {
            name(scene, ring, dog, turn, side, frame);
        }
    }
}

/// Whether a dog is so much shorter than the tallest of its ring that a tall one holds before it is
/// met. Wear of a few hundredths makes no short dog.
fn is_short(ring: &Ring, dog: &Dog, hold_mm: f64) -> bool {
    ring.tallest_mm() - dog.height_mm > hold_mm.max(2e-6) - 1e-6
}

fn name(scene: &mut Scene, ring: &Ring, dog: &Dog, turn: Turn, side: Side, frame: &Frame) {
    let share = if side == Side::A { 0.68 } else { 0.3 };
    let radius = ring.inner_radius_mm + share * (ring.outer_radius_mm - ring.inner_radius_mm);
    let at = Point::polar(radius, turn.direction(side, dog.centre));
    let words = format!("{}{}", side.letter(), dog.place + 1);
    scene.text(Role::Label, at, frame.text_mm, Anchor::Middle, words).dog(side, dog.place);
}

/// Radius of the dial of windows round the rim, in the frame.
pub(super) fn dial_radius(frame: &Frame, ring: usize) -> f64 {
    let step = [1.0, 1.8, 2.9][ring.min(2)];
    frame.radius_mm + step * frame.text_mm
}

/// The phases that are open, as arcs round the rim, and the datum marks that point at them.
fn dial(scene: &mut Scene, analysis: &Analysis, frame: &Frame, phase: Angle) {
    if let Some(meshed) = &analysis.meshed {
        arcs(scene, Role::OpenEntry, &meshed.entry, dial_radius(frame, 0));
        arcs(scene, Role::OpenDeep, &meshed.engagement.windows, dial_radius(frame, 1));
    }
    mark(scene, frame, phase.radians(), Side::A);
    mark(scene, frame, 0.0, Side::B);
}

fn arcs(scene: &mut Scene, role: Role, windows: &[Arc], radius: f64) {
    for window in windows {
        let (start, sweep) = (window.start.radians(), window.width.radians());
        let segments = vec![Segment::Arc { radius, start, sweep }];
        scene.add(role, Shape::Path { segments, closed: false });
    }
}

/// A datum mark: a triangle outside the dial for A, a line across the rim for B.
fn mark(scene: &mut Scene, frame: &Frame, direction: f64, side: Side) {
    let (tip, foot) = match side {
        Side::A => (dial_radius(frame, 1) + 0.3 * frame.text_mm, dial_radius(frame, 2)),
        Side::B => (frame.radius_mm - 0.8 * frame.text_mm, frame.radius_mm + 0.5 * frame.text_mm),
    };
    let half = 0.45 * frame.text_mm / frame.radius_mm;
    let points = [
        Point::polar(tip, direction),
        Point::polar(foot, direction - half),
        Point::polar(foot, direction + half),
    ];
    scene.polygon(Role::Datum, &points).of(side);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;
    use crate::draw::{ViewKind, view};

    /// How many dogs are drawn pale when one of six is as high as it was and the others are lower.
    fn pale(lower_mm: f64) -> usize {
        let dog = |at: i32| {
            let height = if at == 0 { 5.0 } else { 5.0 - lower_mm };
            format!(r#"{{ "centre_deg": {}, "height_mm": {height} }}"#, 60 * at)
        };
        let dogs: Vec<_> = (0..6).map(dog).collect();
        let saved = format!(r#"{{ "crenel": 1, "a": {{ "dogs": [{}] }} }}"#, dogs.join(","));
        let analysis = Analysis::of(&open(&saved).expect("it opens").design);
        let frame = Frame::of(ViewKind::Face, &analysis, 560.0, 1.0, 12.0);
        let scene = view(ViewKind::Face, &analysis, &frame, &Look::default());
        let of_a = |item: &&super::super::scene::Item| {
            item.role == Role::Section && item.side == Some(Side::A) && item.place.is_some()
        };
        scene.items.iter().filter(of_a).count()
    }

    #[test]
    fn wear_of_hundredths_makes_no_pale_dogs() {
        // The hold depth is 1 mm.
        assert_eq!([0.0, 0.03, 0.9, 1.2, 2.5].map(pale), [0, 0, 0, 5, 5]);
    }
}
