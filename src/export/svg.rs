//! SVG: the same marks for the screen and for files.

use std::fmt::Write as _;

use svg::Document;
use svg::Node;
use svg::node::Value;
use svg::node::element::{Circle, Description, Element, Path, Rectangle, Style, Text, Title};

use crate::draw::{Anchor, Item, LIGHTEST, Line, Role, Scene, Shape};
use crate::report::CAUTIONS_SHORT;
use crate::ring::{Point, Segment, Side};
use crate::shift::Outcome;
use crate::units::decimal;

/// Decimals of a millimetre in a file: a tenth of a micrometre.
const DECIMALS: usize = 4;

/// Line widths of ISO 128-2, group 0.5: wide and narrow, mm.
const WIDE_MM: f64 = 0.5;
const NARROW_MM: f64 = 0.25;

/// A file at true size in mm, with its own style sheet, readable without ours. Its description says what
/// to mind: any drawing at true size may end up at a machine.
pub fn svg_file(scene: &Scene, title: &str) -> String {
    let bounds = &scene.bounds;
    let (width, height) = (mm(bounds.width()), mm(bounds.height()));
    let paper = Rectangle::new()
        .set("class", "paper")
        .set("width", width.clone())
        .set("height", height.clone());
    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(legal(title)))
        .add(Description::new().add(svg::node::Text::new(CAUTIONS_SHORT.join(" "))))
        .add(Style::new(file_style()))
        .add(paper);
    for item in &scene.items {
        document.append(node(scene, item));
    }
    document.to_string()
}

/// The marks alone, for an `svg` element on the screen whose style sheet draws them. Coordinates
/// run from the upper left corner of the scene's bounds.
pub fn svg_markup(scene: &Scene) -> String {
    let mut markup = String::new();
    for item in &scene.items {
        // Writing to a String cannot fail.
        let _ = write!(markup, "{}", node(scene, item));
    }
    markup
}

fn node(scene: &Scene, item: &Item) -> Element {
    let place = Placement { left: scene.bounds.min.x, top: scene.bounds.max.y };
    let mut element: Element = match &item.shape {
        Shape::Path { segments, closed } => {
            Path::new().set("d", place.path(segments, *closed)).into()
        }
        Shape::Strokes(strokes) => Path::new().set("d", place.strokes(strokes)).into(),
        Shape::Patches(patches) => Path::new().set("d", place.patches(patches)).into(),
        Shape::Circle { radius } => {
            let centre = Point::default();
            let circle =
                Circle::new().set("cx", mm(place.x(centre))).set("cy", mm(place.y(centre)));
            circle.set("r", mm(*radius)).into()
        }
        Shape::Text(text) => {
            let anchor = match text.anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            // Capitals are about 0.7 of the type size; centred on their own height.
            let baseline = place.y(text.at) + text.height * 0.36;
            Text::new(legal(&text.words))
                .set("x", mm(place.x(text.at)))
                .set("y", mm(baseline))
                .set("font-size", mm(text.height * 1.05))
                .set("text-anchor", anchor)
                .into()
        }
    };
    set(&mut element, "class", class(item));
    if let Some((side, dog)) = item.side.zip(item.place) {
        set(&mut element, "data-dog", format!("{}{}", side.letter(), dog + 1));
    }
    element
}

/// Words without the characters that XML 1.0 does not know, not even escaped.
fn legal(words: &str) -> String {
    let known = |c: char| matches!(c, '\t' | '\n' | '\r' | ' '..='\u{fffd}' | '\u{10000}'..);
    words.chars().filter(|&c| known(c)).collect()
}

fn set(element: &mut Element, name: &str, value: impl Into<Value>) {
    element.assign(name, value);
}

fn class(item: &Item) -> String {
    let side = match item.side {
        Some(Side::A) => " ring-a",
        Some(Side::B) => " ring-b",
        None => "",
    };
    let chosen = if item.chosen { " chosen" } else { "" };
    let shade = item.shade.map_or(String::new(), |shade| format!(" shade-{shade}"));
    format!("{}{side}{shade}{chosen}", item.role.name())
}

/// From the scene, y up, to SVG, y down.
struct Placement {
    left: f64,
    top: f64,
}

impl Placement {
    fn x(&self, p: Point) -> f64 {
        p.x - self.left
    }

    fn y(&self, p: Point) -> f64 {
        self.top - p.y
    }

    fn pair(&self, p: Point) -> String {
        format!("{} {}", mm(self.x(p)), mm(self.y(p)))
    }

    fn path(&self, segments: &[Segment], closed: bool) -> String {
        let mut d =
            segments.first().map_or(String::new(), |first| format!("M{}", self.pair(first.from())));
        for segment in segments {
            d += &self.segment(segment);
        }
        if closed { d + "Z" } else { d }
    }

    fn segment(&self, segment: &Segment) -> String {
        match *segment {
            Segment::Line { to, .. } => format!("L{}", self.pair(to)),
            Segment::Arc { radius, start, sweep } => {
                // SVG cannot draw a full turn in one arc, and is vague near one: go in halves.
                let r = mm(radius);
                let flag = i32::from(sweep < 0.0);
                let half = Point::polar(radius, start + sweep / 2.0);
                let end = Point::polar(radius, start + sweep);
                format!(
                    "A{r} {r} 0 0 {flag} {}A{r} {r} 0 0 {flag} {}",
                    self.pair(half),
                    self.pair(end)
                )
            }
        }
    }

    fn strokes(&self, strokes: &[[Point; 2]]) -> String {
        strokes
            .iter()
            .map(|[from, to]| format!("M{}L{}", self.pair(*from), self.pair(*to)))
            .collect()
    }

    fn patches(&self, patches: &[Vec<Point>]) -> String {
        let mut d = String::new();
        for patch in patches {
            for (at, p) in patch.iter().enumerate() {
                d.push(if at == 0 { 'M' } else { 'L' });
                d += &self.pair(*p);
            }
            d.push('Z');
        }
        d
    }
}

fn mm(value: f64) -> String {
    decimal(value, DECIMALS)
}

/// Black on white, by line type; the rings keep their hue where a printer has colour.
fn file_style() -> String {
    let mut css = ".paper{fill:#fff}path,circle{fill:none;stroke:#000;stroke-linejoin:round}\
                   text{fill:#000;stroke:none;font-family:sans-serif;white-space:pre}\
                   path.blocked,path.web{fill:#ccc;stroke:none}.datum{fill:#000}\
                   .ring-a{stroke:#00579c}.ring-b{stroke:#a33c00}text.ring-a,text.ring-b{stroke:none}"
        .to_owned();
    // From white for the best to nearly black for the worst, so that a copy in grey still tells.
    for (outcome, grey) in
        Outcome::ALL.into_iter().zip(["fff", "e3e3e3", "bbb", "8a8a8a", "3c3c3c", "666"])
    {
        let name = Role::for_outcome(outcome).name();
        let _ = write!(css, "path.{name}{{fill:#{grey};stroke:none;shape-rendering:crispEdges}}");
    }
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
    css
}

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
        let scene = ring_drawing(&Analysis::of(&design), Side::A, "https://example.org/#1.<x>");
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
