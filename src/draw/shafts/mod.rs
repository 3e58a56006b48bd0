//! The section along the shafts of a whole gearbox, with everything where an angle of the drum puts it.
//!
//! Along the shafts dogs, clearances, grooves, pads, pins and tracks are to scale, and so are the diameters of the dogs.
//! Diameters of shafts and wheels, widths of wheels, forks and drum are plain ones: nobody gives them. Each shaft is a
//! half section (ISO 128-3): its outer half is cut, its inner half is seen from outside; shafts and dogs are not hatched.

mod laid;

use crenel_words::{Reader, drawing as say};

use self::laid::{Body, Dogs, Laid, RingSize, groove_of};
use super::frame::{Canvas, Frame, drawable};
use super::scene::{Anchor, Bounds, Role, Scene, Shape, spread, words_width, wrapped};
use crate::design::{ForkField, ForkSpec, Place, WheelKind};
use crate::gearset::{GearStanding, GearsetAnalysis, Meeting, SliderStanding};
use crate::ring::{Point, Side};
use crate::units::{Quantity, sort_by_number};

/// Depth of the groove of a slider, and how far its pad stays off the bottom, mm.
const GROOVE_MM: f64 = 5.0;
const OFF_BOTTOM_MM: f64 = 1.0;

/// Along the fork beyond the wheels: to the pin, the pin, its end below the surface of the drum, and the drum below, mm.
const LEG_MM: f64 = 5.0;
const PIN_MM: f64 = 9.0;
const TRACK_MM: f64 = 7.0;
const DRUM_MM: f64 = 11.0;

/// How far the drum is shown beside a track, mm.
const BESIDE_MM: f64 = 5.0;

/// How far a shaft stands out beyond its wheels, and a centre line beyond the shaft, mm.
const SHAFT_END_MM: f64 = 7.0;
const CENTRE_END_MM: f64 = 4.0;

/// Lines of hatching are so far apart: of wheels and sliders, and of forks and drum, mm.
const HATCH_MM: [f64; 2] = [2.2, 1.4];

/// Type of a file, mm: a size of ISO 3098.
const LETTER_MM: f64 = 3.5;

/// Room for letters beside the drawing, in letter heights: at the sides, and above and below it.
const ROOM: [f64; 2] = [1.0, 3.4];

/// The section along the shafts at an angle of the drum.
pub struct ShaftSection<'a> {
    of: &'a GearsetAnalysis,
    drum_deg: f64,
    standing: Vec<SliderStanding>,
    laid: Laid,
}

impl<'a> ShaftSection<'a> {
    /// The section with the drum at an angle, degrees.
    pub fn at(of: &'a GearsetAnalysis, drum_deg: f64) -> Self {
        Self { of, drum_deg, standing: of.standing(drum_deg), laid: Laid::of(of) }
    }

    /// The frame of the drawing, with letters of this share of its width. It is the same at every angle.
    pub fn frame(&self, letter: f64) -> Frame {
        let Bounds { min, max } = self.extent();
        let canvas = Canvas { shape: 1.0, letter, whole_shift: false };
        let wide = (max.x - min.x) / (1.0 - 2.0 * ROOM[0] * letter).max(0.5);
        let text = wide * letter;
        let [aside, above] = [(wide - max.x + min.x) / 2.0, ROOM[1] * text];
        let bounds = Bounds {
            min: Point::new(min.x - aside, min.y - above),
            max: Point::new(max.x + aside, max.y + above),
        };
        let frame = Frame::new(bounds, text);
        if frame.is_finite() { frame } else { Frame::plain(&canvas) }
    }

    /// The drawing on its frame.
    pub fn draw(&self, frame: &Frame, reader: Reader) -> Scene {
        let mut scene = Scene::new(frame.bounds);
        for shaft in 0..self.laid.bodies.len() {
            self.shaft(&mut scene, shaft);
            for (wheel, body) in self.laid.bodies[shaft].iter().enumerate() {
                let place = Place { shaft, wheel };
                match body.kind {
                    WheelKind::Sliding => self.slider(&mut scene, place, body),
                    WheelKind::Fixed | WheelKind::Free => self.wheel(&mut scene, shaft, body),
                }
            }
        }
        for slider in &self.standing {
            for gear in &slider.gears {
                self.dogs(&mut scene, slider, gear);
            }
            self.fork(&mut scene, slider);
        }
        self.names(&mut scene, frame, reader);
        scene.retain_finite()
    }

