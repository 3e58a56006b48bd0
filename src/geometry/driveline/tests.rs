//! The driveline against closed forms, against two masses, and at its limits.

use super::*;
use crate::shift::{Blow, Catch, Pull, Release, ReleaseStep, TorqueCut, TwoMasses};

const RPM: f64 = 60.0 / std::f64::consts::TAU;

/// The masses of the check values: 4e-3 and 0.4 kg·m², 3000 N·m/rad, 12° of lash, with a damping ratio.
fn two(damping: f64) -> (TwoMasses, Driveline) {
    let masses =
        TwoMasses { engine_kg_m2: 4e-3, vehicle_kg_m2: 0.4, stiffness_nm_per_rad: 3000.0, damping };
    let damper = 2.0 * damping * 3000.0 / masses.frequency();
    let lash = 12.0_f64.to_radians();
    let driveline = Driveline {
        inertia_kg_m2: [4e-3, 0.0, 0.0, 0.0, 0.0, 0.0, 0.4],
        dogs: Some(Elastic { lash, ..Elastic::of(3000.0, damper) }),
        ..Driveline::default()
    };
    (masses, driveline)
}

fn cut() -> TorqueCourse {
    TorqueCourse::through(vec![[0.0, 60.0], [0.0, -8.0]])
}

fn near(got: f64, want: f64, off: f64) {
    assert!((got - want).abs() <= off, "{got} for {want}");
}

fn at(run: &DrivelineRun, joint: Joint, what: JointStep) -> DrivelineEvent {
    let found = run.events.iter().find(|event| event.joint == joint && event.what == what);
    *found.unwrap_or_else(|| panic!("no {what:?} at {joint:?}: {:?}", run.events))
}

fn followed(driveline: &Driveline, torque: &TorqueCourse, start: Start, s: f64) -> DrivelineRun {
    driveline.run(torque, start, s).expect("it can be worked out")
}

/// The engagement model, §14, rows 1 and 2.
#[test]
fn two_masses_swing_and_cross_the_lash() {
    for (damping, zero, speed, across, rpm) in [
        (0.0, 1.669_311e-3, 19.39685, 7.722_797e-3, 332.7),
        (0.05, 1.604_181e-3, 17.95538, 8.113_285e-3, 326.41),
        (0.1, 1.543_152e-3, 16.69413, 8.474_030e-3, 321.26),
    ] {
        let run = followed(&two(damping).1, &cut(), Start::Steady, 0.02);
        let parts = at(&run, Joint::Dogs, JointStep::Parts);
        near(parts.time_s, zero, 5e-10);
        near(-parts.slip, speed, 5e-6);
        let strikes = at(&run, Joint::Dogs, JointStep::CoastStrikes);
        near(strikes.time_s - parts.time_s, across, 5e-10);
        near(-strikes.slip * RPM, rpm, 0.05);
    }
}

/// The same, row 3: a ramp.
#[test]
fn a_cut_as_a_ramp_unloads_later() {
    let run = followed(&two(0.0).1, &TorqueCourse::ramp(60.0, -8.0, 3e-3), Start::Steady, 0.01);
    near(at(&run, Joint::Dogs, JointStep::Parts).time_s, 3.121_149e-3, 5e-10);
}

/// A joint between others that are rigid is the two masses, wherever it stands.
#[test]
fn any_one_spring_is_two_masses() {
    let (_, driveline) = two(0.05);
    let want = followed(&driveline, &cut(), Start::Steady, 0.03);
    for joint in [Joint::Mesh, Joint::Chain, Joint::Cush] {
        let mut moved = Driveline { dogs: None, ..driveline };
        match joint {
            Joint::Mesh => moved.mesh = driveline.dogs,
            Joint::Chain => moved.chain = driveline.dogs,
            _ => moved.cush = driveline.dogs,
        }
        let run = followed(&moved, &cut(), Start::Steady, 0.03);
        assert_eq!(run.events.len(), want.events.len());
        for (event, want) in run.events.iter().zip(&want.events) {
            assert_eq!((event.joint, event.what), (joint, want.what));
            near(event.time_s, want.time_s, 1e-12);
        }
        for (peak, want) in run.peaks_nm[joint.place()].into_iter().zip(want.peaks_nm[2]) {
            near(peak, want, 1e-9);
        }
    }
}

