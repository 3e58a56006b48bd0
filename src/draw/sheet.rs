//! The drawing of one ring for the machine: true size, in mm, looking at its dogs.

mod dimension;
mod list;
mod notes;
mod room;

use std::f64::consts::PI;

use self::notes::{LINE_MM, Notes};
use super::frame::Bounds;
use super::scene::{Anchor, Item, Role, Scene, Shape, Text};
use crate::design::TEXT_LIMITS;
use crate::report::{Analysis, plan_steps};
use crate::ring::{Dog, FlankSide, Outline, PlanForm, Point, Ring, Segment, Side};
use crate::units::{Angle, DisplayUnits, Quantity, decimal};

/// Type of 3.5 mm, whose capitals are 2.5 mm high, a size of ISO 3098.
const LETTER_MM: f64 = 3.5;

/// Side of the square that proves the scale.
const CHECK_MM: f64 = 10.0;

/// Between hatching lines.
const HATCH_MM: f64 = 1.2;

/// From the rim to the arcs of the angle dimensions.
const ANGLES_MM: f64 = 8.0;

/// Smallest bore with room for the names of dogs that are too slim to hold them, radius in mm.
const NAMES_IN_BORE_MM: f64 = 12.0;

/// What every drawing says about its unit.
const UNIT_WORDS: &str = "All lengths in millimetres, scale 1:1. The square measures 10 mm.";

/// The drawing of a ring as it is to be: closed tip and root outlines, what comes off, centre
/// lines, datum mark, dimensions, a section of one dog, a list of the dogs, and the link.
pub fn ring_drawing(analysis: &Analysis, side: Side, link: &str) -> Scene {
    let sheet = Sheet::of(analysis, side, 1.0);
    let mut scene = sheet.drawn();
    let drawn = room::extent(&scene);
    let (x, y) = (drawn.max.x + 10.0, drawn.max.y - LETTER_MM);
    sheet.notes(Notes { scene: &mut scene, x, y }, link);
    scene.bounds = room::grown(room::extent(&scene), 6.0);
    scene
}

/// The same ring for a sheet of paper that says the rest in tables: without the notes, with the
/// square that proves the scale. One mm of the ring is `scale` mm of the scene, which is in mm of the
/// paper: letters, lines and square measure the same there whatever the scale.
pub fn paper_drawing(analysis: &Analysis, side: Side, scale: f64) -> Scene {
    let mut scene = Sheet::of(analysis, side, scale).drawn();
    let drawn = room::extent(&scene);
    let (x, y) = (drawn.min.x, drawn.min.y);
    check_square(&mut Notes { scene: &mut scene, x, y });
    scene.bounds = room::grown(room::extent(&scene), 1.0);
    scene
}

struct Sheet<'a> {
    analysis: &'a Analysis,
    side: Side,
    /// Paper mm for one mm of the ring.
    scale: f64,
    /// The ring as found and as it is to be, in mm of the paper.
    found: Ring,
    ring: Ring,
    outer: f64,
}

impl<'a> Sheet<'a> {
    fn of(analysis: &'a Analysis, side: Side, scale: f64) -> Self {
        let found = analysis.found[side as usize].scaled(scale);
        let ring = analysis.ring(side).scaled(scale);
        let outer = ring.outer_radius_mm.max(1.0);
        Self { analysis, side, scale, found, ring, outer }
    }

    /// A length on the paper, written as what it is on the ring, mm.
    fn mm(&self, on_paper: f64) -> String {
        mm(on_paper / self.scale)
    }

    /// Whether the ring itself, whatever the scale, has the dog cut down.
    fn is_cut_down(&self, dog: &Dog) -> bool {
        self.analysis.ring(self.side).at_place(dog.place).is_some_and(Dog::is_cut_down)
    }

    /// Plan and section with dimensions and hatching, without notes.
    fn drawn(&self) -> Scene {
        let origin = Point::default();
        let mut scene = Scene::new(Bounds { min: origin, max: origin });
        self.plan(&mut scene);
        self.dimensions(&mut scene);
        self.names(&mut scene);
        self.section(&mut scene);
        self.hatch(&mut scene);
        scene.somewhere()
    }
}

