//! What is wrong with a whole gearbox, each at its place, the gravest first.

use crenel_words::finding as say;

use super::{GearsetAnalysis, Part, Placed, drum, sliding};
use crate::design::{ForkField, GearsetSpec, PositionField, WheelKind};
use crate::drum::{Course, Drum, Together};
use crate::fields::{FieldId, Slot};
use crate::finding::{Class, Finding};
use crate::selector::{Track, TrackFault};
use crate::units::sort_by_number;

/// Ratios that are nearer to each other than this are the same.
const SAME_RATIO: f64 = 1e-9;

/// Everything that a gearbox shows.
pub(super) fn all(analysis: &GearsetAnalysis) -> Vec<Placed> {
    let set = &analysis.gearset;
    let mut found = Vec::new();
    found.extend(together(analysis));
    found.extend((0..analysis.on_drum.len()).flat_map(|at| in_gear(analysis, at)));
    found.extend(sliding::all(analysis));
    found.extend((0..set.gears.len()).filter_map(|gear| gear_as_given(set, gear)));
    found.extend((0..set.sliders.len()).flat_map(|slider| slider_as_given(set, slider)));
    found.extend((0..set.forks.len()).flat_map(|fork| fork_as_given(set, fork)));
    found.extend((0..set.drum.positions.len()).filter_map(|at| position_as_given(set, at)));
    found.extend(rests(analysis));
    found.extend(numbers(set));
    for placed in found.iter_mut().filter(|placed| placed.gears.is_empty()) {
        placed.gears = gears_of(set, placed.part);
    }
    sort_by_number(&mut found, |placed| -placed.finding.excess());
    // What locks or burns comes before what only cannot be worked out.
    sort_by_number(&mut found, |placed| match placed.finding.class() {
        Class::Blocked => 0.0,
        class => class.place() + 1.0,
    });
    found
}

/// A finding at a part that concerns these gears.
fn of(gears: &[usize], part: Part, finding: Finding) -> Placed {
    Placed { part, gears: gears.to_vec(), finding }
}

/// The gears that a part is for.
fn gears_of(set: &GearsetSpec, part: Part) -> Vec<usize> {
    let on = |slider: usize| {
        (0..set.gears.len()).filter(|gear| set.gears[*gear].slider == slider).collect()
    };
    match part {
        Part::Gear(gear) => vec![gear],
        Part::Slider(slider) => on(slider),
        Part::Fork(fork) => set.forks.get(fork).map_or_else(Vec::new, |fork| on(fork.slider)),
        Part::Position(at) => {
            set.drum.positions.get(at).and_then(|own| own.gear).into_iter().collect()
        }
        Part::Selector => Vec::new(),
    }
}

// ---- on the drum ----

/// Two gears at once, of every two gears of different ratio: freely, and with one of them held in by torque.
fn together(analysis: &GearsetAnalysis) -> Vec<Placed> {
    let (drum, on) = (&analysis.drum, &analysis.on_drum);
    let mut found = Vec::new();
    let pairs = (0..on.len()).flat_map(|one| (0..on.len()).map(move |other| (one, other)));
    for (one, other) in pairs.filter(|(one, other)| one != other) {
        if same_ratio(&analysis.gearset, on[one], on[other]) {
            continue;
        }
        let at_once = |met: &Together| Some((-met.margin_deg?, -met.margin_mm));
        let free = drum.together(one, other);
        if !free.spans.is_empty() {
            let told = at_once(&free).filter(|_| one < other);
            let says = told.map(|(deg, mm)| say::two_gears_at_once(on[one], on[other], deg, mm));
            let clears = |drum: &Drum| drum.together(one, other).spans.is_empty();
            let placed = |says| at_fault(analysis, [other, one], clears, Finding::warning(says));
            found.extend(says.map(placed));
            continue;
        }
        let held = drum.held(one, other).filter(|held| !held.together.spans.is_empty());
        let told = held.and_then(|held| at_once(&held.together));
        let says = told.map(|(deg, mm)| say::two_gears_under_torque(on[one], on[other], deg, mm));
        let clears =
            |drum: &Drum| drum.held(one, other).is_none_or(|held| held.together.spans.is_empty());
        let placed = |says| at_fault(analysis, [one, other], clears, Finding::warning(says));
        found.extend(says.map(placed));
    }
    found
}

