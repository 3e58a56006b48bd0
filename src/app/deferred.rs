//! Builds the page in small steps. Pieces that are not needed at once are built a moment later, so that the page
//! is drawn early and stays responsive. Pieces that lead to the first drawing come first, rows of long tables last.

use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::time::Duration;

use leptos::prelude::*;
use leptos::task::tick;
use wasm_bindgen_futures::spawn_local;

use crate::dom::now_ms;

type Piece = Box<dyn FnOnce()>;

/// Pieces in the order of the page.
#[derive(Default)]
struct Line {
    waiting: VecDeque<Piece>,
    /// Pieces scheduled since the last one was built. They go before all that wait, so that the page is built in
    /// the order of its text.
    asked: Vec<Piece>,
}

impl Line {
    fn next(&mut self) -> Option<Piece> {
        for piece in self.asked.drain(..).rev() {
            self.waiting.push_front(piece);
        }
        self.waiting.pop_front()
    }

    fn is_empty(&self) -> bool {
        self.waiting.is_empty() && self.asked.is_empty()
    }
}

/// The pieces that are still to be built.
#[derive(Default)]
struct Queue {
    /// Pieces that lead to the first drawing.
    first: Line,
    /// All other pieces.
    rest: Line,
    /// Rows of tables that can be long, of which the rest of the page must not have to wait.
    last: Line,
    /// Whether a timer is running.
    called: bool,
    /// Whether very many pieces wait, or did a moment ago.
    many: bool,
}

thread_local! {
    static QUEUE: RefCell<Queue> = RefCell::default();
    static WAITING: ArcRwSignal<bool> = ArcRwSignal::new(false);
    /// How many parts are being fetched.
    static FETCHING: Cell<usize> = const { Cell::new(0) };
}

/// Whether part of the page is still to be built.
pub(crate) fn is_busy() -> bool {
    WAITING.with(ArcRwSignal::get)
}

/// Does something a moment later.
pub(crate) fn schedule(act: impl FnOnce() + 'static) {
    ask(Box::new(act), Queue::rest);
}

/// Does something a moment later, before pieces that do not lead to the first drawing.
pub(crate) fn schedule_first(act: impl FnOnce() + 'static) {
    ask(Box::new(act), Queue::first);
}

fn ask(piece: Piece, line: fn(&mut Queue) -> &mut Line) {
    QUEUE.with_borrow_mut(|queue| {
        line(queue).asked.push(piece);
        queue.call();
    });
}

impl Queue {
    const fn first(&mut self) -> &mut Line {
        &mut self.first
    }

    const fn rest(&mut self) -> &mut Line {
        &mut self.rest
    }

    const fn last(&mut self) -> &mut Line {
        &mut self.last
    }

    fn call(&mut self) {
        if !self.called {
            self.called = true;
            set_timeout(next, Duration::ZERO);
            say_busy(true);
        }
    }

    fn next(&mut self) -> Option<Piece> {
        if let Some(piece) = self.first.next() {
            return Some(piece);
        }
        let piece = self.rest.next().or_else(|| self.last.next());
        let left = self.rest.waiting.len() + self.last.waiting.len();
        self.many = left + 1 >= VERY_MANY || self.many && piece.is_some();
        piece
    }

    fn is_empty(&self) -> bool {
        [&self.first, &self.rest, &self.last].into_iter().all(Line::is_empty)
    }
}

/// While it lives, part of the page is still to be built.
pub(crate) struct Busy;

impl Busy {
    pub(crate) fn begin() -> Self {
        FETCHING.set(FETCHING.get() + 1);
        say_busy(true);
        Self
    }
}

impl Drop for Busy {
    fn drop(&mut self) {
        FETCHING.set(FETCHING.get() - 1);
        say_busy(QUEUE.with_borrow(|queue| queue.called));
    }
}

fn say_busy(busy: bool) {
    let busy = busy || FETCHING.get() > 0;
    WAITING.with(|waiting| {
        if waiting.get_untracked() != busy {
            waiting.set(busy);
        }
    });
}

/// If very many pieces wait, several are built at once, for so many ms. Otherwise the page would be laid out
/// too often.
const VERY_MANY: usize = 60;
const SPAN_MS: f64 = 50.0;

/// Builds the first piece. Only then is the next one scheduled, so that the browser can draw in between.
fn next() {
    spawn_local(async {
        let began = now_ms();
        while let Some(piece) = QUEUE.with_borrow_mut(Queue::next) {
            piece();
            // Lets the effects that the piece set off run, which are most of the work.
            tick().await;
            if QUEUE.with_borrow(|queue| !queue.many) || now_ms() - began > SPAN_MS {
                break;
            }
        }
        QUEUE.with_borrow_mut(|queue| {
            queue.called = false;
            if queue.is_empty() {
                say_busy(false);
            } else {
                queue.call();
            }
        });
    });
}

/// Content that is built a moment later.
#[component]
pub(crate) fn Deferred(
    /// Whether it leads to the first drawing, and so comes before pieces that do not.
    #[prop(optional)]
    first: bool,
    /// Whether it is a row of a table that can be long, and so comes after everything else.
    #[prop(optional)]
    last: bool,
    children: Children,
) -> impl IntoView {
    let children = StoredValue::new_local(Some(children));
    let due = RwSignal::new(false);
    // Scheduled when it is mounted, not when it is created, so that the order is that of the page.
    move || {
        if !due.get() {
            let line = match (first, last) {
                (true, _) => Queue::first,
                (false, true) => Queue::last,
                (false, false) => Queue::rest,
            };
            let build = move || {
                // By then it may have left the page.
                let _ = due.try_set(true);
            };
            ask(Box::new(build), line);
            return None;
        }
        children.try_update_value(Option::take).flatten().map(|children| children())
    }
}

/// The content of a `<details>`. It is built when the details are first opened, by the summary or by other means,
/// such as a search in the page.
#[derive(Clone, Copy)]
pub(crate) struct LazyDetails(RwSignal<bool>);

impl LazyDetails {
    pub(crate) fn new() -> Self {
        Self(RwSignal::new(false))
    }

    /// Call this on the `click` of the summary, so that the content is there as soon as it is visible, and on the
    /// `toggle` of the `<details>`.
    pub(crate) fn open(self) {
        if !self.0.get_untracked() {
            self.0.set(true);
        }
    }

    pub(crate) fn is_opened(self) -> bool {
        self.0.get()
    }
}