fn mm(value: f64) -> String {
    decimal(value, 3)
}

fn deg(degrees: f64) -> String {
    Quantity::Angle.show(degrees, DisplayUnits::default())
}

/// A number for one dog, or for all of them if they are alike (ISO 129-1: “6 × 24°”).
fn repeated(words: &str, values: impl Iterator<Item = f64>) -> String {
    let values: Vec<f64> = values.collect();
    let alike = values.windows(2).all(|two| (two[0] - two[1]).abs() < 1e-9);
    if alike && values.len() > 1 {
        format!("{} × {words}", values.len())
    } else {
        words.to_owned()
    }
}

// ---- plan ----

impl Sheet<'_> {
    fn plan(&self, scene: &mut Scene) {
        for radius in [self.ring.inner_radius_mm, self.ring.outer_radius_mm] {
            scene.add(Role::Rim, Shape::Circle { radius }).of(self.side);
        }
        for dog in self.gone() {
            self.outline(scene, Role::Removed, dog, self.found.tip_outline(dog));
        }
        for dog in &self.ring.dogs {
            self.outline(scene, Role::Root, dog, self.ring.root_outline(dog));
            self.outline(scene, Role::Tip, dog, self.ring.tip_outline(dog));
        }
        self.centre_lines(scene);
        self.datum(scene);
    }

    /// Dogs that are cut off whole.
    fn gone(&self) -> impl Iterator<Item = &Dog> {
        let found = self.found.dogs.iter();
        found.filter(|dog| self.ring.dogs.iter().all(|now| now.place != dog.place))
    }

    /// Hatches what comes off, in plan and in the section, but for the words.
    fn hatch(&self, scene: &mut Scene) {
        let words = scene.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(room::grown(room::cover(text), 0.5)),
            _ => None,
        });
        let words: Vec<Bounds> = words.collect();
        let found = &self.analysis.found[self.side as usize];
        let on_paper = |p: Point| Point::new(p.x * self.scale, p.y * self.scale);
        for dog in &found.dogs {
            for part in found.cut_away(self.analysis.ring(self.side), dog.place) {
                let figure: Vec<Point> = part.points().into_iter().map(on_paper).collect();
                scene.hatch(&figure, HATCH_MM, &words).dog(self.side, dog.place);
            }
        }
        let removed = |item: &Item| match &item.shape {
            Shape::Path { segments, .. } if item.role == Role::Removed => {
                Some((segments.iter().map(Segment::from).collect::<Vec<_>>(), item.place))
            }
            _ => None,
        };
        // Removed dogs in plan are hatched already; what is left are the parts of the section.
        let below = -self.outer - 1.0;
        let parts: Vec<_> = scene.items.iter().filter_map(removed).collect();
        for (figure, place) in parts {
            if figure.iter().all(|p| p.y < below) {
                let item = scene.hatch(&figure, HATCH_MM, &words);
                (item.side, item.place) = (Some(self.side), place);
            }
        }
    }

    fn outline(&self, scene: &mut Scene, role: Role, dog: &Dog, outline: Option<Outline>) {
        if let Some(outline) = outline {
            let shape = Shape::Path { segments: outline.segments, closed: true };
            scene.add(role, shape).dog(self.side, dog.place);
        }
    }

    /// The one to the right runs on through the datum mark. Names in the bore interrupt them.
    fn centre_lines(&self, scene: &mut Scene) {
        let reach = self.outer + 6.0;
        let inner = self.ring.inner_radius_mm;
        let names = if self.is_crowded() { inner - 1.8 * LETTER_MM..inner } else { 0.0..0.0 };
        for (quarter, reach) in [(0.0, self.outer + 20.0), (1.0, reach), (2.0, reach), (3.0, reach)]
        {
            let at = |radius| Point::polar(radius, quarter * PI / 2.0);
            for [from, to] in [[0.0, names.start], [names.end, reach]] {
                if to > from {
                    scene.line(Role::Centre, &[at(from), at(to)]);
                }
            }
        }
    }

    fn datum(&self, scene: &mut Scene) {
        let r = self.outer;
        let corners = [(r + 0.5, 0.0), (r + 4.0, 1.75), (r + 4.0, -1.75)];
        scene.polygon(Role::Datum, &corners.map(|(x, y)| Point::new(x, y))).of(self.side);
        let at = Point::new(r + 21.0, 0.0);
        scene.text(Role::Note, at, LETTER_MM, Anchor::Start, "datum 0°");
    }

    /// Whether the dogs are too slim for their names, and the bore has room for them.
    fn is_crowded(&self) -> bool {
        let slim = |dog: &Dog| 2.0 * self.ring.half_chord_mm(dog) < LETTER_MM;
        self.ring.inner_radius_mm > NAMES_IN_BORE_MM && self.ring.dogs.iter().any(slim)
    }

    /// The number of each dog, on it or beside it. In the bore of a ring of very many dogs some
    /// numbers are left out.
    fn names(&self, scene: &mut Scene) {
        for dog in self.ring.dogs.iter().chain(self.gone()) {
            let names = if self.is_crowded() { self.in_bore(dog) } else { self.on_dog(dog) };
            let before = scene.items.len();
            if names.len() > 1 || names.iter().all(|name| room::is_free(scene, name)) {
                room::place(scene, Role::Label, &names);
            }
            scene.items[before..].iter_mut().for_each(|item| {
                item.dog(self.side, dog.place);
            });
        }
    }

    fn name(&self, dog: &Dog, radius: f64, aside: f64, height: f64) -> Text {
        let at = Point::polar(radius, dog.centre.radians() + aside);
        let mut words = format!("{}", dog.place + 1);
        if self.is_cut_down(dog) {
            words.push('*');
        }
        Text { at, height, anchor: Anchor::Middle, words }
    }

    /// Next to the dog in the bore, as large as the pitch allows.
    fn in_bore(&self, dog: &Dog) -> Vec<Text> {
        let radius = self.ring.inner_radius_mm - 0.8 * LETTER_MM;
        let closest = self.ring.gaps().into_iter().fold(1.0, f64::min);
        let pitch = radius * (closest + dog.tip_width.radians());
        let height = (0.65 * pitch - 0.5).clamp(1.8, 2.5);
        vec![self.name(dog, radius, 0.0, height)]
    }

    /// As large as it can be, in the middle of the dog or beside a centre line; else just outside
    /// the rim. The last one is for parts so small that they are read on a screen.
    fn on_dog(&self, dog: &Dog) -> Vec<Text> {
        let (mean, rim) = (self.ring.mean_radius_mm(), self.outer + 2.2);
        let at = |radius: f64, share: f64, height: f64| {
            self.name(dog, radius, share * dog.tip_width.radians(), height)
        };
        let on = [LETTER_MM, 2.5, 1.8].into_iter();
        let mut names: Vec<Text> =
            on.flat_map(|height| [0.0, 0.25, -0.25].map(|share| at(mean, share, height))).collect();
        names.extend([0.0, 0.5, -0.5, 0.75, -0.75, 1.2, -1.2].map(|share| at(rim, share, 2.5)));
        names.push(at(mean, 0.25, 0.8));
        names
    }
}

