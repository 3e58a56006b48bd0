//! SVG: the same marks for the screen and for files.

mod hatching;

use std::fmt::Write as _;

use crenel_words::Reader;

pub use hatching::{HATCHES, HatchBar, SvgHatch};

use super::letters::Letters;
use crate::draw::{Anchor, Bounds, Item, LIGHTEST, Line, Role, Scene, Shape, Text};
use crate::report::cautions_short;
use crate::ring::{Point, Segment, Side};
use crate::units::{Angle, decimal, push_decimal};

/// Decimals of a millimetre in a file: a tenth of a micrometre.
const DECIMALS: usize = 4;

/// Decimals of a degree of a turn: a tenth of a micrometre at a radius of 5 m.
const TURN_DECIMALS: usize = 6;

/// Line widths of ISO 128-2, group 0.5: wide and narrow, mm.
const WIDE_MM: f64 = 0.5;
const NARROW_MM: f64 = 0.25;

/// A file at true size in mm, with a style sheet of its own. Its description carries the cautions: any
/// drawing at true size may end up at a machine.
pub fn svg_file(scene: &Scene, title: &str) -> String {
    svg_file_as(scene, title, SvgSize::Millimetres, None)
}

/// In which unit a file says its size. Its coordinates are mm in either.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SvgSize {
    /// In mm.
    #[default]
    Millimetres,
    /// In pixels, 96 to the inch.
    Pixels,
}

impl SvgSize {
    /// Pixels of a screen in a millimetre, 96 to the inch.
    pub const PX_PER_MM: f64 = 96.0 / 25.4;

    fn shown(self, length_mm: f64) -> String {
        match self {
            Self::Millimetres => mm(length_mm) + "mm",
            Self::Pixels => decimal(length_mm * Self::PX_PER_MM, 2) + "px",
        }
    }
}

/// The same with a size in a unit, and with words as outlines where there are some for all their letters.
pub(super) fn svg_file_as(
    scene: &Scene,
    title: &str,
    size: SvgSize,
    letters: Option<&Letters>,
) -> String {
    let sides = [scene.bounds.width(), scene.bounds.height()];
    let [width, height] = sides.map(mm);
    let cautions = cautions_short(Reader::default()).join(" ");
    let head = [
        ("height", size.shown(sides[1])),
        ("viewBox", format!("0 0 {width} {height}")),
        ("width", size.shown(sides[0])),
        ("xmlns", "http://www.w3.org/2000/svg".to_owned()),
    ];
    let paper = [("class", "paper".to_owned()), ("height", height), ("width", width)];
    let mut file = Marks { letters, ..Marks::default() };
    file.open("svg", &head);
    file.element("title", &[], Some(&legal(title)));
    file.element("desc", &[], Some(&cautions));
    let of_letters = if letters.is_some() { LETTER_STYLE } else { "" };
    file.style(&(file_style() + band_style(scene) + of_letters));
    file.defs(&hatching::used_in(scene));
    file.element("rect", &paper, None);
    file.scene(scene);
    file.close("svg");
    file.text
}

/// The marks alone, as text for an `svg` element whose page has the style sheet. The origin is the upper left
/// corner of the scene's bounds.
pub fn svg_markup(scene: &Scene) -> String {
    let mut marks = Marks::default();
    marks.scene(scene);
    marks.text
}

/// One element of a drawing, for a page or a file.
#[derive(Clone, Debug, PartialEq)]
pub struct SvgMark {
    /// Its name.
    pub tag: &'static str,
    /// Its attributes by name.
    pub attributes: Vec<(&'static str, String)>,
    /// Its text, not escaped, without characters that XML forbids.
    pub words: Option<String>,
}

impl SvgMark {
    /// The value of an attribute, if it has it.
    pub fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(own, _)| *own == name).map(|(_, value)| value.as_str())
    }
}

/// The element of an item, without the turn that its group has.
pub fn svg_mark(bounds: &Bounds, item: &Item) -> SvgMark {
    let place = Placement::of(bounds);
    let (mut attributes, words) = match &item.shape {
        Shape::Path { segments, closed } => (vec![("d", place.path(segments, *closed))], None),
        Shape::Strokes(strokes) => (vec![("d", place.strokes(strokes))], None),
        Shape::Patches(patches) => (vec![("d", place.patches(patches))], None),
        Shape::Circle { radius } => (place.circle(*radius), None),
        Shape::Text(text) => (place.text(text), Some(legal(&text.words))),
    };
    attributes.push(("class", class(item)));
    if let Some((side, dog)) = item.side.zip(item.place) {
        attributes.push(("data-dog", format!("{}{}", side.letter(), dog + 1)));
    }
    if let Some(measure) = item.measure {
        attributes.push(("data-measure", measure.key().to_owned()));
    }
    SvgMark { tag: svg_tag(&item.shape), attributes, words }
}

