//! Readings computed from a random ring give that ring back, and only a gross error is marked.

use crenel::design::{Column, Design, GAUGES, Layout, Readings, RingSpec, SPREADS, Wrong};
use crenel::gauging::gauges::{self, Gauge};
use crenel::gauging::{Reading, Shape, Size, Spread, fit};
use crenel::ring::{FlankSide, PlanForm, Side};
use crenel::units::Seeded;
use proptest::prelude::*;

use crate::cases;

/// A worn ring with a pin that fits its gaps.
fn worn(seed: u64) -> Shape {
    let mut random = Seeded::new(seed);
    let dogs = 3 + random.below(6);
    let mut shape = Shape::even(dogs, 20.0 + 20.0 * random.share());
    shape.form = if random.below(2) == 0 { PlanForm::Radial } else { PlanForm::Parallel };
    shape.reach_mm = 2.0;
    shape.datum = (random.below(dogs), FlankSide::BOTH[random.below(2)]);
    let pitch = std::f64::consts::TAU / dogs as f64;
    let mut left = std::f64::consts::TAU;
    for place in 0..dogs {
        let width = pitch * (0.4 + 0.1 * random.share());
        let own = pitch * (0.98 + 0.04 * random.share());
        let gap = if place + 1 < dogs { own - width } else { left - width };
        left -= width + gap;
        shape = shape.with(Size::Width, place, width).with(Size::Gap, place, gap);
        for size in [Size::BackCutDrive, Size::BackCutCoast] {
            shape = shape.with(size, place, 0.1 * random.share() - 0.02);
        }
        shape = shape.with(Size::Height, place, 4.0 + random.share());
        shape = shape.with(Size::EdgeBreak, place, 0.4 * random.share());
    }
    shape
}

/// How many gauges read each dog; the first seven tell spacing and height.
const GAUGES_READ: usize = 11;

/// Every dog by more than one gauge, as an exact reading with its uncertainty.
fn read(shape: &Shape) -> Vec<Reading> {
    let mean = shape.mean_radius_mm;
    let pin = mean * std::f64::consts::TAU / shape.dogs() as f64 * 0.35;
    let set: [(Gauge, f64, f64); GAUGES_READ] = [
        (gauges::chord_mm, 2.0 * mean + 4.0, 0.02),
        (gauges::pin_radius_mm, pin, 0.02),
        (gauges::drive_on_table_deg, 2.0 * mean, 1.0 / 60.0),
        (gauges::coast_on_table_deg, 2.0 * mean, 1.0 / 60.0),
        (gauges::drive_dial_mm, mean, 0.01),
        (gauges::height_from_web_mm, 0.0, 0.02),
        (gauges::height_from_face_mm, 1.5, 0.02),
        (gauges::drive_back_cut_deg, 0.0, 0.25),
        (gauges::coast_back_cut_deg, 0.0, 0.25),
        (gauges::root_chord_mm, 2.0 * mean, 0.02),
        (gauges::edge_radius_mm, 0.0, 0.05),
    ];
    let places = 0..shape.dogs();
    let all = places.flat_map(|place| set.map(|row| (place, row)));
    let exact = all.map(|(place, (gauge, at, sigma))| {
        Reading::new(gauge, place, at, gauge(shape, place, at), sigma)
    });
    exact.collect()
}

/// A start that knows the count, form and datum only.
fn start(shape: &Shape) -> Shape {
    let mut start = Shape::even(shape.dogs(), shape.mean_radius_mm);
    (start.form, start.reach_mm, start.datum) = (shape.form, shape.reach_mm, shape.datum);
    start
}

