//! How long one step of a drag takes the core: report, drawings and their marks, as shares of the
//! budget and as ratios between sizes of ring. `make bench` runs it; nothing fails on time.

use std::hint::black_box;
use std::time::{Duration, Instant};

use crenel::analysis::Analysis;
use crenel_words::Language;

use crenel::compare::changes;
use crenel::design::{
    Design, DogSpec, EvenLayout, LAYOUTS, Layout, RingSpec, decode, encode, example, open,
};
use crenel::diagnosis::diagnose;
use crenel::draw::views::{FACE, MAP, UNROLLED, VIEWS};
use crenel::draw::{Turn3, ViewOptions, picture, ring_drawing};
use crenel::export::{dxf, step, stl, svg_markup};
use crenel::fields::{BoxPart, FieldId, Slot};
use crenel::figures::figures;
use crenel::gearset::{Gathering, GearsetAnalysis, cuts_first, faults, restore, shift_table};
use crenel::model::{Chances, Manner, TIMED_SPEEDS, TimeLine, timed_shifts};
use crenel::rework::plan_steps;
use crenel::ring::Side;
use crenel::shift::{Pull, Release, TorqueCut, TwoMasses};
use crenel::solid::{Body, Solid};
use crenel::suggest::{Goal, Search, suggestions};
use crenel::tolerance::{DRAWS, Ranging, Spread, ranges, worst_case};
use crenel::units::DisplayUnits;
use crenel::verdict::{Stage, Verdict, change, headline};

/// What a recompute of six on six may take: the aim is 1 ms.
const BUDGET: Duration = Duration::from_millis(1);

/// What following the dogs after one cut may take: a table of cuts needs hundreds.
const RELEASE: Duration = Duration::from_micros(200);

fn main() {
    let mixed = pair(&even(6.0, 24.0, &[1.0, 0.5]));
    let spline = pair(&even(64.0, 2.6, &[1.0]));
    let worn = pair(&measured(64));
    println!("one recompute of report, three drawings, their marks and handles; aim {BUDGET:?}");
    println!("{:<42}{:>12}{:>14}{:>14}", "design", "median", "of the aim", "to 6 on 6");
    let base = median(|| recompute(&mixed));
    for (name, design) in [
        ("6 on 6, every second half height", &mixed),
        ("64 on 64 spline, all alike", &spline),
        ("64 on 64 measured, no two alike", &worn),
    ] {
        line(name, median(|| recompute(design)), base);
    }
    println!("\nparts, 64 on 64 measured");
    let analysis = Analysis::of(&worn);
    line("analysis alone", median(|| drop(Analysis::of(&worn))), base);
    line("figures alone", median(|| drop(figures(&analysis))), base);
    line("drawings and marks alone", median(|| draw(&analysis)), base);
    println!("\nas found beside as cut, 6 on 6, as in a drag of a cut in the area Rework");
    let planned = planned();
    line("both analyses and all changes", median(|| rework(&planned)), base);
    line(
        "with drawings and marks",
        median(|| {
            rework(&planned);
            recompute(&planned);
        }),
        base,
    );
    verdicts(&mixed, &planned);
    inwards();
    println!("\nfiles and links, 6 on 6");
    let analysis = Analysis::of(&mixed);
    line("link packed", median(|| drop(encode(&mixed))), base);
    let link = encode(&mixed);
    line("link unpacked", median(|| drop(decode(&link))), base);
    line(
        "DXF of one ring",
        median(|| drop(dxf(&ring_drawing(&analysis, Side::A, &link, Language::British)))),
        base,
    );
    smallest(&mixed);
    smallest(&pair(&measured(12)));
    first_ranges();
    releases();
    shifts_in_time();
    solids(&mixed);
    solids(&spline);
    growth();
    map_growth(&mixed);
    map_kinds();
    gearboxes();
}

/// What the report of a whole gearbox may take.
const BOX_BUDGET: Duration = Duration::from_millis(10);

