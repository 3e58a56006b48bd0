//! Sliders along their shafts: the teeth of a sliding gear that drives, and the splines that it slides on.

use crenel_words::finding as say;

use super::{GearsetAnalysis, Part, Placed};
use crate::design::{GearsetSpec, Place, WheelField};
use crate::drum::TURN_DEG;
use crate::finding::Finding;

/// Everything that leaves its mesh or its splines. Sizes that are 0 are not given and say nothing.
pub(super) fn all(analysis: &GearsetAnalysis) -> Vec<Placed> {
    let sliders = 0..analysis.gearset.sliders.len();
    sliders
        .flat_map(|slider| [teeth(analysis, slider), splines(analysis, slider)].concat())
        .collect()
}

/// A fork of the drum, and which way along the shaft its plus is.
fn fork_of(analysis: &GearsetAnalysis, slider: usize) -> Option<(usize, f64)> {
    let forks = &analysis.gearset.forks;
    let at = analysis.forks_on_drum.iter().position(|fork| forks[*fork].slider == slider)?;
    Some((at, if analysis.drum.forks[at].is_turned { -1.0 } else { 1.0 }))
}

/// The gears that the teeth of a sliding gear drive, each with the wheel across.
fn partners(set: &GearsetSpec, slider: Place) -> Vec<(usize, Place)> {
    let across = |(gear, own): (usize, &crate::design::SetGearSpec)| {
        let is_driving = (own.driving == slider).then_some(own.driven);
        Some((gear, is_driving.or((own.driven == slider).then_some(own.driving))?))
    };
    set.gears.iter().enumerate().filter_map(across).collect()
}

/// The teeth of a sliding gear at both ends of its travel, with the play of its fork.
fn teeth(analysis: &GearsetAnalysis, slider: usize) -> Vec<Placed> {
    let set = &analysis.gearset;
    let place = set.sliders[slider];
    let Some((wheel, (fork, along))) = set.wheel(place).zip(fork_of(analysis, slider)) else {
        return Vec::new();
    };
    let [least, most] = analysis.drum.fork_course(fork).range_near(TURN_DEG / 2.0, TURN_DEG / 2.0);
    let play = analysis.drum.fork_play_mm(fork);
    let need = wheel.get(WheelField::LeastMesh);
    let left = |across: Place| {
        let widths = [wheel, set.wheel(across)?].map(|own| own.get(WheelField::FaceWidth));
        let ends = [least - play, most + play].map(|travel| {
            let off = wheel.get(WheelField::MeshOffset) + along * travel;
            // Two stretches about their middles.
            ((widths[0] + widths[1]) / 2.0 - off.abs()).min(widths[0]).min(widths[1])
        });
        widths.iter().all(|width| *width > 0.0).then(|| ends[0].min(ends[1]).max(0.0))
    };
    let found = partners(set, place).into_iter().filter_map(|(gear, across)| {
        let left = left(across).filter(|left| *left < need)?;
        Some(Placed::at(
            Part::Gear(gear),
            Finding::warning(say::teeth_leave_mesh(gear, left, need)),
        ))
    });
    found.collect()
}

/// The splines of a slider with each of its gears in.
fn splines(analysis: &GearsetAnalysis, slider: usize) -> Vec<Placed> {
    let set = &analysis.gearset;
    let Some((wheel, (fork, along))) =
        set.wheel(set.sliders[slider]).zip(fork_of(analysis, slider))
    else {
        return Vec::new();
    };
    let of = |field| wheel.get(field);
    let (hub, need) = (of(WheelField::HubSpline), of(WheelField::LeastSpline));
    if hub <= 0.0 {
        return Vec::new();
    }
    let course = analysis.drum.fork_course(fork);
    let play = analysis.drum.fork_play_mm(fork);
    let gears = (0..analysis.on_drum.len()).filter(|own| analysis.drum.gears[*own].fork == fork);
    let left = |own: usize| {
        let travel = course.at_mm(analysis.drum.position_deg(own)?);
        let deeper = travel + play.copysign(travel);
        let beyond = (along * deeper - of(WheelField::SplineBehind))
            .max(-along * deeper - of(WheelField::SplineBefore));
        let (gear, left) = (analysis.on_drum[own], (hub - beyond.max(0.0)).max(0.0));
        let says = || say::splines_leave(slider, gear, left, need);
        (left < need).then(|| Placed::at(Part::Slider(slider), Finding::warning(says())))
    };
    gears.filter_map(left).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{LAYOUTS, WheelKind};

    /// A six-speed whose first slider has teeth of its own, and drives third from the output shaft.
    fn sliding(sizes: &[(WheelField, f64)], across: f64) -> GearsetSpec {
        let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        let mut set = six.to_gearset();
        let place = set.sliders[0];
        let wheel = &mut set.shafts[place.shaft].wheels[place.wheel];
        for (field, size) in sizes {
            wheel.set(*field, *size);
        }
        let free = set.gears[5].driving;
        let across_wheel = &mut set.shafts[free.shaft].wheels[free.wheel];
        across_wheel.kind = WheelKind::Free;
        across_wheel.set(WheelField::FaceWidth, across);
        set.gears[5].driven = place;
        set
    }

    fn told(set: &GearsetSpec) -> Vec<(Part, &'static str)> {
        let found = all(&GearsetAnalysis::of(set)).into_iter();
        found.map(|placed| (placed.part, placed.finding.code)).collect()
    }

    #[test]
    fn teeth_stay_in_mesh_at_both_ends_of_the_travel() {
        // It goes 5.1 mm either way, and some tenths by play: 12 on 12 keep 6.9 less those.
        let width = [(WheelField::FaceWidth, 12.0), (WheelField::LeastMesh, 6.5)];
        assert_eq!(told(&sliding(&width, 12.0)), []);
        let off = [&width[..], &[(WheelField::MeshOffset, 1.0)]].concat();
        assert_eq!(told(&sliding(&off, 12.0)), [(Part::Gear(5), "teeth_leave_mesh")]);
        let off = [&width[..], &[(WheelField::MeshOffset, -1.0)]].concat();
        assert_eq!(told(&sliding(&off, 12.0)), [(Part::Gear(5), "teeth_leave_mesh")]);
        // A wheel across that is wider by both travels keeps all of them.
        assert_eq!(told(&sliding(&off, 30.0)), []);
        assert_eq!(told(&sliding(&[], 12.0)), [], "nothing is given of the sliding gear");
    }

    #[test]
    fn splines_are_long_enough_in_each_gear() {
        let hub = [(WheelField::HubSpline, 15.0), (WheelField::LeastSpline, 12.0)];
        let both = [&hub[..], &[(WheelField::SplineBefore, 3.0)]].concat();
        // First goes towards the beginning of the shaft: 3 mm are there. Third goes towards the end: none are.
        assert_eq!(told(&sliding(&both, 0.0)), [(Part::Slider(0), "splines_leave")]);
        let both = [&both[..], &[(WheelField::SplineBehind, 3.0)]].concat();
        assert_eq!(told(&sliding(&both, 0.0)), []);
        assert_eq!(told(&sliding(&hub, 0.0)).len(), 2);
        assert_eq!(told(&LAYOUTS[0].to_gearset()), []);
    }
}
