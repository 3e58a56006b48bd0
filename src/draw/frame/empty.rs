//! What is shown in place of a drawing that cannot be made.

use super::Frame;
use crate::draw::scene::{Anchor, Bounds, Role, Scene};
use crate::ring::Point;

/// Said in place of the drawing of a part that is given with a number outside its limits.
pub(crate) const OUTSIDE: &str = "A number is outside its limits: see the findings.";

/// A scene that only says why there is no drawing.
pub(crate) fn empty_scene(frame: &Frame, words: &str) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Bounds { min, max } = frame.bounds;
    let middle = Point::new((min.x + max.x) / 2.0, (min.y + max.y) / 2.0);
    scene.text(Role::Note, middle, frame.text_mm, Anchor::Middle, words);
    scene
}