/// The name of the element that a shape is drawn by.
pub const fn svg_tag(shape: &Shape) -> &'static str {
    match shape {
        Shape::Path { .. } | Shape::Strokes(_) | Shape::Patches(_) => "path",
        Shape::Circle { .. } => "circle",
        Shape::Text(_) => "text",
    }
}

/// The `transform` of the group of all items that are turned by so much about the origin.
pub fn svg_turn(bounds: &Bounds, by: Angle) -> String {
    // With y down, plus runs clockwise.
    let mut turn = format!("rotate({} ", decimal(-by.degrees(), TURN_DECIMALS));
    Placement::of(bounds).pair(&mut turn, Point::default());
    turn + ")"
}

/// Words that are outlines look as words do.
const LETTER_STYLE: &str = "path.letters{fill:#000;stroke:none}\
     path.letters.note,path.letters.label{paint-order:stroke;stroke:#fff;stroke-width:.6}";

/// SVG as text, one element on each line.
#[derive(Default)]
struct Marks<'a> {
    text: String,
    /// The outlines that words are drawn with.
    letters: Option<&'a Letters>,
}

impl Marks<'_> {
    /// Items that are turned alike are in one group.
    fn scene(&mut self, scene: &Scene) {
        for (turned, run) in scene.runs() {
            if let Some(by) = turned {
                self.open("g", &[("transform", svg_turn(&scene.bounds, by))]);
            }
            for item in run {
                let outlined = self.letters.and_then(|all| outlined(all, &scene.bounds, item));
                let mark = outlined.unwrap_or_else(|| svg_mark(&scene.bounds, item));
                let SvgMark { tag, mut attributes, words } = mark;
                attributes.sort_by_key(|(name, _)| *name);
                self.element(tag, &attributes, words.as_deref());
            }
            if turned.is_some() {
                self.close("g");
            }
        }
    }

    fn open(&mut self, tag: &str, attributes: &[(&str, String)]) {
        self.begin(tag, attributes);
        self.text.push('>');
    }

    fn close(&mut self, tag: &str) {
        self.text += &["\n</", tag, ">"].concat();
    }

    /// An element with its words, or without.
    fn element(&mut self, tag: &str, attributes: &[(&str, String)], words: Option<&str>) {
        self.begin(tag, attributes);
        let Some(words) = words else {
            self.text += "/>";
            return;
        };
        self.text.push('>');
        self.escaped(words);
        self.text += &["</", tag, ">"].concat();
    }

    /// A style sheet, which has nothing to escape.
    fn style(&mut self, css: &str) {
        self.text += &["\n<style>\n", css, "\n</style>"].concat();
    }

    /// What other elements refer to, already written.
    fn defs(&mut self, defs: &[String]) {
        if !defs.is_empty() {
            self.text += &["\n<defs>\n", &defs.join("\n"), "\n</defs>"].concat();
        }
    }

    fn begin(&mut self, tag: &str, attributes: &[(&str, String)]) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push('<');
        self.text += tag;
        for (name, value) in attributes {
            self.text.push(' ');
            self.text += name;
            self.text += "=\"";
            self.escaped(value);
            self.text.push('"');
        }
    }

    fn escaped(&mut self, words: &str) {
        // Every byte is looked at, whatever is found: that goes many at a time.
        let is_markup = |byte| matches!(byte, b'&' | b'<' | b'>' | b'"');
        if !words.bytes().fold(false, |found, byte| found | is_markup(byte)) {
            self.text += words;
            return;
        }
        for c in words.chars() {
            match c {
                '&' => self.text += "&amp;",
                '<' => self.text += "&lt;",
                '>' => self.text += "&gt;",
                '"' => self.text += "&quot;",
                c => self.text.push(c),
            }
        }
    }
}

/// The element of words as outlines, with the words as its label; `None` for what is no words, and where a letter has
/// no outline.
fn outlined(letters: &Letters, bounds: &Bounds, item: &Item) -> Option<SvgMark> {
    let Shape::Text(text) = &item.shape else { return None };
    let words = legal(&text.words);
    let place = Placement::of(bounds);
    let at = [place.x(text.at), place.base_line(text)];
    let path = letters.path(&words, at, text.height, text.anchor)?;
    let attributes =
        vec![("d", path), ("class", format!("letters {}", class(item))), ("aria-label", words)];
    Some(SvgMark { tag: "path", attributes, words: None })
}