/// A six-speed with a bent fork, read: its report, and a dog of one gear dragged. Counted, because time alone would not
/// tell that other gears are left alone.
fn gearboxes() {
    let text = include_str!("../examples/boxes/six-speed-readings.json");
    let mut design = open(text).expect("the example opens").design;
    assert!(design.set(Slot::Box(BoxPart::Fork(1), FieldId::ForkOffset), 0.4));
    println!("\na whole gearbox of six gears; aim {BOX_BUDGET:?} for its report");
    println!("{:<42}{:>12}{:>14}", "part", "median", "of the aim");
    let row = |name: &str, time: Duration| {
        println!(
            "{name:<42}{time:>12.1?}{:>13.1}%",
            100.0 * time.as_secs_f64() / BOX_BUDGET.as_secs_f64()
        );
    };
    let analysis = GearsetAnalysis::around(&design).expect("it is a gearbox");
    row("its report", median(|| box_report(&design)));
    row(
        "the gears, the drum and their findings",
        median(|| drop(GearsetAnalysis::around(&design))),
    );
    row("the table of all shifts", median(|| drop(shift_table(&analysis))));
    row("which part is at fault", median(|| drop(faults(&analysis))));
    row("which shims bring it back", median(|| drop(restore(&analysis))));
    design.ring_mut(Side::A).outer_diameter_mm += 0.1;
    let drag = || {
        let mut gathering = Gathering::around(&design, Some(&analysis)).expect("it is a gearbox");
        while gathering.step() {}
        gathering
    };
    row("a dog of one gear dragged", median(|| drop(drag().finish())));
    println!("{:<42}{:>12}", "gears worked out again in that", drag().worked_out());
    let begun = Instant::now();
    let cuts = cuts_first(&analysis, DisplayUnits::default()).len();
    row(&format!("where to cut first, {cuts} gears"), begun.elapsed());
}

fn box_report(design: &Design) {
    let analysis = GearsetAnalysis::around(design).expect("it is a gearbox");
    let shifts = shift_table(&analysis);
    black_box(analysis.worst(&shifts));
    black_box(analysis.marks(&shifts));
    black_box(faults(&analysis));
    black_box(restore(&analysis));
}

/// The smallest cut for half as much window again, and the parts made at random for its range.
fn smallest(design: &Design) {
    let analysis = Analysis::of(design);
    let dogs = analysis.ring(Side::A).dogs.len();
    let goal = Goal::Window;
    let Some(range) = worst_case(&analysis, &Spread::of(&analysis), goal) else {
        return println!("\nsmallest cut, {dogs} on {dogs}: the rings do not go in");
    };
    let mut wishing = design.clone();
    wishing.set(Slot::Setting(goal.field().id()), 1.5 * range.greatest);
    let wishing = Analysis::of(&wishing);
    println!("\nsmallest cut and ranges, {dogs} on {dogs}; fastest of {FEW}");
    println!("{:<42}{:>12}{:>12}{:>16}", "", "fastest", "aim", "of the aim");
    let mut search = Search::new(goal, DisplayUnits::default());
    aimed("a cut that holds over its tolerances", SEARCH, || drop(suggestions(&wishing, &search)));
    search.holds = false;
    aimed("a cut at its nominal sizes", SEARCH, || drop(suggestions(&wishing, &search)));
    aimed(&format!("ranges of {DRAWS} parts"), RANGES, || drop(black_box(ranges(&analysis))));
}

/// The first ranges that the app shows.
fn first_ranges() {
    println!("\nthe first ranges after a change; fastest of {FEW}");
    println!("{:<42}{:>12}{:>12}{:>16}", "", "fastest", "aim", "of the aim");
    for (name, layout) in [
        ("6 on 6", even(6.0, 24.0, &[1.0])),
        ("12 on 12 measured", measured(12)),
        ("64 on 64 spline", even(64.0, 2.6, &[1.0])),
        ("64 on 64 measured", measured(64)),
    ] {
        let analysis = Analysis::of(&pair(&layout));
        aimed(name, FIRST_RANGES, || {
            let mut ranging = Ranging::of(&analysis);
            while ranging.step() && !ranging.is_first() {}
            black_box(ranging.to_ranges());
        });
    }
}

/// What the first ranges may take in the browser. Native code is about three times as fast.
const FIRST_RANGES: Duration = Duration::from_millis(300);

/// What a search for the smallest cut, and the ranges of all figures, may take.
const SEARCH: Duration = Duration::from_millis(300);
const RANGES: Duration = Duration::from_millis(200);

/// How often what takes long is done.
const FEW: usize = 5;

/// A line of something that takes long, beside its aim.
fn aimed(name: &str, aim: Duration, mut run: impl FnMut()) {
    let times = (0..FEW).map(|_| {
        let start = Instant::now();
        run();
        start.elapsed()
    });
    let fastest = times.min().unwrap_or_default();
    let share = fastest.as_secs_f64() / aim.as_secs_f64() * 100.0;
    println!("{name:<42}{fastest:>12.1?}{aim:>12.0?}{share:>15.1}%");
}

