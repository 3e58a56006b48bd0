//! Works things out beside the page, in workers that run this same module.
//!
//! Each worker does jobs of any kind, one at a time. The page posts `[number, kind, …]`, and what follows is the
//! job of that kind. The worker answers with messages `[number, …]`. A newer job ends the one in progress, and a job
//! of no kind does nothing else.

pub(crate) mod cuts;
pub(crate) mod maps;
pub(crate) mod photo;
pub(crate) mod ranges;
pub(crate) mod sweeps;
mod wish;

use std::cell::{Cell, RefCell};
use std::pin::Pin;
use std::rc::Rc;
use std::time::Duration;

use gloo_timers::callback::Timeout;
use gloo_timers::future::sleep;
use js_sys::Array;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use wasm_bindgen_futures::spawn_local;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker, WorkerOptions, WorkerType};

use crenel::design::{Design, open};

pub(crate) use wish::Wish;

/// What a job is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Outcome maps.
    Maps,
    /// The smallest cut.
    Cuts,
    /// Ranges over tolerances.
    Ranges,
    /// A figure over one or two inputs.
    Sweeps,
    /// A photograph.
    Photo,
}

/// A job that has begun, or why its code is not there.
type Begun = Result<Box<dyn Job>, SplitLoaderError>;

/// Begins a job, once its code is fetched.
type Begin = fn(Array) -> Pin<Box<dyn Future<Output = Begun>>>;

/// How a job of each kind begins, in the order of [`Kind`].
const BEGIN: [Begin; 5] = [
    |job| Box::pin(begin_maps(job)),
    |job| Box::pin(begin_cuts(job)),
    |job| Box::pin(begin_ranges(job)),
    |job| Box::pin(begin_sweeps(job)),
    |job| Box::pin(begin_photo(job)),
];

#[wasm_split(shop, wasm_split_path = leptos::wasm_split, fallible)]
fn begin_maps(job: Array) -> Begun {
    Ok(maps::begin(&job))
}

#[wasm_split(shop, wasm_split_path = leptos::wasm_split, fallible)]
fn begin_cuts(job: Array) -> Begun {
    Ok(cuts::begin(&job))
}

#[wasm_split(shop, wasm_split_path = leptos::wasm_split, fallible)]
fn begin_ranges(job: Array) -> Begun {
    Ok(ranges::begin(&job))
}

#[wasm_split(shop, wasm_split_path = leptos::wasm_split, fallible)]
fn begin_sweeps(job: Array) -> Begun {
    Ok(sweeps::begin(&job))
}

#[wasm_split(photo, wasm_split_path = leptos::wasm_split, fallible)]
fn begin_photo(job: Array) -> Begun {
    Ok(photo::begin(&job))
}

/// How long the worker waits before it fetches the code of a job once more.
const PATIENCE: Duration = Duration::from_secs(3);

/// The time that the worker spends before it listens for a newer job, ms.
const SLICE_MS: f64 = 10.0;

// ---- on the page ----

/// The page's side: posts jobs and passes on answers.
#[derive(Clone)]
pub(crate) struct Background {
    kind: Kind,
    worker: Option<Worker>,
    ready: Rc<Cell<bool>>,
    /// The newest job, until the worker is ready for it.
    waiting: Rc<RefCell<Option<Array>>>,
    newest: Rc<Cell<u32>>,
}

impl Background {
    /// Starts a worker. `done` receives each answer to the newest job as it arrives, without the number.
    fn start(kind: Kind, done: impl Fn(&Array) + 'static) -> Self {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = script().and_then(|name| Worker::new_with_options(&name, &options).ok());
        let background = Self {
            kind,
            worker,
            ready: Rc::default(),
            waiting: Rc::default(),
            newest: Rc::default(),
        };
        background.listen(done);
        background
    }

