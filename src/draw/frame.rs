//! What a view covers, and how it lies on its paper or screen.

use std::f64::consts::TAU;

use super::{chains, claw, linkage, track};
use crate::report::{Analysis, chance_top_rpm};
use crate::ring::{Point, Side};
use crate::units::Angle;

/// A rectangle in scene coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lower left corner.
    pub min: Point,
    /// Upper right corner.
    pub max: Point,
}

impl Bounds {
    /// Width.
    pub const fn width(&self) -> f64 {
        self.max.x - self.min.x
    }

    /// Height.
    pub const fn height(&self) -> f64 {
        self.max.y - self.min.y
    }
}

/// Which view.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ViewKind {
    /// Both rings, looking along the shaft at the dogs of A.
    Face,
    /// The dogs at the mean radius, rolled out flat.
    Unrolled,
    /// What blocks what, over phase and overlap.
    Map,
    /// What becomes of a shift, over phase and speed difference.
    Outcome,
    /// The chances over the speed difference.
    Chance,
    /// Pedal, rod and lever, from the side.
    Linkage,
    /// How far the foot turns the shaft.
    Swing,
    /// Claw, drum and detent, along the drum.
    Claw,
    /// Fork travel over the drum's angle.
    Track,
    /// The dimension chains along the shaft.
    Chains,
}

impl ViewKind {
    /// All views.
    pub const ALL: [Self; 10] = [
        Self::Face,
        Self::Unrolled,
        Self::Map,
        Self::Outcome,
        Self::Chance,
        Self::Linkage,
        Self::Swing,
        Self::Claw,
        Self::Track,
        Self::Chains,
    ];

    /// Whether it shows the pair, and not a part between foot and dogs.
    pub const fn is_of_pair(self) -> bool {
        matches!(self, Self::Face | Self::Unrolled | Self::Map | Self::Outcome | Self::Chance)
    }

    /// Whether it shows a map that takes a while to work out.
    pub const fn is_chart(self) -> bool {
        matches!(self, Self::Outcome | Self::Chance)
    }

    /// A name for files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Face => "face",
            Self::Unrolled => "unrolled",
            Self::Map => "phase-map",
            Self::Outcome => "outcome-map",
            Self::Chance => "chances",
            Self::Linkage => "linkage",
            Self::Swing => "shaft-swing",
            Self::Claw => "claw",
            Self::Track => "drum-track",
            Self::Chains => "chains",
        }
    }

    /// Height over width that suits it on paper.
    pub const fn shape(self) -> f64 {
        match self {
            Self::Face => 1.0,
            Self::Unrolled => 0.35,
            Self::Map => 0.4,
            Self::Outcome => 0.62,
            Self::Chance => 0.5,
            Self::Swing => 0.66,
            Self::Linkage => 0.66,
            Self::Claw => 0.42,
            Self::Track => 0.5,
            Self::Chains => 0.1,
        }
    }
}

/// How a view lies: what it covers, how far lengths along the shaft are stretched, and how large
/// its letters are. It is kept still during a drag, so that the drawing does not run away from the
/// hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// What is covered, in scene coordinates.
    pub bounds: Bounds,
    /// Factor on lengths along the shaft in the unrolled view and the phase map; mm of the chart for
    /// each rpm in the outcome map and the chart of chances.
    pub stretch: f64,
    /// Mean radius at which angles become lengths there, mm.
    pub radius_mm: f64,
    /// Height of letters, mm.
    pub text_mm: f64,
    /// Speed difference at the end of a chart, rpm; 0 in other views.
    pub top_rpm: f64,
    /// Height of everything in the chart of chances, mm; 0 in other views.
    pub share_mm: f64,
    /// What the axes of shaft swing and drum track cover, across and upwards; 0 in other views.
    pub axes: [[f64; 2]; 2],
}

/// The axes of a view that has none.
const NO_AXES: [[f64; 2]; 2] = [[0.0; 2]; 2];

