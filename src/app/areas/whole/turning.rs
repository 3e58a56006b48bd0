//! The cursor on the turn of the drum, which chart, section and strokes share.

use leptos::prelude::*;

/// One step of the cursor by a key, degrees.
pub(super) const STEP_DEG: f64 = 0.5;

/// The cursor on the turn of the drum.
#[derive(Clone, Copy)]
pub(super) struct Turning {
    /// Where it is, degrees.
    pub(super) cursor: RwSignal<f64>,
    /// Whether a stroke is played.
    pub(super) running: RwSignal<bool>,
}

impl Turning {
    /// Moves the cursor by hand, which ends a stroke that is played.
    pub(super) fn put(self, deg: f64) {
        self.running.set(false);
        self.cursor.set(deg);
    }
}
