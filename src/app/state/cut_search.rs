//! The search for the smallest cut, beside the page.

use std::sync::Arc;

use crenel::analysis::Analysis;
use crenel::design::Design;
use crenel::suggest::{Progress, Search, Suggestion};
use crenel::units::DisplayUnits;
use leptos::prelude::*;

use crate::background::cuts::{self, News};
use crate::background::{Background, Wish};
use crate::storage::store::Store;

/// The key under which the tab stores the wish.
const WISH: &str = "crenel.wish";

/// What was asked.
#[derive(Clone, PartialEq)]
struct Question {
    design: Design,
    wish: Wish,
    search: Search,
}

/// What is searched for, how far the search is, and what it found.
#[derive(Clone, Copy)]
pub(crate) struct CutSearch {
    analysis: Memo<Arc<Analysis>>,
    units: RwSignal<DisplayUnits>,
    pub(crate) wish: RwSignal<Wish>,
    question: RwSignal<Option<Question>>,
    /// How far a search in progress is.
    pub(crate) progress: RwSignal<Option<Progress>>,
    found: RwSignal<Option<Vec<Suggestion>>>,
    worker: StoredValue<Option<Background>, LocalStorage>,
}

impl CutSearch {
    /// Nothing searched for yet, with the usual wish.
    pub(crate) fn new(analysis: Memo<Arc<Analysis>>, units: RwSignal<DisplayUnits>) -> Self {
        Self {
            analysis,
            units,
            wish: RwSignal::new(Wish::USUAL),
            question: RwSignal::default(),
            progress: RwSignal::default(),
            found: RwSignal::default(),
            worker: StoredValue::new_local(None),
        }
    }

    /// Begins to search, on top of the work that is planned.
    pub(crate) fn begin(self) {
        let design = self.analysis.with_untracked(|now| now.design.clone());
        let wish = self.wish.get_untracked();
        let search = wish.search(self.units.get_untracked());
        self.found.set(None);
        self.progress.set(Some(Progress::default()));
        let worker = self.worker.try_update_value(|worker| {
            worker.get_or_insert_with(|| cuts::start(move |news| self.hear(news))).clone()
        });
        if let Some(worker) = worker {
            cuts::ask(&worker, &design, Wish { step: Some(search.step), ..wish });
        }
        self.question.set(Some(Question { design, wish, search }));
    }

    fn hear(self, news: News) {
        match news {
            News::Progress(progress) => self.progress.set(Some(progress)),
            News::Found(designs) => {
                let search = self.question.with_untracked(|of| of.as_ref().map(|of| of.search));
                let Some(search) = search else { return };
                let told = self.analysis.with_untracked(|now| {
                    let tell = |design| Suggestion::of(now, &search, design);
                    designs.into_iter().filter_map(tell).collect()
                });
                self.progress.set(None);
                self.found.set(Some(told));
            }
        }
    }

    /// Ends a search in progress.
    pub(crate) fn cancel(self) {
        self.progress.set(None);
        self.question.set(None);
        self.worker.with_value(|worker| worker.as_ref().map(Background::cancel));
    }

    /// Forgets what was found.
    pub(crate) fn forget(self) {
        self.cancel();
        self.found.set(None);
    }

    /// What was found, with what was searched; only while the design and the wish are those of the question.
    pub(crate) fn standing(self) -> Option<(Search, Vec<Suggestion>)> {
        let found = self.found.get()?;
        let search = self.question.with(|of| of.as_ref().map(|of| of.search))?;
        self.stands().then_some((search, found))
    }

    fn stands(self) -> bool {
        let wish = self.wish.get();
        self.question.with(|of| {
            of.as_ref().is_some_and(|of| {
                of.wish == wish && self.analysis.with(|now| now.design == of.design)
            })
        })
    }

    /// Takes the wish that the tab remembers, and remembers it from now on. Lets a change of the design or of the wish
    /// end a search in progress.
    pub(crate) fn watch(self, ended: impl Fn() + 'static) {
        if let Some(wish) = Store::Tab.get(WISH) {
            self.wish.set(Wish::read(&wish));
        }
        Effect::new(move |_| {
            let searching = self.progress.with(Option::is_some);
            if searching && !self.stands() {
                self.cancel();
                ended();
            }
        });
        Effect::new(move |begun: Option<bool>| {
            let wish = self.wish.get().to_json();
            if begun.is_some() {
                // If it cannot be remembered, that is not worth a message.
                let _ = Store::Tab.put(WISH, &wish);
            }
            true
        });
    }
}
