use super::*;
use crate::design::{ForkField, ForkSpec, GearsetSpec, LAYOUTS, SetGearField, SetGearSpec};
use crate::fields::FieldId;

fn six_speed() -> GearsetSpec {
    LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there").to_gearset()
}

/// The gearbox as given, with what would be read on it in another condition.
fn read_as(
    given: &GearsetSpec,
    other: &GearsetSpec,
    is_read: impl Fn(Slot) -> bool,
) -> GearsetSpec {
    let (mut set, other) = (given.clone(), GearsetAnalysis::of(other));
    let condition = Condition::of(&other);
    for reading in readings(&other).iter().filter(|reading| is_read(reading.slot)) {
        let Some(value) = (reading.kind.expected)(&condition, reading.at) else { continue };
        let Slot::Box(part, id) = reading.slot else { continue };
        match part {
            BoxPart::SeenGear(at) => set.gears[at].seen.insert(id, value),
            BoxPart::SeenFork(at) => set.forks[at].seen.insert(id, value),
            _ => None,
        };
    }
    set
}

fn traced(given: &GearsetSpec, other: &GearsetSpec) -> FaultTrace {
    let set = read_as(given, other, |_| true);
    faults(&GearsetAnalysis::of(&set)).expect("something was read")
}

#[test]
fn with_nothing_read_nothing_is_said_and_a_sound_gearbox_is_sound() {
    for layout in LAYOUTS {
        let set = layout.to_gearset();
        assert_eq!(faults(&GearsetAnalysis::of(&set)), None, "{}", layout.key);
        let traced = traced(&set, &set);
        assert!(traced.sound > 0.9 && traced.odd.is_none(), "{}: {traced:?}", layout.key);
        assert!(traced.suspects.iter().all(|suspect| !suspect.is_blamed));
    }
    assert_eq!(faults(&GearsetAnalysis::of(&GearsetSpec::default())), None);
}

#[test]
fn a_fork_disturbs_both_its_gears_and_a_shim_one() {
    let given = six_speed();
    let mut bent = given.clone();
    bent.forks[1].set(ForkField::ForkOffset, 0.5);
    let found = traced(&given, &bent);
    let first = &found.suspects[0];
    assert_eq!((first.part, first.kind.key), (FaultPart::Fork(1), "fork_bent"), "{found:?}");
    assert!(first.is_blamed && (first.size - 0.5).abs() < 0.05, "{first:?}");
    assert_eq!(first.gears, [1, 3]);
    let mut shimmed = given.clone();
    let clearance = shimmed.gears[3].get(SetGearField::NeutralClearance);
    shimmed.gears[3].set(SetGearField::NeutralClearance, clearance + 0.4);
    let found = traced(&given, &shimmed);
    assert_eq!(found.suspects[0].part, FaultPart::Shim(3), "{found:?}");
    assert_eq!(found.suspects[0].gears, [3]);
}

#[test]
fn what_belongs_to_all_gears_is_not_laid_to_one() {
    let mut set = six_speed();
    let same = set.clone();
    set = read_as(&set, &same, |_| true);
    for gear in &mut set.gears {
        gear.seen.insert(FieldId::SeenDrumSlack, 3.5);
    }
    let found = faults(&GearsetAnalysis::of(&set)).expect("something was read");
    assert_eq!(found.suspects[0].part, FaultPart::Detent, "{found:?}");
    assert_eq!(found.suspects[0].gears, [0, 1, 2, 3, 4, 5]);
    for gear in [0, 1, 2, 4, 5] {
        set.gears[gear].seen.insert(FieldId::SeenDrumSlack, 1.0);
    }
    let found = faults(&GearsetAnalysis::of(&set)).expect("something was read");
    assert_eq!(found.suspects[0].part, FaultPart::Notch(3), "{found:?}");
}

/// A depth of one gear that a slip of the pen makes: the room of the fork and the angles say otherwise.
#[test]
fn a_reading_that_fits_no_other_is_to_be_taken_again() {
    let given = six_speed();
    let mut set = read_as(&given, &given, |_| true);
    *set.gears[2].seen.get_mut(&FieldId::SeenOverlap).expect("it was read") -= 1.0;
    let found = faults(&GearsetAnalysis::of(&set)).expect("something was read");
    let (slot, by) = found.odd.expect("it is odd");
    assert_eq!(slot, Slot::Box(BoxPart::SeenGear(2), FieldId::SeenOverlap));
    assert!(by < -4.0, "{by}");
}

#[test]
fn what_to_read_next_is_what_tells_two_explanations_apart() {
    let given = six_speed();
    let mut bent = given.clone();
    bent.forks[0].set(ForkField::ForkOffset, 0.5);
    // The depth of first alone: its shim, its fork, the pads of that or the shaft.
    let first = Slot::Box(BoxPart::SeenGear(0), FieldId::SeenOverlap);
    let set = read_as(&given, &bent, |slot| slot == first);
    let found = faults(&GearsetAnalysis::of(&set)).expect("something was read");
    assert!(found.suspects.iter().all(|suspect| !suspect.is_blamed), "{found:?}");
    let next = found.next.expect("something tells more");
    assert!(next.slot != first && !next.is_again && next.apart > 1.0, "{next:?}");
    assert!(next.parts[0] != next.parts[1]);
}

#[test]
fn every_reading_can_be_given_and_every_fault_is_seen_by_one() {
    let set = six_speed();
    let analysis = GearsetAnalysis::of(&set);
    let of = |kinds: &[ReadingKind]| kinds.iter().map(|kind| kind.id).collect::<Vec<_>>();
    assert_eq!(of(ON_GEARS), SetGearSpec::SEEN);
    assert_eq!(of(ON_FORKS), ForkSpec::SEEN);
    let given = Condition::of(&analysis);
    let readings = readings(&analysis);
    let expected =
        readings.iter().map(|reading| (reading.kind.expected)(&given, reading.at)).collect();
    let candidates = candidates(&analysis, &given);
    let traced = Traced { given, readings, expected, candidates };
    for (cause, candidate) in
        traced.causes(&vec![None; traced.candidates.len()]).iter().zip(&traced.candidates)
    {
        let shaft_of_nothing = matches!(candidate.part, FaultPart::Shaft(0));
        let is_seen = cause.shifts.iter().any(|shift| *shift != 0.0);
        assert_eq!(is_seen, !shaft_of_nothing, "{:?} {}", candidate.part, candidate.kind.key);
    }
    let mut keys: Vec<_> = FAULTS.iter().map(|kind| kind.key).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), FAULTS.len());
}