/// Against [`Release`], which knows two masses in closed form.
#[test]
fn the_cut_is_that_of_two_masses() {
    let nothing = |lash: f64| Pull {
        force_n: 0.0,
        mass_kg: 1.0,
        fastest_m_per_s: None,
        overlap_m: 1.0,
        hold_per_m: [1.0, 1.0],
        lash,
        begins_s: 0.0,
    };
    for damping in [0.0, 0.02, 0.1, 0.3] {
        for (engine_nm, drag_nm, ramp_s) in
            [(60.0, 8.0, 0.0), (60.0, 8.0, 4e-3), (-20.0, -70.0, 2e-3)]
        {
            let (masses, driveline) = two(damping);
            let lash = 12.0_f64.to_radians();
            let cut = TorqueCut { engine_nm, drag_nm, ramp_s };
            let want = Release::of(&masses, &nothing(lash), &cut, 0.05);
            let course = TorqueCourse::ramp(engine_nm, -drag_nm, ramp_s);
            let run = followed(&driveline, &course, Start::Steady, 0.05);
            let struck = [
                (ReleaseStep::CoastStrikes, JointStep::CoastStrikes),
                (ReleaseStep::DriveStrikes, JointStep::DriveStrikes),
            ];
            for (theirs, ours) in struck {
                let times = |it: &DrivelineRun| -> Vec<f64> {
                    it.events.iter().filter(|e| e.what == ours).map(|e| e.time_s).collect()
                };
                let wanted = want.events.iter().filter(|e| e.what == theirs).map(|e| e.time_s);
                for (got, want) in times(&run).into_iter().zip(wanted) {
                    near(got, want, 1e-9);
                }
            }
            near(
                run.peaks_nm[2][1],
                want.coast_peak_nm.max(run.moments[0].torques_nm[2].min(0.0).abs()),
                1e-5 * want.coast_peak_nm + 1e-9,
            );
        }
    }
}

/// Against [`Catch`] and the closed form of a blow.
#[test]
fn the_catch_is_that_of_two_masses() {
    for (slip, before, after, damping) in [
        (30.0, 0.0, 0.0, 0.0),
        (-12.0, -8.0, 60.0, 0.05),
        (12.0, -8.0, 60.0, 0.05),
        (5.0, 30.0, -9.0, 0.2),
    ] {
        let (masses, driveline) = two(damping);
        let back = TorqueCut { engine_nm: before, drag_nm: -after, ramp_s: 3e-3 };
        let want = Catch::of(&masses, 12.0_f64.to_radians(), slip, &back, 0.06);
        let course = TorqueCourse::ramp(before, after, 3e-3);
        let run = followed(&driveline, &course, Start::Met { slip }, 0.06);
        for (got, want) in run.peaks_nm[2].into_iter().zip(want.peak_nm) {
            near(got, want, 1e-6 * want + 1e-8);
        }
        let theirs = want.events.iter().filter(|event| {
            matches!(event.what, ReleaseStep::CoastStrikes | ReleaseStep::DriveStrikes)
        });
        let ours = run.events.iter().filter(|event| event.what != JointStep::Parts);
        for (event, want) in ours.zip(theirs) {
            near(event.time_s, want.time_s, 1e-9);
        }
    }
    let blow = Blow {
        input_kg_m2: 4e-3,
        output_kg_m2: 0.4,
        stiffness_nm_per_rad: 3000.0,
        input_nm: 0.0,
        output_nm: 0.0,
    };
    let run = followed(&two(0.0).1, &TorqueCourse::steady(0.0), Start::Met { slip: 40.0 }, 0.003);
    near(run.peak_nm(Joint::Dogs) / blow.peak_nm(40.0, 0.0), 1.0, 1e-9);
}

