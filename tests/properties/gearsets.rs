//! Whole gearboxes: what is saved opens as it was, and nothing that is opened panics.

use crenel::design::{
    GearsetSpec, LAYOUTS, OpenedGearset, PairOf, Place, SetGearField, gearset_to_json, open_gearset,
};
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
        for fork in &mut set.forks {
            fork.track.iter_mut().flatten().for_each(|number| fill(Some(number)));
        }
        set
    })
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
