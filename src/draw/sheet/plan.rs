//! The plan: outlines, what comes off, centre lines, datum, names.

use std::f64::consts::PI;

use crenel_words::drawing as say;

use super::super::scene::Bounds;
use super::super::scene::{Anchor, Item, Role, Scene, Shape, Text};
use super::worked::Levels;
use super::{LETTER_MM, Sheet, room};
use crate::ring::{Dog, Outline, Point, Segment};

/// Smallest bore with room for the names of dogs that are too slim to hold them, radius in mm.
const NAMES_IN_BORE_MM: f64 = 12.0;

/// Between hatching lines.
const HATCH_MM: f64 = 1.2;

impl Sheet<'_> {
    pub(super) fn plan(&self, scene: &mut Scene) {
        for radius in [self.ring.inner_radius_mm, self.ring.outer_radius_mm] {
            scene.add(Role::Rim, Shape::Circle { radius }).on_ring(self.side);
        }
        for dog in self.gone() {
            let (outline, web_mm) = (self.found.covered_outline(dog), self.web_mm());
            self.outline(scene, Role::Removed, dog, outline, Some(web_mm));
        }
        for dog in &self.ring.dogs {
            let Levels { tip_mm, root_mm } = self.levels(dog);
            self.outline(scene, Role::Root, dog, self.ring.root_outline(dog), root_mm);
            self.outline(scene, Role::Tip, dog, self.ring.tip_outline(dog), tip_mm);
        }
        self.centre_lines(scene);
        self.datum(scene);
    }

    /// Dogs that are cut off whole.
    pub(super) fn gone(&self) -> impl Iterator<Item = &Dog> {
        let found = self.found.dogs.iter();
        found.filter(|dog| self.ring.dogs.iter().all(|now| now.place != dog.place))
    }

    /// Hatches what comes off, in plan and in the section, but for the words.
    pub(super) fn hatch(&self, scene: &mut Scene) {
        let words = scene.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(room::grown(room::cover(text), 0.5)),
            _ => None,
        });
        let words: Vec<Bounds> = words.collect();
        let found = &self.analysis.found[self.side];
        let on_paper = |p: Point| Point::new(p.x * self.scale, p.y * self.scale);
        for dog in &found.dogs {
            for part in found.cut_away(self.analysis.ring(self.side), dog.place) {
                let figure: Vec<Point> = part.points().into_iter().map(on_paper).collect();
                scene.hatch(&figure, HATCH_MM, &words).dog(self.side, dog.place);
            }
        }
        // Removed dogs in plan are hatched already; what is left are the parts of the section.
        let is_detail = |item: &Item| item.role == Role::Removed && item.cut_to_mm.is_none();
        let removed = |item: &Item| match &item.shape {
            Shape::Path { segments, .. } if is_detail(item) => {
                Some((segments.iter().map(Segment::from).collect::<Vec<_>>(), item.place))
            }
            _ => None,
        };
        let parts: Vec<_> = scene.items.iter().filter_map(removed).collect();
        for (figure, place) in parts {
            let item = scene.hatch(&figure, HATCH_MM, &words);
            (item.side, item.place) = (Some(self.side), place);
        }
    }

    fn outline(
        &self,
        scene: &mut Scene,
        role: Role,
        dog: &Dog,
        outline: Option<Outline>,
        cut_to_mm: Option<f64>,
    ) {
        if let Some(outline) = outline {
            let shape = Shape::Path { segments: outline.segments, closed: true };
            scene.add(role, shape).dog(self.side, dog.place).cut_to(cut_to_mm);
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
        scene.polygon(Role::Datum, &corners.map(|(x, y)| Point::new(x, y))).on_ring(self.side);
        let at = Point::new(r + 21.0, 0.0);
        let datum = say::datum().show(self.reader);
        scene.text(Role::Note, at, LETTER_MM, Anchor::Start, datum);
    }

    /// Whether the dogs are too slim for their names, and the bore has room for them.
    fn is_crowded(&self) -> bool {
        let slim = |dog: &Dog| 2.0 * self.ring.half_chord_mm(dog) < LETTER_MM;
        self.ring.inner_radius_mm > NAMES_IN_BORE_MM && self.ring.dogs.iter().any(slim)
    }

    /// The number of each dog, on it or beside it. In the bore of a ring of very many dogs some
    /// numbers are left out.
    pub(super) fn names(&self, scene: &mut Scene) {
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
