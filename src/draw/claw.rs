//! Claw, drum and detent, at rest or in a stroke.

use super::frame::Frame;
use super::handle::{Grip, Handle};
use super::plot::{bar, circle, cross, nothing};
use super::scene::{Anchor, Role, Scene};
use crate::fields::FieldId;
use crate::report::{Analysis, ClawStrokes};
use crate::ring::Point;
use crate::selector::{Claw, Detent, Star, Stroke};
use crate::units::{Angle, DisplayUnits, Quantity};

/// Share of the star's radius that its teeth stand high at most.
const TALLEST_TOOTH: f64 = 0.35;

/// A moment of a stroke: which, and how much of it is done, from 0 to 1.
pub(super) type Moment = Option<(Stroke, f64)>;

/// Every point that the drawing has to hold.
pub(super) fn extent(analysis: &Analysis) -> Vec<Point> {
    let selecting = &analysis.selecting;
    let mut points = Vec::new();
    let mut around = |x: f64, radius: f64| {
        points.extend(
            [(-1.0, -1.0), (1.0, 1.0)].map(|(dx, dy)| Point::new(x + dx * radius, dy * radius)),
        );
    };
    if let Some(star) = &selecting.star {
        around(0.0, star.radius_mm * 1.6);
    }
    if let Some(claw) = claw(analysis) {
        around(0.0, claw.pin_radius_mm * 1.25);
        around(claw.apart_mm, claw.stop_radius_mm * 0.4);
        around(claw.apart_mm + claw.stop_radius_mm, claw.eccentric_mm + 3.0);
    }
    points
}

/// The claw, whether it can turn the drum or not.
fn claw(analysis: &Analysis) -> Option<Claw> {
    analysis.selecting.claw.as_ref()?;
    analysis.design.selector.claw.as_ref().map(crate::design::Claw::working)
}

pub(super) fn claw_view(
    analysis: &Analysis,
    frame: &Frame,
    units: DisplayUnits,
    moment: Moment,
) -> Scene {
    let selecting = &analysis.selecting;
    let claw = claw(analysis);
    if claw.is_none() && selecting.star.is_none() {
        return nothing(frame, "No claw and no detent is given yet.");
    }
    let mut scene = Scene::new(frame.bounds);
    cross(&mut scene, Point::default(), 1.2 * frame.text_mm);
    let strokes = selecting.strokes();
    let (shaft, drum) = turned(strokes, selecting.star.as_ref(), moment);
    if let (Some(star), Some(detent)) = (&selecting.star, &selecting.detent) {
        draw_star(&mut scene, star, detent, drum);
    }
    if let Some(claw) = claw {
        let drawn = Drawn { frame, claw: &claw, shaft, drum };
        drawn.pins(&mut scene);
        drawn.stop(&mut scene);
        drawn.plate(&mut scene);
        if let (Some(strokes), Some((stroke, share))) = (strokes, moment) {
            drawn.gap(&mut scene, strokes, stroke, share, units);
        }
    }
    scene
}

/// How far shaft and drum have turned, counter-clockwise in the drawing, radians.
fn turned(strokes: Option<&ClawStrokes>, star: Option<&Star>, moment: Moment) -> (f64, f64) {
    let Some((strokes, (stroke, share))) = strokes.zip(moment) else { return (0.0, 0.0) };
    let (shaft, drum) = strokes.at(stroke, share, star);
    // Lifting draws the upper hook down: the claw turns one way and the drum the other.
    (stroke.sign() * shaft.radians(), -stroke.sign() * drum.radians())
}

struct Drawn<'a> {
    frame: &'a Frame,
    claw: &'a Claw,
    shaft: f64,
    drum: f64,
}

