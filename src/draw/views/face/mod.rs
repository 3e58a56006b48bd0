//! Both rings looking along the shaft at the dogs of A; B is seen from its back, through its web.

mod forces;

use std::f64::consts::PI;

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;
use crate::design::{Layout, SettingField, SizeBy};
use crate::draw::frame::{Canvas, Frame, LABEL, RingTurn, drawable};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::{RingState, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Item, Role, Scene, Shape, words_width};
use crate::draw::view::{Follows, View};
use crate::fields::{FieldId, Slot};
use crate::pair::Arc;
use crate::ring::{Dog, Outline, Point, Ring, Segment, Side};
use crate::units::Angle;

pub use forces::FORCES;

/// The face view.
pub static FACE: View = View {
    key: "face",
    file_name: "face",
    title: "Face view",
    caption: "Looking along the shaft at the dogs of ring A. Ring B is in front, drawn as if its web were transparent. \
              While the mark of ring A is at a solid arc, the tips can pass each other; a dotted arc is as long as \
              the lash. Dashed dogs are shorter than the others.",
    shape: 1.0,
    screen_shape: [1.0, 0.75],
    follows: Follows::Shift,
    keeps_handles: false,
    shows_states: true,
    worth_a_look: is_flank,
    frame,
    draw,
    handles,
    ..View::BASE
};

/// Paper beside the outer radius, and above and below it, in letter heights. A phone takes swipes at the sides of its
/// screen only.
const ASIDE: f64 = 4.2;
const ABOVE: f64 = 3.1;

/// The middle of the view is empty: a flank of the chosen dog is worth a closer look.
const fn is_flank(slot: Slot) -> bool {
    use FieldId::{Gap, TipWidth};
    matches!(slot, Slot::Ring(_, TipWidth | Gap) | Slot::Dog(_, _, TipWidth))
}

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let outer = Side::BOTH.map(|s| analysis.ring(s).outer_radius_mm);
    let outer = drawable(outer[0].max(outer[1]), 1.0);
    // The letters take their share of the paper that is left over, across or upwards.
    let width =
        |share: f64, margin: f64| outer / (share / 2.0 - margin * canvas.letter).max(0.15 * share);
    let shape = canvas.shape.min(1.0);
    let wide = width(1.0, ASIDE).max(width(shape, ABOVE));
    let corner = Point::new(0.5 * wide, 0.5 * wide * shape);
    let bounds = Bounds { min: Point::new(-corner.x, -corner.y), max: corner };
    Frame { radius_mm: outer, ..Frame::new(bounds, wide * canvas.letter) }
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let phase = options.pose(analysis).phase;
    for side in Side::BOTH {
        rims(&mut scene, analysis.ring(side), side);
    }
    centre_lines(&mut scene, frame);
    // B lies towards the reader, so it is drawn last and hatched to let A be seen.
    for side in Side::BOTH {
        if options.state == RingState::Both {
            removed(&mut scene, analysis, phase, side, frame);
        }
        dogs(&mut scene, analysis, phase, side);
        names(&mut scene, analysis, phase, side, frame);
    }
    dial(&mut scene, analysis, frame, phase);
    told(&mut scene, analysis, frame, options.reader);
    scene.choose(options.chosen);
    scene
}

fn rims(scene: &mut Scene, ring: &Ring, side: Side) {
    for radius in [ring.inner_radius_mm, ring.outer_radius_mm] {
        scene.add(Role::Rim, Shape::Circle { radius }).on_ring(side);
    }
}

fn centre_lines(scene: &mut Scene, frame: &Frame) {
    let reach = dial_radius(frame, 2) + 0.2 * frame.text_mm;
    for (x, y) in [(reach, 0.0), (0.0, reach)] {
        scene.line(Role::Centre, &[Point::new(-x, -y), Point::new(x, y)]);
    }
}