/// A finding about two gears of the drum, at the bent fork that makes it, if it would be gone with a straight one: then
/// the gear on that fork is its first. Otherwise it is at the first of the two.
fn at_fault(
    analysis: &GearsetAnalysis,
    both: [usize; 2],
    clears: impl Fn(&Drum) -> bool,
    finding: Finding,
) -> Placed {
    let drum = &analysis.drum;
    let bent = both.into_iter().find(|gear| {
        let fork = drum.gears[*gear].fork;
        let mut straight = drum.clone();
        straight.forks[fork].offset_mm = 0.0;
        drum.forks[fork].offset_mm != 0.0 && clears(&straight)
    });
    let gear = |at: usize| analysis.on_drum[at];
    match bent {
        Some(at) => {
            let fork = analysis.forks_on_drum[drum.gears[at].fork];
            let [one, other] = both;
            let other = if at == one { other } else { one };
            of(&[at, other].map(gear), Part::Fork(fork), finding)
        }
        None => of(&both.map(gear), Part::Gear(gear(both[0])), finding),
    }
}

pub(super) fn same_ratio(set: &GearsetSpec, one: usize, other: usize) -> bool {
    let ratios = set.ratio(one).zip(set.ratio(other));
    ratios.is_some_and(|(a, b)| (a - b).abs() < SAME_RATIO)
}

/// A fork that carries the thrust, and a gear that does not hold in its position.
fn in_gear(analysis: &GearsetAnalysis, at_drum: usize) -> Vec<Placed> {
    let (drum, gear) = (&analysis.drum, analysis.on_drum[at_drum]);
    let own = drum.gears[at_drum];
    let fork = analysis.gearset.gears[gear].slider;
    let fork = analysis.gearset.forks.iter().position(|own| own.slider == fork).unwrap_or_default();
    let mut found = Vec::new();
    if let Some(room) = drum.fork_room(at_drum) {
        let [drawn, pushed] = room.worst_mm();
        let least = drawn.min(pushed);
        if least < 0.0 {
            let side = if drawn <= pushed { "drawn" } else { "pushed" };
            let deeper = room.deeper_mm();
            let way = if deeper > 0.0 { "deeper" } else { "shallower" };
            let says = say::fork_carries_thrust(gear, side, -least, deeper.abs(), way);
            found.push(of(&[gear], Part::Fork(fork), Finding::warning(says)));
        }
    }
    let Some(position) = drum.position_deg(at_drum) else { return found };
    let course: Course = drum.overlap(at_drum, crate::drum::Play::Least);
    let [least, _] = course.range_near(position, drum.slack_deg.max(0.0) / 2.0);
    if least < own.hold_mm {
        let says = say::gear_not_held(gear, least, own.hold_mm);
        found.push(Placed::at(Part::Gear(gear), Finding::warning(says)));
    }
    found
}

/// Where the drum can stay between two positions with no gear in.
fn rests(analysis: &GearsetAnalysis) -> Vec<Placed> {
    let stays = analysis.drum.stand_deg > 0.0;
    let empty = analysis.drum.rests().into_iter().filter(|rest| stays && rest.touching.is_empty());
    let note = |rest: crate::drum::Rest| {
        let [one, other] = rest.between;
        let says = say::can_rest_between(one, other, rest.span.from_deg, rest.span.to_deg);
        Placed::at(Part::Position(other), Finding::note(says))
    };
    empty.map(note).collect()
}

// ---- as given ----

fn gear_as_given(set: &GearsetSpec, gear: usize) -> Option<Placed> {
    let own = &set.gears[gear];
    let twin = (0..gear).find(|other| same_ratio(set, *other, gear));
    let has_position = set.drum.positions.iter().any(|position| position.gear == Some(gear));
    let finding = if set.wheel(own.driving).or(set.wheel(own.driven)).is_none()
        || set.ratio(gear).is_none()
    {
        Finding::error(say::gear_without_wheel(gear))
    } else if set.free_wheel(gear).is_none() {
        Finding::error(say::gear_without_free_wheel(gear))
    } else if drum::is_behind(set, gear).is_none() {
        Finding::error(say::slider_away_from_wheel(gear))
    } else if set.pair(gear).is_none() {
        Finding::error(say::gear_without_rings(gear))
    } else if !has_position {
        Finding::warning(say::gear_without_position(gear))
    } else if let Some(twin) = twin {
        Finding::warning(say::same_ratio_twice(twin, gear, set.ratio(gear)?))
    } else {
        return None;
    };
    Some(Placed::at(Part::Gear(gear), finding))
}

