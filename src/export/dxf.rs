//! DXF R2000 (`AC1015`), the oldest form that has line widths and polylines with arcs.
//!
//! This leaf is our own. The `dxf` crate adds 62 kB to the download, and ezdxf, an independent
//! reader, repairs seven things in the R2000 files it writes; what is written here adds about 4 kB
//! and is read back strictly, with nothing to repair (`tests/cross/test_dxf.py`). Group codes and
//! the order of the sections follow Autodesk's DXF reference for release 2000; which of them are
//! the least that a reader must have follows ezdxf's notes on minimal DXF content.
//!
//! Four layers say what a machinist does with what is on them: keep, cut, centre, note. A layer
//! carries its colour, and the line type and width of most that is on it; an entity of a role with
//! another line has that of its own. Coordinates are the scene's: mm, the shaft axis at the origin.
//! Arcs stay exact: as bulges, `tan(sweep/4)`, in polylines, else as ARC or CIRCLE.

use std::f64::consts::{PI, TAU};
use std::fmt::{Display, Write as _};

use crate::draw::{Anchor, Item, Line, Role, Scene, Shape, Text};
use crate::ring::{Point, Segment};
use crate::units::decimal;

/// Decimals of a number. Bulges of slim arcs need more than coordinates do.
const DECIMALS: usize = 12;

/// Height of capitals in parts of the type size, which is what a scene gives, as in the SVG file.
const CAPITALS: f64 = 0.72;

/// Most characters of one text. Escaped they stay below the 2049 bytes that R2000 allows.
const TEXT_LIMIT: usize = 250;

/// Handles of the two block records, which others refer to before they are written.
const MODEL: u32 = 1;
const PAPER: u32 = 2;

/// The drawing as a DXF R2000 file.
///
/// Items with coordinates that are not finite are left out: no reader would take the file else.
pub fn dxf(scene: &Scene) -> String {
    let items: Vec<&Item> = scene.items.iter().filter(|item| is_drawable(&item.shape)).collect();
    let mut body = Writer { text: String::new(), last: PAPER };
    body.section("CLASSES", |_| {});
    body.section("TABLES", |w| w.tables(scene, &layers(&items)));
    body.section("BLOCKS", Writer::blocks);
    body.section("ENTITIES", |w| items.iter().for_each(|item| w.item(item)));
    body.section("OBJECTS", Writer::objects);
    body.pair(0, "EOF");
    // The header names the next free handle, so it can only be written once the rest is.
    let mut file = Writer { text: String::new(), last: body.last };
    file.section("HEADER", |w| w.header(scene));
    file.text + &body.text
}

/// The layers drawn on, in the order of [`Layer::ALL`].
fn layers(items: &[&Item]) -> Vec<Layer> {
    let used = |layer: &Layer| items.iter().any(|item| Layer::of(item.role) == *layer);
    Layer::ALL.into_iter().filter(used).collect()
}

/// Nothing is drawn beyond a kilometre from the axis; NaN is not within it either.
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

/// What to do with what is on a layer.
#[derive(Clone, Copy, PartialEq)]
enum Layer {
    /// Edges of metal that stays.
    Keep,
    /// Metal that comes off.
    Cut,
    /// Centre lines.
    Centre,
    /// Words, dimensions and whatever else is no edge of the part: nothing to machine.
    Note,
}

impl Layer {
    const ALL: [Self; 4] = [Self::Keep, Self::Cut, Self::Centre, Self::Note];

    /// The layer of a role. A new role must choose here: there is no other place and no default.
    const fn of(role: Role) -> Self {
        match role {
            Role::Tip | Role::Root | Role::Rim | Role::Section => Self::Keep,
            Role::Removed => Self::Cut,
            Role::Centre => Self::Centre,
            // Hatching is no path for a tool.
            Role::Cut
            | Role::Datum
            | Role::Dimension
            | Role::Note
            | Role::Label
            | Role::Check
            | Role::OpenEntry
            | Role::OpenDeep
            | Role::Blocked
            | Role::Web
            | Role::Facet
            | Role::Level
            | Role::State
            | Role::Way
            | Role::StraightIn
            | Role::AfterRubbing
            | Role::AfterStrikes
            | Role::HalfIn
            | Role::Locked
            | Role::Ratcheting
            | Role::CurveA
            | Role::CurveB
            | Role::CurveC
            | Role::CurveD => Self::Note,
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Keep => "KEEP",
            Self::Cut => "CUT",
            Self::Centre => "CENTRE",
            Self::Note => "NOTE",
        }
    }