/// Words without the characters that XML 1.0 does not know, not even escaped.
fn legal(words: &str) -> String {
    let known = |c: char| matches!(c, '\t' | '\n' | '\r' | ' '..='\u{fffd}' | '\u{10000}'..);
    words.chars().filter(|&c| known(c)).collect()
}

fn class(item: &Item) -> String {
    let side = match item.side {
        Some(Side::A) => " ring-a",
        Some(Side::B) => " ring-b",
        None => "",
    };
    let chosen = if item.chosen { " chosen" } else { "" };
    let shade = item.shade.map_or(String::new(), |shade| format!(" shade-{shade}"));
    [item.role.name(), side, &shade, chosen].concat()
}

/// From the scene, y up, to SVG, y down.
struct Placement {
    left: f64,
    top: f64,
}

impl Placement {
    const fn of(bounds: &Bounds) -> Self {
        Self { left: bounds.min.x, top: bounds.max.y }
    }

    fn x(&self, p: Point) -> f64 {
        p.x - self.left
    }

    fn y(&self, p: Point) -> f64 {
        self.top - p.y
    }

    fn pair(&self, d: &mut String, p: Point) {
        push_decimal(d, self.x(p), DECIMALS);
        d.push(' ');
        push_decimal(d, self.y(p), DECIMALS);
    }

    /// A command of a path that goes to a point.
    fn go(&self, d: &mut String, command: char, to: Point) {
        d.push(command);
        self.pair(d, to);
    }

    /// A circle about the origin.
    fn circle(&self, radius: f64) -> Vec<(&'static str, String)> {
        let centre = Point::default();
        let [cx, cy] = [self.x(centre), self.y(centre)].map(mm);
        vec![("cx", cx), ("cy", cy), ("r", mm(radius))]
    }

    fn text(&self, text: &Text) -> Vec<(&'static str, String)> {
        let anchor = match text.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let [x, y, size] = [self.x(text.at), self.base_line(text), text.height].map(mm);
        vec![("x", x), ("y", y), ("font-size", size), ("text-anchor", anchor.to_owned())]
    }

    /// Capitals are about 0.7 of the type size; they are centred on their own height.
    fn base_line(&self, text: &Text) -> f64 {
        self.y(text.at) + text.height * 0.36
    }

    fn path(&self, segments: &[Segment], closed: bool) -> String {
        let mut d = String::with_capacity(POINT_LETTERS * (segments.len() + 1));
        if let Some(first) = segments.first() {
            self.go(&mut d, 'M', first.from());
        }
        for segment in segments {
            self.segment(&mut d, segment);
        }
        if closed { d + "Z" } else { d }
    }

    fn segment(&self, d: &mut String, segment: &Segment) {
        match *segment {
            Segment::Line { to, .. } => self.go(d, 'L', to),
            Segment::Arc { radius, start, sweep } => {
                // SVG cannot draw a full turn in one arc, and is vague near one: go in halves.
                let r = mm(radius);
                let flag = if sweep < 0.0 { "1" } else { "0" };
                for turned in [sweep / 2.0, sweep] {
                    d.extend(["A", &r, " ", &r, " 0 0 ", flag, " "]);
                    self.pair(d, Point::polar(radius, start + turned));
                }
            }
        }
    }

    fn strokes(&self, strokes: &[[Point; 2]]) -> String {
        let mut d = String::with_capacity(2 * POINT_LETTERS * strokes.len());
        for [from, to] in strokes {
            self.go(&mut d, 'M', *from);
            self.go(&mut d, 'L', *to);
        }
        d
    }

    fn patches(&self, patches: &[Vec<Point>]) -> String {
        let points: usize = patches.iter().map(Vec::len).sum();
        let mut d = String::with_capacity(POINT_LETTERS * points);
        for patch in patches {
            for (at, p) in patch.iter().enumerate() {
                self.go(&mut d, if at == 0 { 'M' } else { 'L' }, *p);
            }
            d.push('Z');
        }
        d
    }
}

/// Letters of a point of a path, for which there is room from the start.
const POINT_LETTERS: usize = 20;

fn mm(value: f64) -> String {
    decimal(value, DECIMALS)
}