fn slider_as_given(set: &GearsetSpec, slider: usize) -> Vec<Placed> {
    let place = set.sliders[slider];
    let mut found = Vec::new();
    if set.wheel(place).is_none_or(|wheel| wheel.kind != WheelKind::Sliding) {
        found.push(Finding::error(say::slider_not_sliding(slider)));
    }
    let twin = set.sliders[..slider].iter().position(|other| *other == place);
    found.extend(twin.map(|twin| Finding::error(say::sliders_in_one_place(twin, slider))));
    let forks = set.forks.iter().filter(|fork| fork.slider == slider).count();
    if forks != 1 {
        found.push(Finding::error(say::slider_without_fork(slider, forks)));
    }
    let on_it = (0..set.gears.len()).filter(|gear| set.gears[*gear].slider == slider);
    let mut behind: Vec<bool> = on_it.filter_map(|gear| drum::is_behind(set, gear)).collect();
    let gears = behind.len();
    behind.sort_unstable();
    behind.dedup();
    if behind.len() < gears {
        found.push(Finding::error(say::slider_face_taken(slider)));
    }
    found.into_iter().map(|finding| Placed::at(Part::Slider(slider), finding)).collect()
}

fn fork_as_given(set: &GearsetSpec, fork: usize) -> Vec<Placed> {
    let own = &set.forks[fork];
    let mut found = Vec::new();
    match Track::through(own.track.clone()) {
        Ok(_) => found.extend(position_outside(set, fork)),
        Err(TrackFault::TooFew) => found.push(Finding::error(say::track_too_short())),
        Err(TrackFault::OutOfOrder(point)) => {
            found.push(Finding::error(say::track_out_of_order(point)));
        }
    }
    let play = own.get(ForkField::GrooveWidth) - own.get(ForkField::ForkThickness);
    if play < 0.0 {
        found.push(Finding::warning(say::fork_wider_than_groove(-play)));
    }
    found.into_iter().map(|finding| Placed::at(Part::Fork(fork), finding)).collect()
}

/// The first position that is outside the track of a fork.
fn position_outside(set: &GearsetSpec, fork: usize) -> Option<Finding> {
    let track = &set.forks[fork].track;
    let (from, to) = (track.first()?[0], track.last()?[0]);
    let angles =
        set.drum.positions.iter().map(|position| position.get(PositionField::PositionAngle));
    let (position, deg) = angles.enumerate().find(|(_, deg)| !(from..=to).contains(deg))?;
    Some(Finding::warning(say::position_outside_track(position, deg, fork, from, to)))
}

fn position_as_given(set: &GearsetSpec, position: usize) -> Option<Placed> {
    let positions = &set.drum.positions;
    let deg = |at: usize| positions[at].get(PositionField::PositionAngle);
    let missing = positions[position].gear.filter(|gear| *gear >= set.gears.len());
    let finding = if let Some(gear) = missing {
        Finding::error(say::position_without_gear(position, gear))
    } else if position > 0
        && deg(position).partial_cmp(&deg(position - 1)) != Some(std::cmp::Ordering::Greater)
    {
        Finding::error(say::positions_out_of_order(position))
    } else {
        return None;
    };
    Some(Placed::at(Part::Position(position), finding))
}

/// Numbers outside the limits of their inputs.
fn numbers(set: &GearsetSpec) -> Vec<Placed> {
    let check = |part, numbers: &mut dyn Iterator<Item = (FieldId, f64)>| -> Vec<Placed> {
        let wrong = numbers.filter_map(|(id, value)| Slot::Part(id).check(value));
        wrong.map(|finding| Placed::at(part, finding)).collect()
    };
    let mut found = check(Part::Selector, &mut set.drum.all());
    for (gear, own) in set.gears.iter().enumerate() {
        let read = own.seen.iter().map(|(id, value)| (*id, *value));
        found.extend(check(Part::Gear(gear), &mut own.all().chain(read)));
    }
    for (fork, own) in set.forks.iter().enumerate() {
        let points = own
            .track
            .iter()
            .flat_map(|[deg, mm]| [(FieldId::TrackAngle, *deg), (FieldId::TrackTravel, *mm)]);
        let read = own.seen.iter().map(|(id, value)| (*id, *value));
        found.extend(check(Part::Fork(fork), &mut own.all().chain(points).chain(read)));
    }
    for (position, own) in set.drum.positions.iter().enumerate() {
        found.extend(check(Part::Position(position), &mut own.all()));
    }
    found
}
