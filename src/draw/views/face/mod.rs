//! Both rings looking along the shaft at the dogs of A; B is seen from its back, through its web.

mod forces;

use std::f64::consts::PI;

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;
use crate::design::{Layout, SettingField, SizeBy};
use crate::draw::frame::{Canvas, Frame, LABEL, LABEL_ROW, RingTurn, drawable, has_label_margin};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::{RingState, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Item, Role, Scene, Shape, words_width, wrapped};
use crate::draw::view::{Follows, View};
use crate::fields::{FieldId, Slot};
use crate::measure::Measure;
use crate::pair::Arc;
use crate::ring::{Dog, FlankSide, Outline, Point, Ring, Segment, Side};
use crate::units::Angle;

pub use forces::FORCES;

/// The face view.
pub static FACE: View = View {
    key: "face",
    file_name: "face",
    title: "Face view",
    caption: "Looking along the shaft at the dogs of ring A. Ring B is in front, drawn as if its web were transparent. \
              Arcs in the gaps: how far ring A can turn, solid while the tips pass, dotted at full depth. Dashed dogs \
              are shorter than the others.",
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
    let above = if shape / canvas.letter < FEW_LETTERS { ABOVE - 1.2 } else { ABOVE };
    let wide = width(1.0, ASIDE).max(width(shape, above));
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
        names(&mut scene, analysis, phase, side, frame, NamesLie::BetweenArcs);
    }
    room(&mut scene, analysis, phase);
    dial(&mut scene, frame, phase);
    told(&mut scene, analysis, frame, phase, options.reader);
    scene.choose(options.chosen);
    scene
}

fn rims(scene: &mut Scene, ring: &Ring, side: Side) {
    for radius in [ring.inner_radius_mm, ring.outer_radius_mm] {
        scene.add(Role::Rim, Shape::Circle { radius }).on_ring(side);
    }
}

