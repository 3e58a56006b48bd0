//! How the old gear lets go: the torque at the dogs swings away after the engine is cut, and the shift force pulls the
//! dogs apart against what friction and undercut still hold. And how the new gear catches: its flanks strike with the
//! speed difference that is left, and the torque comes back.

mod course;
mod masses;
mod run;

pub use masses::TwoMasses;

use run::Run;

/// What pulls the dogs apart, and what holds them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Force along the shaft, N.
    pub force_n: f64,
    /// Mass that moves along the shaft, kg.
    pub mass_kg: f64,
    /// The greatest speed along the shaft, m/s: that of the drum, if it is the drum that limits it.
    pub fastest_m_per_s: Option<f64>,
    /// Overlap to leave, m.
    pub overlap_m: f64,
    /// Force along the shaft for each N·m at the dogs that resists the pull under power and on the overrun:
    /// `tan(α + ρ)/rm + μs/rs`, 1/m. At 0 or below the torque itself throws the dogs out.
    pub hold_per_m: [f64; 2],
    /// Lash at the dogs, rad.
    pub lash: f64,
    /// From here on it pulls, s: the foot may not have taken up its dead travel as the torque falls.
    pub begins_s: f64,
}

impl Pull {
    /// Dogs with a lash, in rad, that nothing pulls.
    const fn nothing(lash: f64) -> Self {
        Self {
            force_n: 0.0,
            mass_kg: 1.0,
            fastest_m_per_s: None,
            overlap_m: 1.0,
            hold_per_m: [0.0; 2],
            lash,
            begins_s: 0.0,
        }
    }

    /// Torque up to which the force pulls the dogs apart, under power or on the overrun, N·m; infinite where no
    /// torque holds them.
    pub fn out_nm(&self, on_overrun: bool) -> f64 {
        let hold = self.hold_per_m[usize::from(on_overrun)];
        if hold <= 0.0 { f64::INFINITY } else { self.force_n / hold }
    }
}

/// The torque on the engine side, before and after the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueCut {
    /// Torque at the dogs before, N·m.
    pub engine_nm: f64,
    /// Torque that slows the engine afterwards, N·m.
    pub drag_nm: f64,
    /// Time that it takes to change, s; 0 for at once.
    pub ramp_s: f64,
}

/// Something that happens while the dogs let go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReleaseEvent {
    /// When, s after the torque began to fall.
    pub time_s: f64,
    /// What.
    pub what: ReleaseStep,
    /// Overlap that is left, m.
    pub overlap_m: f64,
    /// Speed along the shaft, m/s.
    pub speed_m_per_s: f64,
    /// Speed of the engine side less that of the vehicle side, rad/s.
    pub slip: f64,
}

/// What happens while the dogs let go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReleaseStep {
    /// The force begins to pull the dogs apart.
    Moves,
    /// Torque grips them again.
    Stops,
    /// No torque is left on the flanks that carried, and the dogs begin to cross their lash.
    Unloaded,
    /// The coast flanks strike.
    CoastStrikes,
    /// The drive flanks strike again.
    DriveStrikes,
    /// The dogs are out.
    Out,
}

/// One moment of a release.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReleaseMoment {
    /// When, s.
    pub time_s: f64,
    /// Torque at the dogs, N·m; minus on the coast flanks.
    pub torque_nm: f64,
    /// Overlap that is left, m.
    pub overlap_m: f64,
}

/// How the dogs let go after a cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Release {
    /// What happens, in order. The last is [`ReleaseStep::Out`] if they come out in the time looked at.
    pub events: Vec<ReleaseEvent>,
    /// Torque and overlap at times as dense as a swing needs.
    pub moments: Vec<ReleaseMoment>,
    /// Greatest torque on the coast flanks, N·m, without its sign.
    pub coast_peak_nm: f64,
    /// Whether more happens than is followed, so that the end is not known.
    pub is_cut_short: bool,
}

impl Release {
    /// Follows the dogs until they are out, at most for so long.
    pub fn of(masses: &TwoMasses, pull: &Pull, cut: &TorqueCut, longest_s: f64) -> Self {
        Run::new(masses, pull, cut, longest_s).release()
    }

    /// When something first happens, s.
    pub fn first_s(&self, what: ReleaseStep) -> Option<f64> {
        self.events.iter().find(|event| event.what == what).map(|event| event.time_s)
    }

    /// When the dogs are out, s.
    pub fn out_s(&self) -> Option<f64> {
        self.first_s(ReleaseStep::Out)
    }
}

