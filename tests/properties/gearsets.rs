//! Whole gearboxes: what is saved opens as it was, and nothing that is opened panics.

use crenel::design::{
    Design, GearsetSpec, LAYOUTS, LINK_LIMIT, OpenedGearset, PairOf, Place, SetGearField,
    SetGearSpec, decode, encode, gearset_to_json, open, open_gearset, to_json,
};
use crenel::fields::{FieldId, Slot};
use crenel::gearset::{GearsetAnalysis, faults, restore};
use crenel::ring::Side;
use proptest::collection::vec;
use proptest::prelude::*;

use crate::cases;
use crate::designs::{design, within};

/// A random gearbox: a layout with random numbers, rings, tracks and references, sound or not.
fn gearset() -> impl Strategy<Value = GearsetSpec> {
    let numbers = vec(-20.0..400.0_f64, 24);
    let pairs = vec((design(within), 0..20_usize, any::<bool>()), 3);
    (0..LAYOUTS.len(), numbers, pairs, "[ -~]{0,20}").prop_map(|(at, numbers, pairs, title)| {
        let mut set = LAYOUTS[at].to_gearset();
        set.title = title;
        let count = set.gears.len();
        for (gear, (own, other, is_own)) in pairs.into_iter().enumerate() {
            let pair = if is_own { PairOf::Own(Box::new(own)) } else { PairOf::SameAs(other) };
            set.gears[gear % count].pair = pair;
            set.gears[gear % count].driving = Place { shaft: other, wheel: gear };
        }
        let mut numbers = numbers.into_iter();
        let mut fill = |place: Option<&mut f64>| {
            place.into_iter().zip(numbers.next()).for_each(|(place, number)| *place = number);
        };
        for gear in &mut set.gears {
            fill(gear.field_mut(SetGearField::NeutralClearance.id()));
        }
        for gear in &mut set.gears {
            gear.seen.extend(SetGearSpec::SEEN.into_iter().take(4).zip(numbers.clone()));
        }
        let mut fill = |place: Option<&mut f64>| {
            place.into_iter().zip(numbers.next()).for_each(|(place, number)| *place = number);
        };
        for fork in &mut set.forks {
            fork.track.iter_mut().flatten().for_each(|number| fill(Some(number)));
        }
        set
    })
}

/// A random gearbox with one of its gears open, and its rings changed.
fn in_box() -> impl Strategy<Value = Design> {
    (gearset(), 0..8_usize, 10.0..90.0_f64).prop_map(|(set, open, bore)| {
        let mut design = Design::in_box(&set, open);
        if bore < 80.0 {
            design.ring_mut(Side::B).inner_diameter_mm = bore;
            // What differs from its default is given anyway.
            design.given.remove(&Slot::Ring(Side::B, FieldId::InnerDiameter));
        }
        design
    })
}

/// The rings of every gear, as far as it has any.
fn rings(design: &Design) -> Vec<Option<Design>> {
    let set = design.to_gearset().expect("it has one");
    (0..set.gears.len()).map(|gear| set.pair(gear).cloned()).collect()
}

/// The first lines in which two designs differ: the whole of both would be too long to read.
fn first_difference(a: &Design, b: &Design) -> String {
    let [a, b] = [a, b].map(|design| format!("{design:#?}"));
    let lines: Vec<_> = a.lines().zip(b.lines()).collect();
    let at = lines.iter().position(|(a, b)| a != b).unwrap_or(lines.len());
    format!("{:?}", &lines[at.saturating_sub(8)..(at + 4).min(lines.len())])
}

proptest! {
    #![proptest_config(cases(1000))]

    #[test]
    fn a_design_in_a_gearbox_is_opened_as_it_was_saved_and_sent(design in in_box()) {
        let opened = open(&to_json(&design)).expect("it opens");
        prop_assert!(opened.findings.is_empty(), "{:?}", opened.findings);
        prop_assert!(opened.design == design, "{}", first_difference(&opened.design, &design));
        let link = encode(&design);
        if link.len() <= LINK_LIMIT {
            prop_assert!(decode(&link).expect("our own link").design == design);
        }
    }

    #[test]
    fn whatever_gear_is_opened_no_rings_are_changed(
        mut design in in_box(), gears in vec(0..9_usize, 1..6),
    ) {
        let mut before = rings(&design);
        for gear in gears {
            let opens = design.open_gear(gear);
            prop_assert!(!opens || design.gear_open() == Some(gear));
            if opens && before[gear].is_none() {
                // A gear that has the rings of none begins with those of a new design.
                before = rings(&design);
            }
            prop_assert!(rings(&design) == before);
            let opened = open(&to_json(&design)).expect("it opens").design;
            prop_assert!(opened == design, "{}", first_difference(&opened, &design));
        }
    }
}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn whatever_a_gearbox_holds_it_is_worked_out(set in gearset()) {
        let analysis = GearsetAnalysis::of(&set);
        let shares = faults(&analysis).map_or(0.0, |traced| traced.sound);
        prop_assert!((0.0..=1.0).contains(&shares), "{}", shares);
        for found in restore(&analysis) {
            prop_assert!((1..=2).contains(&found.shims.len()));
        }
    }
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn a_gearbox_is_opened_as_it_was_saved(set in gearset()) {
        let opened = open_gearset(&gearset_to_json(&set)).expect("it opens");
        prop_assert_eq!(opened, OpenedGearset { gearset: set, findings: Vec::new() });
    }

    #[test]
    fn a_gearbox_cut_short_or_changed_is_refused_with_a_reason_or_opened(
        set in gearset(), at in any::<proptest::sample::Index>(), letter in "[ -~]",
    ) {
        let mut text = gearset_to_json(&set);
        let at = (0..=at.index(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
        text.insert_str(at, &letter);
        if let Err(findings) = open_gearset(&text) {
            prop_assert!(!findings.is_empty());
        }
    }
}
