//! Which outlines a tool follows, and how deep.

use super::super::scene::{Anchor, Role, Scene, Text};
use super::{LETTER_MM, Sheet, room};
use crate::ring::{Dog, FlankSide, Point};

/// The levels that the outlines of a dog are cut to, mm over the tallest tip as found; `None` for an
/// outline that no work is done to.
#[derive(Default)]
pub(super) struct Levels {
    /// Of the tip: it is cut down or lapped, an edge is broken there, or a flank starts there.
    pub(super) tip_mm: Option<f64>,
    /// Of the root: a flank is cut down to the web.
    pub(super) root_mm: Option<f64>,
}

impl Levels {
    /// The lowest of them.
    fn floor_mm(&self) -> Option<f64> {
        self.root_mm.or(self.tip_mm)
    }
}

impl Sheet<'_> {
    /// The level of the web, where the tallest tip as found is 0.
    pub(super) fn web_mm(&self) -> f64 {
        -self.found.tallest_mm()
    }

    /// What is cut on a dog that stays.
    pub(super) fn levels(&self, dog: &Dog) -> Levels {
        let Some(old) = self.found.at_place(dog.place).filter(|old| *old != dog) else {
            return Levels::default();
        };
        let is_moved = |flank: FlankSide| {
            old.narrowed_mm[flank] != dog.narrowed_mm[flank]
                || old.back_cut[flank] != dog.back_cut[flank]
                || old.lean_kept_mm[flank] != dog.lean_kept_mm[flank]
        };
        let moved = FlankSide::BOTH.into_iter().any(is_moved);
        // Where nothing but the edge is broken, that is how deep the tool goes.
        let edge = if moved || dog.height_mm < old.height_mm { 0.0 } else { dog.edge_break_mm };
        Levels {
            tip_mm: Some(self.web_mm() + dog.height_mm - edge),
            root_mm: moved.then(|| self.web_mm()),
        }
    }

    /// The lowest level that something is cut to at a place: the web where the dog is removed.
    pub(super) fn floor_mm(&self, place: usize) -> Option<f64> {
        match self.ring.at_place(place) {
            Some(dog) => self.levels(dog).floor_mm(),
            None => self.found.at_place(place).map(|_| self.web_mm()),
        }
    }

    /// How a level is written: as machines count, up from the tallest tip as found.
    pub(super) fn z(&self, level_mm: f64) -> String {
        format!("Z{}", self.mm(level_mm))
    }

    /// The lowest level beside each dog that is worked, as far as there is room. The list of the dogs
    /// has all of them.
    pub(super) fn depths(&self, scene: &mut Scene) {
        for dog in &self.found.dogs {
            let Some(level_mm) = self.floor_mm(dog.place) else { continue };
            let words = self.z(level_mm);
            let places = self.beside(dog, &words);
            let Some(text) = places.into_iter().find(|text| room::is_free(scene, text)) else {
                continue;
            };
            scene
                .text(Role::Note, text.at, text.height, text.anchor, text.words)
                .dog(self.side, dog.place);
        }
    }

    /// Places for words beside a dog, the best first: in the bore or just outside the rim, in its middle
    /// or to either side, rather small than far off.
    fn beside(&self, dog: &Dog, words: &str) -> Vec<Text> {
        let (bore, rim) = (self.ring.inner_radius_mm, self.outer);
        let near = [(bore, -1.0), (bore, -4.0), (rim, 1.5), (rim, 4.0)];
        let mut places = Vec::new();
        for edges in [&near[..], &[(rim, 14.0)]] {
            for height in [LETTER_MM, 2.5, 1.8] {
                for share in [0.0, 0.25, -0.25, 0.5, -0.5, 0.8, -0.8] {
                    let direction = dog.centre.radians() + share * dog.tip_width.radians();
                    let half = half_along(direction, words, height);
                    let radii = edges.iter().map(|(edge, off)| edge + off + off.signum() * half);
                    // Not across the axis.
                    for radius in radii.filter(|radius| *radius > half) {
                        let (at, words) = (Point::polar(radius, direction), words.to_owned());
                        places.push(Text { at, height, anchor: Anchor::Middle, words });
                    }
                }
            }
        }
        places
    }
}

/// Half of what level words measure along a radius: their width at the sides, their height above and
/// below.
fn half_along(direction: f64, words: &str, height: f64) -> f64 {
    let wide = room::width(words, height) * libm::cos(direction).abs();
    f64::midpoint(wide, height * libm::sin(direction).abs())
}
