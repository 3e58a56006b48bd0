//! One shift, against the check tables: shares over 2000 phases, closed forms, and what must hold
//! on any pair.

use std::f64::consts::TAU;

use crenel::pair::Mesh;
use crenel::ring::{EvenLayout, Layout, Ring, RingSpec};
use crenel::shift::{Attempt, Conditions, Drive, Ending, Shifter, Travel};

const PHASES: u32 = 2000;

fn ring(mean_mm: f64, even: EvenLayout) -> Ring {
    let (inner_diameter_mm, outer_diameter_mm) = (2.0 * mean_mm - 8.0, 2.0 * mean_mm + 8.0);
    let layout = Layout::Even(even);
    RingSpec { inner_diameter_mm, outer_diameter_mm, layout, ..RingSpec::default() }.as_found()
}

fn dogs(count: f64, tip_width_deg: f64) -> EvenLayout {
    EvenLayout { count, tip_width_deg, ..EvenLayout::default() }
}

fn half_height() -> EvenLayout {
    EvenLayout { heights: vec![1.0, 0.5], ..dogs(6.0, 24.0) }
}

/// Conditions of check M1.
fn m1() -> Conditions {
    Conditions {
        travel: Travel {
            drive: Drive::Force,
            force_n: 120.0,
            mass_kg: 0.3,
            drum_speed_m_per_s: 1.0,
            start_speed_m_per_s: 0.12,
        },
        hold_mm: 1.0,
        full_mm: 4.5,
        friction: 0.10,
        friction_radius_mm: 25.0,
        inertia_kg_m2: 1e-3,
        drag_nm: 0.0,
        strike_loss: 0.0,
        allowed_s: 10.0,
    }
}

/// Conditions of check S1: in means at the hold depth, so that is where time stops.
fn s1() -> Conditions {
    let travel = Travel { force_n: 100.0, mass_kg: 0.25, start_speed_m_per_s: 0.15, ..m1().travel };
    Conditions { travel, hold_mm: 1.5, full_mm: 1.5, friction_radius_mm: 20.0, ..m1() }
}

fn every_phase(
    ring: &Ring,
    conditions: Conditions,
    shift: impl Fn(&Shifter, f64) -> Attempt,
) -> Vec<Attempt> {
    let mesh = Mesh::new(ring, ring).expect("one band");
    let shifter = Shifter::new(&mesh, conditions, 1.0);
    (0..PHASES)
        .map(|step| shift(&shifter, (f64::from(step) + 0.5) / f64::from(PHASES) * TAU))
        .collect()
}

fn share(attempts: &[Attempt], which: impl Fn(&Attempt) -> bool) -> f64 {
    let count = attempts.iter().filter(|a| which(a)).count();
    f64::from(u32::try_from(count).expect("few")) / f64::from(PHASES)
}

fn first_pass(ring: &Ring, conditions: Conditions, rpm: f64) -> Vec<Attempt> {
    every_phase(ring, conditions, |shifter, phase| shifter.first_pass(phase, rpm * TAU / 60.0))
}

fn unstruck(ending: Ending) -> impl Fn(&Attempt) -> bool {
    move |a| a.strikes == 0 && a.ending == ending
}

/// What the table says, and what came out: name, wanted, got, tolerance.
type Row = (String, f64, f64, f64);

fn check(rows: &[Row], count: usize) {
    let wrong: Vec<_> = rows.iter().filter(|(_, want, got, by)| (want - got).abs() > *by).collect();
    println!("{} numbers of one shift checked", rows.len());
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert_eq!(rows.len(), count, "a row has vanished");
}

#[test]
fn mixed_heights_as_in_check_m1() {
    // Derived by independent time stepping over 2000 phases, no published source; two decimals.
    let rings = [
        ("half height", half_height()),
        ("plain six", dogs(6.0, 24.0)),
        ("plain three", dogs(3.0, 24.0)),
    ];
    let at_300 = [[0.16, 0.80, 0.04], [0.14, 0.80, 0.06], [0.57, 0.40, 0.03]];
    let at_50 = [[0.38, 0.38], [0.76, 0.0], [0.38, 0.0]];
    let mut rows = Vec::new();
    for (((name, even), fast), slow) in rings.into_iter().zip(at_300).zip(at_50) {
        let ring = ring(25.0, even);
        let got = first_pass(&ring, m1(), 300.0);
        let shares = [
            share(&got, unstruck(Ending::StraightIn)),
            share(&got, unstruck(Ending::AfterRubbing)),
            share(&got, |a| a.strikes > 0),
        ];
        for (what, (want, got)) in
            ["straight", "rubbed", "struck"].iter().zip(fast.iter().zip(shares))
        {
            rows.push((format!("M1 {name} 300 rpm {what}"), *want, got, 0.005));
        }
        let got = first_pass(&ring, m1(), 50.0);
        let shares = [Ending::Locked, Ending::HalfIn].map(|e| share(&got, unstruck(e)));
        for (what, (want, got)) in ["locked", "half in"].iter().zip(slow.iter().zip(shares)) {
            rows.push((format!("M1 {name} 50 rpm {what}"), *want, got, 0.005));
        }
    }
    check(&rows, 15);
}

