//! One thing on a drawing: its geometry, its role and what it belongs to.

use std::borrow::Cow;

use super::role::Role;
use crate::measure::Measure;
use crate::ring::{Point, Segment, Side};
use crate::units::Angle;

/// Which way a text runs from its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Begins there.
    Start,
    /// Centred on it.
    Middle,
    /// Ends there.
    End,
}

impl Anchor {
    /// Where words begin that are so wide, with their point at `x`.
    pub(crate) fn left(self, x: f64, wide: f64) -> f64 {
        match self {
            Self::Start => x,
            Self::Middle => x - wide / 2.0,
            Self::End => x - wide,
        }
    }
}

/// Words on a drawing, level, centred on the height of the point.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where.
    pub at: Point,
    /// Type size, mm; capitals are about 0.72 of it, so that 3.5 gives the 2.5 mm capitals of ISO 3098.
    pub height: f64,
    /// Which end is at the point.
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
    /// The shape turned about the origin, counter-clockwise. Words stay level and keep their place.
    fn turned(&self, by: Angle) -> Self {
        let angle = |radians: f64| (Angle::from_radians(radians) + by).radians();
        let point = |p: &Point| Point::polar(p.radius(), angle(p.angle()));
        let segment = |segment: &Segment| match *segment {
            Segment::Line { from, to } => Segment::Line { from: point(&from), to: point(&to) },
            Segment::Arc { radius, start, sweep } => {
                Segment::Arc { radius, start: angle(start), sweep }
            }
        };
        let points = |points: &Vec<Point>| points.iter().map(point).collect();
        match self {
            Self::Path { segments, closed } => {
                Self::Path { segments: segments.iter().map(segment).collect(), closed: *closed }
            }
            Self::Patches(patches) => Self::Patches(patches.iter().map(points).collect()),
            Self::Strokes(strokes) => {
                Self::Strokes(strokes.iter().map(|[from, to]| [point(from), point(to)]).collect())
            }
            Self::Circle { .. } | Self::Text(_) => self.clone(),
        }
    }

    /// Whether every point of it is less than so many mm from the origin, across and upwards. With a NaN it
    /// is not.
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
    /// How light it is, from 0, the darkest, to [`crate::draw::LIGHTEST`]; `None` for what is not shaded.
    pub shade: Option<u8>,
    /// The level that a tool cuts this outline to, mm over the tallest tip as found and never above it;
    /// `None` for what is not cut.
    pub cut_to_mm: Option<f64>,
    /// What it shows the size of, if a figure is read off it.
    pub measure: Option<Measure>,
    /// Its geometry.
    pub shape: Shape,
    /// By how much the shape is turned about the origin, counter-clockwise. A ring that turns keeps its
    /// shapes then, and only this changes. Words and circles are never turned.
    pub turned: Option<Angle>,
}

/// What stays the same of an item from one drawing of a view to the next: its role, the kind of its shape,
/// what it belongs to, what it measures, and which of all the like it is. One number, because a page compares very many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ItemKey(u64);

impl ItemKey {
    /// Bits for the number among the like: more items than any scene has.
    const NTH_BITS: u32 = 32;

    /// The key of the nth item, from 0, of those that have this key in common.
    pub(super) const fn with_nth(self, nth: u64) -> Self {
        Self(self.0 | nth)
    }
}

impl Item {
    /// Its geometry where it lies on the drawing.
    pub fn placed(&self) -> Cow<'_, Shape> {
        self.turned.map_or(Cow::Borrowed(&self.shape), |by| Cow::Owned(self.shape.turned(by)))
    }

    /// Whether all its numbers are finite.
    pub(super) fn is_finite(&self) -> bool {
        let turned = self.turned.is_none_or(|by| by.radians().is_finite());
        turned && self.shape.is_within(f64::INFINITY)
    }

    /// What the item has in common with the like of it: a key with the number zero.
    pub(super) fn key(&self) -> ItemKey {
        let kind = match self.shape {
            Shape::Path { .. } | Shape::Patches(_) | Shape::Strokes(_) => 0,
            Shape::Circle { .. } => 1,
            Shape::Text(_) => 2,
        };
        let side = self.side.map_or(0, |side| side as u64 + 1);
        let place = self.place.map_or(0, |place| (place as u64 + 1).min(0xffff));
        let measure = self.measure.map_or(0, |measure| measure as u64 + 1);
        let all = measure << 28 | (self.role as u64) << 20 | side << 18 | kind << 16 | place;
        ItemKey(all << ItemKey::NTH_BITS)
    }

    /// Says by how much the shape is turned about the origin.
    pub(crate) const fn turn(&mut self, by: Angle) -> &mut Self {
        self.turned = Some(by);
        self
    }

    /// Says what it shows the size of.
    pub(crate) const fn measures(&mut self, measure: Option<Measure>) -> &mut Self {
        self.measure = measure;
        self
    }

    pub(crate) const fn on_ring(&mut self, side: Side) -> &mut Self {
        self.side = Some(side);
        self
    }

    pub(crate) const fn dog(&mut self, side: Side, place: usize) -> &mut Self {
        self.place = Some(place);
        self.on_ring(side)
    }

    /// Gives the level that a tool cuts it to, if it is cut.
    pub(crate) const fn cut_to(&mut self, level_mm: Option<f64>) -> &mut Self {
        self.cut_to_mm = level_mm;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scene::Bounds;
    use crate::draw::scene::Scene;

    #[test]
    fn items_that_differ_in_anything_that_lasts_have_other_keys() {
        let shapes =
            [Shape::Circle { radius: 1.0 }, Shape::Patches(Vec::new()), Shape::Strokes(Vec::new())];
        let corner = Point::default();
        let mut scene = Scene::new(Bounds { min: corner, max: corner });
        let mut keys = Vec::new();
        for role in Role::ALL {
            for shape in &shapes[..2] {
                let mut key = |side: Option<Side>, place: Option<usize>| {
                    let item = scene.add(role, shape.clone());
                    (item.side, item.place) = (side, place);
                    keys.push(item.key());
                };
                key(None, None);
                for side in Side::BOTH {
                    key(Some(side), None);
                    for place in [0, 1, 59] {
                        key(Some(side), Some(place));
                    }
                }
            }
        }
        let count = keys.len();
        keys.sort();
        keys.dedup();
        assert_eq!(keys.len(), count);
        // A line drawn another way is the same thing still.
        let [patches, strokes] = [1, 2].map(|at| scene.add(Role::Tip, shapes[at].clone()).key());
        assert_eq!(patches, strokes);
    }
}
