//! How long the outcome map takes: 512 phases × 512 speed differences on a mixed six-dog pair.
//!
//! `make bench` runs it with the same computation in numpy and in the browser, and prints ratios.
//! `--design` prints the design, for the browser.

use std::time::Instant;

use crenel::analysis::Analysis;

use crenel::design::{Design, EvenLayout, Layout, RingSpec, to_json};
use crenel::model::Chances;

const SIDE: usize = 512;

/// The maps that the app draws one after another, phases by speed differences.
const DRAWN: [(usize, usize); 3] = [(60, 40), (180, 120), (360, 240)];

fn main() {
    let design = mixed_six();
    let flag = |name: &str| std::env::args().any(|a| a == name);
    if flag("--design") {
        return println!("{}", to_json(&design));
    }
    let analysis = Analysis::of(&design);
    let chances = Chances::of(&analysis).expect("the example can be shifted");
    let mut best = f64::INFINITY;
    let mut counts = [0_usize; 6];
    for _ in 0..3 {
        let start = Instant::now();
        let map = chances.map(SIDE, SIDE);
        best = best.min(start.elapsed().as_secs_f64());
        counts = [0; 6];
        map.cells.iter().for_each(|cell| counts[*cell as usize] += 1);
    }
    let mut drawn = f64::INFINITY;
    for _ in 0..3 {
        let start = Instant::now();
        let chances = Chances::of(&Analysis::of(&design)).expect("the example can be shifted");
        for (phases, speeds) in DRAWN {
            std::hint::black_box(chances.map(phases, speeds));
        }
        drawn = drawn.min(start.elapsed().as_secs_f64());
    }
    println!(
        "{{ \"seconds\": {best:.6}, \"drawn_seconds\": {drawn:.6}, \"top_rpm\": {}, \"counts\": {counts:?} }}",
        chances.top_rpm
    );
}

/// Six dogs on six, every second half height, on both.
fn mixed_six() -> Design {
    let even = EvenLayout { heights: vec![1.0, 0.5], ..EvenLayout::default() };
    let ring = RingSpec { layout: Layout::Even(even), ..RingSpec::default() };
    Design { a: ring.clone(), b: ring, ..Design::default() }
}