/// The whole chain, as a middleweight on its rear wheel may have it at the shaft of the dogs; no source.
fn whole() -> Driveline {
    let damped =
        |stiffness: f64, lash: f64| Elastic { lash, ..Elastic::of(stiffness, 2e-4 * stiffness) };
    Driveline {
        inertia_kg_m2: [2.2e-2, 1.5e-3, 4e-4, 9e-4, 2e-3, 6e-2, 2.6],
        clutch_nm: Some(420.0),
        mesh: Some(damped(9e4, 4e-3)),
        dogs: Some(damped(2e4, 0.2)),
        chain: Some(damped(1.5e4, 0.02)),
        cush: Some(Elastic {
            stop: Some(Stop { travel: 0.05, stiffness_nm_per_rad: 2e4 }),
            ..damped(1.8e3, 5e-3)
        }),
        tyre_nm: Some(500.0),
        dogs_first: false,
    }
}

fn balances(run: &DrivelineRun) {
    let EnergyBalance { in_j, stored_j, damped_j, slipped_j } = run.energy;
    let size = in_j.abs() + stored_j.abs() + damped_j + slipped_j;
    near(in_j - stored_j - damped_j - slipped_j, 0.0, 2e-5 * size + 1e-9);
}

#[test]
fn energy_and_momentum_balance() {
    let course =
        TorqueCourse::through(vec![[0.0, 150.0], [3e-3, -20.0], [0.03, -20.0], [0.035, 220.0]]);
    for start in [Start::Steady, Start::Met { slip: 40.0 }, Start::Met { slip: -25.0 }] {
        let run = followed(&whole(), &course, start, 0.08);
        assert_eq!(run.end, RunEnd::TimeOver);
        assert!(run.events.len() > 4, "{:?}", run.events);
        balances(&run);
        let momentum = |moment: &DrivelineMoment| -> f64 {
            moment.speeds.iter().zip(whole().inertia_kg_m2).map(|(speed, of)| speed * of).sum()
        };
        let [first, last] = [&run.moments[0], &run.moments[run.moments.len() - 1]];
        // 0.195 N·m·s, −0.54, 0.5 and 9.9 over the four parts of the course.
        let push = 0.195 - 0.54 + 0.5 + 9.9;
        near(momentum(last) - momentum(first), push, 1e-9);
    }
}

#[test]
fn a_tyre_that_slips_carries_no_more_than_it_holds() {
    let course = TorqueCourse::ramp(10.0, 900.0, 0.02);
    let mut driveline = whole();
    driveline.clutch_nm = None;
    let run = followed(&driveline, &course, Start::Steady, 0.06);
    assert!(run.has(Joint::Tyre, JointStep::Slips));
    near(run.peak_nm(Joint::Tyre), 500.0, 1e-6);
    balances(&run);
    assert!(run.energy.slipped_j > 1.0);
    driveline.clutch_nm = Some(300.0);
    let run = followed(&driveline, &course, Start::Steady, 0.06);
    assert!(run.has(Joint::Clutch, JointStep::Slips) && run.peak_nm(Joint::Clutch) < 300.001);
    balances(&run);
}

#[test]
fn a_slip_ends_where_the_torque_does() {
    let mut driveline = whole();
    driveline.tyre_nm = Some(60.0);
    driveline.clutch_nm = None;
    let course =
        TorqueCourse::through(vec![[0.0, 10.0], [0.01, 100.0], [0.03, 100.0], [0.04, -20.0]]);
    let run = followed(&driveline, &course, Start::Steady, 0.3);
    let slips = at(&run, Joint::Tyre, JointStep::Slips);
    let grips = at(&run, Joint::Tyre, JointStep::Grips);
    assert!(grips.time_s > slips.time_s && grips.slip.abs() < 1e-6);
    balances(&run);
}

