//! The dogs at the mean radius, rolled out flat: B below, A above, as deep in each other as asked.

use std::f64::consts::TAU;

use super::face::Turn;
use super::frame::Frame;
use super::look::Look;
use super::scene::{Anchor, Role, Scene};
use crate::report::{Analysis, Pose};
use crate::ring::{Dog, FlankSide, Point, Ring, Side};

/// The unrolled view. Lengths along the shaft are stretched by the frame.
pub(super) fn unrolled_view(analysis: &Analysis, frame: &Frame, look: &Look) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let strip = Strip::at(analysis, frame, look.pose(analysis));
    for side in Side::BOTH {
        strip.web(&mut scene, side);
        strip.removed(&mut scene, side);
        strip.dogs(&mut scene, side);
        strip.datum(&mut scene, side);
    }
    scene.choose(look.chosen);
    scene
}

/// Where the two rings lie in the strip.
pub(super) struct Strip<'a> {
    pub(super) analysis: &'a Analysis,
    pub(super) frame: &'a Frame,
    pub(super) turn: Turn,
    overlap_mm: f64,
}

impl<'a> Strip<'a> {
    pub(super) fn at(analysis: &'a Analysis, frame: &'a Frame, pose: Pose) -> Self {
        Self { analysis, frame, turn: Turn::at(pose.phase), overlap_mm: pose.overlap_mm }
    }
}