impl Drawn<'_> {
    fn pin_size(&self) -> f64 {
        (0.14 * self.claw.pin_radius_mm).max(0.4)
    }

    fn pins(&self, scene: &mut Scene) {
        circle(scene, Role::Rim, Point::default(), self.claw.pin_radius_mm);
        let step = self.claw.step().radians();
        let mut at = step / 2.0;
        while at < std::f64::consts::TAU + step / 4.0 {
            circle(scene, Role::Tip, self.claw.pin(at + self.drum), self.pin_size());
            at += step;
        }
    }

    /// A point of the claw at an angle from the line to the drum and a distance from the shaft.
    fn on_claw(&self, angle: f64, radius: f64) -> Point {
        let p = Point::polar(radius, std::f64::consts::PI - angle + self.shaft);
        Point::new(self.claw.apart_mm + p.x, p.y)
    }

    /// The plate with its two hooks, and what strikes the stop on its other side.
    fn plate(&self, scene: &mut Scene) {
        let middle = Point::new(self.claw.apart_mm, 0.0);
        for stroke in Stroke::BOTH {
            self.hook(scene, middle, stroke);
            self.prong(scene, middle, stroke);
        }
        cross(scene, middle, 1.2 * self.frame.text_mm);
        circle(scene, Role::Tip, middle, 0.16 * self.claw.stop_radius_mm);
        let words = Point::new(middle.x, middle.y - 2.6 * self.frame.text_mm);
        scene.text(Role::Label, words, self.frame.text_mm, Anchor::Middle, "shaft");
    }

    /// An arm that reaches round its pin and pulls it by a straight face.
    fn hook(&self, scene: &mut Scene, middle: Point, stroke: Stroke) {
        let (reach, pin) = (self.claw.hook_radius_mm(), self.pin_size());
        let half = self.claw.swing().radians() / 2.0;
        let face = half + (self.claw.play_mm[stroke as usize] + pin) / reach;
        let back = face + 2.5 * pin / reach;
        let at = |angle: f64, radius: f64| self.on_claw(stroke.sign() * angle, radius);
        bar(scene, Role::Tip, middle, at(back, reach - 1.5 * pin), 0.8 * pin);
        let corners = [
            at(back + pin / reach, reach + 1.6 * pin),
            at(face, reach + 1.6 * pin),
            at(face, reach - pin),
            at(back + pin / reach, reach - 2.0 * pin),
        ];
        scene.polygon(Role::Tip, &corners);
    }

    fn prong(&self, scene: &mut Scene, middle: Point, stroke: Stroke) {
        let (radius, pin) = (self.claw.stop_radius_mm, self.pin_size());
        let off =
            self.claw.swing_to_stop(stroke).radians() + (self.stop_size() + 0.8 * pin) / radius;
        let at = self.on_claw(std::f64::consts::PI + stroke.sign() * off, 1.1 * radius);
        bar(scene, Role::Tip, middle, at, 0.8 * pin);
    }

    fn stop_size(&self) -> f64 {
        (0.06 * self.claw.stop_radius_mm).max(0.5)
    }

    fn stop(&self, scene: &mut Scene) {
        let axis = Point::new(self.claw.apart_mm + self.claw.stop_radius_mm, 0.0);
        cross(scene, axis, 0.8 * self.frame.text_mm);
        circle(scene, Role::Tip, axis, self.stop_size());
        if self.claw.eccentric_mm > 0.0 {
            // The axis that it is turned about, off its middle.
            let at = self.claw.eccentric_at.radians();
            let about = Point::polar(self.claw.eccentric_mm, at + std::f64::consts::PI);
            let about = Point::new(axis.x + about.x, axis.y + about.y);
            circle(scene, Role::Root, about, self.stop_size() * 0.4);
        }
        let words = Point::new(axis.x, axis.y - 2.2 * self.frame.text_mm);
        scene.text(Role::Label, words, self.frame.text_mm, Anchor::Middle, "stop");
    }

    /// What is left between hook and pin at the end of the stroke.
    fn gap(
        &self,
        scene: &mut Scene,
        strokes: &ClawStrokes,
        stroke: Stroke,
        share: f64,
        units: DisplayUnits,
    ) {
        let end = &strokes.strokes[stroke as usize];
        let text = self.frame.text_mm;
        let corner = self.frame.bounds.max;
        let at = |row: f64| Point::new(corner.x - 0.5 * text, corner.y - (1.0 + row) * text);
        let deg =
            |angle: Angle| Quantity::Angle.show((angle.degrees() * 10.0).round() / 10.0, units);
        let step = deg(self.claw.step());
        let drum = deg(Angle::from_radians(self.drum.abs()));
        let words = format!("drum {drum} of {step}");
        scene.text(Role::Note, at(0.0), text, Anchor::End, words);
        if share >= 1.0 {
            let gap = Quantity::Length.show((end.gap_mm * 100.0).round() / 100.0, units);
            scene.text(Role::Note, at(1.4), text, Anchor::End, format!("gap at the stop {gap}"));
            scene.text(Role::Note, at(2.8), text, Anchor::End, end.ends.words());
        }
    }
}