// ---- dimensions ----

impl Sheet<'_> {
    fn dimensions(&self, scene: &mut Scene) {
        let sides = [-self.ring.outer_radius_mm, self.ring.outer_radius_mm];
        let [left, right] = sides.map(|x| Point::new(x, 0.0));
        let words = format!("Ø{}", self.mm(2.0 * self.ring.outer_radius_mm));
        dimension::across(scene, left, right, -self.outer - 18.0, &words);
        let dogs = self.ring.by_centre();
        let place = self.shown().map(|dog| dog.place);
        if let Some(first) = dogs.iter().position(|dog| Some(dog.place) == place) {
            self.width(scene, &dogs[first]);
            // The dog across the ring is clear of the dimension of the first.
            let pitch = (first + dogs.len() / 2) % dogs.len();
            self.pitch(scene, &dogs, pitch);
            self.bore(scene, &dogs, first, pitch);
        }
    }

    /// The dog that is dimensioned: the first that is not cut down.
    fn shown(&self) -> Option<&Dog> {
        let dogs = &self.ring.dogs;
        dogs.iter().find(|dog| !self.is_cut_down(dog)).or_else(|| dogs.first())
    }

    /// How far a flank stands from the middle of a dog, `depth_mm` below its tip. Cutting down
    /// leaves the flanks where they are.
    fn aside_mm(&self, dog: &Dog, flank: FlankSide, depth_mm: f64) -> f64 {
        let ring = &self.ring;
        let half = match ring.form {
            PlanForm::Radial => {
                let mean = ring.mean_radius_mm();
                mean * ring.half_width_at(dog, flank, mean).sin()
            }
            PlanForm::Parallel => ring.half_chord_mm(dog) - dog.narrowed_mm.of(flank),
        };
        flank.sign() * (half - dog.leaned_mm(flank, depth_mm))
    }

    /// Directions of the tip edges at the mean radius.
    fn edges(&self, dog: &Dog) -> [f64; 2] {
        FlankSide::BOTH.map(|flank| self.ring.tip_edge(dog, flank).radians())
    }

    fn width(&self, scene: &mut Scene, dog: &Dog) {
        let wide = |[from, to]: [f64; 2]| (to - from).to_degrees();
        let all = self.ring.dogs.iter().map(|dog| wide(self.edges(dog)));
        let words = repeated(&deg(wide(self.edges(dog))), all);
        let [from, to] = self.edges(dog);
        // Parallel flanks have this angle at the mean radius only.
        let foot = match self.ring.form {
            PlanForm::Radial => self.outer,
            PlanForm::Parallel => self.ring.mean_radius_mm(),
        };
        let radius = self.outer + ANGLES_MM;
        dimension::Between { from, to, foot, radius, lines: Role::Dimension, words: &words }
            .draw(scene);
    }

    /// From the centre of a dog to the next one, where there are enough dogs to have one that is
    /// clear of the first.
    fn pitch(&self, scene: &mut Scene, dogs: &[Dog], at: usize) {
        if dogs.len() < 3 {
            return;
        }
        let turn = |at: usize| {
            let next = dogs[(at + 1) % dogs.len()].centre;
            (next - dogs[at].centre).wrapped()
        };
        let words =
            repeated(&deg(turn(at).degrees()), (0..dogs.len()).map(|at| turn(at).degrees()));
        let from = dogs[at].centre.radians();
        let to = from + turn(at).radians();
        let slim = 2.0 * self.ring.half_chord_mm(&dogs[at]) < 3.0 * LETTER_MM;
        let foot = if slim { self.outer } else { self.ring.inner_radius_mm - 2.0 };
        let radius = self.outer + ANGLES_MM;
        dimension::Between { from, to, foot, radius, lines: Role::Centre, words: &words }
            .draw(scene);
    }

    /// The inner diameter, shown through the gap nearest to the upper left that is away from the
    /// dimensions of the first dog and of the pitch.
    fn bore(&self, scene: &mut Scene, dogs: &[Dog], first: usize, pitch: usize) {
        let gaps = self.ring.gaps();
        let mean = self.ring.mean_radius_mm();
        let after = |at: usize| self.ring.half_width_at(&dogs[at], FlankSide::Coast, mean);
        let within = |at: usize, share: f64| {
            dogs[at].centre + after(at) + Angle::from_radians(gaps[at] * share)
        };
        let turned = |at: usize, from: Angle| (within(at, 0.5) - from).signed().radians().abs();
        let room = 14.0 / (self.outer + ANGLES_MM);
        let next = (dogs[(pitch + 1) % dogs.len()].centre - dogs[pitch].centre).wrapped() / 2.0;
        let near = |at: usize| {
            turned(at, dogs[first].centre) < dogs[first].tip_width.radians() / 2.0 + room
                || turned(at, dogs[pitch].centre + next) < next.radians() + room
        };
        let away = |at: usize| {
            let last_choice = if near(at) { 4.0 } else { 0.0 };
            turned(at, Angle::from_degrees(135.0)) + last_choice
        };
        let Some(at) = (0..dogs.len()).min_by(|&a, &b| away(a).total_cmp(&away(b))) else { return };
        let words = format!("Ø{}", self.mm(2.0 * self.ring.inner_radius_mm));
        // Not along a centre line.
        let axis = (within(at, 0.5) * 2.0).sin().abs() < 0.1;
        let direction = within(at, if axis { 0.35 } else { 0.5 }).radians();
        let inner = self.ring.inner_radius_mm;
        dimension::diameter(scene, inner, self.outer + 4.0, direction, &words);
    }
}