/// How the old dogs let go after a cut.
fn releases() {
    println!("\nhow the old dogs let go after one cut; aim {RELEASE:?}");
    for (name, damping, stiffness_nm_per_rad, force_n) in [
        ("out before the coast flanks strike", 0.05, 3e3, 250.0),
        ("held by the coast flanks, 0.3 s", 0.05, 3e3, 30.0),
        ("the same without damping", 0.0, 3e3, 30.0),
        ("a hundred times as stiff", 0.02, 3e5, 30.0),
    ] {
        let masses =
            TwoMasses { engine_kg_m2: 4e-3, vehicle_kg_m2: 0.4, stiffness_nm_per_rad, damping };
        let pull = Pull {
            force_n,
            mass_kg: 0.3,
            fastest_m_per_s: None,
            overlap_m: 4.4e-3,
            hold_per_m: [14.1, 14.1],
            lash: 0.2,
            begins_s: 0.0,
        };
        let cut = TorqueCut { engine_nm: 60.0, drag_nm: 8.0, ramp_s: 3e-3 };
        let time = median(|| drop(black_box(Release::of(&masses, &pull, &cut, 0.3))));
        let share = time.as_secs_f64() / RELEASE.as_secs_f64();
        println!("{name:<42}{time:>12.1?}{:>13.1}%", share * 100.0);
    }
}

/// Every upshift of a six-speed at eight engine speeds with the dogs of its own gears, and one shift followed in time.
fn shifts_in_time() {
    let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("one of them");
    let gearset = GearsetAnalysis::of(&six.to_gearset());
    println!("\nshifts without the clutch, six-speed; fastest of {FEW}");
    println!("{:<42}{:>12}{:>12}{:>16}", "", "fastest", "aim", "of the aim");
    let table = |manner| {
        let shifts = gearset.timed_shifts(manner);
        for shift in &shifts {
            for share in TIMED_SPEEDS {
                _ = black_box(shift.at(share * shift.step.engine_rpm));
            }
        }
        shifts
    };
    aimed("cuts of all upshifts at eight speeds", TIMES, || drop(table(Manner::Cut)));
    aimed("blips of all downshifts at eight speeds", TIMES, || drop(table(Manner::Blip)));
    let shifts = table(Manner::Cut);
    let one = shifts.iter().find(|shift| TimeLine::of(shift, shift.step.engine_rpm).is_ok());
    let one = one.expect("one goes in");
    aimed("one shift in time", LINE, || drop(black_box(TimeLine::of(one, one.step.engine_rpm))));
    whole_drivelines();
}

/// The same with all masses and lashes of the driveline, a tyre that slips, and a cush drive at its stop.
fn whole_drivelines() {
    let mut design = example();
    for (id, to) in [
        (FieldId::CutShare, 0.5),
        (FieldId::CarrierInertia, 0.02),
        (FieldId::FreeGearInertia, 4e-4),
        (FieldId::CushTravel, 0.5),
        (FieldId::RearLoad, 400.0),
    ] {
        assert!(design.set(Slot::Setting(id), to));
    }
    let shifts = timed_shifts(&Analysis::of(&design), Manner::Cut);
    for shift in &shifts {
        let line = || TimeLine::of(shift, shift.step.engine_rpm);
        let Ok(told) = line() else { continue };
        let events = told.whole.and_then(Result::ok).map_or(0, |whole| whole.run.events.len());
        let name = format!("{}, whole driveline, {events} events", shift.step.gears());
        aimed(&name, WHOLE_LINE, || drop(black_box(line())));
    }
}

/// What the table of a six-speed, one time line with two masses and one with all may take.
const TIMES: Duration = Duration::from_millis(150);
const LINE: Duration = Duration::from_micros(200);
const WHOLE_LINE: Duration = Duration::from_millis(2);

/// A design with work on both rings.
fn planned() -> Design {
    let text = r#"{ "crenel": 1,
        "a": { "plan": [{ "do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4, 6] },
            { "do": "narrow_coast", "flank_stock_mm": 0.4, "dogs": [1, 3, 5] },
            { "do": "recut_drive", "recut_to_deg": 4, "dogs": [1, 2, 3, 4, 5, 6] }] },
        "b": { "cuts": { "2": "remove", "4": "remove", "6": "remove" } } }"#;
    open(text).expect("it opens").design
}

/// What each step of a drag says beside the analysis. The aim is a third of the whole step.
fn verdicts(mixed: &Design, planned: &Design) {
    println!("\nverdict and the three figures of a stage, on top of the analysis");
    for (name, design) in [("6 on 6, half height", mixed), ("6 on 6, planned", planned)] {
        let analysis = Analysis::of(design);
        let base = median(|| drop(Analysis::of(design)));
        line(&format!("{name}: verdict"), median(|| drop(Verdict::of(&analysis))), base);
        for stage in Stage::ALL {
            let name = format!("{name}: figures of {}", stage.name());
            line(&name, median(|| drop(headline(stage, &analysis))), base);
        }
        let mut turned = design.clone();
        turned.set(Slot::Setting(FieldId::HoldDepth), 1.2);
        let turned = Analysis::of(&turned);
        line(&format!("{name}: change"), median(|| drop(change(&analysis, &turned))), base);
    }
}

