//! DXF R2000 (`AC1015`), the oldest form that has line widths and polylines with arcs.
//!
//! This leaf is our own. The `dxf` crate adds 62 kB to the download, and ezdxf, an independent
//! reader, repairs seven things in the R2000 files it writes; what is written here adds about 4 kB
//! and is read back strictly, with nothing to repair (`tests/cross/test_dxf.py`). Group codes and
//! the order of the sections follow Autodesk's DXF reference for release 2000; which of them are
//! the least that a reader must have follows ezdxf's notes on minimal DXF content.
//!
//! Six layers say what a machinist does with the items on them: keep, cut, detail, elevation, centre, note. An item
//! that is cut has the level of the cut as its elevation; all others are at 0. A layer sets the colour, and
//! the line type and width of most items on it; an entity of a role with another line has its own.
//!
//! Coordinates are the scene's: mm, the shaft axis at the origin. Arcs stay exact: as bulges, `tan(sweep/4)`, in
//! polylines, else as ARC or CIRCLE.

mod entities;
mod frame;
mod layers;

use std::fmt::{Display, Write as _};

use self::layers::Layer;
use crate::draw::{Item, Scene, Shape};
use crate::ring::Point;
use crate::units::decimal;

/// Decimals of a number. Bulges of slim arcs need more than coordinates do.
const DECIMALS: usize = 12;

/// Height of capitals as a share of the type size, which is what a scene gives. The SVG file uses the same.
const CAPITALS: f64 = 0.72;

/// Handles of the two block records, which others refer to before they are written.
const MODEL: u32 = 1;
const PAPER: u32 = 2;

/// The drawing as a DXF R2000 file.
///
/// Items with coordinates that are not finite are left out: otherwise no reader would accept the file.
pub fn dxf(scene: &Scene) -> String {
    let items: Vec<&Item> = scene.items.iter().filter(|item| is_drawable(&item.shape)).collect();
    let mut body = Writer { text: String::new(), last: PAPER };
    body.section("CLASSES", |_| {});
    body.section("TABLES", |w| w.tables(scene, &layers(&items)));
    body.section("BLOCKS", Writer::blocks);
    body.section("ENTITIES", |w| items.iter().for_each(|item| w.item(item)));
    body.section("OBJECTS", Writer::objects);
    body.pair(0, "EOF");
    // The header names the next free handle, so it is written last.
    let mut file = Writer { text: String::new(), last: body.last };
    file.section("HEADER", |w| w.header(scene));
    file.text + &body.text
}

/// The layers drawn on, in the order of [`Layer::ALL`].
fn layers(items: &[&Item]) -> Vec<Layer> {
    let used = |layer: &Layer| items.iter().any(|item| Layer::of(item) == *layer);
    Layer::ALL.into_iter().filter(used).collect()
}

/// Items beyond a kilometre from the axis, or at NaN, are left out.
const FAR_MM: f64 = 1e6;

/// From here on numbers would be written with a power of ten.
const WRITTEN: f64 = 1e15;

fn is_drawable(shape: &Shape) -> bool {
    let has_size = match shape {
        Shape::Path { segments, .. } => !segments.is_empty(),
        Shape::Circle { radius } => *radius > 0.0,
        Shape::Text(text) => text.height > 0.0,
        Shape::Patches(_) | Shape::Strokes(_) => true,
    };
    has_size && shape.is_within(FAR_MM)
}

/// Writes group codes and values, and gives out handles.
struct Writer {
    text: String,
    last: u32,
}

impl Writer {
    fn pair(&mut self, code: u16, value: impl Display) {
        // Writing to a String cannot fail. Old readers on Windows want both line ends.
        let _ = write!(self.text, "{code:>3}\r\n{value}\r\n");
    }

    fn pairs<V: Display>(&mut self, pairs: impl IntoIterator<Item = (u16, V)>) {
        pairs.into_iter().for_each(|(code, value)| self.pair(code, value));
    }

    fn real(&mut self, code: u16, value: f64) {
        // Only the size of the sheet itself can be larger: items were checked before.
        let number = decimal(if value.abs() < WRITTEN { value } else { 0.0 }, DECIMALS);
        let point = if number.contains('.') { "" } else { ".0" };
        self.pair(code, number + point);
    }