/// Width of a chart without its margins, mm.
const CHART_MM: f64 = 160.0;

/// Margins of a chart left, right, above, and below without a legend, in letter heights.
const CHART_LEFT: f64 = 4.6;
const CHART_RIGHT: f64 = 0.6;
const CHART_ABOVE: f64 = 2.2;
const CHART_BELOW: f64 = 2.0;

/// Paper round the outer radius of the face view, in letter heights.
const FACE_MARGIN: f64 = 3.8;

impl Frame {
    /// The frame of a view. `width_px` is how wide it is shown, `shape` its height over its width
    /// (for the face view always 1), `letter_px` the height of its letters. A design with a number that
    /// is endless or none gets a plain sheet.
    pub fn of(
        kind: ViewKind,
        analysis: &Analysis,
        width_px: f64,
        shape: f64,
        letter_px: f64,
    ) -> Self {
        let frame = Self::for_view(kind, analysis, width_px, shape, letter_px);
        if frame.is_somewhere() { frame } else { Self::plain(shape, letter_px / width_px) }
    }

    fn is_somewhere(&self) -> bool {
        let Self { bounds: Bounds { min, max }, stretch, radius_mm, text_mm, .. } = self;
        let lengths = [min.x, min.y, max.x, max.y, *stretch, *radius_mm, *text_mm];
        let others = [self.top_rpm, self.share_mm];
        let numbers = lengths.iter().chain(&others).chain(self.axes.as_flattened());
        numbers.into_iter().all(|number| number.is_finite())
    }

    fn for_view(
        kind: ViewKind,
        analysis: &Analysis,
        width_px: f64,
        shape: f64,
        letter_px: f64,
    ) -> Self {
        match kind {
            ViewKind::Face => Self::face(analysis, letter_px / width_px),
            ViewKind::Unrolled => {
                let overlap = analysis.drawn_overlap_mm();
                Self::unrolled(analysis, shape, letter_px / width_px, overlap)
            }
            ViewKind::Map => Self::map(analysis, shape, letter_px / width_px),
            ViewKind::Outcome => {
                let top = chance_top_rpm(analysis);
                let letter = letter_px / width_px;
                let rows = if is_narrow(letter) { 3.0 } else { 2.0 };
                Self::chart(top, shape, letter, CHART_BELOW + 0.2 + 1.5 * rows).upright(top)
            }
            ViewKind::Chance => {
                Self::chances(chance_top_rpm(analysis), shape, letter_px / width_px)
            }
            ViewKind::Linkage => {
                Self::around(&linkage::extent(analysis), shape, letter_px / width_px)
            }
            ViewKind::Claw => Self::around(&claw::extent(analysis), shape, letter_px / width_px),
            ViewKind::Swing => {
                Self { axes: linkage::axes(analysis), ..Self::plain(shape, letter_px / width_px) }
            }
            ViewKind::Track => {
                Self { axes: track::axes(analysis), ..Self::plain(shape, letter_px / width_px) }
            }
            ViewKind::Chains => {
                let letter = letter_px / width_px;
                Self::plain(shape.max(chains::height(analysis, letter) * letter), letter)
            }
        }
    }