    /// The drawing for a file, at true size with letters of 3.5 mm, with what is to scale in words.
    pub fn paper(&self, reader: Reader) -> Scene {
        let Bounds { min, max } = self.extent();
        let mut scene = self.draw(&Frame::new(Bounds { min, max }, LETTER_MM), reader);
        let notes = [
            say::drum_at(self.drum_deg),
            say::shafts_to_scale(),
            say::shafts_not_to_scale(),
            say::tip_clearances(),
        ];
        let room = (max.x - min.x) / LETTER_MM;
        let mut y = min.y - (ROOM[1] + 1.0) * LETTER_MM;
        for line in notes.iter().flat_map(|note| wrapped(&note.show(reader), room)) {
            scene.text(Role::Note, Point::new(min.x, y), LETTER_MM, Anchor::Start, line);
            y -= 1.5 * LETTER_MM;
        }
        let aside = 2.0 * LETTER_MM;
        scene.bounds = Bounds {
            min: Point::new(min.x - aside, y - LETTER_MM),
            max: Point::new(max.x + aside, max.y + ROOM[1] * LETTER_MM),
        };
        scene.retain_finite()
    }

    /// The gear whose wheel or dogs are at a point of the drawing, from 0.
    pub fn gear_at(&self, p: Point) -> Option<usize> {
        let apart = |own: &Dogs| {
            let (wheel, slider) = (self.laid.at(own.wheel)?, self.laid.at(own.slider)?);
            let ends = [wheel.x + own.along * wheel.half_mm, slider.x + own.along * slider.half_mm];
            let is_beside = (ends[0].min(ends[1])..=ends[0].max(ends[1])).contains(&p.x);
            let off = (p.y - self.axis(own.wheel.shaft)).abs();
            (is_beside && off <= wheel.radius_mm.max(slider.radius_mm)).then_some((own.gear, off))
        };
        let under = self.laid.dogs.iter().filter_map(apart);
        under.min_by(|(_, a), (_, b)| a.total_cmp(b)).map(|(gear, _)| gear)
    }

    /// The height of the axis of a shaft, the first one on top.
    fn axis(&self, shaft: usize) -> f64 {
        let last = self.laid.bodies.len().saturating_sub(1);
        self.laid.apart_mm * count(last.saturating_sub(shaft))
    }

    /// Which way the half of a shaft looks that is cut: up from the first shaft, down from the others.
    const fn outwards(shaft: usize) -> f64 {
        if shaft == 0 { 1.0 } else { -1.0 }
    }

    /// How far the wheels of a shaft reach from its axis, mm.
    fn reach(&self, shaft: usize) -> f64 {
        let radii = self.laid.bodies[shaft].iter().map(|body| body.radius_mm);
        radii.fold(self.laid.shaft_mm, f64::max)
    }

    /// How far the drum reaches from the axis of a shaft; as far as the wheels where it moves no slider of that shaft.
    fn depth(&self, shaft: usize) -> f64 {
        let has_fork = self.standing.iter().any(|own| self.place_of(own).shaft == shaft);
        self.reach(shaft) + if has_fork { LEG_MM + DRUM_MM } else { 0.0 }
    }