/// How dogs that are in take the speed difference that is left and the torque that comes back.
#[derive(Clone, Debug, PartialEq)]
pub struct Catch {
    /// The flanks that part and strike, in order.
    pub events: Vec<ReleaseEvent>,
    /// Torque at times as dense as a swing needs.
    pub moments: Vec<ReleaseMoment>,
    /// Greatest torque on the drive flanks and on the coast flanks, N·m, both without a sign.
    pub peak_nm: [f64; 2],
    /// Whether more happens than is followed, so that the end is not known.
    pub is_cut_short: bool,
}

impl Catch {
    /// Follows the dogs for so long from the moment at which flanks meet: the drive flanks where the engine side is the
    /// faster one, by `slip` rad/s, the coast flanks where it is the slower one. `lash` is in rad; `back` is the torque
    /// on the engine side, which goes from `engine_nm` to `−drag_nm`.
    pub fn of(masses: &TwoMasses, lash: f64, slip: f64, back: &TorqueCut, longest_s: f64) -> Self {
        Run::new(masses, &Pull::nothing(lash), back, longest_s).just_met(slip).catch()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shift::Blow;

    /// The masses of the check values: 4e-3 and 0.4 kg·m², 3000 N·m/rad.
    fn masses(damping: f64) -> TwoMasses {
        TwoMasses { engine_kg_m2: 4e-3, vehicle_kg_m2: 0.4, stiffness_nm_per_rad: 3000.0, damping }
    }

    /// 60 N·m of the engine, 8 N·m that slow it.
    const CUT: TorqueCut = TorqueCut { engine_nm: 60.0, drag_nm: 8.0, ramp_s: 0.0 };

    /// 3° of undercut, friction 0.1 at 22 mm, splines 0.1 at 14 mm, on both flanks.
    fn pull(force_n: f64) -> Pull {
        let angle = 3.0_f64.to_radians() + libm::atan(0.1);
        let hold = libm::tan(angle) / 0.022 + 0.1 / 0.014;
        Pull {
            force_n,
            mass_kg: 0.30,
            fastest_m_per_s: None,
            overlap_m: 4.4e-3,
            hold_per_m: [hold, hold],
            lash: 12.0_f64.to_radians(),
            begins_s: 0.0,
        }
    }

    /// One that does not pull, so that the torque alone runs.
    const STILL: Pull = Pull {
        force_n: 0.0,
        mass_kg: 1.0,
        fastest_m_per_s: None,
        overlap_m: 1.0,
        hold_per_m: [1.0, 1.0],
        lash: 12.0 * std::f64::consts::TAU / 360.0,
        begins_s: 0.0,
    };

    fn at(release: &Release, what: ReleaseStep) -> ReleaseEvent {
        let found = release.events.iter().find(|event| event.what == what);
        *found.unwrap_or_else(|| panic!("no {what:?}: {:?}", release.events))
    }

    fn near(got: f64, want: f64, off: f64) {
        assert!((got - want).abs() <= off, "{got} for {want}");
    }

    const RPM: f64 = 60.0 / std::f64::consts::TAU;

    /// The engagement model, §14, row 1.
    #[test]
    fn two_masses_swing_and_cross_the_lash() {
        let masses = masses(0.0);
        near(masses.reduced_kg_m2(), 3.960_396e-3, 5e-10);
        near(masses.frequency(), 870.3448, 5e-5);
        near(masses.steady_nm(60.0), 59.40594, 5e-6);
        near(masses.steady_nm(-8.0), -7.920_792, 5e-7);
        let release = Release::of(&masses, &STILL, &CUT, 0.05);
        let parts = at(&release, ReleaseStep::Unloaded);
        near(parts.time_s, 1.669_311e-3, 5e-10);
        near(-parts.slip, 19.39685, 5e-6);
        let strikes = at(&release, ReleaseStep::CoastStrikes);
        near(strikes.time_s - parts.time_s, 7.722_797e-3, 5e-10);
        near(-strikes.slip * RPM, 332.7, 0.05);
    }

    /// The engagement model, §14, row 2.
    #[test]
    fn damping_lets_go_sooner_and_slower() {
        for (damping, zero, speed, across, rpm, spring, out) in [
            (0.05, 1.604_181e-3, 17.95538, 8.113_285e-3, 326.41, 6.18906, 1.273_506e-3),
            (0.1, 1.543_152e-3, 16.69413, 8.474_030e-3, 321.26, 11.50863, 1.196_975e-3),
        ] {
            let masses = masses(damping);
            let release = Release::of(&masses, &STILL, &CUT, 0.05);
            let parts = at(&release, ReleaseStep::Unloaded);
            near(parts.time_s, zero, 5e-10);
            near(-parts.slip, speed, 5e-6);
            // The spring holds what the damper takes: k·φ = −c·φ'.
            near(masses.relaxes_s() * 3000.0 * speed, spring, 5e-5);
            let strikes = at(&release, ReleaseStep::CoastStrikes);
            near(strikes.time_s - parts.time_s, across, 5e-10);
            near(-strikes.slip * RPM, rpm, 0.006);
            let release = Release::of(&masses, &pull(250.0), &CUT, 0.05);
            near(at(&release, ReleaseStep::Moves).time_s, out, 5e-10);
        }
    }

    /// The engagement model, §14, row 3.
    #[test]
    fn a_cut_that_takes_its_time_lets_go_later() {
        let cut = TorqueCut { ramp_s: 3e-3, ..CUT };
        let release = Release::of(&masses(0.0), &STILL, &cut, 0.05);
        near(at(&release, ReleaseStep::Unloaded).time_s, 3.121_149e-3, 5e-10);
    }

    /// The engagement model, §14, rows 4 to 6.
    #[test]
    fn the_force_pulls_the_dogs_out_while_the_torque_falls() {
        near(pull(250.0).out_nm(false), 17.72172, 5e-6);
        let release = Release::of(&masses(0.0), &pull(250.0), &CUT, 0.05);
        near(at(&release, ReleaseStep::Moves).time_s, 1.355_857e-3, 5e-10);
        near(release.out_s().expect("out"), 4.762_798e-3, 5e-10);
        let free = Pull { overlap_m: 4.5e-3, ..pull(250.0) };
        let idle = TorqueCut { engine_nm: 0.0, drag_nm: 0.0, ramp_s: 0.0 };
        near(
            Release::of(&masses(0.0), &free, &idle, 0.05).out_s().expect("out"),
            3.286_335e-3,
            5e-10,
        );
    }

    #[test]
    fn dogs_that_are_not_out_in_time_are_held_again_by_their_coast_flanks() {
        // So little force that the lash is crossed first.
        let release = Release::of(&masses(0.05), &pull(30.0), &CUT, 0.3);
        let strikes = at(&release, ReleaseStep::CoastStrikes);
        assert!(strikes.overlap_m > 0.0);
        assert!(release.coast_peak_nm > pull(30.0).out_nm(true), "{}", release.coast_peak_nm);
        let stops = release.first_s(ReleaseStep::Stops).expect("they grip");
        assert!(stops > strikes.time_s);
        assert!(release.out_s().is_none_or(|out| out > stops));
    }

    #[test]
    fn without_lash_the_swing_runs_through() {
        let tight = Pull { lash: 0.0, ..STILL };
        let release = Release::of(&masses(0.1), &tight, &CUT, 0.05);
        // The first swing past 0 is that of the spring: T_s' less the rest of the wave.
        let masses = masses(0.1);
        let (steady, swing) = (masses.steady_nm(-8.0), masses.steady_nm(68.0));
        let w = masses.frequency();
        let damped = w * (1.0 - 0.01_f64).sqrt();
        let torque = |t: f64| {
            let wave =
                libm::cos(damped * t) - 0.1 / (1.0 - 0.01_f64).sqrt() * libm::sin(damped * t);
            steady + swing * libm::exp(-0.1 * w * t) * wave
        };
        for moment in &release.moments {
            near(moment.torque_nm, torque(moment.time_s), 1e-6);
        }
    }

    #[test]
    fn a_drum_pulls_no_faster_than_it_turns() {
        // So much lash that the coast flanks are not there in time.
        let slow = Pull { fastest_m_per_s: Some(0.5), lash: 1.0, ..pull(250.0) };
        let release = Release::of(&masses(0.0), &slow, &CUT, 0.1);
        let free = Release::of(&masses(0.0), &pull(250.0), &CUT, 0.1);
        let (slow, free) = (release.out_s().expect("out"), free.out_s().expect("out"));
        assert!(slow > free && slow > 4.4e-3 / 0.5, "{slow} {free}");
        let moves = release.first_s(ReleaseStep::Moves).expect("it moves");
        assert!(slow < moves + 4.4e-3 / 0.5 + 2e-3, "{slow}");
    }

    /// Where no torque is left, a foot that comes later has them out later by as much; torque that has come back by
    /// then holds them longer.
    #[test]
    fn a_foot_that_comes_late_has_them_out_late() {
        let idle = TorqueCut { engine_nm: 0.0, drag_nm: 0.0, ramp_s: 0.0 };
        let late = Pull { begins_s: 8e-3, ..pull(250.0) };
        let [soon, then] =
            [pull(250.0), late].map(|pull| Release::of(&masses(0.0), &pull, &idle, 0.1));
        near(then.first_s(ReleaseStep::Moves).expect("it moves"), 8e-3, 1e-15);
        near(then.out_s().expect("out") - soon.out_s().expect("out"), 8e-3, 1e-12);
        let torque = Release::of(&masses(0.0), &late, &CUT, 0.1);
        assert!(torque.first_s(ReleaseStep::Moves).expect("it moves") >= 8e-3);
    }

    #[test]
    fn rounded_flanks_are_thrown_out_by_the_torque_itself() {
        let thrown = Pull { hold_per_m: [-5.0, -5.0], ..pull(10.0) };
        assert_eq!(thrown.out_nm(false), f64::INFINITY);
        let release = Release::of(&masses(0.0), &thrown, &CUT, 0.1);
        assert_eq!(release.first_s(ReleaseStep::Moves), Some(0.0));
    }

    /// Flanks that nothing holds apart or damps rattle in their lash: that more happens than is followed is told.
    #[test]
    fn a_rattle_without_end_is_told() {
        let masses = TwoMasses { stiffness_nm_per_rad: 3e5, ..masses(0.0) };
        let none = TorqueCut { engine_nm: 0.0, drag_nm: 0.0, ramp_s: 0.0 };
        assert!(Catch::of(&masses, 1e-6, 50.0, &none, 5.0).is_cut_short);
        assert!(!Catch::of(&masses, 1e-6, 50.0, &none, 1e-3).is_cut_short);
        assert!(!Release::of(&masses, &pull(250.0), &CUT, 0.05).is_cut_short);
    }

    /// The engagement model, §6: the peak of a blow with a steady torque behind it.
    #[test]
    fn dogs_that_catch_feel_the_blow() {
        let masses = masses(0.0);
        for (slip, nm) in [(30.0, 0.0), (30.0, 60.0), (-30.0, 0.0), (-30.0, -20.0), (5.0, 200.0)] {
            let back = TorqueCut { engine_nm: nm, drag_nm: -nm, ramp_s: 0.0 };
            let caught = Catch::of(&masses, 0.2, slip, &back, 6e-3);
            let blow = Blow {
                input_kg_m2: masses.engine_kg_m2,
                output_kg_m2: masses.vehicle_kg_m2,
                stiffness_nm_per_rad: masses.stiffness_nm_per_rad,
                input_nm: nm * f64::signum(slip),
                output_nm: 0.0,
            };
            let side = usize::from(slip < 0.0);
            let want = blow.peak_nm(slip, 0.0);
            near(caught.peak_nm[side] / want, 1.0, 1e-9);
        }
    }

    #[test]
    fn torque_that_comes_back_crosses_the_lash_and_knocks() {
        // Engine braking first, so that the coast flanks carry; then the engine pulls.
        let back = TorqueCut { engine_nm: -8.0, drag_nm: -60.0, ramp_s: 0.0 };
        let caught = Catch::of(&masses(0.05), 0.2, -1.0, &back, 0.1);
        let strikes = caught.events.iter().find(|event| event.what == ReleaseStep::DriveStrikes);
        let strikes = strikes.expect("the drive flanks strike");
        assert!(strikes.slip > 0.0 && strikes.time_s > 0.0);
        assert!(caught.peak_nm[0] > 2.0 * masses(0.05).steady_nm(60.0), "{:?}", caught.peak_nm);
        assert!(caught.moments.iter().all(|m| m.torque_nm <= caught.peak_nm[0] * (1.0 + 1e-12)));
    }

    #[test]
    fn a_vehicle_without_end_and_a_stiff_shaft_are_limits() {
        let heavy = TwoMasses { vehicle_kg_m2: f64::INFINITY, ..masses(0.0) };
        assert_eq!(heavy.reduced_kg_m2(), 4e-3);
        let mut before = f64::INFINITY;
        for stiffness_nm_per_rad in [3e3, 3e5, 3e7] {
            let masses = TwoMasses { stiffness_nm_per_rad, ..heavy };
            let release = Release::of(&masses, &STILL, &CUT, 0.05);
            let unloaded = at(&release, ReleaseStep::Unloaded).time_s;
            assert!(unloaded < before / 5.0);
            before = unloaded;
        }
    }
}