    /// Its colour by the colour index of DXF: black on white and white on black, red, magenta, grey.
    const fn colour(self) -> u8 {
        match self {
            Self::Keep => 7,
            Self::Cut => 1,
            Self::Centre => 6,
            Self::Note => 8,
        }
    }

    /// The line of most that is on it.
    const fn line(self) -> Line {
        match self {
            Self::Keep => Line::Wide,
            Self::Cut => Line::DoubleChain,
            Self::Centre => Line::Chain,
            Self::Note => Line::Narrow,
        }
    }
}

/// A line type: its name, what it looks like, and its dashes (plus), gaps (minus) and dots (0), mm.
type Pattern = (&'static str, &'static str, &'static [f64]);

const CONTINUOUS: Pattern = ("CONTINUOUS", "Solid", &[]);
// ISO 128-2 in widths of a narrow line, 0.25 mm: dashes of 12, long dashes of 24, gaps of 3.
const DASHED: Pattern = ("DASHED", "ISO 128 no. 02 _ _ _ _", &[3.0, -0.75]);
const CHAIN: Pattern = ("LONG-DASH-DOT", "ISO 128 no. 04 ___ . ___", &[6.0, -0.75, 0.0, -0.75]);
const DOUBLE_CHAIN: Pattern =
    ("LONG-DASH-DOUBLE-DOT", "ISO 128 no. 05 ___ . . ___", &[6.0, -0.75, 0.0, -0.75, 0.0, -0.75]);

const PATTERNS: [Pattern; 6] =
    [("ByBlock", "", &[]), ("ByLayer", "", &[]), CONTINUOUS, DASHED, CHAIN, DOUBLE_CHAIN];

/// Line type and width, in hundredths of a mm.
const fn pen(line: Line) -> (Pattern, u8) {
    match line {
        Line::Wide => (CONTINUOUS, 50),
        Line::Narrow | Line::None => (CONTINUOUS, 25),
        Line::Dashed => (DASHED, 25),
        Line::Chain => (CHAIN, 25),
        Line::DoubleChain => (DOUBLE_CHAIN, 25),
    }
}

/// One corner of a polyline, with the bulge of the piece that leaves it.
struct Vertex {
    at: Point,
    bulge: f64,
}

/// The corners at which a piece begins or is parted. An arc of more than half a turn is parted, so
/// that no bulge is above 1; at a full turn it would have no limit.
fn vertices(segment: &Segment) -> Vec<Vertex> {
    let Segment::Arc { radius, start, sweep } = *segment else {
        return vec![Vertex { at: segment.from(), bulge: 0.0 }];
    };
    let parts = if sweep.abs() > PI { 2 } else { 1 };
    let share = sweep / f64::from(parts);
    let bulge = libm::tan(share / 4.0);
    let at = |part| Point::polar(radius, start + share * f64::from(part));
    (0..parts).map(|part| Vertex { at: at(part), bulge }).collect()
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
        // Only the size of the sheet itself can be beyond it: items are looked at before.
        let number = decimal(if value.abs() < WRITTEN { value } else { 0.0 }, DECIMALS);
        let point = if number.contains('.') { "" } else { ".0" };
        self.pair(code, number + point);
    }

    fn reals<const N: usize>(&mut self, numbers: [(u16, f64); N]) {
        numbers.into_iter().for_each(|(code, value)| self.real(code, value));
    }

    /// A point; its y stands ten codes above its x, its z twenty.
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

    // ---- header ----

    fn header(&mut self, scene: &Scene) {
        let next = format!("{:X}", self.last + 1);
        self.variable("ACADVER", 1, "AC1015");
        self.variable("DWGCODEPAGE", 3, "ANSI_1252");
        self.variable("HANDSEED", 5, next);
        for (name, corner) in [("EXTMIN", scene.bounds.min), ("EXTMAX", scene.bounds.max)] {
            self.pair(9, format!("${name}"));
            self.point(10, corner);
        }
        self.variable("LTSCALE", 40, "1.0");
        self.variable("CLAYER", 8, "0");
        // 2: decimal numbers; 0: decimal degrees; 1: metric line types; 4: millimetres.
        for (name, value) in
            [("LUNITS", 2), ("LUPREC", 4), ("AUNITS", 0), ("MEASUREMENT", 1), ("INSUNITS", 4)]
        {
            self.variable(name, 70, value);
        }
        self.variable("LWDISPLAY", 290, 1);
    }

    fn variable(&mut self, name: &str, code: u16, value: impl Display) {
        self.pair(9, format!("${name}"));
        self.pair(code, value);
    }

    // ---- tables ----

    fn tables(&mut self, scene: &Scene, layers: &[Layer]) {
        self.table("VPORT", 1, |w, table| w.view_port(table, scene));
        self.table("LTYPE", PATTERNS.len(), |w, table| {
            PATTERNS.iter().for_each(|pattern| w.line_type(table, pattern));
        });
        self.table("LAYER", layers.len() + 1, |w, table| {
            w.layer(table, "0", 7, Line::None);
            layers.iter().for_each(|l| w.layer(table, l.name(), l.colour(), l.line()));
        });
        self.table("STYLE", 1, Self::text_style);
        self.table("VIEW", 0, |_, _| {});
        self.table("UCS", 0, |_, _| {});
        self.table("APPID", 1, |w, table| w.record(table, "APPID", "AcDbRegApp", "ACAD"));
        self.dimension_styles();
        self.table("BLOCK_RECORD", 2, |w, table| {
            w.block_record(table, MODEL, "*Model_Space");
            w.block_record(table, PAPER, "*Paper_Space");
        });
    }

    fn table(&mut self, name: &str, entries: usize, content: impl FnOnce(&mut Self, u32)) {
        let handle = self.table_head(name, entries);
        content(self, handle);
        self.pair(0, "ENDTAB");
    }

    fn table_head(&mut self, name: &str, entries: usize) -> u32 {
        let handle = self.handle();
        self.pairs([(0, "TABLE"), (2, name)]);
        self.owned(handle, 0);
        self.pair(100, "AcDbSymbolTable");
        self.pair(70, entries);
        handle
    }

    fn owned(&mut self, handle: u32, owner: u32) {
        self.pairs([(5, handle), (330, owner)].map(|(code, h)| (code, format!("{h:X}"))));
    }

    /// The head of a table entry: everything up to its name and its flags.
    fn record(&mut self, table: u32, kind: &str, class: &str, name: &str) {
        let handle = self.handle();
        self.pair(0, kind);
        self.owned(handle, table);
        self.pairs([(100, "AcDbSymbolTableRecord"), (100, class), (2, name), (70, "0")]);
    }

    /// The window of the screen on opening: the whole drawing.
    fn view_port(&mut self, table: u32, scene: &Scene) {
        let (min, max) = (scene.bounds.min, scene.bounds.max);
        self.record(table, "VPORT", "AcDbViewportTableRecord", "*Active");
        self.reals([(10, 0.0), (20, 0.0), (11, 1.0), (21, 1.0)]);
        self.reals([(12, (min.x + max.x) / 2.0), (22, (min.y + max.y) / 2.0)]);
        self.reals([(13, 0.0), (23, 0.0), (14, 1.0), (24, 1.0), (15, 10.0), (25, 10.0)]);
        self.reals([(16, 0.0), (26, 0.0), (36, 1.0), (17, 0.0), (27, 0.0), (37, 0.0)]);
        let aspect = scene.bounds.width() / scene.bounds.height();
        self.reals([(40, scene.bounds.height()), (41, aspect), (42, 50.0), (43, 0.0), (44, 0.0)]);
        self.reals([(50, 0.0), (51, 0.0)]);
        self.pairs([(71, 0), (72, 1000), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)]);
    }

    fn line_type(&mut self, table: u32, &(name, looks, dashes): &Pattern) {
        self.record(table, "LTYPE", "AcDbLinetypeTableRecord", name);
        self.pair(3, looks);
        self.pair(72, 65);
        self.pair(73, dashes.len());
        self.real(40, dashes.iter().map(|dash| dash.abs()).sum());
        for &dash in dashes {
            self.real(49, dash);
            self.pair(74, 0);
        }
    }

    fn layer(&mut self, table: u32, name: &str, colour: u8, line: Line) {
        let ((line_type, ..), width) = pen(line);
        self.record(table, "LAYER", "AcDbLayerTableRecord", name);
        self.pair(62, colour);
        self.pair(6, line_type);
        self.pair(370, width);
    }

    fn text_style(&mut self, table: u32) {
        self.record(table, "STYLE", "AcDbTextStyleTableRecord", "STANDARD");
        self.reals([(40, 0.0), (41, 1.0), (50, 0.0)]);
        self.pair(71, 0);
        self.real(42, CAPITALS);
        // A font with Ø, °, “ and –, which the old stroke fonts do not all have.
        self.pairs([(3, "arial.ttf"), (4, "")]);
    }

    /// The one table that has its own class and whose entries have another code for the handle.
    fn dimension_styles(&mut self) {
        let table = self.table_head("DIMSTYLE", 1);
        self.pair(100, "AcDbDimStyleTable");
        self.pair(71, 0);
        let handle = self.handle();
        self.pair(0, "DIMSTYLE");
        self.pairs([(105, handle), (330, table)].map(|(code, h)| (code, format!("{h:X}"))));
        self.pairs([(100, "AcDbSymbolTableRecord"), (100, "AcDbDimStyleTableRecord")]);
        self.pairs([(2, "STANDARD"), (70, "0"), (0, "ENDTAB")]);
    }

    fn block_record(&mut self, table: u32, handle: u32, name: &str) {
        self.pair(0, "BLOCK_RECORD");
        self.owned(handle, table);
        self.pairs([(100, "AcDbSymbolTableRecord"), (100, "AcDbBlockTableRecord"), (2, name)]);
    }

    // ---- blocks and objects ----

    fn blocks(&mut self) {
        for (record, name) in [(MODEL, "*Model_Space"), (PAPER, "*Paper_Space")] {
            self.entity("BLOCK", record, "AcDbBlockBegin");
            self.pairs([(2, name), (70, "0")]);
            self.point(10, Point::default());
            self.pairs([(3, name), (1, "")]);
            self.entity("ENDBLK", record, "AcDbBlockEnd");
        }
    }

    /// The root dictionary, which must name a dictionary of groups, even an empty one.
    fn objects(&mut self) {
        let (root, groups) = (self.handle(), self.handle());
        self.dictionary(root, 0);
        self.pair(3, "ACAD_GROUP");
        self.pair(350, format!("{groups:X}"));
        self.dictionary(groups, root);
    }

    fn dictionary(&mut self, handle: u32, owner: u32) {
        self.pair(0, "DICTIONARY");
        self.owned(handle, owner);
        self.pair(100, "AcDbDictionary");
        self.pair(281, 1);
    }

    // ---- entities ----

    fn item(&mut self, item: &Item) {
        let role = item.role;
        match &item.shape {
            Shape::Path { segments, closed } => self.path(role, segments, *closed),
            Shape::Patches(patches) => patches.iter().for_each(|patch| self.patch(role, patch)),
            Shape::Strokes(strokes) => strokes.iter().for_each(|[from, to]| {
                let stroke = Segment::Line { from: *from, to: *to };
                self.path(role, &[stroke], false);
            }),
            Shape::Circle { radius } => self.circle(role, *radius),
            Shape::Text(text) => self.words(role, text),
        }
    }

    /// The head of what is drawn: its layer, and line type and width where they are not the layer's.
    fn drawn(&mut self, kind: &str, role: Role, class: &str) {
        let layer = Layer::of(role);
        let ((usual, ..), usual_width) = pen(layer.line());
        let ((line_type, ..), width) = pen(role.line());
        self.entity_on(kind, MODEL, layer.name());
        if line_type != usual {
            self.pair(6, line_type);
        }
        if width != usual_width {
            self.pair(370, width);
        }
        self.pair(100, class);
    }

    /// The head of an entity of a block, which is on no layer of its own.
    fn entity(&mut self, kind: &str, owner: u32, class: &str) {
        self.entity_on(kind, owner, "0");
        self.pair(100, class);
    }

    /// What all entities begin with.
    fn entity_on(&mut self, kind: &str, owner: u32, layer: &str) {
        let handle = self.handle();
        self.pair(0, kind);
        self.owned(handle, owner);
        self.pair(100, "AcDbEntity");
        if owner == PAPER {
            self.pair(67, 1);
        }
        self.pair(8, layer);
    }

    fn path(&mut self, role: Role, segments: &[Segment], closed: bool) {
        match segments {
            [Segment::Line { from, to }] => self.line(role, *from, *to),
            [Segment::Arc { radius, start, sweep }] if !closed => {
                self.arc(role, *radius, *start, *sweep);
            }
            _ => {
                let mut corners: Vec<_> = segments.iter().flat_map(vertices).collect();
                let end = segments.last().filter(|_| !closed);
                corners.extend(end.map(|last| Vertex { at: last.to(), bulge: 0.0 }));
                self.polyline(role, &corners, closed);
            }
        }
    }

    fn line(&mut self, role: Role, from: Point, to: Point) {
        self.drawn("LINE", role, "AcDbLine");
        self.point(10, from);
        self.point(11, to);
    }

    /// An arc about the axis. DXF knows counter-clockwise arcs only: a clockwise one changes ends.
    fn arc(&mut self, role: Role, radius: f64, start: f64, sweep: f64) {
        if sweep.abs() >= TAU {
            return self.circle(role, radius);
        }
        let degrees = |angle: f64| angle.to_degrees().rem_euclid(360.0);
        let (from, to) = if sweep < 0.0 { (start + sweep, start) } else { (start, start + sweep) };
        self.circle_of("ARC", role, radius);
        self.pair(100, "AcDbArc");
        self.reals([(50, degrees(from)), (51, degrees(to))]);
    }

    fn circle(&mut self, role: Role, radius: f64) {
        self.circle_of("CIRCLE", role, radius);
    }

    fn circle_of(&mut self, kind: &str, role: Role, radius: f64) {
        self.drawn(kind, role, "AcDbCircle");
        self.point(10, Point::default());
        self.real(40, radius);
    }

    fn patch(&mut self, role: Role, corners: &[Point]) {
        let corners: Vec<_> = corners.iter().map(|&at| Vertex { at, bulge: 0.0 }).collect();
        self.polyline(role, &corners, true);
    }

    fn polyline(&mut self, role: Role, corners: &[Vertex], closed: bool) {
        if corners.len() < 2 {
            return;
        }
        self.drawn("LWPOLYLINE", role, "AcDbPolyline");
        self.pair(90, corners.len());
        self.pair(70, u8::from(closed));
        for Vertex { at, bulge } in corners {
            self.reals([(10, at.x), (20, at.y), (42, *bulge)]);
        }
    }

    fn words(&mut self, role: Role, text: &Text) {
        let words = escaped(&text.words);
        if words.is_empty() {
            return;
        }
        let height = CAPITALS * text.height;
        let foot = Point::new(text.at.x, text.at.y - height / 2.0);
        self.drawn("TEXT", role, "AcDbText");
        self.point(10, foot);
        self.real(40, height);
        self.pair(1, words);
        // With an alignment it is the second point that counts, here at half the height: 73 = 2.
        let across = match text.anchor {
            Anchor::Start => 0,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        self.pair(72, across);
        self.point(11, text.at);
        self.pair(100, "AcDbText");
        self.pair(73, 2);
    }
}