    /// What the drawing covers without its letters.
    fn extent(&self) -> Bounds {
        let bodies = || self.laid.bodies.iter().flatten();
        let left = bodies().map(|body| body.x - body.half_mm).fold(f64::INFINITY, f64::min);
        let right = bodies().map(|body| body.x + body.half_mm).fold(f64::NEG_INFINITY, f64::max);
        let past = SHAFT_END_MM + CENTRE_END_MM;
        let shafts = 0..self.laid.bodies.len();
        let edge = |shaft: usize, way: f64| {
            let is_out = Self::outwards(shaft) == way;
            let far = if is_out { self.depth(shaft) } else { self.reach(shaft) };
            self.axis(shaft) + way * far
        };
        let low = shafts.clone().map(|shaft| edge(shaft, -1.0)).fold(0.0, f64::min);
        let high = shafts.map(|shaft| edge(shaft, 1.0)).fold(10.0, f64::max);
        let (left, right) = if left < right { (left, right) } else { (0.0, 10.0) };
        Bounds { min: Point::new(left - past, low), max: Point::new(right + past, high) }
    }

    fn place_of(&self, slider: &SliderStanding) -> Place {
        let set = &self.of.gearset;
        let own = set.forks.get(slider.fork).map_or(0, |fork| fork.slider);
        set.sliders.get(own).copied().unwrap_or_default()
    }

    /// The way along the shaft in which fork travel counts.
    fn along(&self, slider: &SliderStanding) -> f64 {
        let at = self.of.forks_on_drum.iter().position(|fork| *fork == slider.fork);
        let is_turned = at.and_then(|at| self.of.drum.forks.get(at)).is_some_and(|f| f.is_turned);
        if is_turned { -1.0 } else { 1.0 }
    }

    fn standing_at(&self, place: Place) -> Option<&SliderStanding> {
        self.standing.iter().find(|own| self.place_of(own) == place)
    }

    /// The middle of a slider where the drum puts it.
    fn slider_x(&self, place: Place) -> f64 {
        let moved = self.standing_at(place).map_or(0.0, |own| self.along(own) * own.slider_mm);
        self.laid.at(place).map_or(0.0, |body| body.x) + moved
    }
}

// ---- shafts, wheels, sliders ----

impl ShaftSection<'_> {
    /// A shaft where no wheel hides it, and its centre line.
    fn shaft(&self, scene: &mut Scene, shaft: usize) {
        let (y, radius) = (self.axis(shaft), self.laid.shaft_mm);
        let mut covered: Vec<[f64; 2]> = Vec::new();
        for (wheel, body) in self.laid.bodies[shaft].iter().enumerate() {
            let x = match body.kind {
                WheelKind::Sliding => self.slider_x(Place { shaft, wheel }),
                WheelKind::Fixed | WheelKind::Free => body.x,
            };
            covered.push([x - body.half_mm, x + body.half_mm]);
        }
        let Bounds { min, max } = self.extent();
        let ends = [min.x + CENTRE_END_MM, max.x - CENTRE_END_MM];
        for free in uncovered(ends, covered) {
            for way in [1.0, -1.0] {
                let at = free.map(|x| Point::new(x, y + way * radius));
                scene.line(Role::Section, &at);
            }
        }
        for x in ends {
            scene.line(Role::Section, &[Point::new(x, y - radius), Point::new(x, y + radius)]);
        }
        scene.line(Role::Centre, &[Point::new(min.x, y), Point::new(max.x, y)]);
    }

    /// A wheel: cut on one side of the axis, from outside on the other.
    fn wheel(&self, scene: &mut Scene, shaft: usize, body: &Body) {
        let ends = [body.x - body.half_mm, body.x + body.half_mm];
        let outline = [
            (ends[0], self.laid.shaft_mm),
            (ends[0], body.radius_mm),
            (ends[1], body.radius_mm),
            (ends[1], self.laid.shaft_mm),
        ];
        self.both_halves(scene, shaft, &outline, HATCH_MM[0]);
        let y = self.axis(shaft);
        let shown = [ends[0] - 1.0, ends[1] + 1.0];
        for way in [1.0, -1.0] {
            let at = shown.map(|x| Point::new(x, y + way * (body.radius_mm - 1.0)));
            scene.line(Role::Centre, &at);
        }
    }

    /// A slider with its groove.
    fn slider(&self, scene: &mut Scene, place: Place, body: &Body) {
        let (x, half) = (self.slider_x(place), groove_of(self.of, place) / 2.0);
        let (outer, inner) = (body.radius_mm, self.bottom(body));
        let ends = [x - body.half_mm, x + body.half_mm];
        let outline = [
            (ends[0], self.laid.shaft_mm),
            (ends[0], outer),
            (x - half, outer),
            (x - half, inner),
            (x + half, inner),
            (x + half, outer),
            (ends[1], outer),
            (ends[1], self.laid.shaft_mm),
        ];
        self.both_halves(scene, place.shaft, &outline, -HATCH_MM[0]);
    }

    /// Radius of the bottom of a groove, mm.
    fn bottom(&self, body: &Body) -> f64 {
        (body.radius_mm - GROOVE_MM).max(self.laid.shaft_mm + 1.0).min(body.radius_mm)
    }

    /// An outline of places along the shaft and radii: cut and hatched on the outer side of the shaft, seen on the
    /// inner one.
    fn both_halves(&self, scene: &mut Scene, shaft: usize, outline: &[(f64, f64)], apart: f64) {
        let (y, out) = (self.axis(shaft), Self::outwards(shaft));
        let half = |way: f64| -> Vec<Point> {
            outline.iter().map(|(x, r)| Point::new(*x, y + way * r)).collect()
        };
        let cut = half(out);
        scene.polygon(Role::Section, &cut);
        scene.cut_face(&cut, apart);
        scene.line(Role::Section, &half(-out));
    }
}

