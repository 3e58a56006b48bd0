//! Dogs that let go after a cut.

use crenel::shift::{Pull, Release, ReleaseEvent, ReleaseStep, TorqueCut, TwoMasses};
use proptest::prelude::*;

use crate::cases;

/// Numbers of every size between two.
fn sized(least: f64, most: f64) -> impl Strategy<Value = f64> {
    (libm::log(least)..libm::log(most)).prop_map(libm::exp)
}

/// A number that can also be 0.
fn or_zero(some: impl Strategy<Value = f64> + 'static) -> BoxedStrategy<f64> {
    prop_oneof![1 => Just(0.0), 4 => some].boxed()
}

fn masses() -> impl Strategy<Value = TwoMasses> {
    let vehicle = prop_oneof![1 => Just(f64::INFINITY), 4 => sized(1e-6, 10.0)];
    (sized(1e-6, 10.0), vehicle, sized(10.0, 1e7), or_zero(0.0..0.5)).prop_map(
        |(engine_kg_m2, vehicle_kg_m2, stiffness_nm_per_rad, damping)| TwoMasses {
            engine_kg_m2,
            vehicle_kg_m2,
            stiffness_nm_per_rad,
            damping,
        },
    )
}

fn pull() -> impl Strategy<Value = Pull> {
    let along = (or_zero(sized(1e-3, 5000.0)), sized(0.01, 20.0), sized(1e-4, 0.02));
    let hold = [-50.0..50.0, -50.0..50.0];
    let fastest = proptest::option::of(sized(0.01, 10.0));
    (along, hold, fastest, or_zero(sized(1e-6, 1.0)), or_zero(sized(1e-5, 0.1))).prop_map(
        |((force_n, mass_kg, overlap_m), hold_per_m, fastest_m_per_s, lash, begins_s)| Pull {
            force_n,
            mass_kg,
            fastest_m_per_s,
            overlap_m,
            hold_per_m,
            lash,
            begins_s,
        },
    )
}

fn cut() -> impl Strategy<Value = TorqueCut> {
    (or_zero(-500.0..500.0), or_zero(-100.0..100.0), or_zero(sized(1e-5, 0.1)))
        .prop_map(|(engine_nm, drag_nm, ramp_s)| TorqueCut { engine_nm, drag_nm, ramp_s })
}

/// What a gearbox has: an undercut, a force that can pull the dogs apart, an engine that drives.
fn usual() -> impl Strategy<Value = (TwoMasses, Pull, TorqueCut)> {
    let masses = (sized(1e-3, 0.05), sized(0.05, 2.0), sized(300.0, 3e4), or_zero(0.0..0.3));
    let pull = (sized(10.0, 500.0), sized(0.1, 1.0), sized(1e-3, 6e-3), sized(5e-3, 0.3));
    let cut = (5.0..120.0, 0.5..20.0, or_zero(sized(3e-4, 1e-2)));
    (masses, pull, [4.0..16.0, 4.0..16.0], cut).prop_map(|(masses, pull, hold_per_m, cut)| {
        let (engine_kg_m2, vehicle_kg_m2, stiffness_nm_per_rad, damping) = masses;
        let (force_n, mass_kg, overlap_m, lash) = pull;
        let (engine_nm, drag_nm, ramp_s) = cut;
        (
            TwoMasses { engine_kg_m2, vehicle_kg_m2, stiffness_nm_per_rad, damping },
            Pull {
                force_n,
                mass_kg,
                fastest_m_per_s: None,
                overlap_m,
                hold_per_m,
                lash,
                begins_s: 0.0,
            },
            TorqueCut { engine_nm, drag_nm, ramp_s },
        )
    })
}

/// Times at which no torque is at the dogs, and how fast they then go.
fn unloaded(release: &Release) -> impl Iterator<Item = &ReleaseEvent> {
    let wanted = [ReleaseStep::Unloaded, ReleaseStep::CoastStrikes, ReleaseStep::DriveStrikes];
    release.events.iter().filter(move |event| wanted.contains(&event.what))
}

