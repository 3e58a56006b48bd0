//! The walls on each land, once they are found.

use std::sync::OnceLock;

use super::around::BlockId;
use super::level::Level;

/// A flank of taller dogs on a land.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wall {
    pub(super) block: BlockId,
    /// Where its near end lies at the overlap of the land, rad: on the circle, and from just before the land.
    pub(super) at: f64,
    pub(super) past: f64,
}

/// The walls on each land of one level, found when a ring first rubs along it; `None` where they have to be searched
/// for each time.
#[derive(Clone, Debug)]
pub(super) struct Walls(Vec<OnceLock<Option<Vec<Wall>>>>);

impl Walls {
    /// Without any that is known yet.
    pub(super) fn of(level: &Level) -> Self {
        Self(vec![OnceLock::new(); level.lands.spans.len()])
    }

    /// Those on a land, which are found the first time.
    pub(super) fn on(
        &self,
        land: usize,
        found: impl FnOnce() -> Option<Vec<Wall>>,
    ) -> Option<&[Wall]> {
        self.0[land].get_or_init(found).as_deref()
    }
}
