//! Clearances measured on the drawing, and what is marked.

use super::*;
use crate::design::{GearsetSpec, LAYOUTS, PositionField};

fn six_speed() -> GearsetSpec {
    LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there").to_gearset()
}

/// The blocks of dogs of one side in a scene, each from its least to its greatest place along the shaft.
fn blocks(scene: &Scene, side: Side) -> Vec<[f64; 2]> {
    let own = scene.items.iter().filter(|item| item.side == Some(side));
    let polygons = own.filter_map(|item| match &item.shape {
        Shape::Path { segments, closed: true } => Some(segments),
        _ => None,
    });
    let ends = |segments: &Vec<crate::ring::Segment>| {
        let at = || segments.iter().map(|segment| segment.from().x);
        [at().fold(f64::INFINITY, f64::min), at().fold(f64::NEG_INFINITY, f64::max)]
    };
    polygons.map(ends).collect()
}

/// The overlaps of neighbouring blocks, smallest first, each once for either half.
fn overlaps(scene: &Scene) -> Vec<f64> {
    let near = |[from, to]: [f64; 2]| {
        let others = blocks(scene, Side::B).into_iter();
        others.map(|[low, high]| to.min(high) - from.max(low)).fold(f64::NEG_INFINITY, f64::max)
    };
    let mut all: Vec<f64> = blocks(scene, Side::A).into_iter().map(near).collect();
    all.sort_unstable_by(f64::total_cmp);
    all
}

#[test]
fn what_is_measured_on_the_drawing_is_what_is_said() {
    let of = GearsetAnalysis::of(&six_speed());
    for deg in [0.0, 15.0, 22.0, 37.5, 48.0, 60.0, 105.0, 130.0, 240.0, 300.0] {
        let section = ShaftSection::at(&of, deg);
        let measured = overlaps(&section.draw(&section.frame(0.02), Reader::default()));
        let said = section.standing.iter().flat_map(|own| &own.gears).map(|own| own.overlap_mm);
        let mut said: Vec<f64> = said.flat_map(|mm| [mm; 2]).collect();
        said.sort_unstable_by(f64::total_cmp);
        assert_eq!(measured.len(), 12);
        for (on_paper, mm) in measured.iter().zip(&said) {
            assert!((on_paper - mm).abs() < 1e-9, "{deg}°: {measured:?} {said:?}");
        }
    }
}

#[test]
fn each_wheel_opens_its_own_gear() {
    let of = GearsetAnalysis::of(&six_speed());
    let section = ShaftSection::at(&of, 37.5);
    for own in &section.laid.dogs {
        let wheel = section.laid.at(own.wheel).expect("it is there");
        let at = Point::new(wheel.x, section.axis(own.wheel.shaft) - wheel.radius_mm / 2.0);
        assert_eq!(section.gear_at(at), Some(own.gear));
    }
    assert_eq!(section.gear_at(Point::new(-500.0, 0.0)), None);
}

#[test]
fn wheels_do_not_lie_in_each_other_and_mesh() {
    for layout in LAYOUTS {
        let of = GearsetAnalysis::of(&layout.to_gearset());
        let laid = Laid::of(&of);
        for bodies in &laid.bodies {
            for pair in bodies.windows(2) {
                let room = pair[1].x - pair[1].half_mm - pair[0].x - pair[0].half_mm;
                assert!(room > 1.0, "{}: {room} {pair:?}", layout.key);
            }
        }
        for gear in &of.gearset.gears {
            let [driving, driven] =
                [gear.driving, gear.driven].map(|at| laid.at(at).expect("it is"));
            assert!((driving.x - driven.x).abs() < 1e-6, "{}", layout.key);
            let apart = driving.radius_mm + driven.radius_mm;
            assert!((apart - laid.apart_mm).abs() < 1e-9, "{}", layout.key);
        }
    }
}

#[test]
fn a_gearbox_that_cannot_be_built_is_drawn_all_the_same() {
    let mut set = six_speed();
    set.gears[2].driving = set.gears[0].driving;
    set.sliders[1] = set.sliders[0];
    set.drum.positions[0].set(PositionField::PositionAngle, f64::NAN);
    set.forks[0].set(ForkField::GrooveWidth, f64::INFINITY);
    let of = GearsetAnalysis::of(&set);
    for deg in [0.0, 15.0, f64::NAN] {
        let section = ShaftSection::at(&of, deg);
        let scene = section.paper(Reader::default());
        assert!(scene.items.iter().all(|item| item.shape.is_within(1e5)));
        let frame = section.frame(0.03);
        assert!(frame.is_finite() && frame.bounds.width() < 1e4);
    }
    let none = GearsetAnalysis::of(&GearsetSpec::default());
    let section = ShaftSection::at(&none, 0.0);
    assert!(section.frame(0.03).is_finite());
    assert!(section.gear_at(Point::default()).is_none());
}

#[test]
fn dogs_in_at_once_and_a_pad_that_carries_are_marked() {
    let locked = |set: &GearsetSpec, deg: f64| {
        let of = GearsetAnalysis::of(set);
        let section = ShaftSection::at(&of, deg);
        let scene = section.draw(&section.frame(0.02), Reader::default());
        scene.items.iter().filter(|item| item.role == Role::Locked).count()
    };
    let mut set = six_speed();
    assert_eq!(locked(&set, 15.0), 0);
    // Bent so far that the dogs of fourth touch in neutral, and its pad is on its flank in gear.
    set.forks[1].set(ForkField::ForkOffset, -1.3);
    assert_eq!(locked(&set, 15.0), 4, "first and fourth, on both halves");
    let fourth = set.drum.positions[4].get(PositionField::PositionAngle);
    assert!(locked(&set, fourth) > 0);
}