/// Joints without end of stiffness and without lash are rigid.
#[test]
fn stiff_joints_come_to_two_masses() {
    let (_, driveline) = two(0.0);
    let course = TorqueCourse::steady(0.0);
    let want = followed(&driveline, &course, Start::Met { slip: 30.0 }, 0.006).peak_nm(Joint::Dogs);
    let mut before = f64::INFINITY;
    for stiffness in [1e5, 1e6, 1e7] {
        let stiff = Driveline {
            inertia_kg_m2: [3.9e-3, 0.0, 1e-4, 0.0, 0.0, 0.0, 0.4],
            mesh: Some(Elastic::of(stiffness, 0.02)),
            ..driveline
        };
        let peak = followed(&stiff, &course, Start::Met { slip: 30.0 }, 0.006).peak_nm(Joint::Dogs);
        let off = (peak - want).abs();
        assert!(off < before, "{peak} for {want}");
        before = off;
    }
    assert!(before < 2e-3 * want, "{before} of {want}");
}

/// A heavy carrier behind a soft cush drive is the vehicle that the dogs feel: the peak comes to that of the carrier alone.
#[test]
fn a_soft_cush_drive_does_not_hide_the_peak_at_the_dogs() {
    let dogs = Some(Elastic { lash: 0.2, ..Elastic::of(2e4, 0.0) });
    let inertia_kg_m2 = [2e-2, 0.0, 0.0, 0.0, 3e-3, 0.0, 2.0];
    let run = |cush: f64| {
        let driveline = Driveline {
            inertia_kg_m2,
            dogs,
            cush: Some(Elastic::of(cush, 0.0)),
            ..Driveline::default()
        };
        let met = Start::Met { slip: 30.0 };
        followed(&driveline, &TorqueCourse::steady(0.0), met, 2e-3).peak_nm(Joint::Dogs)
    };
    let alone = (2e4_f64 * 2e-2 * 3e-3 / 2.3e-2).sqrt() * 30.0;
    near(run(0.1) / alone, 1.0, 1e-4);
    assert!(run(2000.0) > alone);
}

#[test]
fn the_cush_drive_meets_its_stop() {
    let run = followed(&whole(), &TorqueCourse::ramp(10.0, 300.0, 0.005), Start::Steady, 0.05);
    let stops = at(&run, Joint::Cush, JointStep::Stops);
    let soft = 1.8e3 * 0.05;
    let there = run.moments.iter().find(|m| m.time_s >= stops.time_s).expect("a moment");
    // The damper adds its own.
    assert!(there.torques_nm[Joint::Cush.place()] > soft);
}

#[test]
fn what_cannot_be_worked_out_is_told() {
    let run = |driveline: Driveline, nm: f64| {
        driveline.run(&TorqueCourse::steady(nm), Start::Steady, 0.01).map(|run| run.end)
    };
    let mut none = whole();
    none.inertia_kg_m2[Mass::Gear as usize] = 0.0;
    assert_eq!(run(none, 50.0), Err(DrivelineFault::NoInertia(Mass::Gear)));
    none.mesh = None;
    assert_eq!(run(none, 50.0), Ok(RunEnd::TimeOver));
    none.inertia_kg_m2[0] = f64::NAN;
    assert_eq!(run(none, 50.0), Err(DrivelineFault::NoInertia(Mass::Engine)));
    let soft = Driveline { chain: Some(Elastic::of(0.0, 0.0)), ..whole() };
    assert_eq!(run(soft, 50.0), Err(DrivelineFault::NoStiffness(Joint::Chain)));
    let rigid = Driveline { dogs: None, ..whole() };
    let met = rigid.run(&TorqueCourse::steady(1.0), Start::Met { slip: 9.0 }, 0.01);
    assert_eq!(met.map(|run| run.end), Err(DrivelineFault::NoStiffness(Joint::Dogs)));
    let lash = Elastic { lash: f64::NAN, ..Elastic::of(1e3, 0.0) };
    assert_eq!(
        run(Driveline { cush: Some(lash), ..whole() }, 50.0),
        Err(DrivelineFault::NoSize(Joint::Cush))
    );
    let slippery = Driveline { tyre_nm: Some(0.0), ..whole() };
    assert_eq!(run(slippery, 50.0), Err(DrivelineFault::HoldsNothing(Joint::Tyre)));
    assert!(matches!(
        run(whole(), 900.0),
        Err(DrivelineFault::TorqueBeyond { joint: Joint::Clutch, .. })
    ));
    assert_eq!(run(whole(), f64::NAN), Err(DrivelineFault::NoCourse));
    let stiff = Driveline { mesh: Some(Elastic::of(1e15, 0.0)), ..whole() };
    assert_eq!(run(stiff, 50.0), Err(DrivelineFault::TooStiff));
    let endless = whole().run(&TorqueCourse::steady(1.0), Start::Steady, f64::INFINITY);
    assert_eq!(endless.map(|run| run.end), Err(DrivelineFault::NoTime));
}

