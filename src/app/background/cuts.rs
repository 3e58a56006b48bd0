//! The smallest cut, searched beside the page.
//!
//! A job is `[design, wish]`. The answers are `[tried, of]` while the search runs, and `[[design, design, …]]` at its
//! end: the designs with each cut in their plans, from which the page tells the rest.

use std::sync::Arc;

use js_sys::Array;
use wasm_bindgen::{JsCast as _, JsValue};

use crenel::analysis::Analysis;
use crenel::design::{Design, to_json};
use crenel::suggest::{Progress, SearchStep, Searching, Suggestion, searching};
use crenel::units::DisplayUnits;

use super::{Background, Job, Kind, Post, Wish, design_at, index};

/// How far a search is, or its answer.
pub(crate) enum News {
    /// It is still searching.
    Progress(Progress),
    /// The designs with each cut in their plans.
    Found(Vec<Design>),
}

/// Starts a worker that searches.
pub(crate) fn start(heard: impl Fn(News) + 'static) -> Background {
    Background::start(Kind::Cuts, move |answer| {
        heard(match answer.get(0).dyn_into::<Array>() {
            Ok(found) => {
                News::Found((0..found.length()).filter_map(|at| design_at(&found, at)).collect())
            }
            Err(_) => News::Progress(Progress { tried: index(answer, 0), of: index(answer, 1) }),
        });
    })
}

/// Requests the smallest cuts for a wish. An earlier request is dropped.
pub(crate) fn ask(background: &Background, design: &Design, wish: Wish) {
    let design = to_json(&design.without_box());
    background.ask(&Array::of2(&design.into(), &wish.to_json().into()));
}

/// A search in progress, and how far it was when that was last told.
struct Cuts {
    search: Searching<Vec<Suggestion>>,
    told: Progress,
}

/// Begins a job.
pub(super) fn begin(job: &Array) -> Box<dyn Job> {
    let design = design_at(job, 0).unwrap_or_default();
    let wish = Wish::read(&job.get(1).as_string().unwrap_or_default());
    // The page has filled in the step that is usual in its units.
    let search = wish.search(DisplayUnits::default());
    let search = searching(Arc::new(Analysis::of(&design)), search);
    Box::new(Cuts { search, told: Progress::default() })
}

impl Job for Cuts {
    fn slice(&mut self, post: &Post) -> bool {
        match self.search.next() {
            None => return false,
            Some(SearchStep::Tried(progress)) if progress == self.told => {}
            Some(SearchStep::Tried(progress)) => {
                self.told = progress;
                post(&Array::of2(&count(progress.tried), &count(progress.of)));
            }
            Some(SearchStep::Found(list)) => {
                let found: Array =
                    list.iter().map(|one| JsValue::from(to_json(&one.design))).collect();
                post(&Array::of1(&found));
            }
        }
        true
    }
}

#[expect(clippy::cast_precision_loss, reason = "small numbers")]
fn count(number: usize) -> JsValue {
    JsValue::from(number as f64)
}
