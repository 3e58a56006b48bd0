use super::*;
use crate::design::{
    ForkField, LAYOUTS, PairOf, Place, PositionField, ShaftField, WheelField, WheelKind,
};
use crate::drum::Play;

fn six_speed() -> GearsetSpec {
    let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed");
    six.expect("it is one of them").to_gearset()
}

fn codes(set: &GearsetSpec) -> Vec<(Part, &'static str)> {
    let found = GearsetAnalysis::of(set).findings;
    let warned = found.into_iter().filter(|placed| placed.finding.code != "can_rest_between");
    warned.map(|placed| (placed.part, placed.finding.code)).collect()
}

#[test]
fn plain_layouts_have_nothing_wrong() {
    for layout in LAYOUTS {
        let set = layout.to_gearset();
        let analysis = GearsetAnalysis::of(&set);
        assert_eq!(codes(&set), [], "{}", layout.key);
        assert_eq!(analysis.on_drum.len(), set.gears.len());
        let changes = analysis.drum.changes(Play::Most);
        assert_eq!(changes.len(), set.gears.len() - 1);
        assert!(changes.iter().all(|c| c.free_of_touch_deg().is_some_and(|deg| deg > 0.0)));
        assert_eq!(shift_table(&analysis).len(), 2 * (set.gears.len() - 1));
    }
}

#[test]
fn a_fork_that_comes_too_early_locks_the_gearbox_and_is_told_first() {
    let mut set = six_speed();
    // Fork 2 takes second in; its ramp begins 20° early, while first is still in.
    for point in &mut set.forks[1].track[1..3] {
        point[0] -= 20.0;
    }
    set.gears[3].pair = PairOf::SameAs(40);
    let found = codes(&set);
    assert_eq!(found[0], (Part::Gear(1), "two_gears_at_once"), "{found:?}");
    assert!(found.contains(&(Part::Gear(3), "gear_without_rings")), "{found:?}");
}

#[test]
fn a_bent_fork_carries_the_thrust() {
    let mut set = six_speed();
    set.forks[2].set(ForkField::ForkOffset, 0.5);
    let found = codes(&set);
    let burnt = found.iter().filter(|(_, code)| *code == "fork_carries_thrust");
    assert!(
        burnt.clone().all(|(part, _)| *part == Part::Fork(2)) && burnt.count() == 2,
        "{found:?}"
    );
}

#[test]
fn a_shim_takes_depth_from_one_side_and_gives_it_to_the_other() {
    let depth = |shim: f64| {
        let mut set = six_speed();
        set.shafts[1].set(ShaftField::ShaftShim, shim);
        let drum = GearsetAnalysis::of(&set).drum;
        [0, 2].map(|gear| drum.overlap(gear, Play::Nominal).at_mm(drum.position_deg(gear).unwrap()))
    };
    let ([first, third], [shimmed_first, shimmed_third]) = (depth(0.0), depth(0.3));
    assert!((shimmed_first - first - 0.3).abs() < 1e-12, "first sits before the slider");
    assert!((shimmed_third - third + 0.3).abs() < 1e-12, "third sits behind it");
}

/// Gives the wheels of one gear the teeth of another.
fn same_teeth(set: &mut GearsetSpec, from: usize, to: usize) {
    let places = |gear: usize| [set.gears[gear].driving, set.gears[gear].driven];
    for (from, to) in places(from).into_iter().zip(places(to)) {
        let teeth = set.wheel(from).expect("it is there").get(WheelField::WheelTeeth);
        set.shafts[to.shaft].wheels[to.wheel].set(WheelField::WheelTeeth, teeth);
    }
}

#[test]
fn each_fault_is_found_at_its_place_and_the_rest_answers() {
    type Spoil = fn(&mut GearsetSpec);
    let faults: [(Spoil, Part, &str); 10] = [
        (
            |set| {
                let at = set.gears[2].driven;
                set.shafts[at.shaft].wheels[at.wheel].kind = WheelKind::Fixed;
            },
            Part::Gear(2),
            "gear_without_free_wheel",
        ),
        (|set| set.sliders[1] = set.sliders[0], Part::Slider(1), "sliders_in_one_place"),
        (|set| set.forks[0].track[2][0] = 1.0, Part::Fork(0), "track_out_of_order"),
        (
            |set| set.drum.positions[6].set(PositionField::PositionAngle, 350.0),
            Part::Fork(0),
            "position_outside_track",
        ),
        (|set| same_teeth(set, 3, 4), Part::Gear(4), "same_ratio_twice"),
        (|set| set.gears[1].slider = 2, Part::Gear(1), "slider_away_from_wheel"),
        (|set| set.forks[1].slider = 9, Part::Slider(1), "slider_without_fork"),
        (
            |set| set.gears[0].driven = Place { shaft: 7, wheel: 0 },
            Part::Gear(0),
            "gear_without_wheel",
        ),
        (|set| set.drum.positions[3].gear = Some(11), Part::Position(3), "position_without_gear"),
        (
            |set| set.drum.positions.retain(|at| at.gear != Some(3)),
            Part::Gear(3),
            "gear_without_position",
        ),
    ];
    for (spoil, part, code) in faults {
        let mut set = six_speed();
        spoil(&mut set);
        let found = codes(&set);
        assert!(found.contains(&(part, code)), "{code}: {found:?}");
        assert!(shift_table(&GearsetAnalysis::of(&set)).len() >= 6, "{code}");
    }
}

#[test]
fn the_worst_shift_comes_first_with_its_reason() {
    let rows = shift_table(&GearsetAnalysis::of(&six_speed()));
    assert!(rows.windows(2).all(|pair| pair[0].excess >= pair[1].excess));
    for row in &rows {
        let (first, end) = (row.shift.chance.unwrap(), row.end_chance.unwrap());
        assert!(end >= first - 1e-9 && end <= 1.0 + 1e-9, "{first} {end}");
        assert!(row.tyre_mm.is_some() && row.depth_left_mm.is_some());
        let reason = row.reason.key();
        assert_eq!(reason == "gearset.within", row.excess == 0.0, "{reason}");
    }
}
