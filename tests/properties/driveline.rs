//! Drivelines of several masses, of every size.

use crenel::driveline::{
    Driveline, DrivelineFault, DrivelineRun, Elastic, JOINTS, Joint, JointStep, MASSES, RunEnd,
    Start, Stop, TorqueCourse,
};
use crenel::shift::{Catch, TorqueCut, TwoMasses};
use proptest::prelude::*;

use crate::cases;

/// Numbers of every size between two.
fn sized(least: f64, most: f64) -> impl Strategy<Value = f64> {
    (libm::log(least)..libm::log(most)).prop_map(libm::exp)
}

fn elastic() -> impl Strategy<Value = Option<Elastic>> {
    let stop = proptest::option::of((sized(1e-3, 0.2), sized(1e3, 5e4)));
    let lash = prop_oneof![1 => Just(0.0), 3 => sized(1e-4, 0.3)];
    let damping = prop_oneof![1 => Just(0.0), 3 => sized(1e-6, 5e-4)];
    proptest::option::weighted(0.8, (sized(300.0, 1e5), damping, lash, stop)).prop_map(|given| {
        let (stiffness, relaxes_s, lash, stop) = given?;
        let stop = stop.map(|(travel, stiffness_nm_per_rad)| Stop { travel, stiffness_nm_per_rad });
        Some(Elastic { lash, stop, ..Elastic::of(stiffness, stiffness * relaxes_s) })
    })
}

fn driveline() -> impl Strategy<Value = Driveline> {
    let inertia = [
        sized(1e-3, 0.1),
        sized(2e-4, 1e-2),
        sized(2e-4, 1e-2),
        sized(2e-4, 1e-2),
        sized(5e-4, 5e-2),
        sized(5e-3, 0.5),
        sized(0.1, 10.0),
    ];
    let holds = || proptest::option::weighted(0.4, sized(20.0, 2000.0));
    let joints = [elastic(), elastic(), elastic(), elastic()];
    (inertia, joints, holds(), holds(), any::<bool>()).prop_map(
        |(inertia_kg_m2, [mesh, dogs, chain, cush], clutch_nm, tyre_nm, dogs_first)| Driveline {
            inertia_kg_m2,
            clutch_nm,
            mesh,
            dogs,
            chain,
            cush,
            tyre_nm,
            dogs_first,
        },
    )
}

/// Corners of a torque that falls and comes back.
fn corners() -> impl Strategy<Value = Vec<[f64; 2]>> {
    let nm = || -200.0..200.0_f64;
    (nm(), nm(), nm(), sized(1e-4, 1e-2), sized(1e-3, 2e-2)).prop_map(|(a, b, c, ramp, off)| {
        vec![[0.0, a], [ramp, b], [ramp + off, b], [2.0 * ramp + off, c]]
    })
}

fn start() -> impl Strategy<Value = Start> {
    prop_oneof![Just(Start::Steady), (-60.0..60.0).prop_map(|slip| Start::Met { slip })]
}

fn off_balance(run: &DrivelineRun) -> f64 {
    let energy = run.energy;
    let lost = energy.damped_j + energy.slipped_j;
    let size = energy.in_j.abs() + energy.stored_j.abs() + lost;
    (energy.in_j - energy.stored_j - lost).abs() / (size + 1e-6)
}

fn momentum(driveline: &Driveline, speeds: &[f64; MASSES]) -> f64 {
    driveline.inertia_kg_m2.iter().zip(speeds).map(|(inertia, speed)| inertia * speed).sum()
}

