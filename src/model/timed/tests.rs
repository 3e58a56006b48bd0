use super::*;
use crate::analysis::Analysis;
use crate::design::{ShiftFrom, example};
use crate::fields::Slot;

pub(super) fn design() -> Design {
    let mut design = example();
    if design.gearbox.is_none() {
        design.add_gearbox();
    }
    design.setting.from = ShiftFrom::Up;
    design.setting.set(SettingField::CutShare, 0.5);
    design
}

fn shifts(design: &Design) -> Vec<TimedShift> {
    timed_shifts(&Analysis::of(design), Way::Up)
}

#[test]
fn every_upshift_has_a_cut_whose_parts_make_it_up() {
    let design = design();
    let shifts = shifts(&design);
    assert!(!shifts.is_empty());
    for shift in &shifts {
        assert_eq!(shift.step.way, Way::Up);
        let cut = shift.at(shift.step.engine_rpm).expect("there is one");
        let parts = cut.parts;
        assert!(parts.all().iter().all(|part| *part >= 0.0 && part.is_finite()), "{cut:?}");
        assert!((parts.sum() - parts.all().iter().sum::<f64>()).abs() < 1e-15);
        assert!(cut.in_at_rpm < cut.slip_rpm);
        // What is waited for is what the engine loses.
        let lost = rad_per_s(cut.slip_rpm - cut.in_at_rpm);
        let slowed = shift.nears * (parts.wait_s + parts.across_s);
        assert!((lost - slowed).abs() < 1e-9 * lost, "{lost} {slowed}");
    }
}

#[test]
fn the_speed_waited_for_is_the_last_at_which_so_many_go_in() {
    let design = design();
    let worked = Analysis::of(&design);
    let pair = worked.pair.as_ref().expect("a pair");
    for shift in shifts(&design) {
        let cut = shift.at(shift.step.engine_rpm).expect("there is one");
        let conditions = Meeting::of(&worked, pair, shift.step).expect("they meet").conditions;
        let shifter = Shifter::new(&pair.mesh, conditions, phase_sense(shift.step.slip_rpm));
        let share = |rpm: f64| Shares::of(&shifter, rad_per_s(rpm)).is_in();
        assert!(share(cut.in_at_rpm) >= 0.5, "{}", share(cut.in_at_rpm));
        assert!(share(cut.in_at_rpm * 1.02) < 0.5, "{}", share(cut.in_at_rpm * 1.02));
    }
}

#[test]
fn more_cylinders_and_less_speed_change_the_wait_for_a_firing() {
    let mut design = design();
    let one = shifts(&design)[0].at(6000.0).expect("there is one").parts.firing_s;
    // One cylinder of a four-stroke fires every 20 ms at 6000 rpm.
    assert!((one - 0.5 * 20e-3).abs() < 1e-12);
    design.setting.set(SettingField::Cylinders, 4.0);
    let four = shifts(&design)[0].at(6000.0).expect("there is one").parts.firing_s;
    assert!((four - 0.5 * 5e-3).abs() < 1e-12);
}

#[test]
fn little_force_comes_out_late_and_an_engine_that_does_not_slow_is_told() {
    // Of most shifts that is asked for, as many as can be are timed.
    let mut most = design();
    most.setting.set(SettingField::CutShare, 0.99);
    let cut = shifts(&most)[0].at(8500.0).expect("some go in");
    assert!(cut.share < 0.99 && cut.share > 0.5, "{}", cut.share);
    // So little force that the dogs come out only while no torque is on them.
    let mut weak = design();
    weak.set(Slot::Setting(FieldId::ShiftForce), 1.0);
    let (weak, strong) = (shifts(&weak)[0].at(8500.0), shifts(&design())[0].at(8500.0));
    let [weak, strong] = [weak, strong].map(|cut| cut.expect("they come out"));
    assert!(weak.strikes && weak.parts.out_s > 1.5 * strong.parts.out_s, "{weak:?} {strong:?}");
    let mut free = design();
    free.setting.set(SettingField::OverrunShare, 0.0);
    free.setting.set(SettingField::Drag, 0.0);
    assert_eq!(shifts(&free)[0].at(8500.0), Err(TimingFault::NeverNearer));
}