fn centre_lines(scene: &mut Scene, frame: &Frame) {
    let reach = dial_radius(frame) + 0.2 * frame.text_mm;
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

/// Where the names of lowered dogs lie.
#[derive(Clone, Copy, PartialEq, Eq)]
enum NamesLie {
    /// As on all other dogs.
    AsOnAll,
    /// Between the arcs of the windows, which run over such dogs.
    BetweenArcs,
}

fn names(
    scene: &mut Scene,
    analysis: &Analysis,
    phase: Angle,
    side: Side,
    frame: &Frame,
    lie: NamesLie,
) {
    let ring = analysis.ring(side);
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    // Names of many dogs would only be a grey smear.
    if ring.dogs.len() > 24 {
        return;
    }
    let mean = (ring.inner_radius_mm + ring.outer_radius_mm) / 2.0;
    let band = ring.outer_radius_mm - ring.inner_radius_mm;
    for dog in &ring.dogs {
        let share = is_short(ring, dog, hold).then(|| dog.height_mm / ring.tallest_mm());
        let direction = RingTurn::at(phase).direction(side, dog.centre);
        let whole =
            share.map(|share| (dog_name(side, dog, Some(share)), Point::polar(mean, direction)));
        let room = [(AT_TIPS - AT_DEPTH) * band, ring.thickness_mm(dog, 0.0)];
        let whole = whole.filter(|(words, at)| {
            is_within(words, frame.text_mm, direction, room)
                && !is_taken(scene, *at, words, frame.text_mm)
        });
        let plain = dog_name(side, dog, None);
        let mut radius = name_radius(ring, side);
        if share.is_some() && lie == NamesLie::BetweenArcs {
            let [outwards, _] = extent(&plain, frame.text_mm, direction);
            let play = ((room[0] - outwards) / 2.0).max(0.0);
            radius = radius.max(mean - play).min(mean + play);
        }
        let plain = (plain, Point::polar(radius, direction));
        let (words, at) = whole.unwrap_or(plain);
        if !is_taken(scene, at, &words, frame.text_mm) {
            let name = scene.text(Role::Label, at, frame.text_mm, Anchor::Middle, words);
            name.dog(side, dog.place);
        }
    }
}

/// Whether words in the middle of a dog stay in its room: between the arcs of the windows on either side of them, and
/// between its flanks.
fn is_within(words: &str, height: f64, direction: f64, room: [f64; 2]) -> bool {
    let [outwards, across] = extent(words, height, direction);
    outwards <= room[0] && across <= room[1]
}

/// How far words reach along a direction, and across it.
fn extent(words: &str, height: f64, direction: f64) -> [f64; 2] {
    let [wide, high] = [words_width(words), LETTER_SHARE].map(|share| share * height);
    let (sin, cos) = (libm::sin(direction).abs(), libm::cos(direction).abs());
    [wide * cos + high * sin, wide * sin + high * cos]
}

/// The height of capitals, in letter heights.
const LETTER_SHARE: f64 = 0.75;

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

/// A drawing of less height than this, in letter heights, is too small for a wide margin.
const FEW_LETTERS: f64 = 18.0;

/// Radius of the circle on which the phase is turned: 24 px outside the rim, or half of that on a small drawing.
fn dial_radius(frame: &Frame) -> f64 {
    let small = frame.bounds.height() < FEW_LETTERS * frame.text_mm;
    frame.radius_mm + if small { 1.0 } else { 2.0 } * frame.text_mm
}

/// The circle on which the phase is turned, with the datum marks.
fn dial(scene: &mut Scene, frame: &Frame, phase: Angle) {
    scene.add(Role::Grid, Shape::Circle { radius: dial_radius(frame) });
    mark(scene, frame, Side::A).turn(phase);
    mark(scene, frame, Side::B);
}

/// An arc in a gap, from a flank of a dog of A to where the dog is stopped: its radius, where it starts and how far it
/// goes, counter-clockwise.
#[derive(Clone, Copy)]
struct Free {
    radius: f64,
    start: f64,
    sweep: f64,
}

impl Free {
    fn middle(self) -> Point {
        Point::polar(self.radius, self.start + self.sweep / 2.0)
    }
}

/// How far ring A can turn either way, as arcs in the gaps beside its dogs, so far out between its radii. Where the
/// phase is blocked, the dogs are taken to the nearest phase that is not.
fn free(analysis: &Analysis, windows: &[Arc], phase: Angle, share: f64) -> Vec<Free> {
    let far = |window: &&Arc| window.distance(phase).radians();
    let near = windows.iter().min_by(|a, b| far(a).total_cmp(&far(b)));
    let Some(window) = near.filter(|window| window.width < Angle::FULL) else { return Vec::new() };
    let ring = analysis.ring(Side::A);
    let radius = ring.inner_radius_mm + share * (ring.outer_radius_mm - ring.inner_radius_mm);
    let past = (phase - window.start).wrapped();
    let past = match window.contains(phase) {
        true => past,
        false if past > window.width + (Angle::FULL - window.width) / 2.0 => Angle::ZERO,
        false => window.width,
    };
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    let turn = RingTurn::at(window.start + past);
    let arcs = |dog: &Dog| {
        let edge = |flank| turn.direction(Side::A, ring.tip_edge(dog, flank));
        let (back, on) = (past.radians(), (window.width - past).radians());
        let behind = Free { radius, start: edge(FlankSide::Drive) - back, sweep: back };
        [behind, Free { radius, start: edge(FlankSide::Coast), sweep: on }]
    };
    ring.dogs.iter().filter(|dog| !is_short(ring, dog, hold)).flat_map(arcs).collect()
}

/// Where the arcs of the windows at tip level and at full depth lie between inner and outer radius: clear of the names
/// of the dogs.
const AT_TIPS: f64 = 0.9;
const AT_DEPTH: f64 = 0.1;

/// The room that ring A has to turn in, at tip level and at full depth.
fn room(scene: &mut Scene, analysis: &Analysis, phase: Angle) {
    let Some(pair) = &analysis.pair else { return };
    let kinds = [
        (Role::OpenEntry, Measure::Window, &pair.entry, AT_TIPS),
        (Role::OpenDeep, Measure::Lash, &pair.engagement.windows, AT_DEPTH),
    ];
    for (role, measure, windows, share) in kinds {
        for Free { radius, start, sweep } in free(analysis, windows, phase, share) {
            let segments = vec![Segment::Arc { radius, start, sweep }];
            scene.add(role, Shape::Path { segments, closed: false }).measures(Some(measure));
        }
    }
}

/// How wide the windows are, in two corners of the paper, each with a leader to the nearest of its arcs.
fn told(scene: &mut Scene, analysis: &Analysis, frame: &Frame, phase: Angle, reader: Reader) {
    let Some(pair) = &analysis.pair else { return };
    let hold = analysis.design.setting.get(SettingField::HoldDepth);
    let opens = pair.entry.first().map(|window| {
        let width = window.width.degrees();
        let parts = pair.gap_and_dog([analysis.ring(Side::A), analysis.ring(Side::B)], hold);
        parts.map_or_else(
            || say::opens(width),
            |(gap, dog)| say::gap_less_dog(gap.degrees(), dog.degrees(), width),
        )
    });
    let lash = pair.held.map(|held| say::lash(held.width.degrees()));
    let labels = [
        (opens, Measure::Window, free(analysis, &pair.entry, phase, AT_TIPS), 1.0),
        (lash, Measure::Lash, free(analysis, &pair.engagement.windows, phase, AT_DEPTH), -1.0),
    ];
    // A window is told between sharp tips, and times count the edge breaks too: where there is room, that is said.
    let is_wide = analysis.edges_mm() > 0.0 && has_label_margin(frame.letter());
    for (words, measure, arcs, up) in labels {
        let Some(words) = words.map(|words| words.show(reader)) else { continue };
        let (text, corner) = (frame.text_mm, frame.bounds.max);
        // Near the rim on wide paper, too.
        let right = corner.x.min(frame.radius_mm + (ASIDE + 1.5) * text) - 0.4 * text;
        let mut lines = wrapped(&words, MOST_LETTERS / LABEL);
        if is_wide && measure == Measure::Window {
            lines.push(say::between_sharp_tips().show(reader));
        }
        let last = lines.len().saturating_sub(1);
        let row = |at: usize| f64::from(u32::try_from(at).unwrap_or_default()) * LABEL_ROW * text;
        // From the edge of the paper inwards.
        let first = if up > 0.0 { 0.0 } else { row(last) };
        let level = |at: usize| up * (corner.y - 0.9 * text) + first - row(at);
        let edge = level(if up > 0.0 { last } else { 0 });
        if let Some(arc) = nearest(&arcs, up * PI / 4.0) {
            let half = lines.iter().map(|line| words_width(line)).fold(0.0, f64::max) / 2.0;
            let foot = Point::new(right - half * LABEL * text, edge - up * 0.6 * text);
            scene.line(Role::Border, &[foot, arc.middle()]).measures(Some(measure));
        }
        for (at, line) in lines.into_iter().enumerate() {
            let place = Point::new(right, level(at));
            give_way(scene, place, &line, text);
            let label = scene.text(Role::Note, place, LABEL * text, Anchor::End, line);
            label.measures(Some(measure));
        }
    }
}

/// On a small drawing a corner may reach over a dog: its name gives way to words that end at a place.
fn give_way(scene: &mut Scene, end: Point, words: &str, text: f64) {
    let half = words_width(words) * LABEL * text / 2.0;
    let is_under = |item: &Item| match &item.shape {
        Shape::Text(name) if item.role == Role::Label => {
            let apart = half + words_width(&name.words) * text / 2.0;
            (name.at.x - (end.x - half)).abs() < apart && (name.at.y - end.y).abs() < text
        }
        _ => false,
    };
    scene.items.retain(|item| !is_under(item));
}

/// Letters of a line in a corner, at their height.
const MOST_LETTERS: f64 = 11.0;

/// The arc that is nearest to a direction and wide enough to be seen.
fn nearest(arcs: &[Free], wanted: f64) -> Option<Free> {
    let off =
        |arc: &&Free| Angle::from_radians(arc.middle().angle() - wanted).signed().radians().abs();
    let widest = arcs.iter().map(|arc| arc.sweep).fold(0.0, f64::max);
    let seen = arcs.iter().filter(|arc| arc.sweep > 0.2 * widest);
    seen.min_by(|a, b| off(a).total_cmp(&off(b))).copied()
}

/// A datum mark, to the right: a triangle outside the dial for A, one across the rim for B.
fn mark<'a>(scene: &'a mut Scene, frame: &Frame, side: Side) -> &'a mut Item {
    let (tip, foot) = match side {
        Side::A => (dial_radius(frame) - 0.5 * frame.text_mm, dial_radius(frame)),
        Side::B => (frame.radius_mm - 0.8 * frame.text_mm, frame.radius_mm + 0.5 * frame.text_mm),
    };
    let half = 0.45 * frame.text_mm / frame.radius_mm;
    let points = [Point::polar(tip, 0.0), Point::polar(foot, -half), Point::polar(foot, half)];
    scene.polygon(Role::Datum, &points).on_ring(side)
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let side = maker.side;
    let ring = maker.design().ring(side);
    let ray = clear_ray(maker);
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