    fn listen(&self, done: impl Fn(&Array) + 'static) {
        let Some(worker) = &self.worker else { return };
        let this = self.clone();
        let hear = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let answer = event.data().unchecked_into::<Array>();
            if !this.ready.replace(true) {
                // The first message says that the worker is ready.
                if let Some(job) = this.waiting.take() {
                    this.post(&job);
                }
                return;
            }
            let number = answer.shift().as_f64();
            if number == Some(f64::from(this.newest.get())) {
                done(&answer);
            }
        });
        worker.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        // The worker lives as long as the page, but for one that is ended.
        hear.forget();
    }

    fn post(&self, job: &Array) {
        if let Some(worker) = &self.worker {
            // Strings and numbers can always be posted.
            let _ = worker.post_message(job);
        }
    }

    /// Posts a job. An earlier one is dropped.
    fn ask(&self, job: &Array) {
        self.send(&Array::of1(&(self.kind as u32).into()).concat(job));
    }

    /// Ends the job in progress.
    pub(crate) fn cancel(&self) {
        self.send(&Array::new());
    }

    /// Ends the worker, and gives back its memory.
    pub(crate) fn end(&self) {
        if let Some(worker) = &self.worker {
            worker.terminate();
        }
    }

    fn send(&self, message: &Array) {
        self.newest.set(self.newest.get().wrapping_add(1));
        message.unshift(&self.newest.get().into());
        if self.ready.get() {
            self.post(message);
        } else {
            *self.waiting.borrow_mut() = Some(message.clone());
        }
    }
}

/// The worker's script, which the build names after the module it belongs to.
fn script() -> Option<String> {
    let link = document().query_selector("link[rel=modulepreload]").ok().flatten()?;
    let module = link.get_attribute("href")?;
    Some(module.replace("crenel-app-", "worker-"))
}

fn number(answer: &Array, at: u32) -> f64 {
    answer.get(at).as_f64().unwrap_or_default()
}

/// A small whole number in an answer.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "our own small numbers"
)]
fn index(answer: &Array, at: u32) -> usize {
    number(answer, at) as usize
}

/// A design in its saved form.
fn design_at(job: &Array, at: u32) -> Option<Design> {
    open(&job.get(at).as_string()?).ok().map(|opened| opened.design)
}

// ---- in the worker ----

/// Posts an answer.
type Post<'a> = dyn Fn(&Array) + 'a;

/// A job in progress.
trait Job {
    /// Does a little of it. Returns whether anything is left to do.
    fn slice(&mut self, post: &Post) -> bool;
}

/// The worker's scope, if this module runs in one.
pub(crate) fn worker_scope() -> Option<DedicatedWorkerGlobalScope> {
    js_sys::global().dyn_into().ok()
}

/// Answers jobs for as long as the worker lives.
pub(crate) fn serve(scope: &DedicatedWorkerGlobalScope) {
    let newest: Rc<Cell<u32>> = Rc::default();
    let answering = scope.clone();
    let hear = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let message = event.data().unchecked_into::<Array>();
        newest.set(newest.get().wrapping_add(1));
        let (turn, newest, scope) = (newest.get(), newest.clone(), answering.clone());
        let number = message.shift();
        let begin = (message.length() > 0).then(|| BEGIN.get(index(&message, 0))).flatten();
        let Some(begin) = begin else { return };
        message.shift();
        let post = move |answer: &Array| {
            answer.unshift(&number);
            post(&scope, answer);
        };
        spawn_local(async move {
            while turn == newest.get() {
                if let Ok(job) = begin(message.clone()).await {
                    return carry_on(Task { job, post: Box::new(post), turn, newest });
                }
                sleep(PATIENCE).await;
            }
        });
    });
    scope.set_onmessage(Some(hear.as_ref().unchecked_ref()));
    hear.forget();
    post(scope, &Array::new());
}

fn post(scope: &DedicatedWorkerGlobalScope, answer: &Array) {
    // Only texts, numbers and bytes are posted, and those always can be.
    let _ = scope.post_message(answer);
}

/// A job with its place among those that arrived.
struct Task {
    job: Box<dyn Job>,
    post: Box<Post<'static>>,
    /// The count of jobs in the worker when it arrived.
    turn: u32,
    newest: Rc<Cell<u32>>,
}

/// Continues slice by slice, so that a newer job can arrive between two of them.
fn carry_on(mut task: Task) {
    let until = js_sys::Date::now() + SLICE_MS;
    while task.turn == task.newest.get() && task.job.slice(&task.post) {
        if js_sys::Date::now() > until {
            Timeout::new(0, move || carry_on(task)).forget();
            return;
        }
    }
}
