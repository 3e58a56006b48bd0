//! What is shown in place of a drawing that cannot be made.

use crenel_words::{Phrase, Reader};

use super::Frame;
use crate::draw::scene::{Anchor, Bounds, Role, Scene};
use crate::ring::Point;

/// A scene that only says why there is no drawing.
pub(crate) fn empty_scene(frame: &Frame, why: Phrase, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Bounds { min, max } = frame.bounds;
    let middle = Point::new((min.x + max.x) / 2.0, (min.y + max.y) / 2.0);
    scene.text(Role::Note, middle, frame.text_mm, Anchor::Middle, why().show(reader));
    scene
}