/// Words as a value: one line of ASCII without anything that a reader would take for a code.
///
/// R2000 files are in a code page; other characters stand as `\U+` and four hexadecimal digits.
/// What needs more digits becomes a question mark: as two halves it would not survive readers that
/// take each half for a character.
fn escaped(words: &str) -> String {
    let mut out = String::new();
    for c in words.chars().filter(|c| !c.is_control()).take(TEXT_LIMIT) {
        // Two percent signs begin a code; so those in the words are kept apart.
        if out.ends_with('%') && matches!(c, '%' | '°' | 'Ø' | '±') {
            out.push(' ');
        }
        match c {
            // Signs that every reader knows by these codes, even those that do not know `\U+`.
            '°' => out += "%%d",
            'Ø' => out += "%%c",
            '±' => out += "%%p",
            // `^` and a letter is a control character, `^` and a blank the sign itself.
            '^' => out += "^ ",
            ' '..='~' if c != '\\' => out.push(c),
            // Writing to a String cannot fail.
            '\\' | '\u{a0}'..='\u{ffff}' => drop(write!(out, "\\U+{:04X}", u32::from(c))),
            _ => out.push('?'),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::draw::{Bounds, ring_drawing};
    use crate::report::Analysis;
    use crate::ring::Side;
    use std::f64::consts::FRAC_PI_2;

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
            shape,
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
        let file = dxf(&ring_drawing(&Analysis::of(&example()), Side::A, "link"));
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
        cut.a.plan.set_cut(0, Some(crate::ring::Cut::Remove));
        let file = dxf(&ring_drawing(&Analysis::of(&cut), Side::A, ""));
        for name in ["KEEP", "CUT", "CENTRE", "NOTE"] {
            assert!(values(&file, 2).iter().any(|value| value == name), "{name}");
        }
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
            (Role::Removed, "CUT", None, None),
            (Role::Centre, "CENTRE", None, None),
            (Role::Dimension, "NOTE", None, None),
            (Role::Level, "NOTE", Some("LONG-DASH-DOT"), None),
        ];
        for (role, layer, line_type, width) in cases {
            let want = [Some(layer), line_type, width].map(|word| word.map(str::to_owned));
            assert_eq!(pen_of(role), want, "{role:?}");
        }
    }
}
