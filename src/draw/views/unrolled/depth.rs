//! The overlap as a dimension in the unrolled view: from the tips of one ring to those of the other.

use std::f64::consts::TAU;

use crenel_words::{Reader, drawing as say};

use super::scale_level;
use super::strip::Strip;
use crate::draw::scene::{Anchor, Bounds, Item, Role, Scene, Shape, arrow_head, words_width};
use crate::measure::Measure;
use crate::ring::{Dog, FlankSide, Point, Side};
use crate::units::{Quantity, sort_by_number};

/// Least space between words in a row, in letter heights.
const APART: f64 = 1.2;

/// Shorter overlaps have no room for arrows, in letter heights.
const LEAST: f64 = 0.6;

/// Half the length of the lines at the levels of the tips, in letter heights.
const HALF_LEVEL: f64 = 0.8;

impl Strip<'_> {
    /// The overlap in the widest gap between dogs, with its number in the row below the strip.
    pub(super) fn depth(&self, scene: &mut Scene, reader: Reader) {
        let text = self.frame.text_mm;
        let level = |side| self.level(side, self.ring(side).tallest_mm());
        let [low, high] = [level(Side::A), level(Side::B)];
        let is_deep = high - low > LEAST * text;
        if !is_deep {
            return;
        }
        let x = self.widest_gap((self.overlap_mm / 2.0).max(0.0));
        let measure = Some(Measure::Depth);
        for y in [low, high] {
            let ends = [x - HALF_LEVEL * text, x + HALF_LEVEL * text];
            scene.line(Role::Dimension, &ends.map(|x| Point::new(x, y))).measures(measure);
        }
        let ends = [Point::new(x, low), Point::new(x, high)];
        scene.line(Role::Dimension, &ends).measures(measure);
        let size = (0.5 * text).min(0.4 * (high - low));
        arrow_head(scene, Role::Dimension, ends[0], ends[1], size).measures(measure);
        arrow_head(scene, Role::Dimension, ends[1], ends[0], size).measures(measure);
        let value = Quantity::Length.show_result(self.overlap_mm, reader.units);
        let words = say::overlap_is(value.clone()).show(reader);
        let Some((at, words)) = [words, value]
            .into_iter()
            .find_map(|words| Some((self.room(scene, x, &words)?, words)))
        else {
            return;
        };
        let foot = Point::new(at.x, at.y + 0.7 * text);
        scene.line(Role::Dimension, &[ends[0], foot]).measures(measure);
        scene.text(Role::Note, at, text, Anchor::Middle, words).measures(measure);
    }

    /// The middle of the widest gap that no dog of either ring reaches into, `depth` mm below its tip; where there is
    /// none, near the left end.
    fn widest_gap(&self, depth: f64) -> f64 {
        let turn = self.frame.across(TAU);
        let mut taken: Vec<[f64; 2]> = Vec::new();
        for side in Side::BOTH {
            for dog in &self.ring(side).dogs {
                let middle = self.middle(side, dog);
                let ends = self.ends(side, dog, depth);
                taken.extend([-turn, 0.0, turn].map(|by| ends.map(|end| middle + by + end)));
            }
        }
        sort_by_number(&mut taken, |[from, _]| *from);
        let (mut reached, mut widest) = (0.0_f64, [0.0, 2.0 * self.frame.text_mm]);
        let mut least = 0.0;
        for [from, to] in taken.into_iter().chain([[turn, turn]]) {
            let gap = [reached, from.min(turn)];
            if gap[1] - gap[0] > least + 1e-9 {
                (widest, least) = (gap, gap[1] - gap[0]);
            }
            reached = reached.max(to);
        }
        (widest[0] + widest[1]) / 2.0
    }

    /// How far a dog reaches to either side of its middle.
    fn ends(&self, side: Side, dog: &Dog, depth: f64) -> [f64; 2] {
        let [a, b] = FlankSide::BOTH.map(|flank| self.flank(side, dog, flank, depth));
        [a.min(b), a.max(b)]
    }

    /// A place for words in the row below the strip, under the dimension or as near as the other words there let them.
    fn room(&self, scene: &Scene, x: f64, words: &str) -> Option<Point> {
        let text = self.frame.text_mm;
        let y = scale_level(self.frame);
        let half = (words_width(words) / 2.0 + 0.8) * text;
        let (mut left, mut right) = (0.0, self.frame.across(TAU));
        for [from, to] in scene.items.iter().filter_map(|item| in_row(item, y, text)) {
            if from + to < right {
                left = (to + APART * text).max(left);
            } else {
                right = (from - APART * text).min(right);
            }
        }
        (right - left > 2.0 * half).then(|| Point::new(x.clamp(left + half, right - half), y))
    }
}

/// From where to where words reach, if they stand in the row of a level.
fn in_row(item: &Item, y: f64, text: f64) -> Option<[f64; 2]> {
    let Shape::Text(own) = &item.shape else { return None };
    let Bounds { min, max } = own.bounds();
    ((own.at.y - y).abs() < text).then_some([min.x, max.x])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::{Design, SettingField, example, gallery};
    use crate::draw::ViewOptions;
    use crate::draw::views::UNROLLED;

    fn marks(design: &Design, letter: f64) -> Vec<Item> {
        let analysis = Analysis::of(design);
        let frame = UNROLLED.frame(&analysis, 1.0, 0.35, letter);
        let scene = UNROLLED.draw(&analysis, &frame, &ViewOptions::default());
        scene.items.into_iter().filter(|i| i.measure == Some(Measure::Depth)).collect()
    }

    /// The line between the arrows is as long as the overlap, and says it.
    #[test]
    fn the_overlap_is_a_dimension_between_the_tips() {
        let design = example();
        let overlap = design.setting.get(SettingField::Overlap);
        let items = marks(&design, 0.02);
        let upright = items.iter().find_map(|item| match &item.shape {
            Shape::Path { segments, .. } if segments.len() == 1 => {
                let (from, to) = (segments[0].from(), segments[0].to());
                (from.x == to.x).then(|| (to.y - from.y).abs())
            }
            _ => None,
        });
        assert!((upright.expect("a line") - overlap).abs() < 1e-9, "{upright:?} {overlap}");
        let words = items.iter().find_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.words.clone()),
            _ => None,
        });
        assert_eq!(words.as_deref(), Some("overlap 4.5 mm"));
    }

    /// Apart or tip on tip there is nothing to measure.
    #[test]
    fn rings_that_are_apart_have_no_overlap() {
        let mut design = example();
        design.setting.set(SettingField::Overlap, 0.0);
        assert!(marks(&design, 0.02).is_empty());
    }

    /// The number lies over no other words, on a phone and as a figure of a column, in any design.
    #[test]
    fn the_number_lies_over_no_other_words() {
        for example in gallery() {
            let analysis = Analysis::of(&example.design());
            for letter in [0.012, 0.033, 0.05] {
                let frame = UNROLLED.frame(&analysis, 1.0, 0.35, letter);
                let scene = UNROLLED.draw(&analysis, &frame, &ViewOptions::default());
                let row = |item: &Item| in_row(item, scale_level(&frame), frame.text_mm);
                let mut ends: Vec<_> = scene.items.iter().filter_map(row).collect();
                ends.sort_by(|a, b| a[0].total_cmp(&b[0]));
                let is_clear = ends.windows(2).all(|two| two[0][1] < two[1][0]);
                assert!(is_clear, "{} {letter}: {ends:?}", example.key);
            }
        }
    }
}