/// Flanks that nothing presses together and nothing damps rattle in their lash: the events are counted, and the run says
/// that it ended there.
#[test]
fn a_rattle_without_end_is_told() {
    let (_, driveline) = two(0.0);
    let narrow = Elastic { lash: 1e-6, ..Elastic::of(3e5, 0.0) };
    let driveline = Driveline { dogs: Some(narrow), ..driveline };
    let run = followed(&driveline, &TorqueCourse::steady(0.0), Start::Met { slip: 50.0 }, 5.0);
    assert_eq!((run.end, run.events.len()), (RunEnd::TooManyEvents, MOST_EVENTS));
    balances(&run);
}

#[test]
fn a_vehicle_without_end_keeps_its_speed() {
    let mut driveline = whole();
    driveline.inertia_kg_m2[6] = f64::INFINITY;
    let run = followed(&driveline, &TorqueCourse::ramp(-20.0, 100.0, 0.01), Start::Steady, 0.05);
    assert!(run.moments.iter().all(|moment| moment.speeds[6] == 0.0));
    assert!(run.moments.iter().flat_map(|m| m.torques_nm).all(f64::is_finite));
    balances(&run);
}

/// With a free gear on the input shaft the dogs come before the mesh.
#[test]
fn dogs_on_the_input_shaft_come_before_the_mesh() {
    let first = Driveline { dogs_first: true, mesh: None, ..whole() };
    let mut inertia_kg_m2 = first.inertia_kg_m2;
    inertia_kg_m2[3] += inertia_kg_m2[2];
    inertia_kg_m2[2] = inertia_kg_m2[1];
    inertia_kg_m2[1] = 0.0;
    let same = Driveline { dogs_first: false, inertia_kg_m2, clutch_nm: None, ..first };
    let first = Driveline { clutch_nm: None, ..first };
    let course = TorqueCourse::ramp(-20.0, 200.0, 0.01);
    let [one, other] =
        [first, same].map(|it| followed(&it, &course, Start::Met { slip: 30.0 }, 0.05));
    assert!(one.events.len() > 3);
    for (one, other) in one.events.iter().zip(&other.events) {
        assert_eq!((one.joint, one.what), (other.joint, other.what));
        near(one.time_s, other.time_s, 1e-9);
    }
    near(one.peak_nm(Joint::Dogs), other.peak_nm(Joint::Dogs), 1e-6);
    let soft = Elastic { lash: -1.0, ..Elastic::of(1.0, 0.0) };
    let wrong = Driveline { mesh: Some(soft), ..first };
    let run = wrong.run(&course, Start::Steady, 0.1);
    assert_eq!(run.map(|run| run.end), Err(DrivelineFault::NoSize(Joint::Mesh)));
}