/// What was cut off, hatched both ways: whole dogs, in phantom lines, and strips along the flanks. Dogs that
/// were cut down are dashed instead. Hatching stays level while the ring turns.
fn removed(scene: &mut Scene, analysis: &Analysis, phase: Angle, side: Side, frame: &Frame) {
    let standing = analysis.ring(side);
    let found = &analysis.found[side];
    let is_cut_down = |dog: &&Dog| standing.at_place(dog.place).is_some_and(Dog::is_cut_down);
    let parts: Vec<_> = found
        .dogs
        .iter()
        .filter(|dog| !is_cut_down(dog))
        .flat_map(|dog| {
            found.cut_away(standing, dog.place).into_iter().map(move |part| (dog, part))
        })
        .collect();
    let turn = RingTurn::at(phase);
    for (_, part) in &parts {
        let points: Vec<_> = part.points().iter().map(|p| turn.point(side, *p)).collect();
        scene.cross_hatch(&points, 0.45 * frame.text_mm).on_ring(side);
    }
    for (dog, part) in &parts {
        outline(scene, Role::Removed, part, phase, side).dog(side, dog.place);
    }
}

/// An outline of a ring. That of A is drawn as at phase zero and turned as a whole, so that it stays the
/// same while the phase is dragged.
fn outline<'a>(
    scene: &'a mut Scene,
    role: Role,
    outline: &Outline,
    phase: Angle,
    side: Side,
) -> &'a mut Item {
    let item = scene.add(role, RingTurn::at(Angle::ZERO).outline(side, outline));
    match side {
        Side::A => item.turn(phase),
        Side::B => item,
    }
}

fn dogs(scene: &mut Scene, analysis: &Analysis, phase: Angle, side: Side) {
    let ring = analysis.ring(side);
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    for dog in &ring.dogs {
        if let Some(tip) = ring.tip_outline(dog) {
            let role = if is_short(ring, dog, hold) { Role::ShortTip } else { Role::Tip };
            outline(scene, role, &tip, phase, side).dog(side, dog.place);
        }
        let undercut = dog.back_cut.drive.radians() != 0.0 || dog.back_cut.coast.radians() != 0.0;
        if let Some(root) = ring.root_outline(dog).filter(|_| undercut) {
            outline(scene, Role::Root, &root, phase, side).dog(side, dog.place);
        }
    }
}

fn names(scene: &mut Scene, analysis: &Analysis, phase: Angle, side: Side, frame: &Frame) {
    let ring = analysis.ring(side);
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    // Names of many dogs would only be a grey smear.
    if ring.dogs.len() > 24 {
        return;
    }
    for dog in &ring.dogs {
        let share = is_short(ring, dog, hold).then(|| dog.height_mm / ring.tallest_mm());
        let radius = name_radius(ring, side);
        let at = Point::polar(radius, RingTurn::at(phase).direction(side, dog.centre));
        let words = dog_name(side, dog, share);
        if !is_taken(scene, at, &words, frame.text_mm) {
            let name = scene.text(Role::Label, at, frame.text_mm, Anchor::Middle, words);
            name.dog(side, dog.place);
        }
    }
}

/// Whether a name would lie on one that is there.
fn is_taken(scene: &Scene, at: Point, words: &str, height: f64) -> bool {
    scene.items.iter().any(|item| match &item.shape {
        Shape::Text(text) => {
            let half = (words_width(words) + words_width(&text.words)) / 2.0;
            (text.at.x - at.x).abs() < half * height && (text.at.y - at.y).abs() < height
        }
        _ => false,
    })
}

/// Whether a dog is so much shorter than the tallest of its ring that a tall one holds before it is
/// met. Wear of a few hundredths makes no short dog.
fn is_short(ring: &Ring, dog: &Dog, hold_mm: f64) -> bool {
    ring.tallest_mm() - dog.height_mm > hold_mm.max(2e-6) - 1e-6
}

/// The name of a dog and, where it is lower than the others, what share of their height it has.
fn dog_name(side: Side, dog: &Dog, share: Option<f64>) -> String {
    let name = format!("{}{}", side.letter(), dog.place + 1);
    match share {
        None => name,
        Some(share) if (share - 0.5).abs() < 0.03 => name + " ½",
        Some(share) => format!("{name} {:.0} %", share * 100.0),
    }
}

fn name_radius(ring: &Ring, side: Side) -> f64 {
    let share = if side == Side::A { 0.68 } else { 0.3 };
    ring.inner_radius_mm + share * (ring.outer_radius_mm - ring.inner_radius_mm)
}

