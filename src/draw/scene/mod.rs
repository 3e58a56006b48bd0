//! A neutral scene: items by drawing role, back to front.

mod bounds;
mod clip;
mod hatch;
mod item;
mod marks;
mod role;

pub use bounds::Bounds;
pub(super) use clip::clip;
use hatch::hatch;
pub use item::{Anchor, Item, Shape, Text};
pub(super) use marks::{arrow_head, bar, circle, cross, words_width};
pub use role::{Line, Role};

use crate::ring::{Point, Segment, Side};

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

    /// Leaves out what has an infinite coordinate or NaN, as a design with such a number makes.
    #[must_use]
    pub(super) fn retain_finite(mut self) -> Self {
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

fn chain(points: &[Point]) -> Vec<Segment> {
    points.windows(2).map(|pair| Segment::Line { from: pair[0], to: pair[1] }).collect()
}