    fn reals<const N: usize>(&mut self, numbers: [(u16, f64); N]) {
        numbers.into_iter().for_each(|(code, value)| self.real(code, value));
    }

    /// A point: the code of its y is ten above that of its x, the code of its z twenty.
    fn point(&mut self, code: u16, p: Point) {
        self.reals([(code, p.x), (code + 10, p.y), (code + 20, 0.0)]);
    }

    fn handle(&mut self) -> u32 {
        self.last += 1;
        self.last
    }

    fn section(&mut self, name: &str, content: impl FnOnce(&mut Self)) {
        self.pairs([(0, "SECTION"), (2, name)]);
        content(self);
        self.pair(0, "ENDSEC");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::example;
    use crate::draw::{Anchor, Bounds, Role, Text, ring_drawing};
    use crate::ring::{Segment, Side};
    use crenel_words::Language;
    use std::f64::consts::{FRAC_PI_2, TAU};

    /// The file as group codes and values; panics where they do not come in pairs.
    fn pairs(file: &str) -> Vec<(u16, String)> {
        let lines: Vec<&str> = file.split("\r\n").collect();
        let (last, lines) = lines.split_last().unwrap();
        assert_eq!(*last, "", "the file ends with a line end");
        assert!(lines.iter().all(|line| !line.contains(['\r', '\n'])));
        let pair = |two: &[&str]| (two[0].trim().parse().unwrap(), two[1].to_owned());
        assert_eq!(lines.len() % 2, 0);
        lines.chunks(2).map(pair).collect()
    }

    fn values(file: &str, code: u16) -> Vec<String> {
        pairs(file).into_iter().filter(|(c, _)| *c == code).map(|(_, value)| value).collect()
    }

    fn scene(shapes: Vec<Shape>) -> Scene {
        let bounds = Bounds { min: Point::new(-10.0, -10.0), max: Point::new(10.0, 10.0) };
        let item = |shape| Item {
            role: Role::Tip,
            side: None,
            place: None,
            chosen: false,
            shade: None,
            cut_to_mm: None,
            measure: None,
            shape,
            turned: None,
        };
        Scene { bounds, items: shapes.into_iter().map(item).collect() }
    }

    fn arc(start: f64, sweep: f64) -> Segment {
        Segment::Arc { radius: 10.0, start, sweep }
    }

    /// The entities of one shape: kind, then codes and numbers of its own.
    fn entities(shape: Shape) -> Vec<(u16, String)> {
        let all = pairs(&dxf(&scene(vec![shape])));
        let from = all.iter().position(|(c, v)| *c == 2 && v == "ENTITIES").unwrap() + 1;
        let to = from + all[from..].iter().position(|(_, v)| v == "ENDSEC").unwrap();
        all[from..to].to_vec()
    }

    fn numbers(shape: Shape, code: u16) -> Vec<f64> {
        let of_code = entities(shape).into_iter().filter(|(c, _)| *c == code);
        of_code.map(|(_, value)| value.parse().unwrap()).collect()
    }

    fn text(words: &str) -> Shape {
        let (at, anchor) = (Point::default(), Anchor::Start);
        Shape::Text(Text { at, height: 3.5, anchor, words: words.to_owned() })
    }

    #[test]
    fn handles_are_unique_and_below_the_seed() {
        let file =
            dxf(&ring_drawing(&Analysis::of(&example()), Side::A, "link", Language::British));
        let mut handles = [values(&file, 5), values(&file, 105)].concat();
        let seed = handles.remove(0);
        let number = |h: &String| u32::from_str_radix(h, 16).unwrap();
        assert!(handles.iter().all(|h| number(h) < number(&seed)));
        let mut unique = handles.clone();
        unique.sort();
        unique.dedup();
        assert_eq!(unique.len(), handles.len());
        assert!(values(&file, 330).iter().all(|h| h == "0" || handles.contains(h)));
    }

    #[test]
    fn shapes_become_the_plainest_entity() {
        let line = Segment::Line { from: Point::default(), to: Point::new(1.0, 2.0) };
        let path = |segments: Vec<Segment>, closed| Shape::Path { segments, closed };
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)].map(|(x, y)| Point::new(x, y));
        let cases = [
            (path(vec![line], false), "LINE"),
            (path(vec![arc(0.0, 1.0)], false), "ARC"),
            (path(vec![arc(0.0, -TAU)], false), "CIRCLE"),
            (path(vec![arc(0.0, TAU)], true), "LWPOLYLINE"),
            (path(vec![line, line], false), "LWPOLYLINE"),
            (Shape::Circle { radius: 1.0 }, "CIRCLE"),
            (Shape::Patches(vec![square.to_vec()]), "LWPOLYLINE"),
            (text("a"), "TEXT"),
        ];
        for (shape, want) in cases {
            let got = entities(shape.clone());
            assert_eq!(got[0], (0, want.to_owned()), "{shape:?}");
            assert_eq!(got.iter().filter(|(code, _)| *code == 0).count(), 1, "{shape:?}");
        }
    }

    #[test]
    fn arcs_run_counter_clockwise() {
        let ends = |start: f64, sweep| {
            let shape = Shape::Path { segments: vec![arc(start, sweep)], closed: false };
            [50, 51].map(|code| numbers(shape.clone(), code)[0].round())
        };
        assert_eq!(ends(0.0, FRAC_PI_2), [0.0, 90.0]);
        assert_eq!(ends(FRAC_PI_2, -FRAC_PI_2), [0.0, 90.0]);
        assert_eq!(ends(-FRAC_PI_2, FRAC_PI_2 / 2.0), [270.0, 315.0]);
    }

    #[test]
    fn bulges_have_the_sign_of_the_sweep_and_never_pass_one() {
        let bulges =
            |sweep: f64| numbers(Shape::Path { segments: vec![arc(0.3, sweep)], closed: true }, 42);
        assert_eq!(bulges(0.5), Vec::<f64>::new(), "one corner alone is no polyline");
        for sweep in [0.1, -0.1, 3.0, -3.0, 4.0, -4.0, 6.0, -TAU] {
            let back = Segment::Line { from: arc(0.3, sweep).to(), to: arc(0.3, sweep).from() };
            let shape = Shape::Path { segments: vec![arc(0.3, sweep), back], closed: true };
            let bulges = numbers(shape, 42);
            let (line, arcs) = bulges.split_last().unwrap();
            assert_eq!(*line, 0.0);
            let turned: f64 = arcs.iter().map(|b| 4.0 * libm::atan(*b)).sum();
            assert!((turned - sweep).abs() < 1e-10, "{sweep}: {turned}");
            assert!(arcs.iter().all(|b| b.abs() < 1.0 + 1e-12), "{sweep}: {arcs:?}");
        }
    }

    #[test]
    fn text_cannot_add_an_entity() {
        let cases = [
            ("0\nENDSEC\n  0\nEOF", "0ENDSEC  0EOF"),
            ("0\r\nLINE\u{0}\u{1b}\u{85}", "0LINE"),
            ("<b>&amp;\"'", "<b>&amp;\"'"),
            ("Ø 30° – “a” º", "%%c 30%%d \\U+2013 \\U+201Ca\\U+201D \\U+00BA"),
            ("5%° ±1", "5% %%d %%p1"),
            ("\\U+0041 {\\P}", "\\U+005CU+0041 {\\U+005CP}"),
            ("5%%d %%%", "5% %d % % %"),
            ("^J", "^ J"),
            ("שלום", "\\U+05E9\\U+05DC\\U+05D5\\U+05DD"),
            ("a😀b\u{ffff}", "a?b\\U+FFFF"),
        ];
        for (words, want) in cases {
            let got = entities(text(words));
            assert_eq!(got.iter().filter(|(code, _)| *code == 0).count(), 1, "{words:?}");
            let value = got.iter().find(|(code, _)| *code == 1);
            assert_eq!(value.map(|(_, v)| v.as_str()), Some(want), "{words:?}");
        }
        assert!(entities(text("\n\u{7}")).is_empty());
        assert!(dxf(&scene(vec![text(&"漢".repeat(9999))])).lines().all(|l| l.len() < 2049));
    }

    #[test]
    fn what_is_not_finite_is_left_out() {
        let bad = Segment::Line { from: Point::default(), to: Point::new(f64::NAN, 0.0) };
        let shapes = vec![
            Shape::Path { segments: vec![bad], closed: false },
            Shape::Path { segments: vec![arc(0.0, f64::INFINITY)], closed: false },
            Shape::Path { segments: Vec::new(), closed: true },
            Shape::Circle { radius: f64::NAN },
            Shape::Circle { radius: 0.0 },
            Shape::Patches(vec![vec![Point::new(0.0, f64::NEG_INFINITY)]]),
        ];
        let file = dxf(&scene(shapes));
        assert_eq!(file, dxf(&scene(Vec::new())));
        assert!(!file.contains("NaN") && !file.contains("inf"));
    }

    #[test]
    fn only_layers_in_use_are_listed() {
        let file = dxf(&scene(vec![Shape::Circle { radius: 1.0 }]));
        assert_eq!(file.matches("AcDbLayerTableRecord").count(), 2, "0 and KEEP");
        let mut cut = example();
        cut.a.plan.set_cut(0, Some(crate::design::Cut::Remove));
        let file = dxf(&ring_drawing(&Analysis::of(&cut), Side::A, "", Language::British));
        for name in ["KEEP", "CUT", "DETAIL", "CENTRE", "NOTE"] {
            assert!(values(&file, 2).iter().any(|value| value == name), "{name}");
        }
    }

    /// A text of whatever height is written, and none without.
    #[test]
    fn texts_of_every_height_are_written() {
        for height in [0.8, 1.8, 2.5, 2.999, 3.0, 3.001, 3.5, 5.0, 50.0] {
            let mut shape = text("a");
            if let Shape::Text(text) = &mut shape {
                text.height = height;
            }
            let written = numbers(shape, 40);
            assert_eq!(written.len(), 1, "{height} mm");
            assert!((written[0] - CAPITALS * height).abs() < 1e-9, "{height} mm");
        }
    }

    #[test]
    fn what_is_cut_lies_on_its_layer_at_its_level() {
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)].map(|(x, y)| Point::new(x, y));
        let mut scene = scene(vec![Shape::Patches(vec![square.to_vec()])]);
        for (role, level) in [(Role::Tip, -2.5), (Role::Root, -5.0), (Role::Removed, 0.0)] {
            (scene.items[0].role, scene.items[0].cut_to_mm) = (role, Some(level));
            let file = dxf(&scene);
            assert_eq!(values(&file, 8).last().map(String::as_str), Some("CUT"), "{role:?}");
            let levels: Vec<f64> = values(&file, 38).iter().map(|v| v.parse().unwrap()).collect();
            assert_eq!(levels, [level]);
        }
        scene.items[0].cut_to_mm = None;
        assert!(values(&dxf(&scene), 38).is_empty());
    }

    /// Layer, line type and width of a circle of a role, as written on the entity itself.
    fn pen_of(role: Role) -> [Option<String>; 3] {
        let mut scene = scene(vec![Shape::Circle { radius: 1.0 }]);
        scene.items[0].role = role;
        let all = pairs(&dxf(&scene));
        let from = all.iter().position(|(c, v)| *c == 0 && v == "CIRCLE").unwrap();
        let circle: Vec<_> = all[from..].iter().take_while(|(c, _)| *c != 40).collect();
        [8, 6, 370].map(|code| circle.iter().find(|(c, _)| *c == code).map(|(_, v)| v.clone()))
    }

    #[test]
    fn lines_that_are_not_those_of_the_layer_stand_on_the_entity() {
        let cases = [
            (Role::Tip, "KEEP", None, None),
            (Role::Root, "KEEP", Some("DASHED"), Some("25")),
            (Role::Rim, "KEEP", None, Some("25")),
            (Role::Section, "DETAIL", None, None),
            (Role::Removed, "DETAIL", Some("LONG-DASH-DOUBLE-DOT"), Some("25")),
            (Role::Centre, "CENTRE", None, None),
            (Role::Dimension, "NOTE", None, None),
            (Role::Level, "NOTE", Some("DASHED"), None),
        ];
        for (role, layer, line_type, width) in cases {
            let want = [Some(layer), line_type, width].map(|word| word.map(str::to_owned));
            assert_eq!(pen_of(role), want, "{role:?}");
        }
    }
}