    /// A frame about some points with room for letters round them, at one scale across and upwards.
    fn around(points: &[Point], shape: f64, letter: f64) -> Self {
        const ROOM: f64 = 2.4;
        if points.is_empty() {
            return Self::plain(shape, letter);
        }
        let extreme = |read: fn(&Point) -> f64| {
            let all = || points.iter().map(read);
            (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (low, high)) = (extreme(|p| p.x), extreme(|p| p.y));
        let room = 2.0 * ROOM * letter;
        let across = drawable(right - left, 10.0) / (1.0 - room).max(0.3);
        let upwards = drawable(high - low, 10.0) / (shape - room).max(0.15);
        let width = across.max(upwards);
        let middle = Point::new((left + right) / 2.0, (low + high) / 2.0);
        let (half_x, half_y) = (width / 2.0, width * shape / 2.0);
        let bounds = Bounds {
            min: Point::new(middle.x - half_x, middle.y - half_y),
            max: Point::new(middle.x + half_x, middle.y + half_y),
        };
        Self {
            bounds,
            stretch: 1.0,
            radius_mm: 1.0,
            text_mm: width * letter,
            top_rpm: 0.0,
            share_mm: 0.0,
            axes: NO_AXES,
        }
    }

    /// A sheet of this shape, on which a view lays itself out.
    fn plain(shape: f64, letter: f64) -> Self {
        let bounds = Bounds { min: Point::default(), max: Point::new(CHART_MM, CHART_MM * shape) };
        let text_mm = CHART_MM * letter;
        Self {
            bounds,
            stretch: 1.0,
            radius_mm: 1.0,
            text_mm,
            top_rpm: 0.0,
            share_mm: 0.0,
            axes: NO_AXES,
        }
    }

    /// The frame of the unrolled view with room for a whole shift, from tip level on.
    pub fn of_shift(analysis: &Analysis, width_px: f64, shape: f64, letter_px: f64) -> Self {
        let overlap = analysis.drawn_overlap_mm().min(0.0);
        Self::unrolled(analysis, shape, letter_px / width_px, overlap)
    }

    /// The frame of a chart of chances up to a speed difference; `letter` is the height of its
    /// letters as a share of its width.
    pub fn chances(top_rpm: f64, shape: f64, letter: f64) -> Self {
        let frame = Self::chart(top_rpm, shape, letter, CHART_BELOW);
        let share_mm = frame.bounds.max.y - CHART_ABOVE * frame.text_mm;
        Self { share_mm, ..frame }
    }

    /// A chart whose speed differences run across.
    fn chart(top_rpm: f64, shape: f64, letter: f64, below: f64) -> Self {
        let letter = letter.min(0.08);
        let text_mm = CHART_MM * letter / (1.0 - (CHART_LEFT + CHART_RIGHT) * letter);
        let min = Point::new(-CHART_LEFT * text_mm, -below * text_mm);
        let max_x = CHART_MM + CHART_RIGHT * text_mm;
        let height = ((max_x - min.x) * shape).max((below + CHART_ABOVE + 4.0) * text_mm);
        let bounds = Bounds { min, max: Point::new(max_x, min.y + height) };
        let stretch = CHART_MM / top_rpm;
        Self {
            bounds,
            stretch,
            radius_mm: CHART_MM / TAU,
            text_mm,
            top_rpm,
            share_mm: 0.0,
            axes: NO_AXES,
        }
    }

    /// Whether the letters are so large for the chart that its words need other places.
    pub(super) fn is_narrow(&self) -> bool {
        is_narrow(self.text_mm / self.bounds.width())
    }

    /// The same chart with the speed differences upwards.
    fn upright(self, top_rpm: f64) -> Self {
        let height = self.bounds.max.y - CHART_ABOVE / 2.0 * self.text_mm;
        Self { stretch: height / top_rpm, ..self }
    }

    /// The frame that shows a face view at the scale of the largest of several.
    pub fn common(frames: impl IntoIterator<Item = Self>) -> Option<Self> {
        frames.into_iter().max_by(|a, b| a.bounds.width().total_cmp(&b.bounds.width()))
    }

    fn face(analysis: &Analysis, letter: f64) -> Self {
        let outer = Side::BOTH.map(|s| analysis.ring(s).outer_radius_mm);
        let outer = drawable(outer[0].max(outer[1]), 1.0);
        // The letters take their share of the width that is left over.
        let half = outer / (1.0 - 2.0 * FACE_MARGIN * letter).max(0.3);
        let text_mm = 2.0 * half * letter;
        let bounds = Bounds { min: Point::new(-half, -half), max: Point::new(half, half) };
        Self {
            bounds,
            stretch: 1.0,
            radius_mm: outer,
            text_mm,
            top_rpm: 0.0,
            share_mm: 0.0,
            axes: NO_AXES,
        }
    }

    fn unrolled(analysis: &Analysis, shape: f64, letter: f64, overlap_mm: f64) -> Self {
        let radius_mm = mean_radius(analysis);
        let width = TAU * radius_mm;
        let [a, b] = Side::BOTH.map(|s| drawable(analysis.ring(s).tallest_mm(), 0.5));
        let text_mm = width * letter;
        // From web to web, with room to draw the rings apart; handles and marks stand on the webs.
        let stack = (a + b - overlap_mm).clamp(a.max(b), 3.0 * (a + b));
        let paper = (width * shape - 5.5 * text_mm).max(width * 0.05);
        let stretch = paper / (stack + 0.15 * (a + b));
        let min = Point::new(0.0, -2.0 * text_mm);
        let max = Point::new(width, paper + 3.5 * text_mm);
        let bounds = Bounds { min, max };
        Self { bounds, stretch, radius_mm, text_mm, top_rpm: 0.0, share_mm: 0.0, axes: NO_AXES }
    }

    fn map(analysis: &Analysis, shape: f64, letter: f64) -> Self {
        let radius_mm = mean_radius(analysis);
        let width = TAU * radius_mm;
        let text_mm = width * letter;
        let deepest = map_depth(analysis);
        // An overlap asked for outside the map is shown as far as it still leaves room for the map.
        let clearance = (0.2 * deepest - analysis.overlap_mm()).clamp(0.2 * deepest, deepest);
        let paper = (width * shape - 3.0 * text_mm).max(width * 0.05);
        let stretch = paper / (deepest + clearance);
        let min = Point::new(0.0, -deepest * stretch - 1.5 * text_mm);
        let max = Point::new(width, clearance * stretch + 1.5 * text_mm);
        let bounds = Bounds { min, max };
        Self { bounds, stretch, radius_mm, text_mm, top_rpm: 0.0, share_mm: 0.0, axes: NO_AXES }
    }

    /// Where an angle in radians lies across the unrolled view or the phase map.
    pub const fn across(&self, radians: f64) -> f64 {
        radians * self.radius_mm
    }

    /// Where a phase and a speed difference in rpm lie on a chart, brought onto it.
    pub fn cross(&self, kind: ViewKind, phase: Angle, rpm: f64) -> Point {
        let along = self.up(rpm.min(self.top_rpm * (1.0 - 1e-9)));
        match kind {
            ViewKind::Outcome => Point::new(self.across(phase.wrapped().radians()), along),
            _ => Point::new(along, 0.0),
        }
    }

    /// How far a speed difference in rpm lies along its axis in the charts.
    pub const fn up(&self, rpm: f64) -> f64 {
        rpm * self.stretch
    }

    /// Where an overlap lies in the phase map; deeper is lower.
    pub const fn down(&self, overlap_mm: f64) -> f64 {
        -overlap_mm * self.stretch
    }
}

fn is_narrow(letter: f64) -> bool {
    letter > 0.031
}

/// A length that a drawing can be laid out for, whatever a design holds: NaN becomes the least.
pub(super) fn drawable(mm: f64, least: f64) -> f64 {
    const MOST_MM: f64 = 1e4;
    mm.max(least).min(MOST_MM)
}

/// Mean radius of the common band, or of the rings if there is none.
fn mean_radius(analysis: &Analysis) -> f64 {
    let common = analysis.meshed.as_ref().map(|m| m.mesh.contact.mean_mm());
    let radii = || Side::BOTH.map(|s| analysis.ring(s).mean_radius_mm());
    drawable(common.unwrap_or_else(|| radii().into_iter().sum::<f64>() / 2.0), 0.5)
}

/// How deep the phase map goes: until a tip meets a web.
pub(super) fn map_depth(analysis: &Analysis) -> f64 {
    let [a, b] = Side::BOTH.map(|s| analysis.ring(s).tallest_mm());
    drawable(a.min(b), 0.5)
}