proptest! {
    #![proptest_config(cases(300))]

    /// What came in is stored or lost, the engine's torque is what changes the momentum, no clutch or tyre carries more than
    /// it holds, and only what began to slip grips again.
    #[test]
    fn energy_and_momentum_balance(driveline in driveline(), corners in corners(), start in start()) {
        let course = TorqueCourse::through(corners.clone());
        let Ok(run) = driveline.run(&course, start, 0.03) else { return Ok(()) };
        prop_assert!(off_balance(&run) < 2e-3, "{:?}", run.energy);
        let (first, last) = (&run.moments[0], &run.moments[run.moments.len() - 1]);
        let pushed = pushed(&corners, &course, last.time_s);
        let gained = momentum(&driveline, &last.speeds) - momentum(&driveline, &first.speeds);
        prop_assert!((gained - pushed).abs() < 1e-7 * (1.0 + pushed.abs()), "{gained} for {pushed}");
        for joint in [Joint::Clutch, Joint::Tyre] {
            let most = driveline.slips_at_nm(joint).unwrap_or(f64::INFINITY);
            prop_assert!(run.peak_nm(joint) <= most * (1.0 + 1e-6) + 1e-6);
        }
        for joint in Joint::ALL {
            let steps: Vec<_> = run.events.iter().filter(|e| e.joint == joint).map(|e| e.what).collect();
            for two in steps.windows(2) {
                let grips_twice = two == [JointStep::Grips; 2];
                let parts_twice = two == [JointStep::Parts; 2];
                prop_assert!(!grips_twice && !parts_twice, "{joint:?} {steps:?}");
            }
        }
        prop_assert!(run.events.windows(2).all(|two| two[0].time_s <= two[1].time_s));
    }

    /// Whatever is given, there is an answer of numbers, or the reason why there is none.
    #[test]
    fn what_is_given_is_answered(
        driveline in driveline(),
        wrong in 0..JOINTS,
        number in prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(-1.0), Just(0.0), Just(1e-300), Just(1e300)],
        start in start(),
    ) {
        let mut driveline = driveline;
        driveline.inertia_kg_m2[wrong] = number;
        driveline.dogs = Some(Elastic { lash: number, ..Elastic::of(2e3, 0.1) });
        let course = TorqueCourse::ramp(50.0, -8.0, 1e-3);
        if let Ok(run) = driveline.run(&course, start, 2e-3) {
            prop_assert!(run.peaks_nm.iter().flatten().all(|nm| nm.is_finite()));
        }
        let course = TorqueCourse::ramp(number, -8.0, 1e-3);
        let told = driveline.run(&course, start, number);
        prop_assert!(number.is_finite() || told.is_err());
    }

    /// One spring anywhere between two masses is the two masses, struck by every slip and torque.
    #[test]
    fn one_spring_is_two_masses(
        engine in sized(1e-3, 0.05), vehicle in sized(0.05, 5.0), stiffness in sized(300.0, 3e4),
        damping in 0.02..0.3_f64, slip in -50.0..50.0_f64, lash in sized(1e-3, 0.3),
        before in -30.0..30.0_f64, after in -120.0..120.0_f64,
    ) {
        let masses = TwoMasses {
            engine_kg_m2: engine,
            vehicle_kg_m2: vehicle,
            stiffness_nm_per_rad: stiffness,
            damping,
        };
        let relaxes_s = 2.0 * damping / masses.frequency();
        let dogs = Elastic { lash, ..Elastic::of(stiffness, stiffness * relaxes_s) };
        let driveline = Driveline {
            inertia_kg_m2: [engine, 0.0, 0.0, 0.0, 0.0, 0.0, vehicle],
            dogs: Some(dogs),
            ..Driveline::default()
        };
        let back = TorqueCut { engine_nm: before, drag_nm: -after, ramp_s: 2e-3 };
        let lasts_s = 20.0 / masses.frequency();
        let want = Catch::of(&masses, lash, slip, &back, lasts_s);
        let run = driveline.run(&TorqueCourse::ramp(before, after, 2e-3), Start::Met { slip }, lasts_s);
        let run = run.expect("it can be worked out");
        prop_assert_eq!(run.end, RunEnd::TimeOver);
        for (got, want) in run.peaks_nm[Joint::Dogs.place()].into_iter().zip(want.peak_nm) {
            prop_assert!((got - want).abs() < 2e-3 * want + 1e-2, "{got} for {want}");
        }
    }
}

/// Momentum that the torque gives up to a time, N·m·s.
fn pushed(corners: &[[f64; 2]], course: &TorqueCourse, to_s: f64) -> f64 {
    let times = corners.iter().map(|[time_s, _]| *time_s).filter(|time_s| *time_s < to_s);
    let times: Vec<f64> = times.chain([to_s]).collect();
    let legs = times
        .windows(2)
        .map(|leg| 0.5 * (course.at(leg[0]) + course.at(leg[1])) * (leg[1] - leg[0]));
    legs.sum()
}

#[test]
fn a_torque_beyond_clutch_or_tyre_is_told_with_its_numbers() {
    let driveline = Driveline {
        inertia_kg_m2: [0.01, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0],
        tyre_nm: Some(40.0),
        ..Driveline::default()
    };
    let told = driveline.run(&TorqueCourse::steady(101.0), Start::Steady, 0.01);
    let Err(DrivelineFault::TorqueBeyond { joint, nm, most_nm }) = told else { panic!("{told:?}") };
    assert_eq!((joint, most_nm), (Joint::Tyre, 40.0));
    assert!((nm - 100.0).abs() < 1e-9);
}
