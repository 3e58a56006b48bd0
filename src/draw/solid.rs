//! Both rings as solids, turned about: A with its dogs towards the reader, B facing it from the front.

use super::frame::drawable;
use super::options::{RingState, ViewOptions};
use super::scene::{Bounds, Item, Role, Scene, Shape};
use crate::analysis::Analysis;
use crate::finding::Finding;
use crate::model::Pose;
use crate::ring::{PerSide, Point, Ring, Side};
use crate::solid::{Body, Facets, Seen, Sheet, Solid, Stroke, Vec3};
use crate::units::Angle;

/// How far the facets may be from the cylinders, mm.
const TOLERANCE_MM: f64 = 0.06;

/// Where the light comes from, seen by the reader: from above on the left, over the shoulder.
const LIGHT: Vec3 = Vec3::new(-0.45, 0.6, 0.66);

/// The lightest shade; 0 is the darkest.
pub const LIGHTEST: u8 = 7;

/// Paper round the rings, as a share of their size.
const MARGIN: f64 = 0.03;

/// Between the lines that hatch what comes off, as a share of the paper.
const HATCH_APART: f64 = 0.012;

/// How the picture of the solids is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn3 {
    /// Turn about the upright axis of the paper, degrees; plus brings the left side forward.
    pub yaw_deg: f64,
    /// Then about the level one, degrees; plus brings the top forward.
    pub pitch_deg: f64,
    /// How far the rings are drawn apart, so that one can see between them, mm.
    pub apart_mm: f64,
}

impl Default for Turn3 {
    fn default() -> Self {
        Self { yaw_deg: -50.0, pitch_deg: 20.0, apart_mm: 25.0 }
    }
}

/// The picture: facets with their shades and visible edges, back to front, in parallel projection.
///
/// Turned by nothing, it is the face view: along the shaft at the dogs of A, B nearer and seen from
/// its back. Its bounds depend on the rings and `apart_mm` alone, so that it does not jump while it
/// turns or while a shift is played, in which B keeps still. A ring of which no solid can be made is
/// left out; [`left_out`] says why. Metal that a cut takes is drawn over the picture, unhidden.
pub fn picture(analysis: &Analysis, body: &Body, turn: &Turn3, options: &ViewOptions) -> Scene {
    let rings = shown(analysis, options.state);
    let stage = Stage::of(rings, body, turn, options.pose(analysis));
    let mut scene = Scene::new(stage.bounds);
    let (sides, facets) = facets(rings, body);
    let seen = Seen::of(&facets, |solid, point| stage.place(sides[solid], point));
    seen.planes.iter().for_each(|plane| fill(&mut scene, plane, &sides));
    lines(&mut scene, &seen.strokes, &sides);
    if options.state == RingState::Both {
        Side::BOTH.into_iter().for_each(|side| removed(&mut scene, analysis, &stage, side));
    }
    scene.choose(options.chosen);
    scene.retain_finite()
}

/// The rings that the picture leaves out, each with what keeps it from being a solid.
pub fn left_out(analysis: &Analysis, body: &Body, state: RingState) -> Vec<(Side, Finding)> {
    let rings = shown(analysis, state);
    let why = |side: Side| Some(Finding::from(Solid::of(&rings[side], body).err()?));
    Side::BOTH.into_iter().filter_map(|side| Some((side, why(side)?))).collect()
}

fn shown(analysis: &Analysis, state: RingState) -> &PerSide<Ring> {
    match state {
        RingState::AsFound => &analysis.found,
        RingState::AsCut | RingState::Both => &analysis.cut,
    }
}

