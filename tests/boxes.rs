//! A whole gearbox on the page: what a link of it costs, and what is worked out again when one gear is changed.

use std::fs;
use std::path::Path;

use crenel::analysis::Analysis;
use crenel::design::{
    Cut, DepthSpec, Design, ForkSpec, GearsetSpec, LAYOUTS, Layout, Operation, SetGearSpec, Work,
    decode, encode, open,
};
use crenel::fields::{BoxPart, FieldId, Slot};
use crenel::finding::{Class, Severity};
use crenel::gearset::{FaultPart, Gathering, GearsetAnalysis, Part, faults, restore, shift_table};
use crenel::model::{hardest_shift, hardest_words};
use crenel::ring::Side;
use crenel::shift::Way;
use crenel::stack::Facing;
use crenel_words::Reader;

/// The most characters of a link to a six-speed with every ring measured, planned and stacked up.
const MOST_LETTERS: usize = 4000;

fn six_speed_spec() -> GearsetSpec {
    let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed");
    six.expect("it is one of them").to_gearset()
}

fn six_speed() -> Design {
    Design::in_box(&six_speed_spec(), 0)
}

/// Some digits that follow no rule: parts of a size, from -0.5 to 0.5.
fn digits(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    #[expect(clippy::cast_precision_loss, reason = "two digits")]
    let hundredths = ((*seed >> 40) % 101) as f64;
    hundredths / 100.0 - 0.5
}