// ---- dogs ----

impl ShaftSection<'_> {
    fn dogs(&self, scene: &mut Scene, slider: &SliderStanding, gear: &GearStanding) {
        let Some(own) = self.laid.dogs_of(gear.gear) else { return };
        let (Some(wheel), Some(carrier)) = (self.laid.at(own.wheel), self.laid.at(own.slider))
        else {
            return;
        };
        let [a, b] = own.sizes;
        let faces = [
            self.slider_x(own.slider) + own.along * carrier.half_mm,
            wheel.x - own.along * wheel.half_mm,
        ];
        let tips = [faces[0] + own.along * a.height_mm, faces[1] - own.along * b.height_mm];
        let y = self.axis(own.wheel.shaft);
        let drawn = [(Side::B, b, faces[1], tips[1]), (Side::A, a, faces[0], tips[0])];
        for way in [1.0, -1.0] {
            for (side, size, face, tip) in drawn {
                if size.height_mm > 0.0 {
                    scene.polygon(Role::Section, &block(y, way, [face, tip], size)).on_ring(side);
                }
            }
            if gear.meeting != Meeting::Apart {
                let both = RingSize {
                    inner_mm: a.inner_mm.max(b.inner_mm),
                    outer_mm: a.outer_mm.min(b.outer_mm),
                    ..a
                };
                let where_both = block(y, way, [tips[1], tips[0]], both).to_vec();
                scene.add(self.role_of(gear), Shape::Patches(vec![where_both]));
            }
        }
        let out = Self::outwards(own.wheel.shaft);
        let across = |x: f64, size: RingSize| {
            [size.inner_mm, size.outer_mm].map(|r| Point::new(x, y + out * r))
        };
        if gear.is_home {
            // The tip that is at the bottom of the dogs across.
            let at = if a.height_mm > b.height_mm { tips[0] } else { tips[1] };
            let at = if (tips[0] - faces[1]).abs() < 1e-6 { tips[0] } else { at };
            scene.line(Role::State, &across(at, a));
        } else if slider.drawn_home.is_none() && slider.play_mm > 0.0 {
            for play in [-slider.play_mm, slider.play_mm] {
                scene.line(Role::Removed, &across(tips[0] + play, a)).on_ring(Side::A);
            }
        }
    }

    /// How dogs are marked that touch: two gears at once are marked as what locks.
    fn role_of(&self, gear: &GearStanding) -> Role {
        let others = self.standing.iter().flat_map(|own| &own.gears);
        let set = &self.of.gearset;
        let locks = others
            .filter(|own| own.gear != gear.gear && own.meeting != Meeting::Apart)
            .any(|own| set.ratio(own.gear) != set.ratio(gear.gear));
        match gear.meeting {
            _ if locks => Role::Locked,
            Meeting::Holding => Role::AfterRubbing,
            Meeting::Touching | Meeting::Apart => Role::StraightIn,
        }
    }
}

