//! Drawings by their roles: how much of each, how long, where.

use std::fmt::Write as _;

use crenel::analysis::Analysis;
use crenel_words::{Language, Reader};

use crenel::draw::views::{UNROLLED, VIEWS};
use crenel::draw::{
    Curve, Fit, Frame, Item, PaperSize, RingState, Role, Scene, Shape, Turn3, View, ViewOptions,
    chance_curves, chance_frame, paper_drawing, picture, ring_drawing,
};
use crenel::model::Chances;
use crenel::ring::{Point, Segment, Side};
use crenel::selector::Stroke;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit};

use crate::short;

const SHOP: DisplayUnits = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };

/// What a shape is made of.
#[derive(Default)]
struct Extent {
    points: Vec<Point>,
    length: f64,
    words: Vec<String>,
}

impl Extent {
    fn chain(&mut self, points: &[Point]) {
        self.length += points.windows(2).map(|p| p[0].distance(p[1])).sum::<f64>();
        self.points.extend(points);
    }

    fn add(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { segments, .. } => {
                segments.iter().for_each(|segment| self.segment(segment));
            }
            Shape::Patches(patches) => patches.iter().for_each(|patch| self.chain(patch)),
            Shape::Strokes(strokes) => strokes.iter().for_each(|stroke| self.chain(stroke)),
            Shape::Circle { radius } => {
                self.points.push(Point::new(*radius, *radius));
                self.length += radius;
            }
            Shape::Text(text) => {
                self.points.push(text.at);
                self.length += text.height;
                self.words.push(format!("{:?} {}", text.anchor, text.words));
            }
        }
    }

    fn segment(&mut self, segment: &Segment) {
        match segment {
            Segment::Line { from, to } => self.chain(&[*from, *to]),
            Segment::Arc { radius, sweep, .. } => {
                self.length += radius * sweep.abs();
                self.points.extend([segment.from(), segment.to()]);
            }
        }
    }

    /// Least, mean and greatest of a coordinate.
    fn spread(&self, read: fn(&Point) -> f64) -> String {
        let all = || self.points.iter().map(read);
        let (least, most) =
            (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max));
        let count = f64::from(u32::try_from(self.points.len()).expect("few"));
        [least, all().sum::<f64>() / count, most].map(short).join(" ")
    }
}

/// Sum of words by FNV-1a, short: that they are other words is seen, not which.
pub(crate) fn sum(words: &[String]) -> u16 {
    let bytes = words.iter().flat_map(|text| text.bytes().chain([0]));
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    u16::try_from(hash >> 48).expect("16 bits")
}

/// A drawing by its roles.
fn told(name: &str, scene: &Scene) -> String {
    let bounds = scene.bounds;
    let bounds = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y].map(short).join(" ");
    let mut text = format!("{name}: {bounds}\n");
    for role in Role::ALL {
        let items: Vec<&Item> = scene.items.iter().filter(|item| item.role == role).collect();
        if items.is_empty() {
            continue;
        }
        let mut extent = Extent::default();
        items.iter().for_each(|item| extent.add(&item.placed()));
        let count = |which: &dyn Fn(&Item) -> bool| items.iter().filter(|item| which(item)).count();
        let places: usize = items.iter().filter_map(|item| Some(item.place? + 1)).sum();
        let shades: u32 = items.iter().filter_map(|item| item.shade.map(u32::from)).sum();
        let closed = |item: &Item| matches!(item.shape, Shape::Path { closed: true, .. });
        let sides = Side::BOTH.map(|side| count(&|item| item.side == Some(side)));
        write!(
            text,
            "  {} {}, long {}, x {}, y {}",
            items.len(),
            role.name(),
            short(extent.length),
            extent.spread(|p| p.x),
            extent.spread(|p| p.y),
        )
        .expect("a text takes all");
        let marks = [
            ("of A", sides[0]),
            ("of B", sides[1]),
            ("places", places),
            ("chosen", count(&|item| item.chosen)),
            ("closed", count(&closed)),
            ("shade", shades as usize),
            ("words", usize::from(sum(&extent.words)) * usize::from(!extent.words.is_empty())),
        ];
        for (what, number) in marks.into_iter().filter(|(_, number)| *number > 0) {
            write!(text, ", {what} {number}").expect("a text takes all");
        }
        text.push('\n');
    }
    text
}

