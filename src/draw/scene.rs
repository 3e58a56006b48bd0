//! The scene itself.

use super::frame::Bounds;
use super::hatch::hatch;
use crate::ring::{Point, Segment, Side};

/// Line types of ISO 128-2, by the number the standard gives them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// 01.2 continuous wide: visible outlines.
    Wide,
    /// 01.1 continuous narrow: dimensions, projections.
    Narrow,
    /// 02.1 dashed narrow: hidden outlines.
    Dashed,
    /// 04.1 long-dashed dotted narrow: centre lines.
    Chain,
    /// 05.1 long-dashed double-dotted narrow: outlines before cutting, adjacent parts.
    DoubleChain,
    /// No line at all: fills and text.
    None,
}

/// What an item is for; how it looks follows from that.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Edge of a tip face.
    Tip,
    /// Where the flanks of a dog meet the web.
    Root,
    /// Inner and outer ends of the dogs, all round.
    Rim,
    /// What was there before a cut.
    Removed,
    /// Hatching of metal that comes off.
    Cut,
    /// A section of metal in the unrolled view.
    Section,
    /// Centre line.
    Centre,
    /// Datum mark.
    Datum,
    /// Dimension, extension and leader lines, and arrows.
    Dimension,
    /// Words on the drawing.
    Note,
    /// The name of a dog.
    Label,
    /// The square that proves the scale.
    Check,
    /// A window at tip level.
    OpenEntry,
    /// A window at full depth.
    OpenDeep,
    /// Phases and overlaps at which a dog is in the way.
    Blocked,
    /// Where the tips would be in the web.
    Web,
    /// A flat piece of a solid in space.
    Facet,
    /// A level that matters: tip on tip, full depth.
    Level,
    /// Where the rings stand now.
    State,
    /// The way one shift takes.
    Way,
    /// Shifts that go straight in.
    StraightIn,
    /// Shifts that are in after rubbing.
    AfterRubbing,
    /// Shifts that are in after being thrown back.
    AfterStrikes,
    /// Shifts that stop half in.
    HalfIn,
    /// Shifts that hang tip on tip.
    Locked,
    /// Shifts that still ratchet.
    Ratcheting,
    /// The curve of the first layout of a comparison.
    CurveA,
    /// The curve of the second.
    CurveB,
    /// The curve of the third.
    CurveC,
    /// The curve of the fourth.
    CurveD,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 30] = [
        Self::Tip,
        Self::Root,
        Self::Rim,
        Self::Removed,
        Self::Cut,
        Self::Section,
        Self::Centre,
        Self::Datum,
        Self::Dimension,
        Self::Note,
        Self::Label,
        Self::Check,
        Self::OpenEntry,
        Self::OpenDeep,
        Self::Blocked,
        Self::Web,
        Self::Facet,
        Self::Level,
        Self::State,
        Self::Way,
        Self::StraightIn,
        Self::AfterRubbing,
        Self::AfterStrikes,
        Self::HalfIn,
        Self::Locked,
        Self::Ratcheting,
        Self::CurveA,
        Self::CurveB,
        Self::CurveC,
        Self::CurveD,
    ];

    /// The curves of a comparison, each with a line type of its own.
    pub const CURVES: [Self; 4] = [Self::CurveA, Self::CurveB, Self::CurveC, Self::CurveD];

    /// Its name, for layers and style sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tip => "tip",
            Self::Root => "root",
            Self::Rim => "rim",
            Self::Removed => "removed",
            Self::Cut => "cut",
            Self::Section => "section",
            Self::Centre => "centre",
            Self::Datum => "datum",
            Self::Dimension => "dimension",
            Self::Note => "note",
            Self::Label => "label",
            Self::Check => "check",
            Self::OpenEntry => "open-entry",
            Self::OpenDeep => "open-deep",
            Self::Blocked => "blocked",
            Self::Web => "web",
            Self::Facet => "facet",
            Self::Level => "level",
            Self::State => "state",
            Self::Way => "way",
            Self::StraightIn => "straight-in",
            Self::AfterRubbing => "after-rubbing",
            Self::AfterStrikes => "after-strikes",
            Self::HalfIn => "half-in",
            Self::Locked => "locked",
            Self::Ratcheting => "ratcheting",
            Self::CurveA => "curve-a",
            Self::CurveB => "curve-b",
            Self::CurveC => "curve-c",
            Self::CurveD => "curve-d",
        }
    }

    /// The line it is drawn with.
    pub const fn line(self) -> Line {
        match self {
            Self::Tip
            | Self::Section
            | Self::OpenEntry
            | Self::OpenDeep
            | Self::State
            | Self::Way
            | Self::CurveA => Line::Wide,
            Self::Rim | Self::Cut | Self::Datum | Self::Dimension | Self::Check => Line::Narrow,
            Self::Root | Self::CurveB => Line::Dashed,
            Self::Centre | Self::Level | Self::CurveC => Line::Chain,
            Self::Removed | Self::CurveD => Line::DoubleChain,
            Self::Note
            | Self::Label
            | Self::Blocked
            | Self::Web
            | Self::Facet
            | Self::StraightIn
            | Self::AfterRubbing
            | Self::AfterStrikes
            | Self::HalfIn
            | Self::Locked
            | Self::Ratcheting => Line::None,
        }
    }
}

