//! The ranges of the figures over the tolerances of the design, found beside the page.

use std::sync::Arc;

use crenel::analysis::Analysis;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;

use crate::background::Background;
use crate::background::ranges::{self, FigureSpan};

/// The pause after the last change before ranges are asked for, ms: a drag is not held up.
const STILL_MS: u32 = 120;

/// The ranges that were found for the design as it is.
#[derive(Clone, Copy)]
pub(crate) struct FigureSpans {
    analysis: Memo<Arc<Analysis>>,
    found: RwSignal<Vec<FigureSpan>>,
}

impl FigureSpans {
    /// Nothing found yet.
    pub(crate) fn new(analysis: Memo<Arc<Analysis>>) -> Self {
        Self { analysis, found: RwSignal::default() }
    }

    /// The range of a figure, if it has one and it is known.
    pub(crate) fn of(self, key: &str) -> Option<FigureSpan> {
        self.found.with(|found| found.iter().find(|span| span.key == key).cloned())
    }

    /// Finds new ranges whenever the design is still after a change. A change drops those that were found.
    pub(crate) fn watch(self) {
        let worker = StoredValue::new_local(None::<Background>);
        let due = StoredValue::new_local(None::<Timeout>);
        let ask = move || {
            let worker = worker.try_update_value(|worker| {
                let start = || ranges::start(move |spans| self.found.set(spans));
                worker.get_or_insert_with(start).clone()
            });
            if let Some(worker) = worker {
                self.analysis.with_untracked(|now| ranges::ask(&worker, &now.design));
            }
        };
        Effect::new(move |_| {
            self.analysis.track();
            if self.found.with_untracked(|found| !found.is_empty()) {
                self.found.set(Vec::new());
            }
            worker.with_value(|worker| worker.as_ref().map(Background::cancel));
            // Replacing the timer cancels the previous one.
            due.set_value(Some(Timeout::new(STILL_MS, ask)));
        });
    }
}
