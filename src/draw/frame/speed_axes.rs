//! Charts with an axis of speed differences: their frame, their axes and what is marked on them.

use std::f64::consts::TAU;

use crenel_words::{Message, drawing as say};

use super::{Canvas, Frame};
use crate::analysis::Analysis;
use crate::draw::scene::{Anchor, Bounds, Role, Scene};
use crate::model::Limits;
use crate::ring::Point;
use crate::units::{DisplayUnits, Quantity, sort_by_number};

/// Width of a chart without its margins, mm.
const CHART_MM: f64 = 160.0;

/// Margins of a chart left, right and above, in letter heights.
const LEFT: f64 = 4.6;
const RIGHT: f64 = 0.6;
pub(crate) const CHART_ABOVE: f64 = 2.2;

/// Margin below a chart that has no legend, in letter heights.
pub(crate) const CHART_BELOW: f64 = 2.0;

/// Room in letter heights for the last number of the axis with its unit and half of the one before.
const LAST_TWO_LETTERS: f64 = 6.5;

/// The frame of a chart whose speed differences run across, with so many letter heights below it.
pub(crate) fn speed_chart(top_rpm: f64, canvas: &Canvas, below: f64) -> Frame {
    let letter = canvas.letter.min(0.08);
    let text_mm = CHART_MM * letter / (1.0 - (LEFT + RIGHT) * letter);
    let min = Point::new(-LEFT * text_mm, -below * text_mm);
    let max_x = CHART_MM + RIGHT * text_mm;
    let height = ((max_x - min.x) * canvas.shape).max((below + CHART_ABOVE + 4.0) * text_mm);
    let bounds = Bounds { min, max: Point::new(max_x, min.y + height) };
    let (stretch, radius_mm) = (CHART_MM / top_rpm, CHART_MM / TAU);
    Frame { stretch, radius_mm, top_rpm, ..Frame::new(bounds, text_mm) }
}

/// The frame of a chart of chances up to a speed difference. `shape` is its height over its width,
/// `letter` the height of its letters as a share of its width.
pub fn chance_frame(top_rpm: f64, shape: f64, letter: f64) -> Frame {
    let canvas = Canvas { shape, letter, whole_shift: false };
    let frame = speed_chart(top_rpm, &canvas, CHART_BELOW);
    let share_mm = frame.bounds.max.y - CHART_ABOVE * frame.text_mm;
    Frame { share_mm, ..frame }
}

/// The limits that lie on the chart, with their words.
pub(crate) fn limit_marks(analysis: &Analysis, frame: &Frame) -> Vec<(f64, Message)> {
    let Some(limits) = analysis.pair.as_ref().and_then(Limits::of) else { return Vec::new() };
    let marks = [
        (limits.lock_rpm, say::hang_limit as fn(f64) -> Message),
        (limits.drop_in_rpm, say::drop_in_limit),
        (limits.straight_in_rpm, say::straight_in_limit),
    ];
    let mut on: Vec<_> =
        marks.into_iter().filter(|(rpm, _)| *rpm > 0.0 && *rpm < frame.top_rpm).collect();
    sort_by_number(&mut on, |mark| mark.0);
    on.into_iter().map(|(rpm, says)| (rpm, says(rpm.round()))).collect()
}

/// The axes of a chart.
pub(crate) struct SpeedAxes<'a> {
    pub(crate) frame: &'a Frame,
    pub(crate) top_y: f64,
    pub(crate) end_x: f64,
}

impl SpeedAxes<'_> {
    pub(crate) fn outline(&self, scene: &mut Scene) {
        let corners = [(0.0, 0.0), (self.end_x, 0.0), (self.end_x, self.top_y), (0.0, self.top_y)];
        scene.polygon(Role::Dimension, &corners.map(|(x, y)| Point::new(x, y)));
    }

    fn below(&self, scene: &mut Scene, x: f64, anchor: Anchor, words: String) {
        let text = self.frame.text_mm;
        scene.line(Role::Dimension, &[Point::new(x, 0.0), Point::new(x, -0.4 * text)]);
        scene.text(Role::Note, Point::new(x, -1.2 * text), text, anchor, words);
    }

    fn beside(&self, scene: &mut Scene, y: f64, words: String) {
        let text = self.frame.text_mm;
        scene.line(Role::Dimension, &[Point::new(-0.4 * text, y), Point::new(0.0, y)]);
        scene.text(Role::Note, Point::new(-0.7 * text, y), text, Anchor::End, words);
    }

    pub(crate) fn phases(&self, scene: &mut Scene, units: DisplayUnits) {
        for quarter in 0..=4_u8 {
            let degrees = 90.0 * f64::from(quarter);
            let anchor = if quarter == 4 { Anchor::End } else { Anchor::Middle };
            let words =
                Quantity::Angle.show(degrees, DisplayUnits { angle: Default::default(), ..units });
            self.below(scene, self.frame.across(degrees.to_radians()), anchor, words);
        }
    }

    pub(crate) fn speeds_up(&self, scene: &mut Scene) {
        let text = self.frame.text_mm;
        let above = Point::new(-0.7 * text, self.top_y - 1.2 * text);
        scene.text(Role::Note, above, text, Anchor::End, "rpm");
        for quarter in 0..=4_u8 {
            let rpm = self.frame.top_rpm * f64::from(quarter) / 4.0;
            self.beside(scene, self.frame.up(rpm), format!("{rpm:.0}"));
        }
    }

    pub(crate) fn speeds_across(&self, scene: &mut Scene) {
        for quarter in 0..=4_u8 {
            let rpm = self.frame.top_rpm * f64::from(quarter) / 4.0;
            let (unit, anchor) =
                if quarter == 4 { (" rpm", Anchor::End) } else { ("", Anchor::Middle) };
            // On narrow paper the number before the last would run into the unit.
            let room = self.frame.up(self.frame.top_rpm) / 4.0;
            if quarter == 3 && room < LAST_TWO_LETTERS * self.frame.text_mm {
                continue;
            }
            self.below(scene, self.frame.up(rpm), anchor, format!("{rpm:.0}{unit}"));
        }
    }

    pub(crate) fn shares(&self, scene: &mut Scene) {
        for quarter in 0..=4_u8 {
            let share = f64::from(quarter) / 4.0;
            self.beside(scene, share * self.top_y, format!("{:.0} %", share * 100.0));
        }
    }
}
