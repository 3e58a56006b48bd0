//! Sweeps of a figure, worked out beside the page.
//!
//! A job is `[design, figure, input, from, to, input, from, to, map]`, the last four only where there is a second
//! input. Each answer holds the values known so far, NaN where the design has no such figure.

use js_sys::{Array, Float64Array};
use wasm_bindgen::{JsCast as _, JsValue};

use crenel::design::{Design, to_json};
use crenel::sweep::{Axis, INPUTS, Input, Sweep, sweepable};

use super::{Background, Job, Kind, Post, design_at, number};

/// Points in a slice, and slices between two answers.
const AT_ONCE: usize = 4;
const SLICES: usize = 5;

/// The key of an input, and between which values it is swept.
type Ends = (&'static str, [f64; 2]);

/// What is swept: the key of the figure, and each input with its ends; with two of them whether as a map.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Asked {
    pub(crate) figure: &'static str,
    pub(crate) along: Ends,
    pub(crate) each: Option<Ends>,
    pub(crate) is_map: bool,
}

impl Asked {
    /// The sweep of a design, nothing of it worked out.
    pub(crate) fn of(&self, design: Design) -> Option<Sweep> {
        let figure = sweepable().find(|figure| figure.key == self.figure)?;
        let axis = |make: fn(_, f64, f64) -> Axis, (key, [from, to]): Ends| {
            Some(make(input(key)?, from, to))
        };
        let each = self.each.filter(|each| each.0 != self.along.0);
        Some(match each {
            Some(up) if self.is_map => {
                Sweep::map(design, figure, axis(Axis::side, self.along)?, axis(Axis::side, up)?)
            }
            _ => {
                let each = each.and_then(|each| axis(Axis::few, each));
                Sweep::new(design, figure, axis(Axis::of, self.along)?, each)
            }
        })
    }
}

fn input(key: &str) -> Option<&'static Input> {
    INPUTS.iter().find(|input| input.key() == key)
}

/// Starts a worker that sweeps. `done` receives all values known so far.
pub(crate) fn start(done: impl Fn(Vec<Option<f64>>) + 'static) -> Background {
    Background::start(Kind::Sweeps, move |answer| {
        if let Ok(values) = answer.get(0).dyn_into::<Float64Array>() {
            done(values.to_vec().into_iter().map(|v| Some(v).filter(|v| v.is_finite())).collect());
        }
    })
}

/// Requests a sweep of a design. An earlier request is dropped.
pub(crate) fn ask(background: &Background, design: &Design, asked: &Asked) {
    let job = Array::of2(&to_json(&design.without_box()).into(), &asked.figure.into());
    for (key, [from, to]) in [asked.along].into_iter().chain(asked.each) {
        job.push(&key.into());
        job.push(&from.into());
        job.push(&to.into());
    }
    job.push(&asked.is_map.into());
    background.ask(&job);
}

/// A sweep in progress.
struct Sweeps {
    sweep: Option<Sweep>,
    slices: usize,
}

/// Begins a job.
pub(super) fn begin(job: &Array) -> Box<dyn Job> {
    Box::new(Sweeps { sweep: read(job), slices: 0 })
}

fn read(job: &Array) -> Option<Sweep> {
    let text = |at: u32| job.get(at).as_string();
    let axis =
        |at: u32| Some((input(&text(at)?)?.key(), [number(job, at + 1), number(job, at + 2)]));
    let figure = text(1)?;
    let figure = sweepable().find(|known| known.key == figure)?.key;
    let is_map = job.get(8).is_truthy();
    Asked { figure, along: axis(2)?, each: axis(5), is_map }.of(design_at(job, 0)?)
}

impl Job for Sweeps {
    fn slice(&mut self, post: &Post) -> bool {
        let Some(sweep) = &mut self.sweep else { return false };
        let more = (0..AT_ONCE).all(|_| sweep.work_out_next());
        self.slices += 1;
        if !more || self.slices.is_multiple_of(SLICES) {
            let values: Vec<f64> = sweep.values.iter().map(|v| v.unwrap_or(f64::NAN)).collect();
            post(&Array::of1(&JsValue::from(Float64Array::from(values.as_slice()))));
        }
        more
    }
}
