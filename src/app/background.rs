//! Works out outcome maps beside the page, in a worker that runs this same module.
//!
//! The page posts a job: `[number, top_rpm, phases, speeds, design, design, …]` with designs in the
//! saved form. A `top_rpm` of 0 asks for one that suits each design; 0 `phases` ask for a coarse map first
//! and finer ones after it. The worker answers with messages
//! `[number, index of the design, phases, speeds, top (rad/s), cells, shares]`. A newer job ends the one in
//! progress.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use gloo_timers::callback::Timeout;
use js_sys::{Array, Float64Array, Uint8Array};
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker, WorkerOptions, WorkerType};

use crenel::analysis::Analysis;

use crenel::design::{Design, open, to_json};
use crenel::model::Chances;
use crenel::shift::{Outcome, OutcomeMap};

/// Phases and speed differences of the maps, in the order in which they are made.
const GRIDS: [(usize, usize); 3] = [(60, 40), (180, 120), (360, 240)];

/// Whether a map is the last of those that are made.
pub(crate) fn is_finest(map: &OutcomeMap) -> bool {
    GRIDS.last().is_some_and(|(_, speeds)| map.speeds == *speeds)
}

/// The index of the first design in a job.
const DESIGNS: u32 = 4;

/// The number of rows between two looks at the clock, and the time that the worker spends before it listens
/// for a newer job, ms.
const ROWS_AT_ONCE: usize = 4;
const SLICE_MS: f64 = 10.0;

// ---- on the page ----

/// The page's side: posts jobs and passes on finished maps.
#[derive(Clone)]
pub(crate) struct Background {
    worker: Option<Worker>,
    ready: Rc<Cell<bool>>,
    /// The newest job, until the worker is ready for it.
    waiting: Rc<RefCell<Option<Array>>>,
    newest: Rc<Cell<u32>>,
}

impl Background {
    /// Starts a worker. `done` receives each map as it arrives, with the index of its design.
    pub(crate) fn start(done: impl Fn(usize, OutcomeMap) + 'static) -> Self {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = script().and_then(|name| Worker::new_with_options(&name, &options).ok());
        let background =
            Self { worker, ready: Rc::default(), waiting: Rc::default(), newest: Rc::default() };
        background.listen(done);
        background
    }

    fn listen(&self, done: impl Fn(usize, OutcomeMap) + 'static) {
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
            let current = number(&answer, 0) == f64::from(this.newest.get());
            if let Some(map) = read(&answer).filter(|_| current) {
                done(index(&answer, 1), map);
            }
        });
        worker.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        // The worker lives as long as the page.
        hear.forget();
    }

    fn post(&self, job: &Array) {
        if let Some(worker) = &self.worker {
            // Strings and numbers can always be posted.
            let _ = worker.post_message(job);
        }
    }

    /// Requests the maps of designs, up to a speed difference in rpm. An earlier request is dropped.
    pub(crate) fn ask(&self, top_rpm: f64, designs: &[Design]) {
        self.newest.set(self.newest.get().wrapping_add(1));
        let job = Array::of4(&self.newest.get().into(), &top_rpm.into(), &0.into(), &0.into());
        for design in designs {
            job.push(&to_json(design).into());
        }
        if self.ready.get() {
            self.post(&job);
        } else {
            *self.waiting.borrow_mut() = Some(job);
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

fn read(answer: &Array) -> Option<OutcomeMap> {
    let cells = answer.get(5).dyn_into::<Uint8Array>().ok()?.to_vec();
    let outcome = |cell: u8| Outcome::ALL.get(usize::from(cell)).copied();
    let mut map = OutcomeMap::empty(index(answer, 2), index(answer, 3), number(answer, 4));
    map.cells = cells.into_iter().map(outcome).collect::<Option<_>>()?;
    let shares = answer.get(6).dyn_into::<Float64Array>().ok()?.to_vec();
    map.row_shares = shares.as_chunks::<6>().0.to_vec();
    Some(map)
}

// ---- in the worker ----

/// The worker's scope, if this module runs in one.
pub(crate) fn worker_scope() -> Option<DedicatedWorkerGlobalScope> {
    js_sys::global().dyn_into().ok()
}

/// Answers jobs for as long as the worker lives.
pub(crate) fn serve(scope: &DedicatedWorkerGlobalScope) {
    let newest: Rc<Cell<u32>> = Rc::default();
    let answering = scope.clone();
    let hear = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let job = event.data().unchecked_into::<Array>();
        newest.set(newest.get().wrapping_add(1));
        let task = Task::of(&job, answering.clone(), newest.clone());
        carry_on(task);
    });
    scope.set_onmessage(Some(hear.as_ref().unchecked_ref()));
    hear.forget();
    post(scope, &Array::new());
}

