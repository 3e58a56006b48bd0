//! The drawing of one ring for the machine: true size, in mm, looking at its dogs.

use super::frame::Bounds;
use super::scene::{Anchor, Role, Scene, Shape};
use crate::report::Analysis;
use crate::ring::{Cut, Dog, FlankSide, Layout, Point, Ring, Segment, Side};
use crate::units::{DisplayUnits, Quantity, decimal};

/// Letters of 3.5 mm (ISO 3098).
const LETTER_MM: f64 = 3.5;

/// Side of the square that proves the scale.
const CHECK_MM: f64 = 10.0;

/// What every drawing says about its unit.
pub const fn unit_words() -> &'static str {
    "All lengths in millimetres, scale 1:1. The square measures 10 mm."
}

/// The drawing of a ring as it is to be: closed tip and root outlines, what comes off, centre
/// lines, datum mark, dimensions, a section of the chosen dog, a list of the dogs, and the link.
pub fn ring_drawing(analysis: &Analysis, side: Side, link: &str) -> Scene {
    let ring = analysis.ring(side);
    let outer = ring.outer_radius_mm.max(1.0);
    let sheet = Sheet { analysis, ring, side, outer };
    let list = sheet.list(link);
    let left = Point::new(-outer - 22.0, -outer - 48.0 - ring.tallest_mm());
    let lines = f64::from(u32::try_from(list.len()).unwrap_or(u32::MAX));
    let bottom = left.y.min(outer + 14.0 - 1.6 * LETTER_MM * (lines + 1.0));
    let widest = list.iter().map(|line| line.chars().count()).max().unwrap_or(0);
    let letters = f64::from(u32::try_from(widest).unwrap_or(u32::MAX));
    let right = outer + 30.0 + 0.62 * LETTER_MM * letters.min(90.0);
    let bounds = Bounds { min: Point::new(left.x, bottom), max: Point::new(right, outer + 22.0) };
    let mut scene = Scene::new(bounds);
    sheet.plan(&mut scene);
    sheet.dimensions(&mut scene);
    sheet.section(&mut scene);
    sheet.notes(&mut scene, &list);
    sheet.check_square(&mut scene);
    scene
}

struct Sheet<'a> {
    analysis: &'a Analysis,
    ring: &'a Ring,
    side: Side,
    outer: f64,
}

fn mm(value: f64) -> String {
    decimal(value, 3)
}

fn deg(degrees: f64) -> String {
    Quantity::Angle.show(degrees, DisplayUnits::default())
}

