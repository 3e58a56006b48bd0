//! What is shown in place of a drawing that cannot be made.

use crenel_words::{Phrase, Reader};

use super::Frame;
use crate::draw::scene::{Anchor, Bounds, Role, Scene, wrapped};
use crate::ring::Point;

/// A scene that only says why there is no drawing.
pub(crate) fn empty_scene(frame: &Frame, why: Phrase, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Bounds { min, max } = frame.bounds;
    let (middle, text) = ((min.x + max.x) / 2.0, frame.text_mm);
    let mut y = (min.y + max.y) / 2.0;
    for line in wrapped(&why().show(reader), (max.x - min.x) / text - 1.0) {
        scene.text(Role::Note, Point::new(middle, y), text, Anchor::Middle, line);
        y -= 1.4 * text;
    }
    scene
}