/// Radius of a ring of the dial round the rim: entry windows, deep windows, and 24 px outside the circle on which
/// the phase is turned.
fn dial_radius(frame: &Frame, ring: usize) -> f64 {
    let step = [0.6, 1.2, 2.0][ring.min(2)];
    frame.radius_mm + step * frame.text_mm
}

/// The phases that are open, as arcs round the rim, and the datum marks that point at them.
fn dial(scene: &mut Scene, analysis: &Analysis, frame: &Frame, phase: Angle) {
    if let Some(pair) = &analysis.pair {
        arcs(scene, Role::OpenEntry, &pair.entry, dial_radius(frame, 0));
        arcs(scene, Role::OpenDeep, &pair.engagement.windows, dial_radius(frame, 1));
    }
    scene.add(Role::Grid, Shape::Circle { radius: dial_radius(frame, 2) });
    mark(scene, frame, Side::A).turn(phase);
    mark(scene, frame, Side::B);
}

/// How wide the windows are, in two corners of the paper, each with a leader to the nearest window.
fn told(scene: &mut Scene, analysis: &Analysis, frame: &Frame, reader: Reader) {
    let Some(pair) = &analysis.pair else { return };
    let opens = pair.entry.first().map(|window| say::opens(window.width.degrees()));
    let lash = pair.held.map(|held| say::lash(held.width.degrees()));
    let labels = [
        (opens, pair.entry.as_slice(), dial_radius(frame, 0), 1.0),
        (lash, pair.engagement.windows.as_slice(), dial_radius(frame, 1), -1.0),
    ];
    for (words, windows, radius, up) in labels {
        let Some(words) = words.map(|words| words.show(reader)) else { continue };
        let (text, corner) = (frame.text_mm, frame.bounds.max);
        // Near the rim on wide paper, too.
        let right = corner.x.min(frame.radius_mm + ASIDE * text);
        let at = Point::new(right - 0.4 * text, up * (corner.y - 0.9 * text));
        if let Some(near) = nearest(windows, up * PI / 4.0) {
            let half = words_width(&words) * LABEL * text / 2.0;
            let foot = Point::new(at.x - half, at.y - up * 0.6 * text);
            scene.line(Role::Border, &[foot, Point::polar(radius, near)]);
        }
        scene.text(Role::Note, at, LABEL * text, Anchor::End, words);
    }
}

/// The direction in any of the windows that is nearest to one that is wanted.
fn nearest(windows: &[Arc], wanted: f64) -> Option<f64> {
    let off = |angle: f64| Angle::from_radians(angle - wanted).signed().radians().abs();
    let ends = |window: &Arc| [window.start, window.middle(), window.end()].map(Angle::radians);
    let near = windows.iter().flat_map(ends).min_by(|a, b| off(*a).total_cmp(&off(*b)));
    let inside = windows.iter().any(|window| window.contains(Angle::from_radians(wanted)));
    if inside { Some(wanted) } else { near }
}

fn arcs(scene: &mut Scene, role: Role, windows: &[Arc], radius: f64) {
    for window in windows {
        let (start, sweep) = (window.start.radians(), window.width.radians());
        let segments = vec![Segment::Arc { radius, start, sweep }];
        scene.add(role, Shape::Path { segments, closed: false });
    }
}

