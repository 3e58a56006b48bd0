//! One thing on a drawing: its geometry, its role and what it belongs to.

use super::role::Role;
use crate::ring::{Point, Segment, Side};

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
    /// How light it is, from 0, the darkest, to [`crate::draw::LIGHTEST`]; none for what has no light on it.
    pub shade: Option<u8>,
    /// The level that a tool cuts this outline to, mm over the tallest tip as found and never above it;
    /// none for what is not cut.
    pub cut_to_mm: Option<f64>,
    /// Its geometry.
    pub shape: Shape,
}

impl Item {
    pub(crate) const fn of(&mut self, side: Side) -> &mut Self {
        self.side = Some(side);
        self
    }

    pub(crate) const fn dog(&mut self, side: Side, place: usize) -> &mut Self {
        self.place = Some(place);
        self.of(side)
    }

    /// Gives the level that a tool cuts it to, if it is cut.
    pub(crate) const fn cut_to(&mut self, level_mm: Option<f64>) -> &mut Self {
        self.cut_to_mm = level_mm;
        self
    }
}
