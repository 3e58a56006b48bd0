//! Ranges of figures over the tolerances of a design, worked out beside the page.
//!
//! A job is `[design]`. Each answer is `[key, numbers, key, numbers, …]`, where the numbers are least and greatest in the
//! worst case, 5, 50 and 95 % of the parts, the share of those that do not go in, and for each size that drives the
//! figure its ring, place and kind and the figure at its two limits. The first answer is after a few draws.

use std::cell::RefCell;
use std::future::{Future, poll_fn};
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

use js_sys::{Array, Float64Array};
use wasm_bindgen::JsCast as _;

use crenel::analysis::Analysis;
use crenel::design::{Design, to_json};
use crenel::fields::Slot;
use crenel::ring::Side;
use crenel::tolerance::{FigureRange, Ranging, Size};

use super::{Background, Job, Kind, Post, design_at};

/// The numbers before the drivers, and those of each driver.
const PLAIN: usize = 6;
const OF_DRIVER: usize = 5;

/// The range of one figure.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FigureSpan {
    pub(crate) key: String,
    /// Least and greatest in the worst case.
    pub(crate) worst: [f64; 2],
    /// What 5, 50 and 95 % of the parts are at or below.
    pub(crate) shares: [f64; 3],
    /// The share of the parts whose rings do not go in.
    pub(crate) not_in: f64,
    /// The sizes that move it most, with the figure at the lower and at the upper limit of each.
    pub(crate) drivers: Vec<(Slot, [f64; 2])>,
}

/// Starts a worker that finds ranges.
pub(crate) fn start(done: impl Fn(Vec<FigureSpan>) + 'static) -> Background {
    Background::start(Kind::Ranges, move |answer| {
        let pairs = (0..answer.length() / 2).map(|at| 2 * at);
        done(pairs.filter_map(|at| read(answer, at)).collect());
    })
}

/// Requests the ranges of a design. An earlier request is dropped.
pub(crate) fn ask(background: &Background, design: &Design) {
    background.ask(&Array::of1(&to_json(&design.without_box()).into()));
}

fn read(answer: &Array, at: u32) -> Option<FigureSpan> {
    let key = answer.get(at).as_string()?;
    let numbers = answer.get(at + 1).dyn_into::<Float64Array>().ok()?.to_vec();
    let (plain, drivers) = numbers.split_first_chunk::<PLAIN>()?;
    let [least, greatest, p05, p50, p95, not_in] = *plain;
    let driver = |[side, place, size, at_minus, at_plus]: &[f64; OF_DRIVER]| {
        let side = *Side::BOTH.get(whole(*side))?;
        let slot = Slot::Dog(side, whole(*place), Size::ALL.get(whole(*size))?.field());
        Some((slot, [*at_minus, *at_plus]))
    };
    Some(FigureSpan {
        key,
        worst: [least, greatest],
        shares: [p05, p50, p95],
        not_in,
        drivers: drivers.as_chunks().0.iter().filter_map(driver).collect(),
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "our own small numbers"
)]
const fn whole(number: f64) -> usize {
    number as usize
}

/// A sampling in progress. It is a future that waits only for the next slice, because it borrows from the analysis
/// that it owns.
struct Ranges {
    run: Pin<Box<dyn Future<Output = ()>>>,
    /// An answer that is to be posted.
    out: Rc<RefCell<Option<Array>>>,
}

/// Begins a job.
pub(super) fn begin(job: &Array) -> Box<dyn Job> {
    let design = design_at(job, 0).unwrap_or_default();
    let out: Rc<RefCell<Option<Array>>> = Rc::default();
    let answer = Rc::clone(&out);
    let run = async move {
        let analysis = Analysis::of(&design);
        let mut ranging = Ranging::of(&analysis);
        let mut is_answered = false;
        while ranging.step() {
            if ranging.is_first() && !is_answered {
                is_answered = true;
                *answer.borrow_mut() = Some(written(&ranging.to_ranges()));
            }
            pause().await;
        }
        *answer.borrow_mut() = Some(written(&ranging.to_ranges()));
    };
    Box::new(Ranges { run: Box::pin(run), out })
}

/// The end of a slice.
async fn pause() {
    let mut paused = false;
    poll_fn(|_| if std::mem::replace(&mut paused, true) { Poll::Ready(()) } else { Poll::Pending })
        .await;
}

impl Job for Ranges {
    fn slice(&mut self, post: &Post) -> bool {
        let run = self.run.as_mut().poll(&mut Context::from_waker(Waker::noop()));
        if let Some(answer) = self.out.take() {
            post(&answer);
        }
        run.is_pending()
    }
}

fn written(ranges: &[FigureRange]) -> Array {
    let answer = Array::new();
    for range in ranges {
        let [p05, p50, p95] = range.shares;
        let mut numbers =
            vec![range.worst.least, range.worst.greatest, p05, p50, p95, range.not_in];
        for driver in &range.drivers {
            let at = [driver.side as usize, driver.place, driver.size as usize];
            #[expect(clippy::cast_precision_loss, reason = "small numbers")]
            numbers.extend(at.map(|at| at as f64));
            numbers.extend([driver.at_minus, driver.at_plus]);
        }
        answer.push(&range.figure.key.into());
        answer.push(&Float64Array::from(numbers.as_slice()));
    }
    answer
}
