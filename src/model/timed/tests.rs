use super::*;
use crate::analysis::Analysis;
use crate::design::{ShiftFrom, example};
use crate::fields::Slot;
use crate::pair::Edges;

pub(super) fn design() -> Design {
    let mut design = example();
    design.setting.from = ShiftFrom::Up;
    design.setting.set(SettingField::CutShare, 0.5);
    design
}

fn shifts(design: &Design) -> Vec<TimedShift> {
    timed_shifts(&Analysis::of(design), Manner::Cut)
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
        let conditions =
            Meeting::of(&worked, pair, shift.step, Manner::Cut).expect("they meet").conditions;
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
    let mut shifts = timed_shifts(&Analysis::of(&design), Manner::Blip);
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
    let harder = timed_shifts(&Analysis::of(&design), Manner::Blip);
    for (soft, hard) in shifts.iter().zip(&harder) {
        let wait = |shift: &TimedShift| {
            shift.at(shift.step.engine_rpm).map_or(0.0, |timing| timing.parts.wait_s)
        };
        assert!(wait(hard) <= wait(soft));
    }
}

#[test]
fn a_time_line_is_whole_and_in_order() {
    let mut design = design();
    design.setting.set(SettingField::ClutchDrag, 0.05);
    design.setting.set(SettingField::StrikeLoss, 0.3);
    let mut lines = 0;
    for manner in Manner::ALL {
        for shift in timed_shifts(&Analysis::of(&design), manner) {
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
    assert!(lines > 12, "{lines}");
}

/// A design whose foot is known, from a pedal on the shaft to the track.
fn with_foot() -> Design {
    let mut design = design();
    let parts = &mut design.selector;
    parts.linkage.get_or_insert_default();
    parts.claw.get_or_insert_default();
    parts.track.get_or_insert_default();
    design
}

#[test]
fn the_foot_is_on_its_way_before_the_cut() {
    let design = with_foot();
    let shifts = shifts(&design);
    let foot = shifts[0].foot.expect("it is known");
    let (hook, fork) = (foot.hook_s.expect("a claw"), foot.fork_s.expect("a track"));
    assert!(0.0 < hook && hook < fork, "{foot:?}");
    let travel = design.setting.get(SettingField::SensorTravel) / 1000.0;
    let speed = design.setting.get(SettingField::FootSpeed);
    assert!((foot.signal_s - travel / speed).abs() < 1e-15);
    let line = TimeLine::of(&shifts[0], 8500.0).expect("it goes in");
    assert!((line.begins_s() + shifts[0].lead_s()).abs() < 1e-15);
    assert_eq!(line.events[0].1, LineStep::Hooks);
}

/// A sensor that signals before the fork pushes makes the cut longer by what is missing, but for the wait for the
/// firing.
#[test]
fn a_cut_that_comes_before_the_fork_waits_for_it() {
    let mut design = with_foot();
    design.setting.set(SettingField::Cylinders, 12.0);
    design.setting.set(SettingField::SensorTravel, 60.0);
    let timing = |design: &Design| shifts(design)[0].at(8500.0).expect("it goes in");
    let late = timing(&design);
    assert_eq!(late.parts.fork_s, 0.0);
    design.setting.set(SettingField::SensorTravel, 0.0);
    design.setting.set(SettingField::CutDelay, 0.0);
    let early = timing(&design);
    let foot = shifts(&design)[0].foot.expect("known");
    let missing = foot.fork_s.expect("known") - early.parts.firing_s;
    assert!(missing > 0.0 && (early.parts.fork_s - missing).abs() < 1e-15, "{early:?}");
    assert!(early.parts.sum() > late.parts.sum(), "{early:?} {late:?}");
}

#[test]
fn a_throttle_shut_by_hand_takes_longer_than_a_cut_and_waits_for_no_firing() {
    let design = design();
    let of = |manner| timed_shifts(&Analysis::of(&design), manner);
    let (cut, shut) = (of(Manner::Cut), of(Manner::Throttle));
    for (cut, shut) in cut.iter().zip(&shut) {
        let [cut, shut] = [cut, shut].map(|shift| shift.at(8500.0).expect("it goes in").parts);
        assert_eq!(shut.firing_s, 0.0);
        assert!(shut.unload_s > cut.unload_s, "{shut:?} {cut:?}");
        assert_eq!(shut.wait_s.to_bits(), cut.wait_s.to_bits());
    }
}

/// With the clutch pulled only the input shaft strikes, so that much less is left of the blow.
#[test]
fn a_pulled_clutch_takes_the_engine_off_the_dogs() {
    let mut design = design();
    design.setting.set(SettingField::ClutchDrag, 0.05);
    design.setting.set(SettingField::StrikeLoss, 0.3);
    let of = |design: &Design, manner| timed_shifts(&Analysis::of(design), manner).swap_remove(0);
    let (cut, pulled) = (of(&design, Manner::Cut), of(&design, Manner::ClutchUp));
    assert!(pulled.masses.engine_kg_m2 < 0.5 * cut.masses.engine_kg_m2);
    let timing = pulled.at(8500.0).expect("it goes in");
    assert!(timing.in_at_rpm > cut.at(8500.0).expect("it goes in").in_at_rpm, "{timing:?}");
    // What goes in after strikes counts, as the foot stays on the pedal.
    assert!(timing.share > 0.3 && timing.parts.in_s > pulled.straight_s, "{timing:?}");
    assert_eq!((timing.parts.firing_s, pulled.foot), (0.0, None));
    // A clutch that drags more than the shift force frees holds the old dogs in.
    design.setting.set(SettingField::ClutchDrag, 50.0);
    let stuck = of(&design, Manner::ClutchUp).at(8500.0);
    assert_eq!(stuck, Err(TimingFault::NotOut));
}

#[test]
fn times_spread_with_firing_and_phase() {
    let mut design = design();
    for shift in shifts(&design) {
        let line = TimeLine::of(&shift, 8500.0).expect("it goes in");
        let Spread { out_s, level_s, in_s } = line.spread;
        for times in [out_s, level_s, in_s] {
            assert!(times[0] <= times[1] && times[1] <= times[2], "{:?}", line.spread);
        }
        let interval = 120.0 / 8500.0;
        assert!((out_s[2] - out_s[0] - 0.9 * interval).abs() < 0.06 * interval, "{out_s:?}");
        assert!(in_s[2] > level_s[2] && in_s[0] > level_s[0]);
        // The line is that of the firing that is asked for and of dogs that go straight in: not the quickest, not the
        // slowest.
        let is_in = line.when(LineStep::In).expect("it goes in");
        assert!(in_s[0] <= is_in && is_in <= in_s[2] + 1e-9, "{is_in} {in_s:?}");
    }
    design.setting.set(SettingField::Cylinders, 12.0);
    let narrow = TimeLine::of(&shifts(&design)[0], 8500.0).expect("it goes in").spread.out_s;
    assert!(narrow[2] - narrow[0] < 0.1 * 120.0 / 8500.0, "{narrow:?}");
}

/// The rings stand on their flanks while dogs hold, pass as the speed difference says between, and are never inside
/// each other; the drum turns one way until they are out.
#[test]
fn rings_and_drum_go_with_the_line() {
    let design = with_foot();
    let worked = Analysis::of(&design);
    let pair = worked.pair.as_ref().expect("a pair");
    let shift = shifts(&design).swap_remove(0);
    let line = TimeLine::of(&shift, 8500.0).expect("it goes in");
    let at = |share: f64| line.begins_s() + share * (line.lasts_s() - line.begins_s());
    let mut turned = 0.0;
    for time_s in (0..=200).map(|at_share| at(f64::from(at_share) / 200.0)) {
        let pose = line.pose(&shift, &worked, time_s).expect("it stands somewhere");
        let open = pair.mesh.windows_at(pose.overlap_mm, Edges::Broken);
        let off = open.iter().map(|window| window.distance(pose.phase).radians());
        let off = off.fold(f64::INFINITY, f64::min);
        assert!(pose.overlap_mm <= 0.0 || off < 1e-6, "{time_s} {pose:?} {off}");
        let Some(drum) = line.drum_deg(&worked, time_s) else {
            assert!(time_s >= line.when(LineStep::Out).expect("they come out") - 1e-9);
            continue;
        };
        assert!(drum >= turned - 1e-9, "{time_s}: {drum} after {turned}");
        turned = drum;
    }
    assert!(turned > 30.0 && turned <= worked.selector.step_deg(), "{turned}");
}