const SIZES: [Size; 6] =
    [Size::Gap, Size::Width, Size::BackCutDrive, Size::BackCutCoast, Size::Height, Size::EdgeBreak];

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn readings_of_a_ring_give_that_ring_back(seed: u64) {
        let shape = worn(seed);
        let readings = read(&shape);
        let found = fit(&start(&shape), &readings).expect("it is a ring");
        for (place, size) in (0..shape.dogs()).flat_map(|place| SIZES.map(|size| (place, size))) {
            for (_, spread, _) in SPREADS {
                let got = found.size(size, place, spread);
                let off = got.value - shape.size(size, place);
                prop_assert!(off.abs() < 1e-7, "{size:?} of dog {place}: {off}");
                prop_assert!(got.sigma > 0.0 && got.sigma < 0.1, "{size:?}: {}", got.sigma);
            }
            let off = found.centre(place, Spread::Equally).value - shape.centre(place);
            prop_assert!(off.abs() < 1e-7, "centre of dog {place}: {off}");
        }
        prop_assert!(found.checked.iter().all(|one| !one.marked && one.residual.abs() < 1e-6));
    }

    #[test]
    fn noise_is_not_marked_and_a_gross_error_is(seed: u64, which: prop::sample::Index) {
        let shape = worn(seed);
        let mut readings = read(&shape);
        let mut random = Seeded::new(seed ^ 1);
        for reading in &mut readings {
            reading.value += reading.sigma * (2.0 * random.share() - 1.0);
        }
        let found = fit(&start(&shape), &readings).expect("it is a ring");
        prop_assert!(found.checked.iter().all(|one| !one.marked));
        // An error far beyond what the other readings of the dog allow.
        let wrong = which.index(readings.len());
        // An error of a root chord is a far turn of both flanks, where the straight line of the fit does not reach.
        let is_straight = wrong % GAUGES_READ < 7;
        let is_seen = is_straight && found.checked[wrong].sigma.is_some_and(|s| s > readings[wrong].sigma / 3.0);
        readings[wrong].value += 40.0 * readings[wrong].sigma;
        let Ok(found) = fit(&start(&shape), &readings) else { return Ok(()) };
        if is_seen {
            let marked = |at: &usize| found.checked[*at].marked;
            let marks: Vec<usize> = (0..readings.len()).filter(marked).collect();
            // Where few gauges read the same sizes, any of them may be wrong.
            let dog = readings[wrong].place;
            let is_near = |at: &usize| {
                let apart = readings[*at].place.abs_diff(dog);
                apart <= 1 || apart + 1 == shape.dogs()
            };
            prop_assert!(marks.contains(&wrong), "{wrong}: {marks:?}");
            prop_assert!(marks.iter().all(is_near), "{wrong}: {marks:?}");
        }
    }

    /// The same by the names of the catalogue: a ring that is read and used is the ring.
    #[test]
    fn a_ring_as_read_is_the_ring(seed: u64) {
        let shape = worn(seed);
        let mean = shape.mean_radius_mm;
        let mut readings = Readings::new(shape.dogs());
        readings.datum = shape.datum;
        readings.reach_mm = shape.reach_mm;
        for (key, set_at) in [("drive_table", 2.0 * mean), ("coast_table", 2.0 * mean), ("height", 0.0)] {
            let kind = GAUGES.iter().find(|kind| kind.key == key).expect("a gauge");
            let gauge = [
                gauges::drive_on_table_deg as Gauge,
                gauges::coast_on_table_deg,
                gauges::height_from_web_mm,
            ][["drive_table", "coast_table", "height"].iter().position(|k| *k == key).expect("one")];
            let mut column = Column::of(kind, shape.dogs());
            column.set_at = if kind.set_by.is_some() { set_at } else { 0.0 };
            // Straight flanks: the ring that is read has them.
            let straight = straight(&shape);
            for place in 0..shape.dogs() {
                column.cells[place] = Some(gauge(&straight, place, set_at));
            }
            readings.columns.push(column);
        }
        let ring = RingSpec {
            inner_diameter_mm: 2.0 * mean - 8.0,
            outer_diameter_mm: 2.0 * mean + 8.0,
            form: shape.form,
            readings: Some(readings),
            ..RingSpec::default()
        };
        let mut design = Design { a: ring, ..Design::default() };
        prop_assert!(design.use_readings(Side::A));
        let ring = &mut design.a;
        let gauged = ring.gauged().expect("it has readings");
        prop_assert_eq!(&gauged.faults, &Vec::new());
        prop_assert!(ring.typed_by_hand().iter().all(|typed| !typed));
        let Layout::Measured(dogs) = &mut ring.layout else { panic!("as measured") };
        for (place, dog) in dogs.iter().enumerate() {
            let width = shape.size(Size::Width, place).to_degrees();
            prop_assert!((dog.tip_width_deg - width).abs() < 1e-4, "{dog:?} {width}");
            prop_assert!((dog.height_mm - shape.size(Size::Height, place)).abs() < 1e-4);
        }
        dogs[0].tip_width_deg += 0.1;
        prop_assert!(ring.typed_by_hand()[0] && !ring.typed_by_hand()[1]);
        // A reading outside its limits is told at its cell and not used.
        ring.readings.as_mut().expect("given").columns[2].cells[1] = Some(-3.0);
        let gauged = ring.gauged().expect("it has readings");
        prop_assert_eq!(gauged.faults[0].at, Wrong::Cell(2, 1));
    }
}

fn straight(shape: &Shape) -> Shape {
    (0..shape.dogs()).fold(shape.clone(), |shape, place| {
        shape.with(Size::BackCutDrive, place, 0.0).with(Size::BackCutCoast, place, 0.0)
    })
}