/// What a cut takes of each dog: its edges, and its end hatched both ways where that faces the reader.
fn removed(scene: &mut Scene, analysis: &Analysis, stage: &Stage, side: Side) {
    let (found, now) = (&analysis.found[side], &analysis.cut[side]);
    let apart = HATCH_APART * scene.bounds.width();
    for dog in &found.dogs {
        let left = now.at_place(dog.place).filter(|left| left.is_cut_down());
        let heights = [dog.height_mm, left.map_or(0.0, |left| left.height_mm)];
        for part in found.cut_away(now, dog.place) {
            let [top, foot] = heights.map(|mm| {
                part.points().iter().map(|p| stage.seen(side, *p, mm)).collect::<Vec<_>>()
            });
            if stage.faces_reader(side) {
                scene.cross_hatch(&top, apart).on_ring(side);
            }
            for corner in &part.segments {
                let edge = heights.map(|mm| stage.seen(side, corner.from(), mm));
                scene.line(Role::Removed, &edge).dog(side, dog.place);
            }
            for edges in [top, foot] {
                scene.polygon(Role::Removed, &edges).dog(side, dog.place);
            }
        }
    }
}

/// The rings of which a solid can be made.
fn facets(rings: &PerSide<Ring>, body: &Body) -> (Vec<Side>, Vec<Facets>) {
    let solids = Side::BOTH.into_iter().filter_map(|side| {
        let solid = Solid::of(&rings[side], body).ok()?;
        Some((side, solid.facets(TOLERANCE_MM)))
    });
    solids.unzip()
}

/// Where the rings are, and from where they are seen.
struct Stage {
    phase: Angle,
    /// Height of the web of B above that of A, mm.
    above_mm: f64,
    /// Height above the web of A that lies in the middle of the picture, mm.
    middle_mm: f64,
    yaw: Angle,
    pitch: Angle,
    bounds: Bounds,
}

impl Stage {
    fn of(rings: &PerSide<Ring>, body: &Body, turn: &Turn3, pose: Pose) -> Self {
        let apart = drawable(turn.apart_mm, 0.0);
        let PerSide { a, b } = rings.each_ref().map(|ring| drawable(ring.tallest_mm(), 0.0));
        let radius = rings.iter().map(|ring| ring.outer_radius_mm).fold(0.0, f64::max);
        let radius = drawable(radius + body.outside_mm, 1.0);
        // With the tips just level, which is as long as the rings get but for `apart`.
        let half = a / 2.0 + b / 2.0 + apart / 2.0 + drawable(body.thickness_mm, 0.0);
        let above = a + b + apart - pose.overlap_mm;
        let reach = libm::hypot(radius, half) * (1.0 + MARGIN);
        let corner = Point::new(reach, reach);
        Self {
            phase: pose.phase,
            above_mm: above,
            middle_mm: above + drawable(body.thickness_mm, 0.0) - half,
            yaw: Angle::from_degrees(turn.yaw_deg),
            pitch: Angle::from_degrees(turn.pitch_deg),
            bounds: Bounds { min: Point::new(-reach, -reach), max: corner },
        }
    }

    /// Where the reader sees a point of a ring's own solid.
    fn place(&self, side: Side, p: Vec3) -> Vec3 {
        let p = match side {
            Side::A => about(p, self.phase),
            // Turned over about the level axis, so that its angles run the other way.
            Side::B => Vec3::new(p.x, -p.y, self.above_mm - p.z),
        };
        self.turned(Vec3::new(p.x, p.y, p.z - self.middle_mm))
    }

    /// Where the reader sees a point of a ring's own plan, `height_mm` above its web.
    fn seen(&self, side: Side, p: Point, height_mm: f64) -> Point {
        flat(self.place(side, Vec3::new(p.x, p.y, height_mm)))
    }

    /// Whether the tips of a ring face the reader.
    fn faces_reader(&self, side: Side) -> bool {
        let [foot, tip] = [0.0, 1.0].map(|z| self.place(side, Vec3::new(0.0, 0.0, z)).z);
        tip > foot
    }

    fn turned(&self, p: Vec3) -> Vec3 {
        let (sin, cos) = (self.yaw.sin(), self.yaw.cos());
        let p = Vec3::new(p.x * cos + p.z * sin, p.y, p.z * cos - p.x * sin);
        let (sin, cos) = (self.pitch.sin(), self.pitch.cos());
        Vec3::new(p.x, p.y * cos - p.z * sin, p.y * sin + p.z * cos)
    }
}