fn other(what: ReleaseStep) -> ReleaseStep {
    match what {
        ReleaseStep::CoastStrikes => ReleaseStep::DriveStrikes,
        ReleaseStep::DriveStrikes => ReleaseStep::CoastStrikes,
        same => same,
    }
}

/// Whether two numbers are the same but for a share of a third.
fn near(one: f64, other: f64, of: f64) -> bool {
    (one - other).abs() <= 1e-7 * of
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn every_number_is_finite_and_in_order(
        (masses, pull, cut, longest_s) in (masses(), pull(), cut(), or_zero(sized(1e-4, 0.3)))
    ) {
        let release = Release::of(&masses, &pull, &cut, longest_s);
        prop_assert!(release.coast_peak_nm.is_finite() && release.coast_peak_nm >= 0.0);
        let (mut time_s, mut overlap_m) = (0.0, pull.overlap_m);
        for event in &release.events {
            prop_assert!(event.slip.is_finite());
            prop_assert!(event.time_s >= time_s && event.time_s <= longest_s, "{event:?}");
            prop_assert!(event.overlap_m <= overlap_m * (1.0 + 1e-9), "{event:?}");
            (time_s, overlap_m) = (event.time_s, event.overlap_m);
        }
        let mut time_s = 0.0;
        for moment in &release.moments {
            prop_assert!(moment.torque_nm.is_finite() && moment.overlap_m >= 0.0);
            prop_assert!(moment.time_s >= time_s && moment.time_s <= longest_s * (1.0 + 1e-12));
            time_s = moment.time_s;
        }
        let out = release.events.iter().position(|event| event.what == ReleaseStep::Out);
        prop_assert!(out.is_none_or(|at| at + 1 == release.events.len()));
    }

    #[test]
    fn without_cut_and_force_nothing_happens(
        (masses, pull, engine_nm, ramp_s) in
            (masses(), pull(), or_zero(-500.0..500.0), or_zero(sized(1e-5, 0.1)))
    ) {
        let pull = Pull { force_n: 0.0, hold_per_m: pull.hold_per_m.map(f64::abs), ..pull };
        let cut = TorqueCut { engine_nm, drag_nm: -engine_nm, ramp_s };
        let release = Release::of(&masses, &pull, &cut, 0.05);
        prop_assert!(release.events.is_empty(), "{:?}", release.events);
        let steady = masses.steady_nm(engine_nm);
        for moment in &release.moments {
            prop_assert!(near(moment.torque_nm, steady, steady.abs()));
            prop_assert_eq!(moment.overlap_m, pull.overlap_m);
        }
    }

    /// Energy of the swing, `½·J·slip²` where no torque is left, is that of the twist before the cut.
    #[test]
    fn without_drag_and_damping_the_swing_keeps_its_energy((masses, pull, cut) in usual()) {
        let masses = TwoMasses { damping: 0.0, ..masses };
        let cut = TorqueCut { drag_nm: 0.0, ramp_s: 0.0, ..cut };
        let release = Release::of(&masses, &pull, &cut, 0.05);
        let steady = masses.steady_nm(cut.engine_nm);
        let twist = steady * steady / masses.stiffness_nm_per_rad;
        for event in unloaded(&release) {
            let turns = masses.reduced_kg_m2() * event.slip * event.slip;
            prop_assert!(near(turns, twist, twist), "{event:?}: {turns} for {twist}");
        }
        prop_assert!(release.coast_peak_nm <= steady * (1.0 + 1e-9));
    }

    /// While no flanks touch, drag alone slows the engine: its momentum falls by torque times time.
    #[test]
    fn drag_takes_momentum_from_the_engine_across_the_lash((masses, pull, cut) in usual()) {
        let cut = TorqueCut { ramp_s: 0.0, ..cut };
        let release = Release::of(&masses, &pull, &cut, 0.05);
        let met: Vec<_> = unloaded(&release).collect();
        for pair in met.windows(2).filter(|pair| pair[0].what == ReleaseStep::Unloaded) {
            let time_s = pair[1].time_s - pair[0].time_s;
            let lost = masses.engine_kg_m2 * (pair[0].slip - pair[1].slip);
            prop_assert!(near(lost, cut.drag_nm * time_s, cut.drag_nm * time_s));
            // The way across: that of the masses, less what the spring gives back.
            let relaxes_s = 2.0 * masses.damping / masses.frequency();
            let given = if relaxes_s > 0.0 {
                -pair[0].slip * relaxes_s * (1.0 - libm::exp(-time_s / relaxes_s))
            } else {
                0.0
            };
            let way = -0.5 * (pair[0].slip + pair[1].slip) * time_s - given;
            prop_assert!(near(way, pull.lash, pull.lash), "{way} for {}", pull.lash);
        }
    }

    /// An engine that brakes, with the flanks' holds changed over, is the mirror image of one that drives.
    #[test]
    fn braking_is_the_mirror_image_of_driving((masses, pull, cut) in usual()) {
        let release = Release::of(&masses, &pull, &cut, 0.05);
        let [drive, coast] = pull.hold_per_m;
        let pull = Pull { hold_per_m: [coast, drive], ..pull };
        let cut = TorqueCut { engine_nm: -cut.engine_nm, drag_nm: -cut.drag_nm, ..cut };
        let mirrored = Release::of(&masses, &pull, &cut, 0.05);
        prop_assert_eq!(release.events.len(), mirrored.events.len());
        for (one, two) in release.events.iter().zip(&mirrored.events) {
            prop_assert_eq!(one.what, other(two.what));
            prop_assert!(near(one.time_s, two.time_s, 1.0));
            prop_assert!(near(one.slip, -two.slip, 1.0));
            prop_assert!(near(one.overlap_m, two.overlap_m, 1.0));
        }
        for (one, two) in release.moments.iter().zip(&mirrored.moments) {
            prop_assert!(near(one.torque_nm, -two.torque_nm, cut.engine_nm.abs()));
        }
    }

    /// No lash is the limit of little lash.
    #[test]
    fn little_lash_is_nearly_none((masses, pull, cut) in usual()) {
        let at = |lash: f64| {
            Release::of(&masses, &Pull { lash, ..pull }, &cut, 0.02)
        };
        let none = at(0.0);
        let off = |lash: f64| {
            let met = at(lash);
            let peak = (met.coast_peak_nm - none.coast_peak_nm).abs() / cut.engine_nm;
            let first = |release: &Release| release.events.iter().find_map(|event| {
                (event.what == ReleaseStep::CoastStrikes).then_some(event.time_s)
            });
            let strikes = first(&met).zip(first(&none)).map_or(0.0, |(one, two)| one - two);
            (peak, strikes.abs())
        };
        let (peak, strikes) = off(1e-9);
        prop_assert!(peak < 1e-3 && strikes < 1e-5, "{peak} {strikes}");
    }

    /// The stiffer the shaft, the nearer to a torque that is gone at once: then the force alone pulls.
    #[test]
    fn a_stiff_shaft_lets_go_at_once((masses, pull, cut) in usual()) {
        let pull = Pull { lash: 1.0, ..pull };
        let cut = TorqueCut { ramp_s: 0.0, drag_nm: 1e-3 * masses.engine_kg_m2, ..cut };
        let want = (2.0 * pull.overlap_m * pull.mass_kg / pull.force_n).sqrt();
        let masses = TwoMasses { stiffness_nm_per_rad: 1e9, ..masses };
        let period = std::f64::consts::TAU / masses.frequency();
        let out = Release::of(&masses, &pull, &cut, 2.0 * want).out_s().expect("nothing holds");
        prop_assert!(out >= want * (1.0 - 1e-9) && out <= want + 0.5 * period, "{out} for {want}");
    }
}