#[test]
fn equal_dogs_as_in_check_s1() {
    // Closed form and independent time stepping agree; derived, no published source.
    let five = ring(20.0, dogs(5.0, 26.0));
    let first = [
        (0.0, 0.2778),
        (50.0, 0.3224),
        (100.0, 0.4760),
        (150.0, 0.7388),
        (200.0, 0.9602),
        (800.0, 0.8407),
        (1500.0, 0.0),
    ];
    let ended =
        [(50.0, 0.3224, 3.92), (100.0, 0.4761, 10.55), (150.0, 0.7388, 20.0), (200.0, 1.0, 24.2)];
    let mut rows = Vec::new();
    for (rpm, want) in first {
        let got = first_pass(&five, s1(), rpm);
        let share = share(&got, |a| a.strikes == 0 && a.is_in());
        // A grid of 2000 phases falls on 1/400 of the pitch.
        rows.push((format!("S1 first pass {rpm} rpm"), want, share, 0.0026));
    }
    for (rpm, want, mean_ms) in ended {
        let got =
            every_phase(&five, s1(), |shifter, phase| shifter.attempt(phase, rpm * TAU / 60.0));
        rows.push((format!("S1 in the end {rpm} rpm"), want, share(&got, Attempt::is_in), 0.0026));
        let times: Vec<_> = got.iter().filter(|a| a.is_in()).map(|a| a.time_s * 1000.0).collect();
        let mean = times.iter().sum::<f64>() / f64::from(u32::try_from(times.len()).expect("few"));
        rows.push((format!("S1 mean ms {rpm} rpm"), mean_ms, mean, 0.15));
    }
    check(&rows, 15);
}

/// The closed-form first-pass shares of equal dogs.
fn closed_form(b: f64, pitch: f64, slip: f64, c: &Conditions) -> [f64; 3] {
    let land = pitch - b;
    let fading = c.fading();
    let stop = slip * slip / (2.0 * fading);
    let cap = b / c.travel.seconds_from_rest(c.hold_mm);
    let d = ((slip * slip - cap * cap) / (2.0 * fading)).max(0.0);
    [
        (b - slip * c.travel.seconds_to(c.hold_mm)).max(0.0) / pitch,
        (land.min(stop) - d).max(0.0) / pitch,
        (land - stop).max(0.0) / pitch,
    ]
}

#[test]
fn closed_form_shares_over_a_sweep() {
    let mut seen = 0;
    for count in [3.0, 5.0, 6.0] {
        for width in [12.0, 20.0, 26.0] {
            let ring = ring(20.0, dogs(count, width));
            let pitch = TAU / count;
            let b = pitch - 2.0 * width.to_radians();
            for rpm in [20.0, 60.0, 120.0, 240.0, 480.0, 960.0, 1900.0] {
                let slip = rpm * TAU / 60.0;
                let got = first_pass(&ring, s1(), rpm);
                let shares = [Ending::StraightIn, Ending::AfterRubbing, Ending::Locked]
                    .map(|e| share(&got, unstruck(e)));
                let want = closed_form(b, pitch, slip, &s1());
                for (want, got) in want.into_iter().zip(shares) {
                    assert!(
                        (want - got).abs() < 0.004,
                        "{count} × {width}° {rpm} rpm: {want} {got}"
                    );
                    seen += 1;
                }
            }
        }
    }
    println!("{seen} closed-form shares checked");
}

#[test]
fn a_path_is_whole_and_turns_with_the_rings() {
    let ring = ring(25.0, half_height());
    let mesh = Mesh::new(&ring, &ring).expect("one band");
    let drives = [Drive::Force, Drive::Drum, Drive::Both];
    for (direction, drive) in [1.0, -1.0].into_iter().flat_map(|d| drives.map(|drive| (d, drive))) {
        let travel = Travel { drive, drum_speed_m_per_s: 0.3, ..m1().travel };
        let shifter = Shifter::new(&mesh, Conditions { travel, ..m1() }, direction);
        for step in 0..500 {
            let phase = f64::from(step) * 0.0127;
            let slip = f64::from(step % 50);
            let traced = shifter.trace(phase, slip);
            let plain = shifter.attempt(phase, slip);
            assert_eq!((traced.ending, traced.strikes), (plain.ending, plain.strikes));
            for leg in &traced.legs {
                let deepest = leg.overlap_mm[0].max(leg.overlap_mm[1]).max(leg.at(0.7).1);
                assert!((-1e-9..4.5 + 1e-9).contains(&deepest), "{leg:?}");
                assert!((leg.at(1.0).0 - leg.phase[1]).abs() < 1e-9, "{leg:?}");
            }
            for pair in traced.legs.windows(2) {
                assert!((pair[0].start_s + pair[0].lasts_s - pair[1].start_s).abs() < 1e-12);
                assert!(pair[0].slip[1].abs() >= pair[1].slip[1].abs() - 1e-12, "slip never grows");
            }
            // One turn of the pattern on: the same shift.
            let on = shifter.attempt(phase + TAU / 3.0, slip);
            assert_eq!(on.ending, plain.ending, "{phase} {slip} {direction}");
            assert!((on.time_s - plain.time_s).abs() < 1e-9);
        }
    }
}

#[test]
fn mirrored_rings_shift_the_same_the_other_way() {
    let ring = ring(25.0, half_height());
    let mesh = Mesh::new(&ring, &ring).expect("one band");
    let [up, down] = [1.0, -1.0].map(|direction| Shifter::new(&mesh, m1(), direction));
    for step in 0..1000 {
        let (phase, slip) = (f64::from(step) * 0.006_283 + 0.0011, 31.4);
        let (a, b) = (up.attempt(phase, slip), down.attempt(-phase, slip));
        assert_eq!((a.ending, a.strikes), (b.ending, b.strikes), "{phase}");
        assert!((a.time_s - b.time_s).abs() < 1e-9 && (a.slip_left + b.slip_left).abs() < 1e-9);
    }
}