#[test]
fn a_cut_never_ends_before_the_engine_is_slow_enough_nor_does_it_fall_with_speed() {
    let design = design();
    for shift in shifts(&design) {
        let waits: Vec<f64> = TIMED_SPEEDS
            .iter()
            .filter_map(|share| shift.at(share * shift.step.engine_rpm).ok())
            .map(|cut| cut.parts.wait_s)
            .collect();
        assert!(waits.is_sorted(), "{waits:?}");
    }
}

#[test]
fn a_blip_speeds_the_engine_up_to_the_lower_gear() {
    let mut design = design();
    design.setting.set(SettingField::BlipShare, 0.4);
    let mut shifts = timed_shifts(&Analysis::of(&design), Way::Down);
    assert_eq!(shifts.len(), 4);
    // So near to the speed of the new gear that dogs which should pass hang instead.
    let near = shifts.pop().expect("the last");
    assert_eq!(near.at(near.step.engine_rpm), Err(TimingFault::TooNear));
    for shift in &shifts {
        let engine = shift.step.engine_rpm;
        let blip = shift.at(engine).expect("there is one");
        assert!(blip.engine_in_rpm > engine, "{blip:?}");
        let line = TimeLine::of(shift, engine).expect("there is one");
        assert!(line.target_rpm >= blip.engine_in_rpm, "{line:?}");
        // The coast flanks catch: the engine side is still the slower one.
        assert!(line.peak_nm > 0.0 && line.tyre_n > 0.0);
    }
    // A harder blip is a shorter one.
    design.setting.set(SettingField::BlipShare, 0.8);
    let harder = timed_shifts(&Analysis::of(&design), Way::Down);
    for (soft, hard) in shifts.iter().zip(&harder) {
        let wait = |shift: &TimedShift| {
            shift.at(shift.step.engine_rpm).map_or(0.0, |timing| timing.parts.wait_s)
        };
        assert!(wait(hard) <= wait(soft));
    }
}

#[test]
fn a_time_line_is_whole_and_in_order() {
    let design = design();
    let mut lines = 0;
    for way in [Way::Up, Way::Down] {
        for shift in timed_shifts(&Analysis::of(&design), way) {
            let engine = shift.step.engine_rpm;
            let Ok(line) = TimeLine::of(&shift, engine) else { continue };
            lines += 1;
            assert!(line.moments.windows(2).all(|two| two[0].time_s <= two[1].time_s));
            assert!(line.events.windows(2).all(|two| two[0].0 <= two[1].0), "{:?}", line.events);
            let at = |what| line.events.iter().find(|(_, is)| *is == what).expect("it happens").0;
            let sum = line.timing.parts.sum();
            assert!((at(LineStep::In) - sum).abs() < 1e-12 * sum, "{} {sum}", at(LineStep::In));
            let speed = |time_s| line.at(time_s).expect("it runs").engine_rpm;
            assert!((speed(0.0) - engine).abs() < 1e-9);
            let near =
                |got: f64, want: f64| assert!((got / want - 1.0).abs() < 1e-9, "{got} {want}");
            near(speed(at(LineStep::Ready)), line.timing.engine_in_rpm);
            near(speed(line.lasts_s()), line.target_rpm);
            // Both gears of one road speed.
            let gearbox = design.gearbox.as_ref().expect("a gearbox").working(600.0);
            let ratio = |gear: usize| gearbox.gears[gear].ratio;
            near(line.target_rpm / engine, ratio(shift.step.to) / ratio(shift.step.from));
            // Old dogs out before new ones are in.
            assert!(line.moments.iter().all(|m| m.old_mm.min(m.new_mm) < 1e-9));
        }
    }
    assert_eq!(lines, 7);
}

#[test]
fn throttle_alone_takes_longer_than_a_cut() {
    let mut slow = design();
    slow.setting.set(SettingField::TorqueFall, 80.0);
    for (cut, slow) in shifts(&design()).iter().zip(&shifts(&slow)) {
        let unload = |shift: &TimedShift| {
            shift.at(shift.step.engine_rpm).expect("there is one").parts.unload_s
        };
        assert!(unload(slow) > unload(cut) + 0.02);
    }
}