/// The parts between foot and dogs, against one analysis of the same pair without them.
fn inwards() {
    println!(
        "\nfrom the pedal inwards, 6 on 6; the last column is to one analysis of the pair alone"
    );
    let pair = Design::default();
    let base = median(|| drop(Analysis::of(&pair)));
    let text = include_str!("../examples/designs/kicks-back.json");
    let design = open(text).expect("the example opens").design;
    line("analysis with every part given", median(|| drop(Analysis::of(&design))), base);
    let analysis = Analysis::of(&design);
    let drawings = || {
        for view in VIEWS.into_iter().filter(|view| !view.is_of_pair()) {
            let frame = view.frame(&analysis, 560.0, view.shape, 12.0);
            let scene = view.draw(&analysis, &frame, &ViewOptions::default());
            black_box(svg_markup(&scene));
            black_box(view.handles(&analysis, &frame, Side::A, 0));
        }
    };
    line("its five drawings, their marks and handles", median(drawings), base);
    line("the whole trace", median(|| drop(diagnose(&analysis))), base);
}

/// What the area Rework works out beside the drawings at every step.
fn rework(design: &Design) {
    let (found, cut) = (Analysis::of(&design.to_found()), Analysis::of(design));
    black_box(changes(&found, &cut));
    for side in Side::BOTH {
        black_box(plan_steps(&cut, side));
    }
}

/// Solid files of one ring and one frame of the picture, against one analysis of the same design.
fn solids(design: &Design) {
    let analysis = Analysis::of(design);
    let base = median(|| drop(Analysis::of(design)));
    let ring = analysis.ring(Side::A);
    println!(
        "\nsolids, {} dogs; the last column is to one analysis of the same design",
        ring.dogs.len()
    );
    let made = |write: &dyn Fn(&Solid)| {
        median(|| Solid::of(ring, &Body::default()).iter().for_each(write))
    };
    line("STEP of one ring", made(&|solid| drop(step(solid, "", ""))), base);
    line("STL of one ring, to 0.01 mm", made(&|solid| drop(stl(&solid.facets(0.01), ""))), base);
    let show = || picture(&analysis, &Body::default(), &Turn3::default(), &ViewOptions::default());
    line("one frame of the picture", median(|| drop(show())), base);
    line("its marks too", median(|| drop(svg_markup(&show()))), base);
}

/// Time against the number of dogs: 64 on 64 are 455 times as many pairs as 3 on 3, and should not cost
/// more than that.
fn growth() {
    println!("\ngrowth of the analysis with the number of dogs, on the same ring; fastest of many");
    println!("{:<12}{:>12}{:>22}{:>16}", "dogs", "all alike", "no two alike", "to 3 dogs");
    let time = |layout: &Layout| {
        let design = pair(layout);
        fastest(|| drop(Analysis::of(&design)))
    };
    let mut first = None;
    for dogs in [3, 6, 12, 24, 48, 64] {
        let alike = time(&even(f64::from(dogs), 360.0 / f64::from(dogs) * 0.4, &[1.0]));
        let unlike = time(&measured(dogs));
        let first = *first.get_or_insert(unlike.as_secs_f64());
        let ratio = unlike.as_secs_f64() / first;
        println!("{dogs:<12}{alike:>12.1?}{unlike:>22.1?}{ratio:>14.1} ×");
    }
}

/// Time of an outcome map against its cells: neighbours that come to the same are found together, so
/// that each cell costs less the finer the map is.
fn map_growth(design: &Design) {
    println!("\ngrowth of the outcome map with its size, 6 on 6, every second half height");
    println!("{:<12}{:>12}{:>22}{:>16}", "cells", "fastest", "for each cell", "to 64²");
    let chances = Chances::of(&Analysis::of(design)).expect("the pair can be shifted");
    let mut first = None;
    for side in [64_u32, 128, 256, 512] {
        let time = fastest(|| drop(chances.map(side as usize, side as usize)));
        let each_ns = time.as_secs_f64() * 1e9 / f64::from(side * side);
        let first = *first.get_or_insert(time.as_secs_f64());
        let ratio = time.as_secs_f64() / first;
        println!("{:<12}{time:>12.1?}{each_ns:>20.1}ns{ratio:>14.1} ×", format!("{side}²"));
    }
}