/// Turned about the shaft.
fn about(p: Vec3, angle: Angle) -> Vec3 {
    let (sin, cos) = (angle.sin(), angle.cos());
    Vec3::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos, p.z)
}

const fn flat(p: Vec3) -> Point {
    Point::new(p.x, p.y)
}

/// The sheets of one plane. What follows the like of it becomes one with it.
fn fill(scene: &mut Scene, plane: &[Sheet], sides: &[Side]) {
    for sheet in plane {
        let (side, place) = (Some(sides[sheet.solid]), sheet.place);
        let shade = Some(shade(sheet.normal));
        let patch = sheet.corners.iter().map(|&corner| flat(corner)).collect();
        match scene.items.last_mut() {
            Some(Item { side: s, place: p, shade: h, shape: Shape::Patches(patches), .. })
                if (*s, *p, *h) == (side, place, shade) =>
            {
                patches.push(patch);
            }
            _ => {
                let item = scene.add(Role::Facet, Shape::Patches(vec![patch]));
                (item.side, item.place, item.shade) = (side, place, shade);
            }
        }
    }
}

/// How light a facet is, by how much it faces the light.
fn shade(normal: Vec3) -> u8 {
    let most = f64::from(LIGHTEST);
    let light = (normal.dot(LIGHT) + 0.3) / 1.3;
    // Clamped to the shades there are; NaN becomes 0.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let shade = (light * most).round().clamp(0.0, most) as u8;
    shade
}

/// So many of the last chains are looked through for one that goes on.
const OPEN_CHAINS: usize = 8;

/// The edges that are seen, those that follow each other as one chain.
fn lines(scene: &mut Scene, strokes: &[Stroke], sides: &[Side]) {
    let whose = |stroke: &Stroke| (stroke.solid, stroke.place);
    for part in strokes.chunk_by(|a, b| whose(a) == whose(b)) {
        for chain in chains(part) {
            let item = scene.line(Role::Tip, &chain);
            (item.side, item.place) = (Some(sides[part[0].solid]), part[0].place);
        }
    }
}