/// The handles of a view, and what each says of a place a little beside it.
fn held(view: &View, analysis: &Analysis, frame: &Frame) -> String {
    let mut text = String::new();
    for handle in Side::BOTH.into_iter().flat_map(|side| view.handles(analysis, frame, side, 1)) {
        let beside = Point::new(handle.at.x + frame.text_mm, handle.at.y + 0.5 * frame.text_mm);
        let numbers = [handle.at.x, handle.at.y, handle.value, handle.value_at(beside)];
        writeln!(text, "  {:?} {}", handle.slot, numbers.map(short).join(" "))
            .expect("a text takes all");
    }
    text
}

fn shop_reader() -> Reader {
    Reader { units: SHOP, ..Reader::default() }
}

fn views(analysis: &Analysis) -> String {
    let chances = Chances::of(analysis).map(|chances| chances.map(24, 16));
    let mut text = String::new();
    for view in VIEWS {
        let plain = ViewOptions { outcomes: chances.as_ref(), ..ViewOptions::default() };
        let shop = ViewOptions {
            reader: shop_reader(),
            chosen: Some((Side::A, 1)),
            stroke: Some((Stroke::Lift, 0.4)),
            ..plain
        };
        let pressed = ViewOptions { stroke: Some((Stroke::Press, 1.0)), ..ViewOptions::default() };
        let pulled = ViewOptions { stroke: Some((Stroke::Lift, 1.0)), ..pressed };
        for (wide, options) in [(600.0, plain), (330.0, shop), (900.0, pressed), (800.0, pulled)] {
            let frame = view.frame(analysis, wide, view.shape, 12.0);
            text += &told(
                &format!("{} {wide} px", view.file_name),
                &view.draw(analysis, &frame, &options),
            );
            text += &held(view, analysis, &frame);
            let Some((chart, map)) = view.chart.zip(chances.as_ref()) else { continue };
            for (x, y) in [(0.1, 0.1), (0.3, 0.8), (0.7, 0.4), (0.95, 0.95)] {
                let bounds = frame.bounds;
                let p = Point::new(
                    bounds.min.x + x * bounds.width(),
                    bounds.min.y + y * bounds.height(),
                );
                let read = chart.reading(&frame, p, map);
                let read = read.map(|message| message.show(options.reader)).unwrap_or_default();
                writeln!(text, "  at {x} {y}: {read}").expect("a text takes all");
            }
        }
    }
    if let Some(map) = &chances {
        let frame = chance_frame(400.0, 0.5, 0.02);
        let curves = [1, 3].map(|number| Curve { number, name: format!("{number} of four"), map });
        text += &told("curves", &chance_curves(&frame, &curves, Reader::default()));
    }
    let shift = UNROLLED.frame_of_shift(analysis, 600.0, 0.35, 12.0);
    text += &told("shift", &UNROLLED.draw(analysis, &shift, &ViewOptions::default()));
    text
}

fn sheets(analysis: &Analysis) -> String {
    let mut text = String::new();
    for side in Side::BOTH {
        text += &told(
            &format!("sheet {}", side.letter()),
            &ring_drawing(analysis, side, "https://example.org", Language::British),
        );
        text += &told(
            &format!("paper {}", side.letter()),
            &paper_drawing(analysis, side, 0.5, Language::British),
        );
        let fit = Fit::of(analysis, side, PaperSize::A4, Language::British);
        let words = fit.words().show(Reader::default());
        writeln!(text, "  {} {words}", fit.scale).expect("a text takes all");
    }
    for (state, yaw_deg) in
        [(RingState::AsCut, -50.0), (RingState::AsFound, 30.0), (RingState::Both, 0.0)]
    {
        let turn = Turn3 { yaw_deg, ..Turn3::default() };
        let options = ViewOptions { chosen: Some((Side::B, 0)), state, ..ViewOptions::default() };
        text += &told("solids", &picture(analysis, &analysis.body(), &turn, &options));
    }
    text
}

/// Views, sheets and solids of a design.
pub(crate) fn drawn(analysis: &Analysis) -> String {
    views(analysis) + &sheets(analysis)
}

/// The views at two widths, with handles, and the sheet of ring A: what is quick to draw.
pub(crate) fn quick(analysis: &Analysis) -> String {
    let shop =
        ViewOptions { reader: shop_reader(), chosen: Some((Side::A, 1)), ..ViewOptions::default() };
    let mut text = String::new();
    for (wide, options) in [(420.0, shop), (1000.0, ViewOptions::default())] {
        for view in VIEWS {
            let frame = view.frame(analysis, wide, view.shape, 12.0);
            text += &told(view.key, &view.draw(analysis, &frame, &options));
            text += &held(view, analysis, &frame);
        }
    }
    text + &told("sheet", &ring_drawing(analysis, Side::A, "", Language::British))
}