/// What the outcome map that the app draws last may take, on any rings.
const MAP_BUDGET: Duration = Duration::from_millis(10);

/// The outcome map that the app draws last, on rings whose flanks lean, whose edges are broken, and of which no two dogs
/// are alike.
fn map_kinds() {
    println!("\nthe outcome map as the app draws it last, 360 × 240 cells, by the kind of ring");
    println!("{:<42}{:>12}{:>12}{:>16}", "", "fastest", "aim", "of the aim");
    let leaning = |lean: [f64; 2], edge_break_mm: f64| {
        Layout::Even(EvenLayout {
            heights: vec![1.0, 0.5],
            back_cut_drive_deg: lean[0],
            back_cut_coast_deg: lean[1],
            edge_break_mm,
            ..EvenLayout::default()
        })
    };
    let kinds = [
        ("6 on 6, straight and sharp", leaning([0.0; 2], 0.0)),
        ("6 on 6, edges broken by 0.3 mm", leaning([0.0; 2], 0.3)),
        ("6 on 6, back-cut by 3° and 1°", leaning([3.0, 1.0], 0.0)),
        ("6 on 6, back-cut by 3° and 1°, broken", leaning([3.0, 1.0], 0.3)),
        ("6 on 6, tapered by 2°", leaning([-2.0, -2.0], 0.0)),
        ("6 on 6, tapered by 2°, edges broken", leaning([-2.0, -2.0], 0.3)),
        ("6 on 6, measured, back-cut", measured(6)),
        ("12 on 12, measured, back-cut", measured(12)),
        ("64 on 64, measured, back-cut", measured(64)),
    ];
    for (name, layout) in kinds {
        let chances = Chances::of(&Analysis::of(&pair(&layout))).expect("the pair can be shifted");
        aimed(name, MAP_BUDGET, || drop(black_box(chances.map(360, 240))));
    }
}

fn line(name: &str, time: Duration, base: Duration) {
    let share = time.as_secs_f64() / BUDGET.as_secs_f64();
    let ratio = time.as_secs_f64() / base.as_secs_f64();
    println!("{name:<42}{time:>12.1?}{:>13.1}%{ratio:>14.2}", share * 100.0);
}

fn recompute(design: &Design) {
    let analysis = Analysis::of(design);
    black_box(figures(&analysis));
    draw(&analysis);
}

fn draw(analysis: &Analysis) {
    let chosen = Some((Side::A, 0));
    for view in [&FACE, &UNROLLED, &MAP] {
        let frame = view.frame(analysis, 560.0, 0.38, 12.0);
        let options = ViewOptions { chosen, ..ViewOptions::default() };
        let scene = view.draw(analysis, &frame, &options);
        black_box(svg_markup(&scene));
        black_box(view.handles(analysis, &frame, Side::A, 0));
    }
}

fn median(run: impl FnMut()) -> Duration {
    let times = sorted_times(run);
    times[times.len() / 2]
}

/// The time with the least of anything else in it, for ratios between small and large.
fn fastest(run: impl FnMut()) -> Duration {
    sorted_times(run)[0]
}

fn sorted_times(mut run: impl FnMut()) -> Vec<Duration> {
    let mut times: Vec<_> = (0..41)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    times.sort();
    times
}

fn pair(layout: &Layout) -> Design {
    let ring = RingSpec { layout: layout.clone(), ..RingSpec::default() };
    Design { a: ring.clone(), b: ring, ..Design::default() }
}

fn even(count: f64, tip_width_deg: f64, heights: &[f64]) -> Layout {
    let heights = heights.to_vec();
    Layout::Even(EvenLayout {
        count,
        tip_width_deg,
        heights,
        root_fillet_mm: 0.2,
        ..EvenLayout::default()
    })
}

/// Dogs with small errors of place, width, height and flank, each its own.
fn measured(dogs: u32) -> Layout {
    let pitch = 360.0 / f64::from(dogs);
    let like = EvenLayout::default().dogs()[0];
    let wobble = |at: u32, by: u32, most: f64| f64::from(at * by % 17) / 17.0 * most;
    let dog = |at: u32| DogSpec {
        centre_deg: pitch * f64::from(at) + wobble(at, 5, pitch / 50.0),
        tip_width_deg: pitch * 0.4 - wobble(at, 7, pitch / 50.0),
        height_mm: 5.0 - wobble(at, 11, 0.3),
        back_cut_drive_deg: 3.0 - wobble(at, 3, 1.0),
        ..like
    };
    Layout::Measured((0..dogs).map(dog).collect())
}