/// A direction for the handles of the radii: across from the chosen dog, whose own handles need the room about it, and
/// as near to that as the names of the dogs allow.
fn clear_ray(maker: &HandleMaker) -> f64 {
    /// Directions tried, one for every 3°, to a third of a turn either way.
    const TRIED: i32 = 40;
    let turn = RingTurn::at(maker.analysis.phase());
    let across = maker.dog().map_or(0.0, |dog| turn.direction(maker.side, dog.centre)) + PI;
    let names = Side::BOTH.into_iter().flat_map(|side| {
        let dogs = &maker.analysis.ring(side).dogs;
        dogs.iter().map(move |dog| turn.direction(side, dog.centre))
    });
    let names: Vec<f64> = names.collect();
    let room = |ray: f64| {
        let off = |name: &f64| Angle::from_radians(ray - name).signed().radians().abs();
        names.iter().map(off).fold(PI, f64::min)
    };
    let tried =
        (0..TRIED).flat_map(|at| [at, -at]).map(|at| across + f64::from(3 * at).to_radians());
    // Of several as clear, the first: the nearest to across.
    let (mut best, mut clear) = (across, 0.0);
    for ray in tried {
        if room(ray) > clear + 1e-6 {
            (best, clear) = (ray, room(ray));
        }
    }
    best
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
    // Inside the ring, where no name is.
    let inner = maker.analysis.ring(side).inner_radius_mm;
    let radius = (inner - 1.8 * maker.frame.text_mm).max(0.5 * inner);
    let sign = if side == Side::A { 1.0 } else { -1.0 };
    let zero = turn.direction(side, Angle::ZERO);
    let at = Point::polar(radius, turn.direction(side, dog.centre));
    let slot = Slot::Dog(side, dog.place, FieldId::Centre);
    maker.handle(slot, at, DragMapping::Direction { zero, sign })
}

