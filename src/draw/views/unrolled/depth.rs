//! The overlap as a dimension in the unrolled view: from the tips of one ring to those of the other.

use std::f64::consts::TAU;

use crenel_words::Reader;

use super::strip::Strip;
use crate::draw::scene::{Anchor, Bounds, Item, Role, Scene, Shape, arrow_head, words_width};
use crate::measure::Measure;
use crate::ring::{Dog, FlankSide, Point, Side};
use crate::units::Quantity;

/// Shorter overlaps have no room for arrows, in letter heights.
const LEAST: f64 = 0.6;

/// Half the length of the lines at the levels of the tips, in letter heights.
const HALF_LEVEL: f64 = 0.8;

impl Strip<'_> {
    /// The overlap in the widest gap between dogs, with its number where there is room for it.
    pub(super) fn depth(&self, scene: &mut Scene, reader: Reader) {
        let text = self.frame.text_mm;
        let level = |side| self.level(side, self.ring(side).tallest_mm());
        let [low, high] = [level(Side::A), level(Side::B)];
        if !(high - low > LEAST * text) {
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
        let words = Quantity::Length.show_result(self.overlap_mm, reader.units);
        if let Some((at, anchor)) = self.room(scene, x, [low, high], &words) {
            scene.text(Role::Note, at, text, anchor, words).measures(measure);
        }
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
        taken.sort_by(|a, b| a[0].total_cmp(&b[0]));
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

    /// A place beside the dimension where no other words are.
    fn room(
        &self,
        scene: &Scene,
        x: f64,
        [low, high]: [f64; 2],
        words: &str,
    ) -> Option<(Point, Anchor)> {
        let text = self.frame.text_mm;
        let wide = words_width(words) * text;
        let middle = (low + high) / 2.0;
        let levels = [middle, high - 0.6 * text, low + 0.6 * text];
        let places = levels.into_iter().flat_map(|y| {
            [(x + 0.5 * text, Anchor::Start), (x - 0.5 * text, Anchor::End)]
                .map(|(x, anchor)| (Point::new(x, y), anchor))
        });
        let is_free = |(at, anchor): &(Point, Anchor)| {
            let left = if *anchor == Anchor::Start { at.x } else { at.x - wide };
            let half = 0.5 * text;
            let min = Point::new(left, at.y - half);
            let own = Bounds { min, max: Point::new(left + wide, at.y + half) };
            let within = left >= 0.0 && left + wide <= self.frame.across(TAU);
            within && !scene.items.iter().any(|item| is_over(item, &own))
        };
        places.into_iter().find(is_free)
    }
}

/// Whether the name of a dog or other words lie over a place.
fn is_over(item: &Item, place: &Bounds) -> bool {
    let Shape::Text(text) = &item.shape else { return false };
    let half = words_width(&text.words) * text.height / 2.0;
    let middle = match text.anchor {
        Anchor::Start => text.at.x + half,
        Anchor::Middle => text.at.x,
        Anchor::End => text.at.x - half,
    };
    middle + half > place.min.x
        && middle - half < place.max.x
        && text.at.y + text.height / 2.0 > place.min.y
        && text.at.y - text.height / 2.0 < place.max.y
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
        let said = Quantity::Length.show_result(overlap, crate::units::DisplayUnits::default());
        let words = items.iter().find_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.words.clone()),
            _ => None,
        });
        assert_eq!(words, Some(said));
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
    fn the_number_lies_over_no_name() {
        for example in gallery() {
            let analysis = Analysis::of(&example.design());
            for letter in [0.012, 0.033, 0.05] {
                let frame = UNROLLED.frame(&analysis, 1.0, 0.35, letter);
                let scene = UNROLLED.draw(&analysis, &frame, &ViewOptions::default());
                let is_number = |i: &&Item| {
                    i.measure == Some(Measure::Depth) && matches!(i.shape, Shape::Text(_))
                };
                let Some(number) = scene.items.iter().find(is_number) else { continue };
                let Shape::Text(text) = &number.shape else { continue };
                let wide = words_width(&text.words) * text.height;
                let left = if text.anchor == Anchor::Start { text.at.x } else { text.at.x - wide };
                let half = 0.5 * text.height;
                let place = Bounds {
                    min: Point::new(left, text.at.y - half),
                    max: Point::new(left + wide, text.at.y + half),
                };
                let over = scene.items.iter().filter(|item| is_over(item, &place)).count();
                assert_eq!(over, 1, "{}", example.key);
            }
        }
    }
}