// ---- section ----

impl Sheet<'_> {
    /// Section of a dog along its chord at the mean radius, below the plan: of one that is cut down,
    /// if there is one, with what comes off. A dog of more than half a turn has no chord worth
    /// drawing.
    fn section(&self, scene: &mut Scene) {
        let under_half_turn = |dog: &&Dog| dog.tip_width < Angle::FULL / 2.0;
        let worked = |dog: &&Dog| self.found.dogs.iter().all(|old| old != *dog);
        let shorter = self.ring.dogs.iter().find(|dog| self.is_cut_down(dog));
        let cut = shorter.or_else(|| self.ring.dogs.iter().find(worked));
        let Some(dog) = cut.or(self.shown()).filter(under_half_turn) else { return };
        let base = -self.outer - 37.0 - dog.height_mm - dog.cut_down_mm;
        let at = |flank, depth| {
            Point::new(self.aside_mm(dog, flank, depth), base + dog.height_mm - depth)
        };
        let tip = FlankSide::BOTH.map(|flank| at(flank, 0.0));
        let root = FlankSide::BOTH.map(|flank| at(flank, dog.height_mm));
        scene.polygon(Role::Section, &[root[0], tip[0], tip[1], root[1]]).dog(self.side, dog.place);
        let half = self.ring.half_chord_mm(dog);
        let web = half + 6.0;
        scene.line(Role::Rim, &[Point::new(-web, base), Point::new(web, base)]).of(self.side);
        for off in self.off_section(dog, &at) {
            scene.polygon(Role::Removed, &off).dog(self.side, dog.place);
        }
        let above = 7.0 + dog.cut_down_mm;
        dimension::across(scene, tip[0], tip[1], above, &self.mm(tip[1].x - tip[0].x));
        let low = Point::new(web, base);
        let x = (half + 12.0).max(half / 2.0 + 19.0);
        dimension::height(scene, low, tip[1], x, &self.mm(dog.height_mm));
        self.caption(scene, dog, base);
    }

    /// What comes off in the section of a dog: its top, and a strip along each flank that is moved.
    fn off_section(&self, dog: &Dog, at: &impl Fn(FlankSide, f64) -> Point) -> Vec<[Point; 4]> {
        let Some(old) = self.found.at_place(dog.place) else {
            return Vec::new();
        };
        // Depths count from the tip as it is now.
        let tip = dog.cut_down_mm - old.cut_down_mm;
        let was = |flank: FlankSide, depth: f64| {
            let y = at(flank, depth).y;
            Point::new(self.aside_mm(old, flank, depth + tip), y)
        };
        let mut parts = Vec::new();
        if tip > 0.0 {
            let [drive, coast] = FlankSide::BOTH;
            parts.push([was(drive, 0.0), was(drive, -tip), was(coast, -tip), was(coast, 0.0)]);
        }
        for flank in FlankSide::BOTH {
            let (top, foot) = (0.0, dog.height_mm);
            let strip = [was(flank, top), was(flank, foot), at(flank, foot), at(flank, top)];
            let wide = (strip[0].x - strip[3].x).abs().max((strip[1].x - strip[2].x).abs());
            parts.extend((wide > 1e-6).then_some(strip));
        }
        parts
    }

    fn caption(&self, scene: &mut Scene, dog: &Dog, base: f64) {
        let beside = (self.ring.half_chord_mm(dog) / 2.0).max(1.5);
        let mut y = base - LETTER_MM;
        for (x, anchor, words) in
            [(-beside, Anchor::End, "drive"), (beside, Anchor::Start, "coast")]
        {
            scene.text(Role::Note, Point::new(x, y), LETTER_MM, anchor, words);
        }
        let mean = self.mm(2.0 * self.ring.mean_radius_mm());
        let [drive, coast] = FlankSide::BOTH.map(|flank| deg(dog.back_cut.of(flank).degrees()));
        let cut = match dog.cut_down_mm {
            0.0 => String::new(),
            off => {
                format!(", cut from {} to {}", self.mm(dog.height_mm + off), self.mm(dog.height_mm))
            }
        };
        let lines = [
            format!("Dog {} at Ø{mean}, seen from outside{cut}", dog.place + 1),
            format!("Back-cut: drive {drive}, coast {coast}"),
        ];
        for words in lines {
            y -= LINE_MM;
            scene.text(Role::Note, Point::new(0.0, y), LETTER_MM, Anchor::Middle, words);
        }
    }
}