/// A datum mark, to the right: a triangle outside the dial for A, one across the rim for B.
fn mark<'a>(scene: &'a mut Scene, frame: &Frame, side: Side) -> &'a mut Item {
    let (tip, foot) = match side {
        Side::A => (dial_radius(frame, 1) + 0.3 * frame.text_mm, dial_radius(frame, 2)),
        Side::B => (frame.radius_mm - 0.8 * frame.text_mm, frame.radius_mm + 0.5 * frame.text_mm),
    };
    let half = 0.45 * frame.text_mm / frame.radius_mm;
    let points = [Point::polar(tip, 0.0), Point::polar(foot, -half), Point::polar(foot, half)];
    scene.polygon(Role::Datum, &points).on_ring(side)
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let (analysis, side) = (maker.analysis, maker.side);
    let ring = maker.design().ring(side);
    // Across from the chosen dog, whose own handles need the room about it.
    let turn = RingTurn::at(analysis.phase());
    let ray = maker.dog().map_or(0.0, |dog| turn.direction(side, dog.centre)) + PI;
    let diameter = |id, mm: f64| {
        maker.handle(Slot::Ring(side, id), Point::polar(mm / 2.0, ray), DragMapping::Diameter)
    };
    let mut handles = vec![
        diameter(FieldId::InnerDiameter, ring.inner_diameter_mm),
        diameter(FieldId::OuterDiameter, ring.outer_diameter_mm),
    ];
    if let Some(dog) = maker.dog_as_found() {
        handles.push(width_handle(maker, dog));
        handles.push(centre_handle(maker, dog));
    }
    handles.push(phase_handle(maker));
    handles.into_iter().flatten().collect()
}

/// The width of a dog or of its gap, whichever the ring is given by, on a flank.
fn width_handle(maker: &HandleMaker, dog: &Dog) -> Option<Handle> {
    let side = maker.side;
    let middle = RingTurn::at(maker.analysis.phase()).direction(side, dog.centre);
    let flank = middle + dog.tip_width.radians() / 2.0;
    let at = Point::polar(maker.analysis.ring(side).mean_radius_mm(), flank);
    let (slot, pitch) = match &maker.design().ring(side).layout {
        Layout::Even(even) => match even.size_by {
            SizeBy::Dog => (Slot::Ring(side, FieldId::TipWidth), None),
            SizeBy::Gap => (Slot::Ring(side, FieldId::Gap), Some(360.0 / even.count)),
        },
        Layout::Measured(_) => (Slot::Dog(side, dog.place, FieldId::TipWidth), None),
    };
    maker.handle(slot, at, DragMapping::Width { middle, pitch })
}

/// The angle of a dog on its ring. Only a measured dog has such a number.
fn centre_handle(maker: &HandleMaker, dog: &Dog) -> Option<Handle> {
    let side = maker.side;
    let turn = RingTurn::at(maker.analysis.phase());
    let ring = maker.analysis.ring(side);
    let radius = 0.5 * ring.inner_radius_mm + 0.5 * ring.outer_radius_mm;
    let sign = if side == Side::A { 1.0 } else { -1.0 };
    let zero = turn.direction(side, Angle::ZERO);
    let at = Point::polar(radius, turn.direction(side, dog.centre));
    let slot = Slot::Dog(side, dog.place, FieldId::Centre);
    maker.handle(slot, at, DragMapping::Direction { zero, sign })
}

fn phase_handle(maker: &HandleMaker) -> Option<Handle> {
    let at = Point::polar(dial_radius(maker.frame, 2), maker.analysis.phase().radians());
    let mapping = DragMapping::Direction { zero: 0.0, sign: 1.0 };
    maker.handle(Slot::Setting(FieldId::Phase), at, mapping)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;

    /// How many dogs are dashed when one of six is as high as it was and the others are lower.
    fn dashed(lower_mm: f64) -> usize {
        let dog = |at: i32| {
            let height = if at == 0 { 5.0 } else { 5.0 - lower_mm };
            format!(r#"{{ "centre_deg": {}, "height_mm": {height} }}"#, 60 * at)
        };
        let dogs: Vec<_> = (0..6).map(dog).collect();
        let saved = format!(r#"{{ "crenel": 1, "a": {{ "dogs": [{}] }} }}"#, dogs.join(","));
        let analysis = Analysis::of(&open(&saved).expect("it opens").design);
        let frame = FACE.frame(&analysis, 560.0, 1.0, 12.0);
        let scene = FACE.draw(&analysis, &frame, &ViewOptions::default());
        let of_a = |item: &&Item| {
            item.role == Role::ShortTip && item.side == Some(Side::A) && item.place.is_some()
        };
        scene.items.iter().filter(of_a).count()
    }

    #[test]
    fn wear_of_hundredths_dashes_no_dogs() {
        // The holding depth is 1 mm.
        assert_eq!([0.0, 0.03, 0.9, 1.2, 2.5].map(dashed), [0, 0, 0, 5, 5]);
    }
}