/// A block of dogs from one place along the shaft to another, on one side of an axis.
fn block(y: f64, way: f64, [from, to]: [f64; 2], size: RingSize) -> [Point; 4] {
    let [low, high] = [size.inner_mm, size.outer_mm].map(|r| y + way * r);
    [Point::new(from, low), Point::new(to, low), Point::new(to, high), Point::new(from, high)]
}

// ---- forks ----

impl ShaftSection<'_> {
    /// A fork: its pad in the groove, its leg past the wheels, its pin in the track of the drum.
    fn fork(&self, scene: &mut Scene, slider: &SliderStanding) {
        let place = self.place_of(slider);
        let set = &self.of.gearset;
        let (Some(body), Some(fork)) = (self.laid.at(place), set.forks.get(slider.fork)) else {
            return;
        };
        let (axis, out) = (self.axis(place.shaft), Self::outwards(place.shaft));
        let along = self.along(slider);
        let at = |mm: f64, r: f64| Point::new(body.x + mm, axis + out * r);
        let half = |field| drawable(fork.get(field), 0.0) / 2.0;
        let (pad, pin) = (along * slider.pad_mm, along * slider.pin_mm);
        let (thick, round) = (half(ForkField::ForkThickness), half(ForkField::PinDiameter));
        let [foot, end] = [self.bottom(body) + OFF_BOTTOM_MM, self.reach(place.shaft) + LEG_MM];
        let corners = [(pad - thick, foot), (pad + thick, foot)];
        let shoulder = body.radius_mm + OFF_BOTTOM_MM;
        let leg = [(pad + thick, shoulder), (pin + thick, end), (pin - thick, end)];
        let back = [(pad - thick, shoulder)];
        let outline: Vec<Point> =
            corners.into_iter().chain(leg).chain(back).map(|(x, r)| at(x, r)).collect();
        scene.polygon(Role::Section, &outline);
        scene.cut_face(&outline, HATCH_MM[1]);
        let tip = end - LEG_MM + PIN_MM;
        let outline =
            [(pin - round, end), (pin + round, end), (pin + round, tip), (pin - round, tip)];
        scene.polygon(Role::Section, &outline.map(|(x, r)| at(x, r)));
        self.track(scene, fork, |mm, r| at(pin + mm, end - LEG_MM + r));
        self.pad_rests(scene, slider, body, at);
    }

    /// The drum about a track.
    fn track(&self, scene: &mut Scene, fork: &ForkSpec, at: impl Fn(f64, f64) -> Point) {
        let half = drawable(fork.get(ForkField::TrackWidth), 0.0) / 2.0;
        let (far, surface) = (half + BESIDE_MM, LEG_MM + 0.5);
        let bottom = PIN_MM.max(TRACK_MM) + 0.5;
        let outline = [
            (-far, surface),
            (-half, surface),
            (-half, bottom),
            (half, bottom),
            (half, surface),
            (far, surface),
            (far, LEG_MM + DRUM_MM),
            (-far, LEG_MM + DRUM_MM),
        ];
        let outline = outline.map(|(x, r)| at(x, r));
        scene.polygon(Role::Section, &outline);
        scene.cut_face(&outline, -HATCH_MM[1]);
    }

    /// Where a pad rests on a flank of its groove, it carries the thrust.
    fn pad_rests(
        &self,
        scene: &mut Scene,
        slider: &SliderStanding,
        body: &Body,
        at: impl Fn(f64, f64) -> Point,
    ) {
        let half = groove_of(self.of, self.place_of(slider)) / 2.0;
        let along = self.along(slider);
        for (room, way) in slider.room_mm.into_iter().zip([-1.0, 1.0]) {
            if room > 0.0 {
                continue;
            }
            let flank = along * (slider.slider_mm + way * half);
            let pad = flank - along * way * room.min(-0.4);
            let radii = [self.bottom(body) + OFF_BOTTOM_MM, body.radius_mm];
            let corners = [(flank, 0), (pad, 0), (pad, 1), (flank, 1)];
            let patch = corners.map(|(x, end)| at(x, radii[end])).to_vec();
            scene.add(Role::Locked, Shape::Patches(vec![patch]));
        }
    }
}