// ---- words ----

impl Sheet<'_> {
    fn notes(&self, mut notes: Notes, link: &str) {
        notes.title(&self.title());
        notes.paragraph(&format!(
            "{}, looking at its dogs. Angles counter-clockwise from the datum.",
            self.side.name()
        ));
        notes.paragraph(UNIT_WORDS);
        check_square(&mut notes);
        self.dogs_in_words(&mut notes);
        notes.gap();
        notes.paragraph(
            "Keep to the maker's limits and local rules; have a qualified shop check the part. \
             A part that fails can lock the rear wheel.",
        );
        if !link.is_empty() {
            notes.gap();
            notes.link(link);
        }
    }

    fn dogs_in_words(&self, notes: &mut Notes) {
        let spec = self.analysis.design.ring(self.side);
        let found = spec.found_dogs();
        let dogs = list::listed(&found);
        notes.list(&list::columns(spec, &dogs));
        notes.gap();
        notes.paragraph(&list::alike(spec, &dogs));
        let steps = plan_steps(self.analysis, self.side, DisplayUnits::default());
        for (at, step) in steps.iter().enumerate() {
            let dogs: Vec<_> = step.dogs.iter().map(ToString::to_string).collect();
            notes.paragraph(&format!("Op. {}: {}. Dogs {}.", at + 1, step.words, dogs.join(" ")));
        }
        let gone = match self.gone().next() {
            Some(_) => " Long-dashed double-dotted: metal that comes off.",
            None => "",
        };
        notes.paragraph(&format!(
            "Outlines are to sharp corners. Wide lines: tips. Dashed: roots on the web. Dogs with * are cut down.{gone}"
        ));
    }

    fn title(&self) -> String {
        let design = &self.analysis.design;
        let limit = TEXT_LIMITS[0].1;
        let mut title: String = design.title.chars().take(limit).collect();
        if design.title.chars().nth(limit).is_some() {
            title.push('…');
        }
        let initials: String = design.initials.chars().take(TEXT_LIMITS[1].1).collect();
        match (title.trim(), initials.trim()) {
            ("", "") => "Untitled".to_owned(),
            (title, "") => title.to_owned(),
            ("", initials) => format!("Untitled – {initials}"),
            (title, initials) => format!("{title} – {initials}"),
        }
    }
}

