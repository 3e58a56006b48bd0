//! A search in steps, so that whoever waits for it can show how far it is, and end it.

use std::cell::Cell;
use std::future::{Future, poll_fn};
use std::pin::{Pin, pin};
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

/// How far a search is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// How many ways of cutting have been tried.
    pub tried: usize,
    /// How many there are. It grows if no cut holds over its tolerances, because then others are tried.
    pub of: usize,
}

/// One step of a search.
#[derive(Clone, Debug, PartialEq)]
pub enum SearchStep<T> {
    /// There is more to do.
    Tried(Progress),
    /// The answer, which is the last step.
    Found(T),
}

/// A search in progress: an iterator of steps that take a few milliseconds each. Drop it to end the search.
///
/// The search is a future that waits only for the next call, so that it keeps its place between two steps.
pub struct Searching<T> {
    run: Option<Pin<Box<dyn Future<Output = T>>>>,
    steps: Steps,
}

impl<T> Searching<T> {
    pub(super) fn new<F: Future<Output = T> + 'static>(search: impl FnOnce(Steps) -> F) -> Self {
        let steps = Steps::default();
        Self { run: Some(Box::pin(search(steps.clone()))), steps }
    }
}

impl<T> Iterator for Searching<T> {
    type Item = SearchStep<T>;

    fn next(&mut self) -> Option<SearchStep<T>> {
        match poll(self.run.as_mut()?.as_mut()) {
            Poll::Pending => Some(SearchStep::Tried(self.steps.0.get())),
            Poll::Ready(found) => {
                self.run = None;
                Some(SearchStep::Found(found))
            }
        }
    }
}

/// Does all steps at once.
pub(super) fn finish<T>(search: impl Future<Output = T>) -> T {
    let mut search = pin!(search);
    loop {
        if let Poll::Ready(done) = poll(search.as_mut()) {
            return done;
        }
    }
}

fn poll<T>(search: Pin<&mut (impl Future<Output = T> + ?Sized)>) -> Poll<T> {
    search.poll(&mut Context::from_waker(Waker::noop()))
}

/// Where a search pauses and counts.
#[derive(Clone, Default)]
pub(super) struct Steps(Rc<Cell<Progress>>);

impl Steps {
    /// There are so many more ways to try.
    pub(super) fn expect(&self, more: usize) {
        let Progress { tried, of } = self.0.get();
        self.0.set(Progress { tried, of: of + more });
    }

    /// One more way was tried.
    pub(super) async fn tried(&self) {
        let Progress { tried, of } = self.0.get();
        self.0.set(Progress { tried: tried + 1, of });
        self.pause().await;
    }

    /// The end of a step.
    pub(super) async fn pause(&self) {
        let mut paused = false;
        poll_fn(
            |_| if std::mem::replace(&mut paused, true) { Poll::Ready(()) } else { Poll::Pending },
        )
        .await;
    }
}