impl Strip<'_> {
    fn ring(&self, side: Side) -> &Ring {
        self.analysis.ring(side)
    }

    /// Height in the view of a point `from_web` mm above the web of a ring.
    pub(super) fn level(&self, side: Side, from_web: f64) -> f64 {
        let [a, b] = Side::BOTH.map(|s| self.ring(s).tallest_mm());
        let mm = match side {
            Side::B => from_web,
            Side::A => b - self.overlap_mm + a - from_web,
        };
        mm * self.frame.stretch
    }

    /// Middle of a dog across the view, in one turn.
    pub(super) fn middle(&self, side: Side, dog: &Dog) -> f64 {
        let direction = self.turn.direction(side, dog.centre);
        self.frame.across(direction.rem_euclid(TAU))
    }

    /// How far a flank stands from the dog's middle across the view, `depth` below the tip, and
    /// on which side it lies there.
    pub(super) fn flank(&self, side: Side, dog: &Dog, flank: FlankSide, depth: f64) -> f64 {
        let mirrored = if side == Side::A { 1.0 } else { -1.0 };
        let ring = self.ring(side);
        let half = ring.half_width_at(dog, flank, ring.mean_radius_mm());
        let half = half.radians() * self.frame.radius_mm;
        mirrored * flank.sign() * (half - dog.leaned_mm(flank, depth))
    }

    fn outline(&self, side: Side, dog: &Dog) -> Vec<Point> {
        let (edge, height) = (dog.edge_break_mm, dog.height_mm);
        let at = |flank: FlankSide, across: f64, from_tip: f64| {
            let inward = self.flank(side, dog, flank, from_tip);
            let inward = inward - inward.signum() * across;
            Point::new(inward, self.level(side, height - from_tip))
        };
        let mut points = vec![at(FlankSide::Drive, 0.0, height)];
        for flank in FlankSide::BOTH {
            let mut corner = vec![at(flank, 0.0, edge), at(flank, edge, 0.0)];
            if edge == 0.0 {
                corner.truncate(1);
            }
            if flank == FlankSide::Coast {
                corner.reverse();
            }
            points.extend(corner);
        }
        points.push(at(FlankSide::Coast, 0.0, height));
        points
    }

    fn dogs(&self, scene: &mut Scene, side: Side) {
        let ring = self.ring(side);
        let named = ring.dogs.len() <= 16;
        for dog in &ring.dogs {
            let outline = self.outline(side, dog);
            self.repeat(self.middle(side, dog), |shift| {
                let points = clip(&outline, shift, self.frame.across(TAU));
                if points.len() > 2 {
                    scene.polygon(Role::Section, &points).dog(side, dog.place);
                }
            });
            if named {
                self.name(scene, side, dog);
            }
        }
    }

    fn name(&self, scene: &mut Scene, side: Side, dog: &Dog) {
        let room = self.frame.text_mm;
        // Where the strip is narrower than the name, the left end holds.
        let x = self.middle(side, dog).min(self.frame.across(TAU) - room).max(room);
        let at = Point::new(x, self.level(side, dog.height_mm * 0.45));
        let words = format!("{}{}", side.letter(), dog.place + 1);
        scene.text(Role::Label, at, self.frame.text_mm, Anchor::Middle, words).dog(side, dog.place);
    }

    /// What was cut off, in phantom lines and hatched.
    fn removed(&self, scene: &mut Scene, side: Side) {
        for found in &self.analysis.found[side as usize].dogs {
            let now = self.ring(side).at_place(found.place);
            for part in self.cut_parts(side, found, now) {
                self.repeat(self.middle(side, found), |shift| {
                    let points = clip(&part, shift, self.frame.across(TAU));
                    if points.len() > 2 {
                        let apart = 0.3 * self.frame.text_mm;
                        scene.hatch(&points, apart, &[]).of(side);
                        scene.polygon(Role::Removed, &points).dog(side, found.place);
                    }
                });
            }
        }
    }

    /// The top of a dog that was cut down, or all of it, and strips along flanks that were moved.
    fn cut_parts(&self, side: Side, found: &Dog, now: Option<&Dog>) -> Vec<[Point; 4]> {
        let left = now.map_or(0.0, |d| d.height_mm);
        let corner = |dog: &Dog, flank, from_web: f64| {
            let x = self.flank(side, dog, flank, dog.height_mm - from_web);
            Point::new(x, self.level(side, from_web))
        };
        let mut parts = Vec::new();
        if found.height_mm - left > 1e-9 {
            let [drive, coast] = FlankSide::BOTH;
            let (top, foot) = (found.height_mm, left);
            parts.push(
                [(drive, foot), (drive, top), (coast, top), (coast, foot)]
                    .map(|(flank, level)| corner(found, flank, level)),
            );
        }
        let strips = now.into_iter().flat_map(|now| {
            FlankSide::BOTH.map(|flank| {
                [(found, 0.0), (found, left), (now, left), (now, 0.0)]
                    .map(|(dog, level)| corner(dog, flank, level))
            })
        });
        parts.extend(strips.filter(|[a, b, c, d]| (b.x - c.x).abs().max((a.x - d.x).abs()) > 1e-9));
        parts
    }

    /// The web is drawn up to the edge of the paper.
    fn web(&self, scene: &mut Scene, side: Side) {
        let bounds = &self.frame.bounds;
        let level = self.level(side, 0.0);
        let edge = match side {
            Side::A => bounds.max.y.max(level),
            Side::B => bounds.min.y,
        };
        let corners = [
            (bounds.min.x, level),
            (bounds.max.x, level),
            (bounds.max.x, edge),
            (bounds.min.x, edge),
        ];
        scene.polygon(Role::Web, &corners.map(|(x, y)| Point::new(x, y))).of(side);
        scene.line(Role::Rim, &corners.map(|(x, y)| Point::new(x, y))[..2]).of(side);
    }

    fn datum(&self, scene: &mut Scene, side: Side) {
        let direction = self.turn.direction(side, crate::units::Angle::ZERO);
        let x = self.frame.across(direction.rem_euclid(TAU));
        let (size, out) = (self.frame.text_mm, if side == Side::A { 1.0 } else { -1.0 });
        let level = self.level(side, 0.0);
        let points = [(0.0, 0.0), (-0.5, 1.1), (0.5, 1.1)];
        let points = points.map(|(dx, dy)| Point::new(x + dx * size, level + out * dy * size));
        scene.polygon(Role::Datum, &points).of(side);
    }

    /// Draws at the place itself and once more on either end of the turn.
    fn repeat(&self, middle: f64, mut draw: impl FnMut(f64)) {
        let turn = self.frame.across(TAU);
        [middle - turn, middle, middle + turn].into_iter().for_each(&mut draw);
    }
}

/// A convex figure moved by `shift` and cut off at both ends of the turn.
pub(super) fn clip(points: &[Point], shift: f64, turn: f64) -> Vec<Point> {
    let moved: Vec<_> = points.iter().map(|p| Point::new(p.x + shift, p.y)).collect();
    let inside_left = cut_at(&moved, 0.0, 1.0);
    cut_at(&inside_left, turn, -1.0)
}

/// Keeps what lies on one side of an upright line (Sutherland–Hodgman with one edge).
fn cut_at(points: &[Point], x: f64, keep: f64) -> Vec<Point> {
    let inside = |p: &Point| keep * (p.x - x) >= 0.0;
    let mut kept = Vec::with_capacity(points.len() + 2);
    for (at, p) in points.iter().enumerate() {
        let previous = &points[(at + points.len() - 1) % points.len()];
        if inside(p) != inside(previous) {
            let share = (x - previous.x) / (p.x - previous.x);
            kept.push(Point::new(x, previous.y + share * (p.y - previous.y)));
        }
        if inside(p) {
            kept.push(*p);
        }
    }
    kept
}
