//! Outcome maps, made beside the page.
//!
//! A job is `[top_rpm, design, design, …]`. A `top_rpm` of 0 asks for one that suits each design. Coarse maps come
//! first. The answers are `[index of the design, phases, speeds, top (rad/s), cells, shares]`.

use js_sys::{Array, Float64Array, Uint8Array};
use wasm_bindgen::{JsCast as _, JsValue};

use crenel::analysis::Analysis;
use crenel::design::{Design, to_json};
use crenel::model::Chances;
use crenel::shift::{Outcome, OutcomeMap};

use super::{Background, Job, Kind, Post, design_at, index, number};

/// Phases and speed differences of the maps, in the order in which they are made.
const GRIDS: [(usize, usize); 3] = [(60, 40), (180, 120), (360, 240)];

/// Whether a map is the last of those that are made.
pub(crate) fn is_finest(map: &OutcomeMap) -> bool {
    GRIDS.last().is_some_and(|(_, speeds)| map.speeds == *speeds)
}

/// The index of the first design in a job.
const DESIGNS: u32 = 1;

/// The number of rows in a slice.
const ROWS_AT_ONCE: usize = 4;

/// Starts a worker that makes maps. `done` receives each map as it arrives, with the index of its design.
pub(crate) fn start(done: impl Fn(usize, OutcomeMap) + 'static) -> Background {
    Background::start(Kind::Maps, move |answer| {
        if let Some(map) = read(answer) {
            done(index(answer, 0), map);
        }
    })
}

/// Requests the maps of designs, up to a speed difference in rpm. An earlier request is dropped.
pub(crate) fn ask(background: &Background, top_rpm: f64, designs: &[Design]) {
    let job = Array::of1(&top_rpm.into());
    for design in designs {
        job.push(&to_json(&design.without_box()).into());
    }
    background.ask(&job);
}

fn read(answer: &Array) -> Option<OutcomeMap> {
    let cells = answer.get(4).dyn_into::<Uint8Array>().ok()?.to_vec();
    let outcome = |cell: u8| Outcome::ALL.get(usize::from(cell)).copied();
    let mut map = OutcomeMap::empty(index(answer, 1), index(answer, 2), number(answer, 3));
    map.cells = cells.into_iter().map(outcome).collect::<Option<_>>()?;
    let shares = answer.get(5).dyn_into::<Float64Array>().ok()?.to_vec();
    map.row_shares = shares.as_chunks::<6>().0.to_vec();
    Some(map)
}

/// The maps of a job in progress.
struct Maps {
    /// Each design with its place in the job.
    chances: Vec<(u32, Chances)>,
    /// How many maps are done, over all grids.
    done: usize,
    map: Option<OutcomeMap>,
}

/// Begins a job.
pub(super) fn begin(job: &Array) -> Box<dyn Job> {
    let top_rpm = number(job, 0);
    let chances = (DESIGNS..job.length()).filter_map(|at| {
        let chances = Chances::of(&Analysis::of(&design_at(job, at)?))?;
        Some((at - DESIGNS, if top_rpm > 0.0 { chances.up_to(top_rpm) } else { chances }))
    });
    Box::new(Maps { chances: chances.collect(), done: 0, map: None })
}

impl Job for Maps {
    /// Works out a few rows.
    fn slice(&mut self, post: &Post) -> bool {
        let Some(turn) = self.done.checked_div(self.chances.len()) else { return false };
        let Some(&(phases, speeds)) = GRIDS.get(turn) else { return false };
        let (place, chances) = &self.chances[self.done % self.chances.len()];
        let mut map = self.map.take().unwrap_or_else(|| chances.begin(phases, speeds));
        if (0..ROWS_AT_ONCE).all(|_| chances.next_row(&mut map)) {
            self.map = Some(map);
        } else {
            post(&answer(*place, &map));
            self.done += 1;
        }
        true
    }
}

fn answer(place: u32, map: &OutcomeMap) -> Array {
    let cells: Vec<u8> = map.cells.iter().map(|outcome| *outcome as u8).collect();
    let answer = Array::of1(&place.into());
    #[expect(clippy::cast_precision_loss, reason = "grids are small")]
    let sizes = [map.phases as f64, map.speeds as f64, map.top];
    for size in sizes {
        answer.push(&JsValue::from(size));
    }
    answer.push(&Uint8Array::from(cells.as_slice()));
    answer.push(&Float64Array::from(map.row_shares.as_flattened()));
    answer
}
