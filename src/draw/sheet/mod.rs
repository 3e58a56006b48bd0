//! The machining drawing of one ring: true size, in mm, looking at its dogs.

mod dimension;
mod elevation;
mod list;
mod measures;
mod notes;
mod plan;
mod room;
mod section;
mod worked;

use crenel_words::{Language, Reader, Value, drawing as say};

use self::notes::Notes;
use crate::analysis::Analysis;

use super::scene::{Anchor, Bounds, Role, Scene};
use crate::design::TEXT_LIMITS;
use crate::report::cautions_short;
use crate::rework::plan_steps;
use crate::ring::{Dog, Point, Ring, Side};
use crate::units::{DisplayUnits, Quantity, decimal};

/// Type of 3.5 mm, whose capitals are 2.5 mm high, a size of ISO 3098.
const LETTER_MM: f64 = 3.5;

/// Side of the square that proves the scale.
const CHECK_MM: f64 = 10.0;

/// The drawing of a ring as it is to be: closed tip and root outlines, what comes off, centre
/// lines, datum mark, dimensions, a section of one dog, an elevation of all dogs, a list of the dogs, and the
/// link. Its lengths are in mm in every language.
pub fn ring_drawing(analysis: &Analysis, side: Side, link: &str, language: Language) -> Scene {
    let sheet = Sheet::of(analysis, side, 1.0, language);
    let mut scene = sheet.drawn();
    sheet.depths(&mut scene);
    sheet.elevation(&mut scene);
    let mut scene = scene.retain_finite();
    let drawn = room::extent(&scene);
    let (x, y) = (drawn.max.x + 10.0, drawn.max.y - LETTER_MM);
    sheet.notes(Notes { scene: &mut scene, x, y }, link);
    scene.bounds = room::grown(room::extent(&scene), 6.0);
    scene
}

/// The same ring for a sheet of paper that says the rest in tables: without the notes, with the
/// square that proves the scale. One mm of the ring is `scale` mm of the scene, which is in mm of the
/// paper: letters, lines and square measure the same there whatever the scale.
pub fn paper_drawing(analysis: &Analysis, side: Side, scale: f64, language: Language) -> Scene {
    let mut scene = Sheet::of(analysis, side, scale, language).drawn();
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
    /// Who reads it, with lengths in mm.
    reader: Reader,
    /// The ring as found and as it is to be, in mm of the paper.
    found: Ring,
    ring: Ring,
    outer: f64,
}

impl<'a> Sheet<'a> {
    fn of(analysis: &'a Analysis, side: Side, scale: f64, language: Language) -> Self {
        let found = analysis.found[side].scaled(scale);
        let ring = analysis.ring(side).scaled(scale);
        let outer = ring.outer_radius_mm.max(1.0);
        let reader = Reader { language, ..Reader::default() };
        Self { analysis, side, scale, reader, found, ring, outer }
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
        scene.retain_finite()
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

impl Sheet<'_> {
    fn notes(&self, mut notes: Notes, link: &str) {
        notes.title(&self.title());
        notes.paragraph(&say::looking_at(self.side).show(self.reader));
        notes.paragraph(&say::all_in_millimetres().show(self.reader));
        check_square(&mut notes);
        self.dogs_in_words(&mut notes);
        notes.gap();
        cautions_short(self.reader).iter().for_each(|caution| notes.paragraph(caution));
        if !link.is_empty() {
            notes.gap();
            notes.line(&say::design_link().show(self.reader));
            notes.link(link);
        }
    }

    fn dogs_in_words(&self, notes: &mut Notes) {
        let spec = self.analysis.design.ring(self.side);
        let found = spec.found_dogs();
        let dogs = list::listed(&found);
        let mut columns = list::columns(spec, &dogs, self.reader);
        let levels = dogs.iter().map(|(place, _)| self.floor_mm(*place));
        let is_worked = levels.clone().any(|level| level.is_some());
        if is_worked {
            let level = |level: Option<f64>| level.map_or(String::new(), |level| self.z(level));
            columns.push(list::levels(levels.map(level).collect(), self.reader));
        }
        notes.list(&columns);
        notes.gap();
        notes.paragraph(&list::alike(spec, &dogs, self.reader));
        for (at, step) in plan_steps(self.analysis, self.side).into_iter().enumerate() {
            let dogs = step.dogs.into_iter().map(Value::how_many).collect();
            notes.paragraph(&say::operation(at, step.words, dogs).show(self.reader));
        }
        let any_gone = self.gone().next().is_some();
        let outlines = if any_gone { say::outlines_and_removed() } else { say::outlines() };
        notes.paragraph(&outlines.show(self.reader));
        if is_worked {
            notes.paragraph(&say::levels().show(self.reader));
        }
    }

    fn title(&self) -> String {
        let design = &self.analysis.design;
        let limit = TEXT_LIMITS[0].1;
        let mut title: String = design.title.chars().take(limit).collect();
        if design.title.chars().nth(limit).is_some() {
            title.push('…');
        }
        let initials: String = design.initials.chars().take(TEXT_LIMITS[1].1).collect();
        let title = match title.trim() {
            "" => say::untitled().into(),
            title => Value::Verbatim(title.to_owned()),
        };
        match initials.trim() {
            "" => title.show(self.reader),
            by => say::title_with_initials(title, by.to_owned()).show(self.reader),
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
    use crate::draw::Shape;

    /// A design of one ring, given as in a file.
    fn design(ring: &str) -> Design {
        open(&format!("{{\"crenel\":1,\"a\":{ring}}}")).unwrap().design
    }

    fn drawing(design: &Design) -> Scene {
        ring_drawing(
            &Analysis::of(design),
            Side::A,
            &"https://example.org/#1.Wq_-09".repeat(20),
            Language::British,
        )
    }

    #[test]
    fn the_section_is_of_a_dog_that_is_worked_on() {
        let recut = r#"{"plan":[{"do":"narrow_coast","flank_stock_mm":0.4,"dogs":[3]}]}"#;
        let scene = drawing(&design(recut));
        let of = |item: &&crate::draw::Item| item.role == Role::Section && item.place.is_some();
        let places: Vec<_> = scene.items.iter().filter(of).map(|item| item.place).collect();
        assert_eq!(places, [Some(2)]);
    }

    #[test]
    fn letters_and_square_keep_their_size_on_paper_and_words_tell_the_true_size() {
        let large =
            r#"{"inner_diameter_mm":250,"outer_diameter_mm":300,"height_mm":20,"cuts":{"2":19.6}}"#;
        let analysis = Analysis::of(&design(large));
        let texts = |scale: f64| {
            let scene = paper_drawing(&analysis, Side::A, scale, Language::British);
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
                if let crate::design::Layout::Even(even) = &mut design.a.layout {
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