/// To a hundredth, as it is typed.
fn typed(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

/// A pair as measured dog by dog, with work planned on both rings and its stack-ups as measured.
fn measured(design: &mut Design, seed: &mut u64) {
    for side in Side::BOTH {
        design.list_dogs(side);
        if let Layout::Measured(dogs) = &mut design.ring_mut(side).layout {
            for dog in dogs {
                dog.centre_deg = typed(dog.centre_deg + digits(seed));
                dog.tip_width_deg = typed(dog.tip_width_deg + digits(seed));
                dog.height_mm = typed(dog.height_mm + 0.2 * digits(seed));
                dog.back_cut_drive_deg = typed(dog.back_cut_drive_deg + digits(seed));
                dog.back_cut_coast_deg = typed(dog.back_cut_coast_deg + digits(seed));
                dog.edge_break_mm = typed(0.2 + 0.2 * digits(seed));
            }
        }
        let plan = &mut design.ring_mut(side).plan;
        let low = typed(3.0 + digits(seed));
        for place in [1, 3] {
            plan.set_cut(place, Some(Cut::Shorten(low)));
        }
        plan.operations.push(Operation::on_all(Work::lap(0.02)));
    }
    let mut depth = DepthSpec::example();
    for facing in Facing::BOTH {
        for link in &mut depth.chains[facing] {
            if let Some(size) = link.field_mut(FieldId::LinkSize) {
                *size = typed(*size + digits(seed));
            }
        }
    }
    design.depth = Some(depth);
}

fn measured_six_speed() -> Design {
    let (mut design, mut seed) = (six_speed(), 7);
    for gear in 0..6 {
        design.open_gear(gear);
        measured(&mut design, &mut seed);
    }
    design
}

/// Every reading of every gear and fork, as they are typed.
fn read(design: &mut Design) {
    let mut seed = 11;
    let gears = (0..6).map(|at| (BoxPart::SeenGear(at), &SetGearSpec::SEEN[..]));
    let forks = (0..3).map(|at| (BoxPart::SeenFork(at), &ForkSpec::SEEN[..]));
    for (part, ids) in gears.chain(forks) {
        for id in ids {
            let usual = id.spec().default;
            assert!(design.set(Slot::Box(part, *id), typed(usual + digits(&mut seed))));
        }
    }
}

#[test]
fn a_link_of_a_measured_six_speed_stays_short() {
    let mut design = measured_six_speed();
    read(&mut design);
    let link = encode(&design);
    assert!(decode(&link).expect("our own link").design == design);
    println!("measured {} plain {}", link.len(), encode(&six_speed()).len());
    assert!(link.len() < MOST_LETTERS, "{} characters", link.len());
}

#[test]
fn only_the_gear_that_is_changed_is_worked_out_again() {
    let mut design = measured_six_speed();
    let before = GearsetAnalysis::around(&design).expect("it has a gearbox");
    assert_eq!(before.gears.len(), 6);
    let worked_out = |design: &Design| {
        let mut gathering = Gathering::around(design, Some(&before)).expect("it has a gearbox");
        while gathering.step() {}
        gathering.worked_out()
    };
    assert_eq!(worked_out(&design), 0);
    design.open_gear(2);
    assert_eq!(worked_out(&design), 0, "looking at another gear changes none");
    design.ring_mut(Side::A).outer_diameter_mm += 0.5;
    assert_eq!(worked_out(&design), 1);
    design.edit_box(|set| set.forks[0].track[0][1] -= 0.1);
    assert_eq!(worked_out(&design), 1, "forks move no ring");
}

#[test]
fn the_bent_fork_of_the_example_is_what_is_worst() {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/boxes/six-speed-bent-fork.json");
    let design = open(&fs::read_to_string(path).expect("it is there")).expect("it opens").design;
    let analysis = GearsetAnalysis::around(&design).expect("it has a gearbox");
    let shifts = shift_table(&analysis);
    let worst = analysis.worst(&shifts);
    assert_eq!(worst.part, Some(Part::Fork(1)), "{worst:?}");
    assert!(worst.gear.is_some_and(|gear| [1, 3].contains(&gear)), "it moves second and fourth");
    let marks = analysis.marks(&shifts);
    let gravest = marks.iter().map(|mark| mark.class).min().expect("six of them");
    let worst: Vec<_> = (0..6).filter(|gear| marks[*gear].class == gravest).collect();
    // Whatever gear its fork can lock up with another is none to ride in.
    assert_eq!(worst, [0, 1, 2, 3, 4, 5]);
    assert_eq!(analysis.forks_on_drum, [0, 1, 2]);
}

/// The dogs of a gear are judged by the shifts into it, not by those of the gears beside it.
#[test]
fn the_hardest_shift_of_a_gear_is_one_into_it() {
    for gear in 0..6 {
        let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("one of them");
        let design = Design::in_box(&six.to_gearset(), gear);
        let alone = Analysis::of(&design.without_box());
        let own = hardest_shift(&Analysis::of(&design)).and_then(|shift| shift.step).expect("one");
        let of_all = hardest_shift(&alone).and_then(|shift| shift.step).expect("one");
        assert_eq!(own.to, gear);
        assert!(of_all.slip_rpm.abs() >= own.slip_rpm.abs(), "{gear}");
    }
}

/// Whose dogs the hardest shift is told for: those of the open gear in a whole gearbox, else every gear's.
#[test]
fn the_hardest_shift_is_told_with_the_dogs_that_it_is_for() {
    let design = Design::in_box(&six_speed_spec(), 3);
    let told = |design: &Design, way: Way| {
        let words = hardest_words(&Analysis::of(design), way);
        words.first().map(|first| first.show(Reader::default())).unwrap_or_default()
    };
    assert!(told(&design, Way::Up).starts_with("Hardest upshift into these dogs: 3→4."));
    assert!(told(&design, Way::Down).starts_with("Hardest downshift into these dogs: 5→4."));
    let alone = told(&design.without_box(), Way::Up);
    assert!(alone.starts_with("Hardest upshift if every gear has these dogs: "), "{alone}");
}

/// Dogs that go in and hold can still carry more than they may: no gear is ticked that does.
#[test]
fn a_gear_whose_dogs_carry_too_much_is_marked_and_told() {
    let mut design = six_speed();
    let judged = |design: &Design| {
        let analysis = GearsetAnalysis::around(design).expect("a gearbox");
        let shifts = shift_table(&analysis);
        let marks = analysis.marks(&shifts);
        let over: Vec<_> =
            (0..marks.len()).filter(|gear| marks[*gear].class == Class::Stress).collect();
        (over, analysis.worst(&shifts))
    };
    let (over, worst) = judged(&design);
    assert_eq!(over, [0, 1], "the lowest gears turn the torque up most");
    assert_eq!((worst.class, worst.gear, worst.step), (Class::Stress, Some(0), None));
    let says = worst.says.show(Reader::default());
    assert!(says.starts_with("Gear 1 carries too much. Flank pressure is 119 MPa"), "{says}");
    // Each gear has its own limits.
    for (allowed, mpa) in [(FieldId::AllowedPressure, 200.0), (FieldId::AllowedShear, 200.0)] {
        assert!(design.set(Slot::Setting(allowed), mpa));
    }
    let (over, worst) = judged(&design);
    assert_eq!((over.as_slice(), worst.gear), ([1].as_slice(), Some(1)), "{worst:?}");
}

#[test]
fn the_readings_of_the_example_name_the_fork() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/boxes/six-speed-readings.json");
    let design = open(&fs::read_to_string(path).expect("it is there")).expect("it opens").design;
    let analysis = GearsetAnalysis::around(&design).expect("it has a gearbox");
    let graves =
        analysis.findings.iter().filter(|placed| placed.finding.severity != Severity::Note);
    assert_eq!(graves.count(), 0, "its sizes are those of the maker");
    let traced = faults(&analysis).expect("it has readings");
    let first = &traced.suspects[0];
    assert_eq!((first.part, first.gears.as_slice()), (FaultPart::Fork(1), [1, 3].as_slice()));
    assert!(first.is_blamed && (first.size - 0.4).abs() < 0.1, "{first:?}");
    assert!(traced.suspects[1..].iter().all(|suspect| !suspect.is_blamed));
    // Read with the fork as it is, the same box is sound but for that.
    let mut bent = design.clone();
    bent.set(Slot::Box(BoxPart::Fork(1), FieldId::ForkOffset), 0.4);
    let bent = GearsetAnalysis::around(&bent).expect("it has a gearbox");
    assert!(faults(&bent).expect("it has readings").sound > 0.5);
    let shims = restore(&bent);
    assert_eq!(shims[0].shims.len(), 1, "{shims:?}");
    assert!(shims[0].after.is_kept());
}
