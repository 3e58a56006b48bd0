//! Chances of several layouts in one chart.

use super::frame::{Frame, SpeedAxes};
use super::scene::{Anchor, Role, Scene};
use crate::ring::Point;
use crate::shift::OutcomeMap;
use crate::units::rpm;

/// Chances at the first pass of several layouts over the speed difference, each with its letter and a
/// line of its own.
pub fn chance_curves(frame: &Frame, curves: &[(usize, &OutcomeMap)]) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = SpeedAxes { frame, top_y: frame.share_mm, end_x: frame.up(frame.top_rpm) };
    axes.shares(&mut scene);
    axes.speeds_across(&mut scene);
    axes.outline(&mut scene);
    for ((at, (number, map)), role) in curves.iter().enumerate().zip(Role::CURVES) {
        let points: Vec<_> = (0..map.rows())
            .map(|row| {
                let [straight, rubbed, ..] = map.shares(row);
                Point::new(frame.up(rpm(map.slip(row))), (straight + rubbed) * frame.share_mm)
            })
            .collect();
        scene.line(role, &points);
        // Numbers along the curves, at a different place on each, tell them apart without colour.
        #[expect(clippy::cast_precision_loss, reason = "as many as there are colours")]
        let share = 0.12 + 0.2 * at as f64;
        if let Some(at) = points.iter().find(|p| p.x > share * axes.end_x) {
            let above = Point::new(at.x, at.y + 0.8 * frame.text_mm);
            scene.text(Role::Note, above, frame.text_mm, Anchor::Middle, number.to_string());
        }
    }
    scene
}
