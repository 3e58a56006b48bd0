use super::*;
use crate::analysis::Analysis;
use crate::fields::Slot;
use crate::model::timed::tests;
use crate::model::{Manner, TimeLine, timed_shifts};
use crate::shift::Way;

fn design() -> Design {
    let mut design = tests::design();
    design.setting.set(SettingField::CarrierInertia, 0.02);
    design
}

fn shift(design: &Design, way: Way) -> TimedShift {
    let manner = if way == Way::Up { Manner::Cut } else { Manner::Blip };
    timed_shifts(&Analysis::of(design), manner).into_iter().next().expect("a shift")
}

fn line(design: &Design, way: Way) -> TimeLine {
    let shift = shift(design, way);
    TimeLine::of(&shift, shift.step.engine_rpm).expect("it goes in")
}

fn whole(design: &Design, way: Way) -> WholeCatch {
    line(design, way).whole.expect("all is known").expect("it can be worked out")
}

#[test]
fn without_the_inertia_between_dogs_and_cush_drive_there_is_only_the_bound() {
    let mut design = design();
    design.setting.set(SettingField::CarrierInertia, 0.0);
    assert_eq!(line(&design, Way::Up).whole, None);
}

#[test]
fn the_whole_driveline_stands_beside_the_bound_both_ways() {
    for way in [Way::Up, Way::Down] {
        let line = line(&design(), way);
        let whole = line.whole.as_ref().expect("known").as_ref().expect("worked out");
        assert!(whole.dogs_nm > 0.0 && whole.tyre_nm > 0.0, "{way:?}");
        assert!(whole.begins_s > 0.0 && whole.begins_s < line.lasts_s());
        let [dogs, _] = whole.at(whole.begins_s).expect("a moment");
        assert!(dogs.abs() <= whole.dogs_nm);
        assert_eq!(whole.at(0.0), None);
    }
}

/// With everything stiff but one spring, no mesh and no slack, it is the two masses.
#[test]
fn with_one_spring_it_is_the_bound() {
    let mut design = design();
    let set = |design: &mut Design, field: SettingField, to: f64| design.setting.set(field, to);
    for (field, to) in [
        (SettingField::CarrierInertia, 1e-6),
        (SettingField::WheelInertia, 1e-3),
        (SettingField::ChainStiffness, 0.0),
        (SettingField::CushStiffness, 0.0),
        (SettingField::RearLoad, 0.0),
        (SettingField::ShaftStiffness, design.setting.get(SettingField::Stiffness)),
    ] {
        set(&mut design, field, to);
    }
    for way in [Way::Up, Way::Down] {
        let line = line(&design, way);
        let whole = line.whole.as_ref().expect("known").as_ref().expect("worked out");
        let off = whole.dogs_nm / line.peak_nm - 1.0;
        assert!(off.abs() < 1e-3, "{way:?}: {} for {}", whole.dogs_nm, line.peak_nm);
    }
}

#[test]
fn a_tyre_with_little_grip_slips_and_carries_no_more() {
    let mut design = design();
    assert!(whole(&design, Way::Up).run.peak_nm(Joint::Tyre) > 0.0);
    design.setting.set(SettingField::RearLoad, 60.0);
    let slippery = whole(&design, Way::Up);
    assert!(slippery.slips(Joint::Tyre).is_some());
    assert!((slippery.tyre_n - 60.0).abs() < 1e-6, "{}", slippery.tyre_n);
    design.setting.set(SettingField::RearLoad, 0.0);
    assert_eq!(whole(&design, Way::Up).slips(Joint::Tyre), None);
}

#[test]
fn a_clutch_that_holds_too_little_is_told_or_slips() {
    let mut design = design();
    design.setting.set(SettingField::ClutchSlip, 0.1);
    let fault = line(&design, Way::Up).whole.expect("known").expect_err("it slips before");
    assert!(matches!(fault, DrivelineFault::TorqueBeyond { joint: Joint::Clutch, .. }));
}

/// The engagement model, §14: ±15 on 600 is 0.75 mm, hanging by 15 is 1.0 mm.
#[test]
fn slack_of_a_chain_by_its_kind() {
    let mut design = design();
    design.setting.set(SettingField::ChainSag, 15.0);
    assert!((chain_slack_mm(&design) - 1.0).abs() < 1e-12);
    design.setting.set(SettingField::ChainSlack, 15.0);
    assert!((chain_slack_mm(&design) - 0.75).abs() < 1e-12);
}

/// ½JΔω² is the same at either shaft, so a rigid final drive with soft dogs tells the road the same force.
#[test]
fn dogs_on_the_input_shaft_are_worked_out_too() {
    let mut design = design();
    design.setting.set(SettingField::FreeGearInertia, 4e-4);
    let gearbox = design.gearbox.as_mut().expect("a gearbox");
    gearbox.gears.iter_mut().for_each(|gear| gear.free_on = Shaft::Input);
    let shift = shift(&design, Way::Up);
    assert!(shift.driveline.is_some_and(|driveline| driveline.dogs_first));
    let input = whole(&design, Way::Up);
    assert!(input.dogs_nm > 0.0 && input.tyre_nm > 0.0);
    let whole_kg_m2: f64 = shift.driveline.expect("known").inertia_kg_m2.iter().sum();
    let two = shift.masses.engine_kg_m2 + shift.masses.vehicle_kg_m2;
    // Free gear, carrier and wheel come on top of the two masses.
    assert!(whole_kg_m2 > two && whole_kg_m2 < 1.2 * two, "{whole_kg_m2} {two}");
}

#[test]
fn every_number_of_the_driveline_counts() {
    let base = {
        let mut design = design();
        design.setting.set(SettingField::FreeGearInertia, 4e-4);
        design.setting.set(SettingField::ClutchSlip, 300.0);
        design
    };
    let told = |design: &Design| {
        let whole = whole(design, Way::Up);
        (whole.dogs_nm, whole.tyre_nm, whole.run.events.len(), whole.run.energy)
    };
    let before = told(&base);
    for (id, to) in [
        (FieldId::CarrierInertia, 0.05),
        (FieldId::FreeGearInertia, 1e-3),
        (FieldId::WheelInertia, 0.9),
        (FieldId::MeshLash, 0.4),
        (FieldId::ShaftStiffness, 9000.0),
        (FieldId::ChainStiffness, 2500.0),
        (FieldId::ChainSlack, 30.0),
        (FieldId::ChainSag, 35.0),
        (FieldId::ChainRun, 450.0),
        (FieldId::CushStiffness, 1500.0),
        (FieldId::CushTravel, 0.2),
        (FieldId::CushDamping, 0.3),
        (FieldId::RearLoad, 80.0),
        (FieldId::ClutchSlip, 40.0),
    ] {
        let mut design = base.clone();
        assert!(design.set(Slot::Setting(id), to));
        assert_ne!(told(&design), before, "{id:?}");
    }
}
