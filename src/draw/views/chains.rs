//! The tolerance stack-up along the shaft as a strip.

use crenel_words::{Reader, drawing as say};

use crate::analysis::Analysis;
use crate::design::{Design, LinkSpec};
use crate::draw::frame::{Canvas, Frame, empty_scene};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Bounds, Role, Scene};
use crate::draw::view::{Subject, View};
use crate::ring::Point;
use crate::stack::{Depth, Facing};
use crate::units::Quantity;

/// The strip of the stack-up.
pub static CHAINS: View = View {
    key: "chains",
    file_name: "chains",
    title: "Tolerance stack-up",
    caption: "Each arrow is one size; it points right if it adds clearance. \
              What remains is the clearance from tip to tip in neutral.",
    shape: 0.1,
    screen_shape: [0.1; 2],
    subject: Subject::Part { is_given, absent: say::no_stack_up },
    frame,
    draw,
    ..View::BASE
};

/// Height of one row, and of the head and foot of a chain, in letter heights.
const ROW: f64 = 1.9;
const HEAD: f64 = 1.8;

/// Letters up to this share of the width leave room for both chains side by side.
const SMALL_LETTER: f64 = 0.0125;

/// Height of the strip in letter heights, with letters of this share of its width.
fn height(analysis: &Analysis, letter: f64) -> f64 {
    let chains = analysis.design.depth.as_ref().map(|depth| &depth.chains);
    let rows = chains.map_or([1, 1], |chains| chains.as_array().map(|links| links.len() + 1));
    let high = rows.map(|rows| HEAD + ROW * f64::from(u32::try_from(rows).unwrap_or(u32::MAX)));
    let beside = letter <= SMALL_LETTER;
    1.5 + if beside { high[0].max(high[1]) } else { high[0] + high[1] }
}

const fn is_given(design: &Design) -> bool {
    design.depth.is_some()
}

/// As high as the rows need, or higher.
fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let shape = canvas.shape.max(height(analysis, canvas.letter) * canvas.letter);
    Frame::plain(&Canvas { shape, ..*canvas })
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let (Some(depth), Some(given)) = (&analysis.selector.depth, &analysis.design.depth) else {
        let given = is_given(&analysis.design);
        let why = if given { say::outside_limits } else { say::no_stack_up };
        return empty_scene(frame, why, options.reader);
    };
    let mut strip = Strip::new(depth, frame, options.reader);
    for facing in Facing::BOTH {
        strip.begin(facing);
        strip.chain(facing, &given.chains[facing]);
    }
    strip.scene
}

struct Strip<'a> {
    scene: Scene,
    depth: &'a Depth,
    frame: &'a Frame,
    reader: Reader,
    /// The left and the right edge of the chain that is being drawn, mm.
    column: [f64; 2],
    /// Height of the next row, mm.
    y: f64,
}

impl<'a> Strip<'a> {
    fn new(depth: &'a Depth, frame: &'a Frame, reader: Reader) -> Self {
        let Bounds { min, max } = frame.bounds;
        let y = max.y - frame.text_mm;
        Self { scene: Scene::new(frame.bounds), depth, frame, reader, column: [min.x, max.x], y }
    }

    /// Goes to the head of a chain: below the one before or, where there is room, beside it.
    fn begin(&mut self, facing: Facing) {
        let Bounds { min, max } = self.frame.bounds;
        if self.frame.text_mm > SMALL_LETTER * self.frame.bounds.width() {
            return;
        }
        let middle = (min.x + max.x) / 2.0;
        self.column = match facing {
            Facing::This => [min.x, middle],
            Facing::Other => [middle, max.x],
        };
        self.y = max.y - self.frame.text_mm;
    }

    /// Where a station of the chain lies across; the arrows take the right half of the strip.
    fn across(&self, facing: Facing, mm: f64) -> f64 {
        let stations = self.depth.chain(facing).stations();
        let ends = || stations.iter().flatten().copied();
        let (low, high) = (ends().fold(0.0, f64::min), ends().fold(0.0, f64::max));
        let [from, to] = self.column;
        let (left, right) = (from + 0.48 * (to - from), to - 0.8 * self.frame.text_mm);
        left + (mm - low) / (high - low).max(1e-9) * (right - left)
    }