/// Where a text stands from its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Begins there.
    Start,
    /// Centred on it.
    Middle,
    /// Ends there.
    End,
}

/// Words on a drawing, level, centred on the height of the point.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where.
    pub at: Point,
    /// Type size, mm; capitals are about 0.72 of it, so that 3.5 gives the 2.5 mm capitals of ISO 3098.
    pub height: f64,
    /// Which end stands at the point.
    pub anchor: Anchor,
    /// The words.
    pub words: String,
}

/// The geometry of an item.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Lines and arcs end to end.
    Path {
        /// The pieces.
        segments: Vec<Segment>,
        /// Whether the last joins the first and the inside counts.
        closed: bool,
    },
    /// Many closed figures of straight edges, filled as one.
    Patches(Vec<Vec<Point>>),
    /// Many straight strokes, each from one point to another.
    Strokes(Vec<[Point; 2]>),
    /// A full circle about the origin.
    Circle {
        /// Radius, mm.
        radius: f64,
    },
    /// Words.
    Text(Text),
}

impl Shape {
    /// Whether every point of it is nearer to the axis than so many mm, across and upwards. What is no
    /// number is nowhere.
    pub fn is_within(&self, far_mm: f64) -> bool {
        let near = |v: f64| v.abs() < far_mm;
        let at_hand = |p: &Point| near(p.x) && near(p.y);
        match self {
            Self::Path { segments, .. } => {
                segments.iter().flat_map(|s| [s.from(), s.to()]).all(|p| at_hand(&p))
            }
            Self::Patches(patches) => patches.iter().flatten().all(at_hand),
            Self::Strokes(strokes) => strokes.iter().flatten().all(at_hand),
            Self::Circle { radius } => near(*radius),
            Self::Text(text) => at_hand(&text.at) && near(text.height),
        }
    }
}

/// One thing on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is for.
    pub role: Role,
    /// Which ring it belongs to.
    pub side: Option<Side>,
    /// Which place of that ring, from 0.
    pub place: Option<usize>,
    /// Whether it is what the user has chosen.
    pub chosen: bool,
    /// How light it is, from 0, the darkest, to [`super::LIGHTEST`]; none for what has no light on it.
    pub shade: Option<u8>,
    /// The level that a tool cuts this outline to, mm over the tallest tip as found and never above it;
    /// none for what is not cut.
    pub cut_to_mm: Option<f64>,
    /// Its geometry.
    pub shape: Shape,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// What it covers.
    pub bounds: Bounds,
    /// Its items, back to front.
    pub items: Vec<Item>,
}

impl Scene {
    /// An empty scene.
    pub const fn new(bounds: Bounds) -> Self {
        Self { bounds, items: Vec::new() }
    }

    /// Leaves out what lies nowhere, as of a design with a number that is endless or none.
    #[must_use]
    pub(super) fn somewhere(mut self) -> Self {
        self.items.retain(|item| item.shape.is_within(f64::INFINITY));
        self
    }

    /// Marks what the user has chosen.
    pub(super) fn choose(&mut self, chosen: Option<(Side, usize)>) {
        for item in &mut self.items {
            item.chosen = chosen.is_some() && item.side.zip(item.place) == chosen;
        }
    }

    pub(super) fn add(&mut self, role: Role, shape: Shape) -> &mut Item {
        let (side, place, shade, cut_to_mm) = (None, None, None, None);
        self.items.push(Item { role, side, place, chosen: false, shade, cut_to_mm, shape });
        let last = self.items.len() - 1;
        &mut self.items[last]
    }

    /// A chain of straight lines.
    pub(super) fn line(&mut self, role: Role, points: &[Point]) -> &mut Item {
        self.add(role, Shape::Path { segments: chain(points), closed: false })
    }

    /// A closed figure of straight lines.
    pub(super) fn polygon(&mut self, role: Role, points: &[Point]) -> &mut Item {
        let mut around = points.to_vec();
        around.extend(points.first());
        self.add(role, Shape::Path { segments: chain(&around), closed: true })
    }

    /// Hatches a closed figure, all but the gaps.
    pub(super) fn hatch(&mut self, figure: &[Point], apart: f64, gaps: &[Bounds]) -> &mut Item {
        self.add(Role::Cut, Shape::Strokes(hatch(figure, apart, gaps)))
    }

    pub(super) fn text(
        &mut self,
        role: Role,
        at: Point,
        height: f64,
        anchor: Anchor,
        words: impl Into<String>,
    ) -> &mut Item {
        self.add(role, Shape::Text(Text { at, height, anchor, words: words.into() }))
    }
}

impl Item {
    pub(super) const fn of(&mut self, side: Side) -> &mut Self {
        self.side = Some(side);
        self
    }

    pub(super) const fn dog(&mut self, side: Side, place: usize) -> &mut Self {
        self.place = Some(place);
        self.of(side)
    }

    /// Gives the level that a tool cuts it to, if it is cut.
    pub(super) const fn cut_to(&mut self, level_mm: Option<f64>) -> &mut Self {
        self.cut_to_mm = level_mm;
        self
    }
}

fn chain(points: &[Point]) -> Vec<Segment> {
    points.windows(2).map(|pair| Segment::Line { from: pair[0], to: pair[1] }).collect()
}