fn check_square(notes: &mut Notes) {
    let (x, y) = (notes.x, notes.y - CHECK_MM + LETTER_MM / 2.0);
    let corners = [(0.0, 0.0), (CHECK_MM, 0.0), (CHECK_MM, CHECK_MM), (0.0, CHECK_MM)];
    notes.scene.polygon(Role::Check, &corners.map(|(dx, dy)| Point::new(x + dx, y + dy)));
    let at = Point::new(x + CHECK_MM + 2.0, y + CHECK_MM / 2.0);
    notes.scene.text(Role::Note, at, LETTER_MM, Anchor::Start, "10 mm");
    notes.y = y - 2.0 * LETTER_MM;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, START_RINGS, open};

    /// A design of one ring, given as in a file.
    fn design(ring: &str) -> Design {
        open(&format!("{{\"crenel\":1,\"a\":{ring}}}")).unwrap().design
    }

    fn drawing(design: &Design) -> Scene {
        ring_drawing(&Analysis::of(design), Side::A, &"https://example.org/#1.Wq_-09".repeat(20))
    }

    #[test]
    fn letters_and_square_keep_their_size_on_paper_and_words_tell_the_true_size() {
        let large =
            r#"{"inner_diameter_mm":250,"outer_diameter_mm":300,"height_mm":20,"cuts":{"2":19.6}}"#;
        let analysis = Analysis::of(&design(large));
        let texts = |scale: f64| {
            let scene = paper_drawing(&analysis, Side::A, scale);
            assert_eq!(crossed(&scene), Vec::<String>::new(), "1:{}", 1.0 / scale);
            let rim = scene.items.iter().filter_map(|item| match item.shape {
                Shape::Circle { radius } => Some(radius),
                _ => None,
            });
            assert_eq!(rim.fold(0.0, f64::max), 150.0 * scale);
            let texts = scene.items.iter().filter_map(|item| match &item.shape {
                Shape::Text(text) => Some((item.role, text.height, text.words.clone())),
                _ => None,
            });
            texts.collect::<Vec<_>>()
        };
        let words = |scale: f64| texts(scale).into_iter().map(|text| text.2).collect::<Vec<_>>();
        assert!(words(1.0).contains(&"2*".to_owned()));
        for scale in [0.5, 0.2] {
            assert_eq!(words(scale), words(1.0), "scale {scale}");
            for (role, height, words) in texts(scale) {
                // The number of a dog that is small on paper is as small as one that is small itself.
                let least = if role == Role::Label { 2.5 } else { LETTER_MM };
                assert!((least..=LETTER_MM).contains(&height), "{words} is {height} mm");
            }
        }
    }

    /// Words that touch a line or other words.
    fn crossed(scene: &Scene) -> Vec<String> {
        let mut crossed = Vec::new();
        for (at, item) in scene.items.iter().enumerate() {
            let Shape::Text(text) = &item.shape else { continue };
            let mut others = scene.clone();
            others.items.remove(at);
            if !room::is_free(&others, text) {
                crossed.push(text.words.clone());
            }
        }
        crossed
    }

    #[test]
    fn words_stay_clear_of_lines_wherever_the_dogs_stand() {
        for start in &START_RINGS {
            for turn in (0..360).step_by(9) {
                let mut design = Design { a: start.ring(), ..Design::default() };
                if let crate::ring::Layout::Even(even) = &mut design.a.layout {
                    even.first_dog_deg = f64::from(turn);
                }
                let crossed = crossed(&drawing(&design));
                assert_eq!(crossed, Vec::<String>::new(), "{} at {turn}°", start.key);
            }
        }
    }

    #[test]
    fn words_stay_clear_of_lines_on_odd_rings() {
        let rings = [
            r#"{"count":1}"#,
            r#"{"count":1,"tip_width_deg":340,"first_dog_deg":123}"#,
            r#"{"count":2,"tip_width_deg":90,"first_dog_deg":17}"#,
            r#"{"count":96,"tip_width_deg":2}"#,
            r#"{"inner_diameter_mm":150,"outer_diameter_mm":200,"height_mm":50,"flanks":"parallel"}"#,
            r#"{"inner_diameter_mm":7,"outer_diameter_mm":12,"count":3,"tip_width_deg":50}"#,
            r#"{"cuts":{"1":"remove","2":1.25,"6":"remove"},"back_cut_drive_deg":8}"#,
            r#"{"count":3,"cuts":{"1":2,"2":2,"3":2},"back_cut_drive_deg":8}"#,
            r#"{"dogs":[{"centre_deg":0.125},{"centre_deg":-61.2},{"centre_deg":100}]}"#,
            r#"{"dogs":[{"centre_deg":200,"tip_width_deg":20.125},{"centre_deg":0.1}]}"#,
        ];
        for ring in rings {
            assert_eq!(crossed(&drawing(&design(ring))), Vec::<String>::new(), "{ring}");
        }
    }
}