// ---- words ----

impl ShaftSection<'_> {
    /// The number of each gear at its wheel, and the clearance of its dogs beyond the drum.
    fn names(&self, scene: &mut Scene, frame: &Frame, reader: Reader) {
        for shaft in 0..self.laid.bodies.len() {
            let mut told: Vec<(f64, f64, String)> = Vec::new();
            for gear in self.standing.iter().flat_map(|own| &own.gears) {
                let own = self.laid.dogs_of(gear.gear).filter(|own| own.wheel.shaft == shaft);
                let Some(own) = own else { continue };
                self.number(scene, frame, own);
                let (Some(wheel), Some(slider)) =
                    (self.laid.at(own.wheel), self.laid.at(own.slider))
                else {
                    continue;
                };
                let between = wheel.x - own.along * (wheel.half_mm + own.sizes[1].height_mm);
                let from = slider.radius_mm.max(own.sizes[0].outer_mm) + 1.0;
                let words = Quantity::Length.format(-gear.overlap_mm, reader.units);
                told.push((between, from, words.replace('-', "−")));
            }
            self.clearances(scene, frame, shaft, told);
        }
    }

    fn number(&self, scene: &mut Scene, frame: &Frame, own: &Dogs) {
        let Some(wheel) = self.laid.at(own.wheel) else { return };
        let out = Self::outwards(own.wheel.shaft);
        let off = out * (wheel.radius_mm + 0.9 * frame.text_mm);
        let at = Point::new(wheel.x, self.axis(own.wheel.shaft) + off);
        let number = (own.gear + 1).to_string();
        scene.text(Role::Label, at, frame.text_mm, Anchor::Middle, number);
    }

    /// A row of words beyond the drum, each with a line to its place along the shaft and the radius where that begins,
    /// moved apart where they would lie over each other.
    fn clearances(
        &self,
        scene: &mut Scene,
        frame: &Frame,
        shaft: usize,
        mut told: Vec<(f64, f64, String)>,
    ) {
        let (text, y, out) = (frame.text_mm, self.axis(shaft), Self::outwards(shaft));
        sort_by_number(&mut told, |(x, ..)| *x);
        let wanted: Vec<f64> = told.iter().map(|(x, ..)| *x).collect();
        let room = |words: &String| (words_width(words) + 0.5) * text;
        let needed: f64 = told.iter().map(|(_, _, words)| room(words)).sum();
        if needed > frame.bounds.width() {
            // Ten thousandths of an inch are no matter here.
            for (.., words) in told.iter_mut().filter(|(.., words)| words.len() > 5) {
                words.pop();
            }
        }
        let rooms: Vec<f64> = told.iter().map(|(_, _, words)| room(words)).collect();
        let places = spread(&wanted, &rooms, [frame.bounds.min.x, frame.bounds.max.x]);
        let row = self.depth(shaft);
        for ((x, from, words), place) in told.into_iter().zip(places) {
            let at = |x: f64, r: f64| Point::new(x, y + out * r);
            let foot = row + 0.8 * text;
            scene.line(Role::Dimension, &[at(x, from), at(x, row), at(place, foot)]);
            scene.text(Role::Note, at(place, row + 1.7 * text), text, Anchor::Middle, words);
        }
    }
}

/// What of a range no other covers.
fn uncovered([from, to]: [f64; 2], mut covered: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    sort_by_number(&mut covered, |[start, _]| *start);
    let mut at = from;
    let mut free = Vec::new();
    for [start, end] in covered {
        if start > at {
            free.push([at, start.min(to)]);
        }
        at = at.max(end);
    }
    free.push([at, to]);
    free.retain(|[from, to]| from < to);
    free
}

fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests;