fn chains(strokes: &[Stroke]) -> Vec<Vec<Point>> {
    let mut chains: Vec<Vec<Point>> = Vec::new();
    for stroke in strokes {
        let (from, to) = (flat(stroke.from), flat(stroke.to));
        let mut open = chains.iter_mut().rev().take(OPEN_CHAINS);
        match open.find(|chain| chain.last() == Some(&from) || chain.first() == Some(&to)) {
            Some(chain) if chain.last() == Some(&from) => chain.push(to),
            Some(chain) => chain.insert(0, from),
            None => chains.push(vec![from, to]),
        }
    }
    chains
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::draw::frame::RingTurn;

    fn stage(turn: &Turn3, pose: Pose) -> Stage {
        Stage::of(&Analysis::of(&example()).cut, &Body::default(), turn, pose)
    }

    fn pose(overlap_mm: f64) -> Pose {
        Pose { phase: Angle::from_degrees(37.0), overlap_mm }
    }

    const FACE: Turn3 = Turn3 { yaw_deg: 0.0, pitch_deg: 0.0, apart_mm: 3.0 };

    #[test]
    fn turned_by_nothing_it_is_the_face_view() {
        let rings = Analysis::of(&example()).worked.cut;
        let stage = stage(&FACE, pose(2.0));
        let face = RingTurn::at(Angle::from_degrees(37.0));
        let tips = Side::BOTH.map(|side| {
            let angle = Angle::from_degrees(50.0);
            let tip = rings[side].tallest_mm();
            let seen = stage.place(side, Vec3::polar(25.0, angle.radians(), tip));
            let wanted = Point::polar(25.0, face.direction(side, angle));
            assert!(flat(seen).distance(wanted) < 1e-12, "{side:?}");
            seen.z
        });
        assert!((tips[0] - tips[1] - (2.0 - 3.0)).abs() < 1e-12, "overlap less what is apart");
    }

    #[test]
    fn the_paper_and_ring_b_stand_still() {
        let still = stage(&FACE, pose(0.0));
        let at = Vec3::new(25.0, 3.0, 1.0);
        for (yaw_deg, overlap) in [(40.0, 0.0), (-170.0, 3.0), (90.0, 5.0)] {
            let turned = stage(&Turn3 { yaw_deg, ..FACE }, pose(overlap));
            assert_eq!(turned.bounds, still.bounds);
            let face = stage(&FACE, pose(overlap));
            let moved = face.place(Side::B, at) - still.place(Side::B, at);
            assert!(moved.length() < 1e-12, "{moved:?}");
        }
    }

    #[test]
    fn a_ring_without_a_solid_is_left_out_and_told() {
        let mut design = example();
        let tip_width = crate::fields::Slot::Ring(Side::B, crate::fields::FieldId::TipWidth);
        let body = Body::default();
        assert_eq!(left_out(&Analysis::of(&design), &body, RingState::AsCut), []);
        design.set(tip_width, 60.0);
        let analysis = Analysis::of(&design);
        let codes: Vec<_> = left_out(&analysis, &body, RingState::AsCut)
            .into_iter()
            .map(|(side, finding)| (side, finding.code))
            .collect();
        assert_eq!(codes, [(Side::B, "solid_dogs_touch")]);
        let scene = picture(&analysis, &body, &Turn3::default(), &ViewOptions::default());
        assert!(!scene.items.is_empty());
        assert!(scene.items.iter().all(|item| item.side == Some(Side::A)));
    }

    #[test]
    fn what_goes_is_drawn_at_the_dog_and_hatched_where_its_end_faces_the_reader() {
        let mut design = example();
        design.a.plan.set_cut(0, Some(crate::design::Cut::Remove));
        let analysis = Analysis::of(&design);
        let drawn = |state, yaw_deg| {
            let turn = Turn3 { yaw_deg, ..FACE };
            let options = ViewOptions { state, ..ViewOptions::default() };
            let items = picture(&analysis, &Body::default(), &turn, &options).items;
            let place = |item: &&Item| (item.side, item.place) == (Some(Side::A), Some(0));
            let removed = items.iter().filter(|item| item.role == Role::Removed);
            assert!(removed.clone().all(|item| place(&item)));
            (removed.count() > 0, items.iter().any(|item| item.role == Role::Cut))
        };
        assert_eq!(drawn(RingState::AsCut, 0.0), (false, false));
        assert_eq!(drawn(RingState::AsFound, 0.0), (false, false));
        assert_eq!(drawn(RingState::Both, 0.0), (true, true));
        assert_eq!(drawn(RingState::Both, 180.0), (true, false), "seen from the back");
    }

    #[test]
    fn everything_lies_on_the_paper() {
        let analysis = Analysis::of(&example());
        for (yaw_deg, pitch_deg) in [(0.0, 0.0), (-50.0, 20.0), (90.0, 0.0), (200.0, -70.0)] {
            let turn = Turn3 { yaw_deg, pitch_deg, ..Turn3::default() };
            let scene = picture(&analysis, &Body::default(), &turn, &ViewOptions::default());
            let Bounds { min, max } = scene.bounds;
            let within =
                |p: &Point| (min.x..=max.x).contains(&p.x) && (min.y..=max.y).contains(&p.y);
            for item in &scene.items {
                assert!(item.side.is_some());
                assert_eq!(item.shade.is_some(), item.role == Role::Facet);
                match &item.shape {
                    Shape::Patches(patches) => assert!(patches.iter().flatten().all(within)),
                    Shape::Path { segments, .. } => {
                        assert!(segments.iter().all(|s| within(&s.from()) && within(&s.to())));
                    }
                    other => panic!("{other:?} in the picture"),
                }
            }
        }
    }
}
