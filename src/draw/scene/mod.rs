//! A neutral scene: items by drawing role, back to front.

mod bounds;
mod clip;
mod hatch;
mod item;
mod labels;
mod marks;
mod role;

pub use bounds::Bounds;
pub(super) use clip::clip;
use hatch::hatch;
pub use item::{Anchor, Item, ItemKey, Shape, Text};
pub(super) use labels::{shortened, spread, wrapped};
pub(super) use marks::{arrow_head, bar, circle, cross, words_width};
pub use role::{Line, Role};

use crate::ring::{Point, Segment, Side};
use crate::units::Angle;

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
        self.items.retain(Item::is_finite);
        self
    }

    /// The items in runs that are turned alike, back to front.
    pub fn runs(&self) -> impl Iterator<Item = (Option<Angle>, &[Item])> {
        self.items.chunk_by(|a, b| a.turned == b.turned).map(|run| (run[0].turned, run))
    }

    /// The key of each item. No two items of a scene have the same.
    pub fn keys(&self) -> Vec<ItemKey> {
        let mut keys: Vec<_> = self.items.iter().map(Item::key).collect();
        // In the order of their keys the like of an item come one after the other, back to front.
        let mut sorted: Vec<_> = keys.iter().copied().zip(0_usize..).collect();
        sorted.sort_unstable();
        for like in sorted.chunk_by(|a, b| a.0 == b.0) {
            for (nth, &(key, at)) in (0..).zip(like) {
                keys[at] = key.with_nth(nth);
            }
        }
        keys
    }

    /// Marks what the user has chosen.
    pub(super) fn choose(&mut self, chosen: Option<(Side, usize)>) {
        for item in &mut self.items {
            item.chosen = chosen.is_some() && item.side.zip(item.place) == chosen;
        }
    }

    pub(super) fn add(&mut self, role: Role, shape: Shape) -> &mut Item {
        self.items.push(Item {
            role,
            side: None,
            place: None,
            chosen: false,
            shade: None,
            cut_to_mm: None,
            measure: None,
            shape,
            turned: None,
        });
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

    /// Hatches a closed figure both ways.
    pub(super) fn cross_hatch(&mut self, figure: &[Point], apart: f64) -> &mut Item {
        let mut strokes = hatch(figure, apart, &[]);
        strokes.extend(hatch_leaning_left(figure, apart));
        self.add(Role::Cut, Shape::Strokes(strokes))
    }

    /// Hatches the cut face of a closed figure; with a distance below zero the lines lean the other way, as those of the
    /// part beside it have to.
    pub(super) fn cut_face(&mut self, figure: &[Point], apart: f64) -> &mut Item {
        let strokes = if apart < 0.0 {
            hatch_leaning_left(figure, -apart)
        } else {
            hatch(figure, apart, &[])
        };
        self.add(Role::Hatching, Shape::Strokes(strokes))
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

/// The lines of [`hatch`] leaning to the left.
fn hatch_leaning_left(figure: &[Point], apart: f64) -> Vec<[Point; 2]> {
    let mirrored = |p: &Point| Point::new(-p.x, p.y);
    let turned: Vec<_> = figure.iter().map(mirrored).collect();
    let lines = hatch(&turned, apart, &[]);
    lines.iter().map(|stroke| stroke.each_ref().map(mirrored)).collect()
}

fn chain(points: &[Point]) -> Vec<Segment> {
    points.windows(2).map(|pair| Segment::Line { from: pair[0], to: pair[1] }).collect()
}