fn phase_handle(maker: &HandleMaker) -> Option<Handle> {
    let at = Point::polar(dial_radius(maker.frame), maker.analysis.phase().radians());
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

    /// The arcs in the gaps of the example at a phase: where they start and how far they go, degrees.
    fn arcs(phase_deg: f64) -> Vec<[f64; 2]> {
        let mut design = crate::design::example();
        design.set(Slot::Setting(FieldId::Phase), phase_deg);
        let analysis = Analysis::of(&design);
        let entry = &analysis.pair.as_ref().expect("they meet").entry;
        let free = free(&analysis, entry, analysis.phase(), AT_TIPS);
        free.iter().map(|arc| [arc.start, arc.sweep].map(f64::to_degrees)).collect()
    }

    #[test]
    fn arcs_lie_in_the_gaps_between_the_flanks() {
        // Dogs of 24° in gaps of 36°, with B at 0°, 60° and so on: in the middle there are 6° on either side.
        for (phase, back, on) in [(30.0, 6.0, 6.0), (33.0, 9.0, 3.0), (36.0, 12.0, 0.0)] {
            let all = arcs(phase);
            assert_eq!(all.len(), 12);
            for beside in all.chunks(2) {
                let [behind, ahead] = [beside[0], beside[1]];
                assert!((behind[1] - back).abs() < 1e-6 && (ahead[1] - on).abs() < 1e-6);
                let ends = [behind[0], ahead[0] + ahead[1]];
                for (end, flank) in ends.into_iter().zip([12.0, 48.0]) {
                    let off = (end - flank).rem_euclid(60.0);
                    assert!(off.min(60.0 - off) < 1e-6, "{end} is no flank of B at {phase}°");
                }
            }
        }
        // Tip on tip: as much as the window is wide, from its nearer end.
        assert!(arcs(5.0).chunks(2).all(|beside| beside[0][1] < 1e-6 && beside[1][1] > 11.9));
    }

    /// The names of lowered dogs on a drawing so wide, with how far from the axis their corners reach.
    fn half_names(width_px: f64) -> Vec<(String, [f64; 2])> {
        let half = r#"{"crenel":1,"a":{"heights":[1,0.5]},"b":{"heights":[1,0.5]}}"#;
        let analysis = Analysis::of(&open(half).expect("it opens").design);
        let frame = FACE.frame(&analysis, width_px, 1.0, 12.0);
        let scene = FACE.draw(&analysis, &frame, &ViewOptions::default());
        let names = scene.items.iter().filter(|item| item.role == Role::Label);
        let name = |item: &Item| {
            let Shape::Text(text) = &item.shape else { return None };
            let half = words_width(&text.words) * frame.text_mm / 2.0;
            let ends = [-half, half].map(|off| libm::hypot(text.at.x + off, text.at.y));
            Some((text.words.clone(), [ends[0].min(ends[1]), ends[0].max(ends[1])]))
        };
        names.filter_map(name).collect()
    }

    #[test]
    fn half_dogs_say_so_where_that_fits_into_them() {
        // Between 22 and 30 mm, clear of the arcs at 0.1 and 0.9 of that.
        let wide = half_names(560.0);
        let told: Vec<_> = wide.iter().filter(|(name, _)| name.ends_with('½')).collect();
        assert_eq!(told.len(), 6, "{wide:?}");
        assert!(told.iter().all(|(_, [near, far])| *near > 22.5 && *far < 29.5), "{told:?}");
        // On a small drawing their outline says it alone.
        let small = half_names(220.0);
        assert!(small.len() == 12 && small.iter().all(|(name, _)| name.len() == 2), "{small:?}");
        // In between their plain names keep clear of the arcs, too.
        let between = half_names(260.0);
        let beside = between.iter().filter(|(name, _)| ["A4", "A6"].contains(&name.as_str()));
        let far: Vec<_> = beside.map(|(_, [_, far])| *far).collect();
        assert!(far.len() == 2 && far.iter().all(|far| *far < 28.8), "{between:?}");
    }

    #[test]
    fn the_window_is_told_as_a_gap_less_a_dog() {
        let words = |saved: &str| {
            let analysis = Analysis::of(&open(saved).expect("it opens").design);
            let frame = FACE.frame(&analysis, 560.0, 1.0, 12.0);
            let scene = FACE.draw(&analysis, &frame, &ViewOptions::default());
            let notes = scene.items.iter().filter(|item| item.role == Role::Note);
            let words = notes.filter_map(|item| match &item.shape {
                Shape::Text(text) => Some(text.words.clone()),
                _ => None,
            });
            words.collect::<Vec<_>>().join(" ")
        };
        assert!(words(r#"{"crenel":1}"#).contains("gap 36° − dog 24° = window 12°"));
        // Short dogs do not stand in the way.
        let half = r#"{"crenel":1,"a":{"heights":[1,0.5]},"b":{"heights":[1,0.5]}}"#;
        assert!(words(half).contains("gap 96° − dog 24° = window 72°"));
        // No gap and no dog of measured rings differ by the window.
        let measured = r#"{"crenel":1,"a":{"dogs":[{"centre_deg":0},{"centre_deg":100},{"centre_deg":200}]},
            "b":{"dogs":[{"centre_deg":0},{"centre_deg":97},{"centre_deg":230}]}}"#;
        assert!(!words(measured).contains("gap") && words(measured).contains("window"));
    }

    #[test]
    fn handles_of_the_radii_stand_between_the_names_of_the_dogs() {
        let analysis = Analysis::of(&crate::design::example());
        let frame = FACE.frame(&analysis, 560.0, 1.0, 12.0);
        for place in 0..6 {
            let handles = FACE.handles(&analysis, &frame, Side::A, place);
            let radii = handles.iter().filter(|handle| {
                matches!(
                    handle.slot,
                    Slot::Ring(_, FieldId::InnerDiameter | FieldId::OuterDiameter)
                )
            });
            for handle in radii {
                // Names are at every 30°.
                let off = handle.at.angle().to_degrees().rem_euclid(30.0);
                assert!((off - 15.0).abs() < 1.6, "{place}: {off}");
            }
        }
    }
}