/// How far out the star stands at an angle from a valley, mm.
fn outline(star: &Star, detent: &Detent, angle: f64) -> f64 {
    let step = star.step().radians();
    let from_valley = (angle.rem_euclid(step) - step / 2.0).abs();
    let from_valley = step / 2.0 - from_valley;
    let flank = (step / 2.0 - star.stand().radians()).max(0.0);
    let slope = star.radius_mm * detent.flank.tan();
    let tooth = (flank * slope).min(TALLEST_TOOTH * star.radius_mm);
    let up = (from_valley * slope).min(tooth);
    star.radius_mm - tooth / 2.0 + up
}

/// The star with its roller, which stands on the side away from the claw.
fn draw_star(scene: &mut Scene, star: &Star, detent: &Detent, drum: f64) {
    let steps = star.positions * 24.0;
    let mut points = Vec::new();
    let mut at = 0.0;
    while at < steps {
        let angle = at / steps * std::f64::consts::TAU;
        let out = outline(star, detent, angle);
        points.push(Point::polar(out, angle + drum + std::f64::consts::PI));
        at += 1.0;
    }
    scene.polygon(Role::Tip, &points);
    let roller = 0.17 * star.radius_mm;
    let seat = -(outline(star, detent, -drum) + roller);
    circle(scene, Role::Tip, Point::new(seat, 0.0), roller);
    let tail = Point::new(seat - 1.2 * roller, 0.0);
    bar(scene, Role::Rim, Point::new(seat, 0.0), tail, 0.3 * roller);
}

/// The handles of claw and detent.
pub(super) fn claw_handles(analysis: &Analysis, frame: &Frame) -> Vec<Handle> {
    let maker = |id: FieldId, at: Point, grip: Grip| {
        Handle::on_part(analysis, super::ViewKind::Claw, id, at, grip)
    };
    let out = Grip::Far { from: Point::default(), factor: 1.0 };
    let mut handles = Vec::new();
    if let Some(claw) = claw(analysis) {
        let away = claw.step().radians() * 1.5;
        let zero = claw.apart_mm;
        handles.extend([
            maker(FieldId::PinRadius, claw.pin(away), out.clone()),
            maker(
                FieldId::ShaftToDrum,
                Point::new(zero, 3.0 * frame.text_mm),
                Grip::Axis { factor: 1.0 },
            ),
            maker(
                FieldId::StopRadius,
                Point::new(zero + claw.stop_radius_mm, 3.0 * frame.text_mm),
                Grip::Lever { zero, per_degree: 1.0 },
            ),
        ]);
    }
    if let Some(star) = &analysis.selecting.star {
        let at = Point::polar(star.radius_mm, -2.0);
        handles.push(maker(FieldId::StarRadius, at, out));
    }
    handles.into_iter().flatten().collect()
}