fn post(scope: &DedicatedWorkerGlobalScope, answer: &Array) {
    // Only numbers and bytes are posted, and those always can be.
    let _ = scope.post_message(answer);
}

/// A job in progress.
struct Task {
    scope: DedicatedWorkerGlobalScope,
    /// Its number on the page, and the count of jobs in the worker when it arrived.
    number: JsValue,
    turn: u32,
    newest: Rc<Cell<u32>>,
    /// Phases and speed differences of the maps, in the order in which they are made.
    grids: Vec<(usize, usize)>,
    /// Each design with its place in the job.
    chances: Vec<(u32, Chances)>,
    /// How many maps are done, over all grids.
    done: usize,
    map: Option<OutcomeMap>,
}

impl Task {
    fn of(job: &Array, scope: DedicatedWorkerGlobalScope, newest: Rc<Cell<u32>>) -> Self {
        let top_rpm = number(job, 1);
        let design = |at: u32| open(&job.get(at).as_string()?).ok().map(|opened| opened.design);
        let grids = match (index(job, 2), index(job, 3)) {
            (0, _) => GRIDS.to_vec(),
            grid => vec![grid],
        };
        let chances = (DESIGNS..job.length()).filter_map(|at| {
            let chances = Chances::of(&Analysis::of(&design(at)?))?;
            Some((at - DESIGNS, if top_rpm > 0.0 { chances.up_to(top_rpm) } else { chances }))
        });
        Self {
            scope,
            number: job.get(0),
            turn: newest.get(),
            newest,
            grids,
            chances: chances.collect(),
            done: 0,
            map: None,
        }
    }

    /// Works out a few rows. Returns whether anything is left to do.
    fn slice(&mut self) -> bool {
        if self.turn != self.newest.get() || self.chances.is_empty() {
            return false;
        }
        let Some(&(phases, speeds)) = self.grids.get(self.done / self.chances.len()) else {
            return false;
        };
        let (place, chances) = &self.chances[self.done % self.chances.len()];
        let mut map = self.map.take().unwrap_or_else(|| chances.begin(phases, speeds));
        if (0..ROWS_AT_ONCE).all(|_| chances.next_row(&mut map)) {
            self.map = Some(map);
        } else {
            self.answer(*place, &map);
            self.done += 1;
        }
        true
    }

    fn answer(&self, place: u32, map: &OutcomeMap) {
        let cells: Vec<u8> = map.cells.iter().map(|outcome| *outcome as u8).collect();
        let answer = Array::of2(&self.number, &place.into());
        #[expect(clippy::cast_precision_loss, reason = "grids are small")]
        let sizes = [map.phases as f64, map.speeds as f64, map.top];
        sizes.into_iter().for_each(|size| {
            answer.push(&size.into());
        });
        answer.push(&Uint8Array::from(cells.as_slice()));
        answer.push(&Float64Array::from(map.row_shares.as_flattened()));
        post(&self.scope, &answer);
    }
}

/// Continues slice by slice, so that a newer job can arrive between two of them.
fn carry_on(mut task: Task) {
    let until = js_sys::Date::now() + SLICE_MS;
    while task.slice() {
        if js_sys::Date::now() > until {
            Timeout::new(0, move || carry_on(task)).forget();
            return;
        }
    }
}
