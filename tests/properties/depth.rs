//! How deep the rings go and where they jam, against a walk over a grid of phases and depths.

use std::f64::consts::TAU;

use crenel::design::{EvenLayout, Layout, RingSpec};
use crenel::pair::{Arc, Edges, Engagement, Mesh};
use crenel::ring::Ring;
use crenel::units::Angle;
use proptest::prelude::*;

use crate::cases;
use crate::designs::{as_cut, sound_pair};
use crate::oracle::{Level, Oracle, clearance};
use crate::windows::{assert_same, mirrored};

/// Phases on the grid, half a degree apart.
const PHASES: u32 = 720;
const STEP: f64 = TAU / PHASES as f64;

/// Depths at which everything is asked, besides those at which new dogs come into play.
const DEPTHS: u32 = 24;

/// Depths closer than this count as one, mm.
const SAME_MM: f64 = 1e-6;

fn phase(at: usize) -> f64 {
    f64::from(u32::try_from(at).expect("a phase of the grid")) * STEP
}

/// What holds at one depth: the room at every phase of the grid.
struct Row {
    depth_mm: f64,
    room: Vec<f64>,
}

/// The grid from tip level down to a depth. At every depth but the last, dogs whose tips come level
/// block already, because every way goes on below it.
fn rows(oracle: &Oracle, depth_mm: f64) -> Vec<Row> {
    let even = (0..DEPTHS).map(|n| depth_mm * f64::from(n) / f64::from(DEPTHS));
    let levels = oracle.levels().into_iter().filter(|&x| x < depth_mm - SAME_MM);
    let mut depths: Vec<f64> = even.chain(levels).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| *a - *b < SAME_MM);
    let row = |depth_mm: f64, level: Level| {
        let arcs = oracle.arcs(depth_mm, level);
        let room = (0..PHASES as usize).map(|at| clearance(&arcs, phase(at))).collect();
        Row { depth_mm, room }
    };
    let mut rows: Vec<Row> = depths.into_iter().map(|x| row(x, Level::Blocks)).collect();
    rows.push(row(depth_mm, Level::Touches));
    rows
}

/// Walks down the grid: sideways where `beside` lets it between two neighbours with so much room,
/// straight down where `free` says so. Gives the phases reached at each depth.
fn walk(
    rows: &[Row],
    free: impl Fn(f64) -> bool,
    beside: impl Fn(f64, f64) -> bool,
) -> Vec<Vec<bool>> {
    let mut reached = vec![true; PHASES as usize];
    let down = |row: &Row| {
        for (reached, &room) in reached.iter_mut().zip(&row.room) {
            *reached &= free(room);
        }
        spread(&mut reached, &row.room, |a, b| free(a) && free(b) && beside(a, b));
        reached.clone()
    };
    rows.iter().map(down).collect()
}

fn spread(reached: &mut [bool], room: &[f64], beside: impl Fn(f64, f64) -> bool) {
    let turn = reached.len();
    // Twice round each way carries every mark as far as it goes.
    let there = (0..2 * turn).map(|n| (n % turn, (n + 1) % turn));
    let back = (0..2 * turn).rev().map(|n| ((n + 1) % turn, n % turn));
    for (from, to) in there.chain(back) {
        reached[to] |= reached[from] && beside(room[from], room[to]);
    }
}

struct Descent {
    rows: Vec<Row>,
    /// Phases that can be reached for certain: arcs are straight between two depths, so that what
    /// is free at both is free between, and room for more than the step lies between neighbours.
    surely: Vec<Vec<bool>>,
    /// Phases of which none is missing that can be reached, give or take the grid.
    maybe: Vec<Vec<bool>>,
}

impl Descent {
    fn new(oracle: &Oracle, depth_mm: f64) -> Self {
        let rows = rows(oracle, depth_mm);
        let apart = rows.windows(2).map(|r| r[1].depth_mm - r[0].depth_mm).fold(0.0, f64::max);
        let slack = STEP / 2.0 + apart * oracle.steepest() + 1e-9;
        let surely = walk(&rows, |room| room > 1e-9, |a, b| a + b > STEP);
        let maybe = walk(&rows, |room| room > -slack, |_, _| true);
        Self { rows, surely, maybe }
    }