/// The light page on white paper, whatever the page looks like: outlines in black by line type, the rings in
/// their hues.
fn file_style() -> String {
    let mut css = ".paper{fill:#fff}path,circle{fill:none;stroke:#000;stroke-linejoin:round}\
                   text{fill:#000;stroke:none;font-family:sans-serif;white-space:pre}.datum{fill:#000}\
                   .ring-a{stroke:#0b5a9d}.ring-b{stroke:#a23d00}text.ring-a,text.ring-b{stroke:none}"
        .to_owned();
    css += &hatching::fills();
    css += ".casing{stroke:#fff;stroke-width:1}.grid{stroke:#d5d0c4}.open-entry,.open-deep{stroke:#11663f}.border{stroke:#76808a}\
            text.note,text.label{paint-order:stroke;stroke:#fff;stroke-width:.6}";
    css += &shades();
    for role in Role::ALL {
        let (width, dashes) = match role.line() {
            Line::Wide => (WIDE_MM, ""),
            Line::Narrow => (NARROW_MM, ""),
            // Dash lengths of ISO 128-2 in line widths: 12 d dashes, 24 d long dashes, 3 d gaps.
            Line::Dashed => (NARROW_MM, "3 .75"),
            Line::Chain => (NARROW_MM, "6 .75 .1 .75"),
            Line::DoubleChain => (NARROW_MM, "6 .75 .1 .75 .1 .75"),
            Line::None => continue,
        };
        let _ = write!(css, ".{}{{stroke-width:{width}", role.name());
        if !dashes.is_empty() {
            let _ = write!(css, ";stroke-dasharray:{dashes}");
        }
        css.push('}');
    }
    for (role, (colour, dashes)) in Role::CURVES.into_iter().zip(SERIES) {
        let _ = write!(
            css,
            ".{}{{stroke:{colour};stroke-width:{WIDE_MM};stroke-dasharray:{dashes}}}",
            role.name()
        );
    }
    css
}

/// The bands of a map, in a file that has some: one ink, thicker with each band that lies on another.
fn band_style(scene: &Scene) -> &'static str {
    let has_bands = scene.items.iter().any(|item| item.role == Role::Band);
    if has_bands { ".band{fill:#7b2e8c;fill-opacity:.15;stroke:none}" } else { "" }
}

/// Colour and dashes, mm, of the series of a chart; never the hues of the rings.
/// Two of six share a colour with another that has other dashes and another marker.
const SERIES: [(&str, &str); 6] = [
    ("#1a2129", "none"),
    ("#7b2e8c", "2.5 1"),
    ("#007f73", "2.5 1 .5 1"),
    ("#b57b00", ".5 .75"),
    ("#1a2129", "1.25 1.25"),
    ("#7b2e8c", "4 .75 .5 .75 .5 .75"),
];

/// Fills of facets: the hue of the ring, lightened. Each facet has a thin line of its own colour, so
/// that no paper shows between two of them.
fn shades() -> String {
    let mut css = String::from("path.facet{stroke-width:.1}path.tip{stroke-linecap:round}");
    // The darkest and the lightest, red, green and blue.
    for (side, dark, light) in
        [("a", [26, 92, 150], [228, 240, 250]), ("b", [158, 72, 22], [253, 236, 224])]
    {
        for shade in 0..=LIGHTEST {
            let mix = |at: usize| {
                dark[at] + (light[at] - dark[at]) * i32::from(shade) / i32::from(LIGHTEST)
            };
            let colour = format!("#{:02x}{:02x}{:02x}", mix(0), mix(1), mix(2));
            let _ =
                write!(css, ".facet.ring-{side}.shade-{shade}{{fill:{colour};stroke:{colour}}}");
        }
    }
    css
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::example;
    use crate::draw::ring_drawing;
    use crenel_words::Language;

    /// A quarter turn about the origin, which lies 10 mm right of the left edge and 10 mm below the top.
    #[test]
    fn an_arc_goes_in_halves_by_its_middle() {
        let placement = Placement { left: -10.0, top: 10.0 };
        let turn = std::f64::consts::FRAC_PI_2;
        let arc = Segment::Arc { radius: 5.0, start: 0.0, sweep: turn };
        assert_eq!(placement.path(&[arc], false), "M15 10A5 5 0 0 0 13.5355 6.4645A5 5 0 0 0 10 5");
    }

    #[test]
    fn text_cannot_break_out() {
        let mut design = example();
        design.title = "<script>alert(1)</script>\"'&]]>".to_owned();
        let scene = ring_drawing(
            &Analysis::of(&design),
            Side::A,
            "https://example.org/#1.<x>",
            Language::British,
        );
        let file = svg_file(&scene, &design.title);
        assert!(!file.contains("<script"), "{file}");
        assert!(!file.contains("<x>"));
        assert!(file.contains("&lt;script&gt;"));
    }

    #[test]
    fn characters_that_xml_does_not_know_are_left_out() {
        let cases = [("a\u{0}\u{1}\u{b}b", "ab"), ("a\u{ffff}😀\u{fffe}\t–", "a😀\t–")];
        for (words, want) in cases {
            assert_eq!(legal(words), want);
        }
    }
}