    fn mm(&self, mm: f64) -> String {
        Quantity::Length.format(mm, self.reader.units).replace('-', "−")
    }

    fn words(&mut self, role: Role, words: String) {
        let at = Point::new(self.column[0] + 0.5 * self.frame.text_mm, self.y);
        self.scene.text(role, at, self.frame.text_mm, Anchor::Start, words);
    }

    fn chain(&mut self, facing: Facing, links: &[LinkSpec]) {
        let text = self.frame.text_mm;
        let title = match facing {
            Facing::This => say::to_this_pair(),
            Facing::Other => say::to_other_pair(),
        };
        self.words(Role::Label, title.show(self.reader));
        self.y -= HEAD * text;
        let chain = self.depth.chain(facing).clone();
        for ((link, given), station) in chain.links.iter().zip(links).zip(chain.stations()) {
            let size = format!(
                "{}{} ±{}",
                if link.opens { "+" } else { "−" },
                self.mm(link.size_mm),
                self.mm(link.tolerance_mm)
            );
            let name = self.fitted(&given.name, size.chars().count());
            self.words(Role::Note, format!("{size}  {name}"));
            self.arrow(facing, station, Role::Dimension);
            self.y -= ROW * text;
        }
        if links.is_empty() {
            self.words(Role::Note, say::no_sizes().show(self.reader));
        } else {
            self.gap(facing);
        }
        self.y -= ROW * text;
    }

    /// As much of a name as fits beside its size.
    fn fitted(&self, name: &str, taken: usize) -> String {
        let room = 0.46 * (self.column[1] - self.column[0]) / (0.55 * self.frame.text_mm);
        let letters = name.chars().count();
        let mut fits = 0_usize;
        while f64::from(u32::try_from(fits + taken + 3).unwrap_or(u32::MAX)) < room
            && fits < letters
        {
            fits += 1;
        }
        if fits >= letters {
            return name.to_owned();
        }
        let kept: String = name.chars().take(fits.saturating_sub(1)).collect();
        kept + "…"
    }

    fn arrow(&mut self, facing: Facing, [from, to]: [f64; 2], role: Role) {
        let (from, to) = (self.across(facing, from), self.across(facing, to));
        let (y, size) = (self.y, 0.35 * self.frame.text_mm);
        self.scene.line(role, &[Point::new(from, y), Point::new(to, y)]);
        self.scene.line(role, &[Point::new(from, y - size), Point::new(from, y + size)]);
        let back = if to >= from { -size } else { size };
        let barbs = [size * 0.7, -size * 0.7].map(|up| Point::new(to + 1.6 * back, y + up));
        self.scene.line(role, &[barbs[0], Point::new(to, y), barbs[1]]);
    }

    fn gap(&mut self, facing: Facing) {
        let chain = self.depth.chain(facing);
        let (gap, worst, rss) = (chain.gap_mm(), chain.worst_mm(), chain.rss_mm());
        let tolerance = |mm| Quantity::Length.tolerance_at_least(mm, self.reader.units);
        let (gap_words, worst, rss) = (self.mm(gap), tolerance(worst), tolerance(rss));
        let short = say::clearance(gap_words.clone(), worst.clone());
        let long = say::clearance_with_rss(gap_words, worst, rss).show(self.reader);
        // Where letters are large for the strip, the figures beside it have the rest.
        let fits = self.fitted(&long, 0) == long;
        let words = if fits { long } else { short.show(self.reader) };
        self.words(Role::Label, words);
        let (from, to) = (self.across(facing, 0.0), self.across(facing, gap));
        let half = 0.35 * self.frame.text_mm;
        let y = self.y;
        let corners = [(from, y - half), (to, y - half), (to, y + half), (from, y + half)];
        self.scene.polygon(Role::Section, &corners.map(|(x, y)| Point::new(x, y)));
    }
}