    /// The deepest row that some phase can be reached at.
    fn deepest(&self, reached: &[Vec<bool>]) -> Option<usize> {
        reached.iter().rposition(|row| row.contains(&true))
    }
}

fn holds(windows: &[Arc], phase: f64) -> bool {
    windows.iter().any(|w| w.contains(Angle::from_radians(phase)))
}

fn nearest(phase: f64) -> usize {
    (0..PHASES as usize)
        .find(|&at| {
            let apart = (phase - self::phase(at)).rem_euclid(TAU);
            apart.min(TAU - apart) <= STEP / 2.0 + 1e-12
        })
        .expect("the grid goes all round")
}

fn check_windows(engagement: &Engagement, descent: &Descent) -> Result<(), TestCaseError> {
    let bottom = descent.rows.len() - 1;
    for at in (0..PHASES as usize).filter(|&at| descent.surely[bottom][at]) {
        let held = holds(&engagement.windows, phase(at));
        prop_assert!(held, "{}° is reached, but in no window", phase(at).to_degrees());
    }
    for window in &engagement.windows {
        let middle = nearest(window.middle().radians());
        prop_assert!(descent.maybe[bottom][middle], "{window:?} cannot be reached");
    }
    Ok(())
}

fn check_jam(engagement: &Engagement, descent: &Descent) -> Result<(), TestCaseError> {
    let Some(jam) = engagement.jam else {
        prop_assert!(!engagement.windows.is_empty(), "neither a jam nor a window");
        return Ok(());
    };
    prop_assert!(engagement.windows.is_empty(), "a jam and a window");
    if let Some(row) = descent.deepest(&descent.surely) {
        let reached = descent.rows[row].depth_mm;
        prop_assert!(jam.overlap_mm > reached - SAME_MM, "{jam:?}, but {reached} mm is reached");
    }
    let row = descent.deepest(&descent.maybe).map_or(0.0, |row| descent.rows[row].depth_mm);
    // The last free row ends at the next one.
    let next = descent.rows.iter().map(|r| r.depth_mm).find(|&x| x > row).unwrap_or(row);
    prop_assert!(jam.overlap_mm < next + SAME_MM, "{jam:?}, but no way leads past {row} mm");
    Ok(())
}

/// The same rings with every tapered flank made straight.
fn without_taper(mut rings: [Ring; 2]) -> [Ring; 2] {
    let straight = |angle: Angle| Angle::from_radians(angle.radians().max(0.0));
    for dog in rings.iter_mut().flat_map(|ring| &mut ring.dogs) {
        dog.back_cut.drive = straight(dog.back_cut.drive);
        dog.back_cut.coast = straight(dog.back_cut.coast);
    }
    rings
}

fn engaged(pair: &[RingSpec; 2], asked_mm: f64) -> (Mesh, Oracle, Engagement) {
    let rings: [Ring; 2] = as_cut(pair);
    let mesh = Mesh::new(&rings[0], &rings[1]).expect("sound rings share a band");
    let engagement = mesh.engage(asked_mm);
    (mesh.clone(), Oracle::new(&rings, &mesh.contact), engagement)
}

/// At full depth a low dog of A just reaches down to one of B when their heights make up a tall one.
/// In tenths of a millimetre and of the height the sums are rounded now up, now down.
#[test]
fn tips_that_only_touch_do_not_block() {
    let ring = |tall: f64, share: f64| {
        let even = EvenLayout { count: 2.0, height_mm: tall, ..EvenLayout::default() };
        let layout = Layout::Even(EvenLayout { heights: vec![1.0, share], ..even });
        RingSpec { layout, ..RingSpec::default() }
    };
    for tenths in 20..120 {
        let tall = f64::from(tenths) / 10.0;
        for share in 1..10 {
            let share = f64::from(share) / 10.0;
            let (mesh, _, engagement) =
                engaged(&[ring(tall, share), ring(tall, 1.0 - share)], 50.0);
            let past = mesh.blocks.iter().filter(|b| b.is_past(engagement.full_depth_mm));
            assert_eq!(past.count(), 3, "{tall} mm, {share}");
        }
    }
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn a_walk_down_the_grid_ends_where_the_engagement_does(
        pair in sound_pair(),
        asked in 0.05..9.0,
    ) {
        let (_, oracle, engagement) = engaged(&pair, asked);
        let descent = Descent::new(&oracle, engagement.full_depth_mm);
        check_windows(&engagement, &descent)?;
        check_jam(&engagement, &descent)?;
    }
}

