//! The core's part of `benches/against.py`: the windows of pairs and single shifts, as other
//! libraries work them out there.
//!
//! Reads designs in the saved form, `{"windows": […], "shifts": […]}`, and prints the mean seconds that
//! one of each takes, from its rings on: the best of a few rounds.

use std::hint::black_box;
use std::io::read_to_string;
use std::time::Instant;

use crenel::analysis::Analysis;
use crenel::design::{Design, open};
use crenel::pair::{Edges, Mesh};
use crenel::ring::Side;
use crenel::shift::{Shifter, phase_sense};
use serde_json::Value;

const ROUNDS: usize = 200;

fn main() {
    let given = read_to_string(std::io::stdin()).expect("designs are given");
    let given: Value = serde_json::from_str(&given).expect("they are JSON");
    let windows = mean_s(&given["windows"], windows);
    let shifts = mean_s(&given["shifts"], shift);
    println!("{{ \"windows_s\": {windows:e}, \"shifts_s\": {shifts:e} }}");
}

/// Mean time of one piece of work over the designs, the best of all rounds.
fn mean_s(designs: &Value, work: fn(&Analysis)) -> f64 {
    let designs = designs.as_array().expect("a list of designs");
    let opened: Vec<Design> =
        designs.iter().map(|saved| open(&saved.to_string()).expect("it opens").design).collect();
    let analyses: Vec<Analysis> = opened.iter().map(Analysis::of).collect();
    let round = || {
        let start = Instant::now();
        analyses.iter().for_each(work);
        start.elapsed().as_secs_f64() / analyses.len() as f64
    };
    (0..ROUNDS).map(|_| round()).fold(f64::INFINITY, f64::min)
}

/// What blocks what, the windows at tip level, and those that are left at full depth.
fn windows(analysis: &Analysis) {
    let mesh = Mesh::new(analysis.ring(Side::A), analysis.ring(Side::B)).expect("the rings meet");
    black_box(mesh.entry_windows(Edges::Sharp));
    black_box(mesh.engage(analysis.overlap_mm()));
}

/// What blocks what, and one shift to its end.
fn shift(analysis: &Analysis) {
    let shifting = analysis.shift().expect("the design can be shifted");
    let mesh = Mesh::new(analysis.ring(Side::A), analysis.ring(Side::B)).expect("the rings meet");
    let slip = analysis.pair.as_ref().map_or(0.0, |pair| pair.shift_case.slip());
    let shifter = Shifter::new(&mesh, shifting.conditions, phase_sense(slip));
    black_box(shifter.attempt(analysis.phase().radians(), slip));
}