impl Sheet<'_> {
    fn plan(&self, scene: &mut Scene) {
        for radius in [self.ring.inner_radius_mm, self.ring.outer_radius_mm] {
            scene.add(Role::Rim, Shape::Circle { radius }).of(self.side);
        }
        let reach = self.outer + 6.0;
        for (x, y) in [(reach, 0.0), (0.0, reach)] {
            scene.line(Role::Centre, &[Point::new(-x, -y), Point::new(x, y)]);
        }
        let found = &self.analysis.found[self.side as usize];
        let changed = |dog: &&Dog| !self.ring.dogs.iter().any(|now| now == *dog);
        for dog in found.dogs.iter().filter(changed) {
            if let Some(outline) = found.tip_outline(dog) {
                let shape = Shape::Path { segments: outline.segments, closed: true };
                scene.add(Role::Removed, shape).dog(self.side, dog.place);
            }
        }
        for dog in &self.ring.dogs {
            self.dog(scene, dog);
        }
        self.datum(scene);
    }

    fn dog(&self, scene: &mut Scene, dog: &Dog) {
        let outlines =
            [(Role::Tip, self.ring.tip_outline(dog)), (Role::Root, self.ring.root_outline(dog))];
        for (role, outline) in outlines {
            if let Some(outline) = outline {
                let shape = Shape::Path { segments: outline.segments, closed: true };
                scene.add(role, shape).dog(self.side, dog.place);
            }
        }
        let at = Point::polar(self.ring.mean_radius_mm(), dog.centre.radians());
        let height =
            LETTER_MM.min(0.25 * (self.ring.outer_radius_mm - self.ring.inner_radius_mm)).max(0.5);
        let words = format!("{}", dog.place + 1);
        scene.text(Role::Label, at, height, Anchor::Middle, words).dog(self.side, dog.place);
    }

    fn datum(&self, scene: &mut Scene) {
        let r = self.outer;
        let corners = [(r + 0.5, 0.0), (r + 4.0, 1.75), (r + 4.0, -1.75)];
        scene.polygon(Role::Datum, &corners.map(|(x, y)| Point::new(x, y))).of(self.side);
        let at = Point::new(r + 8.0, LETTER_MM);
        scene.text(Role::Note, at, LETTER_MM, Anchor::Start, "datum 0°");
    }

    fn dimensions(&self, scene: &mut Scene) {
        let diameters =
            [("Ø", self.ring.inner_radius_mm, 10.0), ("Ø", self.ring.outer_radius_mm, 18.0)];
        for (sign, radius, below) in diameters {
            let y = -self.outer - below;
            for x in [-radius, radius] {
                scene.line(Role::Dimension, &[Point::new(x, 0.0), Point::new(x, y - 1.5)]);
            }
            let words = format!("{sign}{}", mm(2.0 * radius));
            distance(scene, Point::new(-radius, y), Point::new(radius, y), words);
        }
        let Some(dog) = self.ring.dogs.first() else { return };
        let half = dog.tip_width.radians() / 2.0;
        let centre = dog.centre.radians();
        self.angle(scene, centre - half, centre + half, 8.0, deg(dog.tip_width.degrees()));
        if let Some(next) = self.ring.dogs.get(1) {
            let pitch = (next.centre - dog.centre).wrapped();
            self.angle(scene, centre, centre + pitch.radians(), 15.0, deg(pitch.degrees()));
        }
    }

    /// An angle dimension outside the ring, `out` beyond its rim.
    fn angle(&self, scene: &mut Scene, from: f64, to: f64, out: f64, words: String) {
        let radius = self.outer + out;
        for direction in [from, to] {
            let ends = [self.outer + 0.5, radius + 1.5].map(|r| Point::polar(r, direction));
            scene.line(Role::Dimension, &ends);
        }
        let segments = vec![Segment::Arc { radius, start: from, sweep: to - from }];
        scene.add(Role::Dimension, Shape::Path { segments, closed: false });
        // Along the arc the arrow stands square to the radius.
        for (at, turn) in [(from, 1.0), (to, -1.0)] {
            let quarter = std::f64::consts::FRAC_PI_2;
            arrow(scene, Point::polar(radius, at), at + turn * quarter);
        }
        let at = Point::polar(radius + 0.9 * LETTER_MM, (from + to) / 2.0);
        scene.text(Role::Dimension, at, LETTER_MM, Anchor::Start, words);
    }

    /// Section of the first dog at the mean radius, below the plan.
    fn section(&self, scene: &mut Scene) {
        let Some(dog) = self.ring.dogs.first() else { return };
        let base = -self.outer - 36.0 - self.ring.tallest_mm();
        let half = self.ring.half_chord_mm(dog);
        let corner = |flank: FlankSide, depth: f64| {
            let x = flank.sign() * (half - depth * dog.back_cut.of(flank).tan());
            Point::new(x, base + dog.height_mm - depth)
        };
        let h = dog.height_mm;
        let points = [
            corner(FlankSide::Drive, h),
            corner(FlankSide::Drive, 0.0),
            corner(FlankSide::Coast, 0.0),
            corner(FlankSide::Coast, h),
        ];
        scene.polygon(Role::Section, &points).dog(self.side, dog.place);
        let web = half + 6.0;
        scene.line(Role::Rim, &[Point::new(-web, base), Point::new(web, base)]).of(self.side);
        let y = base + h + 7.0;
        for x in [-half, half] {
            scene.line(Role::Dimension, &[Point::new(x, base + h), Point::new(x, y + 1.5)]);
        }
        distance(scene, Point::new(-half, y), Point::new(half, y), mm(2.0 * half));
        let words = format!(
            "dog {}, section at Ø{}: height {}, back-cut drive {} / coast {}",
            dog.place + 1,
            mm(2.0 * self.ring.mean_radius_mm()),
            mm(h),
            deg(dog.back_cut.drive.degrees()),
            deg(dog.back_cut.coast.degrees()),
        );
        scene.text(
            Role::Note,
            Point::new(-self.outer - 20.0, base - LETTER_MM * 1.6),
            LETTER_MM,
            Anchor::Start,
            words,
        );
    }

    fn list(&self, link: &str) -> Vec<String> {
        let design = &self.analysis.design;
        let title = if design.title.is_empty() { "Untitled" } else { &design.title };
        let mut lines = vec![
            format!(
                "{title}{}",
                if design.initials.is_empty() {
                    String::new()
                } else {
                    format!(" – {}", design.initials)
                }
            ),
            format!(
                "{}, looking at its dogs. Angles counter-clockwise from the datum mark.",
                self.side.name()
            ),
            unit_words().to_owned(),
            String::new(),
            "dog    centre    width    height    do".to_owned(),
        ];
        let spec = design.ring(self.side);
        let found = spec.found_dogs();
        for (place, dog) in found.iter().enumerate().filter(|(_, d)| d.height_mm > 0.0) {
            let (height, order) = match spec.cuts.get(&place) {
                None => (dog.height_mm, "keep".to_owned()),
                Some(Cut::Remove) => (0.0, "remove".to_owned()),
                Some(Cut::Shorten(to)) => {
                    (to.min(dog.height_mm), format!("shorten from {}", mm(dog.height_mm)))
                }
            };
            lines.push(format!(
                "{}    {}    {}    {}    {order}",
                place + 1,
                deg(dog.centre_deg),
                deg(dog.tip_width_deg),
                mm(height)
            ));
        }
        let fillet = found.first().map_or(0.0, |d| d.root_fillet_mm);
        let edge = found.first().map_or(0.0, |d| d.edge_break_mm);
        let same = if matches!(spec.layout, Layout::Even(_)) { "" } else { " (dog 1)" };
        lines.push(String::new());
        lines.push(format!(
            "Root fillet R{}, edge break {}{same}. Outlines are to sharp corners.",
            mm(fillet),
            mm(edge)
        ));
        lines.push(
            "Keep to the maker's limits and local rules; have a qualified shop check the part."
                .to_owned(),
        );
        lines.push("A part that fails can lock the rear wheel.".to_owned());
        if !link.is_empty() {
            lines.push("Design:".to_owned());
            let letters: Vec<char> = link.chars().collect();
            lines.extend(letters.chunks(80).map(|part| part.iter().collect::<String>()));
        }
        lines
    }

    fn notes(&self, scene: &mut Scene, list: &[String]) {
        let (x, mut y) = (self.outer + 26.0, self.outer + 14.0);
        for line in list {
            if !line.is_empty() {
                scene.text(Role::Note, Point::new(x, y), LETTER_MM, Anchor::Start, line.clone());
            }
            y -= 1.6 * LETTER_MM;
        }
    }

    fn check_square(&self, scene: &mut Scene) {
        let min = Point::new(scene.bounds.min.x + 2.0, scene.bounds.max.y - 2.0 - CHECK_MM);
        let corners = [(0.0, 0.0), (CHECK_MM, 0.0), (CHECK_MM, CHECK_MM), (0.0, CHECK_MM)];
        scene.polygon(Role::Check, &corners.map(|(x, y)| Point::new(min.x + x, min.y + y)));
        let at = Point::new(min.x + CHECK_MM / 2.0, min.y + CHECK_MM / 2.0);
        scene.text(Role::Note, at, 2.5, Anchor::Middle, "10 mm");
    }
}

/// A distance dimension between two points at the same height.
fn distance(scene: &mut Scene, from: Point, to: Point, words: String) {
    scene.line(Role::Dimension, &[from, to]);
    arrow(scene, from, 0.0);
    arrow(scene, to, std::f64::consts::PI);
    let at = Point::new((from.x + to.x) / 2.0, from.y + 0.8 * LETTER_MM);
    scene.text(Role::Dimension, at, LETTER_MM, Anchor::Middle, words);
}

/// An arrow head with its tip at a point, its body lying towards `direction`.
fn arrow(scene: &mut Scene, tip: Point, direction: f64) {
    let length = 3.0;
    let wing = |turn: f64| {
        let back = Point::polar(length, direction + turn);
        Point::new(tip.x + back.x, tip.y + back.y)
    };
    let half = 15_f64.to_radians() / 2.0;
    scene.polygon(Role::Dimension, &[tip, wing(half), wing(-half)]);
}