proptest! {
    #![proptest_config(cases(800))]

    #[test]
    fn windows_at_full_depth_are_windows_of_that_depth(
        pair in sound_pair(),
        asked in -2.0..9.0,
    ) {
        let (mesh, _, engagement) = engaged(&pair, asked);
        let open = mesh.windows_at(engagement.full_depth_mm, Edges::Sharp);
        for window in &engagement.windows {
            prop_assert!(open.contains(window), "{window:?} is not in {open:?}");
        }
        let tallest = mesh.tallest_mm[0].min(mesh.tallest_mm[1]);
        prop_assert_eq!(engagement.full_depth_mm, asked.min(tallest));
    }

    #[test]
    fn swapped_or_mirrored_rings_engage_alike(
        pair in sound_pair(),
        asked in 0.05..9.0,
    ) {
        let [a, b] = as_cut(&pair);
        let engage = |a: &Ring, b: &Ring| Mesh::new(a, b).map(|mesh| mesh.engage(asked));
        let engage = |a, b| engage(a, b).expect("sound rings share a band");
        let (plain, swapped) = (engage(&a, &b), engage(&b, &a));
        let mirror = engage(&mirrored(&a), &mirrored(&b));
        assert_same(&plain.windows, &swapped.windows, |at| at);
        assert_same(&plain.windows, &mirror.windows, |at| -at);
        for other in [swapped, mirror] {
            let jams = [&plain, &other].map(|e| e.jam.map_or(f64::INFINITY, |j| j.overlap_mm));
            prop_assert!(jams[0] == jams[1] || (jams[0] - jams[1]).abs() < SAME_MM, "{jams:?}");
        }
    }

    #[test]
    fn a_straight_way_down_is_no_jam(
        pair in sound_pair(),
        asked in 0.05..9.0,
    ) {
        let (mesh, oracle, engagement) = engaged(&pair, asked);
        let rows = rows(&oracle, engagement.full_depth_mm);
        let depths: Vec<f64> = rows.iter().map(|row| row.depth_mm).collect();
        let (bottom, above) = depths.split_last().expect("there is a last row");
        // Middles of windows at the bottom are where a straight way is likeliest.
        for window in mesh.windows_at(*bottom, Edges::Sharp) {
            let middle = window.middle().radians();
            let free = |&x: &f64| clearance(&oracle.arcs(x, Level::Blocks), middle) > 1e-8;
            if above.iter().all(free) {
                prop_assert_eq!(engagement.jam, None);
                prop_assert!(holds(&engagement.windows, middle), "{window:?}");
            }
        }
    }

    #[test]
    fn windows_that_lead_down_are_open_all_the_way(
        pair in sound_pair(),
        hold in 0.05..6.0,
    ) {
        // A tapered flank closes below its tip, which the windows at the tips leave out.
        let rings = without_taper(as_cut(&pair));
        let mesh = Mesh::new(&rings[0], &rings[1]).expect("sound rings share a band");
        let oracle = Oracle::new(&rings, &mesh.contact);
        let entry = mesh.entry_windows(Edges::Sharp);
        for window in mesh.windows_down_to(hold, Edges::Sharp) {
            prop_assert!(entry.iter().any(|w| w.contains(window.middle())), "{window:?}");
            let middle = window.middle().radians();
            for row in rows(&oracle, hold) {
                let level = if row.depth_mm < hold { Level::Blocks } else { Level::Touches };
                let room = clearance(&oracle.arcs(row.depth_mm, level), middle);
                prop_assert!(
                    room > window.width.radians() / 2.0 - 1e-8,
                    "{window:?} has {room} at {} mm", row.depth_mm
                );
            }
        }
    }
}
